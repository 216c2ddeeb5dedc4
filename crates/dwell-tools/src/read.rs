//! From the text of the file to the register: what stands in it is looked at key by key.

use crate::amounts::{Wrong, accuracy, range, step};
use crate::fault::Fault;
use crate::register::{Ability, Register, Tool, Wire};
use dwell_quantity::Kind;
use std::ops::Range;
use time::{Date, Month};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// How long an answer is waited for where the register does not say.
const PATIENCE: u64 = 2000;

/// Reads the text of a register.
///
/// # Errors
/// Every fault, in the order of the lines; a register with one is not used at all, since a tool left out could be overdue.
pub fn read(text: &str) -> Result<Register, Vec<Fault>> {
    let mut reader = Reader { text, faults: Vec::new() };
    let (table, errors) = DeTable::parse_recoverable(text);
    for error in &errors {
        let why = error.message().lines().next().unwrap_or_default();
        reader.tell(
            error.span().unwrap_or(0..0),
            format!("this is no TOML: {why}"),
            "mend this line: `key = \"value\"`",
        );
    }
    let mut tools: Vec<Tool> = Vec::new();
    if errors.is_empty() {
        for (key, value) in table.get_ref() {
            match (key.get_ref().as_ref(), value.get_ref()) {
                ("tool", DeValue::Array(all)) => {
                    for one in all {
                        tools.extend(reader.tool(one));
                    }
                }
                _ => reader.tell(
                    key.span(),
                    format!("`{}` is nothing that a register has", key.get_ref()),
                    "begin each tool with `[[tool]]`",
                ),
            }
        }
    }
    for (place, tool) in tools.iter().enumerate() {
        let before = tools.get(..place).unwrap_or_default();
        if let Some(first) = before.iter().find(|known| known.number.eq_ignore_ascii_case(&tool.number)) {
            reader.faults.push(Fault {
                line: tool.line,
                what: format!("the number `{}` stands in line {} as well", tool.number, first.line),
                help: "each tool has a number of its own, on its label".to_owned(),
            });
        }
    }
    reader.faults.sort_by_key(|fault| fault.line);
    if reader.faults.is_empty() { Ok(Register { tools }) } else { Err(reader.faults) }
}

struct Reader<'t> {
    text: &'t str,
    faults: Vec<Fault>,
}

type Value<'i> = Spanned<DeValue<'i>>;

