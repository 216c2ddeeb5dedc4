//! The values of a random procedure: what is measured, what is computed from it, and what is asked of both.

use super::{ITEMS, Writer};

impl Writer<'_> {
    pub(super) fn pressure(&mut self) -> String {
        self.pressures[self.chance.below(self.pressures.len())].clone()
    }

    pub(super) fn measure(&mut self, depth: usize) {
        if !self.once {
            return self.again(depth);
        }
        match self.chance.below(4) {
            0 | 1 => {
                let name = self.named("p");
                let kind = self.one(&["gauge-pressure", "gauge-pressure", "first-pressure"]);
                let more = self.one(&[
                    "",
                    "",
                    "",
                    " 3 times take mean",
                    " 2 times take highest",
                    " 2 times take last",
                ]);
                self.line(depth, &format!("measure {name}: {kind} with gauge{more}"));
                self.pressures.push(name);
            }
            2 => {
                let name = self.named("v");
                let more = self.one(&["", "", " every 5 s over 20 s take mean", " over 10 s take last"]);
                self.line(depth, &format!("measure {name}: dc-voltage with meter{more}"));
                if !more.is_empty() {
                    self.sampled.push(name.clone());
                }
                self.voltages.push(name);
            }
            _ if self.chance.once_in(2) => {
                let name = self.named("l");
                let more = self.one(&["", "", " 2 times take sum", " 3 times take spread"]);
                self.line(depth, &format!("measure {name}: thickness with rule{more}"));
                self.lengths.push(name);
            }
            _ => {
                let name = self.named("c");
                self.line(depth, &format!("read {name}: count from \"the box\" expected 0 .. 5"));
                self.counts.push(name);
            }
        }
    }

    pub(super) fn again(&mut self, depth: usize) {
        let all: Vec<String> = self.pressures.iter().chain(&self.voltages).cloned().collect();
        if !all.is_empty() {
            let name = all[self.chance.below(all.len())].clone();
            self.line(depth, &format!("measure {name} again"));
        }
    }

    /// One test of something that is known so far.
    pub(super) fn test(&mut self) -> String {
        for _ in 0..8 {
            match self.chance.below(12) {
                0 if !self.pressures.is_empty() => {
                    let (name, spec) = (self.pressure(), self.one(&["press", "press-floor", "press-roof"]));
                    let meets = self.one(&["meets", "meets", "misses"]);
                    return format!("{name} {meets} {spec}");
                }
                1 if !self.pressures.is_empty() => {
                    let band = self.one(&[
                        "within 2 .. 3 bar",
                        "at least 2.6 bar",
                        "above 2.5 bar",
                        "at most 1 bar",
                        "below 2.7 bar",
                    ]);
                    return format!("{} {band}", self.pressure());
                }
                2 if !self.voltages.is_empty() => {
                    let band = self.one(&["meets volt", "within 12 .. 15 V", "within 0 ± 12 V"]);
                    return format!("{} {band}", self.voltage());
                }
                3 if !self.counts.is_empty() => {
                    let name = self.counts[self.chance.below(self.counts.len())].clone();
                    let band = self.one(&["exactly 5", "at least 2", "at most 0"]);
                    return format!("{name} {band}");
                }
                4 if !self.questions.is_empty() => {
                    let name = self.questions[self.chance.below(self.questions.len())].clone();
                    let is = self.one(&["is yes", "is not no", "is yes or no"]);
                    return format!("{name} {is}");
                }
                5 => {
                    let value = self.one(&["short", "long"]);
                    return format!("family is {value}");
                }
                6 => {
                    let (item, _, states) = ITEMS[self.chance.below(ITEMS.len())];
                    let (is, state) = (self.one(&["is", "is not"]), self.one(&states));
                    return format!("{item} {is} {state}");
                }
                7 if !self.differences.is_empty() => {
                    let name = self.differences[self.chance.below(self.differences.len())].clone();
                    return format!("{name} within 0 ± 0.5 bar");
                }
                8 if !self.bands.is_empty() && !self.voltages.is_empty() => {
                    let band = self.bands[self.chance.below(self.bands.len())].clone();
                    return format!("{} meets {band}", self.voltage());
                }
                8 if !self.floors.is_empty() => {
                    let floor = self.floors[self.chance.below(self.floors.len())].clone();
                    return format!("{} meets {floor}", self.pressure());
                }
                9 if !self.pressures.is_empty() && !self.voltages.is_empty() => {
                    return format!("{} meets by-volt at {}", self.pressure(), self.voltage());
                }
                10 if !self.shares.is_empty() => {
                    let name = self.shares[self.chance.below(self.shares.len())].clone();
                    return format!("{name} {}", self.one(&["at least 0.8", "within 0.5 .. 2"]));
                }
                11 if !self.sampled.is_empty() => {
                    let name = self.sampled[self.chance.below(self.sampled.len())].clone();
                    return match self.chance.below(4) {
                        0 => format!("{name} is steady within 0.5 V"),
                        1 => format!("{name} is not steady within 0.5 V"),
                        2 => format!("{name} is fluctuating within 0.1 V"),
                        _ => format!("highest of {name} within 14 .. 16 V"),
                    };
                }
                _ => {}
            }
        }
        "family is short".to_owned()
    }

    fn voltage(&mut self) -> String {
        self.voltages[self.chance.below(self.voltages.len())].clone()
    }

    /// Something that follows from readings: a difference, a limit, a share.
    pub(super) fn computed(&mut self, depth: usize) {
        if !self.once {
            return;
        }
        match self.chance.below(3) {
            0 if self.pressures.len() > 1 => {
                let (one, other) = (self.pressure(), self.pressure());
                let name = self.named("d");
                self.line(depth, &format!("let {name}: pressure-difference = {one} - {other}"));
                self.differences.push(name);
            }
            1 if !self.voltages.is_empty() && self.chance.once_in(2) => {
                let from = self.voltage();
                let name = self.named("b");
                let band = if self.chance.once_in(2) {
                    format!("{from} - 1 V .. {from} + 1 V")
                } else {
                    format!("{from} .. {from} + 2 V never above 15 V")
                };
                self.line(depth, &format!("let {name}: dc-voltage = {band}"));
                self.bands.push(name);
            }
            1 if !self.pressures.is_empty() => {
                let from = self.pressure();
                let name = self.named("f");
                self.line(depth, &format!("let {name}: gauge-pressure = at least 80 % of {from}"));
                self.floors.push(name);
            }
            _ if self.voltages.len() > 1 => {
                let (one, other) = (self.voltage(), self.voltage());
                let name = self.named("r");
                self.line(depth, &format!("let {name}: ratio = {one} / {other}"));
                self.shares.push(name);
            }
            _ => {}
        }
    }
}
