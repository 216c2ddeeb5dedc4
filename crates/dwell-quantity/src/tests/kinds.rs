//! The table of kinds: complete, consistent, and keeping confusable pairs apart.

use std::collections::HashSet;

use crate::{Exact, Kind, units_for};

#[test]
fn names_are_unique_and_found() {
    let names: HashSet<&str> = Kind::all().map(Kind::name).collect();
    assert_eq!(names.len(), Kind::all().count());
    assert!(names.len() >= 60);
    for kind in Kind::all() {
        assert_eq!(Kind::named(kind.name()), Some(kind));
        assert!(
            kind.name().chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'),
            "{kind}"
        );
        assert!(kind.about().ends_with('.') && kind.about().starts_with(char::is_uppercase), "{kind}");
    }
    assert_eq!(Kind::named("Torque"), None);
}

#[test]
fn every_kind_has_a_base_unit_of_factor_one() {
    for kind in Kind::all() {
        let base = kind.base_unit();
        assert!(base.measures(kind), "{kind}: {base:?}");
        assert_eq!((base.factor(), base.offset()), (Exact::one(), Exact::zero()), "{kind}");
        assert!(kind.usual_unit().measures(kind), "{kind}: {:?}", kind.usual_unit());
        assert!(units_for(kind).contains(&base), "{kind}");
        assert_eq!(kind.bare(), base.symbol().is_empty(), "{kind}");
    }
}

#[test]
fn a_difference_is_its_own_difference_and_has_the_same_base() {
    for kind in Kind::all() {
        let difference = kind.difference();
        assert_eq!(difference.difference(), difference, "{kind}");
        assert_eq!(difference.base_unit(), kind.base_unit(), "{kind}");
        assert!(!difference.point(), "{kind}");
        for unit in units_for(kind) {
            assert!(unit.difference().measures(difference), "{kind}: {unit:?}");
        }
    }
    assert_eq!(Kind::TEMPERATURE.difference(), Kind::TEMPERATURE_DIFFERENCE);
    assert_eq!(Kind::GAUGE_PRESSURE.difference(), Kind::PRESSURE_DIFFERENCE);
}

#[test]
fn broader_kinds_exist_and_share_the_base() {
    for kind in Kind::all() {
        if let Some(broader) = kind.broader() {
            assert!(broader.broader().is_none() && broader.base_unit() == kind.base_unit(), "{kind}");
            assert!(kind.is_a(broader) && !broader.is_a(kind));
        }
    }
    assert_eq!(Kind::DC_VOLTAGE.broader(), Some(Kind::ELECTRIC_POTENTIAL));
}

#[test]
fn a_formula_is_declared_within_its_family() {
    let allowed = [
        (Kind::ANGLE, Kind::TOTAL_ANGLE),
        (Kind::ANGLE, Kind::ANGLE_DIFFERENCE),
        (Kind::LENGTH, Kind::TOTAL_LENGTH),
        (Kind::TEMPERATURE, Kind::TEMPERATURE_DIFFERENCE),
        (Kind::ELECTRIC_POTENTIAL, Kind::DC_VOLTAGE),
        (Kind::DC_VOLTAGE, Kind::ELECTRIC_POTENTIAL),
        (Kind::TORQUE, Kind::TORQUE),
    ];
    for (yielded, declared) in allowed {
        assert!(yielded.may_be_declared(declared), "{yielded} as {declared}");
    }
    let refused = [
        (Kind::GAUGE_PRESSURE, Kind::ABSOLUTE_PRESSURE),
        (Kind::TEMPERATURE_DIFFERENCE, Kind::TEMPERATURE),
        (Kind::TOTAL_ANGLE, Kind::ANGLE),
        (Kind::TORQUE, Kind::ENERGY),
        (Kind::DC_VOLTAGE, Kind::AC_VOLTAGE),
    ];
    for (yielded, declared) in refused {
        assert!(!yielded.may_be_declared(declared), "{yielded} as {declared}");
        assert!(yielded.why_not(declared).is_some());
    }
}

