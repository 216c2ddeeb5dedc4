//! The program that has a job open: so that one that was killed is told from one that still runs on this device.

use std::fs;

/// The process with this number: number, the moment it began, and the start of the system, so that a number that is used again
/// later is another process. None where the system does not tell.
fn process(number: u32) -> Option<String> {
    let stat = fs::read_to_string(format!("/proc/{number}/stat")).ok()?;
    // The name in brackets may have blanks and brackets in it; after the last one, field 22 of proc(5) is the twentieth.
    let (_, rest) = stat.rsplit_once(')')?;
    let mut fields = rest.split_whitespace();
    if fields.next()? == "Z" {
        return None;
    }
    let began = fields.nth(18)?;
    let boot = fs::read_to_string("/proc/sys/kernel/random/boot_id").ok()?;
    Some(format!("{number} {began} {}", boot.trim()))
}

/// This program.
pub(crate) fn own() -> String {
    process(std::process::id()).unwrap_or_default()
}

/// Whether the program is known to be gone. Where the system does not tell, one of this device is taken to be gone: it cannot
/// write any more as soon as another has taken the job.
pub(crate) fn is_gone(holder: &str) -> bool {
    let number = holder.split_once(' ').and_then(|(number, _)| number.parse().ok());
    number.and_then(process).is_none_or(|now| now != holder)
}
