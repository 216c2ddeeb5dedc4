//! A job of the demo library at a screen of a size, key by key, and what has to be seen of each thing that is asked.

use super::super::desk::{Desk, Showing, Wish};
use super::super::draw::draw;
use super::super::rows::Piece;
use super::super::view::{Look, page};
use crate::work::work;
use dwell_card::Card;
use dwell_readings::Row;
use dwell_record::event::By;
use dwell_run::{Prompt, Session};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::crossterm::event::{KeyCode, KeyEvent};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use time::OffsetDateTime;

const AT: &str = "2031-04-12T09:05:00Z";
pub(super) const SIZES: [(u16, u16); 2] = [(80, 24), (40, 12)];

/// A job at a screen of a size.
pub(super) struct Bench {
    pub(super) session: Session,
    pub(super) desk: Desk,
    pub(super) size: (u16, u16),
    now: OffsetDateTime,
    /// The rows of the middle that were seen since the last answer, by their place.
    pub(super) read: BTreeMap<usize, String>,
}

impl Bench {
    pub(super) fn new(card: &Card, variants: &[(String, String)], size: (u16, u16)) -> Bench {
        let session = Session::start(card.clone(), variants, AT).unwrap();
        let desk = Desk::new(card.clone(), session.events());
        let format = time::format_description::well_known::Rfc3339;
        Bench { session, desk, size, now: OffsetDateTime::parse(AT, &format).unwrap(), read: BTreeMap::new() }
    }

    /// What stands on the screen.
    pub(super) fn screen(&mut self) -> String {
        let (width, height) = self.size;
        let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
        let look = Look::new(usize::from(width), usize::from(height), false);
        let page = page(&self.desk, &self.session, self.now, look);
        terminal
            .draw(|frame| {
                let seen = draw(&page, self.desk.scrolled, false, false, frame.buffer_mut());
                self.desk.was_drawn(seen);
            })
            .unwrap();
        if self.desk.showing == Showing::Asked {
            let seen = page.body.iter().enumerate().skip(self.desk.scrolled).take(self.desk.page);
            let words = |row: &Vec<Piece>| row.iter().map(|piece| piece.text.as_str()).collect::<String>();
            self.read.extend(seen.map(|(place, row)| (place, words(row))));
        }
        let buffer = terminal.backend().buffer();
        let row = |y: u16| -> String { (0..width).map(|x| buffer[(x, y)].symbol()).collect() };
        (0..height).map(|y| row(y).trim_end().to_owned()).collect::<Vec<_>>().join("\n")
    }

    pub(super) fn key(&mut self, code: KeyCode) {
        self.screen();
        let wish = self.desk.key(KeyEvent::from(code), &self.session, false);
        let came = match &wish {
            Wish::Look | Wish::Live | Wish::Suspend => return,
            Wish::Answer(answer) => self.session.answer(answer.clone(), AT),
            Wish::Stop(why) => self.session.stop(why, AT),
            Wish::Correct(to, why) => self.session.correct(*to, By::default(), why, AT),
            Wish::HandOver(name) => {
                let by = By { person: Some(name.clone()), device: None };
                self.session.take_up(by, dwell_record::event::Taking::HandedOver, AT)
            }
            Wish::Back(to, why) => self.session.go_back(*to, By::default(), why, AT),
        };
        self.desk.came(&wish, came, &self.session);
    }

    pub(super) fn types(&mut self, text: &str) {
        text.chars().for_each(|letter| self.key(KeyCode::Char(letter)));
    }

    /// Enter until what is asked is to be answered and all of it was seen; all screens on the way.
    pub(super) fn seen(&mut self) -> String {
        let mut all = self.screen();
        for _ in 0..60 {
            if self.desk.showing == Showing::Asked && self.desk.seen {
                return all;
            }
            self.key(KeyCode::Enter);
            all.push('\n');
            all.push_str(&self.screen());
        }
        panic!("it never comes to an end:\n{all}");
    }

    pub(super) fn is_over(&self) -> bool {
        self.session.result().is_some()
    }
}

fn library() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures")
}

/// The cards of the library, each with its folder of readings; compiled once for all tests.
pub(super) fn cards() -> Vec<(PathBuf, Card)> {
    static ALL: LazyLock<Vec<(PathBuf, Card)>> = LazyLock::new(compiled);
    ALL.clone()
}

