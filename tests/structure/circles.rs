//! No circles among the parts of a module, but for those that are listed: the list may only shrink.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use super::{ROOT, code_of, files_below};

/// Uses that close a circle: in this module, this part uses that one.
const CLOSING: &[(&str, &str, &str)] = &[
    ("cli", "new_text", "new"),
    ("compare", "effect", "study"),
    ("limits", "overlay", "shelf"),
    ("limits", "schema", "shelf"),
    ("limits", "scheme", "plan"),
    ("report", "detail", "elevation"),
    ("report", "handover", "page"),
    ("report", "hit_words", "hit"),
    ("report", "place", "sentence"),
    ("report", "pull_plot", "pull"),
    ("report", "readiness", "page"),
    ("report", "section", "page"),
    ("verdict", "decide", "finding"),
    ("view", "column", "finding"),
];

/// The uses of each part of a module among the other parts.
type Uses = BTreeMap<String, BTreeSet<String>>;

/// A file of `src` with its place among the modules.
struct Source {
    module: Vec<String>,
    is_root: bool,
    paths: Vec<Vec<String>>,
    /// Names that it takes from its own parts: each with the part.
    taken: BTreeMap<String, String>,
}

impl Source {
    fn read(path: &Path) -> Self {
        let inner = path.strip_prefix(Path::new(ROOT).join("src")).unwrap();
        let mut module: Vec<String> = inner
            .with_extension("")
            .components()
            .map(|part| part.as_os_str().to_string_lossy().into_owned())
            .collect();
        let is_mod = module.last().is_some_and(|name| name == "mod");
        if is_mod {
            module.pop();
        }
        let is_root = is_mod || path.with_extension("").is_dir();
        let code = code_of(path);
        let code = code.split("#[cfg(test)]\nmod ").next().unwrap();
        let parts: BTreeSet<&str> = code
            .lines()
            .filter_map(|line| line.trim().strip_suffix(';')?.rsplit_once("mod "))
            .map(|(_, name)| name)
            .collect();
        let mut taken = BTreeMap::new();
        for (start, _) in code.match_indices("use ") {
            for path in tree(&code[start + "use ".len()..]) {
                let path = path.strip_prefix(&["self".to_owned()]).unwrap_or(&path);
                if let ([part, .., name], true) = (path, parts.contains(path[0].as_str())) {
                    taken.insert(name.clone(), part.clone());
                }
            }
        }
        let paths = ["super::", "crate::"]
            .iter()
            .flat_map(|start| code.match_indices(start))
            .filter(|(at, _)| !code[..*at].ends_with([':', '_']))
            .flat_map(|(at, _)| tree(&code[at..]))
            .filter_map(|path| absolute(&module, &path))
            .collect();
        Self {
            module,
            is_root,
            paths,
            taken,
        }
    }
}

/// The paths of a tree such as `super::{cells::{self, Line}, words as known}`; the last name is what it is called from there on.
fn tree(text: &str) -> Vec<Vec<String>> {
    fn read(text: &mut &str, before: &[String], found: &mut Vec<Vec<String>>) {
        let mut path = before.to_vec();
        loop {
            *text = text.trim_start();
            if let Some(rest) = text.strip_prefix('{') {
                *text = rest;
                loop {
                    *text = text.trim_start().trim_start_matches(',').trim_start();
                    if text.is_empty() || text.starts_with('}') {
                        break;
                    }
                    let length = text.len();
                    read(text, &path, found);
                    if text.len() == length {
                        return;
                    }
                }
                *text = text.strip_prefix('}').unwrap_or(text);
                return;
            }
            let end = text
                .find(|letter: char| !letter.is_alphanumeric() && letter != '_')
                .unwrap_or(text.len());
            if end == 0 {
                break;
            }
            let (name, rest) = text.split_at(end);
            *text = rest;
            if name != "self" || path.is_empty() {
                path.push(name.to_owned());
            }
            match text.strip_prefix("::") {
                Some(rest) => *text = rest,
                None => break,
            }
        }
        if let Some(alias) = text.trim_start().strip_prefix("as ") {
            let end = alias.find([',', ';', '}', '\n']).unwrap_or(alias.len());
            path.push(alias[..end].trim().to_owned());
            *text = &alias[end..];
        }
        if path.len() > before.len() || !before.is_empty() {
            found.push(path);
        }
    }
    let mut found = Vec::new();
    read(&mut { text }, &[], &mut found);
    found
}

