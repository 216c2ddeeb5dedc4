//! The rules: each has a name, a level, a page of its own, and the words for what was found.

use crate::facts::Facts;
use crate::finding::{Edit, Finding, Fix, Level, Place, Witness, written};
use dwell_syntax::slip::Slip;
use rayon::prelude::*;

/// The list of the rules: one word for each file `rules/WORD.rs` with its page `rules/WORD.md`. Those after the semicolon
/// are not found in the text: their findings are made where the cases are carried out, in the words of their file.
macro_rules! rules {
    ($($rule:ident)*; $($tried:ident)*) => {
        const RULES: &[Rule] = &[$($rule::RULE,)* $($tried::RULE),*];
        const TRIED: &[Rule] = &[$($tried::RULE),*];
        const CHECKS: &[fn(&Facts, &mut Vec<Finding>)] = &[$($rule::check),*];
    };
}

rules! {
    syntax look_alike_character bad_number unit_missing unit_unknown unit_ambiguous
    not_found declared_twice import_cycle perform_cycle not_executable
    kind_mismatch one_sided_band bare_nominal side_missing impossible_value
    band_reversed band_empty pair_disagrees pair_rounds_outward pair_too_narrow adjust_outside_check adjust_equals_check limit_stated_twice table_shape table_gap
    variant_uncovered variant_overlap variant_unknown not_adjustable
    tool_cannot_measure tool_out_of_range adapter_without_length tool_too_coarse fitting_mismatch tool_not_connected
    warm_up_missing zero_missing settle_missing
    unreachable never_passes endless out_unhandled no_way_out stale_reading no_recheck not_checked_after not_signed as_found_lost
    need_not_met need_lost stored_energy proof_missing wrong_state kept_broken not_restored fastener_left_loose restored_untouched leaves_untrue single_use_refitted
    reading_unused name_unused
    caution_missing caution_late caution_too_weak
    withdrawn
    target_on_edge adjuster_too_coarse approach_unsaid measured_another_way sign_unsaid name_says_difference look_alike_units limit_copied limits_disagree thread_condition_missing
    blamed_unread out_not_mended
    action_in_note part_not_listed mirrored_twice steps_left_out value_not_shown
    sentence_long two_instructions not_imperative condition_last vague_limit direction_of_what number_in_prose abbreviation_unexplained
    settings house_word waiver_unused;
    case_fails branch_without_case
}

mod abbreviation_unexplained;
mod action_in_note;
mod adapter_without_length;
mod adjust_equals_check;
mod adjust_outside_check;
mod adjuster_too_coarse;
mod approach_unsaid;
mod as_found_lost;
mod bad_number;
mod band_empty;
mod band_reversed;
mod bare_nominal;
mod blamed_unread;
pub mod branch_without_case;
pub mod case_fails;
mod caution_late;
mod caution_missing;
mod caution_too_weak;
mod condition_last;
mod declared_twice;
mod direction_of_what;
mod endless;
mod fastener_left_loose;
mod fitting_mismatch;
mod house_word;
mod import_cycle;
mod impossible_value;
mod kept_broken;
mod kind_mismatch;
mod leaves_untrue;
mod limit_copied;
mod limit_stated_twice;
mod limits_disagree;
mod look_alike_character;
mod look_alike_units;
mod measured_another_way;
mod mirrored_twice;
mod name_says_difference;
mod name_unused;
mod need_lost;
mod need_not_met;
mod never_passes;
mod no_recheck;
mod no_way_out;
mod not_adjustable;
mod not_checked_after;
mod not_executable;
mod not_found;
mod not_imperative;
mod not_restored;
mod not_signed;
mod number_in_prose;
mod one_sided_band;
mod out_not_mended;
mod out_unhandled;
mod pair_disagrees;
mod pair_rounds_outward;
mod pair_too_narrow;
mod part_not_listed;
mod perform_cycle;
mod proof_missing;
mod reading_unused;
mod restored_untouched;
mod sentence_long;
mod settings;
mod settle_missing;
mod side_missing;
mod sign_unsaid;
mod single_use_refitted;
mod stale_reading;
mod steps_left_out;
mod stored_energy;
mod syntax;
mod table_gap;
mod table_shape;
mod target_on_edge;
mod thread_condition_missing;
mod tool_cannot_measure;
mod tool_not_connected;
mod tool_out_of_range;
mod tool_too_coarse;
mod two_instructions;
mod unit_ambiguous;
mod unit_missing;
mod unit_unknown;
mod unreachable;
mod vague_limit;
mod value_not_shown;
mod variant_overlap;
mod variant_uncovered;
mod variant_unknown;
mod waiver_unused;
mod warm_up_missing;
mod withdrawn;
mod wrong_state;
mod zero_missing;

