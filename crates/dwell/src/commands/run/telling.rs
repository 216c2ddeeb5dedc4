//! What happens in a run, told line by line.

use crate::commands::kept::{lasted, moment};
use crate::drawing::visible;
use crate::screen::{Ink, Screen, Style, WIDTH, wrapped};
use dwell_card::Card;
use dwell_card::graph::Act;
use dwell_card::section::{Section, Sections};
use dwell_record::event::{Begun, Caution, Judged, Sample, TakenUp, Tested};
use dwell_record::{Event, Outcome, Side, What};

/// Tells events.
pub(in crate::commands) struct Telling {
    card: Card,
    sections: Sections,
    section: Option<Section>,
    /// Whether a person answers: then what was asked and answered stands there already.
    asked: bool,
}

impl Telling {
    pub(in crate::commands) fn new(card: &Card, asked: bool) -> Telling {
        Telling { card: card.clone(), sections: Sections::of(card), section: None, asked }
    }

    /// Tells these events.
    pub(in crate::commands) fn tell(&mut self, screen: &mut Screen, events: &[Event]) -> anyhow::Result<()> {
        for event in events {
            let lines = self.lines(screen.style, event);
            if let (Some(node), false) = (event.node, lines.is_empty()) {
                self.heading(screen, node)?;
            }
            for line in lines {
                screen.line(&line)?;
            }
        }
        screen.flush()?;
        Ok(())
    }

    /// The heading of the part in which a node stands, where it is another part than before.
    /// Says whether there is one.
    pub(super) fn heading(&mut self, screen: &mut Screen, node: usize) -> anyhow::Result<bool> {
        let section = self.sections.section(node);
        if self.section == Some(section) {
            return Ok(false);
        }
        self.section = Some(section);
        if let Some(words) = section.heading(&self.card) {
            let style = screen.style;
            let line = if style.ascii { "-" } else { "─" };
            let mut words = visible(&words);
            if let Some(first) = words.get(..1).map(str::to_uppercase) {
                words.replace_range(..1, &first);
            }
            let rest = WIDTH.saturating_sub(words.chars().count() + 4);
            screen.line("")?;
            screen.line(&format!(
                "{} {} {}",
                style.ink(Ink::Faint, &line.repeat(2)),
                style.ink(Ink::Bold, &words),
                style.ink(Ink::Faint, &line.repeat(rest))
            ))?;
            return Ok(true);
        }
        Ok(false)
    }

