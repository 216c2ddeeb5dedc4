//! The screens of small and large terminals, in black and white, without a terminal: whole jobs of the demo library, key by
//! key, and what is seen of each thing that is asked.

mod bench;

use super::desk::Showing;
use bench::{Bench, SIZES, answer, cards, must_be_seen, stands, variants};
use dwell_card::Card;
use dwell_run::Prompt;
use expect_test::{Expect, expect};
use ratatui::crossterm::event::KeyCode;
use std::path::PathBuf;

#[test]
fn every_limit_and_caution_of_the_library_is_seen_before_it_is_answered() {
    let (mut jobs, mut prompts) = (0, 0);
    for (readings, card) in cards() {
        for ending in ["good", "adjusted", "refused"] {
            let Ok(text) = std::fs::read_to_string(readings.join(format!("{}-{ending}.csv", card.procedure)))
            else {
                continue;
            };
            for size in SIZES {
                let mut rows = dwell_readings::read(&text).unwrap();
                rows.retain(|row| row.name != dwell_run::STOP && row.typed != dwell_run::LOST);
                let mut bench = Bench::new(&card, &variants(&card), size);
                jobs += 1;
                for _ in 0..300 {
                    if bench.is_over() {
                        break;
                    }
                    let prompt = bench.session.ask();
                    bench.read.clear();
                    let last = bench.seen();
                    let read: Vec<&str> = bench.read.values().map(String::as_str).collect();
                    assert!(bench.read.keys().copied().eq(0..read.len()), "a row was passed over");
                    let screens = format!("{}\n{last}", read.join("\n"));
                    for words in must_be_seen(&prompt) {
                        assert!(
                            stands(&screens, &words),
                            "{} at {size:?}: `{words}` in\n{screens}",
                            card.procedure
                        );
                    }
                    assert!(screens.contains("OPEN NOW: "), "{screens}");
                    let before = bench.session.events().len();
                    answer(&mut bench, &mut rows);
                    if bench.session.events().len() == before {
                        let why = bench.desk.message.clone();
                        panic!("{} at {size:?}: not taken: {why:?}\n{}", card.procedure, bench.screen());
                    }
                    prompts += 1;
                }
                assert!(bench.is_over(), "{} {ending} at {size:?}", card.procedure);
            }
        }
    }
    assert!(jobs >= 100 && prompts >= 2000, "{jobs} jobs, {prompts} prompts");
}

#[test]
fn every_size_is_drawn_and_what_is_typed_stays() {
    let (_, card) = charging();
    let mut bench = at_tension(&card, (80, 24));
    bench.types("62.3");
    for size in [(1, 1), (2, 9), (9, 2), (20, 6), (19, 40), (21, 7), (40, 12), (300, 100), (80, 24)] {
        bench.size = size;
        let screen = bench.screen();
        assert_eq!(screen.split('\n').count(), usize::from(size.1));
    }
    assert_eq!(bench.desk.typed, "62.3");
}

fn charging() -> (PathBuf, Card) {
    cards().into_iter().find(|(_, card)| card.procedure == "belt-and-charging").unwrap()
}

/// The job of the belt, at its first reading of the tension.
fn at_tension(card: &Card, size: (u16, u16)) -> Bench {
    let mut bench = Bench::new(card, &variants(card), size);
    for _ in 0..100 {
        bench.seen();
        match bench.session.ask() {
            Prompt::Reading(reading) if reading.name == "tension" => return bench,
            Prompt::Reading(_) => {
                bench.types("12.62");
                bench.key(KeyCode::Enter);
            }
            _ => answer(&mut bench, &mut Vec::new()),
        }
    }
    panic!("it never comes to the tension");
}

fn shows(bench: &mut Bench, expected: Expect) {
    expected.assert_eq(&format!("{}\n", bench.screen()));
}

