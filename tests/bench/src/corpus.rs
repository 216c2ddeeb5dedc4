//! A made-up library of any size: vans, each with its vehicle file, its workshop file and procedures over both. All
//! values are invented; the same seed gives the same bytes.

use std::collections::BTreeMap;
use std::fmt::Write;

use dwell_check::program::Sources;

use crate::SEED;
use crate::damage::damaged;
use crate::procedure::procedure;
use dwell_tests::chance::Chance;

/// The drives of one van.
pub(crate) const DRIVES: u64 = 12;
/// The procedures of one van.
const PROCEDURES: u64 = 36;
/// One procedure in so many is damaged.
pub(crate) const DAMAGED_ONE_IN: u64 = 5;

/// Files in memory.
pub(crate) struct Corpus {
    files: BTreeMap<String, String>,
}

impl Corpus {
    /// Whole files until they have at least `bytes` bytes.
    pub(crate) fn of(bytes: usize, seed: u64) -> Corpus {
        let mut chance = Chance::seeded(seed);
        let mut files = BTreeMap::new();
        let (mut size, mut van) = (0, 0);
        while size < bytes {
            let mut add = |name: String, text: String| {
                size += text.len();
                files.insert(name, text);
                size >= bytes
            };
            add(format!("van-{van:04}/vehicle.dwell"), vehicle(van));
            add(format!("van-{van:04}/workshop.dwell"), WORKSHOP.to_owned());
            for number in 0..PROCEDURES {
                let mut text = procedure(number, &mut chance);
                if chance.once_in(DAMAGED_ONE_IN) {
                    text = damaged(&text, &mut chance);
                }
                if add(format!("van-{van:04}/drive-check-{number:02}.dwell"), text) {
                    break;
                }
            }
            van += 1;
        }
        Corpus { files }
    }

    /// One file alone, that uses nothing.
    pub(crate) fn single(text: String) -> Corpus {
        Corpus { files: BTreeMap::from([("alone.dwell".to_owned(), text)]) }
    }

    /// The texts, in the order of their names.
    pub(crate) fn texts(&self) -> impl Iterator<Item = &str> {
        self.files.values().map(String::as_str)
    }

    /// The names of all files.
    pub(crate) fn names(&self) -> Vec<String> {
        self.files.keys().cloned().collect()
    }

    /// The bytes of all texts.
    pub(crate) fn bytes(&self) -> usize {
        self.texts().map(str::len).sum()
    }
}

impl Sources for Corpus {
    fn read(&self, path: &str) -> Result<String, String> {
        self.files.get(path).cloned().ok_or_else(|| format!("there is no {path}"))
    }

    fn join(&self, from: &str, used: &str) -> String {
        from.rsplit_once('/').map_or_else(|| used.to_owned(), |(folder, _)| format!("{folder}/{used}"))
    }
}

/// The files of a corpus one after the other, as one text.
pub(crate) fn one_text(bytes: usize) -> String {
    Corpus::of(bytes, SEED).texts().collect()
}

/// The vehicle file of one van.
pub(crate) fn vehicle(van: u64) -> String {
    let mut text =
        format!("# Van {van}, which does not exist. Every value in here is invented.\n{VEHICLE}{BOLT}");
    for drive in 0..DRIVES {
        let _ = write!(text, "{}", DRIVE.replace('@', &drive.to_string()));
    }
    text
}

const VEHICLE: &str = r#"
variant engine-family: k9, k9h
variant charging: single, double

item engine: startable "engine" {
    running brings moving-parts, exhaust-gas
    start needs gearbox is neutral
}
item gearbox: gear-selector "gearbox"
item consumers: switchable "electrical consumers"
item battery: chargeable "battery"
item battery-posts: port "battery posts"
item regulator: removable "voltage regulator"

spec charging-voltage: dc-voltage {
    check 13.8 .. 14.6 V when charging is single
    check 14.0 .. 14.8 V when charging is double
    not adjustable
    source "Invented for the benchmark."
}
"#;

const DRIVE: &str = r#"
# ---- drive @ ------------------------------------------------------------------------------------------------------

item guard-@: removable "guard of drive @" {
    remove needs clips-@ is out
    remove needs engine is stopped
}
item clips-@: single-use "guard clips of drive @" { renew needs guard-@ is fitted }
item span-@: port "longest span of belt @" { connect needs guard-@ is out }
item belt-@: removable "belt @"
item bolt-@: fastener "tensioner bolt @" {
    tighten moves swing-@
    torque bolt-torque
}
item screw-@: turnable "tensioner screw @" { turn moves swing-@ }
quantity swing-@: frequency "frequency at which belt @ swings when plucked" {
    never below 0 Hz
    needs engine is stopped
}
"#;

/// The spec of it that others use too.
pub(crate) const BOLT: &str = r#"spec bolt-torque: torque {
    check 22 ± 3 N·m
    source "Invented for the benchmark."
}
"#;

/// The tools.
pub(crate) const WORKSHOP: &str = r#"# The least that each tool must be able to do. All values are invented.

tool belt-meter: clip-on "belt tension meter" {
    measures frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz
    calibrated every 12 months
}
tool multimeter: clip-on "multimeter" {
    measures dc-voltage -60 .. 60 V resolution 0.01 V accuracy ± 0.2 % of reading ± 2 digits
    calibrated every 12 months
}
tool torque-wrench: hand-held "torque wrench" {
    sets torque 10 .. 120 N·m resolution 0.5 N·m accuracy ± 4 % of reading
    calibrated every 12 months
}
"#;
