//! Random procedures as texts: every kind of statement that decides, loops, changes things or is put back.

mod values;

use crate::soundness::Chance;
use std::fmt::Write as _;

/// What all of them use.
const HEAD: &str = r#"variant family: short, long
positions side: left, right

item cover: removable "cover"
item pad: removable at each side "pad"
item plug: connectable "plug"
item bolt: fastener "bolt" { loosen moves first-pressure }
item engine: startable, heatable "engine" { warm lasts 20 min after stop }
item cable: connectable "cable"

quantity first-pressure: gauge-pressure

tool gauge: hand-held "gauge" { measures gauge-pressure 0 .. 10 bar resolution 0.01 bar accuracy ± 0.01 bar }
tool meter: hand-held "meter" { measures dc-voltage -60 .. 60 V resolution 0.01 V accuracy ± 0.02 V }
tool rule: hand-held "rule" { measures length 0 .. 300 mm resolution 0.01 mm accuracy ± 0.02 mm }

quantity thickness: length { never below 0 mm }
series shims: thickness 2.20 .. 3.20 mm steps of 0.02 mm

spec press: gauge-pressure { check 2.6 ± 0.2 bar  adjust 2.6 ± 0.1 bar }
spec press-floor: gauge-pressure { check at least 1.5 bar  adjust at least 1.7 bar }
spec press-roof: gauge-pressure { check below 4 bar  adjust below 3.9 bar }
spec volt: dc-voltage {
    check 13.8 .. 14.6 V when family is short
    check 14.0 .. 14.8 V when family is long
    not adjustable
}
spec thick: thickness { check 2.5 +0.1 -0 mm }
table by-volt: gauge-pressure by dc-voltage {
    at 10 V: 1 .. 3 bar
    at 20 V: 2 .. 4 bar
    between rows linear
    outside rows refuse
    not adjustable
}

"#;

/// The states of the items that are handled, with the verbs between them.
const ITEMS: [(&str, [&str; 2], [&str; 2]); 4] = [
    ("cover", ["remove", "refit"], ["fitted", "out"]),
    ("plug", ["disconnect", "connect"], ["connected", "open"]),
    ("engine", ["start", "stop"], ["stopped", "running"]),
    ("bolt", ["loosen", "tighten"], ["tight", "loose"]),
];

/// One procedure in the making.
struct Writer<'a> {
    chance: &'a mut Chance,
    text: String,
    /// Names of pressures, voltages, lengths and counts that were measured so far.
    pressures: Vec<String>,
    voltages: Vec<String>,
    lengths: Vec<String>,
    counts: Vec<String>,
    /// Voltages that are sampled; they are among the voltages too.
    sampled: Vec<String>,
    /// Computed differences of pressures, limits for voltages and for pressures, and shares of voltages.
    differences: Vec<String>,
    bands: Vec<String>,
    floors: Vec<String>,
    shares: Vec<String>,
    questions: Vec<String>,
    /// Names given out so far.
    names: usize,
    /// Steps that are closed, to go back to.
    steps: Vec<String>,
    /// Whether something is held, and whether it is the restore that is written.
    held: bool,
    restoring: bool,
    /// Whether the block in hand is done once only: not in a `for each`, not in a block that an adjusting repeats.
    once: bool,
    performs: bool,
}

/// Two procedures, the second of which may perform the first.
pub(super) fn procedures(chance: &mut Chance) -> String {
    let mut text = HEAD.to_owned();
    for name in ["inner", "outer"] {
        let mut writer = Writer {
            chance,
            text: String::new(),
            pressures: Vec::new(),
            voltages: Vec::new(),
            lengths: Vec::new(),
            counts: Vec::new(),
            sampled: Vec::new(),
            differences: Vec::new(),
            bands: Vec::new(),
            floors: Vec::new(),
            shares: Vec::new(),
            questions: Vec::new(),
            names: 0,
            steps: Vec::new(),
            held: false,
            restoring: false,
            once: true,
            performs: name == "outer",
        };
        writer.procedure(name);
        let written = writer.text;
        text.push_str(&written);
    }
    text
}