#[test]
fn confused_pairs_answer_from_both_sides() {
    for one in Kind::all() {
        assert_eq!(one.why_not(one), None, "{one} is no pair with itself");
        for other in Kind::all() {
            assert_eq!(one.why_not(other), other.why_not(one));
        }
    }
    let apart = [
        ("gauge-pressure", "absolute-pressure"),
        ("vacuum", "gauge-pressure"),
        ("temperature", "temperature-difference"),
        ("crank-angle", "camshaft-angle"),
        ("wheel-angle", "turn-angle"),
        ("rotational-speed", "frequency"),
        ("torque", "energy"),
        ("torque", "force"),
        ("co-content", "hc-content"),
        ("co-content", "duty-ratio"),
        ("volume-fraction", "ratio"),
        ("angle", "total-angle"),
        ("length", "total-length"),
        ("fuel-consumption", "fuel-economy"),
    ];
    for (one, other) in apart {
        let (one, other) = (Kind::named(one).unwrap(), Kind::named(other).unwrap());
        assert!(one.why_not(other).is_some(), "{one} and {other}");
    }
}

#[test]
fn signs_follow_the_danger_of_a_one_sided_limit() {
    for signed in
        ["dc-voltage", "electric-potential", "electric-current", "angle", "total-angle", "crank-angle"]
    {
        assert!(Kind::named(signed).unwrap().signed(), "{signed}");
    }
    for unsigned in
        ["temperature", "gauge-pressure", "length", "ac-voltage", "resistance", "rotational-speed"]
    {
        assert!(!Kind::named(unsigned).unwrap().signed(), "{unsigned}");
    }
    assert!(Kind::NUMBER.counted() && !Kind::RATIO.counted());
}

#[test]
fn products_and_quotients_undo_each_other() {
    for one in Kind::all() {
        for other in Kind::all() {
            assert_eq!(one.times(other), other.times(one), "{one} × {other}");
        }
    }
    let kind = |name: &str| Kind::named(name).unwrap();
    let times = |one: &str, other: &str| kind(one).times(kind(other)).map(Kind::name);
    let over = |one: &str, other: &str| kind(one).over(kind(other)).map(Kind::name);
    assert_eq!(times("resistance", "electric-current"), Some("electric-potential-difference"));
    assert_eq!(times("resistance", "dc-current"), Some("electric-potential-difference"));
    assert_eq!(over("dc-voltage", "resistance"), Some("electric-current"));
    assert_eq!(over("electric-potential", "electric-current"), Some("resistance"));
    assert_eq!(times("resistance-per-voltage", "electric-potential"), Some("insulation-resistance"));
    assert_eq!(times("rotational-speed", "duration"), Some("turn-angle"));
    assert_eq!(times("number", "length"), Some("length"));
    assert_eq!(over("gauge-pressure", "gauge-pressure"), Some("ratio"));
    assert_eq!(over("length", "number"), Some("length"));
    assert_eq!(times("torque", "temperature"), None, "a place on a scale takes no factor");
    assert_eq!(times("temperature", "number"), None);
    assert_eq!(times("torque", "rotational-speed"), None, "needs the number pi, which no fraction is");
    assert_eq!(over("torque", "length"), Some("force"));
}

/// One and a ratio are numbers both; two temperatures are no sum.
#[test]
fn numbers_and_ratios_go_together_in_a_sum() {
    let kind = |name: &str| Kind::named(name).unwrap();
    assert_eq!(kind("ratio").minus(kind("number")), Some(kind("ratio")));
    assert_eq!(kind("number").plus(kind("ratio")), Some(kind("ratio")));
    assert_eq!(kind("gauge-pressure").minus(kind("gauge-pressure")), Some(kind("pressure-difference")));
    assert_eq!(kind("gauge-pressure").plus(kind("pressure-difference")), Some(kind("gauge-pressure")));
    assert_eq!(kind("specific-gravity").plus(kind("ratio")), Some(kind("specific-gravity")));
    assert_eq!(kind("torque").plus(kind("energy")), None);
}
