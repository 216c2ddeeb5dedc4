//! A table: what is replaced by what in the text, and what must be said of it.

use super::compared;
use crate::Grade;

const TEXT: &str = r#"variant charging: single, double
item belt-guard: removable "belt guard" { remove brings belt-moves }
hazard belt-moves: warning "Keep clear of the belt."
tool belt-meter: hand-held "belt tension meter" { measures frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz }
tool other-meter: hand-held "other meter" { measures frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz }
spec belt-tension: frequency {
    check 62 ± 6 Hz when charging is single
    check 68 ± 6 Hz when charging is double
    adjust 62 ± 3 Hz target 62 Hz (0.062 kHz) when charging is single
    adjust 68 ± 3 Hz target 68 Hz when charging is double
    source "Invented."
}

procedure belt "Belt tension" {
    revision 3 on 2031-02-11 "As it is."
    applies to charging single, double
    step first "Read it" {
        warning belt-moves
        remove belt-guard
        note "Mind the clips."
        measure tension: frequency with belt-meter 3 times take mean "Pluck the belt."
        expect tension meets belt-tension
        otherwise {
            adjust tension to belt-tension up to 5 times by { do "Turn the tensioner." }
            otherwise { end failed "Renew the belt." }
        }
    }
    step second "Look at it" {
        do "Look at the belt."
        wait 2 min
    }
    restore { refit belt-guard }
    case "in band" { charging single tension (62, 62, 62) Hz ends passed }
}
"#;

/// What is replaced, by what, the grade, the kind, and a part of what is said.
type Row = (&'static str, &'static str, Grade, &'static str, &'static str);