impl Writer<'_> {
    fn line(&mut self, depth: usize, words: &str) {
        _ = writeln!(self.text, "{}{words}", "    ".repeat(depth));
    }

    fn one<'t>(&mut self, of: &[&'t str]) -> &'t str {
        of[self.chance.below(of.len())]
    }

    fn named(&mut self, letter: &str) -> String {
        self.names += 1;
        format!("{letter}{}", self.names)
    }

    fn procedure(&mut self, name: &str) {
        self.line(0, &format!("procedure {name} \"{name}\" {{"));
        if self.chance.once_in(8) {
            self.line(1, "decide guarded");
        }
        let needs = self.chance.below(3);
        if needs > 0 {
            self.line(1, "needs {");
            for (item, _, states) in &ITEMS[..needs] {
                let state = states[usize::from(self.chance.once_in(4))];
                self.line(2, &format!("{item} is {state}"));
            }
            self.line(1, "}");
        }
        if self.chance.once_in(8) {
            self.line(1, "leaves { plug is open }");
        }
        if self.chance.once_in(8) {
            self.line(1, "keep cable connected");
        }
        for _ in 0..1 + self.chance.below(3) {
            let step = self.named("step-");
            let signed = if self.chance.once_in(8) { " signed" } else { "" };
            self.line(1, &format!("step {step} \"{step}\"{signed} {{"));
            self.steps.push(step);
            self.block(2, 4);
            self.line(1, "}");
        }
        if !self.chance.once_in(6) {
            self.restoring = true;
            self.line(1, "restore {");
            for (item, verbs, _) in &ITEMS {
                if *item == "engine" || !self.chance.once_in(10) {
                    let verb = if *item == "plug" || *item == "cover" || *item == "bolt" {
                        verbs[1]
                    } else {
                        "stop"
                    };
                    self.line(2, &format!("{verb} {item}"));
                }
            }
            self.line(2, "refit pad at each side");
            if self.chance.once_in(5) {
                self.branch(2, 1);
            }
            self.line(1, "}");
        }
        self.line(0, "}\n");
    }

    /// Some statements; names that begin in a block are known after it too.
    fn block(&mut self, depth: usize, most: usize) {
        for _ in 0..1 + self.chance.below(most) {
            self.statement(depth);
        }
    }

    fn statement(&mut self, depth: usize) {
        let deep = depth > 5;
        match self.chance.below(if deep { 8 } else { 20 }) {
            0 | 1 => {
                let (item, verbs, _) = ITEMS[self.chance.below(ITEMS.len())];
                let verb = self.one(&verbs);
                self.line(depth, &format!("{verb} {item}"));
            }
            2 => {
                let wait = self.one(&[
                    "do \"Look.\"",
                    "note \"Mind.\"",
                    "wait 2 min",
                    "wait 15 min",
                    "cause bolt \"Worn.\"",
                ]);
                self.line(depth, wait);
            }
            3 | 4 => self.measure(depth),
            5 => self.again(depth),
            6 => {
                if !self.restoring && self.once {
                    let name = self.named("a");
                    self.line(depth, &format!("ask {name} \"{name}?\" one of yes, no, maybe"));
                    self.questions.push(name);
                }
            }
            7 => self.computed(depth),
            8..=10 => self.branch(depth, 2),
            11..=13 => self.expect(depth),
            14 => self.span(depth),
            15 => self.go_back(depth),
            16 => self.each(depth),
            17 => self.choose(depth),
            18 => self.set(depth),
            _ => self.perform_or_end(depth),
        }
    }

    fn condition(&mut self) -> String {
        let first = self.test();
        match self.chance.below(4) {
            0 => format!("{first} and {}", self.test()),
            1 => format!("{first} or {}", self.test()),
            _ => first,
        }
    }

    fn branch(&mut self, depth: usize, most: usize) {
        let condition = self.condition();
        self.line(depth, &format!("if {condition} {{"));
        self.block(depth + 1, most);
        self.line(depth, "}");
        if self.chance.once_in(3) {
            let condition = self.condition();
            self.line(depth, &format!("else if {condition} {{"));
            self.block(depth + 1, most);
            self.line(depth, "}");
        }
        if self.chance.once_in(2) {
            self.line(depth, "else {");
            self.block(depth + 1, most);
            self.line(depth, "}");
        }
    }

    fn expect(&mut self, depth: usize) {
        if self.pressures.is_empty() {
            return self.measure(depth);
        }
        let name = self.pressure();
        let spec = self.one(&["press", "press", "press-floor", "press-roof"]);
        let more = if self.chance.once_in(4) { format!(" and {}", self.test()) } else { String::new() };
        self.line(depth, &format!("expect {name} meets {spec}{more}"));
        let arms = self.chance.below(4);
        if arms > 0 {
            self.arm(depth, "otherwise low");
        }
        if arms > 1 {
            self.arm(depth, "otherwise high");
        }
        if arms > 2 {
            self.arm(depth, "otherwise no reading");
        }
        self.line(depth, "otherwise {");
        if self.chance.once_in(2) && !self.restoring {
            let once = std::mem::replace(&mut self.once, false);
            let times = 1 + self.chance.below(3);
            self.line(depth + 1, &format!("adjust {name} to {spec} up to {times} times by {{"));
            self.line(depth + 2, "do \"Set it.\"");
            if self.chance.once_in(3) {
                self.statement(depth + 2);
            }
            self.line(depth + 1, "}");
            self.once = once;
            self.line(depth + 1, "otherwise {");
            self.ending(depth + 2);
            self.line(depth + 1, "}");
        } else {
            self.ending(depth + 1);
        }
        self.line(depth, "}");
    }

    fn arm(&mut self, depth: usize, head: &str) {
        self.line(depth, &format!("{head} {{"));
        self.ending(depth + 1);
        self.line(depth, "}");
    }

    /// An end, or something else that a block may come to.
    fn ending(&mut self, depth: usize) {
        if self.chance.once_in(3) {
            self.statement(depth);
        } else {
            let end = self.one(&["failed", "failed", "unfinished"]);
            self.line(depth, &format!("end {end} \"So.\""));
        }
    }

    fn span(&mut self, depth: usize) {
        if self.held || self.restoring {
            return;
        }
        self.held = true;
        let (item, _, states) = ITEMS[self.chance.below(ITEMS.len())];
        let state = self.one(&states);
        self.line(depth, &format!("keep {item} {state} \"Hold it.\" {{"));
        self.block(depth + 1, 3);
        self.line(depth, "}");
        self.held = false;
        self.arm(depth, "otherwise");
    }

    fn go_back(&mut self, depth: usize) {
        if self.restoring || !self.once || self.steps.is_empty() {
            return;
        }
        let step = self.steps[self.chance.below(self.steps.len())].clone();
        let times = 1 + self.chance.below(2);
        let condition = self.condition();
        self.line(depth, &format!("if {condition} {{"));
        self.line(depth + 1, &format!("back to {step} up to {times} times"));
        self.line(depth + 1, "otherwise {");
        self.ending(depth + 2);
        self.line(depth + 1, "}");
        self.line(depth, "}");
    }

    fn each(&mut self, depth: usize) {
        if !self.once {
            return;
        }
        self.line(depth, "for each side {");
        let once = std::mem::replace(&mut self.once, false);
        let verb = self.one(&["remove", "refit"]);
        self.line(depth + 1, &format!("{verb} pad"));
        self.line(depth + 1, "if pad is out {");
        self.statement(depth + 2);
        self.line(depth + 1, "}");
        self.once = once;
        self.line(depth, "}");
    }

    fn choose(&mut self, depth: usize) {
        if self.lengths.is_empty() || self.restoring || !self.once {
            return;
        }
        let from = self.lengths[self.chance.below(self.lengths.len())].clone();
        let name = self.named("s");
        self.line(depth, &format!("choose {name} from shims nearest {from}"));
        self.arm(depth, "otherwise");
        let band = self.one(&["at least 2.4 mm", "meets thick"]);
        self.line(depth, &format!("if {name} {band} {{ note \"It is {{{name}}}.\" }}"));
    }

    /// Work that is set to a limit that is worked out, of whatever quantity.
    fn set(&mut self, depth: usize) {
        let all: Vec<&String> = self.bands.iter().chain(&self.floors).collect();
        if let Some(limit) = all.get(self.chance.below(all.len().max(1))).map(|limit| limit.to_string()) {
            let verb = self.one(&["tighten", "loosen"]);
            self.line(depth, &format!("{verb} bolt to {limit}"));
        }
    }

    fn perform_or_end(&mut self, depth: usize) {
        if self.performs && !self.held && !self.restoring && self.once && !self.chance.once_in(3) {
            self.line(depth, "perform inner");
            if self.chance.once_in(2) {
                self.arm(depth, "otherwise");
            }
            return;
        }
        let condition = self.condition();
        let end = self.one(&["failed", "unfinished", "passed"]);
        self.line(depth, &format!("if {condition} {{ end {end} \"So.\" }}"));
    }
}
