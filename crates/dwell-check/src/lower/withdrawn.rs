//! Specs and procedures that are withdrawn from a day on: noted wherever they are used; which day counts is the rule's matter.

use super::Lowerer;
use crate::finding::Place;
use crate::model::{self, Thing};
use crate::trouble::Trouble;
use dwell_card::Withdrawn;
use dwell_syntax::tree;

impl Lowerer<'_> {
    /// A spec or a table is used here.
    pub(super) fn uses_spec(&mut self, spec: usize, place: Place) {
        let Some(known) = self.model.specs.get(spec) else { return };
        let what = if known.rows.is_some() { "the table" } else { "the spec" };
        self.uses(what, &known.name, known.withdrawn.as_ref(), place);
    }

    /// A procedure is performed, applied to a need or referred to here.
    pub(super) fn uses_procedure(&mut self, procedure: usize, name: &tree::Name) {
        let place = self.place(name.span);
        let Some(known) = self.model.procedures.get(procedure) else { return };
        self.uses("the procedure", &known.name, known.withdrawn.as_ref(), place);
    }

    fn uses(&mut self, what: &'static str, name: &str, withdrawn: Option<&model::Withdrawn>, place: Place) {
        let Some(known) = withdrawn else { return };
        let using = self.frames.last().and_then(|frame| self.model.procedures.get(frame.procedure));
        self.troubles.push(Trouble::Withdrawn {
            place,
            what,
            name: name.to_owned(),
            on: known.on.clone(),
            why: known.why.clone(),
            declared: known.place,
            revised: using.and_then(|using| using.revised.clone()),
        });
    }

    /// What the card says of it.
    pub(super) fn withdrawn(known: Option<&model::Withdrawn>) -> Option<Withdrawn> {
        known.map(|known| Withdrawn { on: known.on.clone(), why: known.why.clone() })
    }

    /// The procedure that a thing of the text is, with its use noted.
    pub(super) fn used_procedure(&mut self, thing: Thing, name: &tree::Name) -> Option<usize> {
        let Thing::Procedure(procedure) = thing else { return None };
        self.uses_procedure(procedure, name);
        Some(procedure)
    }
}

#[cfg(test)]
mod tests {
    use crate::check::{Checked, check_with};
    use crate::options::Options;
    use crate::texts::Texts;

    const OLD: &str = r#"
item bolt: fastener "bolt" { torque old-torque }
tool wrench: hand-held "wrench" { sets torque 1 .. 50 N·m accuracy ± 4 % of reading }
tool gauge: hand-held "gauge" { measures length 0 .. 10 mm resolution 0.01 mm accuracy ± 0.01 mm }
spec old-torque: torque { check 20 ± 2 N·m  withdrawn on 2031-05-01 "New bolts." }
spec old-gap: length { check 2 ± 0.5 mm  withdrawn on 2031-05-01 "New shims." }
procedure old-check "Old check" { withdrawn on 2031-05-01 "See the new one."  step a "A" { note "Look." } }
"#;

    fn checked(uses: &str, day: Option<&str>) -> Checked {
        let text = format!("{OLD}{uses}");
        let options = Options { day: day.map(str::to_owned), ..Options::default() };
        check_with(&["small.dwell".to_owned()], &Texts(&[("small.dwell", &text)]), &options)
    }

    /// What is found about withdrawals, in the text that it stands at.
    fn found(uses: &str, day: Option<&str>) -> Vec<String> {
        let checked = checked(uses, day);
        let found = checked.findings.iter().filter(|finding| finding.rule == "withdrawn");
        found
            .map(|finding| {
                let text = &checked.program.files[finding.place.file].text;
                text.get(finding.place.span.start..finding.place.span.end).unwrap_or_default().to_owned()
            })
            .collect()
    }

    const USES: [(&str, &str); 5] = [
        ("measure g: length with gauge expect g meets old-gap otherwise { end failed }", "old-gap"),
        ("measure g: length with gauge expect g below target of old-gap otherwise { end failed }", "old-gap"),
        ("perform old-check", "old-check"),
        ("refer to old-check", "old-check"),
        ("loosen bolt\n tighten bolt with wrench", "tighten bolt with wrench"),
    ];

    #[test]
    fn a_use_is_found_from_the_day_on_and_not_before() {
        for (statement, at) in USES {
            let job = format!("procedure p \"P\" {{ step a \"A\" {{ {statement} }} }}");
            assert_eq!(found(&job, Some("2031-04-30")), Vec::<String>::new(), "{statement}");
            assert_eq!(found(&job, None), Vec::<String>::new(), "{statement}");
            for day in ["2031-05-01", "2032-01-01"] {
                assert_eq!(found(&job, Some(day)), [at], "{statement} on {day}");
            }
        }
    }

    #[test]
    fn a_procedure_that_brings_about_a_need_is_used_too() {
        let job = "item cap: removable \"cap\"
procedure p \"P\" { needs { cap is out by old-check }  leaves { cap is out }  step a \"A\" { note \"Look.\" } }";
        assert_eq!(found(job, Some("2031-05-01")), ["old-check"]);
    }

    #[test]
    fn what_was_revised_on_that_day_or_later_is_found_whatever_the_day() {
        for (revised, finds) in [("2031-04-30", 0), ("2031-05-01", 1), ("2031-06-01", 1)] {
            let job = format!(
                "procedure p \"P\" {{ revision 2 on {revised}  step a \"A\" {{ perform old-check }} }}"
            );
            assert_eq!(found(&job, None).len(), finds, "{revised}");
            assert_eq!(found(&job, Some("2030-01-01")).len(), finds, "{revised}");
        }
    }

    #[test]
    fn a_procedure_that_is_withdrawn_itself_is_no_finding_and_the_card_says_it() {
        let job = format!("procedure p \"P\" {{ step a \"A\" {{ perform old-check\n {} }} }}", USES[0].0);
        let all = checked(&job, None);
        let card = |name: &str| {
            let known = all.procedures.iter().find(|known| known.name == name).unwrap();
            known.graph.clone().unwrap()
        };
        let old = card("old-check");
        assert_eq!(
            old.withdrawn.map(|known| (known.on, known.why)),
            Some(("2031-05-01".to_owned(), "See the new one.".to_owned()))
        );
        let p = card("p");
        assert!(p.withdrawn.is_none() && p.frames[0].withdrawn.is_none());
        assert_eq!(p.frames[1].withdrawn.as_ref().map(|known| known.why.as_str()), Some("See the new one."));
        assert_eq!(p.limits[0].withdrawn.as_ref().map(|known| known.why.as_str()), Some("New shims."));
        assert_eq!(found("", Some("2031-05-01")), Vec::<String>::new());
    }
}
