//! A comparison as Markdown, for a comment on a review.

use crate::{Comparison, Grade, Where};

/// A heading for each grade, under it a line for each change with both places. What comes from the texts cannot become Markdown.
pub fn markdown(comparison: &Comparison) -> String {
    let mut text = String::from("## What this change means\n");
    if comparison.changes.is_empty() && comparison.not_compared.is_empty() {
        text.push_str("\nNothing changed.\n");
    }
    for grade in [Grade::Loud, Grade::Middle, Grade::Quiet] {
        let of_grade: Vec<_> = comparison.changes.iter().filter(|change| change.grade == grade).collect();
        if of_grade.is_empty() {
            continue;
        }
        text.push_str(&format!("\n### {}\n\n", grade.heading()));
        for change in of_grade {
            text.push_str(&format!(
                "- **{}**, {}: {}{}\n",
                plain(&change.of),
                change.kind,
                plain(&change.says),
                places(&change.old, &change.new)
            ));
        }
    }
    if !comparison.not_compared.is_empty() {
        text.push_str("\n### Not compared, because a text has a mistake\n\n");
        for name in &comparison.not_compared {
            text.push_str(&format!("- {}\n", plain(name)));
        }
    }
    text
}

fn places(old: &Option<Where>, new: &Option<Where>) -> String {
    let at = |place: &Where| {
        format!("`{}:{}`", place.path.replace('`', "'").replace(char::is_control, " "), place.line)
    };
    match (old, new) {
        (Some(old), Some(new)) => format!(" ({} → {})", at(old), at(new)),
        (Some(old), None) => format!(" (was {})", at(old)),
        (None, Some(new)) => format!(" ({})", at(new)),
        (None, None) => String::new(),
    }
}

/// Words in which nothing is markup.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '#' | '|' | '~' | '&' | '@' => {
                plain.push('\\');
                plain.push(letter);
            }
            letter if letter.is_control() => plain.push(' '),
            letter => plain.push(letter),
        }
    }
    plain
}
