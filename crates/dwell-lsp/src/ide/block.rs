//! What is shown beside a text: titles, prose and drawings, without any markup; and both ways of setting them.

/// A piece of what is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Block {
    /// A line above what follows.
    Title(String),
    /// Sentences.
    Prose(String),
    /// Lines in letters of one width.
    Drawn(String),
}

/// The blocks as plain text, an empty line between.
pub fn plain(blocks: &[Block]) -> String {
    let texts = blocks.iter().map(|block| match block {
        Block::Title(text) | Block::Prose(text) | Block::Drawn(text) => text.as_str(),
    });
    texts.collect::<Vec<_>>().join("\n\n")
}

/// The blocks as Markdown that shows every letter as it is: whatever could mean something in Markdown is escaped.
pub fn markdown(blocks: &[Block]) -> String {
    let texts = blocks.iter().map(|block| match block {
        Block::Title(text) => format!("**{}**", escaped(text)),
        Block::Prose(text) => text.lines().map(escaped).collect::<Vec<_>>().join("  \n"),
        Block::Drawn(text) => {
            let longest = text.split(|letter| letter != '`').map(str::len).max().unwrap_or_default();
            let fence = "`".repeat(longest.max(2) + 1);
            format!("{fence}text\n{text}\n{fence}")
        }
    });
    texts.collect::<Vec<_>>().join("\n\n")
}

/// A line with a backslash before every sign of ASCII (CommonMark 0.31, 2.4).
fn escaped(line: &str) -> String {
    let mut all = String::with_capacity(line.len());
    for letter in line.chars() {
        if letter.is_ascii_punctuation()
            && !matches!(letter, ',' | ';' | ':' | '.' | '/' | '"' | '\'' | '(' | ')' | '%' | '?')
        {
            all.push('\\');
        }
        all.push(letter);
    }
    // A number with a point at the head of a line would begin a list.
    let digits = all.len() - all.trim_start_matches(|letter: char| letter.is_ascii_digit()).len();
    if digits > 0 && all.get(digits..).is_some_and(|rest| rest.starts_with(['.', ')'])) {
        all.insert(digits, '\\');
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_caution_loses_no_letter() {
        let words = "keep < 5 bar & <ignition off>; do *not* touch _A|B_ `x`\n2. then #3";
        let set = markdown(&[Block::Prose(words.into())]);
        assert_eq!(
            set,
            "keep \\< 5 bar \\& \\<ignition off\\>; do \\*not\\* touch \\_A\\|B\\_ \\`x\\`  \n2\\. then \\#3"
        );
        assert_eq!(plain(&[Block::Title("T".into()), Block::Prose(words.into())]), format!("T\n\n{words}"));
    }

    #[test]
    fn a_drawing_keeps_its_fence() {
        assert_eq!(markdown(&[Block::Drawn("a ``` b".into())]), "````text\na ``` b\n````");
    }
}
