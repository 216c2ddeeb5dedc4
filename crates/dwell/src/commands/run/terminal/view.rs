//! The screen as rows of words, made from what is asked, what is typed and what is open: nothing here knows a terminal.

use super::came;
use super::clock::Clock;
use super::desk::{Desk, Showing};
use super::digits::big;
use super::field;
use super::rows::{Row, broken, fitted, inked, plain, told, turned};
use super::source;
use crate::screen::Ink;
use dwell_quantity::band_shown;
use dwell_run::shown::{in_unit, in_words};
use dwell_run::{CautionWords, Keeping, Located, Prompt, ReadingPrompt, Session};
use time::OffsetDateTime;

/// The smallest screen that anything can be done on, in columns and rows.
pub(super) const SMALLEST: (usize, usize) = (20, 6);

/// How the screen is: its size, and whether it has line drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Look {
    /// Columns.
    pub(super) width: usize,
    /// Rows.
    pub(super) height: usize,
    /// Whether there is room for big digits.
    pub(super) roomy: bool,
    /// Whether only ASCII is drawn.
    pub(super) ascii: bool,
}

impl Look {
    /// Of a size.
    pub(super) fn new(width: usize, height: usize, ascii: bool) -> Look {
        Look { width, height, roomy: width >= 60 && height >= 20, ascii }
    }
}

/// A screen: the head and the foot always stand, the field stands above the foot, the middle scrolls.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Page {
    /// The procedure and where in it.
    pub(super) head: Vec<Row>,
    /// Cautions, the instruction, limits.
    pub(super) body: Vec<Row>,
    /// What is typed, and why something was not taken.
    pub(super) field: Vec<Row>,
    /// What is open, and the keys.
    pub(super) foot: Vec<Row>,
}

/// The screen of this moment.
pub(super) fn page(desk: &Desk, session: &Session, now: OffsetDateTime, look: Look) -> Page {
    if look.width < SMALLEST.0 || look.height < SMALLEST.1 {
        let words = "too small: make the window larger";
        return Page { body: told(None, "", words, look.width.max(1)), ..Page::default() };
    }
    let prompt = session.ask();
    let (body, field) = match &desk.showing {
        Showing::Asked => (asked(desk, session, &prompt, look), field::field(desk, session, now, look)),
        Showing::Came(events) => (came::rows(events, desk.read.as_ref(), look), Vec::new()),
        Showing::MakeSafe(list) => (make_safe(list, look), Vec::new()),
        Showing::Stopping => {
            (stopping(session, look), field::words("Why, in a few words (may stay empty)", desk, look))
        }
        Showing::Cannot => (cannot(&prompt, look), field::words("Cannot, because", desk, look)),
        Showing::HandOver => (hand_over(session, look), field::words("Name of who goes on", desk, look)),
        Showing::Back => {
            let why = if session.offered().is_empty() {
                Vec::new()
            } else {
                field::words("Why, in a few words", desk, look)
            };
            (back(desk, session, look), why)
        }
        Showing::Help => (help(desk, session, &prompt, look), Vec::new()),
    };
    Page { head: head(session, look), body, field, foot: foot(desk, session, &prompt, look) }
}

/// The procedure and the step.
fn head(session: &Session, look: Look) -> Vec<Row> {
    let card = session.card();
    let place = session.where_in();
    let room = look.width.saturating_sub(place.chars().count() + 1);
    let mark = if look.ascii { ".." } else { "…" };
    let title = fitted(&card.title, room, mark);
    let gap = look.width.saturating_sub(super::rows::columns(&title) + super::rows::columns(&place));
    let mut rows = vec![vec![turned(Some(Ink::Bold), &format!("{title}{}{place}", " ".repeat(gap)))]];
    let heading = session.heading().filter(|heading| look.height >= 16 && *heading != place);
    rows.extend(heading.map(|heading| vec![inked(Ink::Bold, &fitted(&heading, look.width, mark))]));
    if let (true, Some(vehicle)) = (look.height >= 20, session.vehicle_in_words()) {
        rows.push(vec![plain(&fitted(&vehicle, look.width, mark))]);
    }
    rows
}

