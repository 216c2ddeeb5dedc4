//! One line for each word of the language: what it is for. The reference under `grammar/reference/` says more.

use dwell_syntax::words::Word;

/// What a word is for, one sentence.
#[allow(clippy::too_many_lines)] // one line for each word
pub fn line(word: Word) -> &'static str {
    match word {
        Word::To => "What something is set to, tightened to or connected to, or where a procedure goes on.",
        Word::With => "The tool that something is done, measured or held with.",
        Word::By => "What brings it about: a procedure, a proof, a spec; or what a table is looked up by.",
        Word::For => "`for each`: what follows is done once for each place.",
        Word::Each => "Every one of a set of places.",
        Word::At => {
            "A place of a thing that is there more than once, a row of a table, or `at least`, `at most`."
        }
        Word::Of => "What a share or a fold is taken of: `highest of dry`, `70 % of wet`.",
        Word::Most => "`at most`: the limit itself is in.",
        Word::Least => "`at least`: the limit itself is in.",
        Word::Is | Word::Are => "The state of a thing, the answer to a question, the value of a variant.",
        Word::Not => "The opposite of what follows; `not adjustable` in a spec: nothing can be set.",
        Word::And => "All of it must hold; never mixed with `or`.",
        Word::Or => "One of it must hold; never mixed with `and`.",
        Word::If => "What is done only where a condition holds.",
        Word::Else => "What is done where the condition before it does not hold.",
        Word::When => "Only for these variants, or while a thing is in this state.",
        Word::Where => "Only at the places for which this holds.",
        Word::Then => "The next stage of a tightening.",
        Word::Otherwise => {
            "What is done where it does not come out as asked: low, high, without a reading, or all that is left."
        }
        Word::Use => "Another file whose names are known here.",
        Word::Procedure => {
            "A procedure: steps, what it needs, what is put back on every way out, and its cases."
        }
        Word::Spec => "Bands for a quantity: what is checked, what is set to, where the values come from.",
        Word::Table => "Bands that are looked up by another reading.",
        Word::Series => "Sizes that are kept in steps, such as shims.",
        Word::Quantity => "A quantity of the vehicle: its kind, its signs, what it never is, what moves it.",
        Word::Handling => {
            "How a kind of thing is handled: its states, the normal one first, and the verbs between them."
        }
        Word::Item => "A thing of the vehicle, with its handlings.",
        Word::Tool => "A tool: the least that it must be able to do.",
        Word::Hazard => "A hazard with its signal word and its usual caution.",
        Word::Variant => "What tells vehicles apart, with its values.",
        Word::Positions => "A set of places: cylinders, wheels.",
        Word::Revision => "Number, day and reason of a revision.",
        Word::Applies => "Which values of a variant the procedure is for.",
        Word::Needs => "What must hold before: of a procedure, a verb, a measurement.",
        Word::Leaves => "What the procedure leaves otherwise than normal when it passes.",
        Word::Step => "A step: a name, a title, and what is done.",
        Word::Restore => {
            "What is put back on every way out: passed, failed, unfinished, referred or stopped."
        }
        Word::Case => "A test of the procedure: variants, answers and readings, and how it must end.",
        Word::Decide => {
            "Whether readings are judged as they are, or with the accuracy of the tool taken off each limit."
        }
        Word::Guarded => "The accuracy of the tool is taken off each limit.",
        Word::Simple => "Readings are judged as they are.",
        Word::Signed => "Somebody signs for it.",
        Word::Twice => "Two persons sign: a hold point.",
        Word::Ends => "How the case must end.",
        Word::Withdrawn => "From that day on it is not used any more, and why.",
        Word::Do => "An instruction in your own words, with what it brings about.",
        Word::Measure => "A reading is taken with a tool.",
        Word::Read => "A value is read from somewhere, without a tool.",
        Word::Expect => {
            "A decision that counts for the result; `otherwise` says what is done where it is out."
        }
        Word::Adjust => {
            "Set until the reading is within the band to set to, measured again after each round."
        }
        Word::Ask => "A question to the technician, with a choice of answers.",
        Word::Let => "A value or a limit that is computed, always from the latest readings.",
        Word::Wait => "Time passes, counted from here or since something was done.",
        Word::Perform => "Another procedure, or a step of this one, is done here.",
        Word::Refer => "The procedure ends here; another one goes on.",
        Word::End => "The procedure ends here: passed, failed or unfinished. `restore` is still done.",
        Word::Cause => "A probable cause that is noted in the record.",
        Word::Choose => "The size from a series that is nearest to a value.",
        Word::Back => "Back to a step, a bounded number of times.",
        Word::On => "On to a later step.",
        Word::Keep => "What stays as it is until `restore`, or is held during a block.",
        Word::Waive => "A rule that does not hold here, with the reason.",
        Word::Note => "Information; nothing is to be done.",
        Word::Danger => "A hazard that will kill or injure badly (ANSI Z535.6).",
        Word::Warning => "A hazard that could kill or injure badly (ANSI Z535.6).",
        Word::Caution => "A hazard that could injure slightly (ANSI Z535.6).",
        Word::Notice => "Damage to things, no injury (ANSI Z535.6).",
        Word::Again => "Measured again with the same tool in the same way.",
        Word::After => "So long after it is connected, or after this verb.",
        Word::Every => "So often within a time; or: for all places or moments.",
        Word::Over => "During this time, or over this turn.",
        Word::Until => "Measured until this holds.",
        Word::Take => "How several readings become one.",
        Word::Averaging => "The tool averages over this time.",
        Word::Since => "The time counts from when this was done.",
        Word::From => "Where it is read, or which series it is chosen from.",
        Word::Expected => "What is to be expected there; anything else is asked again.",
        Word::Proves => "What is proved when it is in: a state that no verb brings about.",
        Word::Brings => "What comes about: hazards, and states of other things.",
        Word::Zeroes => "The tool that this sets to zero.",
        Word::Up => "`up to 5 times`: how often at most; `warms up`: how long a tool takes.",
        Word::Times | Word::Time => "How often.",
        Word::Within => "In this band.",
        Word::Any => "At least one of the places or moments.",
        Word::Above => "More than this; the limit itself is out.",
        Word::Below => "Less than this; the limit itself is out.",
        Word::Exactly => "This number, for what is counted.",
        Word::Meets => "In the band of a spec or table.",
        Word::Misses => "Not in the band of a spec or table.",
        Word::Nearest => "The value that the chosen size is nearest to.",
        Word::One => "`one of`: the answers to choose from.",
        Word::Target => "The value to aim at.",
        Word::First => "The value as found, before anything was adjusted.",
        Word::Because => "The reason of a waiver.",
        Word::Sine => "The sine of an angle.",
        Word::Root => "The square root.",
        Word::States => "The states of a handling, the normal one first.",
        Word::Proof => "`by proof`: a state that only a measurement leads to.",
        Word::May | Word::Stay => "`may stay`: states that need not be put back.",
        Word::Moves => "Which quantities a verb or another quantity moves: their readings are stale then.",
        Word::Lasts => "How long a state lasts.",
        Word::Checked => "`checked by`: what must be judged after the verb.",
        Word::Has | Word::Play => "`has play`: turned back, the verb moves nothing at first.",
        Word::Located => "Where it is, in words.",
        Word::Torque => "The spec that it is tightened to.",
        Word::Fits => "The connector or thread that it fits.",
        Word::Measures => "What the tool measures: range, resolution, accuracy.",
        Word::Sets => "What the tool can be set to: range, resolution, accuracy.",
        Word::Resolution => "The smallest step that can be read.",
        Word::Accuracy => "How far the reading may be off.",
        Word::Calibrated | Word::Months | Word::Month => {
            "After how many months at the latest it is calibrated again."
        }
        Word::Warms => "`warms up`: how long the tool must be on before it is read.",
        Word::Settles => "How long the display takes to settle.",
        Word::Zeroed => "When the tool is set to zero.",
        Word::Before => "Before each of these.",
        Word::Impedance => "How little the tool may load what it measures.",
        Word::Reaches => "From the square drive of a wrench to the hand.",
        Word::Extends => "How far an adapter takes the fastener away from the square drive.",
        Word::Never => "Values that it can never have, or a limit that is never passed.",
        Word::Limits => "On which side the limits of the quantity are.",
        Word::Means => "What a measurement of the quantity is, such as `spread over 1 turn`.",
        Word::Positive => "The word for values above zero.",
        Word::Negative => "The word for values below zero.",
        Word::Per => "By how much for how much of a turn.",
        Word::Steps => "The steps in which it comes.",
        Word::Check => "The band that decides whether it is in order.",
        Word::Source => "Where the values come from.",
        Word::Stages => "A tightening in stages: all bolts by one stage before the next begins.",
        Word::Turn => "A stage that turns on by an angle.",
        Word::Condition => "Under which condition the values hold, in words.",
        Word::Adjustable => "`not adjustable`: nothing can be set, what is out is renewed or referred.",
        Word::Rows => "Rows of a table with a condition; what holds between and outside them.",
        Word::Between => "What holds between two rows.",
        Word::Outside => "What holds outside of all rows; or values that are never outside of a band.",
        Word::Linear => "Between two rows the limits are interpolated.",
        Word::Refuse => "There is no limit there: the reading decides nothing.",
        Word::Low => "Below the band.",
        Word::High => "Above the band.",
        Word::No | Word::Reading => {
            "`no reading`: nothing could be read; `of reading`: in proportion to what is read."
        }
        Word::Digits | Word::Digit => "Steps of the last digit of the display.",
        Word::Lowest => "The lowest of several readings.",
        Word::Highest => "The highest of several readings.",
        Word::Mean => "The mean of several readings.",
        Word::Spread => "Highest minus lowest.",
        Word::Sum => "The sum of several readings.",
        Word::Furthest => "The one farthest from zero.",
        Word::Last => "The last of several readings.",
        Word::Passed => "In order.",
        Word::Failed => "Not in order, and cannot be brought in here.",
        Word::Unfinished => "Could not be finished.",
        Word::Referred => "Another procedure goes on.",
    }
}
