//! The words that the rules about words know: one list for each use, all in lower case.

pub(crate) use super::phrases::{CONDITIONS, EARLIER, LEFT_OUT, VAGUE};

/// Small words that show a text to be English.
pub(super) const ENGLISH: &[&str] = &[
    "the", "and", "of", "is", "are", "with", "it", "until", "then", "from", "for", "to", "not", "by", "when",
    "off", "this", "if",
];

/// Small words of German, French, Spanish, Italian, Dutch, Swedish and Polish that are no English words.
pub(super) const OTHERS: &[&str] = &[
    "der", "das", "und", "ist", "mit", "nicht", "dem", "von", "auf", "bis", "ein", "eine", "einen", "zum",
    "zur", "sich", "wird", "le", "la", "les", "des", "et", "est", "avec", "pour", "une", "du", "au", "sur",
    "dans", "el", "los", "las", "con", "para", "una", "del", "por", "il", "lo", "gli", "di", "che", "per",
    "het", "een", "van", "niet", "voor", "op", "och", "att", "med", "inte", "för", "av", "det", "na", "nie",
    "się", "oraz",
];

/// Verbs of work that are seldom anything else at the beginning of a sentence.
pub(crate) const VERBS: &[&str] = &[
    "adjust",
    "apply",
    "attach",
    "bend",
    "bleed",
    "connect",
    "detach",
    "disconnect",
    "dismantle",
    "disengage",
    "ease",
    "engage",
    "fetch",
    "hang",
    "hold",
    "insert",
    "inspect",
    "install",
    "join",
    "keep",
    "leave",
    "let",
    "loosen",
    "lubricate",
    "make",
    "measure",
    "move",
    "note",
    "observe",
    "pinch",
    "pour",
    "press",
    "prove",
    "pull",
    "pump",
    "push",
    "put",
    "raise",
    "read",
    "reconnect",
    "record",
    "reduce",
    "refill",
    "refit",
    "reinstall",
    "remove",
    "renew",
    "repeat",
    "replace",
    "rinse",
    "roll",
    "rotate",
    "screw",
    "select",
    "show",
    "slacken",
    "slide",
    "spray",
    "squirt",
    "switch",
    "take",
    "tighten",
    "touch",
    "turn",
    "undo",
    "unlock",
    "unplug",
    "unscrew",
    "wait",
    "wipe",
    "write",
    "bolt",
    "fasten",
    "fold",
    "lay",
    "reassemble",
    "swap",
    "swing",
    "tell",
    "tip",
    "unbolt",
    "unclip",
    "unhook",
];

/// Verbs of work that are nouns or adjectives as well: what follows decides.
pub(crate) const ALSO_NOUNS: &[&str] = &[
    "block", "bridge", "check", "clamp", "clean", "clear", "close", "crank", "drain", "fill", "fit",
    "grease", "jack", "level", "lift", "lock", "look", "lower", "mark", "mount", "oil", "open", "place",
    "plug", "position", "relieve", "release", "seal", "seat", "secure", "set", "shake", "shut", "start",
    "stop", "support", "test", "torque", "use",
];

/// Verbs that change the vehicle: in a note or a caution they are a step that hides there.
pub(crate) const STEPS: &[&str] = &[
    "adjust",
    "attach",
    "bleed",
    "clean",
    "connect",
    "detach",
    "disconnect",
    "drain",
    "fill",
    "fit",
    "insert",
    "install",
    "loosen",
    "lower",
    "lubricate",
    "measure",
    "plug",
    "pull",
    "raise",
    "reconnect",
    "record",
    "refill",
    "refit",
    "reinstall",
    "remove",
    "renew",
    "replace",
    "screw",
    "secure",
    "set",
    "slacken",
    "start",
    "stop",
    "switch",
    "take",
    "tighten",
    "torque",
    "turn",
    "undo",
    "unplug",
    "unscrew",
    "write",
    "reassemble",
    "swap",
    "unbolt",
    "unclip",
    "unhook",
    "top",
];

/// What is done by such a step, after "is", "are" or "be".
pub(crate) const DONE: &[&str] = &[
    "taken",
    "removed",
    "refitted",
    "renewed",
    "replaced",
    "tightened",
    "loosened",
    "slackened",
    "drained",
    "bolted",
    "changed",
    "disconnected",
    "opened",
    "pulled",
    "swapped",
    "unbolted",
    "unclipped",
    "unhooked",
    "unplugged",
    "unscrewed",
];

/// Of these the ones that a caution may tell to do, because that is how harm is kept away.
pub(crate) const KEEPS_HARM_AWAY: &[&str] =
    &["clean", "fill", "lower", "raise", "secure", "set", "start", "stop", "switch"];

/// What stands after a verb that tells somebody to do something.
pub(crate) const AFTER_A_VERB: &[&str] = &[
    "the",
    "a",
    "an",
    "it",
    "its",
    "them",
    "this",
    "that",
    "these",
    "those",
    "each",
    "every",
    "all",
    "both",
    "one",
    "two",
    "any",
    "no",
    "off",
    "out",
    "in",
    "on",
    "up",
    "down",
    "back",
    "again",
    "to",
    "at",
    "for",
    "until",
    "against",
    "with",
    "into",
    "through",
    "how",
    "whether",
    "what",
    "where",
    "everything",
    "your",
];