/// What is asked: the cautions first, each with its signal word, then the instruction and all that belongs to it.
fn asked(desk: &Desk, session: &Session, prompt: &Prompt, look: Look) -> Vec<Row> {
    let width = look.width;
    let mut rows: Vec<Row> = prompt.cautions().iter().flat_map(|caution| boxed(caution, look)).collect();
    let strong = |words: &str| told(Some(Ink::Bold), "", words, width);
    let more = |words: &str| told(None, "  ", words, width);
    match prompt {
        Prompt::Confirm(confirm) => {
            rows.extend(strong(&confirm.says));
            rows.extend(confirm.text.iter().flat_map(|text| more(text)));
            rows.extend(located(&confirm.located, width));
            rows.extend(confirm.tools.iter().flat_map(|tool| more(&format!("with the {tool}"))));
            rows.extend(confirm.band.iter().flat_map(|band| strong(&format!("  to {band}"))));
            rows.extend(
                confirm.setting.iter().flat_map(|set| strong(&format!("  with the adapter, set to {set}"))),
            );
            rows.extend(confirm.condition.iter().flat_map(|condition| more(condition)));
        }
        Prompt::Need { says, located: at, .. } => {
            rows.extend(strong(says));
            rows.extend(more("Is that so? y for yes, n for no"));
            rows.extend(located(at, width));
        }
        Prompt::Reading(reading) => rows.extend(reading_rows(desk, reading, look)),
        Prompt::Question(question) => {
            rows.extend(strong(&question.text));
            for (place, value) in question.values.iter().enumerate() {
                let here = place == desk.marked;
                let text = format!("{} {}  {value}", if here { ">" } else { " " }, place + 1);
                let lines = broken("", &text, width).into_iter();
                rows.extend(lines.map(|line| vec![if here { turned(None, &line) } else { plain(&line) }]));
            }
        }
        Prompt::Sign(sign) => {
            rows.extend(strong(&sign.title));
            let who = if sign.of > 1 { "Two persons sign." } else { "To be signed." };
            rows.extend(more(who));
            rows.extend(sign.signed.iter().flat_map(|name| more(&format!("signed: {name}"))));
        }
        Prompt::Done { .. } => {}
    }
    rows.extend(kept(&session.keeping(), width));
    rows
}

fn kept(keeping: &[Keeping], width: usize) -> Vec<Row> {
    let says = |held: &Keeping| {
        let more = held.text.as_ref().map(|text| format!(" {text}")).unwrap_or_default();
        told(None, "  ", &format!("meanwhile: {}{more} l where it is lost.", held.says), width)
    };
    keeping.iter().flat_map(says).collect()
}

fn located(things: &[Located], width: usize) -> Vec<Row> {
    things
        .iter()
        .flat_map(|thing| told(None, "  ", &format!("{}: {}", thing.label, thing.at), width))
        .collect()
}

/// A caution: its signal word in a bar of its own, its words beside a rule.
fn boxed(caution: &CautionWords, look: Look) -> Vec<Row> {
    let ink = match caution.level {
        "DANGER" => Ink::Red,
        "WARNING" => Ink::Orange,
        "CAUTION" => Ink::Yellow,
        _ => Ink::Blue,
    };
    let rule = if look.ascii { "| " } else { "▌ " };
    let mut rows = vec![vec![turned(Some(ink), &format!(" {} ", caution.level))]];
    let lines = broken("", &caution.text, look.width.saturating_sub(2)).into_iter();
    rows.extend(lines.map(|line| vec![inked(ink, rule), plain(&line)]));
    rows
}

