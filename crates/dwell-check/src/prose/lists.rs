//! The words that the rules about words know: one list for each use, all in lower case.

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
];

/// What is done by such a step, after "is", "are" or "be".
pub(crate) const DONE: &[&str] =
    &["taken", "removed", "refitted", "renewed", "replaced", "tightened", "loosened", "slackened", "drained"];

/// Of these the ones that a caution may tell to do, because that is how harm is kept away.
pub(crate) const KEEPS_HARM_AWAY: &[&str] =
    &["clean", "fill", "lower", "raise", "secure", "set", "start", "stop", "switch"];

/// What stands after a verb that tells somebody to do something.
pub(crate) const AFTER_A_VERB: &[&str] = &[
    "the", "a", "an", "it", "its", "them", "this", "that", "these", "those", "each", "every", "all", "both",
    "one", "two", "any", "no", "off", "out", "in", "on", "up", "down", "back", "again", "to", "at", "for",
    "until", "against", "with", "into", "through", "how", "whether", "what", "where",
];

/// Words that no instruction begins with.
pub(crate) const NO_ORDER: &[&str] = &[
    "the", "a", "an", "this", "that", "these", "those", "it", "they", "you", "we", "he", "she", "one",
    "there", "each", "every", "both", "please",
];

/// Words with which a condition or a circumstance begins; the instruction stands after the comma.
pub(crate) const LEADS_IN: &[&str] = &[
    "if", "when", "while", "with", "before", "after", "at", "in", "on", "for", "from", "to", "once", "where",
    "without", "as", "by", "then", "now", "first",
];

/// Verbs of what somebody goes on doing meanwhile: what is done beside them is no second instruction.
pub(crate) const MEANWHILE: &[&str] = &["hold", "keep", "leave", "let", "observe", "press", "pull", "push"];

/// Words for an amount that everybody understands in another way.
pub(crate) const VAGUE: &[&str] = &[
    "slightly",
    "excessive",
    "excessively",
    "marginal",
    "marginally",
    "as required",
    "as necessary",
    "if required",
    "if necessary",
    "when necessary",
    "where necessary",
    "barely",
    "a little",
    "a bit",
    "adequate",
    "adequately",
    "sufficient",
    "sufficiently",
    "noticeable",
    "noticeably",
    "too much",
    "too little",
    "finger tight",
    "finger-tight",
    "a few turns",
    "in good condition",
];

/// Words that make a number a rough one.
pub(crate) const ABOUT: &[&str] =
    &["about", "approximately", "approx", "roughly", "around", "nearly", "some", "circa", "ca"];

/// Words that compare with the number after them.
pub(crate) const COMPARING: &[&str] = &[
    "most", "least", "maximum", "minimum", "max", "min", "between", "than", "above", "below", "over",
    "under", "exceed", "exceeds", "is", "within", "until", "to", "reaches", "±",
];

/// Words that make a sentence with a number a limit.
pub(crate) const MUST: &[&str] =
    &["must", "shall", "maximum", "minimum", "max", "min", "exceed", "most", "least", "limit"];

/// Spellings of units that are words as well.
pub(super) const UNITS_THAT_ARE_WORDS: &[&str] =
    &["in", "at", "a", "turn", "turns", "revolution", "revolutions", "cycle"];

/// Which way round something is turned.
pub(crate) const TURNS: &[&str] =
    &["clockwise", "anticlockwise", "anti-clockwise", "counterclockwise", "counter-clockwise"];

/// Where something is moved to, after "to the" or a verb.
pub(crate) const SIDES: &[&str] =
    &["left", "right", "forward", "forwards", "backward", "backwards", "inward", "outward"];

/// Words that say from where a direction is seen.
pub(crate) const SEEN_FROM: &[&str] = &[
    "seen", "viewed", "looking", "facing", "driver", "driver's", "travel", "driving", "vehicle", "behind",
    "above", "below",
];

/// Words that leave steps out.
pub(crate) const LEFT_OUT: &[&str] = &[
    "in reverse order",
    "in the reverse order",
    "reverse of removal",
    "reverse the procedure",
    "vice versa",
    "likewise",
    "do the same",
    "the same for the other",
    "repeat for the other",
    "repeat on the other",
    "as before",
];

/// Words for a value that was taken earlier and is not shown.
pub(crate) const EARLIER: &[&str] = &[
    "this value",
    "that value",
    "the same value",
    "the value noted",
    "the noted value",
    "the recorded value",
    "the value recorded",
    "the measured value",
    "the value measured",
    "same number of turns",
    "the same number",
    "the noted number",
    "as noted",
    "as recorded",
    "its original position",
    "its old position",
    "the old position",
];
