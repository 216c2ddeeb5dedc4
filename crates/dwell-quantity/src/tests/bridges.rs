//! Explicit ways from one kind to another.

use super::{exact, unit};
use crate::{
    Band, Kind, absolute_to_gauge, camshaft_to_crank, consumption_to_economy, crank_to_camshaft,
    economy_band_to_consumption, economy_to_consumption, from_base, gauge_to_absolute, rotation_to_frequency,
    vacuum_to_absolute,
};

#[test]
fn a_camshaft_degree_is_two_crank_degrees() {
    let ten = exact("10") * &unit("°cam").factor();
    assert_eq!(from_base(&camshaft_to_crank(&ten), unit("°BTDC"), Kind::CRANK_ANGLE), exact("20"));
    assert_eq!(crank_to_camshaft(&camshaft_to_crank(&ten)), ten);
}

#[test]
fn absolute_is_atmospheric_plus_differential() {
    // 40 CFR 1065.20(c).
    let air = exact("101325");
    let tyre = exact("32") * &unit("psi").factor();
    let absolute = gauge_to_absolute(&tyre, &air);
    assert_eq!(from_base(&absolute, unit("psia"), Kind::ABSOLUTE_PRESSURE).fixed(4), "46.6959");
    assert_eq!(absolute_to_gauge(&absolute, &air), tyre);
    let vacuum = exact("20") * &unit("inHg").factor();
    let manifold = vacuum_to_absolute(&vacuum, &(exact("29.9213") * &unit("inHg").factor()));
    assert_eq!(from_base(&manifold, unit("kPa"), Kind::ABSOLUTE_PRESSURE).fixed(3), "33.597");
}

#[test]
fn the_ends_of_a_fuel_band_change_places() {
    let mpg = unit("mpg(US)").factor();
    let band = Band::closed(exact("29") * &mpg, exact("31") * &mpg);
    let litres = economy_band_to_consumption(&band).unwrap();
    let shown = |end: &crate::Bound| from_base(&end.value, unit("L/100km"), Kind::FUEL_CONSUMPTION).fixed(5);
    assert_eq!(litres.low.as_ref().map(shown).unwrap(), "7.58757");
    assert_eq!(litres.high.as_ref().map(shown).unwrap(), "8.11085");
    let one = economy_to_consumption(&mpg).unwrap();
    assert_eq!(consumption_to_economy(&one).unwrap(), mpg);
    assert_eq!(economy_to_consumption(&exact("0")), None);
    assert_eq!(economy_band_to_consumption(&Band::closed(exact("0"), exact("1"))), None);
    let open = economy_band_to_consumption(&Band::at_least(exact("2"))).unwrap();
    assert!(open.contains(&exact("0.5")) && !open.contains(&exact("0.6")) && !open.contains(&exact("0")));
}

#[test]
fn sparks_come_half_as_often_as_cylinders_turn() {
    let idle = exact("850") * &unit("rpm").factor();
    let sparks = rotation_to_frequency(&idle, &exact("2"));
    assert_eq!(from_base(&sparks, unit("Hz"), Kind::FREQUENCY).fixed(4), "28.3333");
}
