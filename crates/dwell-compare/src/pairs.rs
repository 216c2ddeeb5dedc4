//! What belongs together in two lists: first by path and name, then by name alone.

/// Whether two entries, each by path and name, belong together.
type Fit = fn(&(String, String), &(String, String)) -> bool;

/// Each entry of `old` with its like in `new`, in the order of `new`; what has no like stands alone, what is gone last.
pub(crate) fn paired<'a, T>(
    old: &'a [T],
    new: &'a [T],
    path_and_name: (impl Fn(&T) -> (String, String), impl Fn(&T) -> (String, String)),
) -> Vec<(Option<&'a T>, Option<&'a T>)> {
    let before: Vec<(String, String)> = old.iter().map(&path_and_name.0).collect();
    let after: Vec<(String, String)> = new.iter().map(&path_and_name.1).collect();
    let mut taken = vec![false; old.len()];
    let mut like = vec![None; new.len()];
    let fits: [Fit; 2] = [|one, other| one == other, |one, other| one.1 == other.1];
    for fit in fits {
        for (mark, now) in like.iter_mut().zip(&after).filter(|(mark, _)| mark.is_none()) {
            let mut free = before.iter().zip(&mut taken).enumerate().filter(|(_, (_, taken))| !**taken);
            if let Some((place, (_, taken))) = free.find(|(_, (then, _))| fit(then, now)) {
                *taken = true;
                *mark = Some(place);
            }
        }
    }
    let mut pairs: Vec<(Option<&T>, Option<&T>)> =
        new.iter().zip(like).map(|(now, then)| (then.and_then(|place| old.get(place)), Some(now))).collect();
    pairs.extend(old.iter().zip(taken).filter(|(_, taken)| !taken).map(|(then, _)| (Some(then), None)));
    pairs
}