impl Reader<'_> {
    fn line(&self, at: &Range<usize>) -> usize {
        self.text.bytes().take(at.start).filter(|byte| *byte == b'\n').count() + 1
    }

    fn tell(&mut self, at: Range<usize>, what: impl Into<String>, help: impl Into<String>) {
        let line = self.line(&at);
        self.faults.push(Fault { line, what: what.into(), help: help.into() });
    }

    fn tool(&mut self, value: &Value<'_>) -> Option<Tool> {
        let DeValue::Table(table) = value.get_ref() else {
            self.tell(value.span(), "this is no tool", "begin each tool with `[[tool]]`");
            return None;
        };
        let mut tool = Tool {
            line: self.line(&value.span()),
            number: String::new(),
            serves: Vec::new(),
            measures: Vec::new(),
            sets: Vec::new(),
            calibrated: None,
            due: None,
            wire: None,
        };
        let (mut address, mut patience) = (None, PATIENCE);
        for (key, value) in table {
            match key.get_ref().as_ref() {
                "number" => tool.number = self.string(value, "TW-07").unwrap_or_default(),
                "serves-as" => tool.serves = self.strings(value),
                "measures" => tool.measures = self.abilities(value),
                "sets" => tool.sets = self.abilities(value),
                "calibrated" => tool.calibrated = self.date(value),
                "due" => tool.due = self.date(value),
                "address" => address = self.string(value, "192.0.2.7:5025"),
                "patience-ms" => patience = self.milliseconds(value).unwrap_or(PATIENCE),
                "note" => drop(self.string(value, "in the cupboard")),
                word => self.tell(
                    key.span(),
                    format!("`{word}` is nothing that is known of a tool"),
                    "known: number, serves-as, measures, sets, calibrated, due, address, patience-ms, note",
                ),
            }
        }
        tool.wire = address.map(|address| Wire { address, patience });
        self.whole(value.span(), &tool);
        Some(tool)
    }

    /// What a tool must have, and what must go together.
    fn whole(&mut self, at: Range<usize>, tool: &Tool) {
        if tool.number.trim().is_empty() {
            self.tell(
                at.clone(),
                "this tool has no number",
                "write the number on its label: `number = \"TW-07\"`",
            );
        }
        if tool.serves.is_empty() {
            let help = "write the tool of the procedures that it is: `serves-as = \"torque-wrench\"`";
            self.tell(at.clone(), format!("nothing says what the tool `{}` is used as", tool.number), help);
        }
        if let (Some(calibrated), Some(due)) = (tool.calibrated, tool.due)
            && due <= calibrated
        {
            let which = if tool.number.is_empty() { "this tool" } else { tool.number.as_str() };
            let what = format!("{which} is due on {due}, which is not after its check on {calibrated}");
            self.tell(at.clone(), what, "look at its certificate: which of the two days is wrong?");
        }
        let asked = tool.measures.iter().any(|ability| ability.query.is_some());
        if asked != tool.wire.is_some() {
            let (what, help) = match asked {
                true => (
                    "has a question but no address",
                    "write where it is reached: `address = \"192.0.2.7:5025\"`",
                ),
                false => (
                    "has an address but no question",
                    "write what it is asked for a value: `ask = \"MEASure:VOLTage:DC?\"`",
                ),
            };
            self.tell(at, format!("`{}` {what}", tool.number), help);
        }
    }

    fn string(&mut self, value: &Value<'_>, example: &str) -> Option<String> {
        let text = value.get_ref().as_str().map(str::trim).filter(|text| !text.is_empty());
        if text.is_none() {
            self.tell(
                value.span(),
                "a text in quotes belongs here",
                format!("write it like `\"{example}\"`"),
            );
        }
        text.map(str::to_owned)
    }

    /// One text, or a list of them.
    fn strings(&mut self, value: &Value<'_>) -> Vec<String> {
        match value.get_ref() {
            DeValue::Array(all) => all.iter().filter_map(|one| self.string(one, "torque-wrench")).collect(),
            _ => self.string(value, "torque-wrench").into_iter().collect(),
        }
    }

    fn date(&mut self, value: &Value<'_>) -> Option<Date> {
        let date = match value.get_ref() {
            DeValue::Datetime(moment) if moment.time.is_none() => moment.date,
            _ => None,
        };
        let day = date.and_then(|date| {
            let month = Month::try_from(date.month).ok()?;
            Date::from_calendar_date(i32::from(date.year), month, date.day).ok()
        });
        if day.is_none() {
            self.tell(
                value.span(),
                "a day belongs here",
                "write year, month and day without quotes: `2031-04-12`",
            );
        }
        day
    }

    fn milliseconds(&mut self, value: &Value<'_>) -> Option<u64> {
        let number = match value.get_ref() {
            DeValue::Integer(number) => number.as_str().parse::<u64>().ok(),
            _ => None,
        };
        let number = number.filter(|number| (10..=60_000).contains(number));
        if number.is_none() {
            self.tell(
                value.span(),
                "this is no time to wait",
                "write a whole number of milliseconds, 10 to 60000",
            );
        }
        number
    }

    fn abilities(&mut self, value: &Value<'_>) -> Vec<Ability> {
        let DeValue::Table(table) = value.get_ref() else {
            let help = "write the kind of quantity and its range: `measures.torque = { range = \"20 .. 150 lb·ft\" }`";
            self.tell(value.span(), "what is measured belongs here", help);
            return Vec::new();
        };
        let mut all = Vec::new();
        for (key, value) in table {
            let Some(kind) = Kind::named(key.get_ref()) else {
                let what = format!("`{}` is no kind of quantity", key.get_ref());
                self.tell(key.span(), what, "write a kind such as torque, dc-voltage, length or pressure");
                continue;
            };
            all.extend(self.ability(kind, value));
        }
        all
    }

    fn ability(&mut self, kind: Kind, value: &Value<'_>) -> Option<Ability> {
        let DeValue::Table(table) = value.get_ref() else {
            let help = format!("write `{{ range = \"0 .. 100 {}\" }}`", kind.usual_unit());
            self.tell(value.span(), "its range and accuracy belong here", help);
            return None;
        };
        let mut texts: [Option<(String, Range<usize>)>; 4] = Default::default();
        for (key, value) in table {
            let place = match key.get_ref().as_ref() {
                "range" => 0,
                "resolution" => 1,
                "accuracy" => 2,
                "ask" => 3,
                word => {
                    let what = format!("`{word}` is nothing that is known of a quantity of a tool");
                    self.tell(key.span(), what, "known: range, resolution, accuracy, ask");
                    continue;
                }
            };
            let text = self.string(value, "…")?;
            if let Some(known) = texts.get_mut(place) {
                *known = Some((text, value.span()));
            }
        }
        let [known, resolution, exact, query] = texts;
        let written = known.as_ref().map(|(text, _)| text.clone());
        let known = self.taken(known, |text| range(text, kind))?;
        let resolution = self.taken(resolution, |text| step(text, kind))?;
        let accuracy = self.taken(exact, |text| accuracy(text, kind, resolution.as_ref()))?;
        let Some(((range, unit), written)) = known.zip(written) else {
            let help = format!("write `range = \"0 .. 100 {}\"`", kind.usual_unit());
            self.tell(value.span(), "its range is missing", help);
            return None;
        };
        Some(Ability { kind, unit, range, written, resolution, accuracy, query: query.map(|(text, _)| text) })
    }

    /// What a text means, where there is one; none at all where it is wrong, which is then told.
    fn taken<T>(
        &mut self,
        text: Option<(String, Range<usize>)>,
        read: impl Fn(&str) -> Result<T, Wrong>,
    ) -> Option<Option<T>> {
        let Some((text, at)) = text else { return Some(None) };
        match read(&text) {
            Ok(meant) => Some(Some(meant)),
            Err((what, help)) => {
                self.tell(at, what, help);
                None
            }
        }
    }
}
