//! The table of kinds: one row each, with its base unit, what is special about it, and what it is.

use super::{Kind, Row, Trait};

/// Makes a constant of [`Kind`] for each row, and the list of all; the sentence above a row is what `about` answers.
macro_rules! kinds {
    ($(
        #[doc = $about:literal]
        $constant:ident = $name:literal, base $base:literal, usual $usual:literal
            $(, is $($special:ident)+)? $(, difference $difference:literal)? $(, total $total:literal)?
            $(, broader $broader:literal)?;
    )+) => {
        impl Kind {
            $(
                #[doc = $about]
                pub const $constant: Kind = Kind(&Row {
                    name: $name,
                    base: $base,
                    usual: $usual,
                    traits: &[$($(Trait::$special),+)?],
                    difference: first(&[$($difference)?]),
                    total: first(&[$($total)?]),
                    broader: first(&[$($broader)?]),
                    about: $about,
                });
            )+
        }

        /// Every kind, in the order in which a reference lists them.
        pub(super) static KINDS: &[Kind] = &[$(Kind::$constant),+];
    };
}

/// The first of at most one.
const fn first(names: &'static [&'static str]) -> Option<&'static str> {
    names.first().copied()
}

kinds! {
    /// Length, width, gap, travel (ISO 80000-3).
    LENGTH = "length", base "m", usual "mm", total "total-length";
    /// Area (ISO 80000-3).
    AREA = "area", base "m²", usual "cm²";
    /// Volume, such as a filling quantity or a displacement (ISO 80000-3).
    VOLUME = "volume", base "m³", usual "L";
    /// Length summed over both sides of an axle, such as total toe; never the value of one wheel.
    TOTAL_LENGTH = "total-length", base "m", usual "mm", is Signed;
    /// Plane angle of a line or plane, such as camber or toe of one wheel (ISO 80000-3).
    ANGLE = "angle", base "turn", usual "°", is Signed, difference "angle-difference", total "total-angle";
    /// Difference of two angles, such as left against right.
    ANGLE_DIFFERENCE = "angle-difference", base "turn", usual "°", is Signed;
    /// Angle summed over both sides of an axle, such as total toe; never the value of one wheel.
    TOTAL_ANGLE = "total-angle", base "turn", usual "°", is Signed;
    /// Place of the crankshaft, counted from top dead centre; before it is positive.
    CRANK_ANGLE = "crank-angle", base "turn", usual "°BTDC", is Signed Point, difference "angle-difference";
    /// Place of the camshaft or distributor; in a four-stroke it turns once for two turns of the crankshaft.
    CAMSHAFT_ANGLE = "camshaft-angle", base "turn", usual "°cam", is Signed Point, difference "angle-difference";
    /// Angle of distributor shaft over which contacts stay closed.
    DWELL_ANGLE = "dwell-angle", base "turn", usual "°cam", difference "angle-difference";
    /// How far the steering wheel is turned from straight ahead.
    WHEEL_ANGLE = "wheel-angle", base "turn", usual "°", is Signed;
    /// How far a bolt, screw or shaft is turned.
    TURN_ANGLE = "turn-angle", base "turn", usual "°";
    /// Duration (ISO 80000-3).
    DURATION = "duration", base "s", usual "s";
    /// Period counted in calendar months or years, such as a calibration interval; it has no fixed number of seconds.
    CALENDAR_PERIOD = "calendar-period", base "month", usual "month";
    /// Temperature, a place on a scale (ISO 80000-5).
    TEMPERATURE = "temperature", base "K", usual "°C", is Point, difference "temperature-difference";
    /// Rise, fall or tolerance of a temperature (ISO 80000-5).
    TEMPERATURE_DIFFERENCE = "temperature-difference", base "K", usual "K";
    /// Mass (ISO 80000-4).
    MASS = "mass", base "kg", usual "kg";
    /// Force (ISO 80000-4).
    FORCE = "force", base "N", usual "N";
    /// Moment of force, torque (ISO 80000-4).
    TORQUE = "torque", base "N·m", usual "N·m";
    /// Energy, work, heat (ISO 80000-4 and 80000-5).
    ENERGY = "energy", base "J", usual "J";
    /// Power (ISO 80000-4).
    POWER = "power", base "W", usual "kW";
    /// Pressure above or below that of the surrounding air (ISO 80000-4).
    GAUGE_PRESSURE = "gauge-pressure", base "Pa", usual "kPa", difference "pressure-difference";
    /// Pressure counted from a perfect vacuum (ISO 80000-4).
    ABSOLUTE_PRESSURE = "absolute-pressure", base "Pa", usual "kPa", difference "pressure-difference";
    /// How far a pressure lies below that of the surrounding air; counted downwards.
    VACUUM = "vacuum", base "Pa", usual "kPa", difference "pressure-difference";
    /// Pressure between two places, or a drop, a leak, a tolerance.
    PRESSURE_DIFFERENCE = "pressure-difference", base "Pa", usual "kPa";
    /// Mechanical stress or strength (ISO 80000-4).
    STRESS = "stress", base "Pa", usual "N/mm²", is Signed;
    /// Rotational frequency: revolutions in a time (ISO 80000-3).
    ROTATIONAL_SPEED = "rotational-speed", base "r/s", usual "rpm";
    /// Frequency of a vibration, signal or current (ISO 80000-3).
    FREQUENCY = "frequency", base "Hz", usual "Hz";
    /// Speed (ISO 80000-3).
    SPEED = "speed", base "m/s", usual "km/h";
    /// Acceleration, braking (ISO 80000-3).
    ACCELERATION = "acceleration", base "m/s²", usual "m/s²", is Signed;
    /// Volume flow rate (ISO 80000-4).
    VOLUME_FLOW = "volume-flow", base "m³/s", usual "L/min";
    /// Mass flow rate (ISO 80000-4).
    MASS_FLOW = "mass-flow", base "kg/s", usual "kg/h";
    /// Mass density (ISO 80000-4).
    DENSITY = "density", base "kg/m³", usual "kg/L";
    /// Density over that of water, as a battery hydrometer shows it (relative density, ISO 80000-4).
    SPECIFIC_GRAVITY = "specific-gravity", base "", usual "", is Bare;
    /// Dynamic viscosity (ISO 80000-4).
    VISCOSITY = "viscosity", base "Pa·s", usual "mPa·s";
    /// Kinematic viscosity of an oil (ISO 80000-4).
    KINEMATIC_VISCOSITY = "kinematic-viscosity", base "m²/s", usual "mm²/s";
    /// Force for a travel of a spring.
    SPRING_RATE = "spring-rate", base "N/m", usual "N/mm";
    /// Voltage of a point against a stated reference, such as a battery post (ISO 80000-6).
    ELECTRIC_POTENTIAL = "electric-potential", base "V", usual "V", is Signed, difference "electric-potential-difference";
    /// Voltage between two points of one conductor: a drop (ISO 80000-6).
    ELECTRIC_POTENTIAL_DIFFERENCE = "electric-potential-difference", base "V", usual "V", is Signed;
    /// Direct voltage; its sign is the polarity.
    DC_VOLTAGE = "dc-voltage", base "V", usual "V", is Signed, difference "electric-potential-difference", broader "electric-potential";
    /// Alternating voltage, root mean square; never negative.
    AC_VOLTAGE = "ac-voltage", base "V", usual "V", broader "electric-potential";
    /// Electric current (ISO 80000-6).
    ELECTRIC_CURRENT = "electric-current", base "A", usual "A", is Signed;
    /// Direct current; its sign is the direction.
    DC_CURRENT = "dc-current", base "A", usual "A", is Signed, broader "electric-current";
    /// Alternating current, root mean square; never negative.
    AC_CURRENT = "ac-current", base "A", usual "A", broader "electric-current";
    /// Electric charge, battery capacity (ISO 80000-6).
    ELECTRIC_CHARGE = "electric-charge", base "A·s", usual "A·h", is Signed;
    /// Electric resistance (ISO 80000-6).
    RESISTANCE = "resistance", base "Ω", usual "Ω";
    /// Resistance of an insulation, measured with a stated test voltage.
    INSULATION_RESISTANCE = "insulation-resistance", base "Ω", usual "MΩ", broader "resistance";
    /// Insulation resistance over the working voltage (UN Regulation No. 100).
    RESISTANCE_PER_VOLTAGE = "resistance-per-voltage", base "Ω/V", usual "Ω/V";
    /// Electric conductance, as a battery tester shows it (ISO 80000-6).
    CONDUCTANCE = "conductance", base "S", usual "S";
    /// Electric capacitance (ISO 80000-6).
    CAPACITANCE = "capacitance", base "farad", usual "µF";
    /// Electric inductance (ISO 80000-6).
    INDUCTANCE = "inductance", base "henry", usual "mH";
    /// Voltage times current of an alternating supply (ISO 80000-6).
    APPARENT_POWER = "apparent-power", base "V·A", usual "V·A";
    /// Share of carbon monoxide in a gas, by volume.
    CO_CONTENT = "co-content", base "m³/m³", usual "%vol";
    /// Share of carbon dioxide in a gas, by volume.
    CO2_CONTENT = "co2-content", base "m³/m³", usual "%vol";
    /// Share of oxygen in a gas, by volume.
    O2_CONTENT = "o2-content", base "m³/m³", usual "%vol";
    /// Share of hydrocarbons in a gas, counted as one stated gas (hexane in 40 CFR 85.2203).
    HC_CONTENT = "hc-content", base "m³/m³", usual "ppm";
    /// Share of nitrogen oxides in a gas, by volume.
    NOX_CONTENT = "nox-content", base "m³/m³", usual "ppm";
    /// Share of one substance in a mixture by volume, such as antifreeze (ISO 80000-9).
    VOLUME_FRACTION = "volume-fraction", base "m³/m³", usual "%vol";
    /// Share of one substance in a mixture by mass, such as water in brake fluid (ISO 80000-9).
    MASS_FRACTION = "mass-fraction", base "kg/kg", usual "%";
    /// Relative humidity of air (ISO 80000-5).
    RELATIVE_HUMIDITY = "relative-humidity", base "Pa/Pa", usual "%";
    /// Share of the time in which a signal is on.
    DUTY_RATIO = "duty-ratio", base "s/s", usual "%";
    /// Share of light that smoke holds back.
    OPACITY = "opacity", base "lm/lm", usual "%";
    /// Light absorption coefficient of smoke (UN Regulation No. 24).
    ABSORPTION_COEFFICIENT = "absorption-coefficient", base "m⁻¹", usual "m⁻¹";
    /// Air that an engine gets over the air that its fuel needs.
    LAMBDA = "lambda", base "", usual "", is Bare;
    /// Quotient of two quantities of one kind.
    RATIO = "ratio", base "", usual "", is Bare;
    /// Rise over run, such as the inclination of a headlamp beam; its per cent is not an angle.
    SLOPE = "slope", base "m/m", usual "%", is Signed;
    /// Dimensionless count of things.
    NUMBER = "number", base "", usual "", is Counted Bare;
    /// Steps of the last digit that an instrument shows; part of its accuracy.
    DISPLAY_DIGITS = "display-digits", base "digit", usual "digit";
    /// Fuel used over the distance driven; a smaller value is better.
    FUEL_CONSUMPTION = "fuel-consumption", base "m³/m", usual "L/100km";
    /// Distance driven over the fuel used; a larger value is better.
    FUEL_ECONOMY = "fuel-economy", base "m/m³", usual "km/L";
    /// Luminous intensity of a lamp (ISO 80000-7).
    LUMINOUS_INTENSITY = "luminous-intensity", base "cd", usual "cd";
    /// Luminous flux (ISO 80000-7).
    LUMINOUS_FLUX = "luminous-flux", base "lm", usual "lm";
    /// Illuminance at a place, such as a workbench or a headlamp screen (ISO 80000-7).
    ILLUMINANCE = "illuminance", base "lx", usual "lx";
    /// Sound pressure level on the decibel scale (ISO 80000-8); its steps are ratios, so levels are not added.
    SOUND_LEVEL = "sound-level", base "dB", usual "dB(A)";
}