    fn lines(&self, style: Style, event: &Event) -> Vec<String> {
        let mark = |plain: &str, drawn: &str| if style.ascii { plain.to_owned() } else { drawn.to_owned() };
        let told = |mark: String, words: String| wrapped(&format!("  {mark} "), 4, &visible(&words));
        match &event.what {
            What::Begun(begun) => beginning(style, begun),
            What::NoticeShown(words) => {
                let mut lines = framed(style, Ink::Faint, "", &words.text);
                lines.extend(tools(&self.card));
                lines
            }
            What::CautionShown(caution) => boxed(style, caution),
            What::Keeping(words) => told(mark("!", "•"), words.text.clone()),
            What::NeedAnswered(need) if !self.asked || !need.asked => {
                let answer = if need.holds { "yes" } else { "no" };
                let way = if need.asked { "" } else { " (known, not asked)" };
                told(mark("?", "?"), format!("{}: {answer}{way}", need.says.trim_end_matches('.')))
            }
            What::Done(done) if !self.asked => {
                let set = done.setting.as_ref().map(|set| format!(" With the adapter, set to {set}."));
                let band = done.band.as_ref().filter(|band| !done.says.contains(band.as_str()));
                let band = band.map(|band| format!(" To {band}."));
                let says = format!("{}{}{}", done.says, band.unwrap_or_default(), set.unwrap_or_default());
                told(mark("*", "✓"), with_more(&says, done.text.as_deref()))
            }
            What::Chosen(chosen) => {
                let as_near =
                    chosen.as_near.as_ref().map(|size| format!(", {size} is as near")).unwrap_or_default();
                let words = format!(
                    "{} from {}: {} (nearest to {}{as_near})",
                    chosen.reading.words(),
                    chosen.series.replace('-', " "),
                    chosen.shown,
                    chosen.wanted
                );
                told(mark("=", "="), words)
            }
            What::Answered(answered) if !self.asked => {
                told(mark("?", "?"), format!("{} {}", answered.text, answered.answer))
            }
            What::Released(words) => told(mark("!", "•"), words.text.clone()),
            What::Lost(lost) => told(mark("!", "!"), lost.words())
                .into_iter()
                .map(|line| style.ink(Ink::Yellow, &line))
                .collect(),
            What::Signed(signed) => told(mark("*", "✓"), format!("signed: {}", signed.words())),
            What::Sampled(sampled) if !self.asked && sampled.of > 1 => {
                let words = format!(
                    "    {}, {} of {}: {}",
                    sampled.reading.words(),
                    sampled.round,
                    sampled.of,
                    sample(&sampled.sample)
                );
                vec![style.ink(Ink::Faint, &words)]
            }
            What::Measured(measured) => {
                let how = measured.how().map(|how| format!(" ({how})")).unwrap_or_default();
                let when = if measured.as_found { "as found" } else { "again" };
                let words = format!("{} {when}: {}{how}", measured.reading.words(), measured.shown);
                if self.asked && measured.samples.len() <= 1 && measured.sampled.is_none() {
                    Vec::new()
                } else {
                    told(mark("=", "="), words)
                }
            }
            What::Judged(judged) => self.judged(style, judged),
            What::Cause(cause) => {
                let located = event.node.and_then(|node| self.located(node));
                let at = located.map(|at| format!(" ({at})")).unwrap_or_default();
                let words = match &cause.text {
                    Some(text) => format!("{}{at}: {text}", cause.item),
                    None => format!("{}{at}", cause.item),
                };
                told(mark(">", "→"), format!("Probable cause: {words}"))
            }
            What::Doubt(words) => told(mark("!", "!"), format!("In doubt: {}", words.text))
                .into_iter()
                .map(|line| style.ink(Ink::Yellow, &line))
                .collect(),
            What::Ended(ended) => {
                let word = match ended.outcome {
                    Outcome::Referred => {
                        format!("go on with {}", ended.refer.as_deref().unwrap_or("another procedure"))
                    }
                    other => other.words().to_owned(),
                };
                told(
                    mark(">", "→"),
                    with_more(&format!("{word}:"), ended.text.as_deref()).trim_end_matches(':').to_owned(),
                )
            }
            What::Cannot(cannot) => told(mark("!", "■"), format!("Cannot: {}", cannot.words()))
                .into_iter()
                .map(|line| style.ink(Ink::Yellow, &line))
                .collect(),
            What::Stopped(why) => {
                let why = if why.text.is_empty() { String::new() } else { format!(" ({})", why.text) };
                told(mark("!", "■"), format!("STOP{why}: put back what is listed from here on"))
                    .into_iter()
                    .map(|line| style.ink(Ink::Red, &line))
                    .collect()
            }
            What::TakenUp(taken) => taken_up(style, taken),
            What::WentBack(_) | What::Corrected(_) => told(mark("<", "←"), event.words()),
            What::ToolTaken(taken) => told(mark("+", "+"), taken.words()),
            What::PhotoTaken(photo) => told(mark("+", "+"), photo.words()),
            What::Closed(closed) if closed.procedure != self.card.procedure => {
                told(mark("=", "="), format!("{}: {}", closed.procedure, closed.result))
            }
            _ => Vec::new(),
        }
    }

    /// Where to find what is named as a cause at a node.
    fn located(&self, node: usize) -> Option<&str> {
        match &self.card.nodes.get(node)?.act {
            Act::Cause { located, .. } => located.as_deref(),
            _ => None,
        }
    }

    /// One line for each test: name, value, side and amount, band.
    fn judged(&self, style: Style, judged: &Judged) -> Vec<String> {
        judged
            .tests
            .iter()
            .map(|test| {
                let side = coloured(style, test.side, &format!("{:<20}", words(test)));
                let value = test.value.as_deref().filter(|value| *value != words(test)).unwrap_or("");
                let what = if judged.adjusting { "set to" } else { "band" };
                let band = test.guarded.as_ref().or(test.band.as_ref());
                let band = band.map(|band| format!("{what} {}", visible(band))).unwrap_or_default();
                let name =
                    visible(&test.reading.as_ref().map_or_else(|| test.name.clone(), |name| name.words()));
                format!("    {name:<20} {value:<12} {side} {}", style.ink(Ink::Faint, &band))
                    .trim_end()
                    .to_owned()
            })
            .collect()
    }
}

/// How a test came out. What is no reading but a question has a plain yes or no.
fn words(test: &Tested) -> String {
    match (test.side, &test.band) {
        (Side::In, None) => "yes".to_owned(),
        (Side::Other, _) => "no".to_owned(),
        _ => test.words(),
    }
}

/// Words in the ink of a side.
pub(super) fn coloured(style: Style, side: Side, words: &str) -> String {
    let ink = match side {
        Side::In => Ink::Green,
        Side::Low | Side::High | Side::Other => Ink::Red,
        Side::NoReading => Ink::Yellow,
    };
    style.ink(ink, words)
}

fn with_more(says: &str, text: Option<&str>) -> String {
    match text {
        Some(text) => format!("{says} {text}"),
        None => says.to_owned(),
    }
}

fn sample(sample: &Sample) -> String {
    match sample {
        Sample::Typed { text, unit, .. } => format!("{text} {unit}").trim_end().to_owned(),
        Sample::NoReading => "no reading".to_owned(),
    }
}

