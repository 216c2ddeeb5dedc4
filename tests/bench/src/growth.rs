//! Single procedures that grow in one direction: branches one after the other, variants, adjustments of one quantity.

use std::fmt::Write;

const ITEMS: &str = r#"item cover: removable "cover"
item screw: turnable "screw" { turn moves swing }
quantity swing: frequency "how often it swings" { never below 0 Hz }
tool meter: hand-held "meter" {
    measures frequency 1 .. 500 Hz resolution 0.1 Hz accuracy ± 0.1 Hz
}
"#;

/// `count` questions one after the other, each with two branches that leave something different behind.
pub(crate) fn branches(count: usize) -> String {
    let mut text = String::from("procedure grows \"Branches\" {\n");
    let mut items = String::new();
    let mut restore = String::from("    restore {\n");
    for number in 0..count {
        let _ = writeln!(items, "item part-{number}: removable \"part {number}\"");
        let _ = write!(
            text,
            "    step s-{number} \"Look\" {{\n        ask seen-{number} \"Is it worn?\"\n        if seen-{number} is yes {{ remove part-{number} }}\n        else {{ note \"Good.\" }}\n    }}\n"
        );
        let _ = writeln!(restore, "        refit part-{number}");
    }
    format!("{items}{text}{restore}    }}\n}}\n")
}

/// Variants, `axes` of them with `values` values each; a limit for each value of each.
pub(crate) fn variants(axes: usize, values: usize) -> String {
    let mut text = String::from(ITEMS);
    let mut applies = String::new();
    let mut steps = String::new();
    for axis in 0..axes {
        let names: Vec<String> = (0..values).map(|value| format!("v{axis}-{value}")).collect();
        let _ = writeln!(text, "variant axis-{axis}: {}", names.join(", "));
        let _ = writeln!(applies, "    applies to axis-{axis} {}", names.join(", "));
        let _ = writeln!(text, "spec band-{axis}: swing {{");
        for (value, name) in names.iter().enumerate() {
            let _ = writeln!(text, "    check {} ± 5 Hz when axis-{axis} is {name}", 50 + value);
        }
        text.push_str("    not adjustable\n    source \"Invented for the benchmark.\"\n}\n");
        let _ = write!(
            steps,
            "    step s-{axis} \"Measure\" {{\n        measure m-{axis}: swing with meter\n        expect m-{axis} meets band-{axis}\n        otherwise {{ end failed \"Renew it.\" }}\n    }}\n"
        );
    }
    format!(
        "{text}procedure grows \"Variants\" {{\n{applies}{steps}    restore {{ note \"Nothing.\" }}\n}}\n"
    )
}

/// One quantity measured and adjusted `count` times, one step after the other.
pub(crate) fn adjustments(count: usize) -> String {
    let mut text = String::from(ITEMS);
    text.push_str(
        "spec band: swing {\n    check 62 ± 6 Hz\n    adjust 62 ± 3 Hz target 62 Hz\n    source \"Invented for the benchmark.\"\n}\n",
    );
    text.push_str("procedure grows \"Adjustments\" {\n");
    for number in 0..count {
        let _ = write!(
            text,
            "    step s-{number} \"Set it\" {{\n        measure m-{number}: swing with meter\n        expect m-{number} meets band\n        otherwise {{\n            adjust m-{number} to band up to 3 times by {{ turn screw }}\n            otherwise {{ end failed \"Renew it.\" }}\n        }}\n    }}\n"
        );
    }
    text.push_str("    restore { note \"Nothing.\" }\n}\n");
    text
}
