//! The page that leads to a first procedure: what it tells to do is done, and what it shows is what the program says.

use expect_test::expect_file;

use super::{grammar, read};
use crate::program::bench::Bench;

/// The file that the page writes.
const FILE: &str = "tyre.dwell";

/// What stands between `before` and the next back quote.
fn quoted<'t>(line: &'t str, before: &str) -> Option<&'t str> {
    let (_, after) = line.split_once(before)?;
    after.split_once('`').map(|(quoted, _)| quoted)
}

/// The text without the last line that says this.
fn without(text: &str, gone: &str) -> String {
    let these = text.lines().enumerate().filter(|(_, line)| line.trim() == gone);
    let (last, _) = these.last().unwrap_or_else(|| panic!("the file has no line `{gone}`"));
    let kept = text.lines().enumerate().filter(|(number, _)| *number != last);
    kept.map(|(_, line)| format!("{line}\n")).collect()
}

/// What is typed where the page shows that the program asks: nothing but Enter, or the value of a reading.
fn typed(shown: &str) -> String {
    let asked = shown.lines().filter_map(|line| {
        let (asks, answer) = line.strip_prefix("  ")?.split_once(": ").or(line.split_once(':'))?;
        (asks.trim() == "Enter when it is done" || asks.contains(" in "))
            .then(|| format!("{}\n", answer.trim()))
    });
    asked.collect()
}

/// What the program says to a line that begins with `dwell`, without blanks at the ends of lines.
fn answered(bench: &Bench, command: &str, typed: &str) -> String {
    let mut words = command.split_whitespace();
    assert_eq!(words.next(), Some("dwell"));
    let said = bench.fed(&words.collect::<Vec<&str>>(), typed);
    let lines = said.out.lines().chain(said.err.lines());
    lines.map(|line| format!("{}\n", line.trim_end())).collect()
}

/// Whether a text is what is shown, where a line `  …` stands for any lines.
fn is_as_shown(text: &str, shown: &str) -> bool {
    let mut parts = shown.split("  …\n");
    let Some(mut rest) = parts.next().and_then(|first| text.strip_prefix(first)) else { return false };
    let parts: Vec<&str> = parts.collect();
    for part in &parts {
        let Some((_, after)) = rest.split_once(part) else { return false };
        rest = after;
    }
    rest.is_empty() || parts.last().is_some_and(|last| last.is_empty())
}

/// `UPDATE_EXPECT=1` writes the answers into the page anew.
#[test]
fn what_the_first_page_tells_to_do_is_done_and_answered_as_it_shows() {
    let page = read(&grammar("reference/first-procedure.md"));
    let bench = Bench::new(&[]);
    let (mut file, mut written) = (String::new(), String::new());
    let (mut lines, mut commands) = (page.lines().peekable(), 0);
    let mut whole = None;
    while let Some(line) = lines.next() {
        written.push_str(line);
        written.push('\n');
        if let Some(gone) = quoted(line, "Take out the line `") {
            let mistaken = without(&file, gone);
            whole = Some(std::mem::replace(&mut file, mistaken));
        }
        if line.contains("Put the line back") {
            file = whole.take().expect("a line was taken out before");
        }
        let Some(fence) = line.strip_prefix("```") else { continue };
        let mut text = String::new();
        for line in lines.by_ref().take_while(|line| *line != "```") {
            text.push_str(line);
            text.push('\n');
        }
        match fence {
            "dwell" => file.clone_from(&text),
            "dwell added" => file = format!("{file}\n{text}"),
            "console" => {
                bench.put(FILE, file.as_bytes());
                let shown: Vec<&str> = text.lines().filter_map(|line| line.strip_prefix("$ ")).collect();
                commands += shown.len();
                let typed = typed(&text);
                let answers = shown.iter().map(|command| answered(&bench, command, &typed));
                let said = shown.iter().zip(answers).map(|(command, said)| format!("$ {command}\n{said}"));
                let said: String = said.collect();
                if !is_as_shown(&said, &text) {
                    text = said;
                }
            }
            other => panic!("nobody knows what to do with a fence `{other}`"),
        }
        written.push_str(&text);
        written.push_str("```\n");
    }
    assert!(commands >= 4, "the page shows commands: {commands}");
    expect_file![grammar("reference/first-procedure.md")].assert_eq(&written);
}
