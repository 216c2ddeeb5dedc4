//! A card on paper: the blank sheet, and what was filled in by hand typed into a record with its times.

use super::bench::{Bench, GOOD, Said};

fn bench() -> Bench {
    Bench::new(&[("belt.dwell", GOOD)])
}

/// What stands behind `Card` on the sheet.
fn code(bench: &Bench) -> String {
    let sheet = bench.run(&["page", "belt.dwell", "--paper", "a4"]);
    let (_, rest) = sheet.out.split_once("Card <strong class=\"code\">").expect("the code of the card");
    rest.split('<').next().unwrap().to_owned()
}

fn enter(bench: &Bench, input: &str) -> Said {
    let input = format!("{}\n{input}", code(bench));
    bench.fed(
        &["records", "enter", "belt.dwell", "--store", "kept", "--zone", "+02:00", "--person", "C. Lang"],
        &input,
    )
}

#[test]
fn a_sheet_has_boxes_numbers_and_its_foot() {
    let bench = bench();
    let page = bench.run(&["page", "belt.dwell", "--paper", "letter"]).out;
    for part in [
        "size: letter",
        "counter(pages)",
        "<span class=\"no\">1.1</span>",
        "Then put back, from <strong>R.1</strong> on.",
        "STOP: put back from R.1 on",
        "value-box",
        "As found and as left",
        "class=\"qr\"",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    assert!(!bench.run(&["page", "belt.dwell"]).out.contains("value-box"));
}

/// What is worked out is worked out by a pencil where that needs no conversion; where it does, the sheet says that it is not.
#[test]
fn what_is_worked_out_says_how() {
    let text = |formula: &str| {
        format!(
            "tool gauge: hand-held \"gauge\" {{ measures length 0 .. 200 mm resolution 0.01 mm accuracy ± 0.02 mm }}
procedure shim \"Shim\" {{
    step look \"Look\" {{
        measure old: length with gauge
        measure gap: length with gauge
        let new: length = {formula}
        expect new within 1 mm .. 3 mm
        otherwise {{ end failed \"Look at it.\" }}
    }}
}}
"
        )
    };
    for (formula, says) in [
        ("old + gap - 0.25 mm", "= old + gap - 0.25 mm"),
        ("old - (gap + 0.5 mm)", "= old - (gap + 0.5 mm)"),
        ("2 * (old - gap)", "= 2 × (old - gap)"),
        ("old * gap / old", "not by hand from this sheet"),
    ] {
        let bench = Bench::new(&[("shim.dwell", &text(formula))]);
        let page = bench.run(&["page", "shim.dwell", "--paper", "a4"]);
        assert!(page.out.contains(says), "{formula}: {}{}", page.out, page.err);
    }
}

#[test]
fn a_filled_sheet_is_typed_in_with_its_times() {
    let bench = bench();
    let said = enter(&bench, "2024-04-12\n9:05\nA. Weber\n09:10\n09:12 54,6\n2024-04-13 00:10\n");
    assert_eq!(said.status, 1, "{}{}", said.out, said.err);
    for part in [
        "job 1, from paper",
        "  1.1  Enter when it is done: 09:10",
        "  1.2  tension in Hz: 09:12",
        "LOW by 1.4 Hz",
        "Result: FAILED",
    ] {
        assert!(said.out.contains(part), "{part}: {}", said.out);
    }
    let shown = bench.run(&["records", "show", "1", "--store", "kept"]).out;
    for part in [
        "Begun by   A. Weber\n",
        "Typed in   from paper by C. Lang on ",
        "Time       2024-04-12T09:05:00+02:00 to 2024-04-13T00:10:00+02:00",
    ] {
        assert!(shown.contains(part), "{part}: {shown}");
    }
    let lines = bench.run(&["records", "export", "1", "--format", "jsonl", "--store", "kept"]).out;
    let typed: Vec<serde_json::Value> = lines
        .lines()
        .map(|line| serde_json::from_str::<serde_json::Value>(line).unwrap())
        .filter(|line| line["what"]["from-paper"].is_object())
        .collect();
    // Once at the beginning, before each of the three answers, and before it is gone on with after the night.
    assert_eq!(typed.len(), 5, "{lines}");
    assert_eq!(typed[4]["at"], "2024-04-13T00:10:00+02:00");
    assert!(typed[4]["what"]["from-paper"]["at"].as_str().unwrap() > "2026", "{lines}");
    assert_eq!(bench.run(&["records", "verify", "--store", "kept"]).status, 0);
    let report = bench.run(&["records", "report", "1", "--store", "kept"]).out;
    assert!(report.contains("noted by hand on a sheet, and typed in by C. Lang"), "{report}");
}

