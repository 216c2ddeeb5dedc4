//! What is wrong in the same way at several places of one thing is told once, with all its places.

use crate::trouble::Trouble;

/// Joins what is told of several places of one thing at one place of the text: the bolts 1 to 5 that are left loose there.
pub(super) fn join(troubles: &mut Vec<Trouble>) {
    let mut kept: Vec<Trouble> = Vec::new();
    for trouble in std::mem::take(troubles) {
        let Some((thing, place)) = placed(&trouble) else {
            kept.push(trouble);
            continue;
        };
        let same = kept.iter_mut().find(|known| {
            placed(known).is_some_and(|(other, _)| other == thing) && bare(known) == bare(&trouble)
        });
        match same.and_then(item_mut) {
            Some(item) => {
                item.truncate(item.len() - 1);
                item.push_str(&format!(", {place})"));
            }
            None => kept.push(trouble),
        }
    }
    *troubles = kept;
}

/// The thing and its place, where the trouble is about a thing at one place: "wheel bolt", "1".
fn placed(trouble: &Trouble) -> Option<(String, String)> {
    let (Trouble::FastenerLeftLoose { item, .. } | Trouble::NotRestored { item, .. }) = trouble else {
        return None;
    };
    let (thing, place) = item.strip_suffix(')')?.rsplit_once(" (")?;
    Some((thing.to_owned(), place.to_owned()))
}

/// The trouble without the thing and the way that leads there.
fn bare(trouble: &Trouble) -> Trouble {
    let mut bare = trouble.clone();
    if let Some(item) = item_mut(&mut bare) {
        item.clear();
    }
    if let Trouble::FastenerLeftLoose { witness, .. } | Trouble::NotRestored { witness, .. } = &mut bare {
        *witness = None;
    }
    bare
}

fn item_mut(trouble: &mut Trouble) -> Option<&mut String> {
    match trouble {
        Trouble::FastenerLeftLoose { item, .. } | Trouble::NotRestored { item, .. } => Some(item),
        _ => None,
    }
}
