//! What is given for one reading of one measurement: as it is typed, and what it comes to.

use dwell_card::graph::Measure;
use dwell_card::limit::{Fold, Reading};
use dwell_card::meaning::{Value, cut, is_sampled, least, taken};
use dwell_check::finding::Reply;
use dwell_check::flow::moved;
use dwell_quantity::{Exact, Kind, Lookup, Unit, from_base, lookup};
use dwell_run::typed_value;

/// One reading of one measurement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Given {
    /// Each sample as it is typed, without its unit; none where there is no reading.
    pub(super) texts: Vec<String>,
    /// What they come to.
    pub(super) value: Value,
    /// The samples.
    pub(super) samples: Vec<Value>,
}

/// A value that may be tried, in the unit of the reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Candidate {
    /// One number; all samples come to it.
    Number(Exact),
    /// "above X".
    Interval(&'static str, Exact),
    /// Samples that come to a number and move by so much, in base units: one way, or up and down.
    Moving(Exact, Exact, bool),
    /// No reading.
    Nothing,
}

/// How a reading is read and typed.
#[derive(Clone, Debug)]
pub(super) struct Typing {
    pub(super) name: String,
    pub(super) kind: Kind,
    pub(super) unit: Unit,
    pub(super) decimals: u32,
    symbol: String,
    known: Reading,
}

impl Typing {
    pub(super) fn of(known: &Reading) -> Option<Typing> {
        let unit = match lookup(&known.unit) {
            Lookup::Unit(unit) => unit,
            // A count has no unit, and is not found among the spellings.
            _ => Unit::all().find(|unit| unit.symbol() == known.unit)?,
        };
        Some(Typing {
            name: known.name.clone(),
            kind: Kind::named(&known.kind)?,
            unit,
            decimals: known.decimals,
            symbol: known.unit.clone(),
            known: known.clone(),
        })
    }

    /// What a text comes to, an interval as far as it is possible; nothing where it cannot be read.
    fn typed(&self, text: &str) -> Option<Value> {
        Some(match typed_value(text, &self.symbol, self.kind)? {
            Value::Read(band) => Value::Read(cut(band, &self.known)?),
            other => other,
        })
    }

    /// A number in base units, in the unit.
    pub(super) fn in_unit(&self, value: &Exact) -> Exact {
        from_base(value, self.unit, self.kind)
    }

    /// The smallest step that is typed.
    pub(super) fn step(&self) -> Exact {
        Exact::ratio(1, 10_i64.pow(self.decimals.min(9))).unwrap_or_else(Exact::one)
    }

    /// A number as it is typed, with as many decimals as it needs, up to twelve.
    fn text(&self, number: &Exact) -> String {
        number.fixed(number.decimals_needed().unwrap_or(self.decimals + 2).clamp(self.decimals, 12))
    }

    /// What is typed, in base units.
    pub(super) fn base(&self, number: &Exact) -> Option<Exact> {
        typed_value(&self.text(number), &self.symbol, self.kind)?.exact().cloned()
    }

    fn read(&self, texts: Vec<String>, measure: &Measure) -> Option<Given> {
        let samples: Option<Vec<Value>> = texts.iter().map(|text| self.typed(text)).collect();
        let samples = samples?;
        Some(Given { value: taken(measure.take, &samples), texts, samples })
    }

    /// What is given by these replies.
    pub(super) fn given(&self, replies: &[&Reply], measure: &Measure) -> Option<Given> {
        let mut texts = Vec::new();
        for reply in replies {
            match reply {
                Reply::Value { number, .. } => {
                    texts.extend(number.split(';').map(|one| one.trim().to_owned()))
                }
                Reply::NoReading(_) if is_sampled(measure) => {}
                Reply::NoReading(_) => texts.push("no reading".to_owned()),
                _ => return None,
            }
        }
        self.read(texts, measure)
    }

    /// What a candidate gives.
    pub(super) fn give(&self, candidate: &Candidate, measure: &Measure) -> Option<Given> {
        let count = usize::try_from(least(measure)).unwrap_or(usize::MAX).max(1);
        let texts = match candidate {
            Candidate::Nothing if is_sampled(measure) => Vec::new(),
            Candidate::Nothing => vec!["no reading".to_owned(); count],
            Candidate::Interval(word, number) => vec![format!("{word} {}", self.text(number)); count],
            Candidate::Moving(number, by, swings) => {
                let all = moved(measure, &self.base(number)?, by, *swings)?;
                all.iter().map(|value| self.text(&self.in_unit(value))).collect()
            }
            Candidate::Number(number) => match measure.take {
                Fold::Spread if count > 1 => {
                    let mut all = vec![self.text(&Exact::zero()); count - 1];
                    all.push(self.text(number));
                    all
                }
                Fold::Sum if count > 1 => {
                    let rest = vec![self.text(&Exact::zero()); count - 1];
                    rest.into_iter().chain([self.text(number)]).collect()
                }
                _ => vec![self.text(number); count],
            },
        };
        self.read(texts, measure)
    }

    /// The replies of what is given, as many as were taken.
    pub(super) fn replies(&self, given: &Given, measure: &Measure) -> Vec<Reply> {
        let value =
            |number: String| Reply::Value { name: self.name.clone(), number, unit: self.symbol.clone() };
        if is_sampled(measure) {
            return vec![match given.texts.is_empty() {
                true => Reply::NoReading(self.name.clone()),
                false => value(given.texts.join("; ")),
            }];
        }
        let one = |text: &String| match text.as_str() {
            "no reading" => Reply::NoReading(self.name.clone()),
            _ => value(text.clone()),
        };
        given.texts.iter().map(one).collect()
    }
}
