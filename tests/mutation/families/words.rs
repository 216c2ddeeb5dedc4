//! Breaks of the wording: what a tired writer types into the texts that are read at the vehicle.

use dwell_syntax::tree::{Span, StatementKind, Text};

use super::Mutator;
use crate::mutation::broken::Broken;
use crate::mutation::ground::{Ground, Spot};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("action-in-note", action_in_note),
    ("steps-left-out", steps_left_out),
    ("value-not-shown", value_not_shown),
    ("sentence-long", sentence_long),
    ("two-instructions", two_instructions),
    ("not-imperative", not_imperative),
    ("condition-last", condition_last),
    ("vague-limit", vague_limit),
    ("direction-of-what", direction_of_what),
    ("number-in-prose", number_in_prose),
];

/// What a text is there for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// `do`.
    Work,
    /// Beside a verb, a measurement, a wait.
    Beside,
    /// `ask`.
    Question,
    /// `note`.
    Note,
    /// A danger, warning, caution or notice.
    Caution,
    /// `end`.
    End,
}

/// A text of the library.
struct Written<'a> {
    spot: Spot<'a>,
    kind: Kind,
    /// What stands between its quotes.
    inside: Span,
}

impl Written<'_> {
    fn text(&self) -> &str {
        self.spot.source.of(self.inside)
    }

    /// The text with another one in its place.
    fn instead(&self, text: &str) -> Broken {
        self.spot.source.broken(format!("“{text}”")).swap(self.inside, text)
    }

    /// The text with one more sentence at its end.
    fn and(&self, sentence: &str) -> Broken {
        let known = self.text();
        let stop = if known.ends_with(['.', '?', '!']) { "" } else { "." };
        self.instead(&format!("{known}{stop} {sentence}"))
    }

    /// The text with this behind the words of its last sentence, before its full stop.
    fn with_tail(&self, tail: &str) -> Broken {
        self.instead(&format!("{}{tail}.", self.text().trim_end_matches('.')))
    }
}

/// Every text of these kinds.
fn written<'a>(ground: &'a Ground, kinds: &[Kind]) -> Vec<Written<'a>> {
    let text = |spot: &Spot<'a>| -> Option<(Kind, &'a Text)> {
        match &spot.statement().kind {
            StatementKind::Do { text, .. } => Some((Kind::Work, text)),
            StatementKind::Handle(handle) => Some((Kind::Beside, handle.text.as_ref()?)),
            StatementKind::Measure(measure) => Some((Kind::Beside, measure.text.as_ref()?)),
            StatementKind::Wait { text, .. } => Some((Kind::Beside, text.as_ref()?)),
            StatementKind::Ask { text, .. } => Some((Kind::Question, text)),
            StatementKind::Note(text) => Some((Kind::Note, text)),
            StatementKind::Caution { text, .. } => Some((Kind::Caution, text.as_ref()?)),
            StatementKind::End { text, .. } => Some((Kind::End, text.as_ref()?)),
            _ => None,
        }
    };
    let all = ground.spots().into_iter().filter_map(|spot| {
        let (kind, text) = text(&spot)?;
        let inside = Span { start: text.span.start + 1, end: text.span.end - 1 };
        kinds.contains(&kind).then_some(Written { spot, kind, inside })
    });
    all.collect()
}

