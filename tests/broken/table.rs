//! The breaks of `breaks.txt`: an edit of one file of the library, and the line on which it must be found.

use crate::merle::Merle;

/// One break.
pub(crate) struct Break {
    /// The rule that must find it.
    pub(crate) rule: String,
    /// The file that is checked.
    pub(crate) procedure: String,
    /// The file that is edited.
    pub(crate) edited: String,
    was: String,
    is: String,
    /// The file in which it must be found.
    pub(crate) on: String,
    line: String,
    nth: usize,
}

/// All of them, in the order of the table.
pub(crate) fn breaks() -> Vec<Break> {
    let text = include_str!("breaks.txt");
    let (_, text) = text.split_once("\n#### ").expect("the head of the table ends with a heading");
    let mut all: Vec<Break> = Vec::new();
    let mut part = Part::Head;
    for line in text.lines() {
        if let Some(title) = line.strip_prefix("=== ") {
            let (rule, procedure) = title.split_once(": ").expect("rule: procedure");
            all.push(Break {
                rule: rule.to_owned(),
                procedure: procedure.to_owned(),
                edited: String::new(),
                was: String::new(),
                is: String::new(),
                on: String::new(),
                line: String::new(),
                nth: 1,
            });
            part = Part::Head;
            continue;
        }
        let Some(case) = all.last_mut() else { continue };
        match line {
            "was" => part = Part::Was,
            "is" => part = Part::Is,
            _ if line == "on" || line.starts_with("on ") => {
                part = Part::On;
                case.on = case.edited.clone();
                for word in line.split(' ').skip(1) {
                    match word {
                        "2nd" => case.nth = 2,
                        file => case.on = file.to_owned(),
                    }
                }
            }
            _ if line.starts_with("#### ") => part = Part::Head,
            _ => match part {
                Part::Head => {
                    if let Some(file) = line.strip_prefix("in ") {
                        case.edited = file.to_owned();
                    }
                }
                Part::Was => case.was.push_str(&format!("{line}\n")),
                Part::Is => case.is.push_str(&format!("{line}\n")),
                Part::On => {
                    if !line.is_empty() {
                        case.line = line.trim().to_owned();
                    }
                }
            },
        }
    }
    all
}

/// Where in a break the reader of the table is.
enum Part {
    Head,
    Was,
    Is,
    On,
}

impl Break {
    /// What it is called in a message.
    pub(crate) fn title(&self) -> String {
        format!("{} in {}", self.rule, self.procedure)
    }

    /// The library with the edit.
    pub(crate) fn made_in(&self, library: &Merle) -> Result<Merle, String> {
        let text = library.files.get(&self.edited).ok_or_else(|| format!("there is no {}", self.edited))?;
        match text.matches(&self.was).count() {
            1 => Ok(library.clone().with(&self.edited, &text.replacen(&self.was, &self.is, 1))),
            count => Err(format!("its text stands {count} times in {}:\n{}", self.edited, self.was)),
        }
    }

    /// The line on which it must be found, from 0.
    pub(crate) fn line_in(&self, broken: &Merle) -> Result<usize, String> {
        let text = broken.files.get(&self.on).ok_or_else(|| format!("there is no {}", self.on))?;
        let mut alike = text.lines().enumerate().filter(|(_, line)| line.trim() == self.line);
        alike
            .nth(self.nth - 1)
            .map(|(at, _)| at)
            .ok_or_else(|| format!("no line of {} reads {}", self.on, self.line))
    }
}
