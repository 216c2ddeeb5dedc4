//! The table of units: closed, unambiguous, exact.

use std::collections::HashMap;

use super::{exact, unit};
use crate::{Exact, Lookup, Unit, fold_twin, lookup, spellings};

fn folded(text: &str) -> String {
    text.chars().map(|c| fold_twin(c).unwrap_or(c)).collect()
}

#[test]
fn every_row_is_complete() {
    assert!(Unit::all().count() >= 150, "{}", Unit::all().count());
    for unit in Unit::all() {
        assert!(!unit.ucum().is_empty() && !unit.source().is_empty() && !unit.kinds().is_empty(), "{unit:?}");
        assert!(unit.ucum().is_ascii(), "{unit:?}");
        assert!(!unit.factor().is_zero(), "{unit:?}");
        assert_eq!(unit.descending(), unit.factor().is_negative());
        for kind in unit.kinds() {
            assert!(unit.measures(*kind));
        }
    }
}

#[test]
fn every_spelling_means_one_thing() {
    let mut owner: HashMap<String, Unit> = HashMap::new();
    for unit in Unit::all().filter(|unit| !unit.symbol().is_empty()) {
        for spelling in std::iter::once(&unit.symbol()).chain(unit.spellings()) {
            if let Some(other) = owner.insert(folded(spelling), unit) {
                assert_eq!(other, unit, "{spelling:?} means two units");
            }
            assert_eq!(lookup(spelling), Lookup::Unit(unit), "{spelling:?}");
        }
        assert!(!unit.spellings().contains(&unit.symbol()), "{unit:?} repeats its symbol");
    }
    let symbols: Vec<&str> = Unit::all().map(Unit::symbol).collect();
    let mut unique = symbols.clone();
    unique.sort_unstable();
    unique.dedup();
    assert_eq!(unique.len(), symbols.len());
}

#[test]
fn an_ambiguous_spelling_offers_real_units() {
    let mut seen = 0;
    for spelling in spellings() {
        match lookup(spelling) {
            Lookup::Unit(_) => {}
            Lookup::Ambiguous { why, choices } => {
                seen += 1;
                assert!(why.len() > 20 && !choices.is_empty(), "{spelling}");
                for choice in choices {
                    assert_eq!(unit(choice).symbol(), choice, "{spelling}");
                }
            }
            Lookup::Unknown { .. } => panic!("{spelling:?} is listed but not known"),
        }
    }
    assert!(seen >= 60, "{seen}");
    for spelling in ["lb", "lbs", "gal", "oz", "ton", "ft/lb", "kg.m", "degrees", "mpg", "C", "ft-lb", "rad"]
    {
        assert!(matches!(lookup(spelling), Lookup::Ambiguous { .. }), "{spelling}");
    }
}

#[test]
fn spellings_cannot_run_into_the_language() {
    let hard = "to with by for each at of most least is are not and or if else when where then otherwise";
    for spelling in spellings() {
        assert!(!hard.split(' ').any(|word| word == spelling), "{spelling}");
        assert!(!spelling.starts_with(|c: char| c.is_ascii_digit()), "{spelling}");
        assert!(!spelling.contains(['#', '"', '{', '}', ',', '\n']), "{spelling}");
        assert_eq!(spelling.trim(), spelling);
        assert!(!spelling.contains("  "));
    }
}

#[test]
fn letter_case_counts_and_typos_get_suggestions() {
    assert_eq!(unit("Nm").symbol(), "N·m");
    let unknown = |spelling: &str| match lookup(spelling) {
        Lookup::Unknown { suggestions } => suggestions,
        other => panic!("{spelling}: {other:?}"),
    };
    for (typed, meant) in [
        ("nm", "N·m"),
        ("KPA", "kPa"),
        ("kpa", "kPa"),
        ("gramm", "g"),
        ("v", "V"),
        ("Rpm", "rpm"),
        ("hz", "Hz"),
        ("Mm", "mm"),
        ("mPa", "MPa"),
        ("ºC", "°C"),
        ("℃", "°C"),
        ("hr", "h"),
        ("Lbf·ft", "lbf·ft"),
    ] {
        assert!(unknown(typed).contains(&meant), "{typed}: {:?}", unknown(typed));
        assert!(unknown(typed).len() <= 3);
    }
    assert_eq!(unknown("parsec"), Vec::<&str>::new());
    assert_eq!(unknown(""), Vec::<&str>::new());
    assert_eq!(unknown(&"x".repeat(10_000)), Vec::<&str>::new());
}

#[test]
fn twins_and_blank_forms_are_one_unit() {
    for spelling in ["µm", "μm", "um"] {
        assert_eq!(unit(spelling).symbol(), "µm");
    }
    assert_eq!(unit("k\u{2126}"), unit("k\u{03A9}"));
    assert_eq!(unit("\u{212A}"), unit("K"));
    for spelling in ["°BTDC", "° BTDC", "deg BTDC", "°\u{00A0}BTDC"] {
        assert_eq!(unit(spelling).symbol(), "°BTDC");
    }
    for spelling in ["N·m", "N⋅m", "N.m", "N*m", "Nm"] {
        assert_eq!(unit(spelling).symbol(), "N·m");
    }
    assert_eq!(unit("% vol"), unit("%vol"));
    assert_eq!(unit("L/100 km"), unit("L/100km"));
}

#[test]
fn angles_count_in_turns() {
    assert_eq!(unit("°").factor(), exact("1/360"));
    assert_eq!(unit("′").factor() * Exact::whole(60), unit("°").factor());
    assert_eq!(unit("″").factor() * Exact::whole(3600), unit("°").factor());
    assert_eq!(unit("°ATDC").factor(), -unit("°BTDC").factor());
    assert!(unit("°ATDC").descending());
}

#[test]
fn differences_have_no_offset_and_the_same_step() {
    for unit in Unit::all() {
        let difference = unit.difference();
        assert!(difference.offset().is_zero(), "{unit:?}");
        assert_eq!(difference.factor(), unit.factor().abs(), "{unit:?}");
    }
    assert_eq!(unit("°C").difference().symbol(), "K");
    assert_eq!(unit("°F").difference().symbol(), "°R");
}

#[test]
fn markings_restrict_the_pressure_kind() {
    use crate::Kind;
    assert!(unit("psi").measures(Kind::GAUGE_PRESSURE) && unit("psi").measures(Kind::ABSOLUTE_PRESSURE));
    assert_eq!(unit("psig").kinds(), [Kind::GAUGE_PRESSURE]);
    assert_eq!(unit("psia").kinds(), [Kind::ABSOLUTE_PRESSURE]);
    assert!(!unit("%vol").measures(Kind::DUTY_RATIO) && unit("%").measures(Kind::DUTY_RATIO));
    assert!(!unit("%vol").measures(Kind::HC_CONTENT) && unit("ppm").measures(Kind::HC_CONTENT));
    assert!(!unit("N·m").measures(Kind::ENERGY) && !unit("J").measures(Kind::TORQUE));
    assert!(!unit("Hz").measures(Kind::ROTATIONAL_SPEED) && !unit("rpm").measures(Kind::FREQUENCY));
    assert!(!unit("°").measures(Kind::CRANK_ANGLE) && !unit("°cam").measures(Kind::CRANK_ANGLE));
}
