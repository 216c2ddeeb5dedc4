//! Instructions that a pass takes, counted by valgrind: the same on every machine that is busy with other things.

use std::process::Command;

use anyhow::{Context, Result, bail};

/// The instructions of `dwell-bench <arguments>`; `None` where valgrind is not installed.
pub(crate) fn of(arguments: &[String]) -> Result<Option<u64>> {
    let own = std::env::current_exe()?;
    let output = Command::new("valgrind")
        .args(["--tool=cachegrind", "--cache-sim=no", "--cachegrind-out-file=/dev/null"])
        .arg(own)
        .args(arguments)
        .output();
    let output = match output {
        Ok(output) => output,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(error.into()),
    };
    let said = String::from_utf8_lossy(&output.stderr);
    if !output.status.success() {
        bail!("valgrind could not count: {said}");
    }
    let line = said.lines().find(|line| line.contains("I") && line.contains("refs:"));
    let number = line.and_then(|line| line.rsplit_once(':')).context("valgrind says no count")?.1;
    Ok(Some(number.trim().replace(',', "").parse()?))
}
