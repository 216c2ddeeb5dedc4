//! Texts that nobody writes: cut anywhere, a token left out, nested without end, long lines, odd characters.

use super::MERLE;
use crate::lex::lex;
use crate::parse::{Parsed, parse};

/// Runs `work` on a thread with a stack of 2 MB.
fn on_small_stack<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> T {
    let thread =
        std::thread::Builder::new().stack_size(2 * 1024 * 1024).spawn(work).expect("a thread starts");
    thread.join().expect("no panic and no overflow")
}

/// Parses on a small stack and drops the tree there too; gives the messages.
fn told(text: String) -> Vec<String> {
    on_small_stack(move || parse(&text).slips.into_iter().map(|slip| slip.message).collect())
}

#[test]
fn every_prefix_is_read() {
    let step = 13;
    on_small_stack(move || {
        for (at, _) in MERLE.char_indices().step_by(step) {
            sound(&MERLE[..at], &parse(&MERLE[..at]));
        }
    });
}

#[test]
fn every_text_without_one_token_is_read_and_told_of_at_most_a_few_times() {
    on_small_stack(|| {
        let start = MERLE.find("# Belt drive").expect("the procedure is there");
        let text = &MERLE[start..];
        for token in lex(text).tokens {
            let without = format!("{}{}", &text[..token.span.start], &text[token.span.end..]);
            let parsed = parse(&without);
            sound(&without, &parsed);
            assert!(
                parsed.slips.len() <= 3,
                "{:?}: {:#?}",
                &text[token.span.start..token.span.end],
                parsed.slips
            );
        }
    });
}

/// Slips lie in the text, in order, none over another.
fn sound(text: &str, parsed: &Parsed) {
    for slip in &parsed.slips {
        assert!(text.get(slip.span.start..slip.span.end).is_some(), "{slip:?}");
        assert!(text.is_empty() || slip.span.start < slip.span.end, "{slip:?}");
        if let Some(fix) = &slip.fix {
            assert!(text.get(fix.span.start..fix.span.end).is_some(), "{slip:?}");
        }
    }
    assert!(parsed.slips.is_sorted_by_key(|slip| slip.span.start));
    let spans: Vec<_> = parsed.tokens.iter().map(|token| token.span).collect();
    assert!(spans.windows(2).all(|pair| pair[0].end <= pair[1].start), "tokens overlap");
    assert!(parsed.tokens.iter().all(|token| token.span.start < token.span.end), "a token is empty");
}

#[test]
fn braces_without_end() {
    for text in ["{".repeat(100_000), "{".repeat(100_000) + &"}".repeat(100_000)] {
        let slips = told(format!("procedure p {{ step s {text}"));
        assert!(slips.iter().any(|slip| slip.contains("nested too deeply (limit 64)")), "{slips:?}");
        assert!(slips.len() <= 4, "{slips:?}");
    }
}

#[test]
fn blocks_nested_to_the_limit_and_beyond() {
    let nested = |depth: usize| {
        let inner = "if lamp is lit {\n".repeat(depth) + "note \"deep\"" + &"}".repeat(depth);
        format!("procedure p {{\nstep s {{\n{inner}\n}}\n}}\n")
    };
    assert_eq!(told(nested(62)), Vec::<String>::new());
    assert_eq!(told(nested(63)).len(), 1);
    let slips = told(nested(10_000));
    assert!(slips.len() <= 2 && slips[0].contains("nested too deeply"), "{slips:?}");
}

#[test]
fn parentheses_nested_to_the_limit_and_beyond() {
    let nested = |depth: usize, close: usize| {
        let formula = "(".repeat(depth) + "0.3 mm" + &")".repeat(close);
        format!("procedure p {{\nstep s {{\nlet a = {formula}\n}}\n}}\n")
    };
    assert_eq!(told(nested(64, 64)), Vec::<String>::new());
    assert_eq!(told(nested(60, 59)).len(), 1);
    assert!(told(nested(100_000, 100_000))[0].contains("nested too deeply"));
    assert!(told(nested(100_000, 0)).iter().any(|slip| slip.contains("nested too deeply")));
}

#[test]
fn formulas_without_end() {
    for part in ["highest of ", "1 + ", "70 % of ", "a * b - ", "-5 "] {
        let text = format!("procedure p {{\nstep s {{\nlet a = {}c\n}}\n}}\n", part.repeat(50_000));
        let slips = told(text);
        assert!(slips.len() <= 260, "{part}: {} slips", slips.len());
        assert!(slips.iter().any(|slip| slip.contains("too long (limit 256")), "{part}: {:?}", slips.last());
    }
}