#[test]
fn a_reading_on_a_large_screen() {
    let mut bench = at_tension(&charging().1, (80, 24));
    bench.types("62,3");
    shows(
        &mut bench,
        expect![[r#"
            Alternator belt tension and charging voltage                         step 2 of 3
            Check the belt tension
            charging single, engine family k9
            Measure tension with the belt tension meter, 3 times, take the mean.
              Pluck the belt.
              band 56 .. 68 Hz
              set to 59 .. 65 Hz
              LOW ────────────┣━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━┫──────────── HIGH







            tension (1 of 3):
              ████ ████    ████
              █       █       █
              ████ ████     ███
              █  █ █          █
              ████ ████ █  ████ █ Hz
              taken as 62.3 Hz
            OPEN NOW: belt tension meter connected, belt guard out, belt guard clips out
            n not readable   u other unit   c cannot, because   b back   ? help   Esc STOP
        "#]],
    );
}

#[test]
fn a_reading_on_a_small_screen() {
    let mut bench = at_tension(&charging().1, (40, 12));
    bench.types("62,3");
    shows(
        &mut bench,
        expect![[r#"
            Alternator belt tension and… step 2 of 3
            Measure tension with the belt tension
            meter, 3 times, take the mean.
              Pluck the belt.
              band 56 .. 68 Hz
             ▼ 2 more: Enter
            tension (1 of 3):
              62,3█ Hz
              taken as 62.3 Hz
            OPEN NOW: belt tension meter connected,
                      belt guard out, +1 more (?)
            n no reading u unit c cannot Esc STOP
        "#]],
    );
}

#[test]
fn a_slip_is_asked_back_and_taken_when_typed_again() {
    let mut bench = at_tension(&charging().1, (40, 12));
    bench.types("623");
    bench.key(KeyCode::Enter);
    shows(
        &mut bench,
        expect![[r#"
            Alternator belt tension and… step 2 of 3
            Measure tension with the belt tension
             ▼ 5 more: Enter
            ! is 623 Hz right? The belt tension
              meter shows 10.0 .. 500.0 Hz, not
              that. Look again; give 623 Hz once
              more to keep it
            tension (1 of 3):
              █ Hz
            OPEN NOW: belt tension meter connected,
                      belt guard out, +1 more (?)
            n no reading u unit c cannot Esc STOP
        "#]],
    );
    bench.types("62.3");
    bench.key(KeyCode::Enter);
    let Prompt::Reading(reading) = bench.session.ask() else { panic!("no reading") };
    assert_eq!(reading.round, 2);
}

#[test]
fn what_came_has_its_word_its_shape_and_its_place() {
    let mut bench = at_tension(&charging().1, (80, 24));
    for text in ["49.2", "50.1", "49.5"] {
        bench.types(text);
        bench.key(KeyCode::Enter);
    }
    shows(
        &mut bench,
        expect![[r#"
            Alternator belt tension and charging voltage                         step 2 of 3
            Check the belt tension
            charging single, engine family k9
            tension
              █  █ ████    ████
              █  █ █  █    █
              ████ ████    ████
                 █    █    █  █
                 █ ████ █  ████ Hz
               ▼ LOW by 6.4 Hz
              band 56 .. 68 Hz
              LOW ─────●──────┣━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━┫──────────── HIGH

               ▼ LOW by 9.4 Hz
              set to 59 .. 65 Hz
              LOW ●───────────┣━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━┫──────────── HIGH






            OPEN NOW: belt tension meter connected, belt guard out, belt guard clips out
            Enter go on   Esc STOP
        "#]],
    );
    bench.size = (40, 12);
    shows(
        &mut bench,
        expect![[r#"
            Alternator belt tension and… step 2 of 3
            tension
              49.6 Hz
               ▼ LOW by 6.4 Hz
              band 56 .. 68 Hz
              LOW ──●──┣━━━━━━━━━━━━━━━━━┫───── HIGH

               ▼ LOW by 9.4 Hz
             ▼ 3 more: Enter
            OPEN NOW: belt tension meter connected,
                      belt guard out, +1 more (?)
            Enter go on Esc STOP
        "#]],
    );
}

#[test]
fn going_back_is_by_a_number_and_a_reason() {
    let mut bench = at_tension(&charging().1, (80, 24));
    bench.key(KeyCode::Char('b'));
    bench.key(KeyCode::Char('2'));
    bench.key(KeyCode::Enter);
    assert!(bench.desk.message.as_deref().is_some_and(|words| words.contains("say why")));
    bench.types("the clip was not out");
    shows(
        &mut bench,
        expect![[r#"
            Alternator belt tension and charging voltage                         step 2 of 3
            Check the belt tension
            charging single, engine family k9
            Back to which answer?
            What was told and read from there on is asked again; what was done at the
            vehicle stays done.
              1  Connect the belt tension meter to the longest span of the belt.
            > 2  Remove the belt guard.
              3  Remove the belt guard clips.
              4  Disconnect the multimeter.
              5  rest: 12.62 V
              6  Connect the multimeter to the battery posts.
              7  The electrical consumers are off: yes
              8  The gearbox is neutral: yes
              9  The engine is stopped: yes





            Why, in a few words:
              the clip was not out█
            OPEN NOW: belt tension meter connected, belt guard out, belt guard clips out
            1-9 choose   Enter open it again   F8 noted wrong   Esc leave it
        "#]],
    );
    bench.key(KeyCode::Enter);
    assert_eq!(bench.desk.showing, Showing::Asked);
    assert!(matches!(bench.session.ask(), Prompt::Confirm(_)));
}

#[test]
fn cannot_asks_why_and_leads_to_what_is_put_back() {
    let mut bench = at_tension(&charging().1, (40, 12));
    bench.key(KeyCode::Char('c'));
    bench.types("the meter is broken");
    for _ in 0..5 {
        if matches!(bench.desk.showing, Showing::Cannot) {
            bench.key(KeyCode::Enter);
        }
    }
    assert!(matches!(bench.desk.showing, Showing::MakeSafe(_)));
    bench.seen();
    let Prompt::Confirm(first) = bench.session.ask() else { panic!("nothing is put back") };
    assert_eq!(first.says, "Disconnect the belt tension meter.");
    assert_eq!(bench.session.report().cannot[0].why, "the meter is broken");
}

#[test]
fn another_unit_is_typed_shown_and_kept_for_its_tool() {
    let (_, card) = cards().into_iter().find(|(_, card)| card.procedure == "pressure-test").unwrap();
    let mut bench = Bench::new(&card, &variants(&card), (80, 24));
    for _ in 0..60 {
        bench.seen();
        if matches!(bench.session.ask(), Prompt::Reading(_)) {
            break;
        }
        answer(&mut bench, &mut Vec::new());
    }
    let Prompt::Reading(reading) = bench.session.ask() else { panic!("no reading") };
    let before = bench.desk.unit(&reading);
    bench.key(KeyCode::Char('u'));
    let after = bench.desk.unit(&reading);
    assert_ne!(before, after);
    bench.types("1,5");
    shows(
        &mut bench,
        expect![[r#"
        Cooling system: radiator cap and leak test                           step 1 of 3
        Let the cooling system cool down / Wait until the cooling system is cool
        engine family k9
         WARNING
        ▌ Leave the cap on while the system is hot: coolant can spray out and scald.
        Measure coolant with the contact thermometer, at the upper radiator hose.
          band at most 40.0 °C, at most 104.0 °F
          ━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━┫───────────── HIGH







        coolant:
           █     ████
          ██     █
           █     ████
           █        █
          ███ █  ████ █ °F
          taken as 1.5 °F = -16.944 °C
        OPEN NOW: nothing
        n not readable   u other unit   c cannot, because   b back   ? help   Esc STOP
    "#]],
    );
}

#[test]
fn stop_asks_once_and_leads_to_the_list_of_what_is_made_safe() {
    let mut bench = at_tension(&charging().1, (40, 12));
    bench.key(KeyCode::Char('s'));
    shows(
        &mut bench,
        expect![[r#"
            Alternator belt tension and… step 2 of 3
             STOP  end this job?
            Enter stops: what is owed is put back,
            the result is unfinished. Esc goes on
            working.
            Open now, in the order in which it is
             ▼ 4 more: Enter
            Why, in a few words (may stay empty):
              █
            OPEN NOW: belt tension meter connected,
                      belt guard out, +1 more (?)
            Enter STOP Esc go on working
        "#]],
    );
    bench.key(KeyCode::Esc);
    assert_eq!(bench.desk.showing, Showing::Asked);
    bench.key(KeyCode::Esc);
    bench.key(KeyCode::Enter);
    assert!(matches!(bench.desk.showing, Showing::MakeSafe(_)), "Enter stops at once");
    shows(
        &mut bench,
        expect![[r#"
            Alternator belt tension and ch… put back
             STOP  make safe first
            1. The belt tension meter is connected
            2. The belt guard is out
            3. The belt guard clips is out
            See to these, in this order. What is put
            back is asked for next, one thing at a
            time.

            OPEN NOW: belt tension meter connected,
                      belt guard out, +1 more (?)
            Enter go on Esc STOP
        "#]],
    );
    bench.seen();
    shows(
        &mut bench,
        expect![[r#"
            Alternator belt tension and ch… put back
            Disconnect the belt tension meter.







            OPEN NOW: belt tension meter connected,
                      belt guard out, +1 more (?)
            Enter done c cannot ? help Esc STOP
        "#]],
    );
}

#[test]
fn a_job_is_handed_over_with_both_names_and_a_name_is_needed() {
    let mut bench = at_tension(&charging().1, (80, 24));
    bench.key(KeyCode::F(7));
    bench.key(KeyCode::Enter);
    assert!(bench.desk.message.as_deref().is_some_and(|words| words.contains("the name of who goes on")));
    bench.types("B. Lang");
    let screen = bench.screen();
    assert!(screen.contains("Hand this job over") && screen.contains("belt guard is out"), "{screen}");
    bench.key(KeyCode::Enter);
    assert_eq!(bench.session.by().person.as_deref(), Some("B. Lang"));
    assert!(bench.screen().contains("B. Lang"), "{}", bench.screen());
}

#[test]
fn a_reading_that_was_noted_wrong_is_put_right_from_the_list() {
    let mut bench = at_tension(&charging().1, (80, 24));
    bench.key(KeyCode::F(5));
    bench.key(KeyCode::F(8));
    assert!(bench.desk.message.as_deref().is_some_and(|words| words.contains("only a reading")));
    // The fifth of the list is the voltage at rest.
    bench.key(KeyCode::Char('5'));
    bench.types("read from the wrong meter");
    bench.key(KeyCode::F(8));
    bench.seen();
    let Prompt::Reading(reading) = bench.session.ask() else { panic!("{:?}", bench.session.ask()) };
    assert_eq!(reading.name, "rest");
    let noted =
        bench.session.events().iter().any(|event| matches!(event.what, dwell_record::What::Corrected(_)));
    assert!(noted);
}