/// The tools that the card asks for, with what a person has to know of each before taking it from the wall.
fn tools(card: &Card) -> Vec<String> {
    let mut lines = Vec::new();
    for tool in &card.tools {
        let more = tool.notes();
        let more = if more.is_empty() { String::new() } else { format!(": {}", more.join(", ")) };
        lines.extend(wrapped("    ", 6, &visible(&format!("{}{more}", tool.label))));
    }
    if !lines.is_empty() {
        lines.insert(0, "  Tools".to_owned());
    }
    lines
}

fn beginning(style: Style, begun: &Begun) -> Vec<String> {
    let mut lines: Vec<String> =
        wrapped("", 0, &visible(&begun.title)).iter().map(|line| style.ink(Ink::Bold, line)).collect();
    let revision = match &begun.revision {
        Some(revision) => format!(", revision {} of {}", revision.number, revision.date),
        None => String::new(),
    };
    let vehicle: Vec<String> =
        begun.variants.iter().map(|(axis, value)| format!("{} {value}", axis.replace('-', " "))).collect();
    lines.push(format!("{}{revision}", begun.procedure));
    if !vehicle.is_empty() {
        lines.extend(wrapped("for ", 4, &vehicle.join(", ")));
    }
    if let Some(vehicle) = &begun.vehicle {
        lines.push(format!("vehicle {}", visible(&vehicle.to_string())));
    }
    if begun.by.person.is_some() {
        lines.push(visible(&format!("by {}", begun.by)));
    }
    if begun.guarded {
        lines.push("decided with the tool's accuracy as guard band".to_owned());
    }
    lines.push(style.ink(Ink::Faint, &format!("card {}", begun.card)));
    lines.push(String::new());
    lines
}

/// What whoever goes on has to know before anything else.
fn taken_up(style: Style, taken: &TakenUp) -> Vec<String> {
    let away = match taken.away {
        Some(seconds) if seconds < 60 => String::new(),
        Some(seconds) => format!(" after {}", lasted(seconds)),
        None => "; the clock was set back meanwhile, so nobody knows after how long".to_owned(),
    };
    let mut lines = vec![String::new()];
    lines.extend(wrapped("", 2, &visible(&format!("{}{away}", taken.words()))));
    let mut list = |ink: Ink, title: &str, all: &[String]| {
        if !all.is_empty() {
            lines.push(String::new());
            lines.push(style.ink(ink, title));
            lines.extend(all.iter().flat_map(|one| wrapped("  - ", 4, &visible(&with_moment(one)))));
        }
    };
    list(Ink::Red, "Open at the vehicle: look at it before you go on", &taken.open);
    list(Ink::Yellow, "Run out meanwhile: counts no more, and is to be brought about again", &taken.expired);
    list(
        Ink::Yellow,
        "Measured before and not watched since: measure again before you rely on it",
        &taken.proved,
    );
    if taken.open.is_empty() {
        lines.push("Nothing is open at the vehicle.".to_owned());
    }
    lines
}

/// "The belt guard is removed, since 2031-04-12 09:05 UTC", the time as people read it.
fn with_moment(words: &str) -> String {
    match words.rsplit_once(", since ") {
        Some((what, at)) => format!("{what}, since {}", moment(at)),
        None => words.to_owned(),
    }
}

/// A caution in its box, with its signal word.
fn boxed(style: Style, caution: &Caution) -> Vec<String> {
    let ink = match caution.level.as_str() {
        "DANGER" => Ink::Red,
        "WARNING" => Ink::Orange,
        "CAUTION" => Ink::Yellow,
        _ => Ink::Blue,
    };
    framed(style, ink, &caution.level, &caution.text)
}

/// Words in a frame, `title` in its upper edge.
fn framed(style: Style, ink: Ink, title: &str, words: &str) -> Vec<String> {
    let wide = WIDTH - 4;
    let [across, down, corners] =
        if style.ascii { ["-", "|", "++++"] } else { ["─", "│", "┌┐└┘"] };
    let mut corner = corners.chars();
    let mut edge = |title: &str| {
        let (left, right) = (corner.next().unwrap_or('+'), corner.next().unwrap_or('+'));
        let title = if title.is_empty() { String::new() } else { format!(" {title} ") };
        let rest = across.repeat(wide.saturating_sub(title.chars().count() + 1));
        format!("  {}", style.ink(ink, &format!("{left}{across}{title}{rest}{right}")))
    };
    let upper = edge(title);
    let lower = edge("");
    let mut lines = vec![upper];
    for line in dwell_record::report::wrapped(&visible(words), wide - 2) {
        let blank = " ".repeat((wide - 2).saturating_sub(line.chars().count()));
        lines.push(format!("  {} {line}{blank} {}", style.ink(ink, down), style.ink(ink, down)));
    }
    lines.push(lower);
    lines
}
