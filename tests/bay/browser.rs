//! The page in Chromium, at the sizes of a phone, a tablet and a laptop, in light, dark and forced colours: what axe-core finds against
//! WCAG 2.2 AA, and what it cannot see. `DWELL_PICTURES=FOLDER` keeps a picture of each screen.

use super::server::serve;
use crate::program::bench::{Bench, DWELL, GOOD, library};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Where tests/run has put what drives Chromium; none where nothing can be tried, which is said.
fn driver() -> Option<PathBuf> {
    let home = std::env::var_os("DWELL_BROWSER").map(PathBuf::from);
    let chromium =
        Command::new(std::env::var("DWELL_CHROMIUM").unwrap_or_else(|_| "/usr/bin/chromium".into()))
            .arg("--version")
            .output();
    if home.is_none() || chromium.is_err() {
        #[allow(clippy::print_stderr)]
        {
            eprintln!(
                "not tried: tests/run installs playwright-core and axe-core where npm is, and Chromium"
            );
        }
        return None;
    }
    home
}

/// Runs one of the scripts beside this file. It prints what is wrong.
fn run(script: &str, home: &Path, bench: &Bench, arguments: &[&str]) {
    let pictures = std::env::var_os("DWELL_PICTURES").map_or_else(|| bench.path("pictures"), PathBuf::from);
    std::fs::create_dir_all(&pictures).unwrap();
    let said = Command::new("node")
        .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("bay/browser").join(script))
        .args(arguments)
        .arg(pictures)
        .env("DWELL_BROWSER", home)
        .output()
        .unwrap();
    let out = String::from_utf8_lossy(&said.stdout);
    assert!(said.status.success(), "{out}{}", String::from_utf8_lossy(&said.stderr));
    assert!(out.contains("no faults"), "{out}");
}

#[test]
fn a_tablet_is_let_in_by_hand() {
    let Some(home) = driver() else { return };
    let bench = Bench::new(&[("belt.dwell", GOOD)]);
    let server = serve(&bench, "workshop.records", &["belt.dwell", "--lan=127.0.0.1"]);
    run("door.mjs", &home, &bench, &[&server.origin(), &server.shown("code         ")]);
}

#[test]
fn a_whole_job_on_a_phone_a_tablet_and_a_laptop() {
    let Some(home) = driver() else { return };
    let bench = Bench::new(&[]);
    let procedure = library().join("charging/belt-and-charging.dwell");
    let server = serve(&bench, "workshop.records", &[procedure.to_str().unwrap()]);
    let address = format!("{}/enter?key={}", server.origin(), server.shown("enter?key="));
    let long = std::env::var_os("DWELL_TESTS_LONG").is_some_and(|value| value == "1");
    run("job.mjs", &home, &bench, &[&address, if long { "long" } else { "short" }]);
}

#[test]
fn every_other_kind_of_screen() {
    let Some(home) = driver() else { return };
    let beside = |name: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("bay/browser").join(name);
        std::fs::read_to_string(path).unwrap()
    };
    let (procedure, tools) = (beside("kinds.dwell"), beside("tools.toml"));
    let bench = Bench::new(&[("kinds.dwell", &procedure), ("tools.toml", &tools)]);
    let server = serve(&bench, "workshop.records", &["kinds.dwell", "--tools", "tools.toml"]);
    let address = format!("{}/enter?key={}", server.origin(), server.shown("enter?key="));
    let added = bench.run(&["bay", "devices", "add", "gateway", "--store", "workshop.records"]);
    assert_eq!(added.status, 0, "{}", added.err);
    run("kinds.mjs", &home, &bench, &[&address, added.out.trim()]);
}

#[test]
fn a_device_that_is_shut_out_is_told_so_on_its_screen() {
    let Some(home) = driver() else { return };
    let procedure = Path::new(env!("CARGO_MANIFEST_DIR")).join("bay/browser/kinds.dwell");
    let bench = Bench::new(&[]);
    let server = serve(&bench, "workshop.records", &[procedure.to_str().unwrap()]);
    let address = format!("{}/enter?key={}", server.origin(), server.shown("enter?key="));
    let records = bench.path("workshop.records");
    run("shut-out.mjs", &home, &bench, &[&address, DWELL.to_str().unwrap(), records.to_str().unwrap()]);
}