#[test]
fn times_do_not_run_backwards_and_slips_are_asked_back() {
    let bench = bench();
    let input = "2024-04-12\n09:05\nA. Weber\n09:10\n09:09 62\n25:00 62\n62:3\n09:12 623\n623\n09:15\n";
    let said = enter(&bench, input);
    let words = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "2024-04-12 09:09 is before 2024-04-12 09:10, which was typed last",
        "`25:00` is no time of a day",
        "`62:3` is no time of a day",
    ] {
        assert!(words.contains(part), "{part}: {words}");
    }
    // 623 Hz is beyond the range of the meter: asked back, and taken when it is typed again.
    assert!(words.contains("HIGH by 555"), "{words}");
    let lines = bench.run(&["records", "export", "1", "--format", "jsonl", "--store", "kept"]).out;
    assert!(lines.contains(r#""kept":true"#), "{lines}");
    // What was refused left nothing behind.
    assert_eq!(lines.matches("from-paper").count(), 4, "{lines}");
}

#[test]
fn a_wait_that_was_too_short_by_the_sheet_is_asked_back() {
    let text = GOOD.replace("        measure tension", "        wait 20 min\n        measure tension");
    let bench = Bench::new(&[("belt.dwell", &text)]);
    let said = enter(&bench, "2024-04-12\n09:05\nA. Weber\n09:10\n09:15\n09:31\n09:33 62\n09:35\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(said.out.contains("by the sheet only 5 min passed"), "{}", said.out);
    let meant = enter(&bench, "2024-04-12\n09:05\nA. Weber\n09:10\n09:15\n09:15\n09:33 62\n09:35\n");
    assert_eq!(meant.status, 0, "{}{}", meant.out, meant.err);
}

#[test]
fn the_number_of_a_tool_on_the_sheet_is_kept_and_its_calibration_is_that_of_the_day_on_the_sheet() {
    let bench = bench();
    let register = "[[tool]]\nnumber = \"BM-1\"\nserves-as = \"belt-meter\"\nmeasures.frequency = { range = \"10 .. 500 Hz\", resolution = \"0.1 Hz\", accuracy = \"± 0.4 Hz\" }\ncalibrated = 2023-06-01\ndue = 2024-06-01\n";
    bench.put("tools.toml", register.as_bytes());
    let said = enter(&bench, "2024-04-12\n09:05\nA. Weber\nbm-1\n09:10\n09:12 62\n09:15\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(said.out.contains("BM-1, good until 2024-06-01"), "{}", said.out);
    let traced = bench.run(&["records", "trace", "--tool", "BM-1", "--store", "kept"]);
    assert!(
        traced.out.contains("tension, as found and left: 62.0 Hz, in band"),
        "{}{}",
        traced.out,
        traced.err
    );
    let late = enter(&bench, "2024-07-12\n09:05\nA. Weber\nbm-1\n\nnone\n09:10\n09:12 62\n09:15\n");
    assert!(late.out.contains("its calibration was over on 2024-06-01"), "{}{}", late.out, late.err);
}

#[test]
fn another_card_another_day_and_nothing_at_all_are_refused() {
    let bench = bench();
    let asked = ["records", "enter", "belt.dwell", "--store", "kept", "--zone", "Z"];
    let own = code(&bench);
    for (input, says) in [
        ("abcabcabcabc\n".to_owned(), "the sheet says card abcabcabcabc, and this card is"),
        (format!("{}\n", own.get(..6).unwrap()), "the sheet says card"),
        (format!("{own}\n9998-04-12\n09:05\n"), "has not come yet"),
        (format!("{own}\n12 April\n"), "is no day"),
        (format!("{own}\n2024-04-12\nnine\n"), "is no time"),
        (String::new(), "nothing was typed for: Card"),
    ] {
        let said = bench.fed(&asked, &input);
        assert!(said.status == 2 && said.says(says), "{input:?}: {}{}", said.out, said.err);
    }
    assert!(!bench.path("kept").exists(), "nothing was begun");
}

#[test]
fn typing_that_was_broken_off_goes_on() {
    let bench = bench();
    let said = enter(&bench, "2024-04-12\n09:05\nA. Weber\n09:10\n");
    assert_eq!(said.status, 3, "{}{}", said.out, said.err);
    let on = ["records", "enter", "--job", "1", "--store", "kept", "--person", "D. Sand"];
    let said = bench.fed(&on, "09:08 62\n09:12 62\n09:15\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(said.out.contains("is before 2024-04-12 09:10"), "{}", said.out);
    let shown = bench.run(&["records", "show", "1", "--store", "kept"]).out;
    assert!(shown.contains("from paper by C. Lang") && shown.contains("from paper by D. Sand"), "{shown}");
    assert!(bench.fed(&on, "").says("job 1 is over: passed"));
    bench.fed(&["run", "belt.dwell", "--store", "kept"], "\n");
    let live = bench.fed(&["records", "enter", "--job", "2", "--store", "kept"], "");
    assert!(live.status == 2 && live.says("job 2 is not being typed in from paper"), "{}", live.err);
}
