//! Units of mass, force, torque, energy and power.

use super::factor::{
    CENTI, FOOT, HOUR, INCH, KILO, KILOGRAM_FORCE, MEGA, MICRO, MILLI, ONE, OUNCE, POUND, POUND_FORCE, of,
};
use super::table::{Row, SI, WITH_GRAVITY, WITH_SI, YARD_POUND, row};
use crate::kind::Kind;

const MASS: &[Kind] = &[Kind::MASS];

pub(super) static MASSES: &[Row] = &[
    row("kg", "kg", ONE, MASS, SI, &[]),
    row("g", "g", MILLI, MASS, SI, &["gram", "grams"]),
    row("mg", "mg", MICRO, MASS, SI, &[]),
    row("t", "t", KILO, MASS, WITH_SI, &["tonne", "tonnes"]),
    row("lbm", "[lb_av]", POUND, MASS, YARD_POUND, &["lb(mass)", "lb (mass)"]),
    row("ozm", "[oz_av]", OUNCE, MASS, YARD_POUND, &["oz(mass)", "oz (mass)"]),
    row(
        "ton(US)",
        "[ston_av]",
        POUND.times(of(2_000, 1)),
        MASS,
        YARD_POUND,
        &["US ton", "ton (US)", "short ton"],
    ),
    row("ton(imp)", "[lton_av]", POUND.times(of(2_240, 1)), MASS, YARD_POUND, &["ton (imp)", "long ton"]),
];

const FORCE: &[Kind] = &[Kind::FORCE];
const SPRING_RATE: &[Kind] = &[Kind::SPRING_RATE];

pub(super) static FORCES: &[Row] = &[
    row("N", "N", ONE, FORCE, SI, &["newton", "newtons"]),
    row("daN", "daN", of(10, 1), FORCE, SI, &[]),
    row("kN", "kN", KILO, FORCE, SI, &[]),
    row("kgf", "kgf", KILOGRAM_FORCE, FORCE, WITH_GRAVITY, &["kp"]),
    row("gf", "gf", KILOGRAM_FORCE.times(MILLI), FORCE, WITH_GRAVITY, &[]),
    row("lbf", "[lbf_av]", POUND_FORCE, FORCE, WITH_GRAVITY, &["lb(force)", "lb (force)"]),
    row("ozf", "[oz_av].[g]", POUND_FORCE.over(of(16, 1)), FORCE, WITH_GRAVITY, &["oz(force)", "oz (force)"]),
    row("N/m", "N/m", ONE, SPRING_RATE, SI, &[]),
    row("N/mm", "N/mm", KILO, SPRING_RATE, SI, &[]),
    row("kgf/mm", "kgf/mm", KILOGRAM_FORCE.times(KILO), SPRING_RATE, WITH_GRAVITY, &[]),
    row("lbf/in", "[lbf_av]/[in_i]", POUND_FORCE.over(INCH), SPRING_RATE, WITH_GRAVITY, &[]),
];

const TORQUE: &[Kind] = &[Kind::TORQUE];

