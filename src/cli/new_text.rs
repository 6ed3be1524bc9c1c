//! The texts that `relent new` writes.

use std::fmt::Write as _;

use crate::cli::new::NewArgs;
use crate::fact::Fact;
use crate::gate::GateFile;
use crate::limits::Motion;
use crate::readiness::{self, Check};
use crate::words::{Language, Words};

/// A text as TOML writes it.
fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

/// A line of a gate file: a remark with its key where the value is not known.
fn line(key: &str, value: Option<String>, example: &str, remark: &str) -> String {
    let line = match value {
        Some(value) => format!("{key} = {value}"),
        None => format!("# {key} = {example}"),
    };
    format!("{line:<35} # {remark}\n")
}

/// A commented gate file with the answers in it.
pub(super) fn gate_file(args: &NewArgs, motion: Motion) -> String {
    let of_folder = args.folder.file_name().map(|name| name.to_string_lossy());
    let fallback = || of_folder.map_or_else(|| "Gate".to_owned(), std::borrow::Cow::into_owned);
    let name = args.name.clone().unwrap_or_else(fallback);
    let mut text = String::from(
        "# A gate, its drive, the gauge and the visit: everything that the numbers of a test depend on and no log says.\n\
         # Lines that start with # are remarks: take the # away and write your own value. What is missing is named in the report,\n\
         # and never counts as good.\n\nschema = \"relent.gate/1\"\n\n[gate]\n",
    );
    text += &leaf_and_drive(args, &name, motion);
    text += "\n[gauge]\n";
    for (key, example, remark) in GAUGE {
        text += &line(key, None, example, remark);
    }
    text += &visit_section(args);
    let _ = write!(
        text,
        "\n[assessment]                        # chosen before the measurement\nprofile = {}\ndecision = \"simple\"                 # or \"guarded\": clear of the limit by the uncertainty, or undecided\n\n[logs]\nfolder = \"logs\"                     # from this file\nnames = \"{{direction}}-{{hazard}}-{{gap}}-{{height}}-{{repeat}}\"   # closing-closing-edge-50-900-1.csv\n",
        quoted(&args.profile)
    );
    text += &readiness_section(motion);
    text += HANDOVER;
    text.lines()
        .map(|line| format!("{}\n", line.trim_end_matches([' ', '#'])))
        .collect()
}

/// What is asked about the leaf and its drive.
fn leaf_and_drive(args: &NewArgs, name: &str, motion: Motion) -> String {
    let number = |value: Option<f64>| value.map(|value| value.to_string());
    let mut text = String::new();
    text += &line(
        "name",
        Some(quoted(name)),
        "",
        "what the gate is called on reports",
    );
    text += &line("place", None, "\"street, town\"", "where it stands");
    text += &line(
        "motion",
        Some(quoted(&motion.code())),
        "",
        "sliding, swing, folding, vertical or boom",
    );
    text += &line(
        "leaf_mass_kg",
        number(args.mass),
        "300",
        "with everything that was added to the leaf",
    );
    text += &line(
        "leaf_height_mm",
        number(args.height),
        "1800",
        "from the ground to the top of the leaf",
    );
    text += &line(
        "leaf_width_mm",
        number(args.width),
        "5000",
        "along the closed gate",
    );
    text += &line(
        "clear_opening_mm",
        number(args.opening),
        "4500",
        "between the counter edges with the gate open",
    );
    text += &line("ground_clearance_mm", None, "50", "between leaf and ground");
    text += &line(
        "counter_edge",
        None,
        "\"steel post\"",
        "what the leaf closes against",
    );
    text += &line(
        "opening_side",
        None,
        "\"clear\"",
        "or \"obstacle-within-500-mm\": then hits on opening belong to the test",
    );
    text += &line(
        "obstacle_space_mm",
        None,
        "250",
        "and this says how far it is from the fully open leaf",
    );
    text += "\n[drive]\n";
    text += &line("model", None, "\"as on its plate\"", "");
    text += &line("firmware", None, "\"1.0\"", "as the drive shows it");
    text += &line(
        "rated_mass_kg",
        number(args.rated_mass),
        "500",
        "greatest leaf mass on its plate",
    );
    text += &line(
        "rated_pull_n",
        None,
        "196",
        "greatest force to move the leaf by hand, where its maker gives one",
    );
    text
}

