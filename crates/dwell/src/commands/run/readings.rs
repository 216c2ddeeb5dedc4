//! A run by a file of readings: the file is held against the card first, then the card is carried out with it.

use super::Job;
use super::asking::Asked;
use super::now;
use crate::drawing::visible;
use crate::screen::{Ink, Screen, wrapped};
use anyhow::anyhow;
use dwell_card::Card;
use dwell_card::graph::Act;
use dwell_card::meaning::is_sampled;
use dwell_quantity::Kind;
use dwell_readings::{Fault, Row, Value};
use dwell_run::{Halt, Refusal, Rows};
use std::collections::BTreeSet;
use std::path::Path;

/// The most faults that are shown.
const MOST: usize = 20;

/// The rows of a file, with what each came from.
pub(in crate::commands) struct Readings {
    path: String,
    rows: Vec<Row>,
}

/// Reads a file and holds it against the card; none where it was refused, which is then said.
pub(super) fn rows(screen: &mut Screen, path: &Path, card: &Card) -> anyhow::Result<Option<Readings>> {
    let shown = path.display().to_string();
    let text = dwell_workspace::read(path).map_err(|why| anyhow!("cannot read {shown}: {why}"))?;
    let faults = match dwell_readings::read(&text) {
        Ok(rows) => {
            let faults: Vec<Fault> = rows.iter().filter_map(|row| misfit(row, card)).collect();
            if faults.is_empty() {
                return Ok(Some(Readings { path: shown, rows }));
            }
            faults
        }
        Err(faults) => faults,
    };
    for fault in faults.iter().take(MOST) {
        say(screen, Ink::Red, "refused: ", &format!("{shown}, {}: {}", fault.place(), fault.what))?;
        for line in wrapped("  help: ", 8, &visible(&fault.help)) {
            screen.line(&line)?;
        }
    }
    if faults.len() > MOST {
        screen.line(&format!("… and {} more", faults.len() - MOST))?;
    }
    screen.line("nothing was run: the readings file has to be mended first")?;
    Ok(None)
}

/// Why a row cannot belong to the card.
fn misfit(row: &Row, card: &Card) -> Option<Fault> {
    let fault = |column: &str, what: String, help: String| {
        Some(Fault { row: Some(row.line), column: Some(column.to_owned()), what, help })
    };
    if row.name == dwell_run::STOP {
        return None;
    }
    if row.name == dwell_run::SIGNATURE {
        return unsigned(row, card);
    }
    if row.typed == dwell_run::LOST && may_be_lost(row, card) {
        return None;
    }
    let readings: Vec<_> = card
        .readings
        .iter()
        .filter(|reading| reading.name == row.name && reading.formula.is_none())
        .collect();
    if let Some(first) = readings.first() {
        if let Some(at) = &row.at
            && !readings.iter().any(|reading| reading.at.as_ref() == Some(at))
        {
            let places: Vec<&str> = readings.iter().filter_map(|reading| reading.at.as_deref()).collect();
            let help = if places.is_empty() {
                "it has no place: leave the cell empty".to_owned()
            } else {
                format!("its places are {}", places.join(", "))
            };
            return fault("at", format!("`{}` is not read at `{at}`", row.name), help);
        }
        if row.time.is_some() && !readings.iter().any(|reading| is_sampled_there(&reading.name, card)) {
            return fault(
                "time",
                format!("`{}` is not sampled over time", row.name),
                "leave the cell empty: its values are taken in their order".to_owned(),
            );
        }
        return match (&row.value, &row.unit) {
            (Value::NoReading, _) => None,
            (Value::Compound(_), None) => None,
            (Value::Word(word), _) => fault(
                "value",
                format!("`{word}` is no value for the reading `{}`", row.name),
                "write a number with its unit, or `no reading`".to_owned(),
            ),
            (_, None) if !first.unit.is_empty() => fault(
                "unit",
                "empty".to_owned(),
                format!("write the unit in which `{}` was read, such as {}", row.name, first.unit),
            ),
            (_, Some(unit)) => {
                let kinds: Vec<Kind> =
                    readings.iter().filter_map(|reading| Kind::named(&reading.kind)).collect();
                let fits = kinds.is_empty() || kinds.iter().any(|kind| unit.unit.measures(*kind));
                if fits {
                    None
                } else {
                    fault(
                        "unit",
                        format!("`{}` does not measure {}", unit.typed, first.kind.replace('-', " ")),
                        format!(
                            "`{}` is read in {}, or another unit of {}",
                            row.name,
                            first.unit,
                            first.kind.replace('-', " ")
                        ),
                    )
                }
            }
            _ => None,
        };
    }
    if let Some(question) = card.questions.iter().find(|question| question.name == row.name) {
        let fits = question.values.contains(&row.typed);
        return if fits {
            None
        } else {
            fault(
                "value",
                format!("`{}` is none of the answers to `{}`", row.typed, row.name),
                format!("the answers are {}", question.values.join(", ")),
            )
        };
    }
    if items(card).contains(row.name.as_str()) {
        let fits = matches!(row.typed.as_str(), "yes" | "no");
        return if fits {
            None
        } else {
            fault(
                "value",
                format!("`{}` does not say whether the need is met", row.typed),
                "write `yes` or `no`".to_owned(),
            )
        };
    }
    fault("name", format!("`{}` is nothing that this procedure asks for", row.name), known(&row.name, card))
}

