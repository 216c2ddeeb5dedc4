//! The report: as found and as left, what was said, what is open.

use super::JOB;
use crate::event::{Cause, Caution, Ended, Event, Finished, What, Words};
use crate::report::wrapped;
use crate::{Outcome, Report, read};
use expect_test::expect;

fn job() -> Vec<Event> {
    read(JOB.as_bytes()).unwrap().events
}

#[test]
fn a_tired_technician_reads_it() {
    expect![[r#"
        Belt tension
        Procedure  belt-tension, revision 3 of 2031-03-30
        Vehicle    engine-family k9
        Time       2031-04-12T09:05:00+02:00 to 2031-04-12T09:12:00+02:00
        Card       44d444a8c9b29514ef26ee39004228a52efbc34472b2191b22d87f5827bd89b6
        Written by dwell 0.1.0

        READINGS
          tension (belt-tension)
            as found           54.6 Hz         LOW by 1.4 Hz       band 56 .. 68 Hz
                               fail with ± 1.0 Hz; probability in band 0.0026
            as left            62.0 Hz         in band             set to 60 .. 64 Hz
                               pass with ± 1.0 Hz; probability in band 0.9999

        RESULT: ADJUSTED AND PASSED
    "#]]
    .assert_eq(&Report::of(&job()).to_string());
}

#[test]
fn a_record_that_is_cut_off_says_so() {
    let report = Report::of(&job()[..6]);
    assert_eq!(report.result, None);
    assert!(
        report.to_string().ends_with("RESULT: NOT FINISHED: the record ends before the procedure does\n")
    );
    assert!(report.to_string().contains("as found and left  54.6 Hz         LOW by 1.4 Hz"));
    assert_eq!(Report::of(&[]).to_string().lines().next(), Some("A record without its beginning"));
}

#[test]
fn everything_else_has_its_place() {
    let mut events = job();
    events.truncate(6);
    let caution = Caution {
        level: "WARNING".into(),
        hazard: "moving-parts".into(),
        text: "Hands off the belt.".into(),
    };
    let more = [
        What::CautionShown(caution.clone()),
        What::CautionShown(caution),
        What::Cause(Cause { item: "alternator".into(), text: Some("The regulator is worn.".into()) }),
        What::Stopped(Words { text: "The customer needs the van.".into() }),
        What::Ended(Ended { outcome: Outcome::Referred, text: None, refer: Some("charging-faults".into()) }),
        What::Finished(Finished {
            result: Outcome::Referred,
            open: vec!["The belt guard is removed".into()],
            readings: Vec::new(),
        }),
    ];
    for (what, seq) in more.into_iter().zip(7..) {
        events.push(Event { seq, at: format!("2031-04-12T09:0{}:00+02:00", 13 - seq), node: None, what });
    }
    let text = Report::of(&events).to_string();
    expect![[r#"
        READINGS
          tension (belt-tension)
            as found and left  54.6 Hz         LOW by 1.4 Hz       band 56 .. 68 Hz
                               fail with ± 1.0 Hz; probability in band 0.0026

        PROBABLE CAUSES
          - alternator: The regulator is worn.

        GO ON WITH
          - charging-faults

        STOPPED
          - The customer needs the van.

        STILL OPEN: see to this before the vehicle is used
          - The belt guard is removed

        CAUTIONS SHOWN
          - WARNING: Hands off the belt.

        CLOCK
          - The clock was set back before event 7.
          - The clock was set back before event 8.
          - The clock was set back before event 9.
          - The clock was set back before event 10.
          - The clock was set back before event 11.
          - The clock was set back before event 12.

        RESULT: REFERRED to charging-faults
    "#]]
    .assert_eq(text.split_once("\n\n").unwrap().1);
}

#[test]
fn long_lines_are_wrapped_and_long_words_kept() {
    assert_eq!(wrapped("one two three", 7), ["one two", "three"]);
    assert_eq!(wrapped("supercalifragilistic is long", 6), ["supercalifragilistic", "is", "long"]);
    assert!(wrapped("", 10).is_empty());
}

#[test]
fn no_line_is_wider_than_a_page() {
    for line in Report::of(&job()).to_string().lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}