fn compiled() -> Vec<(PathBuf, Card)> {
    let mut all = Vec::new();
    for folder in std::fs::read_dir(library()).unwrap().map(|entry| entry.unwrap().path()) {
        let readings = folder.join("readings");
        if !readings.is_dir() {
            continue;
        }
        let checked = work(std::slice::from_ref(&folder), None).checked;
        for compiled in checked.procedures {
            if let Some(card) = compiled.card {
                all.push((readings.clone(), card));
            }
        }
    }
    all
}

pub(super) fn variants(card: &Card) -> Vec<(String, String)> {
    card.axes.iter().map(|axis| (axis.name.clone(), axis.values.first().unwrap().clone())).collect()
}

/// The words of a text as they stand on a screen, whatever the line ends.
pub(super) fn stands(screen: &str, words: &str) -> bool {
    let bare = |text: &str| -> String {
        text.chars().filter(|c| !c.is_whitespace() && !"▌>".contains(*c)).collect()
    };
    bare(screen).contains(&bare(words))
}

/// All that must be seen before a prompt is answered.
pub(super) fn must_be_seen(prompt: &Prompt) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for caution in prompt.cautions() {
        all.extend([caution.level.to_owned(), caution.text.clone()]);
    }
    match prompt {
        Prompt::Confirm(confirm) => {
            all.push(confirm.says.clone());
            all.extend(confirm.text.clone());
            all.extend(confirm.band.clone());
            all.extend(confirm.setting.clone());
            all.extend(confirm.condition.clone());
            all.extend(confirm.located.iter().map(|thing| thing.at.clone()));
        }
        Prompt::Need { says, located, .. } => {
            all.push(says.trim_end_matches('.').to_owned());
            all.extend(located.iter().map(|thing| thing.at.clone()));
        }
        Prompt::Reading(reading) => {
            all.push(reading.says.clone());
            all.extend(reading.text.clone());
            all.extend(reading.bands.clone());
            all.extend(reading.signs.clone());
            all.extend(reading.conditions.clone());
            all.push(reading.name.replace('-', " "));
        }
        Prompt::Question(question) => {
            all.push(question.text.clone());
            all.extend(question.values.clone());
        }
        Prompt::Sign(sign) => all.push(sign.title.clone()),
        Prompt::Done { .. } => {}
    }
    all
}

/// Answers what is asked by keys, with the rows of a file.
pub(super) fn answer(bench: &mut Bench, rows: &mut Vec<Row>) {
    let mut next = |name: &str, place: Option<&str>| {
        let at =
            rows.iter().position(|row| row.name == name && (row.at.is_none() || row.at.as_deref() == place));
        at.map(|at| rows.remove(at))
    };
    match bench.session.ask() {
        Prompt::Confirm(_) => bench.key(KeyCode::Enter),
        Prompt::Need { item, place, .. } => match next(&item, place.as_deref()) {
            Some(row) if row.typed == "no" => bench.key(KeyCode::Char('n')),
            _ => bench.key(KeyCode::Char('y')),
        },
        Prompt::Reading(reading) => {
            let least =
                reading.sampled.as_ref().map_or(1, |sampled| sampled.given.unwrap_or(sampled.least).max(1));
            let given: Vec<Row> =
                (0..least).filter_map(|_| next(&reading.name, reading.place.as_deref())).collect();
            let unit = given.last().and_then(|row| row.unit.as_ref()).map(|unit| unit.typed.clone());
            let values: Vec<String> = given.into_iter().map(|row| row.typed).collect();
            if values.is_empty() || values.iter().all(|value| value == "no reading") {
                return bench.key(KeyCode::F(3));
            }
            let apart = if values.iter().any(|value| value.contains(' ')) { "; " } else { " " };
            bench.types(&format!("{} {}", values.join(apart), unit.unwrap_or_default()));
            bench.key(KeyCode::Enter);
        }
        Prompt::Question(question) => {
            let row = next(&question.name, None);
            let place = row.and_then(|row| question.values.iter().position(|value| *value == row.typed));
            (0..place.unwrap_or(0)).for_each(|_| bench.key(KeyCode::Down));
            bench.key(KeyCode::Enter);
        }
        Prompt::Sign(sign) => {
            bench.types(if sign.person > 1 { "B. Adler" } else { "A. Weber" });
            bench.key(KeyCode::Enter);
        }
        Prompt::Done { .. } => {}
    }
}