/// A reading: the instruction, its limits in the unit that is typed too, and the empty bar.
fn reading_rows(desk: &Desk, reading: &ReadingPrompt, look: Look) -> Vec<Row> {
    let width = look.width;
    let more = |words: &str| told(None, "  ", words, width);
    let mut rows = told(Some(Ink::Bold), "", &reading.says, width);
    rows.extend(reading.text.iter().flat_map(|text| more(text)));
    rows.extend(
        reading
            .tool
            .iter()
            .filter(|tool| !reading.says.contains(tool.as_str()))
            .flat_map(|tool| more(&format!("with the {tool}"))),
    );
    let unit = desk.unit(reading);
    for (place, words) in reading.bands.iter().enumerate() {
        let what = if words.starts_with("set to") { String::new() } else { "band ".to_owned() };
        let other = reading.held.get(place).filter(|_| unit != reading.unit);
        // The same rounding as everywhere: inwards, never a looser limit.
        let other =
            other.map(|held| format!(", {}", band_shown(&held.band, unit, reading.kind, reading.decimals)));
        rows.extend(told(
            Some(Ink::Bold),
            "  ",
            &format!("{what}{words}{}", other.unwrap_or_default()),
            width,
        ));
    }
    if let (Some(held), true) = (reading.held.first(), reading.sampled.is_none()) {
        let band = in_unit(&held.band, reading.unit, reading.kind);
        let drawn = source::drawn(desk, reading, &band, width.saturating_sub(2).min(70), look.ascii);
        rows.push(vec![plain("  "), plain(&drawn)]);
    }
    rows.extend(reading.signs.iter().flat_map(|signs| more(signs)));
    rows.extend(reading.conditions.iter().flat_map(|condition| more(condition)));
    rows.extend(reading.sampled.iter().flat_map(|sampled| more(&sampled.how(unit.symbol()))));
    rows
}

fn make_safe(list: &[String], look: Look) -> Vec<Row> {
    let mut rows = vec![vec![turned(Some(Ink::Red), " STOP "), inked(Ink::Bold, " make safe first")]];
    if list.is_empty() {
        rows.extend(told(None, "", "This job has left nothing open.", look.width));
        return rows;
    }
    let number = |(place, words): (usize, &String)| {
        told(Some(Ink::Bold), &format!("{}. ", place + 1), words, look.width)
    };
    rows.extend(list.iter().enumerate().flat_map(number));
    let next = "See to these, in this order. What is put back is asked for next, one thing at a time.";
    rows.extend(told(None, "", next, look.width));
    rows
}

fn stopping(session: &Session, look: Look) -> Vec<Row> {
    let mut rows = vec![vec![turned(Some(Ink::Red), " STOP "), inked(Ink::Bold, " end this job?")]];
    rows.extend(told(
        None,
        "",
        "Enter stops: what is owed is put back, the result is unfinished. Esc goes on working.",
        look.width,
    ));
    rows.extend(open_list(session, look));
    rows
}

fn cannot(prompt: &Prompt, look: Look) -> Vec<Row> {
    let mut rows = told(Some(Ink::Bold), "", &format!("This cannot be done: {}", prompt.says()), look.width);
    let words = "The job ends unfinished, and what is owed is put back. The reason stands in the record. Esc goes back.";
    rows.extend(told(None, "", words, look.width));
    rows
}

fn hand_over(session: &Session, look: Look) -> Vec<Row> {
    let mut rows = told(Some(Ink::Bold), "", "Hand this job over", look.width);
    let words = "The record has both names. Show the other person what is open.";
    rows.extend(told(None, "", words, look.width));
    rows.extend(open_list(session, look));
    rows
}

