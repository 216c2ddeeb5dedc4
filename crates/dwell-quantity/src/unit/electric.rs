//! Electrical units.

use super::factor::{GIGA, HOUR, KILO, MEGA, MICRO, MILLI, NANO, ONE, PICO};
use super::table::{Row, SI, TRADE, WITH_SI, row};
use crate::kind::Kind;

const VOLTAGE: &[Kind] =
    &[Kind::ELECTRIC_POTENTIAL, Kind::ELECTRIC_POTENTIAL_DIFFERENCE, Kind::DC_VOLTAGE, Kind::AC_VOLTAGE];
const DIRECT_VOLTAGE: &[Kind] = &[Kind::DC_VOLTAGE];
const ALTERNATING_VOLTAGE: &[Kind] = &[Kind::AC_VOLTAGE];
const CURRENT: &[Kind] = &[Kind::ELECTRIC_CURRENT, Kind::DC_CURRENT, Kind::AC_CURRENT];
const APPARENT_POWER: &[Kind] = &[Kind::APPARENT_POWER];

pub(super) static VOLTAGES: &[Row] = &[
    row("V", "V", ONE, VOLTAGE, SI, &["volt", "volts"]),
    row("kV", "kV", KILO, VOLTAGE, SI, &[]),
    row("mV", "mV", MILLI, VOLTAGE, SI, &[]),
    row("µV", "uV", MICRO, VOLTAGE, SI, &["μV", "uV"]),
    row("V DC", "V{direct}", ONE, DIRECT_VOLTAGE, TRADE, &["VDC", "Vdc"]).difference("V"),
    row("V AC", "V{alternating}", ONE, ALTERNATING_VOLTAGE, TRADE, &["VAC", "Vac"]).difference("V"),
    row("A", "A", ONE, CURRENT, SI, &["amp", "amps", "ampere", "amperes"]),
    row("kA", "kA", KILO, CURRENT, SI, &[]),
    row("mA", "mA", MILLI, CURRENT, SI, &[]),
    row("µA", "uA", MICRO, CURRENT, SI, &["μA", "uA"]),
    row("V·A", "V.A", ONE, APPARENT_POWER, SI, &["V.A", "V*A", "VA"]),
    row("kV·A", "kV.A", KILO, APPARENT_POWER, SI, &["kV.A", "kV*A", "kVA"]),
];

const RESISTANCE: &[Kind] = &[Kind::RESISTANCE, Kind::INSULATION_RESISTANCE];
const PER_VOLT: &[Kind] = &[Kind::RESISTANCE_PER_VOLTAGE];
const CONDUCTANCE: &[Kind] = &[Kind::CONDUCTANCE];

pub(super) static RESISTANCES: &[Row] = &[
    row("Ω", "Ohm", ONE, RESISTANCE, SI, &["\u{2126}", "ohm", "ohms", "Ohm"]),
    row("µΩ", "uOhm", MICRO, RESISTANCE, SI, &["μΩ", "µ\u{2126}", "μ\u{2126}", "uohm"]),
    row("mΩ", "mOhm", MILLI, RESISTANCE, SI, &["m\u{2126}", "mohm", "mOhm"]),
    row("kΩ", "kOhm", KILO, RESISTANCE, SI, &["k\u{2126}", "kohm", "kOhm"]),
    row("MΩ", "MOhm", MEGA, RESISTANCE, SI, &["M\u{2126}", "Mohm", "MOhm"]),
    row("GΩ", "GOhm", GIGA, RESISTANCE, SI, &["G\u{2126}", "Gohm", "GOhm"]),
    row("Ω/V", "Ohm/V", ONE, PER_VOLT, SI, &["\u{2126}/V", "ohm/V"]),
    row("kΩ/V", "kOhm/V", KILO, PER_VOLT, SI, &["k\u{2126}/V", "kohm/V"]),
    row("S", "S", ONE, CONDUCTANCE, SI, &["siemens"]),
    row("mS", "mS", MILLI, CONDUCTANCE, SI, &[]),
];

const CHARGE: &[Kind] = &[Kind::ELECTRIC_CHARGE];
const CAPACITANCE: &[Kind] = &[Kind::CAPACITANCE];
const INDUCTANCE: &[Kind] = &[Kind::INDUCTANCE];

/// The symbols `F` and `H` are written out: a lone F is also how degrees Fahrenheit are scribbled.
pub(super) static STORES: &[Row] = &[
    row("A·s", "A.s", ONE, CHARGE, SI, &["A.s", "A*s", "As", "coulomb", "coulombs"]),
    row("A·h", "A.h", HOUR, CHARGE, WITH_SI, &["A.h", "A*h", "Ah"]),
    row("mA·h", "mA.h", HOUR.times(MILLI), CHARGE, WITH_SI, &["mA.h", "mA*h", "mAh"]),
    row("farad", "F", ONE, CAPACITANCE, SI, &["farads"]),
    row("mF", "mF", MILLI, CAPACITANCE, SI, &[]),
    row("µF", "uF", MICRO, CAPACITANCE, SI, &["μF", "uF"]),
    row("nF", "nF", NANO, CAPACITANCE, SI, &[]),
    row("pF", "pF", PICO, CAPACITANCE, SI, &[]),
    row("henry", "H", ONE, INDUCTANCE, SI, &["henries"]),
    row("mH", "mH", MILLI, INDUCTANCE, SI, &[]),
    row("µH", "uH", MICRO, INDUCTANCE, SI, &["μH", "uH"]),
];
