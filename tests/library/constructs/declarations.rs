//! The forms of declarations and their lines.

use dwell_syntax::tree::{
    Ability, AccuracyPart, DeclarationKind, Effect, Level, Line, LineKind, NeverSide, SpecLine, SpecLineKind,
    Table, When,
};

use super::Met;

/// Every form, as a reader knows it.
pub(super) const ALL: &[&str] = &[
    "use",
    "handling",
    "a verb of a handling",
    "by proof",
    "a transition from several states",
    "item",
    "item with several handlings",
    "item at each",
    "quantity",
    "quantity at each",
    "quantity with a label",
    "spec",
    "table",
    "series",
    "tool",
    "hazard",
    "variant",
    "positions",
    "procedure",
    "brings a hazard",
    "brings a state",
    "a verb needs",
    "a quantity needs",
    "a verb moves",
    "a quantity moves",
    "moves … by … per",
    "moves … steps of",
    "lasts",
    "lasts … after",
    "has play",
    "has play with a text",
    "checked by",
    "a verb signed",
    "may stay",
    "torque",
    "located",
    "never below",
    "never above",
    "never outside",
    "positive",
    "negative",
    "limits at least",
    "limits at most",
    "means … over",
    "is a formula",
    "measures",
    "sets",
    "resolution",
    "accuracy ±",
    "accuracy of reading",
    "accuracy in digits",
    "measures … needs",
    "reaches",
    "extends",
    "extends … at",
    "fits",
    "calibrated",
    "settles",
    "warms up",
    "zeroed after each",
    "zeroed before each measure",
    "zeroed before each procedure",
    "zeroed before each verb",
    "impedance",
    "a line with when",
    "check",
    "adjust",
    "a band with when",
    "not adjustable",
    "source",
    "condition",
    "stages",
    "a stage by turning",
    "a spec signed",
    "spec withdrawn",
    "rows when",
    "rows",
    "between rows linear",
    "between rows refuse",
    "outside rows refuse",
    "danger",
    "warning",
    "caution",
    "notice",
    "waive in a declaration",
];

impl Met {
    /// A declaration with all that is in it.
    pub(super) fn declaration(&mut self, kind: &DeclarationKind) {
        match kind {
            DeclarationKind::Use(_) => self.form("use"),
            DeclarationKind::Handling(handling) => {
                self.form("handling");
                for transition in &handling.transitions {
                    self.form(if transition.verb.is_some() { "a verb of a handling" } else { "by proof" });
                    if transition.from.len() > 1 {
                        self.form("a transition from several states");
                    }
                }
                self.lines(&handling.lines, false);
            }
            DeclarationKind::Item(item) => {
                self.form("item");
                if item.handlings.len() > 1 {
                    self.form("item with several handlings");
                }
                self.part(&item.at_each, "item at each");
                self.lines(&item.lines, false);
            }
            DeclarationKind::Quantity(quantity) => {
                self.form("quantity");
                self.part(&quantity.at_each, "quantity at each");
                self.part(&quantity.label, "quantity with a label");
                self.lines(&quantity.lines, true);
            }
            DeclarationKind::Spec(spec) => {
                self.form("spec");
                self.spec_lines(&spec.lines);
            }
            DeclarationKind::Table(table) => self.table(table),
            DeclarationKind::Series(series) => {
                self.form("series");
                self.band(&series.range);
            }
            DeclarationKind::Tool(tool) => {
                self.form("tool");
                self.lines(&tool.lines, false);
            }
            DeclarationKind::Hazard(hazard) => {
                self.form("hazard");
                self.level(hazard.level);
            }
            DeclarationKind::Variant(_) => self.form("variant"),
            DeclarationKind::Positions(_) => self.form("positions"),
            DeclarationKind::Procedure(procedure) => {
                self.form("procedure");
                self.parts(&procedure.parts);
            }
            DeclarationKind::Broken => panic!("the library has a declaration that is not understood"),
        }
    }

    pub(super) fn level(&mut self, level: Level) {
        self.form(match level {
            Level::Danger => "danger",
            Level::Warning => "warning",
            Level::Caution => "caution",
            Level::Notice => "notice",
        });
    }

    fn when(&mut self, when: &[When], form: &'static str) {
        if !when.is_empty() {
            self.form(form);
        }
    }