/// Whether what a row names is held somewhere.
fn may_be_lost(row: &Row, card: &Card) -> bool {
    card.nodes.iter().any(|node| match &node.act {
        Act::Hold(hold) => hold.name == row.name && (row.at.is_none() || row.at == hold.at),
        _ => false,
    })
}

/// Why a signature cannot belong to the card.
fn unsigned(row: &Row, card: &Card) -> Option<Fault> {
    let signed = card.nodes.iter().filter(|node| matches!(node.act, Act::Sign { .. }));
    let steps: BTreeSet<&str> = signed
        .map(|node| node.step.and_then(|step| card.steps.get(step)).map_or("restore", |step| &step.name))
        .collect();
    let (column, what) = match &row.at {
        _ if steps.is_empty() => ("name", "nothing is signed in this procedure".to_owned()),
        Some(at) if !steps.contains(at.as_str()) => ("at", format!("`{at}` is not signed")),
        _ => return None,
    };
    let help = match steps.is_empty() {
        true => "leave the row out".to_owned(),
        false => {
            format!("signed here: {}", steps.into_iter().collect::<Vec<_>>().join(", "))
        }
    };
    Some(Fault { row: Some(row.line), column: Some(column.to_owned()), what, help })
}

/// Whether a measurement takes as many values of a reading as come.
fn is_sampled_there(name: &str, card: &Card) -> bool {
    card.nodes.iter().any(|node| match &node.act {
        Act::Measure(measure) => {
            let named = |reading: &usize| card.readings.get(*reading).is_some_and(|known| known.name == name);
            is_sampled(measure) && measure.readings.iter().any(named)
        }
        _ => false,
    })
}

/// The items that needs are asked about.
fn items(card: &Card) -> BTreeSet<&str> {
    card.nodes
        .iter()
        .filter_map(|node| match &node.act {
            Act::Need { required, proved: false, .. } => {
                card.slots.get(required.slot).map(|slot| slot.item.as_str())
            }
            _ => None,
        })
        .collect()
}

/// What may have been meant, or all that is asked for.
fn known(name: &str, card: &Card) -> String {
    let mut all: BTreeSet<&str> = items(card);
    all.extend(card.questions.iter().map(|question| question.name.as_str()));
    all.extend(
        card.readings.iter().filter(|reading| reading.formula.is_none()).map(|reading| reading.name.as_str()),
    );
    let near = all.iter().map(|known| (strsim::damerau_levenshtein(name, known), *known)).min();
    match near {
        Some((distance, known)) if distance <= 2 && distance < name.chars().count() => {
            format!("did you mean `{known}`?")
        }
        _ => format!("it asks for {}", all.into_iter().collect::<Vec<_>>().join(", ")),
    }
}

