//! Instruments: what is read from a simulated one, in good order and in bad.

mod simulated;

use super::{Answered, Instrument, InstrumentFault, Nothing, with_port};
use simulated::{Does, Simulated};
use std::time::{Duration, Instant};

const QUERY: &str = "MEASure:VOLTage:DC?";

fn at(simulated: &Simulated) -> Instrument {
    Instrument::at(&simulated.address, Duration::from_millis(400)).unwrap()
}

fn value(text: &str) -> Result<Answered, InstrumentFault> {
    Ok(Answered::Value(text.to_owned()))
}

#[test]
fn a_value_is_read_with_all_its_digits() {
    let simulated = Simulated::that(&[Does::Answers("+1.41600000E+01"), Does::Answers("14.2")]);
    let mut instrument = at(&simulated);
    assert_eq!(instrument.identity(), "Workshop,Bench meter,1,1.0");
    assert_eq!(instrument.value(QUERY), value("14.1600000"));
    // The short form, and another spelling, are the same question.
    assert_eq!(instrument.value("meas:volt?"), value("14.2"));
}

#[test]
fn a_range_that_ends_is_no_reading() {
    let plan = ["+9.90000000E+37", "-9.90000000E+37", "+9.91000000E+37"];
    let simulated = Simulated::that(&plan.map(Does::Answers));
    let mut instrument = at(&simulated);
    for nothing in [Nothing::AboveRange, Nothing::BelowRange, Nothing::NotANumber] {
        assert_eq!(instrument.value(QUERY), Ok(Answered::Nothing(nothing)));
    }
}

#[test]
fn what_the_instrument_notes_is_said_in_its_words() {
    let simulated = Simulated::that(&[Does::Fails, Does::Answers("12.6")]);
    let mut instrument = at(&simulated);
    let fault = instrument.value(QUERY).unwrap_err();
    assert!(matches!(&fault, InstrumentFault::Noted { said, .. } if said.starts_with("-240")), "{fault}");
    // A question that it does not know: -113, undefined header.
    let fault = instrument.value("MEASure:TORQue?").unwrap_err();
    assert!(matches!(&fault, InstrumentFault::Noted { said, .. } if said.starts_with("-113")), "{fault}");
    assert_eq!(instrument.value(QUERY), value("12.6"));
}

#[test]
fn an_answer_that_comes_too_late_is_never_taken_for_a_later_one() {
    let simulated = Simulated::that(&[Does::Late("1.0", 700), Does::Answers("2.0"), Does::Answers("3.0")]);
    let mut instrument = at(&simulated);
    assert!(matches!(instrument.value(QUERY), Err(InstrumentFault::NoAnswer { .. })));
    assert_eq!(instrument.value(QUERY), value("2.0"));
    std::thread::sleep(Duration::from_millis(700));
    assert_eq!(instrument.value(QUERY), value("3.0"));
}

#[test]
fn slow_letters_do_not_stretch_the_patience() {
    let simulated = Simulated::that(&[Does::Dribbles("+1.41600000E+01", 100), Does::Dribbles("12.6", 20)]);
    let mut instrument = at(&simulated);
    let began = Instant::now();
    assert!(matches!(instrument.value(QUERY), Err(InstrumentFault::NoAnswer { .. })));
    assert!(began.elapsed() < Duration::from_millis(1400));
    assert_eq!(instrument.value(QUERY), value("12.6"));
}

#[test]
fn a_lost_connection_is_begun_anew_with_the_same_instrument_only() {
    let simulated = Simulated::that(&[Does::HangsUp, Does::Answers("12.6"), Does::Silent]);
    let mut instrument = at(&simulated);
    assert!(matches!(instrument.value(QUERY), Err(InstrumentFault::Lost { .. })));
    assert_eq!(instrument.value(QUERY), value("12.6"));
    assert!(matches!(instrument.value(QUERY), Err(InstrumentFault::NoAnswer { .. })));
    *simulated.other.lock().unwrap() = true;
    for _ in 0..2 {
        let fault = instrument.value(QUERY).unwrap_err();
        assert!(
            matches!(&fault, InstrumentFault::Another { now, .. } if now.contains("Other meter")),
            "{fault}"
        );
    }
}

#[test]
fn what_is_not_one_number_is_refused() {
    for answer in ["14.1,14.2", "14.1 V", "OVLD", " "] {
        let simulated = Simulated::that(&[Does::Answers(answer)]);
        let fault = at(&simulated).value(QUERY).unwrap_err();
        assert!(matches!(fault, InstrumentFault::NotOneNumber { .. }), "{answer}: {fault}");
    }
    let simulated = Simulated::that(&[Does::Floods]);
    let fault = at(&simulated).value(QUERY).unwrap_err();
    assert!(matches!(&fault, InstrumentFault::Lost { why, .. } if why.contains("longer")), "{fault}");
    for query in ["MEASure:VOLTage:DC", "A?;B?", "A?\nB?", "Größe?", ""] {
        assert!(matches!(at(&simulated).value(query), Err(InstrumentFault::NoQuery { .. })), "{query}");
    }
}

#[test]
fn nobody_there_and_somebody_else_are_told_apart() {
    let free = std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    let nobody = Instrument::at(&free.to_string(), Duration::from_millis(400)).unwrap_err();
    assert!(matches!(nobody, InstrumentFault::Unreachable { .. }));
    let listener = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let address = listener.local_addr().unwrap().to_string();
    std::thread::spawn(move || {
        use std::io::Write;
        for stream in listener.incoming() {
            let _ = stream.unwrap().write_all(b"220 mail ready\n");
        }
    });
    let other = Instrument::at(&address, Duration::from_millis(400)).unwrap_err();
    assert!(matches!(other, InstrumentFault::NoInstrument { .. }), "{other}");
}

#[test]
fn an_address_without_a_port_has_the_usual_one() {
    assert_eq!(with_port("meter.workshop"), "meter.workshop:5025");
    assert_eq!(with_port("192.0.2.7:5555"), "192.0.2.7:5555");
    assert_eq!(with_port("2001:db8::7"), "[2001:db8::7]:5025");
    assert_eq!(with_port("[2001:db8::7]:5555"), "[2001:db8::7]:5555");
}
