//! Spellings that could be two units, each with what they could be.

/// A spelling that is never read silently.
pub(super) struct Ambiguous {
    pub(super) spellings: &'static [&'static str],
    pub(super) why: &'static str,
    /// The symbols of the units to choose from.
    pub(super) choices: &'static [&'static str],
}

pub(super) static AMBIGUOUS: &[Ambiguous] = &[
    Ambiguous {
        spellings: &["lb", "lbs", "pound", "pounds"],
        why: "a pound can be a mass or a force, and in a torque the lever is missing",
        choices: &["lbm", "lbf", "lbf·ft", "lbf·in"],
    },
    Ambiguous {
        spellings: &["oz", "ounce", "ounces"],
        why: "an ounce can be a mass, a force or, as a fluid ounce, a volume",
        choices: &["ozm", "ozf", "fl oz(US)", "fl oz(imp)"],
    },
    Ambiguous {
        spellings: &["gal", "gallon", "gallons"],
        why: "an imperial gallon is a fifth larger than a US gallon",
        choices: &["gal(US)", "gal(imp)"],
    },
    Ambiguous {
        spellings: &["qt", "quart", "quarts"],
        why: "an imperial quart is a fifth larger than a US quart",
        choices: &["qt(US)", "qt(imp)"],
    },
    Ambiguous {
        spellings: &["pt", "pint", "pints"],
        why: "an imperial pint is a fifth larger than a US pint",
        choices: &["pt(US)", "pt(imp)"],
    },
    Ambiguous {
        spellings: &["fl oz", "fl. oz.", "floz"],
        why: "a US fluid ounce is four per cent larger than an imperial one",
        choices: &["fl oz(US)", "fl oz(imp)"],
    },
    Ambiguous {
        spellings: &["mpg"],
        why: "an imperial gallon is a fifth larger than a US gallon",
        choices: &["mpg(US)", "mpg(imp)"],
    },
    Ambiguous {
        spellings: &["gpm", "gal/min"],
        why: "an imperial gallon is a fifth larger than a US gallon",
        choices: &["gal(US)/min", "gal(imp)/min"],
    },
    Ambiguous {
        spellings: &["gph", "gal/h"],
        why: "an imperial gallon is a fifth larger than a US gallon",
        choices: &["gal(US)/h", "gal(imp)/h"],
    },
    Ambiguous {
        spellings: &["ton", "tons"],
        why: "a ton can be 1000 kg, 907 kg (US) or 1016 kg (imperial)",
        choices: &["t", "ton(US)", "ton(imp)"],
    },
    Ambiguous {
        spellings: &["ft/lb", "ft/lbs", "ft/lbf", "lb/ft", "lbs/ft", "lbf/ft"],
        why: "a torque is a force times a lever, not one divided by the other",
        choices: &["lbf·ft"],
    },
    Ambiguous {
        spellings: &["in/lb", "in/lbs", "in/lbf", "lb/in", "lbs/in"],
        why: "written with a stroke this can be meant as a torque or as the rate of a spring",
        choices: &["lbf·in", "lbf/in"],
    },
    Ambiguous {
        spellings: &[
            "ft-lb", "ft-lbs", "ft·lb", "ft.lb", "ft*lb", "ft lb", "ft lbs", "ftlb", "lbs-ft", "lbs ft",
        ],
        why: "the foot-pound names a torque and an energy",
        choices: &["lbf·ft", "ft·lbf"],
    },
    Ambiguous {
        spellings: &[
            "in-lb", "in-lbs", "in·lb", "in.lb", "in*lb", "in lb", "in lbs", "inlb", "lbs-in", "lbs in",
        ],
        why: "the inch-pound is one twelfth of the foot-pound: say that a force is meant",
        choices: &["lbf·in"],
    },
    Ambiguous {
        spellings: &["oz-in", "oz·in", "oz.in", "in-oz", "oz in"],
        why: "an ounce can be a mass or a force",
        choices: &["ozf·in"],
    },
    Ambiguous {
        spellings: &["kg.m", "kg·m", "kg*m", "kg-m", "kgm", "kg m", "m.kg", "m·kg", "mkg", "mkp"],
        why: "a kilogram is a mass: for a torque, say kilogram-force, or the factor of 9.8 gets lost",
        choices: &["kgf·m", "N·m"],
    },
    Ambiguous {
        spellings: &["kg.cm", "kg·cm", "kg*cm", "kg-cm", "kgcm"],
        why: "a kilogram is a mass: for a torque, say kilogram-force, or the factor of 9.8 gets lost",
        choices: &["kgf·cm", "N·cm"],
    },
    Ambiguous {
        spellings: &["kg/cm2", "kg/cm²", "kg/cm^2", "ksc"],
        why: "a kilogram is a mass: for a pressure, say kilogram-force",
        choices: &["kgf/cm²", "bar"],
    },
    Ambiguous {
        spellings: &["kg/mm"],
        why: "a kilogram is a mass: for the rate of a spring, say kilogram-force",
        choices: &["kgf/mm", "N/mm"],
    },
    Ambiguous {
        spellings: &["degree", "degrees", "degs"],
        why: "degrees can be of an angle or of a temperature",
        choices: &["°", "°C", "°F"],
    },
    Ambiguous {
        spellings: &["C", "c"],
        why: "a lone C can be degrees Celsius or coulombs",
        choices: &["°C", "A·s"],
    },
    Ambiguous {
        spellings: &["F", "f"],
        why: "a lone F can be degrees Fahrenheit or farads",
        choices: &["°F", "farad"],
    },
    Ambiguous { spellings: &["H"], why: "a lone H can be hours or henries", choices: &["h", "henry"] },
    Ambiguous {
        spellings: &["mil", "mils"],
        why: "a mil is a thousandth of an inch, and in other shops a millimetre",
        choices: &["thou", "mm"],
    },
    Ambiguous {
        spellings: &["hp(metric)", "hp (metric)"],
        why: "the metric horsepower is one and a half per cent smaller than the other one",
        choices: &["PS", "hp"],
    },
    Ambiguous {
        spellings: &["rad", "radian", "radians"],
        why: "a radian is no whole-number part of a turn, so a limit in it cannot be kept exactly",
        choices: &["°", "turn"],
    },
    Ambiguous {
        spellings: &["cps", "c/s", "cpm"],
        why: "cycles can be of a vibration or of a shaft",
        choices: &["Hz", "r/s", "rpm"],
    },
    Ambiguous {
        spellings: &["° C", "° c", "°c"],
        why: "the degree sign and the letter of its scale belong together",
        choices: &["°C"],
    },
    Ambiguous {
        spellings: &["° F", "° f", "°f"],
        why: "the degree sign and the letter of its scale belong together",
        choices: &["°F"],
    },
    Ambiguous {
        spellings: &["cal", "calorie", "calories"],
        why: "a calorie can be the small or, in everyday use, the thousand times larger one",
        choices: &["kcal", "J"],
    },
];
