//! Which files use which: who must be looked at again when a file changes.

use std::collections::{HashMap, HashSet};

/// Who uses whom, directly or not.
#[derive(Debug, Default)]
pub(super) struct Users {
    /// The files that use a file.
    users: HashMap<String, HashSet<String>>,
    /// The files that a file uses.
    uses: HashMap<String, Vec<String>>,
    /// When others could last see a difference in a file, by the time of the shelf.
    changed: HashMap<String, u64>,
    /// When any settings last changed.
    settings: u64,
}

impl Users {
    /// From now on this file uses these, and no others.
    pub(super) fn note(&mut self, key: &str, uses: &[String]) {
        let before = self.uses.get(key).map(Vec::as_slice).unwrap_or_default();
        if before == uses {
            return;
        }
        for gone in before.iter().filter(|path| !uses.contains(path)) {
            if let Some(users) = self.users.get_mut(gone) {
                users.remove(key);
            }
        }
        for used in uses {
            self.users.entry(used.clone()).or_default().insert(key.to_owned());
        }
        self.uses.insert(key.to_owned(), uses.to_vec());
    }

    /// Others may see a difference in this file from this time on.
    pub(super) fn changed(&mut self, key: &str, time: u64) {
        self.changed.insert(key.to_owned(), time);
    }

    /// Settings are different from this time on.
    pub(super) fn settings_changed(&mut self, time: u64) {
        self.settings = time;
    }

    /// Whether what was checked at a time, with these files used, is out of date: one of them changed meanwhile, when it was
    /// not yet known who uses it.
    pub(super) fn outdated(&self, uses: &[String], time: u64) -> bool {
        let newer = |used: &String| self.changed.get(used).is_some_and(|changed| *changed > time);
        self.settings > time || uses.iter().any(newer)
    }

    /// Whether any file uses this one.
    pub(super) fn any(&self, key: &str) -> bool {
        self.users.get(key).is_some_and(|users| !users.is_empty())
    }

    /// The other files that use this one, in the order of their paths.
    pub(super) fn of(&self, key: &str) -> Vec<String> {
        let users = self.users.get(key).into_iter().flatten();
        let mut users: Vec<String> = users.filter(|user| *user != key).cloned().collect();
        users.sort_unstable();
        users
    }
}

#[cfg(test)]
mod tests {
    use super::Users;

    #[test]
    fn who_uses_a_file_is_known_until_it_no_longer_does() {
        let mut users = Users::default();
        let uses = |all: &[&str]| all.iter().map(|path| (*path).to_owned()).collect::<Vec<_>>();
        users.note("b", &uses(&["v", "w", "b"]));
        users.note("a", &uses(&["v"]));
        assert_eq!(users.of("v"), ["a", "b"]);
        assert!(users.of("b").is_empty(), "itself does not count");
        users.note("b", &uses(&["w"]));
        assert_eq!(users.of("v"), ["a"]);
        users.note("a", &[]);
        assert!(!users.any("v") && users.any("w"));
        users.changed("w", 7);
        assert!(users.outdated(&uses(&["v", "w"]), 6) && !users.outdated(&uses(&["v", "w"]), 7));
        assert!(!users.outdated(&uses(&["v"]), 6));
    }
}
