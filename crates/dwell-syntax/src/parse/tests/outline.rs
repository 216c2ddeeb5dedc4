//! A tree in short: its `Debug` form without places, names and texts as they are written.

/// The tree of `text`, one declaration a line, without spans.
pub(super) fn outline(text: &str) -> String {
    let parsed = crate::parse::parse(text);
    parsed.tree.declarations.iter().map(|one| short(&format!("{:?}", one.kind)) + "\n").collect()
}

/// Takes spans out and brings names, texts, numbers and amounts into their short form.
fn short(debug: &str) -> String {
    let mut out = without_spans(debug);
    for (wide, open, close) in [("Name { text: \"", "", ""), ("Text { text: \"", "'", "'")] {
        out = rewritten(&out, wide, "\" }", open, close);
    }
    out = rewritten(&out, "Number { text: \"", "\", compound: false }", "", "");
    out = rewritten(&out, "Number { text: \"", "\", compound: true }", "<", ">");
    out = out
        .replace(", otherwise: []", "")
        .replace(", target: None, second: None", "")
        .replace(", second: None", "")
        .replace(", within: None", "");
    for (wide, tight) in [("Some(", "("), ("None", "-"), ("Band { form: ", "[")] {
        out = out.replace(wide, tight);
    }
    out
}

/// Replaces `wide … end` by `open … close`.
fn rewritten(text: &str, wide: &str, end: &str, open: &str, close: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(wide) {
        let Some((inside, more)) = after.split_once(end) else { break };
        if inside.contains("text: \"") {
            out.push_str(before);
            out.push_str(wide);
            rest = after;
            continue;
        }
        out.extend([before, open, inside, close]);
        rest = more;
    }
    out + rest
}

fn without_spans(debug: &str) -> String {
    let mut out = String::new();
    let mut rest = debug;
    while let Some(at) = rest.find("Span { start: ") {
        let before = &rest[..at];
        let before = before.strip_suffix("span: ").or(before.strip_suffix("body: ")).unwrap_or(before);
        out.push_str(before.strip_suffix(", ").unwrap_or(before));
        let end = rest[at..].find('}').expect("a span ends") + at + 1;
        rest = &rest[end..];
    }
    out + rest
}