#[test]
fn long_lists_are_read_whole() {
    let names = vec!["k9"; 20_000].join(", ");
    assert_eq!(told(format!("variant engine-family: {names}\n")), Vec::<String>::new());
    let tests = vec!["a at least 2 mm"; 5_000].join(" and ");
    let text = format!("procedure p {{\nstep s {{\nif {tests} {{ note \"x\" }}\n}}\n}}\n");
    assert_eq!(told(text), Vec::<String>::new());
    let chain = "else if a is b { note \"x\" }\n".repeat(5_000);
    let text = format!("procedure p {{\nstep s {{\nif a is b {{ note \"x\" }}\n{chain}}}\n}}\n");
    assert_eq!(told(text), Vec::<String>::new());
}

#[test]
fn a_megabyte_in_one_token() {
    let long = "µ".repeat(500_000);
    for (text, word) in [
        (format!("# {long}\n"), "comment"),
        (format!("procedure p {{ note \"{long}\" }}"), "text"),
        (format!("item {long}: pin\n"), "name"),
        (format!("procedure p {{ wait {} s }}", "1".repeat(1_000_000)), "number"),
    ] {
        let slips = told(text);
        assert!(slips.iter().any(|slip| slip.contains(word) && slip.contains("limit")), "{slips:?}");
    }
}

#[test]
fn a_file_over_the_limit_is_not_read() {
    let slips = told(" ".repeat(crate::lex::LARGEST_FILE + 1));
    assert!(slips.len() == 1 && slips[0].contains("limit"), "{slips:?}");
}

#[test]
fn the_worst_openers_stay_linear() {
    let openers = [
        "\" ",
        "\"a\" ",
        "' ",
        "“",
        "# ",
        "1 ",
        "1,",
        "1-",
        "1/",
        "1° ",
        "5 h ",
        "-",
        "+ /",
        ".",
        "…",
        "a-",
        "a_",
        "½",
        "\u{202E}a",
        "5 x",
        "( ",
        "{ ",
        "} ",
        "otherwise ",
        "end ",
        "step a ",
        "\"\\",
        "if a is b or ",
        "º",
        "5 km/",
    ];
    for opener in openers {
        let time = |count: usize| {
            let text = format!("procedure p {{ step s {{ {}", opener.repeat(count));
            let start = std::time::Instant::now();
            told(text);
            start.elapsed()
        };
        let (short, long) = (time(1_000), time(16_000));
        // Sixteen times the text: linear cost is 16, quadratic 256; the floor keeps small times out of the ratio.
        let floor = std::time::Duration::from_millis(40);
        assert!(long < short.max(floor) * 80, "{opener:?}: {short:?} for 1,000, {long:?} for 16,000");
    }
}

#[test]
fn line_ends_and_marks_of_other_systems() {
    let plain = parse(MERLE);
    assert!(plain.slips.is_empty(), "{:#?}", plain.slips);
    for ends in ["\r\n", "\r"] {
        assert_eq!(parse(&MERLE.replace('\n', ends)).slips, Vec::new());
    }
    let marked = format!("\u{FEFF}{MERLE}");
    assert_eq!(parse(&marked).slips, Vec::new());
    assert_eq!(parse(&format!("\u{FEFF}{marked}")).slips.len(), 1);
    for odd in [
        '\0', '\u{0B}', '\u{0C}', '\u{85}', '\u{2028}', '\u{2029}', '\u{200B}', '\u{202E}', '\u{2066}',
        '\u{61C}',
    ] {
        let slips = parse(&format!("use \"a.dwell\"{odd}\nuse \"b.dwell\"\n")).slips;
        assert_eq!(slips.len(), 1, "{odd:?} {slips:#?}");
        assert_eq!(slips[0].rule, "look-alike-character");
        assert!(slips[0].message.contains(&format!("U+{:04X}", u32::from(odd))), "{}", slips[0].message);
    }
}

#[test]
fn nothing_and_almost_nothing() {
    for text in [
        "",
        " ",
        "\n",
        "\r\n",
        "# last",
        "\u{FEFF}",
        "}",
        "{",
        "\"",
        "step",
        "procedure",
        "use",
        "\u{0}",
        "é",
    ] {
        sound(text, &parse(text));
    }
}