/// Words that no instruction begins with.
pub(crate) const NO_ORDER: &[&str] = &[
    "the", "a", "an", "this", "that", "these", "those", "it", "they", "you", "we", "he", "she", "one",
    "there", "each", "every", "both", "please", "i", "somebody", "someone",
];

/// Words with which a condition or a circumstance begins; the instruction stands after the comma.
pub(crate) const LEADS_IN: &[&str] = &[
    "if", "when", "while", "with", "before", "after", "at", "in", "on", "for", "from", "to", "once", "where",
    "without", "as", "by", "then", "now", "first",
];

/// Verbs of what somebody goes on doing meanwhile: what is done beside them is no second instruction.
pub(crate) const MEANWHILE: &[&str] = &["hold", "keep", "leave", "let", "observe", "press", "pull", "push"];

/// Words that make a number a rough one.
pub(crate) const ABOUT: &[&str] =
    &["about", "approximately", "approx", "roughly", "around", "nearly", "some", "circa", "ca"];

/// Words that compare with the number after them.
pub(crate) const COMPARING: &[&str] = &[
    "most",
    "least",
    "maximum",
    "minimum",
    "max",
    "min",
    "between",
    "than",
    "above",
    "below",
    "over",
    "under",
    "exceed",
    "exceeds",
    "is",
    "within",
    "until",
    "to",
    "reaches",
    "±",
    "be",
    "exactly",
    "further",
    "read",
    "reads",
    "says",
    "set",
    "should",
    "show",
    "shows",
    "tolerance",
    "torque",
    "must",
    "-",
    "–",
    "holds",
];

/// Words that make a sentence with a number a limit.
pub(crate) const MUST: &[&str] = &[
    "must",
    "shall",
    "maximum",
    "minimum",
    "max",
    "min",
    "exceed",
    "most",
    "least",
    "limit",
    "allowed",
    "fail",
    "fails",
    "permissible",
    "worn",
];

/// Spellings of units that are words as well.
pub(super) const UNITS_THAT_ARE_WORDS: &[&str] =
    &["in", "at", "a", "turn", "turns", "revolution", "revolutions", "cycle"];

/// Which way round something is turned.
pub(crate) const TURNS: &[&str] = &[
    "clockwise",
    "anticlockwise",
    "anti-clockwise",
    "counterclockwise",
    "counter-clockwise",
    "ccw",
    "clock-wise",
];

/// Where something is moved to, after "to the" or a verb.
pub(crate) const SIDES: &[&str] = &[
    "left",
    "right",
    "forward",
    "forwards",
    "backward",
    "backwards",
    "inward",
    "outward",
    "inwards",
    "outwards",
    "leftwards",
    "rightwards",
    "left-hand",
    "right-hand",
];

/// Words that say from where a direction is seen.
pub(crate) const SEEN_FROM: &[&str] = &[
    "seen", "viewed", "looking", "facing", "driver", "driver's", "travel", "driving", "vehicle", "behind",
    "above", "below",
];

/// Vague words at the end of a question or an instruction; elsewhere they are part of a name ("normal mode").
pub(crate) const VAGUE_LAST: &[&str] = &["normal", "ok", "okay"];

/// Abbreviations whose full stop ends no sentence where a number follows.
pub(super) const SHORT: &[&str] = &["max", "min", "approx", "ca", "no"];

/// Units that are written out.
pub(super) const UNITS_IN_WORDS: &[&str] = &[
    "degrees",
    "millimetres",
    "millimeters",
    "newton",
    "newtons",
    "volts",
    "amps",
    "amperes",
    "ohms",
    "kilopascals",
    "litres",
    "liters",
];

/// Words behind a number that make it a limit, after "or": "3 mm or more".
pub(super) const OR_MORE: &[&str] = &["more", "less", "higher", "lower", "greater", "above", "below", "over"];

/// Words of time and emphasis that may stand before the verb of an instruction.
pub(super) const BEFORE_A_VERB: &[&str] =
    &["afterwards", "also", "always", "beforehand", "finally", "first", "next", "now", "then"];

/// Words before "to" and a verb that tell somebody to do something: "make sure to refit", "it is best to remove".
pub(crate) const TO_DO: &[&str] =
    &["forget", "sure", "remember", "need", "needs", "have", "has", "best", "necessary", "important"];

/// Words for whoever does the work, as the subject of a sentence.
pub(crate) const WHO: &[&str] =
    &["you", "we", "i", "one", "they", "somebody", "someone", "technician", "technicians"];

/// Words that say that somebody ought to, may or can do something.
pub(crate) const OUGHT: &[&str] =
    &["should", "must", "shall", "has", "have", "need", "needs", "can", "may", "will"];

/// Verbs that move something to a side.
pub(crate) const MOVING: &[&str] =
    &["move", "turn", "push", "pull", "slide", "swing", "bend", "press", "rotate", "screw", "shift"];

/// Words after a side with which it is no part of a name: "left until it stops", not "left front wheel".
pub(crate) const AFTER_A_SIDE: &[&str] = &["until", "with", "by", "a", "and", "as", "side"];

/// Words about what things are seen from that also stand in sentences about something else; they count in their own only.
pub(crate) const SEEN_FROM_LOOSELY: &[&str] =
    &["driver", "driver's", "travel", "driving", "vehicle", "behind", "above", "below"];
