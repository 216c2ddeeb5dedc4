//! Units of length, area, volume, angle, time and motion.

use super::factor::{
    CENTI, FOOT, GRAVITY, HOUR, IMPERIAL_GALLON, INCH, KILO, LITRE, MICRO, MILE, MILLI, MINUTE, ONE,
    US_GALLON, of,
};
use super::table::{BY_NAME, GALLONS, Row, SI, TRADE, WITH_SI, YARD_POUND, row};
use crate::kind::Kind;

const LENGTH: &[Kind] = &[Kind::LENGTH, Kind::TOTAL_LENGTH];

pub(super) static LENGTHS: &[Row] = &[
    row("m", "m", ONE, LENGTH, SI, &["metre", "metres", "meter", "meters"]),
    row("dm", "dm", of(1, 10), LENGTH, SI, &[]),
    row("cm", "cm", CENTI, LENGTH, SI, &[]),
    row("mm", "mm", MILLI, LENGTH, SI, &[]),
    row("µm", "um", MICRO, LENGTH, SI, &["μm", "um"]),
    row("km", "km", KILO, LENGTH, SI, &[]),
    row("in", "[in_i]", INCH, LENGTH, YARD_POUND, &["inch", "inches"]),
    row("thou", "[mil_i]", INCH.times(MILLI), LENGTH, YARD_POUND, &[]),
    row("ft", "[ft_i]", FOOT, LENGTH, YARD_POUND, &["foot", "feet"]),
    row("yd", "[yd_i]", FOOT.times(of(3, 1)), LENGTH, YARD_POUND, &["yard", "yards"]),
    row("mi", "[mi_i]", MILE, LENGTH, YARD_POUND, &["mile", "miles"]),
];

const AREA: &[Kind] = &[Kind::AREA];

pub(super) static AREAS: &[Row] = &[
    row("m²", "m2", ONE, AREA, SI, &["m2", "m^2"]),
    row("cm²", "cm2", CENTI.times(CENTI), AREA, SI, &["cm2", "cm^2"]),
    row("mm²", "mm2", MICRO, AREA, SI, &["mm2", "mm^2"]),
    row("in²", "[sin_i]", INCH.times(INCH), AREA, YARD_POUND, &["in2", "in^2", "sq in"]),
    row("ft²", "[sft_i]", FOOT.times(FOOT), AREA, YARD_POUND, &["ft2", "ft^2", "sq ft"]),
];

const VOLUME: &[Kind] = &[Kind::VOLUME];

pub(super) static VOLUMES: &[Row] = &[
    row("m³", "m3", ONE, VOLUME, SI, &["m3", "m^3"]),
    row("L", "L", LITRE, VOLUME, WITH_SI, &["l", "litre", "litres", "liter", "liters"]),
    row("dL", "dL", LITRE.over(of(10, 1)), VOLUME, WITH_SI, &["dl"]),
    row("cL", "cL", LITRE.times(CENTI), VOLUME, WITH_SI, &["cl"]),
    row("mL", "mL", LITRE.times(MILLI), VOLUME, WITH_SI, &["ml"]),
    row("cm³", "cm3", MICRO, VOLUME, SI, &["cm3", "cm^3", "ccm", "cc"]),
    row("mm³", "mm3", MICRO.times(MILLI), VOLUME, SI, &["mm3", "mm^3"]),
    row(
        "in³",
        "[cin_i]",
        INCH.times(INCH).times(INCH),
        VOLUME,
        YARD_POUND,
        &["in3", "in^3", "cu in", "cu. in."],
    ),
    row("ft³", "[cft_i]", FOOT.times(FOOT).times(FOOT), VOLUME, YARD_POUND, &["ft3", "ft^3", "cu ft"]),
    row(
        "gal(US)",
        "[gal_us]",
        US_GALLON,
        VOLUME,
        GALLONS,
        &["US gal", "gal US", "gal (US)", "US gallon", "US gallons"],
    ),
    row("qt(US)", "[qt_us]", US_GALLON.over(of(4, 1)), VOLUME, GALLONS, &["US qt", "qt US", "qt (US)"]),
    row("pt(US)", "[pt_us]", US_GALLON.over(of(8, 1)), VOLUME, GALLONS, &["US pt", "pt US", "pt (US)"]),
    row(
        "fl oz(US)",
        "[foz_us]",
        US_GALLON.over(of(128, 1)),
        VOLUME,
        GALLONS,
        &["US fl oz", "fl oz US", "fl oz (US)"],
    ),
    row(
        "gal(imp)",
        "[gal_br]",
        IMPERIAL_GALLON,
        VOLUME,
        GALLONS,
        &[
            "imp gal",
            "gal imp",
            "gal (imp)",
            "gal(UK)",
            "gal (UK)",
            "UK gal",
            "imperial gallon",
            "imperial gallons",
        ],
    ),
    row(
        "qt(imp)",
        "[qt_br]",
        IMPERIAL_GALLON.over(of(4, 1)),
        VOLUME,
        GALLONS,
        &["imp qt", "qt imp", "qt (imp)"],
    ),
    row(
        "pt(imp)",
        "[pt_br]",
        IMPERIAL_GALLON.over(of(8, 1)),
        VOLUME,
        GALLONS,
        &["imp pt", "pt imp", "pt (imp)"],
    ),
    row(
        "fl oz(imp)",
        "[foz_br]",
        IMPERIAL_GALLON.over(of(160, 1)),
        VOLUME,
        GALLONS,
        &["imp fl oz", "fl oz imp", "fl oz (imp)"],
    ),
];