const ROWS: &[Row] = &[
    (
        "check 62 ± 6 Hz",
        "check 62 ± 8 Hz",
        Grade::Loud,
        "limit loosened",
        "charging single: limit looser: 62 ± 6 Hz → 62 ± 8 Hz; low end 56 Hz → 54 Hz, 2 Hz lower, 16.7 % of the band; \
         high end 68 Hz → 70 Hz, 2 Hz higher, 16.7 % of the band",
    ),
    ("check 62 ± 6 Hz", "check 62 ± 5 Hz", Grade::Middle, "limit tightened", "limit tighter"),
    ("check 62 ± 6 Hz", "check 64 ± 6 Hz", Grade::Loud, "limit moved", "low end 56 Hz → 58 Hz, 2 Hz higher"),
    ("check 62 ± 6 Hz", "check 62.0 ± 6.0 Hz", Grade::Quiet, "written otherwise", "exactly the same"),
    ("check 62 ± 6 Hz", "check 56 .. 68 Hz", Grade::Quiet, "written otherwise", "exactly the same"),
    ("check 62 ± 6 Hz", "check 0.062 ± 0.006 kHz", Grade::Quiet, "unit only", "exactly the same"),
    ("check 62 ± 6 Hz", "check 62 ± 6 kHz", Grade::Loud, "unit without number", "its number did not"),
    ("check 62 ± 6 Hz", "check 0.0559 .. 0.0681 kHz", Grade::Middle, "rounded", "another unit and rounded"),
    ("check 62 ± 6 Hz", "check at least 56 Hz", Grade::Loud, "limit loosened", "high end 68 Hz gone"),
    ("adjust 62 ± 3 Hz", "adjust 62 ± 4 Hz", Grade::Middle, "set-to band loosened", "band to set to looser"),
    ("target 68 Hz", "target 67 Hz", Grade::Middle, "target", "68 Hz → 67 Hz"),
    (
        "    check 68 ± 6 Hz when charging is double\n",
        "",
        Grade::Loud,
        "no longer covered",
        "charging double: limit 68 ± 6 Hz gone",
    ),
    (
        "source \"Invented.\"",
        "source \"Invented anew.\"",
        Grade::Middle,
        "source",
        "Invented. → Invented anew.",
    ),
    (
        "        warning belt-moves\n",
        "",
        Grade::Loud,
        "caution gone",
        "gone from step first: WARNING belt-moves",
    ),
    (
        "        warning belt-moves\n",
        "        caution belt-moves\n",
        Grade::Loud,
        "signal word",
        "WARNING → CAUTION",
    ),
    (
        "        warning belt-moves\n",
        "        danger belt-moves\n",
        Grade::Middle,
        "signal word",
        "WARNING → DANGER",
    ),
    (
        "        warning belt-moves\n        remove belt-guard\n",
        "        remove belt-guard\n        warning belt-moves\n",
        Grade::Loud,
        "moved",
        "WARNING belt-moves: moved within step first",
    ),
    ("remove brings belt-moves", "", Grade::Loud, "hazard", "hazard gone: remove brings hazard belt-moves"),
    (
        "hazard belt-moves: warning",
        "hazard belt-moves: notice",
        Grade::Loud,
        "signal word",
        "WARNING → NOTICE",
    ),
    (
        "restore { refit belt-guard }",
        "restore { }",
        Grade::Loud,
        "no longer put back",
        "Refit the belt guard.",
    ),
    ("3 times take mean", "4 times take mean", Grade::Middle, "times", "3 → 4"),
    ("with belt-meter 3", "with other-meter 3", Grade::Middle, "tool", "belt-meter → other-meter"),
    ("up to 5 times", "up to 9 times", Grade::Middle, "how often at most", "5 → 9"),
    (
        "\"Turn the tensioner.\"",
        "\"Turn the other screw.\"",
        Grade::Middle,
        "instruction",
        "Turn the other screw.",
    ),
    (
        "\"Turn the tensioner.\"",
        "\"turn the  tensioner\"",
        Grade::Quiet,
        "instruction",
        "Turn the tensioner.",
    ),
    (
        "end failed \"Renew the belt.\"",
        "end failed \"Renew it.\"",
        Grade::Middle,
        "what is told at the end",
        "Renew it.",
    ),
    ("end failed \"Renew", "end unfinished \"Renew", Grade::Middle, "gone", "end failed"),
    (
        "expect tension meets belt-tension",
        "expect tension within 56 .. 68 Hz",
        Grade::Loud,
        "condition",
        "meets belt-tension",
    ),
    ("wait 2 min", "wait 3 min", Grade::Middle, "seconds waited", "120 → 180"),
    ("        do \"Look at the belt.\"\n", "", Grade::Middle, "gone", "Look at the belt."),
    (
        "applies to charging single, double",
        "applies to charging single",
        Grade::Middle,
        "vehicle covered",
        "charging double",
    ),
    ("\"Belt tension\"", "\"Tension of the belt\"", Grade::Quiet, "title", "Tension of the belt"),
    ("step second", "step look", Grade::Quiet, "step renamed", "step second is called look now"),
    ("    case \"in band\"", "    case \"quite in band\"", Grade::Middle, "case", "quite in band"),
    ("\"belt guard\"", "\"guard of the belt\"", Grade::Quiet, "label", "belt guard → guard of the belt"),
    ("    revision 3 on 2031-02-11 \"As it is.\"\n", "", Grade::Middle, "revision gone", "revision 3"),
    ("revision 3 on", "revision 2 on", Grade::Middle, "revision goes back", "revision 3 of 2031-02-11 → 2"),
    ("revision 3 on", "revision 4 on", Grade::Quiet, "revision", "nothing of meaning changed"),
    (
        "accuracy ± 0.5 Hz }\ntool other",
        "accuracy ± 0.7 Hz }\ntool other",
        Grade::Middle,
        "measures",
        "accuracy",
    ),
    (
        "tool other-meter: hand-held \"other meter\" { measures frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz }\n",
        "",
        Grade::Middle,
        "declared",
        "no longer declared",
    ),
    (
        "(0.062 kHz)",
        "(62.0 Hz)",
        Grade::Quiet,
        "second unit",
        "second unit of 62 Hz: (0.062 kHz) → (62.0 Hz)",
    ),
    ("(0.062 kHz)", "(0.064 kHz)", Grade::Loud, "second unit", "and one of them is another value"),
    ("    step second", "    # a remark\n    step second", Grade::Quiet, "layout", "it means the same"),
];

