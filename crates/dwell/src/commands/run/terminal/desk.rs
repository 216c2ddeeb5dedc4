//! What the technician sees and types just now, apart from the job itself: pure, so that it is tried without a terminal.

use super::draw::Seen;
use dwell_card::Card;
use dwell_live::Shown;
use dwell_quantity::Unit;
use dwell_record::{Event, What};
use dwell_run::shown::{is_worth_a_look, units};
use dwell_run::{Answer, Prompt, ReadingPrompt, Refusal, Session, by_hand};
use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use std::collections::BTreeMap;

/// The longest answer, in letters.
const LONGEST: usize = 2000;

/// What the screen shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Showing {
    /// What is asked.
    Asked,
    /// What came of the last answer, before the next thing is asked.
    Came(Vec<Event>),
    /// The question whether to stop.
    Stopping,
    /// What to see to first, after a stop.
    MakeSafe(Vec<String>),
    /// The question why it cannot be done.
    Cannot,
    /// What the keys do, and all that is open.
    Help,
    /// The answers that can be gone back to, and why.
    Back,
    /// The question who goes on.
    HandOver,
}

/// What a key wants of the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Wish {
    /// Nothing more than another look.
    Look,
    /// An answer.
    Answer(Answer),
    /// The end of the work, with the reason.
    Stop(String),
    /// An earlier answer opened again: the number of its event, and why.
    Back(u64, String),
    /// A reading that was noted wrong, put right: the number of its event, and why.
    Correct(u64, String),
    /// Another person goes on, with this name.
    HandOver(String),
    /// What gives the reading by itself: its value, or a measurement begun or ended.
    Live,
    /// The shell, for a while.
    Suspend,
}

/// The state of the screen.
#[derive(Clone, Debug)]
pub(super) struct Desk {
    /// The card.
    pub(super) card: Card,
    /// What is shown.
    pub(super) showing: Showing,
    /// What is typed.
    pub(super) typed: String,
    /// Which answer of a question is marked.
    pub(super) marked: usize,
    /// Why the last answer was not taken.
    pub(super) message: Option<String>,
    /// How many rows of the middle are scrolled away.
    pub(super) scrolled: usize,
    /// Whether rows of the middle are below the edge; told by whoever drew it last.
    more_below: bool,
    /// Whether all of what is shown was seen.
    pub(super) seen: bool,
    /// The rows of the middle that were seen at once, told the same way.
    pub(super) page: usize,
    /// The last reading that was asked for, whose band is shown with what came of it.
    pub(super) read: Option<ReadingPrompt>,
    /// The unit that was chosen for each tool and kind.
    chosen: BTreeMap<(Option<String>, &'static str), Unit>,
    /// What gives the reading by itself shows this.
    pub(super) live: Option<Shown>,
    /// How a measurement that is being taken stands.
    pub(super) measuring: Option<String>,
    /// The answer that was asked back.
    doubted: Option<Answer>,
    /// Whether Enter was pressed before a wait was over.
    hurried: bool,
}

impl Desk {
    /// Before the first key.
    pub(super) fn new(card: Card, events: &[Event]) -> Desk {
        // A job that is taken up again begins with what is open and what has run out since.
        let taken_up = events.iter().rposition(|event| matches!(event.what, What::TakenUp(_)));
        let first = events.get(taken_up.unwrap_or_default()..).unwrap_or_default().to_vec();
        Desk {
            card,
            showing: Showing::Came(first),
            typed: String::new(),
            marked: 0,
            message: None,
            scrolled: 0,
            more_below: false,
            seen: false,
            page: 1,
            read: None,
            chosen: BTreeMap::new(),
            live: None,
            measuring: None,
            doubted: None,
            hurried: false,
        }
    }

    /// What was seen of the middle when it was drawn.
    pub(super) fn was_drawn(&mut self, seen: Seen) {
        (self.scrolled, self.page, self.more_below) = (seen.scrolled, seen.rows, seen.below);
        self.seen |= !seen.below;
    }

    /// Whether the last answer was asked back, and nobody has said yet whether it is meant.
    pub(super) fn asks_back(&self) -> bool {
        self.doubted.is_some()
    }