/// The answers that can be gone back to.
fn back(desk: &Desk, session: &Session, look: Look) -> Vec<Row> {
    let places = session.offered();
    if places.is_empty() {
        return told(None, "", "There is nothing to go back to.", look.width);
    }
    let words =
        "What was told and read from there on is asked again; what was done at the vehicle stays done.";
    let mut rows = told(Some(Ink::Bold), "", "Back to which answer?", look.width);
    rows.extend(told(None, "", words, look.width));
    for (place, offered) in places.iter().enumerate() {
        let first = format!("{} {}  ", if place == desk.marked { ">" } else { " " }, place + 1);
        let ink = (place == desk.marked).then_some(Ink::Bold);
        rows.extend(told(ink, &first, &offered.words, look.width));
    }
    rows
}

/// All that is open, a row each.
fn open_list(session: &Session, look: Look) -> Vec<Row> {
    let open = session.at_hand();
    if open.is_empty() {
        return told(None, "", "Nothing is open just now.", look.width);
    }
    let mut rows = vec![vec![inked(Ink::Bold, "Open now, in the order in which it is put back:")]];
    rows = rows
        .into_iter()
        .flat_map(|row| row.into_iter().flat_map(|piece| told(piece.ink, "", &piece.text, look.width)))
        .collect();
    rows.extend(open.iter().flat_map(|item| told(None, "- ", item, look.width)));
    rows
}

fn help(desk: &Desk, session: &Session, prompt: &Prompt, look: Look) -> Vec<Row> {
    let mut rows = told(Some(Ink::Bold), "", &format!("Wanted now: {}.", prompt.wants()), look.width);
    let mut keys = vec![
        "Enter  answers; first it turns to what stands further down",
        "PgUp PgDn  turn the text",
        "Esc, s, F10, Ctrl-C  STOP: it asks once",
        "c, F4  cannot be done, because ...",
        "b, F5  back to an earlier answer; F8 there: a reading was noted wrong",
        "h, F7  hand over to another person",
        "?, F1  this page",
        "Ctrl-Z  lends the terminal to the shell",
    ];
    if matches!(prompt, Prompt::Reading(_)) {
        keys.extend([
            "n, F3  not readable: no reading",
            "u, F2  another unit, kept for this tool",
            "62.3 and 62,3 are the same; `above 1000` at the end of a range; another unit can be typed behind the number",
        ]);
    }
    if desk.live.is_some() {
        keys.push("Enter, m  takes what is shown, or begins to measure; what is typed comes before it");
    }
    if !session.keeping().is_empty() {
        keys.push("l, F6  what is held is lost");
    }
    rows.extend(keys.into_iter().flat_map(|key| told(None, "", key, look.width)));
    rows.push(Vec::new());
    rows.extend(open_list(session, look));
    if desk.card.tools.is_empty() {
        return rows;
    }
    rows.extend(told(Some(Ink::Bold), "", "Tools", look.width));
    rows.extend(desk.card.tools.iter().flat_map(|tool| told(None, "- ", &tool.label, look.width)));
    rows
}

/// What is open, and the keys.
fn foot(desk: &Desk, session: &Session, prompt: &Prompt, look: Look) -> Vec<Row> {
    let mut rows = open_now(&session.at_hand(), look);
    let small = look.width < 60;
    let mut keys: Vec<(&str, &str)> = match (&desk.showing, prompt) {
        (Showing::Stopping, _) => vec![("Enter", "STOP"), ("Esc", "go on working")],
        (Showing::Cannot, _) => vec![("Enter", "end the work"), ("Esc", "back")],
        (Showing::Help, _) => vec![("Enter", "back")],
        (Showing::Back, _) => {
            vec![("1-9", "choose"), ("Enter", "open it again"), ("F8", "noted wrong"), ("Esc", "leave it")]
        }
        (Showing::HandOver, _) => vec![("Enter", "hand over"), ("Esc", "back")],
        (Showing::Came(_) | Showing::MakeSafe(_), _) => vec![("Enter", "go on")],
        (_, Prompt::Need { .. }) => vec![("y", "yes"), ("n", "no"), ("c", "cannot"), ("?", "help")],
        (_, Prompt::Reading(_)) if small => {
            vec![("n", "no reading"), ("u", "unit"), ("c", "cannot")]
        }
        (_, Prompt::Reading(_)) => {
            vec![("n", "not readable"), ("u", "other unit"), ("c", "cannot, because"), ("?", "help")]
        }
        (_, Prompt::Question(_)) => vec![("1-9", "choose"), ("Enter", ""), ("c", "cannot"), ("?", "help")],
        (_, Prompt::Sign(_)) => vec![("Enter", "sign"), ("F4", "cannot"), ("F1", "help")],
        (_, _) => vec![("Enter", "done"), ("c", "cannot"), ("?", "help")],
    };
    if !small
        && desk.showing == Showing::Asked
        && !session.behind().is_empty()
        && !matches!(prompt, Prompt::Sign(_))
    {
        keys.insert(keys.len().saturating_sub(1), ("b", "back"));
    }
    if !matches!(
        desk.showing,
        Showing::Stopping | Showing::Cannot | Showing::Help | Showing::Back | Showing::HandOver
    ) {
        keys.push(("Esc", "STOP"));
    }
    rows.extend(key_rows(&keys, look.width));
    rows
}

