//! The library that the server is measured in: ten thousand files of fifty vans, as they would lie in a workshop's repository.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};

use crate::corpus::{BOLT, WORKSHOP, vehicle};
use crate::procedure::procedure;
use dwell_tests::chance::Chance;

/// The files of one van, its vehicle file among them.
const OF_A_VAN: usize = 200;
/// The first number of the procedures of the long file, so that none is named like another.
const LONG_FROM: u64 = 400;
/// The lines of the long file, at least.
const LONG_LINES: usize = 500;

/// Where the long file lies.
pub(crate) const LONG: &str = "van-00/long.dwell";
/// The vehicle file of the first van, which the files of that van use.
pub(crate) const VEHICLE: &str = "van-00/vehicle.dwell";
/// The limits that the files of all vans use.
pub(crate) const LIMITS: &str = "limits.dwell";

/// Writes so many files: `workshop.dwell` and `limits.dwell`, which all use, and vans with a vehicle file each, which the
/// procedures of that van use; one procedure in four uses the one before it as well. Returns the bytes of all of them.
pub(crate) fn write(top: &Path, files: usize, seed: u64) -> Result<usize> {
    let mut chance = Chance::seeded(seed);
    let mut left = files.checked_sub(4).context("at least four files")?;
    let mut bytes = 0;
    let mut put = |name: String, text: &str| {
        bytes += text.len();
        let path = top.join(name);
        fs::create_dir_all(path.parent().context("a folder")?)?;
        fs::write(path, text).context("the library cannot be written")
    };
    put("workshop.dwell".to_owned(), WORKSHOP)?;
    put(LIMITS.to_owned(), BOLT)?;
    put(VEHICLE.to_owned(), &with_limits(0))?;
    put(LONG.to_owned(), &long(&mut chance))?;
    let mut van = 0;
    while left > 0 {
        if van > 0 {
            put(format!("van-{van:02}/vehicle.dwell"), &with_limits(van))?;
            left -= 1;
        }
        for number in 0..left.min(OF_A_VAN - 1) {
            let text = procedure(u64::try_from(number)?, &mut chance);
            put(format!("van-{van:02}/drive-check-{number:02}.dwell"), &shared(&text))?;
            left -= 1;
        }
        van += 1;
    }
    Ok(bytes)
}

/// The vehicle file of a van, with its limits in the file that all use.
fn with_limits(van: u64) -> String {
    format!("use \"../limits.dwell\"\n{}", vehicle(van).replace(BOLT, ""))
}

/// A procedure that takes tools and limits from the files that all use.
fn shared(text: &str) -> String {
    text.replacen("use \"workshop.dwell\"", "use \"../workshop.dwell\"\nuse \"../limits.dwell\"", 1)
}

/// The long file: several procedures one after the other.
fn long(chance: &mut Chance) -> String {
    let mut text = shared("use \"vehicle.dwell\"\nuse \"workshop.dwell\"\n");
    // Each fourth performs the one before it, which is in another file.
    for number in (LONG_FROM..).filter(|number| number % 4 != 3) {
        if text.lines().count() >= LONG_LINES {
            break;
        }
        let one = procedure(number, chance);
        text.extend(one.split_inclusive('\n').filter(|line| !line.starts_with("use ")));
    }
    text
}