#[test]
fn each_change_is_told_as_loud_as_it_is() {
    let mut wrong = Vec::new();
    for (from, to, grade, kind, part) in ROWS {
        assert_eq!(TEXT.matches(from).count(), 1, "{from:?}");
        let found = compared(TEXT, &TEXT.replace(from, to));
        let told = |grade: Grade| {
            found.changes.iter().any(|one| one.grade == grade && one.kind == *kind && one.says.contains(part))
        };
        if !told(*grade) {
            wrong.push(format!("{from:?} → {to:?}: {grade:?} {kind:?} {part:?}\n    {:#?}", found.changes));
        }
        let loudest = found.changes.iter().map(|one| one.grade).min();
        if *grade == Grade::Quiet && loudest < Some(Grade::Quiet) {
            wrong.push(format!("{from:?} → {to:?} is said too loud\n    {:#?}", found.changes));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_same_text_gives_nothing() {
    assert_eq!(compared(TEXT, TEXT).changes, []);
}

#[test]
fn a_change_of_meaning_wants_a_new_revision_with_a_reason() {
    let looser = TEXT.replace("check 62 ± 6 Hz", "check 62 ± 8 Hz");
    let kinds = |new: &str| -> Vec<&'static str> {
        compared(TEXT, new)
            .changes
            .into_iter()
            .filter(|one| one.of.starts_with("procedure"))
            .map(|one| one.kind)
            .collect()
    };
    assert_eq!(kinds(&looser), ["change not marked"]);
    assert_eq!(kinds(&looser.replace("revision 3 on", "revision 4 on")), ["reason missing"]);
    assert_eq!(
        kinds(&looser.replace("3 on 2031-02-11 \"As it is.\"", "4 on 2031-03-01 \"Wider.\"")),
        ["revision"]
    );
}

#[test]
fn a_text_with_a_hole_is_not_compared() {
    let found = compared(TEXT, &TEXT.replace("remove belt-guard", "remove {"));
    assert_eq!(found.not_compared, ["procedure belt"]);
}

#[test]
fn a_statement_that_leaves_its_block_is_told() {
    let inside = "otherwise { end failed \"Renew the belt.\" }\n        }\n";
    let text = TEXT.replace(
        inside,
        "otherwise { end failed \"Renew the belt.\" }\n            note \"Set.\"\n        }\n",
    );
    let outside = TEXT
        .replace(inside, "otherwise { end failed \"Renew the belt.\" }\n        }\n        note \"Set.\"\n");
    let found = compared(&text, &outside);
    assert!(found.changes.iter().any(|one| one.kind == "goes on otherwise"), "{:#?}", found.changes);
}

/// Lines that say by what a thing is checked, who signs for it, and how long a wrench is: loud where they go.
#[test]
fn checks_signatures_and_lengths_are_loud_when_they_go() {
    let line = "remove brings belt-moves";
    let more = TEXT
        .replace(line, "remove brings belt-moves  refit checked by belt-tension  refit signed twice")
        .replace("source \"Invented.\"", "source \"Invented.\"  signed")
        .replace(
            "tool other-meter: hand-held \"other meter\" {",
            "tool other-meter: hand-held \"other meter\" { reaches 300 mm",
        );
    let said = |old: &str, new: &str| -> Vec<(Grade, String)> {
        let found = compared(old, new).changes.into_iter();
        found.filter(|one| !one.of.starts_with("procedure")).map(|one| (one.grade, one.says)).collect()
    };
    for (grade, way, found) in
        [(Grade::Loud, "gone", said(&more, TEXT)), (Grade::Middle, "new", said(TEXT, &more))]
    {
        for says in [
            format!("checked by {way}: refit checked by belt-tension"),
            format!("signed {way}: refit signed twice"),
            format!("signed {way}: once"),
        ] {
            assert!(found.contains(&(grade, says.clone())), "{says}: {found:#?}");
        }
        let reaches = format!("reaches {way}: 0.3 m");
        assert!(found.contains(&(Grade::Loud, reaches.clone())), "{reaches}: {found:#?}");
    }
}
