//! The figures for people, 80 columns.

use crate::drawing::visible;
use crate::screen::{Ink, Screen, wrapped};
use dwell_quantity::Exact;
use dwell_record::statistics::{Five, Group, Key, Share, Statistics, Values};

pub(super) fn write(screen: &mut Screen, sums: &Statistics) -> anyhow::Result<()> {
    for (key, group) in &sums.groups {
        one(screen, key, group)?;
        screen.line("")?;
    }
    let many = |count: u32| format!("{count} job{}", if count == 1 { "" } else { "s" });
    let readings = if sums.groups.is_empty() { "; no reading is in them" } else { "" };
    screen.line(&format!("{} taken in{readings}", many(sums.jobs)))?;
    if sums.not_over > 0 {
        screen.line(&format!("{} left out: not over", many(sums.not_over)))?;
    }
    Ok(())
}

fn one(screen: &mut Screen, key: &Key, group: &Group) -> anyhow::Result<()> {
    let band = key.band.as_ref().map_or_else(|| "not judged".to_owned(), |band| format!("band {band}"));
    let variants = key.variants.iter().map(|one| format!(", {one}")).collect::<String>();
    let title = format!("{} in {}{variants}, {band}", key.reading.replace('-', " "), key.procedure);
    for line in wrapped("", 2, &visible(&title)) {
        screen.line(&screen.style.ink(Ink::Bold, &line))?;
    }
    values(screen, "as found", &group.found, key, group)?;
    values(screen, "as left", &group.left, key, group)?;
    say(screen, "set to a band", &Share { part: group.adjusted, of: group.left.count() }.words())?;
    for (name, values) in [("limits, found", &group.found), ("limits, left", &group.left)] {
        if let Some(near) = group.limits.near(&values.values) {
            let heaped = if near.heaped() == Some(true) { "; heaped inside" } else { "" };
            say(screen, name, &format!("{}{heaped}", near.words()))?;
        }
    }
    say(screen, "digits", &group.digits.words())
}

fn values(screen: &mut Screen, name: &str, values: &Values, key: &Key, group: &Group) -> anyhow::Result<()> {
    let Values { low, high, nothing, other, .. } = values;
    let count = values.count();
    let mut words = format!(
        "{count} {}; in band {}",
        if count == 1 { "reading" } else { "readings" },
        values.share().words()
    );
    for (count, word) in [(low, "LOW"), (high, "HIGH"), (nothing, "no reading"), (other, "not judged")] {
        if *count > 0 {
            words.push_str(&format!("; {count} {word}"));
        }
    }
    say(screen, name, &words)?;
    let unit = &key.unit;
    let words = match values.five() {
        Some(Five { least, lower, median, upper, most }) => {
            let middle = group.limits.middle().map(|middle| {
                let off = &median - &middle;
                let side = if off.is_negative() { "below" } else { "above" };
                if off.is_zero() {
                    ", in the middle of the band".to_owned()
                } else {
                    format!(", {} {side} the middle of the band", short(&off.abs()))
                }
            });
            format!(
                "median {} {unit}{}; quartiles {} and {}; from {} to {}",
                short(&median),
                middle.unwrap_or_default(),
                short(&lower),
                short(&upper),
                short(&least),
                short(&most)
            )
        }
        None => {
            let count = values.values.len();
            format!("{count} value{}: too few for quartiles", if count == 1 { "" } else { "s" })
        }
    };
    say(screen, "", &words)
}

/// At most four decimals; what was cut off has a mark before it.
fn short(value: &Exact) -> String {
    match value.decimals_needed() {
        Some(0..=4) => value.to_string(),
        _ => format!("≈ {}", value.fixed(3)),
    }
}

fn say(screen: &mut Screen, name: &str, words: &str) -> anyhow::Result<()> {
    for line in wrapped(&format!("  {name:<15}"), 19, &visible(words)) {
        screen.line(line.trim_end())?;
    }
    Ok(())
}