/// Carries the card out with the rows.
pub(super) fn drive(job: &mut Job, screen: &mut Screen, readings: Readings) -> anyhow::Result<Asked> {
    let mut rows = Rows::new(readings.rows.iter().map(asked_for).collect());
    let Err(halt) = turn(job, screen, &mut rows)? else {
        left_over(screen, &readings, &rows)?;
        return Ok(Asked::All);
    };
    let (word, words) = match &halt {
        Halt::Refused { row: Some(place), refusal, .. } => match readings.rows.get(*place) {
            Some(row) => {
                let help = match refusal {
                    Refusal::Doubtful { .. } => ": write `yes` for it in a column `kept`",
                    _ => "",
                };
                let at = format!("{}, row {}, column `value`", readings.path, row.line);
                ("refused: ", format!("{at}: {refusal}{help}"))
            }
            None => ("refused: ", refusal.to_string()),
        },
        Halt::Refused { refusal, .. } => ("refused: ", refusal.to_string()),
        Halt::Missing { .. } => ("missing: ", format!("{}: {halt}", readings.path)),
    };
    screen.line("")?;
    say(screen, Ink::Red, word, &words)?;
    let events = job.session.stop("the readings file does not answer what is asked", &now()?)?;
    job.happened(screen, &events)?;
    // What is put back may ask for readings as well; if they are not there, the rest stays open and is said to be.
    let _ = turn(job, screen, &mut rows)?;
    left_over(screen, &readings, &rows)?;
    Ok(Asked::Refused)
}

/// A row as the runner takes it.
fn asked_for(row: &Row) -> dwell_run::Row {
    dwell_run::Row {
        name: row.name.clone(),
        place: row.at.clone(),
        state: None,
        value: row.typed.clone(),
        unit: row.unit.as_ref().map(|unit| unit.typed.clone()),
        time: row.time.as_ref().map(ToString::to_string),
        list: None,
        kept: row.kept,
    }
}

/// Goes on until the end, or until a row is missing or refused.
fn turn(job: &mut Job, screen: &mut Screen, rows: &mut Rows) -> anyhow::Result<Result<(), Halt>> {
    let mut trouble = Ok(());
    let Job { session, journal, telling, .. } = job;
    // The clock was read once before the run, so that it can be read.
    let mut clock = || now().unwrap_or_default();
    let ended = dwell_run::drive(session, rows, &mut clock, &mut |driven| {
        if trouble.is_ok() {
            trouble = journal.write(driven.events).and_then(|()| telling.tell(screen, driven.events));
        }
    });
    trouble?;
    Ok(ended.map(|_| ()))
}

fn left_over(screen: &mut Screen, readings: &Readings, rows: &Rows) -> anyhow::Result<()> {
    let left: Vec<String> = rows
        .left_over()
        .into_iter()
        .filter_map(|place| readings.rows.get(place))
        .map(|row| format!("row {} (`{}`)", row.line, row.name))
        .collect();
    if !left.is_empty() {
        screen.line("")?;
        say(
            screen,
            Ink::Yellow,
            "left over: ",
            &format!("{}: nothing asked for {}", readings.path, left.join(", ")),
        )?;
    }
    Ok(())
}

/// A word in an ink of its own, and what it is about.
fn say(screen: &mut Screen, ink: Ink, word: &str, about: &str) -> anyhow::Result<()> {
    let mut lines = wrapped(word, 2, &visible(about));
    if let Some(first) = lines.first_mut() {
        *first = first.replacen(word.trim_end(), &screen.style.ink(ink, word.trim_end()), 1);
    }
    for line in lines {
        screen.line(&line)?;
    }
    Ok(())
}
