//! Who may use whom: every allowed dependency of every crate, ours and others'. What is not listed here is not allowed.

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// Each crate with what it may use outside its tests.
const ALLOWED: &[(&str, &[&str])] = &[
    ("dwell-quantity", &["libm", "num-bigint", "num-rational", "num-traits", "strsim"]),
    ("dwell-syntax", &["chumsky", "dwell-quantity", "logos", "strsim", "unicode-ident"]),
    (
        "dwell-card",
        &["dwell-quantity", "schemars", "serde", "serde_json", "serde_json_canonicalizer", "sha2"],
    ),
    ("dwell-record", &["dwell-quantity", "schemars", "serde", "serde_json", "sha2", "time"]),
    ("dwell-store", &["dwell-record", "rusqlite"]),
    ("dwell-check", &["dwell-card", "dwell-quantity", "dwell-syntax", "rayon", "strsim"]),
    ("dwell-settings", &["dwell-check", "dwell-syntax", "schemars", "serde", "serde_json", "toml"]),
    ("dwell-run", &["dwell-card", "dwell-quantity", "dwell-record"]),
    (
        "dwell-trial",
        &["dwell-card", "dwell-check", "dwell-quantity", "dwell-record", "dwell-run", "dwell-syntax"],
    ),
    ("dwell-readings", &["csv", "dwell-quantity"]),
    ("dwell-live", &["dwell-card", "dwell-readings", "dwell-run", "dwell-tools"]),
    ("dwell-tools", &["dwell-card", "dwell-quantity", "time", "toml"]),
    ("dwell-page", &["base64", "dwell-card", "dwell-quantity", "dwell-record", "maud", "qrcode"]),
    ("dwell-workspace", &["dwell-check", "ignore"]),
    ("dwell-report", &["dwell-card", "dwell-check", "dwell-syntax", "quick-junit", "serde_json", "sha2"]),
    ("dwell-compare", &["dwell-card", "dwell-check", "dwell-quantity", "dwell-syntax", "serde_json"]),
    (
        "dwell-lsp",
        &[
            "dwell-card",
            "dwell-check",
            "dwell-page",
            "dwell-quantity",
            "dwell-settings",
            "dwell-syntax",
            "dwell-trial",
            "dwell-workspace",
            "rayon",
            "serde_json",
            "similar",
            "time",
            "tokio",
            "tower-lsp-server",
        ],
    ),
    (
        "dwell-bay",
        &[
            "axum",
            "dwell-card",
            "dwell-live",
            "dwell-page",
            "dwell-quantity",
            "dwell-record",
            "dwell-run",
            "dwell-store",
            "dwell-tools",
            "gethostname",
            "getrandom",
            "governor",
            "http-body-util",
            "hyper",
            "hyper-util",
            "if-addrs",
            "maud",
            "qrcode",
            "rcgen",
            "rusqlite",
            "serde_json",
            "sha2",
            "time",
            "tokio",
            "tokio-rustls",
            "tokio-stream",
        ],
    ),
    (
        "dwell",
        &[
            "anyhow",
            "ariadne",
            "clap",
            "csv",
            "dwell-bay",
            "dwell-card",
            "dwell-check",
            "dwell-compare",
            "dwell-live",
            "dwell-lsp",
            "dwell-page",
            "dwell-quantity",
            "dwell-readings",
            "dwell-record",
            "dwell-report",
            "dwell-run",
            "dwell-settings",
            "dwell-store",
            "dwell-syntax",
            "dwell-tools",
            "dwell-trial",
            "dwell-workspace",
            "etcetera",
            "gethostname",
            "mimalloc",
            "quick-junit",
            "ratatui",
            "serde_json",
            "signal-hook",
            "similar",
            "strsim",
            "tempfile",
            "time",
            "unicode-width",
        ],
    ),
    (
        "dwell-bench",
        &["anyhow", "dwell-check", "dwell-syntax", "dwell-tests", "logos", "peak_alloc", "serde_json"],
    ),
    ("dwell-tests", &[]),
];

/// What must never be reached, however many crates lie between: who, whom, and why.
const NEVER: &[(&str, &str, &str)] = &[
    ("dwell-run", "dwell-syntax", "a machine in the bay needs no compiler"),
    ("dwell-run", "dwell-check", "a machine in the bay needs no compiler"),
    ("dwell-record", "dwell-card", "a record can be read without the card that made it"),
    ("dwell-store", "dwell-card", "a store keeps lines, and knows nothing of what they decide"),
    ("dwell-run", "rusqlite", "a session knows no file"),
    ("dwell-check", "dwell-record", "the writer's side knows nothing of what happened"),
    ("dwell-check", "toml", "settings come to the checker as plain data"),
    ("dwell-page", "dwell-check", "a page is made from a card alone"),
    ("dwell-bay", "dwell-syntax", "a machine in the bay needs no compiler"),
    ("dwell-bay", "dwell-check", "a machine in the bay needs no compiler"),
    ("dwell-page", "dwell-run", "a page shows what was decided, and decides nothing"),
    ("dwell-page", "tower-lsp-server", "a page knows no protocol"),
    ("dwell-quantity", "serde", "only cards, records and settings are files"),
    ("dwell-syntax", "serde", "only cards, records and settings are files"),
];

fn metadata() -> BTreeMap<String, BTreeSet<String>> {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--no-deps", "--format-version", "1", "--offline"])
        .current_dir(crate::root())
        .output()
        .expect("cargo metadata runs");
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("cargo metadata prints JSON");
    let packages = json["packages"].as_array().expect("a list of packages");
    packages
        .iter()
        .map(|package| {
            let name = package["name"].as_str().expect("a name").to_owned();
            let uses = package["dependencies"].as_array().expect("a list").iter();
            let uses = uses.filter(|used| used["kind"].is_null());
            (name, uses.map(|used| used["name"].as_str().expect("a name").to_owned()).collect())
        })
        .collect()
}

#[test]
fn nothing_is_used_that_is_not_listed() {
    for (name, uses) in metadata() {
        let allowed = ALLOWED.iter().find(|(known, _)| *known == name);
        let (_, allowed) =
            allowed.unwrap_or_else(|| panic!("{name} is not in the table of tests/dependencies.rs"));
        for used in uses {
            assert!(
                allowed.contains(&used.as_str()),
                "{name} uses {used}, which tests/dependencies.rs does not allow"
            );
        }
    }
}

#[test]
fn nothing_is_listed_that_is_not_used() {
    let real = metadata();
    for (name, allowed) in ALLOWED {
        let uses = real.get(*name).unwrap_or_else(|| panic!("{name} is listed and not there"));
        for used in *allowed {
            assert!(uses.contains(*used), "{name} no longer uses {used}: take it off the table");
        }
    }
}

#[test]
fn what_must_never_be_reached_is_not() {
    let real = metadata();
    for (from, to, why) in NEVER {
        let mut seen = BTreeSet::new();
        let mut waiting = vec![(*from).to_owned()];
        while let Some(now) = waiting.pop() {
            if seen.insert(now.clone()) {
                waiting.extend(real.get(&now).into_iter().flatten().cloned());
            }
        }
        assert!(!seen.contains(*to), "{from} reaches {to}: {why}");
    }
}
