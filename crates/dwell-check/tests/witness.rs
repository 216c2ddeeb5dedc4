//! Witnesses replayed: fed with the answers that a finding names, the runner takes the very way that it promises.

use crate::pages::example::{Example, examples};
use crate::pages::section;
use dwell_card::Card;
use dwell_card::graph::Way;
use dwell_check::check::check;
use dwell_check::finding::{Reply, Witness};
use dwell_check::lower::lower;
use dwell_check::program::Program;
use dwell_check::resolve::resolve;
use dwell_check::rules;
use dwell_run::{Answer, Prompt, Session};
use expect_test::expect;

/// A time for every answer; the runner has no clock of its own.
const AT: &str = "2031-02-11T08:00:00Z";

#[test]
fn the_runner_takes_the_way_of_every_witness() -> Result<(), String> {
    let mut replayed = 0;
    for rule in rules::all() {
        for example in examples(section(rule, "## Wrong")) {
            for finding in check(&example.roots(), &example).findings {
                let Some(witness) = &finding.witness else { continue };
                let about = format!("{} ({}): {}", rule.name, finding.message, witness.says);
                let card = card(&example, &witness.procedure).ok_or(format!("{about}: no card"))?;
                replay(card, witness).map_err(|why| format!("{about}: {why}"))?;
                replayed += 1;
            }
        }
    }
    assert!(replayed >= 8, "only {replayed} witnesses on all pages");
    Ok(())
}

/// The card of a procedure although something is found in it: the way to a fault can be walked.
fn card(example: &Example, procedure: &str) -> Option<Card> {
    let mut troubles = Vec::new();
    let program = Program::load(&example.roots(), example, &mut troubles);
    let model = resolve(&program, &mut troubles);
    let index = model.procedures.iter().position(|head| head.name == procedure)?;
    lower(&program, &model, index, &mut troubles).map(|lowered| lowered.card)
}

fn replay(card: Card, witness: &Witness) -> Result<(), String> {
    let mut session = Session::start(card, &witness.variants, AT).map_err(|refusal| refusal.to_string())?;
    let mut replies = witness.answers.iter();
    while session.trace().len() < witness.nodes.len() {
        let way = witness.nodes.get(session.trace().len()).map(|(_, way)| *way);
        let answer = match (session.ask(), &mut replies) {
            (Prompt::Done { .. }, _) => break,
            (_, replies) if way == Some(Way::Lost) => {
                assert!(matches!(replies.next(), Some(Reply::Lost(_))));
                Answer::Lost
            }
            (Prompt::Confirm(_), _) => Answer::Done,
            (_, replies) => match replies.next() {
                Some(Reply::Lost(_)) => return Err("lost where nothing is".to_owned()),
                Some(Reply::Signature(by)) => Answer::Signature(by.clone()),
                Some(Reply::Need { holds: true, .. }) => Answer::Yes,
                Some(Reply::Need { holds: false, .. }) => Answer::No,
                Some(Reply::Value { number, unit, .. }) => {
                    let value = Answer::Value { text: number.clone(), unit: Some(unit.clone()) };
                    Answer::Kept(Box::new(value))
                }
                Some(Reply::NoReading(_)) => Answer::NoReading,
                Some(Reply::Choice(_, choice)) => Answer::Choice(choice.clone()),
                None => break,
            },
        };
        session.answer(answer, AT).map_err(|refusal| refusal.to_string())?;
    }
    let trace = session.trace();
    // The fault is in the last node; before that the run must have gone the same way.
    let promised = witness.nodes.split_last().map_or(&[][..], |(_, before)| before);
    match promised.iter().enumerate().find(|(at, step)| trace.get(*at) != Some(*step)) {
        Some((at, step)) => Err(format!("step {at} is {:?}, promised was {step:?}", trace.get(at))),
        None => Ok(()),
    }
}

#[test]
fn so_with_variants_questions_needs_and_loops_that_are_used_up() -> Result<(), String> {
    let example = Example::of(LONG);
    let found = check(&example.roots(), &example).findings;
    let mut ways = Vec::new();
    for finding in &found {
        let Some(witness) = &finding.witness else { continue };
        let card = card(&example, &witness.procedure).ok_or("no card")?;
        replay(card, witness).map_err(|why| format!("{}: {}: {why}", finding.message, witness.says))?;
        ways.push(format!("{}: {}", finding.message, witness.says));
    }
    expect![[r#"
        the heat shield may still be out at the end: This happens when lamp is flickers and tension is 64.0 Hz (in band), with engine family k9h.
        the sensor lead may still be open at the end: This happens when tension is 58.0 Hz (low) and it cannot be brought in.
        the fan may still be on at the end: This happens when lamp is flickers and tension is 67.0 Hz (in band)."#]].assert_eq(&ways.join("\n"));
    Ok(())
}

/// A guard, a shield and a lead, each left in another state on one way only.
const LONG: &str = r#"
item belt-guard: removable "belt guard"
item heat-shield: removable "heat shield"
item sensor-lead: connectable "sensor lead"
item fan: switchable "fan"
item screw: turnable "tensioner screw"
item ignition: switchable "ignition"
variant engine-family: k9, k9h
tool belt-meter: hand-held "belt tension meter" { measures frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz }
spec belt-tension: frequency {
    check 62 ± 6 Hz when engine-family is k9
    check 68 ± 6 Hz when engine-family is k9h
    adjust 62 ± 3 Hz when engine-family is k9
    adjust 68 ± 3 Hz when engine-family is k9h
}

procedure belt "Belt tension" {
    needs { ignition is off }
    step look "Look" {
        ask lamp "What does the lamp do?" one of lit, dark, flickers
        if lamp is flickers and engine-family is k9h { remove heat-shield }
        remove belt-guard
        measure tension: frequency with belt-meter 3 times take mean
        expect tension meets belt-tension
        otherwise low {
            adjust tension to belt-tension up to 3 times by { turn screw }
            otherwise {
                disconnect sensor-lead
                end failed "Renew the belt."
            }
        }
        otherwise { end failed "Renew the tensioner." }
        if tension above 66 Hz { switch-on fan }
    }
    restore { refit belt-guard }
}
"#;
