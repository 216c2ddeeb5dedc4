//! How a measurement is taken: how often, over which time, until when, and how its values become one.

use super::measure::fold;
use super::{Lowerer, words};
use crate::finding::Place;
use crate::resolve;
use dwell_card::graph::Sampling;
use dwell_card::limit::Fold;
use dwell_card::meaning::MOST_SAMPLES;
use dwell_card::number::Num;
use dwell_quantity::{Exact, Kind, Rounding};
use dwell_syntax::tree::{self, Clause};

/// How a measurement is taken.
#[derive(Default)]
pub(super) struct Manner<'t> {
    /// How often, where that is fixed; 1 otherwise.
    pub(super) times: u32,
    /// How several values become one, where that is said or follows.
    pub(super) take: Option<Fold>,
    /// The end of the window in seconds.
    pub(super) over: Option<Num>,
    /// At each place.
    pub(super) each: bool,
    /// The manner in words, part by part.
    pub(super) words: Vec<String>,
    /// How it is sampled, where as many values are taken as come; `until` is lowered later.
    pub(super) sampling: Option<Sampling>,
    /// What ends it.
    pub(super) until: Option<&'t tree::Condition>,
}

/// What the clauses say of time.
#[derive(Default)]
struct Times {
    after: Option<Num>,
    every: Option<Num>,
    averaging: Option<Num>,
    at_most: bool,
}

impl<'a> Lowerer<'a> {
    /// The manner that the clauses say. Where they do not go together, which is told, it is one plain value, so that what
    /// follows is looked at all the same.
    pub(super) fn manner<'t>(&mut self, clauses: &'t [Clause], place: Place) -> Manner<'t> {
        let mut manner = Manner { times: 1, ..Manner::default() };
        let mut times = Times::default();
        let known = self.troubles.len();
        for clause in clauses {
            match clause {
                Clause::At(name) => {
                    let label = self.thing_label(name);
                    manner.words.push(format!("at the {label}"));
                }
                Clause::AtEach(name) => {
                    manner.each = true;
                    manner.words.push(format!("at each {}", words::plain(&name.text)));
                }
                Clause::After(amount) => {
                    manner.words.push(format!("after {}", words::amount(amount)));
                    times.after = self.seconds(amount, "a wait before the first value", false);
                }
                Clause::Every(amount) => {
                    manner.words.push(format!("every {}", words::amount(amount)));
                    times.every = self.seconds(amount, "the time between two values", true);
                }
                Clause::Averaging(amount) => {
                    manner.words.push(format!("each value the mean of {}", words::amount(amount)));
                    times.averaging = self.seconds(amount, "the time of a mean", true);
                }
                Clause::Over(amount, at_most) => {
                    let most = if *at_most { "at most " } else { "" };
                    manner.words.push(format!("over {most}{}", words::amount(amount)));
                    times.at_most = *at_most;
                    if *at_most || amount.unit.is_none() || is_time(amount) {
                        manner.over = self.seconds(amount, "a window", true);
                    }
                }
                Clause::Times(count) => {
                    manner.times = count.value;
                    manner.words.push(format!("{} times", count.value));
                }
                Clause::Take(how, _) => {
                    manner.take = Some(fold(*how));
                    manner.words.push(format!("take the {}", words::fold(*how)));
                }
                Clause::Until(condition) => {
                    manner.until = Some(condition);
                    let text = self.program.files.get(self.file()).map(|file| file.text.as_str());
                    let says = text.and_then(|text| text.get(condition.span.start..condition.span.end));
                    let says = says.unwrap_or_default().split_whitespace().collect::<Vec<_>>().join(" ");
                    manner.words.push(format!("until {says}"));
                }
            }
        }
        let plain = Manner { times: 1, each: manner.each, words: manner.words.clone(), ..Manner::default() };
        if self.troubles.len() > known {
            return plain;
        }
        completed(manner, times).unwrap_or_else(|(what, help)| {
            self.cannot(place, what, help);
            plain
        })
    }

    fn seconds(&mut self, amount: &tree::Amount, label: &str, positive: bool) -> Option<Num> {
        let file = self.file();
        let value = resolve::amount(file, amount, Kind::named("duration")?, label, true, self.troubles)?;
        if value.is_negative() || positive && value.is_zero() {
            let place = self.place(amount.span);
            let least = if positive { "must be longer than nothing" } else { "cannot be negative" };
            self.cannot(place, format!("{label} {least}"), "write a time such as `2 s`");
            return None;
        }
        Some(Num(value))
    }
}

fn is_time(amount: &tree::Amount) -> bool {
    let unit = amount.unit.as_ref().map(|unit| unit.text.as_str()).unwrap_or_default();
    matches!(dwell_quantity::lookup(unit), dwell_quantity::Lookup::Unit(unit)
        if Kind::named("duration").is_some_and(|kind| unit.measures(kind)))
}

