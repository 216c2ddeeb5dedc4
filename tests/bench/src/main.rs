//! How fast the compiler is: each pass over a made-up library as a multiple of a bare lexer pass of the same run.
//!
//! `cargo run --release -p dwell-bench` prints the whole report; nothing in it passes or fails. With arguments it does one
//! thing, which is how it counts its own instructions: `pass NAME BYTES`, `grow NAME COUNT`, `large`, `findings BYTES`,
//! `write FOLDER BYTES`; `server` measures the language server in a library of ten thousand files;
//! and `bay PROGRAM` the page of the bay with fifty instruments that send.

mod bare;
mod bay;
mod clock;
mod corpus;
mod damage;
mod growth;
mod instructions;
mod large;
mod passes;
mod procedure;
mod report;
mod server;

use std::io::Write;
use std::path::Path;

use anyhow::{Context, Result, bail};
use corpus::Corpus;
use dwell_check::program::Sources;
use peak_alloc::PeakAlloc;

#[global_allocator]
pub(crate) static ALLOCATED: PeakAlloc = PeakAlloc;

/// The seed of every corpus.
pub(crate) const SEED: u64 = 20_310_211;

fn main() -> Result<()> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match words.as_slice() {
        [] => report::whole(20_000_000),
        ["report", bytes] => report::whole(bytes.parse()?),
        ["large"] => report::large(&mut std::io::stdout().lock()),
        ["make", bytes] => say(&Corpus::of(bytes.parse()?, SEED).bytes()),
        ["pass", name, bytes] => {
            let pass = passes::named(name).context("there is no such pass")?;
            say(&(pass.run)(&Corpus::of(bytes.parse()?, SEED)))
        }
        ["grow", name, count] => {
            let corpus = Corpus::single(report::grown(name, count).context("nothing grows so")?);
            let checked = dwell_check::check::check(&corpus.names(), &corpus);
            say(&checked.findings.len())
        }
        ["server"] => server::report(10_000),
        ["server", files] => server::report(files.parse()?),
        ["bay", program] => bay::report(program, 50, 60),
        ["bay", program, devices, seconds] => bay::report(program, devices.parse()?, seconds.parse()?),
        ["findings", bytes] => findings(&Corpus::of(bytes.parse()?, SEED)),
        ["write", folder, bytes] => write(folder, &Corpus::of(bytes.parse()?, SEED)),
        _ => bail!(
            "say nothing, or: report BYTES | large | make BYTES | pass NAME BYTES | grow NAME COUNT | findings BYTES | write FOLDER BYTES | server | server FILES | bay PROGRAM | bay PROGRAM DEVICES SECONDS"
        ),
    }
}

/// Every finding and card in full, to compare before and after a change.
fn findings(corpus: &Corpus) -> Result<()> {
    let checked = dwell_check::check::check(&corpus.names(), corpus);
    let mut out = std::io::stdout().lock();
    for finding in &checked.findings {
        writeln!(out, "{finding:?}")?;
    }
    for compiled in &checked.procedures {
        writeln!(out, "{compiled:?}")?;
    }
    Ok(())
}

/// The corpus as files, to look at.
fn write(folder: &str, corpus: &Corpus) -> Result<()> {
    for name in corpus.names() {
        let path = Path::new(folder).join(&name);
        std::fs::create_dir_all(path.parent().context("a folder")?)?;
        std::fs::write(path, corpus.read(&name).map_err(anyhow::Error::msg)?)?;
    }
    Ok(())
}

fn say(what: &dyn std::fmt::Display) -> Result<()> {
    writeln!(std::io::stdout().lock(), "{what}")?;
    Ok(())
}