    fn lines(&mut self, lines: &[Line], quantity: bool) {
        for line in lines {
            self.when(&line.when, "a line with when");
            match &line.kind {
                LineKind::Brings(_, effects) => self.effects(effects),
                LineKind::Needs(..) => self.form(if quantity { "a quantity needs" } else { "a verb needs" }),
                LineKind::Moves { gain, steps, .. } => {
                    self.form(if quantity { "a quantity moves" } else { "a verb moves" });
                    self.part(gain, "moves … by … per");
                    self.part(steps, "moves … steps of");
                }
                LineKind::Reaches(_) => self.form("reaches"),
                LineKind::Extends { at, .. } => {
                    self.form("extends");
                    self.part(at, "extends … at");
                }
                LineKind::SignedFor { .. } => self.form("a verb signed"),
                LineKind::CheckedBy { .. } => self.form("checked by"),
                LineKind::Lasts { after, .. } => {
                    self.form("lasts");
                    self.part(after, "lasts … after");
                }
                LineKind::Play { told, .. } => {
                    self.form("has play");
                    self.part(told, "has play with a text");
                }
                LineKind::MayStay(_) => self.form("may stay"),
                LineKind::Torque(_) => self.form("torque"),
                LineKind::Located(_) => self.form("located"),
                LineKind::Never(NeverSide::Below, _) => self.form("never below"),
                LineKind::Never(NeverSide::Above, _) => self.form("never above"),
                LineKind::Never(NeverSide::Outside, _) => self.form("never outside"),
                LineKind::Positive(_) => self.form("positive"),
                LineKind::Negative(_) => self.form("negative"),
                LineKind::Limits { at_least: true } => self.form("limits at least"),
                LineKind::Limits { at_least: false } => self.form("limits at most"),
                LineKind::Means(fold, over) => {
                    self.fold(*fold);
                    self.part(over, "means … over");
                }
                LineKind::IsFold(formula) => {
                    self.form("is a formula");
                    self.formula(formula);
                }
                LineKind::Measures(ability) => {
                    self.form("measures");
                    self.ability(ability);
                }
                LineKind::Sets(ability) => {
                    self.form("sets");
                    self.ability(ability);
                }
                LineKind::Waive { .. } => self.form("waive in a declaration"),
                LineKind::Fits(_) => self.form("fits"),
                LineKind::Calibrated(_) => self.form("calibrated"),
                LineKind::Settles(_) => self.form("settles"),
                LineKind::WarmsUp(_) => self.form("warms up"),
                LineKind::Zeroed { after: true, .. } => self.form("zeroed after each"),
                LineKind::Zeroed { after: false, what } => self.form(match what.text.as_str() {
                    "measure" => "zeroed before each measure",
                    "procedure" => "zeroed before each procedure",
                    _ => "zeroed before each verb",
                }),
                LineKind::Impedance(band) => {
                    self.form("impedance");
                    self.band(band);
                }
            }
        }
    }

    /// What an action brings about.
    pub(super) fn effects(&mut self, effects: &[Effect]) {
        for effect in effects {
            self.form(match effect {
                Effect::Hazard(_) => "brings a hazard",
                Effect::State(_) => "brings a state",
            });
        }
    }

    fn ability(&mut self, ability: &Ability) {
        self.part(&ability.resolution, "resolution");
        if !ability.needs.is_empty() {
            self.form("measures … needs");
        }
        for part in &ability.accuracy {
            self.form(match part {
                AccuracyPart::Fixed(_) => "accuracy ±",
                AccuracyPart::OfReading(_) => "accuracy of reading",
                AccuracyPart::Digits(_) => "accuracy in digits",
            });
        }
    }

    fn spec_lines(&mut self, lines: &[SpecLine]) {
        for line in lines {
            match &line.kind {
                SpecLineKind::Check(band, when) | SpecLineKind::Adjust(band, when) => {
                    let adjust = matches!(line.kind, SpecLineKind::Adjust(..));
                    self.form(if adjust { "adjust" } else { "check" });
                    self.band(band);
                    self.when(when, "a band with when");
                }
                SpecLineKind::NotAdjustable => self.form("not adjustable"),
                SpecLineKind::Waive { .. } => self.form("waive in a declaration"),
                SpecLineKind::Source(_) => self.form("source"),
                SpecLineKind::Condition(_) => self.form("condition"),
                SpecLineKind::Stages(stages) => {
                    self.form("stages");
                    for (turn, band) in stages {
                        self.band(band);
                        if *turn {
                            self.form("a stage by turning");
                        }
                    }
                }
                SpecLineKind::Signed(_) => self.form("a spec signed"),
                SpecLineKind::Withdrawn(..) => self.form("spec withdrawn"),
            }
        }
    }

    fn table(&mut self, table: &Table) {
        self.form("table");
        for group in &table.groups {
            self.form(if group.when.is_empty() { "rows" } else { "rows when" });
            for row in &group.rows {
                self.band(&row.band);
            }
        }
        self.form(if table.between_linear == Some(true) {
            "between rows linear"
        } else {
            "between rows refuse"
        });
        if table.outside_refuse {
            self.form("outside rows refuse");
        }
        self.spec_lines(&table.lines);
    }
}
