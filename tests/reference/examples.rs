//! The examples of the reference: each can be read and is set as it stands; whole files are sound and their cases run.

use std::fmt::Write as _;

use dwell_check::check::check;
use dwell_check::finding::Level;
use dwell_check::program::Sources;
use dwell_syntax::format::format;
use dwell_syntax::parse::parse;

use super::{grammar, pages, read};
use crate::library::{self, AT};

/// An example: where it begins, what its fence says, and its text.
struct Example {
    at: String,
    fence: String,
    text: String,
}

/// The fenced examples of all pages whose fence begins with `dwell`; what is added to one makes it longer.
fn examples() -> Vec<Example> {
    let mut found: Vec<Example> = Vec::new();
    for page in pages() {
        let mut open = false;
        for (number, line) in page.text.lines().enumerate() {
            match line.strip_prefix("```") {
                Some("dwell added") if !open => {
                    open = true;
                    if let Some(example) = found.last_mut() {
                        example.text.push('\n');
                    }
                }
                Some(fence) if !open && fence.starts_with("dwell") => {
                    let at = format!("{}:{}", page.path, number + 1);
                    found.push(Example { at, fence: fence.to_owned(), text: String::new() });
                    open = true;
                }
                Some(_) => open = false,
                None if open => {
                    if let Some(example) = found.last_mut() {
                        example.text.push_str(line);
                        example.text.push('\n');
                    }
                }
                None => {}
            }
        }
    }
    found
}

/// A fragment as a part of a whole file, set in as far as it then stands.
pub(super) fn whole(fence: &str, text: &str) -> Option<String> {
    let set_in = |depth: usize| -> String {
        let blanks = " ".repeat(depth * 4);
        text.lines()
            .map(|line| if line.is_empty() { "\n".to_owned() } else { format!("{blanks}{line}\n") })
            .collect()
    };
    let lines = |head: &str| Some(format!("{head} {{\n{}}}\n", set_in(1)));
    match fence {
        "dwell" => Some(text.to_owned()),
        "dwell part" => lines("procedure p \"P\""),
        "dwell step" => Some(format!("procedure p \"P\" {{\n    step s \"S\" {{\n{}    }}\n}}\n", set_in(2))),
        "dwell lines handling" => lines("handling h"),
        "dwell lines item" => lines("item i: removable \"I\""),
        "dwell lines quantity" => lines("quantity q: length"),
        "dwell lines spec" => lines("spec s: torque"),
        "dwell lines table" => lines("table t: torque by temperature"),
        "dwell lines tool" => lines("tool t: clip-on \"T\""),
        _ => None,
    }
}

/// The files beside the pages that an example may use.
pub(crate) const BESIDE: [&str; 2] = ["vehicle.dwell", "workshop.dwell"];

/// The examples that are whole files, each with the place where it begins, and the files beside them.
pub(crate) fn whole_files() -> Vec<(String, String)> {
    let whole = examples().into_iter().filter(|example| example.fence == "dwell");
    whole.map(|example| (example.at, example.text)).chain(beside()).collect()
}

/// Every example as a whole file, fragments with what must stand around them, each with the place where it begins.
pub(crate) fn all_as_files() -> Vec<(String, String)> {
    let all = examples().into_iter().filter_map(|one| Some((one.at, whole(&one.fence, &one.text)?)));
    all.chain(beside()).collect()
}

fn beside() -> Vec<(String, String)> {
    let file = |name: &str| (format!("reference/{name}"), read(&grammar(&format!("reference/{name}"))));
    BESIDE.into_iter().map(file).collect()
}

/// An example beside the files that it may use.
struct Beside<'e>(&'e str);

impl Sources for Beside<'_> {
    fn read(&self, path: &str) -> Result<String, String> {
        match path {
            "example.dwell" => Ok(self.0.to_owned()),
            path if BESIDE.contains(&path) => Ok(read(&grammar(&format!("reference/{path}")))),
            other => Err(format!("there is no {other}")),
        }
    }

    fn join(&self, _: &str, used: &str) -> String {
        used.to_owned()
    }
}

#[test]
fn every_example_can_be_read_and_is_set_as_it_stands() {
    let examples = examples();
    assert!(examples.len() > 40, "the pages have their examples: {}", examples.len());
    let mut wrong = String::new();
    for Example { at, fence, text } in &examples {
        let Some(file) = whole(fence, text) else {
            _ = writeln!(wrong, "{at}: no such fence: {fence}");
            continue;
        };
        for slip in &parse(&file).slips {
            let part = file.get(slip.span.start..slip.span.end).unwrap_or("");
            _ = writeln!(wrong, "{at}: `{part}`: {} ({:?})", slip.message, slip.help);
        }
        if let Ok(set) = format(&file)
            && set != file
        {
            _ = writeln!(wrong, "{at}: is set as\n{set}");
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn every_whole_file_is_sound_and_its_cases_end_as_they_say() {
    let mut wrong = String::new();
    let mut run = 0;
    for (at, text) in whole_files() {
        let checked = check(&["example.dwell".to_owned()], &Beside(&text));
        // What an example shows and does not use is only hinted at.
        for finding in checked.findings.iter().filter(|finding| finding.level != Level::Hint) {
            let file = checked.program.files.get(finding.place.file);
            let line = file.map_or(0, |file| file.lines.line(finding.place.span.start) + 1);
            _ = writeln!(wrong, "{at}, its line {line}: {} {}", finding.rule, finding.message);
        }
        let tested = dwell_trial::test(&checked, None, AT);
        for procedure in &tested.procedures {
            if !procedure.has_card {
                _ = writeln!(wrong, "{at}: {} has no card", procedure.name);
            }
        }
        for case in tested.cases() {
            run += 1;
            if let Some(failure) = &case.failure {
                _ = writeln!(wrong, "{at}: {}\n  {}", failure.message, failure.why);
            }
        }
        if !tested.procedures.is_empty() && tested.cases().next().is_none() {
            _ = writeln!(wrong, "{at}: has a procedure and no case");
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(run > 30, "the pages have cases: {run}");
}

#[test]
fn every_form_of_the_language_stands_in_a_whole_file() {
    let files = whole_files();
    let missing = library::constructs::missing(files.iter().map(|(_, text)| text.as_str()));
    assert!(missing.is_empty(), "no whole example has: {missing:#?}");
}

#[test]
fn every_example_of_settings_is_taken() {
    let mut read = 0;
    for page in pages() {
        for block in page.text.split("```toml\n").skip(1) {
            let text = block.split("```").next().unwrap_or_default();
            assert_eq!(dwell_settings::read(text).slips, [], "{}:\n{text}", page.path);
            read += 1;
        }
    }
    assert!(read > 0, "no page has settings");
}