/// The kinds that plain degrees measure. The place of a shaft is not among them: it needs "before" or "after", or the
/// name of the shaft.
const ANGLE: &[Kind] =
    &[Kind::ANGLE, Kind::ANGLE_DIFFERENCE, Kind::TOTAL_ANGLE, Kind::WHEEL_ANGLE, Kind::TURN_ANGLE];
/// A turn is the base unit of every angle.
const EVERY_ANGLE: &[Kind] = &[
    Kind::TURN_ANGLE,
    Kind::WHEEL_ANGLE,
    Kind::ANGLE,
    Kind::ANGLE_DIFFERENCE,
    Kind::TOTAL_ANGLE,
    Kind::CRANK_ANGLE,
    Kind::CAMSHAFT_ANGLE,
    Kind::DWELL_ANGLE,
];
const CRANK: &[Kind] = &[Kind::CRANK_ANGLE];
const CAMSHAFT: &[Kind] = &[Kind::CAMSHAFT_ANGLE, Kind::DWELL_ANGLE];

pub(super) static ANGLES: &[Row] = &[
    row("turn", "circ", ONE, EVERY_ANGLE, BY_NAME, &["turns", "rev", "revs", "revolution", "revolutions"]),
    row("°", "deg", of(1, 360), ANGLE, WITH_SI, &["deg"]),
    row("′", "'", of(1, 21_600), ANGLE, WITH_SI, &["arcmin"]),
    row("″", "''", of(1, 1_296_000), ANGLE, WITH_SI, &["arcsec"]),
    row(
        "°BTDC",
        "deg{BTDC}",
        of(1, 360),
        CRANK,
        TRADE,
        &["° BTDC", "deg BTDC", "degBTDC", "°btdc", "° btdc", "deg btdc"],
    )
    .difference("°"),
    row(
        "°ATDC",
        "deg{ATDC}",
        of(-1, 360),
        CRANK,
        TRADE,
        &["° ATDC", "deg ATDC", "degATDC", "°atdc", "° atdc", "deg atdc"],
    )
    .difference("°"),
    row(
        "°crank",
        "deg{crankshaft}",
        of(1, 360),
        CRANK,
        TRADE,
        &["° crank", "deg crank", "°CA", "° CA", "deg CA"],
    )
    .difference("°"),
    row("°cam", "deg{camshaft}", of(1, 360), CAMSHAFT, TRADE, &["° cam", "deg cam"]).difference("°"),
];

const DURATION: &[Kind] = &[Kind::DURATION];
const CALENDAR: &[Kind] = &[Kind::CALENDAR_PERIOD];

pub(super) static TIMES: &[Row] = &[
    row("s", "s", ONE, DURATION, SI, &["second", "seconds"]),
    row("ms", "ms", MILLI, DURATION, SI, &[]),
    row("µs", "us", MICRO, DURATION, SI, &["μs", "us"]),
    row("min", "min", MINUTE, DURATION, WITH_SI, &["minute", "minutes"]),
    row("h", "h", HOUR, DURATION, WITH_SI, &["hour", "hours"]),
    row("d", "d", of(86_400, 1), DURATION, WITH_SI, &["day", "days"]),
    row("week", "wk", of(604_800, 1), DURATION, BY_NAME, &["weeks"]),
    row("month", "mo", ONE, CALENDAR, BY_NAME, &["months"]),
    row("year", "a", of(12, 1), CALENDAR, BY_NAME, &["years"]),
];

const SPEED: &[Kind] = &[Kind::SPEED];
const ACCELERATION: &[Kind] = &[Kind::ACCELERATION];

pub(super) static MOTION: &[Row] = &[
    row("m/s", "m/s", ONE, SPEED, SI, &[]),
    row("mm/s", "mm/s", MILLI, SPEED, SI, &[]),
    row("m/min", "m/min", ONE.over(MINUTE), SPEED, WITH_SI, &[]),
    row("mm/min", "mm/min", MILLI.over(MINUTE), SPEED, WITH_SI, &[]),
    row("km/h", "km/h", KILO.over(HOUR), SPEED, WITH_SI, &["kph", "kmh"]),
    row("mph", "[mi_i]/h", MILE.over(HOUR), SPEED, YARD_POUND, &["mi/h"]),
    row("ft/s", "[ft_i]/s", FOOT, SPEED, YARD_POUND, &["fps"]),
    row("ft/min", "[ft_i]/min", FOOT.over(MINUTE), SPEED, YARD_POUND, &["fpm"]),
    row("in/s", "[in_i]/s", INCH, SPEED, YARD_POUND, &[]),
    row("kn", "[kn_i]", of(1_852, 3_600), SPEED, WITH_SI, &["knot", "knots"]),
    row("m/s²", "m/s2", ONE, ACCELERATION, SI, &["m/s2", "m/s^2"]),
    row("ft/s²", "[ft_i]/s2", FOOT, ACCELERATION, YARD_POUND, &["ft/s2", "ft/s^2"]),
    row("g_n", "[g]", GRAVITY, ACCELERATION, "NIST SP 811 (2008) App. B: g_n 9.80665 m/s², exact", &["gn"]),
];
