//! The whole report: times, instructions, growth and memory, each beside the goal that it is held to.

use std::io::Write;

use anyhow::Result;

use crate::corpus::{Corpus, DAMAGED_ONE_IN, one_text};
use crate::large::Shape;
use crate::{ALLOCATED, SEED, clock, growth, instructions, passes};

/// How often each pass is done; the shortest time counts, since a busy machine only ever adds.
const TIMES: usize = 3;
/// The text of which instructions are counted, and eight times as much.
const COUNTED: usize = 150_000;
/// What is grown, and how far.
const GROWN: [(&str, &str, &[&str]); 3] = [
    (
        "branches",
        "one procedure with n branches one after the other",
        &["5", "10", "20", "40", "100", "200", "400"],
    ),
    (
        "variants",
        "one procedure with k variants of v values",
        &["1x4", "2x4", "3x4", "4x4", "1x8", "2x8", "3x8"],
    ),
    ("adjustments", "one quantity adjusted n times in one procedure", &["5", "10", "20", "40"]),
];

/// Large files of 5,000 lines: axes, values of each, checks of a procedure; 40 variants together, and fewer and more.
const LARGE: [&str; 8] = ["1x10x4", "1x20x4", "1x40x4", "1x80x4", "20x2x4", "8x5x2", "8x5x4", "8x5x8"];

/// How often one large file is read by the lexer for one time: once is shorter than what the system counts in.
const LEXED: u32 = 50;

/// The text of `grow NAME COUNT`.
pub(crate) fn grown(name: &str, count: &str) -> Option<String> {
    match name {
        "branches" => Some(growth::branches(count.parse().ok()?)),
        "adjustments" => Some(growth::adjustments(count.parse().ok()?)),
        "variants" => {
            let (axes, values) = count.split_once('x')?;
            Some(growth::variants(axes.parse().ok()?, values.parse().ok()?))
        }
        "large" => {
            let mut numbers = count.split('x').map(str::parse);
            let mut number = || numbers.next()?.ok();
            let (axes, values, checks) = (number()?, number()?, number()?);
            Some(Shape { lines: 5_000, axes, values, checks }.text())
        }
        _ => None,
    }
}

/// Measures everything on a corpus of at least `bytes` bytes.
pub(crate) fn whole(bytes: usize) -> Result<()> {
    let mut out = std::io::stdout().lock();
    let corpus = Corpus::of(bytes, SEED);
    writeln!(
        out,
        "{} files, {} bytes, seed {SEED}, one procedure in {DAMAGED_ONE_IN} damaged",
        corpus.names().len(),
        corpus.bytes()
    )?;
    times(&mut out, &corpus)?;
    memory(&mut out, &corpus)?;
    drop(corpus);
    linear(&mut out)?;
    growing(&mut out)?;
    large(&mut out)
}

/// What a check of one file of 5,000 lines takes, where variants matter in every procedure of it.
pub(crate) fn large(out: &mut impl Write) -> Result<()> {
    writeln!(
        out,
        "\none file of 5,000 lines, by variants × values × checks of a procedure: time of a check (goal 0.250 s), and as a multiple of Dwell's lexer"
    )?;
    for shape in LARGE {
        let corpus = Corpus::single(grown("large", shape).unwrap_or_default());
        let mut shortest = (f64::INFINITY, f64::INFINITY);
        let mut found = 0;
        for _ in 0..TIMES {
            let lex = || corpus.texts().map(|text| dwell_syntax::lex::lex(text).tokens.len()).sum::<usize>();
            let (_, lexed) = clock::timed(|| (0..LEXED).map(|_| lex()).sum::<usize>());
            let lexed = lexed / f64::from(LEXED);
            let (findings, checked) =
                clock::timed(|| dwell_check::check::check(&corpus.names(), &corpus).findings.len());
            shortest = (shortest.0.min(lexed), shortest.1.min(checked));
            found = findings;
        }
        let ratio = shortest.1 / shortest.0;
        writeln!(
            out,
            "  {shape:>8} {:9.3} s {ratio:9.1} ×   {} bytes, {found} findings",
            shortest.1,
            corpus.bytes()
        )?;
    }
    Ok(())
}

