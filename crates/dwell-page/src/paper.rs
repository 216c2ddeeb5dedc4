//! A page that is printed: its size, and what stands at the foot of every sheet.

use maud::{DOCTYPE, Markup, PreEscaped, html};

/// The size of a sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm, ISO 216.
    #[default]
    A4,
    /// 8.5 × 11 in, ANSI/ASME Y14.1 size A.
    Letter,
}

impl Paper {
    fn size(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "letter",
        }
    }
}

/// A whole page. `foot` stands at the foot of each sheet, beside "page 2 of 5".
pub(crate) fn page(title: &str, style: &str, foot: &str, paper: Paper, body: &Markup) -> String {
    let size = paper.size();
    let foot = css_text(foot);
    // The margin boxes of CSS Paged Media 3: Chromium has them from 131 on. The box on the left is given all that the other leaves.
    let sheet = format!(
        "@page {{ size: {size}; margin: 14mm 14mm 18mm 16mm; \
         @bottom-left {{ content: \"{foot}\"; font: 8pt/1.3 sans-serif; color: #000; width: 82%; vertical-align: top; padding-top: 3mm; }} \
         @bottom-right {{ content: \"page \" counter(page) \" of \" counter(pages); font: bold 9pt sans-serif; color: #000; \
         white-space: nowrap; vertical-align: top; padding-top: 3mm; }} }}\n"
    );
    let whole = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                // Nothing is loaded and nothing is run.
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:";
                title { (title) }
                style { (PreEscaped(sheet)) (PreEscaped(style)) }
            }
            body { (body) }
        }
    };
    whole.into_string()
}

/// A text as it stands in a string of a style sheet: nothing in it ends the string, or the sheet.
fn css_text(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars() {
        match letter {
            '"' | '\\' | '<' | '>' | '&' => out.push_str(&format!("\\{:x} ", u32::from(letter))),
            letter if letter.is_control() => out.push(' '),
            letter => out.push(letter),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_gets_out_of_its_string() {
        assert_eq!(css_text("a\"b\\c</style>\n"), "a\\22 b\\5c c\\3c /style\\3e  ");
    }
}
