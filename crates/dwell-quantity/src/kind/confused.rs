//! Pairs of kinds that are easily confused, each with the sentence that says why they must not meet.

use super::Kind;

/// A sentence, and the groups whose members must not meet: every kind of the first with every one of the second.
struct Pair(&'static [Kind], &'static [Kind], &'static str);

const CONTENTS: &[Kind] = &[
    Kind::CO_CONTENT,
    Kind::CO2_CONTENT,
    Kind::O2_CONTENT,
    Kind::HC_CONTENT,
    Kind::NOX_CONTENT,
    Kind::VOLUME_FRACTION,
];
const FRACTIONS: &[Kind] = &[
    Kind::DUTY_RATIO,
    Kind::RATIO,
    Kind::SLOPE,
    Kind::MASS_FRACTION,
    Kind::RELATIVE_HUMIDITY,
    Kind::OPACITY,
    Kind::LAMBDA,
];

static PAIRS: &[Pair] = &[
    Pair(
        &[Kind::GAUGE_PRESSURE],
        &[Kind::ABSOLUTE_PRESSURE],
        "a gauge pressure counts from the air around it and an absolute pressure from a perfect vacuum: they differ by about one atmosphere",
    ),
    Pair(
        &[Kind::VACUUM],
        &[Kind::GAUGE_PRESSURE, Kind::ABSOLUTE_PRESSURE],
        "a vacuum counts downwards from the air around it: more vacuum is less pressure",
    ),
    Pair(
        &[Kind::PRESSURE_DIFFERENCE],
        &[Kind::GAUGE_PRESSURE, Kind::ABSOLUTE_PRESSURE, Kind::VACUUM],
        "a pressure difference is taken between two places or two moments; the other is the pressure of one place",
    ),
    Pair(
        &[Kind::STRESS],
        &[Kind::GAUGE_PRESSURE, Kind::ABSOLUTE_PRESSURE, Kind::VACUUM, Kind::PRESSURE_DIFFERENCE],
        "a stress acts inside a part, a pressure is that of a fluid, though both are force over area",
    ),
    Pair(
        &[Kind::TEMPERATURE],
        &[Kind::TEMPERATURE_DIFFERENCE],
        "a temperature is a place on a scale and a difference is an extent: 15 °C is 59 °F, but a rise of 15 °C is 27 °F",
    ),
    Pair(
        &[Kind::CRANK_ANGLE],
        &[Kind::CAMSHAFT_ANGLE, Kind::DWELL_ANGLE],
        "the camshaft turns once for two turns of the crankshaft, so the same timing has half as many degrees on it",
    ),
    Pair(
        &[Kind::CRANK_ANGLE, Kind::CAMSHAFT_ANGLE, Kind::DWELL_ANGLE],
        &[Kind::ANGLE, Kind::ANGLE_DIFFERENCE, Kind::TOTAL_ANGLE, Kind::WHEEL_ANGLE, Kind::TURN_ANGLE],
        "an angle of engine timing is not an angle of a part: say of which shaft the degrees are",
    ),
    Pair(
        &[Kind::CAMSHAFT_ANGLE],
        &[Kind::DWELL_ANGLE],
        "a dwell is how long contacts stay closed and not where the shaft stands",
    ),
    Pair(
        &[Kind::WHEEL_ANGLE, Kind::TURN_ANGLE],
        &[Kind::ANGLE, Kind::ANGLE_DIFFERENCE, Kind::TOTAL_ANGLE],
        "how far something is turned is not the angle at which a part stands",
    ),
    Pair(
        &[Kind::WHEEL_ANGLE],
        &[Kind::TURN_ANGLE],
        "the steering wheel has a straight-ahead position to count from, a bolt has none",
    ),
    Pair(
        &[Kind::TOTAL_ANGLE],
        &[Kind::ANGLE, Kind::ANGLE_DIFFERENCE],
        "a total is the sum over both wheels: taken for one wheel, the setting comes out half or double",
    ),
    Pair(
        &[Kind::TOTAL_LENGTH],
        &[Kind::LENGTH],
        "a total is the sum over both wheels: taken for one wheel, the setting comes out half or double",
    ),
    Pair(
        &[Kind::ANGLE],
        &[Kind::ANGLE_DIFFERENCE],
        "a difference of two angles says nothing about where either of them stands",
    ),
    Pair(
        &[Kind::ANGLE, Kind::TOTAL_ANGLE],
        &[Kind::LENGTH, Kind::TOTAL_LENGTH],
        "an angle becomes a length only at a stated radius: 4 mm are 0.60° on 381 mm and 0.50° on 457 mm",
    ),
    Pair(
        &[Kind::ANGLE, Kind::TOTAL_ANGLE],
        &[Kind::SLOPE],
        "a slope in per cent is the tangent of the angle: 1 % is 0.573° and not 1°",
    ),
    Pair(
        &[Kind::ROTATIONAL_SPEED],
        &[Kind::FREQUENCY],
        "a shaft gives as many pulses a revolution as it has teeth or cylinders, so revolutions are not hertz of a signal",
    ),
    Pair(
        &[Kind::TORQUE],
        &[Kind::ENERGY],
        "torque and energy are both newtons times metres, but a bolt at rest under torque does no work",
    ),
    Pair(&[Kind::TORQUE], &[Kind::FORCE], "a force makes a torque only at the end of a stated lever"),
    Pair(&[Kind::FORCE], &[Kind::MASS], "a spring scale shows a force; a mass of 1 kg weighs about 9.8 N"),
    Pair(&[Kind::FORCE], &[Kind::ENERGY], "energy is force over a distance, and the distance is missing"),
    Pair(&[Kind::ENERGY], &[Kind::POWER], "power is energy in a time: kilowatts are not kilowatt-hours"),
    Pair(
        &[Kind::ELECTRIC_CHARGE],
        &[Kind::ELECTRIC_CURRENT, Kind::DC_CURRENT, Kind::AC_CURRENT],
        "a current is charge in a time: amperes are not ampere-hours",
    ),
    Pair(
        &[Kind::DC_VOLTAGE],
        &[Kind::AC_VOLTAGE],
        "a meter set to direct voltage shows next to nothing of a deadly alternating one, and the reverse",
    ),
    Pair(
        &[Kind::DC_CURRENT],
        &[Kind::AC_CURRENT],
        "direct and alternating current are measured in different ways",
    ),
    Pair(
        &[Kind::ELECTRIC_POTENTIAL, Kind::DC_VOLTAGE],
        &[Kind::ELECTRIC_POTENTIAL_DIFFERENCE],
        "the voltage of a point against its reference is not the drop along a conductor",
    ),
    Pair(
        &[Kind::INSULATION_RESISTANCE],
        &[Kind::RESISTANCE],
        "the resistance of an insulation holds only at its test voltage; an ohmmeter does not measure it",
    ),
    Pair(
        &[Kind::RESISTANCE_PER_VOLTAGE],
        &[Kind::RESISTANCE, Kind::INSULATION_RESISTANCE],
        "ohms per volt become ohms only with the working voltage: 100 Ω/V at 400 V are 40 kΩ",
    ),
    Pair(
        &[Kind::RESISTANCE],
        &[Kind::CONDUCTANCE],
        "conductance is one over resistance: more of the one is less of the other",
    ),
    Pair(
        &[Kind::POWER],
        &[Kind::APPARENT_POWER],
        "volts times amperes of an alternating supply are more than its power in watts",
    ),
    Pair(
        &[Kind::HC_CONTENT],
        &[Kind::CO_CONTENT, Kind::CO2_CONTENT, Kind::O2_CONTENT, Kind::NOX_CONTENT],
        "these are shares of different gases: 220 ppm of hydrocarbons and 1.2 % of carbon monoxide have nothing to compare",
    ),
    Pair(
        &[Kind::CO_CONTENT],
        &[Kind::CO2_CONTENT, Kind::O2_CONTENT, Kind::NOX_CONTENT],
        "these are shares of different gases",
    ),
    Pair(&[Kind::CO2_CONTENT], &[Kind::O2_CONTENT, Kind::NOX_CONTENT], "these are shares of different gases"),
    Pair(&[Kind::O2_CONTENT], &[Kind::NOX_CONTENT], "these are shares of different gases"),
    Pair(
        CONTENTS,
        FRACTIONS,
        "a share of a volume is not any other per cent: a duty, a slope or a share of a mass",
    ),
    Pair(
        &[Kind::DUTY_RATIO],
        &[Kind::DWELL_ANGLE],
        "a dwell in degrees becomes a per cent only with the number of cylinders: 54° of four cylinders are 60 %",
    ),
    Pair(
        &[Kind::DUTY_RATIO],
        &[Kind::RATIO, Kind::SLOPE, Kind::MASS_FRACTION, Kind::RELATIVE_HUMIDITY, Kind::OPACITY],
        "per cents of different things: a duty is a share of the time",
    ),
    Pair(
        &[Kind::OPACITY],
        &[Kind::ABSORPTION_COEFFICIENT],
        "opacity depends on the length of the smoke column, the absorption coefficient does not",
    ),
    Pair(
        &[Kind::SPECIFIC_GRAVITY],
        &[Kind::DENSITY],
        "a specific gravity has no unit and refers to water at a stated temperature; a density does not",
    ),
    Pair(
        &[Kind::VOLUME_FLOW],
        &[Kind::MASS_FLOW],
        "volume becomes mass only with the density at that temperature and pressure",
    ),
    Pair(&[Kind::VOLUME], &[Kind::MASS], "volume becomes mass only with the density"),
    Pair(
        &[Kind::FUEL_CONSUMPTION],
        &[Kind::FUEL_ECONOMY],
        "one is one over the other, so the ends of a band change places: 30 ± 1 mpg(US) is 7.59 .. 8.11 L/100km",
    ),
    Pair(
        &[Kind::VISCOSITY],
        &[Kind::KINEMATIC_VISCOSITY],
        "kinematic viscosity is the dynamic one over the density",
    ),
    Pair(
        &[Kind::LUMINOUS_INTENSITY],
        &[Kind::ILLUMINANCE, Kind::LUMINOUS_FLUX],
        "how strong a lamp shines one way, how much it gives in all and how bright a place is are three things",
    ),
    Pair(&[Kind::LUMINOUS_FLUX], &[Kind::ILLUMINANCE], "lumens become lux only over a stated area"),
    Pair(&[Kind::DURATION], &[Kind::CALENDAR_PERIOD], "a month has no fixed number of seconds"),
    Pair(
        &[Kind::DURATION],
        &[Kind::CRANK_ANGLE, Kind::DWELL_ANGLE],
        "degrees of a turning shaft become a time only at a stated speed: 6° of crank at 850 r/min are 1.18 ms",
    ),
    Pair(
        &[Kind::SPEED],
        &[Kind::ROTATIONAL_SPEED],
        "the speed of a rim becomes revolutions only with its radius",
    ),
];

/// The sentence of the pair, whichever of the two comes first.
pub(super) fn why_not(one: Kind, other: Kind) -> Option<&'static str> {
    let meets = |pair: &&Pair| {
        (pair.0.contains(&one) && pair.1.contains(&other))
            || (pair.0.contains(&other) && pair.1.contains(&one))
    };
    PAIRS.iter().find(meets).map(|pair| pair.2)
}
