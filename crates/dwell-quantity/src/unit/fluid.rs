//! Units of pressure, flow, density, viscosity and temperature.

use super::factor::{
    FOOT, Factor, GIGA, HOUR, IMPERIAL_GALLON, INCH, KILO, KILOGRAM_FORCE, LITRE, MEGA, MICRO, MILLI, MINUTE,
    ONE, POUND, POUND_FORCE, US_GALLON, of,
};
use super::table::{GALLONS, Row, SI, TRADE, WITH_GRAVITY, WITH_SI, YARD_POUND, row};
use crate::kind::Kind;

const PRESSURE: &[Kind] =
    &[Kind::GAUGE_PRESSURE, Kind::ABSOLUTE_PRESSURE, Kind::VACUUM, Kind::PRESSURE_DIFFERENCE, Kind::STRESS];
const COLUMN: &[Kind] =
    &[Kind::GAUGE_PRESSURE, Kind::ABSOLUTE_PRESSURE, Kind::VACUUM, Kind::PRESSURE_DIFFERENCE];
const GAUGE: &[Kind] = &[Kind::GAUGE_PRESSURE];
const ABSOLUTE: &[Kind] = &[Kind::ABSOLUTE_PRESSURE];
const DIFFERENTIAL: &[Kind] = &[Kind::PRESSURE_DIFFERENCE];
const STRESS: &[Kind] = &[Kind::STRESS];

const BAR: Factor = of(100_000, 1);
const PSI: Factor = POUND_FORCE.over(INCH.times(INCH));
const ATMOSPHERE: Factor = of(101_325, 1);
/// A millimetre of mercury of the conventional density 13.5951 g/cm³ under standard gravity, in pascals.
const MM_MERCURY: Factor = of(135_951, 10_000).times(KILOGRAM_FORCE);
const INCH_MERCURY: Factor = MM_MERCURY.times(of(254, 10));
/// A millimetre of water of 1 g/cm³ under standard gravity, in pascals.
const MM_WATER: Factor = KILOGRAM_FORCE;
const INCH_WATER: Factor = MM_WATER.times(of(254, 10));
const MERCURY: &str = "NIST SP 811 (2008) App. B, conventional mercury: 13.5951 g/cm³ and g_n 9.80665 m/s², exact by convention";
const WATER: &str =
    "NIST SP 811 (2008) App. B, conventional water: 1 g/cm³ and g_n 9.80665 m/s², exact by convention";
const ATM: &str = "NIST SP 811 (2008) App. B: standard atmosphere 101 325 Pa, exact";

pub(super) static PRESSURES: &[Row] = &[
    row("Pa", "Pa", ONE, PRESSURE, SI, &[]),
    row("hPa", "hPa", of(100, 1), PRESSURE, SI, &[]),
    row("kPa", "kPa", KILO, PRESSURE, SI, &[]),
    row("MPa", "MPa", MEGA, PRESSURE, SI, &[]),
    row("GPa", "GPa", GIGA, STRESS, SI, &[]),
    row("N/mm²", "N/mm2", MEGA, STRESS, SI, &["N/mm2", "N/mm^2"]),
    row("bar", "bar", BAR, PRESSURE, WITH_SI, &[]),
    row("mbar", "mbar", BAR.times(MILLI), PRESSURE, WITH_SI, &[]),
    row("psi", "[psi]", PSI, PRESSURE, WITH_GRAVITY, &["lbf/in²", "lbf/in2", "lbf/in^2"]),
    row("ksi", "k[psi]", PSI.times(KILO), STRESS, WITH_GRAVITY, &[]),
    row("atm", "atm", ATMOSPHERE, COLUMN, ATM, &[]),
    row("torr", "atm/760", ATMOSPHERE.over(of(760, 1)), COLUMN, ATM, &["Torr"]),
    row(
        "kgf/cm²",
        "kgf/cm2",
        KILOGRAM_FORCE.times(of(10_000, 1)),
        PRESSURE,
        WITH_GRAVITY,
        &["kgf/cm2", "kgf/cm^2"],
    ),
    row("mmHg", "mm[Hg]", MM_MERCURY, COLUMN, MERCURY, &["mm Hg"]),
    row("inHg", "[in_i'Hg]", INCH_MERCURY, COLUMN, MERCURY, &["in Hg", "in.Hg", "inHG"]),
    row("mmH2O", "mm[H2O]", MM_WATER, COLUMN, WATER, &["mmH₂O", "mm H2O", "mmWC"]),
    row("inH2O", "[in_i'H2O]", INCH_WATER, COLUMN, WATER, &["inH₂O", "in H2O", "inWC", "inwc"]),
    row("bar(g)", "bar{gauge}", BAR, GAUGE, TRADE, &["barg", "bar (g)"]).difference("bar"),
    row("bar(a)", "bar{absolute}", BAR, ABSOLUTE, TRADE, &["bara", "bar (a)"]).difference("bar"),
    row("kPa(g)", "kPa{gauge}", KILO, GAUGE, TRADE, &["kPag", "kPa (g)"]).difference("kPa"),
    row("kPa(a)", "kPa{absolute}", KILO, ABSOLUTE, TRADE, &["kPaa", "kPa (a)"]).difference("kPa"),
    row("psig", "[psi]{gauge}", PSI, GAUGE, TRADE, &["psi(g)", "psi (g)"]).difference("psi"),
    row("psia", "[psi]{absolute}", PSI, ABSOLUTE, TRADE, &["psi(a)", "psi (a)"]).difference("psi"),
    row("psid", "[psi]{differential}", PSI, DIFFERENTIAL, TRADE, &["psi(d)", "psi (d)"]),
];

