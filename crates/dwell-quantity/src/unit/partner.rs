//! Which unit stands in parentheses beside which: metric units and those of the United States.
//!
//! The choice is common practice, no source; the factors are those of the table of units (NIST SP 811).

use super::Unit;
use crate::band::Band;
use crate::kind::Kind;
use crate::number::Exact;

/// A system of units to print beside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum System {
    /// Those of the SI and of its neighbours: N·m, kPa, mm, °C, L.
    Metric,
    /// Those in use in the United States: lbf·ft, psi, in, °F, qt.
    Us,
}

/// A unit and the most decimals that it is printed with.
type Printed = (&'static str, u32);

/// Units that stand beside each other.
struct Row {
    /// The kinds that it is for; all that the units measure where none is named.
    kinds: &'static [Kind],
    metric: &'static [&'static str],
    us: &'static [&'static str],
    /// What is printed beside the units of the other system.
    printed: (Printed, Printed),
}

const GRAVITY: &[&str] = &["N·m", "kN·m", "daN·m", "N·cm", "mN·m", "kgf·m", "kgf·cm"];
const PRESSURE: &[&str] = &["Pa", "hPa", "kPa", "MPa", "bar", "mbar", "kgf/cm²", "bar(g)", "kPa(g)"];
const AIR: &[Kind] = &[Kind::GAUGE_PRESSURE, Kind::ABSOLUTE_PRESSURE, Kind::PRESSURE_DIFFERENCE];
const VACUUM: &[Kind] = &[Kind::VACUUM];

static ROWS: &[Row] = &[
    Row {
        kinds: &[],
        metric: GRAVITY,
        us: &["lbf·ft", "lbf·in", "ozf·in"],
        printed: (("N·m", 2), ("lbf·ft", 1)),
    },
    Row {
        kinds: VACUUM,
        metric: PRESSURE,
        us: &["inHg", "psi", "inH2O"],
        printed: (("kPa", 1), ("inHg", 1)),
    },
    Row {
        kinds: AIR,
        metric: PRESSURE,
        us: &["psi", "psig", "psid", "inH2O"],
        printed: (("kPa", 1), ("psi", 2)),
    },
    Row { kinds: AIR, metric: &["bar(a)", "kPa(a)"], us: &["psia"], printed: (("kPa(a)", 1), ("psia", 2)) },
    Row { kinds: &[], metric: &["mm", "cm", "µm"], us: &["in", "thou"], printed: (("mm", 3), ("in", 4)) },
    Row { kinds: &[], metric: &["m"], us: &["ft", "yd"], printed: (("m", 2), ("ft", 2)) },
    Row { kinds: &[], metric: &["°C", "K"], us: &["°F", "°R"], printed: (("°C", 1), ("°F", 1)) },
    Row {
        kinds: &[],
        metric: &["L"],
        us: &["qt(US)", "gal(US)", "pt(US)"],
        printed: (("L", 2), ("qt(US)", 2)),
    },
    Row {
        kinds: &[],
        metric: &["mL", "cm³"],
        us: &["fl oz(US)", "in³"],
        printed: (("mL", 1), ("fl oz(US)", 2)),
    },
    Row { kinds: &[], metric: &["kg"], us: &["lbm"], printed: (("kg", 2), ("lbm", 2)) },
    Row { kinds: &[], metric: &["g"], us: &["ozm"], printed: (("g", 1), ("ozm", 2)) },
    Row {
        kinds: &[],
        metric: &["N", "daN", "kN", "kgf"],
        us: &["lbf", "ozf"],
        printed: (("N", 1), ("lbf", 2)),
    },
    Row { kinds: &[], metric: &["N/mm", "N/m"], us: &["lbf/in"], printed: (("N/mm", 2), ("lbf/in", 1)) },
    Row { kinds: &[], metric: &["km/h"], us: &["mph"], printed: (("km/h", 1), ("mph", 1)) },
    Row { kinds: &[], metric: &["kW"], us: &["hp"], printed: (("kW", 1), ("hp", 1)) },
    Row { kinds: &[], metric: &["L/min"], us: &["gal(US)/min"], printed: (("L/min", 2), ("gal(US)/min", 2)) },
];

/// The largest torque, N·m, that is printed in inches: about 10 lbf·ft, where the small wrenches end.
const SMALL_TORQUE: i64 = 14;

/// The unit of the other system that is printed beside `unit` for this band, and the most decimals it is printed with. None
/// where `unit` belongs to that system already, or to neither.
pub fn partner(unit: Unit, kind: Kind, band: &Band, to: System) -> Option<(Unit, u32)> {
    let symbol = unit.symbol();
    let row = ROWS.iter().filter(|row| row.kinds.is_empty() || row.kinds.contains(&kind)).find(|row| {
        let from = if to == System::Us { row.metric } else { row.us };
        from.contains(&symbol)
    })?;
    let (metric, us) = row.printed;
    let (printed, decimals) = if to == System::Us { us } else { metric };
    let largest = [&band.low, &band.high].into_iter().flatten().map(|end| end.value.abs()).max();
    let small = largest.is_some_and(|largest| largest < Exact::whole(SMALL_TORQUE));
    let printed = if printed == "lbf·ft" && small { "lbf·in" } else { printed };
    let found = Unit::of_symbol(printed);
    found.measures(kind).then_some((found, decimals))
}