/// The goal of a pass, as a multiple of the bare pass.
fn goal(name: &str) -> &'static str {
    match name {
        "parse" => "goal 4",
        "check" => "goal 15",
        _ => "",
    }
}

fn times(out: &mut impl Write, corpus: &Corpus) -> Result<()> {
    writeln!(out, "\ntime, the shortest of {TIMES}, and as a multiple of the bare pass")?;
    let mut bare = None;
    for pass in &passes::ALL {
        let mut shortest = f64::INFINITY;
        for _ in 0..TIMES {
            let (_, time) = clock::timed(|| (pass.run)(corpus));
            shortest = shortest.min(time);
        }
        let one = *bare.get_or_insert(shortest);
        writeln!(out, "  {:52} {shortest:9.3} s {:9.1} ×  {}", pass.what, shortest / one, goal(pass.name))?;
    }
    Ok(())
}

fn memory(out: &mut impl Write, corpus: &Corpus) -> Result<()> {
    writeln!(out, "\npeak memory for each byte of source, the source itself not counted (goal 12)")?;
    let largest = corpus.texts().max_by_key(|text| text.len()).unwrap_or_default();
    let one = Corpus::single(largest.to_owned());
    let all = Corpus::single(one_text(2_000_000));
    for (what, of, name) in [
        ("parsing one file of the corpus", &one, "parse"),
        ("parsing one file of 2 MB", &all, "parse"),
        ("checking the corpus", corpus, "check"),
    ] {
        let Some(pass) = passes::named(name) else { continue };
        let before = ALLOCATED.current_usage();
        ALLOCATED.reset_peak_usage();
        std::hint::black_box((pass.run)(of));
        let peak = ALLOCATED.peak_usage().saturating_sub(before);
        writeln!(out, "  {what:52} {:9.1} bytes", ratio(peak, of.bytes()))?;
    }
    Ok(())
}

fn linear(out: &mut impl Write) -> Result<()> {
    writeln!(out, "\ninstructions for 8 times the text, as a multiple (goal 9)")?;
    let count = |name: &str, bytes: usize| {
        let bytes = bytes.to_string();
        let made = instructions::of(&["make".to_owned(), bytes.clone()])?;
        let all = instructions::of(&["pass".to_owned(), name.to_owned(), bytes])?;
        anyhow::Ok(made.zip(all).map(|(made, all)| all.saturating_sub(made)))
    };
    for pass in &passes::ALL {
        match (count(pass.name, COUNTED)?, count(pass.name, 8 * COUNTED)?) {
            (Some(small), Some(large)) => writeln!(
                out,
                "  {:52} {:7} M → {:7} M  {:5.2} ×",
                pass.what,
                small / 1_000_000,
                large / 1_000_000,
                ratio(usize::try_from(large)?, usize::try_from(small)?)
            )?,
            _ => writeln!(out, "  {:52} not counted: valgrind is not installed", pass.what)?,
        }
    }
    Ok(())
}

fn growing(out: &mut impl Write) -> Result<()> {
    for (name, what, counts) in GROWN {
        writeln!(out, "\n{what}: time of a check, and instructions where valgrind is installed")?;
        for count in counts {
            let corpus = Corpus::single(grown(name, count).unwrap_or_default());
            let (found, time) =
                clock::timed(|| dwell_check::check::check(&corpus.names(), &corpus).findings.len());
            let counted = instructions::of(&["grow".to_owned(), name.to_owned(), (*count).to_owned()])?;
            let counted = counted.map_or(String::new(), |count| format!("{} M", count / 1_000_000));
            writeln!(out, "  {count:>6} {time:9.3} s {counted:>10}   {found} findings")?;
        }
    }
    Ok(())
}

#[allow(clippy::cast_precision_loss)]
fn ratio(one: usize, other: usize) -> f64 {
    one as f64 / other.max(1) as f64
}
