//! Looks at a folder, one after the other: which files lie still, which are being written, which are gone.
//!
//! A function of the listings alone. A file lies still when it has the same size and the same time of change at two looks, one
//! after the other, and is not empty: many loggers make the file first and fill it later.

use std::collections::BTreeMap;

use crate::visit::whole::Stamp;

/// A file as the looks have seen it.
#[derive(Clone, Copy, Debug)]
struct Seen {
    stamp: Stamp,
    /// Looks, one after the other, that saw this stamp.
    same: u32,
    /// Looks since it last lay still.
    restless: u32,
}

impl Seen {
    const fn lies_still(&self) -> bool {
        self.same >= 2 && self.stamp.size > 0
    }
}

/// What is known of the files of a folder.
#[derive(Clone, Debug, Default)]
pub struct Looks {
    files: BTreeMap<String, Seen>,
}

impl Looks {
    /// Takes in a listing; a file that it does not name is gone.
    pub fn look(&mut self, listing: &[(String, Stamp)]) {
        let old = std::mem::take(&mut self.files);
        for (name, stamp) in listing {
            let known = old.get(name);
            let same = known
                .filter(|old| old.stamp == *stamp)
                .map_or(0, |old| old.same);
            let mut seen = Seen {
                stamp: *stamp,
                same: same.saturating_add(1),
                restless: 0,
            };
            if !seen.lies_still() {
                seen.restless = known.map_or(0, |old| old.restless).saturating_add(1);
            }
            self.files.insert(name.clone(), seen);
        }
    }

    /// The stamp of a file that lies still.
    #[must_use]
    pub fn still(&self, name: &str) -> Option<Stamp> {
        let seen = self.files.get(name).filter(|seen| seen.lies_still());
        seen.map(|seen| seen.stamp)
    }

    /// For how many looks a file has not lain still, and whether it is empty.
    #[must_use]
    pub fn restless(&self, name: &str) -> (u32, Content) {
        match self.files.get(name) {
            Some(seen) if seen.stamp.size == 0 => (seen.restless, Content::None),
            Some(seen) => (seen.restless, Content::Some),
            None => (0, Content::None),
        }
    }
}

/// Whether there is anything in a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Content {
    /// Not a byte.
    None,
    /// At least one byte.
    Some,
}

#[cfg(test)]
mod tests {
    use std::time::SystemTime;

    use super::*;

    fn stamp(size: u64, second: u64) -> Stamp {
        Stamp {
            size,
            changed: Some(SystemTime::UNIX_EPOCH + std::time::Duration::from_secs(second)),
        }
    }

    /// Looks once more; true if the file then lies still.
    fn look(looks: &mut Looks, size: u64, second: u64) -> bool {
        looks.look(&[("a".to_owned(), stamp(size, second))]);
        looks.still("a").is_some()
    }

    #[test]
    fn a_file_lies_still_at_the_second_look_that_sees_the_same() {
        let mut looks = Looks::default();
        assert!(!look(&mut looks, 10, 1), "seen once");
        assert!(!look(&mut looks, 20, 1), "it grew");
        assert!(!look(&mut looks, 20, 2), "as large, but written since");
        assert_eq!(looks.restless("a"), (3, Content::Some));
        assert!(look(&mut looks, 20, 2));
        assert!(look(&mut looks, 20, 2));
        assert_eq!(looks.restless("a").0, 0);
    }

    #[test]
    fn an_empty_file_never_lies_still() {
        let mut looks = Looks::default();
        for _ in 0..5 {
            assert!(!look(&mut looks, 0, 1));
        }
        assert_eq!(looks.restless("a"), (5, Content::None));
        assert!(!look(&mut looks, 9, 2));
        assert!(look(&mut looks, 9, 2));
    }

    #[test]
    fn a_file_of_the_same_size_and_a_later_time_is_another_one() {
        let mut looks = Looks::default();
        look(&mut looks, 20, 1);
        assert!(look(&mut looks, 20, 1));
        assert!(!look(&mut looks, 20, 5));
        assert!(look(&mut looks, 20, 5));
        assert_eq!(looks.still("a"), Some(stamp(20, 5)));
    }

    #[test]
    fn a_file_that_is_gone_is_forgotten() {
        let mut looks = Looks::default();
        look(&mut looks, 20, 1);
        look(&mut looks, 20, 1);
        looks.look(&[]);
        assert_eq!(looks.still("a"), None);
        assert!(!look(&mut looks, 20, 1), "it came back and is new");
    }
}