/// What is asked about the gauge.
const GAUGE: [(&str, &str, &str); 9] = [
    (
        "serial",
        "\"serial number\"",
        "readings of different gauges are told apart by it",
    ),
    ("spring_rate_n_per_mm", "500", "rate of its spring"),
    ("capacity_n", "2000", "greatest force that it can show"),
    ("face", "\"round, 80 mm\"", "what the leaf hits"),
    (
        "accuracy_percent",
        "3.0",
        "± of the reading, from its data sheet or certificate",
    ),
    ("accuracy_n", "5.0", "and ± this, in N"),
    ("calibrated_on", "2026-03-02", "day of the last calibration"),
    (
        "calibration_due",
        "2027-03-01",
        "last day on which it holds",
    ),
    (
        "zeroes_itself",
        "false",
        "true if it sets itself to zero before each hit",
    ),
];

fn visit_section(args: &NewArgs) -> String {
    let kind = quoted(&args.visit.code());
    let mut text = match args.date {
        Some(date) => format!("\n[visit]\ndate = {date}\nkind = {kind}\n"),
        None => format!(
            "\n# [visit]                           # without it, which test points are wanted is not known\n# date = 2026-11-25\n# kind = {kind}                    # first, recurring or after-change\n"
        ),
    };
    let off = if args.date.is_some() { "# " } else { "#   " };
    for (line, remark) in [
        ("tested_by = \"name\"", ""),
        ("temperature_c = 10", "winter and summer differ"),
        ("wind = \"light\"", "behind a closed infill it adds force"),
        ("supply_v = 230", "a weak supply changes the force"),
    ] {
        let line = format!("{off}{line}");
        let _ = writeln!(text, "{line:<35} # {remark}");
    }
    text
}

fn readiness_section(motion: Motion) -> String {
    let mut text = String::from(
        "\n[readiness]                         # what was found before the gate was driven; `relent ready` shows what is open\n# more_checks = \"checks.toml\"       # checks of your own\n\n[readiness.answers]                 # yes, no, a value with its unit, or \"not applicable: \" with the reason\n",
    );
    let words = Words::of(Language::English);
    let checks = readiness::built_in();
    for check in checks
        .iter()
        .filter(|check| check.motions.contains(&motion) && check.given_by.is_none())
    {
        let line = format!("# {} = {}", check.name, example(check));
        let _ = writeln!(text, "{line:<35} # {}", words.fact(check));
    }
    text
}

/// The place of an answer: refused as it stands, so that taking the remark's sign away answers nothing.
fn example(check: &Check) -> String {
    check.unit.map_or_else(
        || "\"yes or no\"".to_owned(),
        |unit| format!("\"… {unit}\""),
    )
}

/// What is asked about the handover.
const HANDOVER: &str = "
# [handover]                        # what the owner was shown and given
# date = 2026-11-25
# received_by = \"name, part\"
# handed_over_by = \"name\"
# shown = [\"manual-release\", \"clearing-an-obstruction\", \"controls-out-of-reach\", \"beams-and-edges\", \"when-it-misbehaves\"]
# documents = [\"user instructions\", \"this report\"]
# maintenance = \"every six months by …\"
# next_due = 2027-05-25
# done_at_once = [\"power isolated and locked off\"]   # for a gate that must not stay as it is
# told = [\"the owner, in person\"]
";

/// The evidence to ask for, and what the gate file leaves open.
pub(super) fn missing_papers(gate: &GateFile) -> String {
    let mut text = format!(
        "# {}: documents to ask for\n\nA gate without papers is not proof of anything. Until these are found or made, treat each as open.\n\n",
        gate.gate.name
    );
    let words = Words::of(Language::English);
    for paper in readiness::papers() {
        let _ = writeln!(
            text,
            "- [ ] {}\n      why: {}\n      source: {}",
            words.fact(&paper),
            words.part(&paper, "why").unwrap_or_default(),
            words.fact(&paper.reference())
        );
    }
    text += "\n## What the gate file leaves open\n\n";
    for gap in gate.gaps() {
        let _ = writeln!(text, "- [ ] `{}`: {}", gap.key(), words.fact(&gap));
    }
    text += "\nLocal codes and licensed practice come first.\n";
    text
}
