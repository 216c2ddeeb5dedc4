//! Which line of one state is which line of the other: alike in the same order first, then alike but for something, then moved.

use super::lines::Line;
use crate::align::aligned;
use std::collections::HashSet;

/// Lines that belong together.
#[derive(Debug, Default)]
pub(crate) struct Matching {
    /// Places then and now.
    pub(crate) pairs: Vec<(usize, usize)>,
    /// Those of them, by their place then, that stand elsewhere.
    pub(crate) moved: HashSet<usize>,
    old: HashSet<usize>,
    new: HashSet<usize>,
}

impl Matching {
    pub(crate) fn has_old(&self, place: usize) -> bool {
        self.old.contains(&place)
    }

    pub(crate) fn has_new(&self, place: usize) -> bool {
        self.new.contains(&place)
    }

    /// The sections in which the lines of an old section are now.
    pub(crate) fn sections_after<'a>(&self, old: &[Line], new: &'a [Line], section: &str) -> Vec<&'a str> {
        let mut sections: Vec<&str> = Vec::new();
        for (then, now) in &self.pairs {
            if let (Some(then), Some(now)) = (old.get(*then), new.get(*now))
                && then.section == section
                && !sections.contains(&now.section.as_str())
            {
                sections.push(&now.section);
            }
        }
        sections
    }

    fn add(&mut self, then: usize, now: usize) {
        self.pairs.push((then, now));
        self.old.insert(then);
        self.new.insert(now);
    }
}

/// Puts the lines together.
pub(crate) fn matched(old: &[Line], new: &[Line]) -> Matching {
    let mut matching = Matching::default();
    let renamed = renamed(old, new);
    let section =
        |line: &Line| renamed.iter().find(|(then, _)| *then == line.section).map(|(_, now)| now.clone());
    let here = |one: &Line, other: &Line| section(one).as_ref().unwrap_or(&one.section) == &other.section;
    for (then, now) in aligned(old, new, |one, other| here(one, other) && one.same(other)) {
        matching.add(then, now);
    }
    // In the gaps between these: the same line with something about it changed.
    let mut anchors = matching.pairs.clone();
    anchors.push((old.len(), new.len()));
    let mut from = (0, 0);
    for anchor in anchors {
        let (one, other) =
            (old.get(from.0..anchor.0).unwrap_or_default(), new.get(from.1..anchor.1).unwrap_or_default());
        for (then, now) in aligned(one, other, |one, other| here(one, other) && one.key == other.key) {
            matching.add(from.0 + then, from.1 + now);
        }
        from = (anchor.0 + 1, anchor.1 + 1);
    }
    // What is left and stands elsewhere: first what is quite the same, then what has the same key.
    for fit in
        [Line::same as fn(&Line, &Line) -> bool, |one, other| one.key == other.key && !one.key.ends_with('…')]
    {
        for (then, line) in old.iter().enumerate() {
            if matching.has_old(then) {
                continue;
            }
            let free =
                new.iter().enumerate().find(|(now, other)| !matching.has_new(*now) && fit(line, other));
            if let Some((now, _)) = free {
                matching.add(then, now);
                matching.moved.insert(then);
            }
        }
    }
    matching.pairs.sort_unstable();
    matching
}

/// Sections that are gone beside new ones whose lines are mostly the same.
fn renamed(old: &[Line], new: &[Line]) -> Vec<(String, String)> {
    let sections = |lines: &[Line]| {
        let mut names: Vec<String> = Vec::new();
        for line in lines.iter().filter(|line| line.in_step) {
            if !names.contains(&line.section) {
                names.push(line.section.clone());
            }
        }
        names
    };
    let (before, after) = (sections(old), sections(new));
    let keys = |lines: &[Line], name: &str| -> HashSet<String> {
        lines.iter().filter(|line| line.section == name).map(|line| line.key.clone()).collect()
    };
    let mut renamed = Vec::new();
    for name in before.iter().filter(|name| !after.contains(name)) {
        let own = keys(old, name);
        let like = after.iter().filter(|now| !before.contains(now)).find(|now| {
            let other = keys(new, now);
            own.intersection(&other).count() * 2 > own.len().max(other.len())
        });
        renamed.extend(like.map(|now| (name.clone(), now.clone())));
    }
    renamed
}