pub(super) static TORQUES: &[Row] = &[
    row("N·m", "N.m", ONE, TORQUE, SI, &["N.m", "N*m", "Nm", "N m", "N-m"]),
    row("kN·m", "kN.m", KILO, TORQUE, SI, &["kN.m", "kN*m", "kNm"]),
    row("daN·m", "daN.m", of(10, 1), TORQUE, SI, &["daN.m", "daN*m", "daNm"]),
    row("N·cm", "N.cm", CENTI, TORQUE, SI, &["N.cm", "N*cm", "Ncm"]),
    row("mN·m", "mN.m", MILLI, TORQUE, SI, &["mN.m", "mN*m", "mNm"]),
    row(
        "kgf·m",
        "kgf.m",
        KILOGRAM_FORCE,
        TORQUE,
        WITH_GRAVITY,
        &["kgf.m", "kgf*m", "kgfm", "kgf-m", "kpm", "kp·m"],
    ),
    row(
        "kgf·cm",
        "kgf.cm",
        KILOGRAM_FORCE.times(CENTI),
        TORQUE,
        WITH_GRAVITY,
        &["kgf.cm", "kgf*cm", "kgfcm", "kgf-cm"],
    ),
    row(
        "lbf·ft",
        "[lbf_av].[ft_i]",
        POUND_FORCE.times(FOOT),
        TORQUE,
        WITH_GRAVITY,
        &[
            "lbf.ft", "lbf*ft", "lbf-ft", "lbfft", "lbf ft", "lb-ft", "lb·ft", "lb.ft", "lb*ft", "lb ft",
            "lbft",
        ],
    ),
    row(
        "lbf·in",
        "[lbf_av].[in_i]",
        POUND_FORCE.times(INCH),
        TORQUE,
        WITH_GRAVITY,
        &[
            "lbf.in", "lbf*in", "lbf-in", "lbfin", "lbf in", "lb-in", "lb·in", "lb.in", "lb*in", "lb in",
            "in-lbf", "in·lbf",
        ],
    ),
    row(
        "ozf·in",
        "[oz_av].[g].[in_i]",
        POUND_FORCE.times(INCH).over(of(16, 1)),
        TORQUE,
        WITH_GRAVITY,
        &["ozf.in", "ozf*in", "ozf-in", "ozf in"],
    ),
];

const ENERGY: &[Kind] = &[Kind::ENERGY];
/// The calorie of the International Table in joules.
const CALORIE: super::factor::Factor = of(41_868, 10_000);
/// The British thermal unit of the International Table in joules: 1 cal/(g·K) for a pound and a degree Fahrenheit.
const BTU: super::factor::Factor = CALORIE.times(POUND).times(KILO).times(of(5, 9));
const THERMAL: &str = "NIST SP 811 (2008) App. B: calorie (International Table) 4.1868 J, exact";

pub(super) static ENERGIES: &[Row] = &[
    row("J", "J", ONE, ENERGY, SI, &["joule", "joules"]),
    row("mJ", "mJ", MILLI, ENERGY, SI, &[]),
    row("kJ", "kJ", KILO, ENERGY, SI, &[]),
    row("MJ", "MJ", MEGA, ENERGY, SI, &[]),
    row("W·h", "W.h", HOUR, ENERGY, WITH_SI, &["W.h", "W*h", "Wh"]),
    row("kW·h", "kW.h", HOUR.times(KILO), ENERGY, WITH_SI, &["kW.h", "kW*h", "kWh"]),
    row("kcal", "kcal_IT", CALORIE.times(KILO), ENERGY, THERMAL, &[]),
    row("Btu", "[Btu_IT]", BTU, ENERGY, THERMAL, &["BTU"]),
    row(
        "ft·lbf",
        "[ft_i].[lbf_av]",
        POUND_FORCE.times(FOOT),
        ENERGY,
        WITH_GRAVITY,
        &["ft.lbf", "ft*lbf", "ft-lbf"],
    ),
];

const POWER: &[Kind] = &[Kind::POWER];

pub(super) static POWERS: &[Row] = &[
    row("W", "W", ONE, POWER, SI, &["watt", "watts"]),
    row("mW", "mW", MILLI, POWER, SI, &[]),
    row("kW", "kW", KILO, POWER, SI, &[]),
    row("MW", "MW", MEGA, POWER, SI, &[]),
    row("hp", "[HP]", POUND_FORCE.times(FOOT).times(of(550, 1)), POWER, WITH_GRAVITY, &["bhp", "HP"]),
    row("PS", "75.m.kgf/s", KILOGRAM_FORCE.times(of(75, 1)), POWER, WITH_GRAVITY, &["cv", "CV", "pk"]),
    row(
        "hp(electric)",
        "746.W",
        of(746, 1),
        POWER,
        "NIST SP 811 (2008) App. B: horsepower (electric) 746 W, exact",
        &["hp (electric)"],
    ),
];
