//! Known traps of units, one by one: what must be accepted, and what must be refused.

use dwell_quantity::{
    Amount, Band, Decimal, Exact, Kind, Lookup, camshaft_to_crank, economy_band_to_consumption, from_base,
    gauge_to_absolute, lookup, rotation_to_frequency, vacuum_to_absolute,
};

use super::{base, exact, rows, unit};

fn refused(spelling: &str, kind: Kind) {
    let amount = Amount::new(Decimal::parse("1").unwrap(), unit(spelling));
    assert!(amount.in_base(kind).is_err(), "{spelling} for {kind}");
}

fn apart(one: Kind, other: Kind) {
    assert!(one.why_not(other).is_some(), "{one} and {other}");
}

fn shown(value: &Exact, spelling: &str, kind: Kind, decimals: u32) -> String {
    from_base(value, unit(spelling), kind).fixed(decimals)
}

fn temperatures(id: &str) {
    match id {
        "U-TEMP-POINT" => {
            assert_eq!(base("212", "°F", Kind::TEMPERATURE), base("100", "°C", Kind::TEMPERATURE));
            apart(Kind::TEMPERATURE, Kind::TEMPERATURE_DIFFERENCE);
        }
        "U-TEMP-DIFF" => {
            assert_eq!(base("88", "°C", Kind::TEMPERATURE), base("190.4", "°F", Kind::TEMPERATURE));
            let tolerance = |number: &str, spelling: &str| {
                let amount = Amount::new(Decimal::parse(number).unwrap(), unit(spelling));
                amount.in_base_difference(Kind::TEMPERATURE).unwrap()
            };
            assert_eq!(tolerance("3", "°C"), tolerance("5.4", "°F"));
            assert_ne!(tolerance("3", "°C"), tolerance("37.4", "°F"));
        }
        _ => {
            assert!(Kind::TEMPERATURE.point());
            assert_eq!(Kind::TEMPERATURE.times(Kind::NUMBER), None, "20 °C doubled is not 40 °C");
        }
    }
}

fn pressures(id: &str) {
    let kind = Kind::ABSOLUTE_PRESSURE;
    if id == "U-GAUGE" {
        let tyre = base("32", "psig", Kind::GAUGE_PRESSURE);
        let absolute = gauge_to_absolute(&tyre, &base("101.325", "kPa", kind));
        assert_eq!(shown(&absolute, "psia", kind, 4), "46.6959");
        refused("psig", kind);
        refused("psia", Kind::GAUGE_PRESSURE);
    } else {
        let manifold = vacuum_to_absolute(&base("20", "inHg", Kind::VACUUM), &base("29.9213", "inHg", kind));
        assert_eq!(shown(&manifold, "inHg", kind, 4), "9.9213");
        assert_eq!(shown(&manifold, "kPa", kind, 3), "33.597");
        apart(Kind::VACUUM, kind);
    }
}

fn forces(id: &str) {
    if id == "U-TORQUE-ENERGY" {
        refused("N·m", Kind::ENERGY);
        refused("J", Kind::TORQUE);
        apart(Kind::TORQUE, Kind::ENERGY);
    } else {
        let inches = base("18", "lbf·in", Kind::TORQUE);
        assert_eq!(shown(&inches, "N·m", Kind::TORQUE, 4), "2.0337");
        assert_eq!(shown(&base("18", "lbf·ft", Kind::TORQUE), "N·m", Kind::TORQUE, 1), "24.4");
        assert!(matches!(lookup("in-lb"), Lookup::Ambiguous { .. }));
    }
}

fn rotations(id: &str) {
    let idle = base("850", "rpm", Kind::ROTATIONAL_SPEED);
    let degrees = |number: i64| Exact::ratio(number, 360).unwrap();
    match id {
        "U-RPM-HZ" => {
            assert_eq!(shown(&idle, "r/s", Kind::ROTATIONAL_SPEED, 4), "14.1667");
            refused("Hz", Kind::ROTATIONAL_SPEED);
            refused("rpm", Kind::FREQUENCY);
        }
        // The definition is from memory: a four-stroke fires n·z/120 times a second.
        "U-IGN-FREQ" => {
            let sparks = rotation_to_frequency(&idle, &exact("4").checked_div(&exact("2")).unwrap());
            assert_eq!(shown(&sparks, "Hz", Kind::FREQUENCY, 4), "28.3333");
        }
        // The definition is from memory: the camshaft turns at half the speed of the crankshaft.
        "U-CRANK-CAM" => {
            let distributor = base("10", "°cam", Kind::CAMSHAFT_ANGLE);
            assert_eq!(camshaft_to_crank(&distributor), base("20", "°crank", Kind::CRANK_ANGLE));
            refused("°cam", Kind::CRANK_ANGLE);
            apart(Kind::CRANK_ANGLE, Kind::CAMSHAFT_ANGLE);
        }
        // The definition is from memory: dwell per cent is the angle over 360° divided by the cylinders.
        "U-DWELL-PCT" | "U-DWELL-PCT8" => {
            let (angle, cylinders, percent) =
                if id == "U-DWELL-PCT" { (54, 4, "60") } else { (30, 8, "66.667") };
            let duty = degrees(angle) * Exact::whole(cylinders);
            assert_eq!(shown(&duty, "%", Kind::DUTY_RATIO, super::decimals(percent)), percent);
            apart(Kind::DUTY_RATIO, Kind::DWELL_ANGLE);
            refused("%", Kind::DWELL_ANGLE);
        }
        _ => {
            let time = degrees(6).checked_div(&idle).unwrap();
            assert_eq!(shown(&time, "ms", Kind::DURATION, 5), "1.17647");
            apart(Kind::CRANK_ANGLE, Kind::DURATION);
        }
    }
}

