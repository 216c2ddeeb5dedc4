//! "Did you mean": the names nearest to one that is not there.

/// The most suggestions.
const MOST: usize = 3;
/// The most names of a short list that are given as they are where none is near.
const SHORT: usize = 6;
/// A name longer than this many characters is no slip of the pen.
const LONGEST: usize = 64;

/// The names nearest to `wanted`, the nearest first, at most three: few letters apart, or with it as one of
/// their words (`belt-meter` for `meter`).
pub fn near<'a>(wanted: &str, names: impl Iterator<Item = &'a str>) -> Vec<String> {
    let letters = wanted.chars().count();
    if letters > LONGEST {
        return Vec::new();
    }
    let most = (letters / 3).clamp(1, 3);
    let mut found: Vec<(usize, &str)> = names
        .filter(|name| name.len() <= LONGEST * 4)
        .filter_map(|name| {
            let apart = strsim::damerau_levenshtein(wanted, name);
            if apart <= most && apart < letters {
                Some((apart, name))
            } else {
                part_of(wanted, name).then_some((most + 1, name))
            }
        })
        .collect();
    found.sort_unstable();
    found.dedup();
    found.into_iter().take(MOST).map(|(_, name)| name.to_owned()).collect()
}

/// The nearest of a list; all of it where none is near and it is short.
pub(crate) fn or_all<'a>(wanted: &str, names: impl Iterator<Item = &'a str> + Clone) -> Vec<String> {
    let found = near(wanted, names.clone());
    if found.is_empty() && names.clone().count() <= SHORT {
        return names.map(str::to_owned).collect();
    }
    found
}

/// Whether `part` is one of the words that hyphens join in `whole`.
fn part_of(part: &str, whole: &str) -> bool {
    part.chars().count() > 2 && part != whole && whole.split('-').any(|word| word == part)
}