/// Each text in turn has one of the wordings in its place, the next one behind it.
fn by_turns(texts: &[Written<'_>], wordings: &[&str]) -> Vec<Broken> {
    let mut wordings = wordings.iter().cycle();
    let mut all = Vec::new();
    for text in texts {
        all.extend(wordings.next().map(|wording| text.instead(wording)));
        all.extend(wordings.next().map(|wording| text.and(wording)));
    }
    all
}

/// Each text in turn has one of these tails.
fn tails(texts: &[Written<'_>], tails: &[&str]) -> Vec<Broken> {
    texts.iter().zip(tails.iter().cycle()).map(|(text, tail)| text.with_tail(tail)).collect()
}

/// A step or a limit is told in a note, a new one before an instruction or one that is there, or in a caution.
fn action_in_note(ground: &Ground) -> Vec<Broken> {
    const NOTED: [&str; 22] = [
        "Disconnect the lead first.",
        "The clips have to be removed first.",
        "Don't forget to refit the seal.",
        "Make sure to reconnect the sensor afterwards.",
        "Remember to top up the coolant.",
        "Cover to be taken off beforehand.",
        "Before that, drain the sump.",
        "You need to unclip the hose.",
        "The four outer bolts must be taken out.",
        "Unclip the harness beforehand.",
        "The connector needs unplugging.",
        "The play must not be more than 0.3 mm.",
        "The nut should be slackened half a turn.",
        "It is best to remove the wheel for this.",
        "Always renew the gasket.",
        "The drain plug is opened later.",
        "Swap the hoses if they are old.",
        "Anything over 2 mm is a fail.",
        "Once cold, refit the cap.",
        "The fuse may have to be pulled out.",
        "Max. 0.5 mm allowed.",
        "The bracket gets bolted on afterwards.",
    ];
    const CAUTIONED: [&str; 6] = [
        "Disconnect the battery first.",
        "The fan can start: unplug it.",
        "Make sure to remove the key.",
        "The belt must be taken off first.",
        "Hot parts. Drain the coolant before you go on.",
        "Always pull the fuse out first.",
    ];
    let notes = by_turns(&written(ground, &[Kind::Note]), &NOTED);
    let new = written(ground, &[Kind::Work]).into_iter().zip(NOTED.iter().cycle()).map(|(text, note)| {
        let broken = text.spot.source.broken(format!("a note “{note}”"));
        broken.put(text.spot.statement().span.start, format!("note \"{note}\"\n        "))
    });
    let cautions = by_turns(&written(ground, &[Kind::Caution]), &CAUTIONED);
    notes.into_iter().chain(new).chain(cautions).collect()
}

/// Steps are left to the memory of the reader.
fn steps_left_out(ground: &Ground) -> Vec<Broken> {
    const LEFT_OUT: [&str; 22] = [
        "Fit everything in reverse order.",
        "Put it all back the other way round.",
        "Assemble in the reverse sequence.",
        "Assembly is the reverse of the above.",
        "Do the other side in the same way.",
        "Proceed in the same manner on the other wheel.",
        "Do this on the opposite side as well.",
        "Ditto on the other side.",
        "Repeat for the remaining cylinders.",
        "Repeat the above for the rear.",
        "Refit the cover, the hoses, the clips, etc.",
        "Put everything back together.",
        "Same on the other side.",
        "Reassemble everything.",
        "Carry on like this with the others.",
        "Refit all removed parts.",
        "Continue accordingly with the second one.",
        "Work backwards through the steps to refit it.",
        "Repeat steps 2 to 4.",
        "Do the others the same way.",
        "Fit it in the opposite order.",
        "Then do the other one too, and so on.",
    ];
    by_turns(&written(ground, &[Kind::Work, Kind::Beside, Kind::Note]), &LEFT_OUT)
}

/// A value is spoken of that was taken earlier, and is not shown. A text that shows a name may show this very value.
fn value_not_shown(ground: &Ground) -> Vec<Broken> {
    const EARLIER: [&str; 18] = [
        "Set it to the noted value.",
        "Turn it back by the number of turns you counted.",
        "Set it to the value you wrote down.",
        "Compare it with the first reading.",
        "Set it to the previous value.",
        "Put it back to its original setting.",
        "Turn the screw in by the same amount.",
        "Go back to the value from before.",
        "Bring it to the pressure noted above.",
        "Use the reading taken earlier.",
        "Compare this with what you measured before.",
        "Turn it in by as many turns as you turned it out.",
        "Set it to the same value as on the other side.",
        "Return it to the earlier setting.",
        "Fit shims of the same thickness as those taken out.",
        "Subtract the last reading from it.",
        "Set the height that was measured at the start.",
        "Screw it in the counted number of turns.",
    ];
    let texts = written(ground, &[Kind::Work, Kind::Beside]).into_iter();
    let texts: Vec<Written<'_>> = texts.filter(|text| !text.text().contains('{')).collect();
    by_turns(&texts, &EARLIER)
}

/// A sentence gets a tail that makes it longer than 20 words.
fn sentence_long(ground: &Ground) -> Vec<Broken> {
    const TAILS: [&str; 5] = [
        " with the greatest care and without haste so that none of the parts around it comes to any harm while you do so",
        ", which is best done by standing on the left of the engine where there is a little more room for the hands and the lamp",
        " in the way that has always been usual in this workshop and that was shown to everybody in the training of last year",
        " because experience has shown that otherwise the reading that is taken afterwards does not stand still for as long as it should",
        " (this also holds for the vehicles of the first two years of production although the part looks quite different on them)",
    ];
    tails(&written(ground, &[Kind::Work, Kind::Beside]), &TAILS)
}

/// A second instruction stands in the same sentence: a further one, or the one of the next line. Where the first one is
/// done meanwhile ("hold", "press"), the two are one.
fn two_instructions(ground: &Ground) -> Vec<Broken> {
    const SECOND: [&str; 14] = [
        " and wait for a minute",
        " and then check the hose for cracks",
        ", then wipe off what has run out",
        " and shut the bonnet",
        " and close the lid",
        "; afterwards refit the cap",
        ", wipe it and put the lid on",
        " and write the time on the card",
        " and finally switch everything off",
        ", then tell the customer",
        " and clean the seat",
        " & tighten the clamp",
        " and fetch the second tool",
        ", after that loosen the nut",
    ];
    const MEANWHILE: [&str; 8] = ["Hold", "Keep", "Leave", "Let", "Press", "Pull", "Push", "Pump"];
    let texts = written(ground, &[Kind::Work]).into_iter();
    let texts: Vec<Written<'_>> =
        texts.filter(|text| !MEANWHILE.iter().any(|verb| text.text().contains(verb))).collect();
    let mut all = tails(&texts, &SECOND);
    all.extend(tails(&texts, &SECOND[5..]));
    for text in &texts {
        let Some(StatementKind::Do { text: next, .. }) = text.spot.later().first().map(|next| &next.kind)
        else {
            continue;
        };
        let next = text.spot.source.of(Span { start: next.span.start + 1, end: next.span.end - 1 });
        all.push(text.with_tail(&format!(" and {}", small(next.trim_end_matches('.')))));
    }
    all
}

/// The instruction is told as what is so, what should be, or what somebody does.
fn not_imperative(ground: &Ground) -> Vec<Broken> {
    const FRONT: [&str; 14] = [
        "You should ",
        "It is necessary to ",
        "The technician has to ",
        "Next you ",
        "Now you have to ",
        "The next thing is to ",
        "It is best to ",
        "Here we ",
        "Somebody should ",
        "At this point one has to ",
        "Your colleague can ",
        "I usually ",
        "Technicians must ",
        "Time to ",
    ];
    const WHOLE: [&str; 7] = [
        "The screw is turned until it stops.",
        "Cap removed.",
        "Screw gets turned until it stops.",
        "Bolts to be tightened by hand.",
        "Turning the screw until it stops.",
        "All bolts are slackened.",
        "Removal of the cap.",
    ];
    let texts = written(ground, &[Kind::Work]);
    let fronts = texts.iter().zip(FRONT.iter().cycle());
    let fronts = fronts.map(|(text, front)| text.instead(&format!("{front}{}", small(text.text()))));
    let whole = texts.iter().zip(WHOLE.iter().cycle()).map(|(text, whole)| text.instead(whole));
    fronts.chain(whole).collect()
}

/// The text with a small first letter.
fn small(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// A condition stands behind the instruction. One sentence each: behind an earlier condition it would be a second one.
fn condition_last(ground: &Ground) -> Vec<Broken> {
    const CONDITIONS: [&str; 14] = [
        " if it is loose",
        ", unless it is new",
        " only when the engine is cold",
        ", provided that it is cold",
        " except on the long van",
        ", but only if a spacer is fitted",
        " where fitted",
        " in case it was taken off",
        " if fitted",
        " (not on vans with a tow bar)",
        ", assuming that the lamp is dark",
        " on vehicles with a tow bar",
        ", but not on the diesel",
        " only on vans with air conditioning",
    ];
    let texts = written(ground, &[Kind::Work, Kind::Beside]);
    let plain: Vec<Written<'_>> =
        texts.into_iter().filter(|text| text.kind == Kind::Work || orders(text.text())).collect();
    tails(&plain, &CONDITIONS)
}

/// Whether the last sentence of a text beside a verb tells to do something; "Bonnet open." has nothing to be a condition of.
fn orders(text: &str) -> bool {
    const BEGIN: [&str; 10] =
        ["Turn ", "Set ", "Put ", "Read ", "Hold ", "Push ", "Pull ", "Rock ", "Press ", "Lay "];
    let last = text.trim_end_matches('.').rsplit(". ").next().unwrap_or_default();
    BEGIN.iter().any(|verb| last.starts_with(verb))
}

/// An amount is told by a word, or roughly.
fn vague_limit(ground: &Ground) -> Vec<Broken> {
    const TOLD: [&str; 22] = [
        "Tighten it slightly.",
        "Tighten it moderately.",
        "Turn it a touch further.",
        "Tighten the nut, but not too tight.",
        "Move it somewhat to the front.",
        "Pull it out by roughly 20 mm.",
        "Put a small amount of grease on it.",
        "Turn it a couple of turns.",
        "Add oil as needed.",
        "Clean the seat if needed.",
        "Tighten it hand-tight.",
        "Apply the appropriate amount of grease.",
        "Move it more or less to the middle.",
        "Turn it back ca. 5 mm.",
        "Give it a reasonable tension.",
        "Add some grease.",
        "Tighten it snug.",
        "Bring it to approx. 2 bar.",
        "Tighten it enough.",
        "Turn it just a little.",
        "Fill in plenty of oil.",
        "Tighten the clamp fairly well.",
    ];
    const ASKED: [&str; 12] = [
        "Is the play excessive?",
        "Is the play acceptable?",
        "Is there too much play?",
        "Is the noise normal?",
        "Is the wear significant?",
        "Is the belt reasonably tight?",
        "Is the hose in good order?",
        "Does it move more than usual?",
        "Is the belt OK?",
        "Is the tread deep enough?",
        "Is the play within tolerance?",
        "Is the wear considerable?",
    ];
    let mut all = by_turns(&written(ground, &[Kind::Work, Kind::Beside]), &TOLD);
    let asked = written(ground, &[Kind::Question]);
    all.extend(asked.iter().zip(ASKED.iter().cycle()).map(|(text, asked)| text.instead(asked)));
    all
}

/// A direction is told, and not from where it is seen. A text that says so once says it for all of it.
fn direction_of_what(ground: &Ground) -> Vec<Broken> {
    const TURNED: [&str; 16] = [
        "Turn it clockwise.",
        "Turn it counter clockwise.",
        "Turn the screw anti clockwise to slacken it.",
        "Move it to the left.",
        "Turn the screw left.",
        "Push the lever right a little way.",
        "Turn the nut CCW.",
        "Move the hose towards the right.",
        "Turn it to the right until it stops.",
        "Push it leftwards.",
        "Turn the screw in the clockwise direction.",
        "Move the lever to the right-hand side.",
        "Slide it inwards.",
        "Push the belt to the left with the lever.",
        "Turn the bolts counter-clockwise.",
        "Turn it to your left.",
    ];
    let texts = written(ground, &[Kind::Work, Kind::Beside]).into_iter();
    let texts: Vec<Written<'_>> = texts.filter(|text| !text.text().contains("seen")).collect();
    by_turns(&texts, &TURNED)
}

/// A limit is typed into a text.
fn number_in_prose(ground: &Ground) -> Vec<Broken> {
    const TYPED: [&str; 22] = [
        "Tighten the nut to 25 N·m.",
        "Tighten it with 25 Nm.",
        "Set the gap to 0.3mm.",
        "Pump until there is 1 bar on the gauge.",
        "The voltage should be 12.5 V.",
        "It should read 12.5 V or more.",
        "Not less than 3 mm must be left.",
        "Torque: 25 Nm.",
        "Set 0.2 - 0.3 mm.",
        "Turn it until the gauge says 2.5 bar.",
        "The gap must be between 0.2 and 0.3 mm.",
        "Warm it up to 80 °C.",
        "Leave no more than 5 mm of play.",
        "Max. 3 mm.",
        "Tighten it to 25 newton metres.",
        "Set the pressure to 2,5 bar.",
        "There has to be a minimum of 2 mm.",
        "Adjust it to exactly 5 mm.",
        "Tighten by a further 90°.",
        "Wait until it has dropped under 40 degrees.",
        "Tolerance ± 2 mm.",
        "At 0.5 mm or more it is worn.",
    ];
    const ASKED: [&str; 6] = [
        "Is the play over 2 mm?",
        "Does the gauge show 2 bar?",
        "Is there more than 5 mm of play?",
        "Is it 12.5 V or higher?",
        "Is the tread at least 1.6 mm deep?",
        "Are there less than 3 mm left?",
    ];
    const ENDED: [&str; 5] = [
        "Renew it where it is below 3 mm.",
        "Below 12.4 V: charge the battery.",
        "Renew the discs if they are thinner than 20 mm.",
        "More than 5 mm: renew the joint.",
        "Come back when it holds 1.2 bar.",
    ];
    let mut all = by_turns(&written(ground, &[Kind::Work, Kind::Beside, Kind::Note]), &TYPED);
    for (kind, wordings) in [(Kind::Question, &ASKED[..]), (Kind::End, &ENDED[..])] {
        let texts = written(ground, &[kind]);
        all.extend(texts.iter().zip(wordings.iter().cycle()).map(|(text, wording)| text.instead(wording)));
    }
    all
}
