//! Damage to a procedure: one slip of the kinds that tired writers make.

use dwell_tests::chance::Chance;

/// The text with one of: a brace too few, a word mistyped, a wrong unit, something not put back, a caution left out.
pub(crate) fn damaged(text: &str, chance: &mut Chance) -> String {
    let (from, to) = match chance.below(6) {
        0 => ("        otherwise {\n            adjust", "        otherwise\n            adjust"),
        1 => ("measure charge:", "mesure charge"),
        2 => (" Hz when engine-family is k9h\n    adjust", " kPa when engine-family is k9h\n    adjust"),
        3 => ("    restore {\n        stop engine\n", "    restore {\n"),
        4 => ("        disconnect multimeter\n        disconnect belt-meter\n", ""),
        _ => {
            let warning = "        warning exhaust-gas \"Put the extraction hose on the tail pipe before you start the engine.\"\n";
            (warning, "")
        }
    };
    text.replacen(from, to, 1)
}