    /// The unit in which a reading is typed and shown.
    pub(super) fn unit(&self, prompt: &ReadingPrompt) -> Unit {
        let chosen = self.chosen.get(&(prompt.tool.clone(), prompt.kind.name()));
        chosen.copied().filter(|unit| unit.measures(prompt.kind)).unwrap_or(prompt.unit)
    }

    /// One key. `waits` says whether a wait is still going on.
    pub(super) fn key(&mut self, key: KeyEvent, session: &Session, waits: bool) -> Wish {
        let control = key.modifiers.contains(KeyModifiers::CONTROL);
        let was_asked = self.showing == Showing::Asked;
        match key.code {
            KeyCode::Char('z') if control => return Wish::Suspend,
            KeyCode::Char('c') if control => return self.show(Showing::Stopping),
            KeyCode::Char('u') if control => self.typed.clear(),
            KeyCode::Char(_) if control || key.modifiers.contains(KeyModifiers::ALT) => {}
            KeyCode::Down | KeyCode::Up if self.choices(session) > 0 => {
                self.mark(key.code == KeyCode::Down, self.choices(session));
            }
            KeyCode::PageDown | KeyCode::Down => self.scroll(key.code == KeyCode::PageDown, true),
            KeyCode::PageUp | KeyCode::Up => self.scroll(key.code == KeyCode::PageUp, false),
            KeyCode::F(10) => return self.show(Showing::Stopping),
            KeyCode::Esc
                if matches!(
                    self.showing,
                    Showing::Stopping | Showing::Cannot | Showing::Help | Showing::Back | Showing::HandOver
                ) =>
            {
                return self.show(Showing::Asked);
            }
            KeyCode::Esc if !self.typed.is_empty() && was_asked => self.typed.clear(),
            KeyCode::Esc => return self.show(Showing::Stopping),
            KeyCode::F(1) => return self.show(Showing::Help),
            KeyCode::Backspace => {
                self.typed.pop();
            }
            KeyCode::Enter => return self.enter(session, waits),
            _ if was_asked => return self.asked(key.code, session),
            KeyCode::F(8) if self.showing == Showing::Back => return self.correct(session),
            KeyCode::Char(' ') if !self.types() => return self.enter(session, waits),
            KeyCode::Char(digit @ '1'..='9') if self.showing == Showing::Back && self.typed.is_empty() => {
                self.choose(digit, self.choices(session));
            }
            KeyCode::Char(letter) if self.types() => {
                self.put(letter);
                self.message = None;
            }
            _ => {}
        }
        Wish::Look
    }

    /// Nothing was answered for so long that what is open is shown first; what is typed stays.
    pub(super) fn was_interrupted(&mut self, events: Vec<Event>) {
        (self.scrolled, self.seen) = (0, false);
        self.message = None;
        self.showing = Showing::Came(events);
    }

    /// What came of a wish: the next thing is shown, or why nothing was taken.
    pub(super) fn came(&mut self, wish: &Wish, came: Result<Vec<Event>, Refusal>, session: &Session) {
        self.hurried = false;
        match came {
            Ok(events) => {
                self.typed.clear();
                self.message = None;
                self.doubted = None;
                (self.scrolled, self.marked, self.seen) = (0, 0, false);
                let shown = is_worth_a_look(&events, session);
                self.showing = match wish {
                    Wish::Stop(_) | Wish::Answer(Answer::Cannot(_)) => Showing::MakeSafe(session.at_hand()),
                    // Whoever goes on sees first what is open.
                    Wish::HandOver(_) => Showing::Came(events),
                    _ if shown => Showing::Came(events),
                    _ => Showing::Asked,
                };
            }
            Err(refusal) => {
                if let (Refusal::Doubtful { .. }, Wish::Answer(answer)) = (&refusal, wish) {
                    self.doubted = Some(answer.clone());
                    self.typed.clear();
                }
                self.message = Some(refusal.to_string());
            }
        }
    }

    /// Whether words are typed into what is shown.
    fn types(&self) -> bool {
        matches!(self.showing, Showing::Stopping | Showing::Cannot | Showing::Back | Showing::HandOver)
    }