/// What is wrong and what to write.
type Wrong = (String, &'static str);

/// The manner with what follows from its clauses; or why they do not go together.
fn completed<'t>(mut manner: Manner<'t>, times: Times) -> Result<Manner<'t>, Wrong> {
    let wrong = |what: &str, help| Err((what.to_owned(), help));
    let several = manner.times > 1;
    if manner.until.is_some() && !times.at_most {
        return wrong(
            "nothing ends this measurement if its `until` never holds",
            "say how long at most: `over at most 90 s`",
        );
    }
    if times.at_most && manner.until.is_none() {
        return wrong(
            "`over at most` ends a measurement early, and nothing says when",
            "add `until …`, or write `over 20 s`",
        );
    }
    if several && (times.averaging.is_some() || manner.until.is_some()) {
        return wrong(
            "a number of values and a mean over time or an `until` do not go together",
            "say how long instead of how often: `every 1 s over 20 s`",
        );
    }
    if let (true, Some(every)) = (several, &times.every) {
        if manner.over.is_some() {
            return wrong(
                "`times` with `every` says how long it takes, and so does `over`",
                "leave one of the three out",
            );
        }
        let start = times.after.as_ref().map_or_else(Exact::zero, |after| after.0.clone());
        let steps = Exact::whole(i64::from(manner.times.saturating_sub(1)));
        manner.over = Some(Num(&start + &(&every.0 * &steps)));
    }
    if times.averaging.is_some() && times.every.is_none() {
        return wrong(
            "a mean over time needs to know how far apart its values are",
            "add `every 1 s`, or whatever the tool does",
        );
    }
    if times.every.is_some() && manner.over.is_none() {
        return wrong("nothing says when this measurement ends", "add `over 20 s`");
    }
    fits(&manner, &times)?;
    if manner.until.is_some() {
        manner.take = manner.take.or(Some(Fold::Last));
    }
    if (several || times.every.is_some()) && manner.take.is_none() {
        let many = if several { format!("{} readings", manner.times) } else { "several readings".to_owned() };
        return Err((
            format!("{many}, and nothing says how they become one"),
            "add `take mean`, `take highest` or `take lowest`",
        ));
    }
    if times.every.is_some() || manner.until.is_some() || !several && manner.take.is_some() {
        let Times { after, every, averaging, at_most } = times;
        let given = if every.is_some() { manner.times } else { 1 };
        let needed = if manner.take == Some(Fold::Spread) { 2 } else { 0 };
        manner.times = 1;
        let mut sampling = Sampling { after, every, averaging, at_most, until: None, least: given, needed };
        sampling.least = given.max(least(&sampling, manner.over.as_ref()));
        manner.sampling = Some(sampling);
    }
    Ok(manner)
}

/// The least number of values that fill the window, reach the first mean, and leave as many as must count.
pub(super) fn least(sampling: &Sampling, over: Option<&Num>) -> u32 {
    let needed = sampling.needed.max(1);
    let Some(every) = &sampling.every else { return needed };
    let steps = |time: &Exact| {
        let count = time.checked_div(&every.0).map(|count| count.rounded(0, Rounding::Up));
        count.and_then(|count| count.to_string().parse::<u32>().ok()).unwrap_or(0)
    };
    let start = sampling.after.as_ref().map_or_else(Exact::zero, |after| after.0.clone());
    let window = over.filter(|_| !sampling.at_most).map_or(0, |over| steps(&(&over.0 - &start)));
    let means = sampling.averaging.as_ref().map_or(0, |averaging| steps(&averaging.0));
    window.max(means.saturating_add(needed))
}

/// Whether the times go together: what must have passed before a value counts lies inside the window.
fn fits(manner: &Manner<'_>, times: &Times) -> Result<(), Wrong> {
    let Some(over) = &manner.over else { return Ok(()) };
    let zero = Num(Exact::zero());
    let [after, every, averaging] =
        [&times.after, &times.every, &times.averaging].map(|time| time.as_ref().unwrap_or(&zero));
    if (&after.0 + &every.0) > over.0 || (&after.0 + &averaging.0) > over.0 {
        return Err((
            "the window is over before a value counts".to_owned(),
            "make `over` longer than `after`, `every` and `averaging`; it counts from the beginning",
        ));
    }
    let most = Exact::whole(i64::try_from(MOST_SAMPLES).unwrap_or(i64::MAX));
    if times.every.as_ref().is_some_and(|every| (&every.0 * &most) < over.0) {
        return Err((
            format!("these are more than {MOST_SAMPLES} values"),
            "make `every` longer or `over` shorter",
        ));
    }
    Ok(())
}
