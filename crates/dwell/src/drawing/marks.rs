//! The source with the marked places under it, drawn by ariadne.

use super::visible::visible;
use super::window::window;
use super::{ink, shown_place};
use crate::screen::{Ink, Style};
use ariadne::{Cache, CharSet, Color, Config, IndexType, Label, LabelAttach, Report, ReportKind, Source};
use dwell_check::finding::{Finding, Place};
use dwell_check::program::Program;
use std::collections::BTreeMap;
use std::fmt;
use std::ops::Range;

/// A text that is drawn: a file, or a window on one of its lines.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
enum Drawn {
    File(usize),
    Window(usize),
}

/// The stand-in for the place in ariadne's heading. It would work the column out itself, and not always rightly; so it
/// is given this mark, and the place is put there afterwards.
const HEADING: char = '\u{1}';

/// The files of a program, made ready for drawing when they are first needed.
pub(super) struct Marks<'a> {
    program: &'a Program,
    style: Style,
    files: BTreeMap<usize, Source<String>>,
    windows: Vec<Source<String>>,
}

/// One place with its words.
struct Mark<'a> {
    place: Place,
    words: &'a str,
    colour: Color,
}

impl<'a> Marks<'a> {
    pub(super) fn new(program: &'a Program, style: Style) -> Marks<'a> {
        Marks { program, style, files: BTreeMap::new(), windows: Vec::new() }
    }

    /// The finding's places drawn under their source, without a line end after the last line. What lies in another
    /// file stands below, in a drawing of its own part.
    pub(super) fn under(&mut self, finding: &Finding) -> String {
        self.windows.clear();
        let main = match ink(finding.level) {
            Ink::Red => Color::Red,
            Ink::Yellow => Color::Yellow,
            _ => Color::Blue,
        };
        let mut marks = vec![Mark { place: finding.place, words: &finding.label, colour: main }];
        marks.extend(finding.related.iter().map(|(place, words)| Mark {
            place: *place,
            words,
            colour: Color::Cyan,
        }));
        // The finding's own file first, and in each file from above to below: only so is a file one part.
        marks.sort_by_key(|mark| (mark.place.file != finding.place.file, mark.place));
        let mut headings: Vec<(Drawn, String)> = Vec::new();
        let mut labels = Vec::new();
        let mut first = None;
        for (order, mark) in (0..).zip(&marks) {
            let (drawn, span) = self.prepared(mark.place);
            if !headings.iter().any(|(known, _)| *known == drawn) {
                let own = mark.place.file == finding.place.file && matches!(drawn, Drawn::File(_));
                let place = if own { finding.place } else { mark.place };
                headings.push((drawn.clone(), shown_place(self.program, place)));
            }
            first.get_or_insert((drawn.clone(), span.clone()));
            let label = Label::new((drawn, span)).with_color(mark.colour).with_order(order);
            labels.push(if mark.words.is_empty() { label } else { label.with_message(visible(mark.words)) });
        }
        let report =
            Report::build(ReportKind::Custom("", Color::Primary), first.unwrap_or((Drawn::File(0), 0..0)))
                .with_config(self.config())
                .with_labels(labels)
                .finish();
        let mut bytes = Vec::new();
        if report.write(&mut *self, &mut bytes).is_err() {
            return format!("  {}", shown_place(self.program, finding.place));
        }
        let drawn = String::from_utf8_lossy(&bytes);
        let body = drawn.split_once('\n').map_or("", |(_, body)| body).trim_end();
        with_headings(body, headings.into_iter().map(|(_, heading)| heading))
    }

    fn config(&self) -> Config {
        Config::new()
            .with_index_type(IndexType::Byte)
            .with_label_attach(LabelAttach::Start)
            .with_color(self.style.colour)
            .with_char_set(if self.style.ascii { CharSet::Ascii } else { CharSet::Unicode })
    }

    /// The text to draw a place in, and the place in that text.
    fn prepared(&mut self, place: Place) -> (Drawn, Range<usize>) {
        let Some(file) = self.program.files.get(place.file) else { return (Drawn::File(0), 0..0) };
        let source = self.files.entry(place.file).or_insert_with(|| Source::from(visible(&file.text)));
        let text = source.text();
        if let Some(window) = window(file, text, place.span) {
            self.windows.push(Source::from(window.text));
            return (Drawn::Window(self.windows.len() - 1), window.mark);
        }
        (Drawn::File(place.file), within(text, place.span.start, place.span.end))
    }
}

/// A span brought inside the text and out to the ends of its characters.
fn within(text: &str, start: usize, end: usize) -> Range<usize> {
    let start = text.floor_char_boundary(start.min(text.len()));
    let end = text.ceil_char_boundary(end.min(text.len())).max(start);
    start..end
}

/// The drawing with each stand-in and the numbers after it replaced by the next heading.
fn with_headings(body: &str, headings: impl Iterator<Item = String>) -> String {
    let mut parts = body.split(HEADING);
    let mut text = parts.next().unwrap_or("").to_owned();
    for (part, heading) in parts.zip(headings) {
        let rest = part.trim_start_matches(|c: char| c == ':' || c == '?' || c.is_ascii_digit());
        text.push_str(&heading);
        text.push_str(rest);
    }
    text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}

impl Cache<Drawn> for Marks<'_> {
    type Storage = String;

    fn fetch(&mut self, id: &Drawn) -> Result<&Source<String>, impl fmt::Debug> {
        match id {
            Drawn::File(file) => self.files.get(file),
            Drawn::Window(window) => self.windows.get(*window),
        }
        .ok_or("a text that was not prepared")
    }

    fn display<'b>(&self, _: &'b Drawn) -> Option<impl fmt::Display + 'b> {
        Some(HEADING)
    }
}