/// The name of the rule for what cannot be read at all.
pub(crate) const SYNTAX: &str = syntax::RULE.name;

/// The name of the rule for a waiver that lets nothing pass.
pub(crate) const WAIVER_UNUSED: &str = waiver_unused::RULE.name;

/// One rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rule {
    /// Its name: the bad thing, in words joined by `-`.
    pub name: &'static str,
    /// How grave it is.
    pub level: Level,
    /// Whether a `waive` with its reason may let it pass; never where the text would have no meaning.
    pub waivable: bool,
    /// Its page, Markdown.
    pub page: &'static str,
}

/// All rules, in the order of the reference.
pub fn all() -> &'static [Rule] {
    RULES
}

/// The rule of that name.
pub fn named(name: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.name == name)
}

/// Whether a rule finds something only where cases are carried out.
pub(crate) fn is_tried(name: &str) -> bool {
    TRIED.iter().any(|rule| rule.name == name)
}

/// Every finding of every rule, in the order of the rules. No rule knows of another: they look side by side.
pub(crate) fn findings(facts: &Facts) -> Vec<Finding> {
    let found = CHECKS.par_iter().map(|check| {
        let mut findings = Vec::new();
        check(facts, &mut findings);
        findings
    });
    found.collect::<Vec<_>>().into_iter().flatten().collect()
}

/// What is found of waivers, once it is known what the others find.
pub(crate) fn of_waivers(facts: &Facts) -> Vec<Finding> {
    let mut findings = Vec::new();
    waiver_unused::check(facts, &mut findings);
    findings
}

impl Rule {
    /// A finding of this rule, still without label and reason.
    fn at(&self, place: Place, message: impl Into<String>) -> Finding {
        Finding {
            rule: self.name,
            level: self.level,
            place,
            message: message.into(),
            label: String::new(),
            why: String::new(),
            help: None,
            related: Vec::new(),
            witness: None,
            fix: None,
        }
    }

    /// A finding from what could not be read, with its own words and repair; `help` is said where it has neither.
    fn of_slip(&self, file: usize, slip: &Slip, help: &str) -> Finding {
        let mut finding = self.at(Place { file, span: slip.span }, slip.message.clone());
        let mended = slip.fix.as_ref().map(|fix| written(&fix.replacement));
        finding.help = slip.help.clone().or(mended).or_else(|| Some(help.to_owned()));
        finding.fix =
            slip.fix.as_ref().map(|fix| Fix::one(Place { file, span: fix.span }, fix.replacement.clone()));
        finding
    }
}

/// The parts that a rule adds one by one.
impl Finding {
    fn label(mut self, label: impl Into<String>) -> Finding {
        self.label = label.into();
        self
    }

    fn why(mut self, why: impl Into<String>) -> Finding {
        self.why = why.into();
        self
    }

    fn help(mut self, help: impl Into<String>) -> Finding {
        self.help = Some(help.into());
        self
    }

    fn related(mut self, place: Place, words: impl Into<String>) -> Finding {
        if place.span.start < place.span.end {
            self.related.push((place, words.into()));
        }
        self
    }

    fn witness(mut self, witness: &Option<Witness>) -> Finding {
        self.witness.clone_from(witness);
        self
    }

    fn fix(mut self, place: Place, replacement: impl Into<String>) -> Finding {
        self.fix = Some(Fix::one(place, replacement));
        self
    }

    /// A repair of one or several places, where there is one; the edits may come in any order.
    fn mended(mut self, title: impl Into<String>, edits: Option<Vec<Edit>>) -> Finding {
        let Some(mut edits) = edits.filter(|edits| !edits.is_empty()) else { return self };
        edits.sort_by_key(|edit| edit.place);
        self.fix = Some(Fix { title: title.into(), edits });
        self
    }
}

/// A reason as a sentence of its own.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
    let end = if text.ends_with(['.', '?', '!']) { "" } else { "." };
    format!("{first}{}{end}", letters.as_str())
}

/// A sentence as it stands inside another one.
fn clause(sentence: &str) -> String {
    let mut letters = sentence.trim_end_matches('.').chars();
    let first: String = letters.next().into_iter().flat_map(char::to_lowercase).collect();
    format!("{first}{}", letters.as_str())
}

/// Names as people list them: "`a`, `b` or `c`".
fn alternatives(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => format!("`{one}`"),
        [front @ .., last] => {
            let front: Vec<String> = front.iter().map(|name| format!("`{name}`")).collect();
            format!("{} or `{last}`", front.join(", "))
        }
    }
}
