//! The tools of the workshop at a run: noted where they are good, refused where they are not, and set in the unit of their scale.

use super::bench::{Bench, Said};

const REGISTER: &str = r#"
[[tool]]
number = "TW-07"
serves-as = "torque-wrench"
sets.torque = { range = "5 .. 100 lbf·ft", resolution = "0.1 lbf·ft", accuracy = "± 3 % of reading" }
calibrated = 2001-01-01
due = 2999-01-01

[[tool]]
number = "TW-09"
serves-as = "torque-wrench"
sets.torque = { range = "5 .. 130 N·m", resolution = "0.5 N·m", accuracy = "± 4 % of reading" }
calibrated = 2001-01-01
due = 2002-01-01

[[tool]]
number = "TW-11"
serves-as = "torque-wrench"
sets.torque = { range = "30 .. 130 N·m", resolution = "5 N·m", accuracy = "± 6 % of reading" }
calibrated = 2001-01-01
due = 2999-01-01
"#;

const TEXT: &str = r#"item plug: fastener "drain plug" { torque plug-torque }
tool torque-wrench: hand-held "torque wrench" { sets torque 10 .. 120 N·m resolution 0.5 N·m accuracy ± 4 % of reading }
spec plug-torque: torque { check 57 ± 3 N·m source "Invented." }
procedure drain "Drain plug" {
    step drain "Out and in" {
        loosen plug
        tighten plug to plug-torque with torque-wrench
    }
    restore { tighten plug to plug-torque with torque-wrench }
}
"#;

fn bench() -> Bench {
    Bench::new(&[("shop/drain.dwell", TEXT), ("tools.toml", REGISTER)])
}

fn run(bench: &Bench, more: &[&str], input: &str) -> Said {
    let arguments = [&["run", "shop/drain.dwell", "--store", "kept"], more].concat();
    bench.fed(&arguments, input)
}

/// 57 ± 3 N·m: 54 N·m are 39.828 lbf·ft and 60 N·m 44.254 lbf·ft (NIST SP 811, 2008, appendix B.8): on a scale of tenths 39.9 to 44.2.
#[test]
fn a_setting_is_given_on_the_scale_of_the_wrench_and_its_number_is_kept() {
    let bench = bench();
    let said = run(&bench, &["--tool", "torque-wrench=tw-07"], "\n\n\n\n");
    assert!(
        said.out.contains("+ torque wrench: TW-07, calibrated 2001-01-01, good until 2999-01-01"),
        "{}",
        said.out
    );
    assert!(said.out.contains("to 57 ± 3 N·m (39.9 .. 44.2 lbf·ft) with the torque wrench"), "{}", said.out);
    let kept = bench.run(&["records", "export", "1", "--format", "jsonl", "--store", "kept"]);
    assert!(kept.out.contains(r#""tools":["TW-07"]"#), "{}{}", kept.out, kept.err);
    assert_eq!(bench.run(&["records", "verify", "--store", "kept"]).status, 0);
}

#[test]
fn a_tool_that_is_overdue_is_used_only_where_somebody_answers_for_it() {
    let bench = bench();
    let refused = run(&bench, &["--tool", "torque-wrench=TW-09"], "");
    assert_eq!(refused.status, 2);
    assert!(refused.says("TW-09 cannot be used: its calibration was over on 2002-01-01"), "{}", refused.err);
    let reason = ["--tool", "torque-wrench=TW-09", "--allowed-by", "A. Weber", "--because", "Checked today."];
    let allowed = run(&bench, &reason, "\n\n\n\n");
    let kept = bench.run(&["records", "export", "2", "--format", "jsonl", "--store", "kept"]);
    assert!(kept.out.contains(r#""by":"A. Weber""#), "{}{}", allowed.out, allowed.err);
    // A person is asked the same.
    let typed = run(&bench, &[], "TW-09\nA. Weber\n\nTW-09\nA. Weber\nChecked today.\n");
    assert!(typed.out.contains("without a reason it is not allowed"), "{}", typed.out);
    assert!(typed.out.contains("allowed by A. Weber: Checked today."), "{}", typed.out);
}

#[test]
fn a_tool_that_is_not_good_enough_is_refused() {
    let bench = bench();
    let refused = run(&bench, &["--tool", "torque-wrench=TW-11"], "");
    assert_eq!(refused.status, 2);
    for why in ["does not reach as far", "are coarser", "may be further off"] {
        assert!(refused.says(why), "{why}: {}", refused.err);
    }
    let unknown = run(&bench, &["--tool", "torque-wrench=TW-1"], "");
    assert!(unknown.says("the register has no tool `TW-1`"), "{}", unknown.err);
    assert!(unknown.says("as torque-wrench it has TW-07, TW-09, TW-11"), "{}", unknown.err);
    let other = run(&bench, &["--tool", "wrench=TW-07"], "");
    assert!(other.says("`wrench` is no tool that this procedure measures or sets with"), "{}", other.err);
    bench.put("tools.toml", b"[[tool]]\nnumber = 7\n");
    let broken = run(&bench, &[], "");
    assert_eq!(broken.status, 2);
    assert!(broken.says("tools.toml, line 2: a text in quotes belongs here"), "{}", broken.err);
}

#[test]
fn a_tool_whose_calibration_ended_meanwhile_is_asked_for_again() {
    let more = r#"
[[tool]]
number = "TW-13"
serves-as = "torque-wrench"
sets.torque = { range = "5 .. 130 N·m", resolution = "0.5 N·m", accuracy = "± 4 % of reading" }
calibrated = 2020-01-01
due = 2024-12-31
"#;
    let bench = Bench::new(&[("shop/drain.dwell", TEXT), ("tools.toml", &format!("{REGISTER}{more}"))]);
    // On paper it was begun on a day on which the tool was good, and broken off.
    let sheet = bench.run(&["page", "shop/drain.dwell", "--paper", "a4"]).out;
    let (_, rest) = sheet.split_once("class=\"code\">").unwrap();
    let code = rest.split('<').next().unwrap();
    let enter = ["records", "enter", "shop/drain.dwell", "--store", "kept", "--zone", "Z"];
    let begun = bench.fed(
        &[enter.as_slice(), &["--tool", "torque-wrench=TW-13"]].concat(),
        &format!("{code}\n2024-04-12\n09:05\nA. Weber\n09:10\n"),
    );
    assert_eq!(begun.status, 3, "{}{}", begun.out, begun.err);
    let on = ["resume", "1", "--store", "kept"];
    let unanswered = bench.fed(&on, "none\n");
    assert!(unanswered.out.contains("nobody answers for it: do not use it"), "{}", unanswered.out);
    let said = bench.fed(&on, "TW-07\n\n");
    assert!(
        said.out.contains("torque wrench is TW-13: its calibration was over on 2024-12-31"),
        "{}",
        said.out
    );
    assert!(said.out.contains("+ torque wrench: TW-07"), "{}", said.out);
    let again = bench.fed(&on, "\n");
    assert!(!again.out.contains("TW-13"), "it was answered: {}", again.out);
}