fn shares(id: &str) {
    match id {
        "U-PPM-PCT" => {
            assert_eq!(base("1.2", "%vol", Kind::CO_CONTENT), base("12000", "ppm", Kind::CO_CONTENT));
            refused("%vol", Kind::HC_CONTENT);
            apart(Kind::HC_CONTENT, Kind::CO_CONTENT);
        }
        "U-SLOPE" => {
            let slope = base("-1.0", "%", Kind::SLOPE);
            assert_eq!(slope, base("-10", "mm/m", Kind::SLOPE));
            assert_eq!(format!("{:.5}", slope.to_f64().atan().to_degrees()), "-0.57294");
            refused("°", Kind::SLOPE);
            apart(Kind::SLOPE, Kind::ANGLE);
        }
        _ => {
            let limit = base("100", "Ω/V", Kind::RESISTANCE_PER_VOLTAGE) * base("400", "V", Kind::DC_VOLTAGE);
            assert_eq!(limit, base("40", "kΩ", Kind::INSULATION_RESISTANCE));
            let product = Kind::RESISTANCE_PER_VOLTAGE.times(Kind::DC_VOLTAGE);
            assert_eq!(product, Some(Kind::INSULATION_RESISTANCE));
            refused("Ω/V", Kind::INSULATION_RESISTANCE);
        }
    }
}

fn fuel(id: &str) {
    if id == "U-GAL" {
        assert!(matches!(lookup("gal"), Lookup::Ambiguous { .. }));
        let ratio = unit("gal(imp)").factor().checked_div(&unit("gal(US)").factor()).unwrap();
        assert_eq!(ratio.fixed(5), "1.20095");
    } else {
        let economy = Kind::FUEL_ECONOMY;
        let band = Band::closed(base("29", "mpg(US)", economy), base("31", "mpg(US)", economy));
        let litres = economy_band_to_consumption(&band).unwrap();
        let end = |value: &Exact| shown(value, "L/100km", Kind::FUEL_CONSUMPTION, 5);
        assert_eq!(end(&litres.low.unwrap().value), "7.58757");
        assert_eq!(end(&litres.high.unwrap().value), "8.11085");
        refused("mpg(US)", Kind::FUEL_CONSUMPTION);
    }
}

fn characters(id: &str) {
    if id == "U-MU" {
        assert_eq!(unit("\u{00B5}m"), unit("\u{03BC}m"));
        assert!(matches!(lookup("m\u{03BC}"), Lookup::Unknown { .. }));
    } else {
        assert_eq!(unit("\u{00B0}").symbol(), "°");
        assert!(matches!(lookup("\u{00BA}"), Lookup::Unknown { .. }));
    }
}

/// A level is no multiple of its unit, so a band of levels must not become one of anything else.
fn levels() {
    refused("dB", Kind::RATIO);
    refused("%", Kind::SOUND_LEVEL);
    assert_eq!(Kind::SOUND_LEVEL.over(Kind::SOUND_LEVEL).map(Kind::name), Some("ratio"));
}

#[test]
fn every_trap_is_avoided() {
    for row in rows(include_str!("data/unit_traps.csv")) {
        match row.get("id") {
            id @ ("U-TEMP-POINT" | "U-TEMP-DIFF" | "U-TEMP-ABS") => temperatures(id),
            id @ ("U-GAUGE" | "U-VACUUM") => pressures(id),
            id @ ("U-TORQUE-ENERGY" | "U-LBFIN-LBFFT") => forces(id),
            id @ ("U-RPM-HZ" | "U-IGN-FREQ" | "U-CRANK-CAM" | "U-DWELL-PCT" | "U-DWELL-PCT8"
            | "U-ANGLE-TIME") => {
                rotations(id);
            }
            id @ ("U-PPM-PCT" | "U-SLOPE" | "U-OHM-PER-V") => shares(id),
            id @ ("U-GAL" | "U-MPG-BAND") => fuel(id),
            id @ ("U-MU" | "U-DEGREE") => characters(id),
            "U-DB" => levels(),
            other => panic!("nothing checks {other}"),
        }
    }
}
