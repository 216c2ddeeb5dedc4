//! Settings read and refused: each slip with its place, its words and its repair.

use crate::{Decide, Set, SignalWords, System, read};
use expect_test::{Expect, expect};

const WHOLE: &str = r#"
units = "us"
decide = "guarded"
signal-words = "equipment"

[levels]
name-unused = "off"
not-restored = "warning"

[[folder]]
path = "old/brakes/"
levels = { not-restored = "information" }

[vocabulary]
"crank shaft" = { use = "crankshaft", because = "One part has one name." }
"#;

#[test]
fn all_that_can_be_set_is_taken() {
    let read = read(WHOLE);
    assert_eq!(read.slips, []);
    let settings = &read.settings;
    assert_eq!(settings.units, Some(System::Us));
    assert_eq!(settings.decide, Some(Decide::Guarded));
    assert_eq!(settings.signal_words, Some(SignalWords::Equipment));
    assert_eq!(settings.levels.get("name-unused"), Some(&Set::Off));
    let options = read.options("dwell.toml", WHOLE, Some("2031-05-01"));
    assert_eq!(options.levels.len(), 2);
    assert_eq!(options.levels.last().map(|levels| levels.below.as_str()), Some("old/brakes"));
    assert!(options.house.guarded);
    assert_eq!(options.vocabulary.len(), 1);
}

#[test]
fn an_empty_file_sets_nothing() {
    for text in ["", "# nothing yet\n", "\u{feff}decide = \"simple\"\n"] {
        let read = read(text);
        assert_eq!(read.slips, [], "{text:?}");
        let options = read.options("dwell.toml", text, None);
        assert_eq!((options.levels.len(), options.house.guarded), (0, false));
    }
}

fn told(text: &str, expected: &Expect) {
    let read = read(text);
    assert_eq!(read.settings, crate::Settings::default(), "nothing is taken from a file with a mistake");
    let mut said = String::new();
    for slip in &read.slips {
        assert_eq!(slip.rule, "settings");
        let at = text.get(slip.span.start..slip.span.end).unwrap_or("?");
        let fix = slip.fix.as_ref().map(|fix| format!(" => {}", fix.replacement)).unwrap_or_default();
        said.push_str(&format!("{at}: {} ({}){fix}\n", slip.message, slip.help.clone().unwrap_or_default()));
    }
    expected.assert_eq(&said);
}

#[test]
fn an_unknown_word_is_told_with_the_one_that_was_meant() {
    told(
        "decied = \"simple\"\nunits = \"imperial\"\nsignal-words = \"ansy\"\ndecide = true\n\"x y\" = 1\n",
        &expect![[r#"
            decied: `decied` is no setting (did you mean `decide`?) => decide
            "imperial": `imperial` is no system of units (known here: metric, us)
            "ansy": `ansy` is no scheme of signal words (did you mean `ansi`?) => "ansi"
            true: a text in quotes belongs here (write simple in quotes)
            "x y": `x y` is no setting (known here: levels, folder, units, decide, signal-words, vocabulary)
        "#]],
    );
}

#[test]
fn a_level_is_told_that_is_none_or_too_low() {
    told(
        "[levels]\nnot-restord = \"hint\"\nnothing-like-it = \"off\"\nnot-restored = \"fatal\"\nkind-mismatch = \"warning\"\nendless = 1\n",
        &expect![[r#"
            not-restord: there is no rule `not-restord` (did you mean `not-restored`?) => not-restored
            nothing-like-it: there is no rule `nothing-like-it` (`dwell rules` lists them all)
            "fatal": `fatal` is no level (known here: error, warning, information, hint, off)
            "warning": `kind-mismatch` cannot be set lower than error (take this line out: with what it finds a text has no one meaning)
            1: a text in quotes belongs here (write the level in quotes)
        "#]],
    );
    told(
        "levels = 3\n",
        &expect![[r#"
        3: rules with their levels belong here (write `[levels]` on a line of its own)
    "#]],
    );
}

#[test]
fn a_folder_is_told_that_is_none() {
    told(
        "folder = { path = \"old\" }\n",
        &expect![[r#"
            { path = "old" }: a list of folders belongs here (write `[[folder]]`, with two brackets)
        "#]],
    );
    told(
        "[[folder]]\npath = \"../old\"\nlevels = {}\n[[folder]]\npaht = \"a\"\n[[folder]]\npath = \"a\"\nlevels = {}\n[[folder]]\npath = \"a/\"\nlevels = {}\n",
        &expect![[r#"
            "../old": a folder is written from where this file lies, with `/` between (write it so: `old/brakes`)
            [[folder]]: this folder has no path (write `path = "old/brakes"`)
            [[folder]]: nothing is set for this folder (write `levels = { … }`)
            paht: a folder has no `paht` (did you mean `path`?) => path
            "a/": the folder a/ stands here twice (bring the two together)
        "#]],
    );
}

#[test]
fn a_word_is_told_without_another_one_or_a_reason() {
    told(
        "[vocabulary]\ndynamo = \"generator\"\nauto = { use = \"car\" }\nlorry = { use = \"big lorry\", because = \" \" }\nvan = { use = \"truck\", because = \"So.\", why = \"\" }\ntruck = { use = \"wagon\", because = \"So.\" }\n",
        &expect![[r#"
            "generator": the word to use is missing, and why (write `dynamo = { use = "generator", because = "…" }`)
            auto: `auto` has no `because` (write `dynamo = { use = "generator", because = "…" }`)
            "big lorry": `big lorry` holds a word that is avoided: `lorry` (use a word that is not avoided itself)
            " ": the reason is empty (say why, in one sentence)
            "truck": `truck` holds a word that is avoided: `truck` (use a word that is not avoided itself)
            why: a word has no `why` (known here: use, because)
        "#]],
    );
}

#[test]
fn what_is_no_toml_is_told_where_it_is() {
    told(
        "decide = \n[levels\nunits = \"us\"\n",
        &expect![[r#"
         : this is no TOML: string values must be quoted, expected literal string (mend this line: `key = "value"`)
        s: this is no TOML: unclosed table, expected `]` (mend this line: `key = "value"`)
    "#]],
    );
    told(
        "decide = \"simple\"\ndecide = \"guarded\"\n",
        &expect![[r#"
        decide: this is no TOML: duplicate key (mend this line: `key = "value"`)
    "#]],
    );
}