const FLOW: &[Kind] = &[Kind::VOLUME_FLOW];
const MASS_FLOW: &[Kind] = &[Kind::MASS_FLOW];
const CUBIC_FOOT: Factor = FOOT.times(FOOT).times(FOOT);

pub(super) static FLOWS: &[Row] = &[
    row("m³/s", "m3/s", ONE, FLOW, SI, &["m3/s"]),
    row("m³/h", "m3/h", ONE.over(HOUR), FLOW, WITH_SI, &["m3/h"]),
    row("L/s", "L/s", LITRE, FLOW, WITH_SI, &["l/s"]),
    row("L/min", "L/min", LITRE.over(MINUTE), FLOW, WITH_SI, &["l/min"]),
    row("L/h", "L/h", LITRE.over(HOUR), FLOW, WITH_SI, &["l/h"]),
    row("mL/min", "mL/min", LITRE.times(MILLI).over(MINUTE), FLOW, WITH_SI, &["ml/min"]),
    row("cm³/min", "cm3/min", MICRO.over(MINUTE), FLOW, WITH_SI, &["cm3/min", "cc/min"]),
    row("ft³/min", "[cft_i]/min", CUBIC_FOOT.over(MINUTE), FLOW, YARD_POUND, &["ft3/min", "cfm", "CFM"]),
    row("gal(US)/min", "[gal_us]/min", US_GALLON.over(MINUTE), FLOW, GALLONS, &["gpm(US)", "US gpm"]),
    row("gal(US)/h", "[gal_us]/h", US_GALLON.over(HOUR), FLOW, GALLONS, &["gph(US)", "US gph"]),
    row(
        "gal(imp)/min",
        "[gal_br]/min",
        IMPERIAL_GALLON.over(MINUTE),
        FLOW,
        GALLONS,
        &["gpm(imp)", "imp gpm"],
    ),
    row("gal(imp)/h", "[gal_br]/h", IMPERIAL_GALLON.over(HOUR), FLOW, GALLONS, &["gph(imp)", "imp gph"]),
    row("kg/s", "kg/s", ONE, MASS_FLOW, SI, &[]),
    row("kg/h", "kg/h", ONE.over(HOUR), MASS_FLOW, WITH_SI, &[]),
    row("g/s", "g/s", MILLI, MASS_FLOW, SI, &[]),
    row("g/min", "g/min", MILLI.over(MINUTE), MASS_FLOW, WITH_SI, &[]),
    row("lbm/min", "[lb_av]/min", POUND.over(MINUTE), MASS_FLOW, YARD_POUND, &[]),
    row("lbm/h", "[lb_av]/h", POUND.over(HOUR), MASS_FLOW, YARD_POUND, &[]),
];

const DENSITY: &[Kind] = &[Kind::DENSITY];
const VISCOSITY: &[Kind] = &[Kind::VISCOSITY];
const KINEMATIC: &[Kind] = &[Kind::KINEMATIC_VISCOSITY];

pub(super) static MATTER: &[Row] = &[
    row("kg/m³", "kg/m3", ONE, DENSITY, SI, &["kg/m3", "kg/m^3"]),
    row("kg/L", "kg/L", KILO, DENSITY, WITH_SI, &["kg/l"]),
    row("g/L", "g/L", ONE, DENSITY, WITH_SI, &["g/l"]),
    row("g/cm³", "g/cm3", KILO, DENSITY, SI, &["g/cm3", "g/cm^3", "g/cc"]),
    row("g/mL", "g/mL", KILO, DENSITY, WITH_SI, &["g/ml"]),
    row("lbm/ft³", "[lb_av]/[cft_i]", POUND.over(CUBIC_FOOT), DENSITY, YARD_POUND, &["lbm/ft3"]),
    row("lbm/gal(US)", "[lb_av]/[gal_us]", POUND.over(US_GALLON), DENSITY, GALLONS, &[]),
    row("Pa·s", "Pa.s", ONE, VISCOSITY, SI, &["Pa.s", "Pa*s"]),
    row("mPa·s", "mPa.s", MILLI, VISCOSITY, SI, &["mPa.s", "mPa*s", "cP"]),
    row("m²/s", "m2/s", ONE, KINEMATIC, SI, &["m2/s"]),
    row("mm²/s", "mm2/s", MICRO, KINEMATIC, SI, &["mm2/s", "cSt"]),
];

const TEMPERATURE: &[Kind] = &[Kind::TEMPERATURE, Kind::TEMPERATURE_DIFFERENCE];
const RISE: &[Kind] = &[Kind::TEMPERATURE_DIFFERENCE];
const CELSIUS: &str = "NIST SP 811 (2008) B.9: T/K = t/°C + 273.15, exact";
const FAHRENHEIT: &str = "NIST SP 811 (2008) B.9: t/°C = (t/°F - 32)/1.8, exact";

pub(super) static TEMPERATURES: &[Row] = &[
    row("K", "K", ONE, TEMPERATURE, SI, &["kelvin", "\u{212A}"]),
    row("°C", "Cel", ONE, TEMPERATURE, CELSIUS, &["degC", "deg C"]).offset(of(27_315, 100)).difference("K"),
    row("°F", "[degF]", of(5, 9), TEMPERATURE, FAHRENHEIT, &["degF", "deg F"])
        .offset(of(45_967, 180))
        .difference("°R"),
    row("°R", "[degR]", of(5, 9), RISE, FAHRENHEIT, &["degR"]),
];
