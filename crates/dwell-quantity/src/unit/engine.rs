//! Units of rotation, frequency, shares of gases and times, and fuel use.

use super::factor::{
    Factor, IMPERIAL_GALLON, KILO, LITRE, MEGA, MICRO, MILE, MILLI, MINUTE, ONE, US_GALLON, of,
};
use super::table::{BY_NAME, GALLONS, Row, SI, TRADE, WITH_SI, YARD_POUND, row};
use crate::kind::Kind;

const ROTATION: &[Kind] = &[Kind::ROTATIONAL_SPEED];
const FREQUENCY: &[Kind] = &[Kind::FREQUENCY];

/// Revolutions count in turns, never in radians: 850 r/min are 14.17 revolutions a second and not 89 of anything.
pub(super) static ROTATIONS: &[Row] = &[
    row("r/s", "{rev}/s", ONE, ROTATION, BY_NAME, &["rev/s", "rps"]),
    row(
        "rpm",
        "{rev}/min",
        ONE.over(MINUTE),
        ROTATION,
        BY_NAME,
        &["r/min", "rev/min", "RPM", "min⁻¹", "U/min", "tr/min"],
    ),
    row("°/s", "{rev}/(360.s)", of(1, 360), ROTATION, BY_NAME, &["deg/s"]),
    row("Hz", "Hz", ONE, FREQUENCY, SI, &["hertz"]),
    row("kHz", "kHz", KILO, FREQUENCY, SI, &[]),
    row("MHz", "MHz", MEGA, FREQUENCY, SI, &[]),
];

const PER_CENT: Factor = of(1, 100);
/// What a bare per cent can be. Hydrocarbons and nitrogen oxides are given in parts per million only.
const ANY_SHARE: &[Kind] = &[
    Kind::DUTY_RATIO,
    Kind::RATIO,
    Kind::SLOPE,
    Kind::VOLUME_FRACTION,
    Kind::MASS_FRACTION,
    Kind::RELATIVE_HUMIDITY,
    Kind::OPACITY,
    Kind::CO_CONTENT,
    Kind::CO2_CONTENT,
    Kind::O2_CONTENT,
];
const GAS_BY_VOLUME: &[Kind] =
    &[Kind::CO_CONTENT, Kind::CO2_CONTENT, Kind::O2_CONTENT, Kind::VOLUME_FRACTION];
const GAS: &[Kind] = &[
    Kind::CO_CONTENT,
    Kind::CO2_CONTENT,
    Kind::O2_CONTENT,
    Kind::HC_CONTENT,
    Kind::NOX_CONTENT,
    Kind::VOLUME_FRACTION,
];
const SLOPE: &[Kind] = &[Kind::SLOPE];
const DUTY: &[Kind] = &[Kind::DUTY_RATIO];
const BY_MASS: &[Kind] = &[Kind::MASS_FRACTION];
const MOLE_FRACTION: &str = "40 CFR 1066.20(b)(5)-(6): 1 ppm = 1 µmol/mol, 1 % = 10 mmol/mol";

pub(super) static SHARES: &[Row] = &[
    row("%", "%", PER_CENT, ANY_SHARE, WITH_SI, &["percent", "per cent"]),
    row(
        "%vol",
        "%{vol}",
        PER_CENT,
        GAS_BY_VOLUME,
        MOLE_FRACTION,
        &["% vol", "vol%", "vol %", "%Vol", "Vol%", "vol.-%"],
    ),
    row("%mass", "%{mass}", PER_CENT, BY_MASS, WITH_SI, &["% mass", "wt%"]),
    row("ppm", "[ppm]", MICRO, GAS, MOLE_FRACTION, &["ppm vol", "ppmv"]),
    row("m³/m³", "m3/m3", ONE, GAS, SI, &["m3/m3"]),
    row("kg/kg", "kg/kg", ONE, BY_MASS, SI, &[]),
    row("s/s", "s/s", ONE, DUTY, SI, &[]),
    row("Pa/Pa", "Pa/Pa", ONE, &[Kind::RELATIVE_HUMIDITY], SI, &[]),
    row("lm/lm", "lm/lm", ONE, &[Kind::OPACITY], SI, &[]),
    row("m/m", "m/m", ONE, SLOPE, SI, &[]),
    row("mm/m", "mm/m", MILLI, SLOPE, SI, &[]),
    row("in/ft", "[in_i]/[ft_i]", of(1, 12), SLOPE, YARD_POUND, &[]),
    row("m⁻¹", "/m", ONE, &[Kind::ABSORPTION_COEFFICIENT], SI, &["m^-1"]),
];

const CONSUMPTION: &[Kind] = &[Kind::FUEL_CONSUMPTION];
const ECONOMY: &[Kind] = &[Kind::FUEL_ECONOMY];

/// Consumption and economy are two kinds: one is one over the other, so no factor leads across.
pub(super) static FUEL: &[Row] = &[
    row("m³/m", "m3/m", ONE, CONSUMPTION, SI, &[]),
    row(
        "L/100km",
        "L/(100.km)",
        LITRE.over(KILO.times(of(100, 1))),
        CONSUMPTION,
        TRADE,
        &["L/100 km", "l/100km", "l/100 km"],
    ),
    row("m/m³", "m/m3", ONE, ECONOMY, SI, &[]),
    row("km/L", "km/L", KILO.over(LITRE), ECONOMY, WITH_SI, &["km/l"]),
    row(
        "mpg(US)",
        "[mi_i]/[gal_us]",
        MILE.over(US_GALLON),
        ECONOMY,
        GALLONS,
        &["mpg (US)", "US mpg", "mpg US"],
    ),
    row(
        "mpg(imp)",
        "[mi_i]/[gal_br]",
        MILE.over(IMPERIAL_GALLON),
        ECONOMY,
        GALLONS,
        &["mpg (imp)", "imp mpg", "mpg(UK)", "mpg imp"],
    ),
];
