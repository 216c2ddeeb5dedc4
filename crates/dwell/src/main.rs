//! The program `dwell`: its commands, the terminal, and how findings are drawn.

mod base;
mod commands;
mod drawing;
mod exit;
mod screen;
mod since;
mod work;

use clap::Parser;
use exit::Exit;
use screen::wrapped;
use std::io::Write;
use std::panic;
use std::process::ExitCode;

/// The checker makes and drops very many small lists.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    panic::set_hook(Box::new(|about| {
        commands::give_back();
        let place = about.location().map(|at| format!(" ({at})")).unwrap_or_default();
        say(&format!(
            "dwell: a fault inside the program stopped it; your files are as they were{place}\n  \
             {}\n  help: this is a mistake in dwell and not in your text: please report it with the file in question",
            about.payload_as_str().unwrap_or("no more is known")
        ));
    }));
    let code = panic::catch_unwind(|| match commands::Dwell::parse().run() {
        Ok(exit) => exit,
        Err(error) => {
            say(&format!("dwell: {error:#}"));
            Exit::Trouble
        }
    });
    code.unwrap_or(Exit::Trouble).into()
}

/// Words for the person at the terminal that belong to no output, their long lines wrapped. If nobody can read them, so be it.
fn say(words: &str) {
    for line in words.lines() {
        let text = line.trim_start();
        let indent = line.len() - text.len();
        let lead = if text.starts_with("help: ") { "help: " } else { "" };
        let hanging = indent + if lead.is_empty() { 2 } else { lead.len() };
        let first = format!("{}{lead}", " ".repeat(indent));
        for line in wrapped(&first, hanging, text.strip_prefix(lead).unwrap_or(text)) {
            let _ = writeln!(std::io::stderr(), "{line}");
        }
    }
}
