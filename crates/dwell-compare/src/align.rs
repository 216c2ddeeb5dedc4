//! Two sequences beside each other: what they have in common in the same order, the longest such (Hunt and Szymanski 1977 solve
//! the same problem faster; the sequences here are short).

/// The largest table that is filled; longer sequences are aligned from both ends only.
const MOST: usize = 4_000_000;

/// Pairs of places, rising in both, whose entries `fit`; as many as there can be.
pub(crate) fn aligned<T>(old: &[T], new: &[T], fit: impl Fn(&T, &T) -> bool) -> Vec<(usize, usize)> {
    let front = old.iter().zip(new).take_while(|(one, other)| fit(one, other)).count();
    let (old_rest, new_rest) = (old.get(front..).unwrap_or_default(), new.get(front..).unwrap_or_default());
    let back =
        old_rest.iter().rev().zip(new_rest.iter().rev()).take_while(|(one, other)| fit(one, other)).count();
    let old_middle = old_rest.get(..old_rest.len().saturating_sub(back)).unwrap_or_default();
    let new_middle = new_rest.get(..new_rest.len().saturating_sub(back)).unwrap_or_default();
    let mut pairs: Vec<(usize, usize)> = (0..front).map(|place| (place, place)).collect();
    let middle = longest(old_middle, new_middle, fit);
    pairs.extend(middle.into_iter().map(|(one, other)| (one + front, other + front)));
    let tail = |place: usize| (old.len() - back + place, new.len() - back + place);
    pairs.extend((0..back).map(tail));
    pairs
}

fn longest<T>(old: &[T], new: &[T], fit: impl Fn(&T, &T) -> bool) -> Vec<(usize, usize)> {
    let width = new.len() + 1;
    if old.is_empty() || new.is_empty() || (old.len() + 1).saturating_mul(width) > MOST {
        return Vec::new();
    }
    // At row i, column j: the most pairs among old[i..] and new[j..].
    let mut table = vec![0_u32; (old.len() + 1) * width];
    let at = |table: &[u32], i: usize, j: usize| table.get(i * width + j).copied().unwrap_or_default();
    for (i, one) in old.iter().enumerate().rev() {
        for (j, other) in new.iter().enumerate().rev() {
            let best = if fit(one, other) {
                at(&table, i + 1, j + 1) + 1
            } else {
                at(&table, i + 1, j).max(at(&table, i, j + 1))
            };
            if let Some(cell) = table.get_mut(i * width + j) {
                *cell = best;
            }
        }
    }
    let (mut i, mut j) = (0, 0);
    let mut pairs = Vec::new();
    while let (Some(one), Some(other)) = (old.get(i), new.get(j)) {
        if fit(one, other) {
            pairs.push((i, j));
            i += 1;
            j += 1;
        } else if at(&table, i + 1, j) >= at(&table, i, j + 1) {
            i += 1;
        } else {
            j += 1;
        }
    }
    pairs
}