/// A path from the root of the crate.
fn absolute(module: &[String], path: &[String]) -> Option<Vec<String>> {
    let mut base = match path.first()?.as_str() {
        "crate" => return Some(path[1..].to_vec()),
        "super" => module.to_vec(),
        _ => return None,
    };
    let above = path.iter().take_while(|name| *name == "super").count();
    base.truncate(base.len().checked_sub(above)?);
    base.extend_from_slice(&path[above..]);
    Some(base)
}

/// What the parts of one module use of each other.
fn uses(root: &Source, sources: &[Source]) -> Uses {
    let depth = root.module.len();
    let mut uses = Uses::new();
    for source in sources {
        let Some([part, ..]) = source.module.strip_prefix(root.module.as_slice()) else {
            continue;
        };
        let used = uses.entry(part.clone()).or_default();
        for path in &source.paths {
            if path.starts_with(&root.module)
                && let Some(name) = path.get(depth)
            {
                used.insert(root.taken.get(name).unwrap_or(name).clone());
            }
        }
    }
    let parts: BTreeSet<String> = uses.keys().cloned().collect();
    for (part, used) in &mut uses {
        used.retain(|name| name != part && parts.contains(name));
    }
    uses
}

/// The parts that a part reaches by uses of uses.
fn reached<'a>(uses: &'a Uses, from: &str) -> BTreeSet<&'a str> {
    let mut reached = BTreeSet::new();
    let mut open: Vec<&str> = uses[from].iter().map(String::as_str).collect();
    while let Some(part) = open.pop() {
        if reached.insert(part) {
            open.extend(uses[part].iter().map(String::as_str));
        }
    }
    reached
}

#[test]
fn the_parts_of_a_module_use_each_other_one_way() {
    let files: Vec<PathBuf> = files_below(&Path::new(ROOT).join("src"), "rs");
    let sources: Vec<Source> = files.iter().map(|file| Source::read(file)).collect();
    let mut wrong = Vec::new();
    let mut listed: BTreeSet<_> = CLOSING.iter().collect();
    for root in sources.iter().filter(|source| source.is_root) {
        let module = root.module.join("::");
        let mut uses = uses(root, &sources);
        for closing in CLOSING.iter().filter(|(of, ..)| *of == module) {
            let (_, user, used) = *closing;
            let closes = uses.get(user).is_some_and(|all| all.contains(used))
                && reached(&uses, used).contains(user);
            if closes {
                listed.remove(closing);
            }
        }
        for (_, user, used) in CLOSING.iter().filter(|(of, ..)| *of == module) {
            if let Some(all) = uses.get_mut(*user) {
                all.remove(*used);
            }
        }
        for (part, used) in &uses {
            for other in used {
                if reached(&uses, other).contains(part.as_str()) {
                    wrong.push(format!(
                        "in {module}, {part} uses {other}, which uses {part}"
                    ));
                }
            }
        }
    }
    wrong.extend(listed.iter().map(|(of, user, used)| {
        format!("{of}: {user} no longer closes a circle with {used}: take it off the list")
    }));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_tree_of_paths_is_read() {
    let found = tree("super::{cells::{self, Line}, words as known, a::b}; rest::of");
    let found: Vec<String> = found.iter().map(|path| path.join("::")).collect();
    let wanted = [
        "super::cells",
        "super::cells::Line",
        "super::words::known",
        "super::a::b",
    ];
    assert_eq!(found, wanted);
}