    /// How many there are to choose from.
    fn choices(&self, session: &Session) -> usize {
        match (&self.showing, session.ask()) {
            (Showing::Asked, Prompt::Question(question)) => question.values.len(),
            (Showing::Back, _) => session.offered().len(),
            _ => 0,
        }
    }

    fn choose(&mut self, digit: char, of: usize) {
        let number = digit.to_digit(10).and_then(|number| usize::try_from(number).ok()).unwrap_or_default();
        if (1..=of).contains(&number) {
            self.marked = number - 1;
        }
    }

    fn show(&mut self, showing: Showing) -> Wish {
        if self.showing != showing {
            self.typed.clear();
            self.message = None;
            (self.scrolled, self.seen, self.marked) = (0, false, 0);
            self.showing = showing;
        }
        Wish::Look
    }

    fn put(&mut self, letter: char) {
        if self.typed.chars().count() < LONGEST {
            self.typed.push(letter);
        }
    }

    fn scroll(&mut self, whole: bool, down: bool) {
        let by = if whole { self.page.saturating_sub(1).max(1) } else { 1 };
        self.scrolled = match down {
            true if self.more_below => self.scrolled.saturating_add(by),
            true => self.scrolled,
            false => self.scrolled.saturating_sub(by),
        };
    }

    fn mark(&mut self, down: bool, of: usize) {
        self.marked =
            if down { (self.marked + 1).min(of.saturating_sub(1)) } else { self.marked.saturating_sub(1) };
    }

    /// Enter: first all that stands below is seen, then it answers. STOP waits for nothing.
    fn enter(&mut self, session: &Session, waits: bool) -> Wish {
        if !self.seen && self.showing != Showing::Stopping {
            self.scroll(true, true);
            return Wish::Look;
        }
        match &self.showing {
            Showing::Came(_) | Showing::MakeSafe(_) | Showing::Help => self.show(Showing::Asked),
            Showing::Stopping => {
                let why = self.typed.trim();
                Wish::Stop(if why.is_empty() { "stopped at the vehicle".to_owned() } else { why.to_owned() })
            }
            Showing::Back => match session.offered().get(self.marked) {
                Some(place) => Wish::Back(place.seq, self.typed.trim().to_owned()),
                None => self.show(Showing::Asked),
            },
            Showing::HandOver if self.typed.trim().is_empty() => {
                self.message = Some("type the name of who goes on; Esc goes back".to_owned());
                Wish::Look
            }
            Showing::HandOver => Wish::HandOver(self.typed.trim().to_owned()),
            Showing::Cannot => Wish::Answer(Answer::Cannot(self.typed.trim().to_owned())),
            Showing::Asked => self.answer(session, waits),
        }
    }

    /// A key while something is asked. Letters are commands while nothing is typed.
    fn asked(&mut self, code: KeyCode, session: &Session) -> Wish {
        let prompt = session.ask();
        let takes_words = matches!(prompt, Prompt::Sign(_));
        let reads = matches!(prompt, Prompt::Reading(_));
        let free = self.typed.is_empty() && !takes_words;
        match code {
            KeyCode::F(2) => return self.other_unit(&prompt),
            KeyCode::F(3) if reads => return Wish::Answer(Answer::NoReading),
            KeyCode::F(4) => return self.show(Showing::Cannot),
            KeyCode::F(6) if !session.keeping().is_empty() => return Wish::Answer(Answer::Lost),
            KeyCode::F(5) => return self.show(Showing::Back),
            KeyCode::F(7) => return self.show(Showing::HandOver),
            KeyCode::Char('h') if free => return self.show(Showing::HandOver),
            KeyCode::Char('b') if free => return self.show(Showing::Back),
            KeyCode::Char('?') if free => return self.show(Showing::Help),
            KeyCode::Char('s') if free => return self.show(Showing::Stopping),
            KeyCode::Char('c') if free => return self.show(Showing::Cannot),
            KeyCode::Char('l') if free && !session.keeping().is_empty() => return Wish::Answer(Answer::Lost),
            KeyCode::Char('u') if free && reads => return self.other_unit(&prompt),
            KeyCode::Char('n') if free && reads => return Wish::Answer(Answer::NoReading),
            KeyCode::Char('m') if free && reads && self.live.is_some() => {
                self.doubted = None;
                return Wish::Live;
            }
            KeyCode::Char('y') if matches!(prompt, Prompt::Need { .. }) => return Wish::Answer(Answer::Yes),
            KeyCode::Char('n') if matches!(prompt, Prompt::Need { .. }) => return Wish::Answer(Answer::No),
            KeyCode::Char(' ') if matches!(prompt, Prompt::Confirm(_)) => return self.enter(session, false),
            KeyCode::Char(letter) if reads || takes_words => {
                self.put(letter);
                self.message = None;
            }
            KeyCode::Char(digit) => {
                self.choose(digit, self.choices(session));
            }
            _ => {}
        }
        Wish::Look
    }