/// The keys, each turned, in as many rows as that takes.
fn key_rows(keys: &[(&str, &str)], width: usize) -> Vec<Row> {
    let apart = if width < 60 { " " } else { "   " };
    let mut rows: Vec<Row> = vec![Vec::new()];
    let mut used = 0;
    for (key, words) in keys {
        let says = if words.is_empty() { String::new() } else { format!(" {words}") };
        let wide = key.chars().count() + says.chars().count();
        let blank = if used == 0 { 0 } else { apart.len() };
        if used + blank + wide > width && used > 0 {
            rows.push(Vec::new());
            used = 0;
        }
        if let Some(row) = rows.last_mut() {
            if used > 0 {
                row.push(plain(apart));
                used += apart.len();
            }
            row.extend([turned(None, key), plain(&says)]);
            used += wide;
        }
    }
    rows
}

/// What is open, in two rows, three on a large screen; what does not fit is counted.
fn open_now(open: &[String], look: Look) -> Vec<Row> {
    if open.is_empty() {
        return vec![vec![inked(Ink::Faint, "OPEN NOW: nothing")]];
    }
    let most = match look.height {
        20.. => 3,
        10.. => 2,
        _ => 1,
    };
    let short = |words: &String| words.trim_start_matches("The ").replacen(" is ", " ", 1);
    for shown in (0..=open.len()).rev() {
        let mut words: Vec<String> = open.iter().take(shown).map(short).collect();
        if shown < open.len() {
            words.push(format!("+{} more (?)", open.len() - shown));
        }
        let lines = broken("OPEN NOW: ", &words.join(", "), look.width);
        if lines.len() <= most || shown == 0 {
            return lines.into_iter().map(|line| vec![inked(Ink::Bold, &line)]).collect();
        }
    }
    Vec::new()
}

/// The clock of a wait, as big as there is room for.
pub(super) fn clock(waiting: Clock, now: OffsetDateTime, look: Look) -> Vec<Row> {
    let left = waiting.left(now);
    let (number, words) = match left {
        0 => ("0:00".to_owned(), format!("the time is over, for {}", in_words(whole(waiting.over_for(now))))),
        _ => (in_words(whole(left)), "left".to_owned()),
    };
    let mut rows: Vec<Row> = match big(&number, look.width / 2, look.ascii).filter(|_| look.roomy) {
        Some(digits) => digits.into_iter().map(|row| vec![inked(Ink::Bold, &format!("  {row}"))]).collect(),
        None => vec![vec![inked(Ink::Bold, &format!("  {number}"))]],
    };
    if let Some(last) = rows.last_mut() {
        last.push(inked(Ink::Bold, &format!("  {words}")));
    }
    rows
}

/// Seconds that are never less than none.
fn whole(seconds: i64) -> u64 {
    u64::try_from(seconds).unwrap_or_default()
}