    /// The marked reading was noted wrong.
    fn correct(&mut self, session: &Session) -> Wish {
        match session.offered().get(self.marked) {
            Some(place) if place.reading => Wish::Correct(place.seq, self.typed.trim().to_owned()),
            _ => {
                self.message = Some("only a reading can have been noted wrong: mark one".to_owned());
                Wish::Look
            }
        }
    }

    fn other_unit(&mut self, prompt: &Prompt) -> Wish {
        if let Prompt::Reading(reading) = prompt {
            let all = units(reading);
            let now = all.iter().position(|unit| *unit == self.unit(reading)).unwrap_or_default();
            if let Some(next) = all.get((now + 1) % all.len()).filter(|_| all.len() > 1) {
                self.chosen.insert((reading.tool.clone(), reading.kind.name()), *next);
            } else {
                self.message =
                    Some(format!("there is no other unit that is used for this beside {}", reading.unit));
            }
        }
        Wish::Look
    }

    fn answer(&mut self, session: &Session, waits: bool) -> Wish {
        let prompt = session.ask();
        match &prompt {
            Prompt::Confirm(_) if waits && !self.hurried => {
                self.hurried = true;
                self.message = Some("the time is not over: Enter once more goes on before it is".to_owned());
                Wish::Look
            }
            Prompt::Confirm(_) => Wish::Answer(Answer::Done),
            Prompt::Need { .. } => {
                self.message = Some("does it hold? y for yes, n for no".to_owned());
                Wish::Look
            }
            Prompt::Question(question) => match question.values.get(self.marked) {
                Some(value) => Wish::Answer(Answer::Choice(value.clone())),
                None => Wish::Look,
            },
            Prompt::Sign(_) => Wish::Answer(Answer::Signature(self.typed.clone())),
            Prompt::Reading(reading) => self.reading(reading),
            Prompt::Done { .. } => Wish::Look,
        }
    }

    fn reading(&mut self, reading: &ReadingPrompt) -> Wish {
        self.read = Some(reading.clone());
        if self.typed.trim().is_empty() && self.live.is_some() {
            // The same once more, after it was asked back: it is meant. What is shown now may be another value.
            return match self.doubted.take() {
                Some(Answer::Shown { by, answer }) => {
                    Wish::Answer(Answer::Shown { by, answer: Box::new(Answer::Kept(answer)) })
                }
                _ => Wish::Live,
            };
        }
        if self.typed.trim().is_empty() {
            self.message =
                Some(format!("nothing is typed: give {}", Prompt::Reading(reading.clone()).wants()));
            return Wish::Look;
        }
        match self.value(reading) {
            // The same once more, after it was asked back: it is meant.
            Ok(answer) if self.doubted.as_ref() == Some(&answer) => {
                Wish::Answer(Answer::Kept(Box::new(answer)))
            }
            Ok(answer) => Wish::Answer(answer),
            Err(refusal) => {
                self.message = Some(refusal.to_string());
                Wish::Look
            }
        }
    }

    /// What is typed, as an answer in the unit that is shown.
    pub(super) fn value(&self, reading: &ReadingPrompt) -> Result<Answer, Refusal> {
        let unit = self.unit(reading).symbol();
        let text = by_hand(self.typed.trim(), reading.decimals)?;
        Ok(Answer::Value { text, unit: (!unit.is_empty()).then(|| unit.to_owned()) })
    }
}
