//! Jobs that are kept: where, by whom, interrupted and gone on with, watched, verified, given to others.

use super::bench::{Bench, GOOD, Said};
use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, Stdio};

fn bench() -> Bench {
    Bench::new(&[("belt.dwell", GOOD)])
}

/// The belt job up to its reading, let go there by A. Weber.
fn interrupted() -> Bench {
    let bench = bench();
    let said = bench.fed(&["run", "belt.dwell", "--person", "A. Weber"], "\n");
    assert_eq!(said.status, 3, "{}{}", said.out, said.err);
    assert!(said.out.contains("go on with: dwell resume 1"), "{}", said.out);
    bench
}

fn wide(said: &Said) -> bool {
    said.out.lines().chain(said.err.lines()).any(|line| line.chars().count() > 80)
}

#[test]
fn a_job_at_a_vehicle_is_kept_in_the_users_folder_and_a_trial_is_not() {
    let bench = interrupted();
    assert!(bench.path(".data/dwell/workshop.records").exists());
    bench.put("readings.csv", b"name,value,unit\ntension,62,Hz\n");
    assert_eq!(bench.run(&["run", "belt.dwell", "--readings", "readings.csv"]).status, 0);
    assert_eq!(bench.fed(&["run", "belt.dwell", "--no-store"], "\n62\n\n").status, 0);
    let listed = bench.run(&["records", "list"]);
    assert!(listed.out.ends_with("1 job\n") && listed.out.contains("UNFINISHED"), "{}", listed.out);
    assert_eq!(bench.run(&["run", "belt.dwell", "--readings", "readings.csv", "--store", "own"]).status, 0);
    let listed = bench.run(&["records", "list", "--store", "own"]);
    assert!(listed.out.contains("passed") && !wide(&listed), "{}", listed.out);
    assert!(bench.run(&["records", "list", "--store", "own", "--unfinished"]).out.ends_with("0 jobs of 1\n"));
}

#[test]
fn going_on_shows_what_is_open_first_and_names_both_people() {
    let bench = interrupted();
    let said = bench.fed(&["resume", "--person", "B. Roth"], "62\n\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    let places: Vec<usize> = [
        "job 1, interrupted since 20",
        "Handed over: from A. Weber on ",
        " to B. Roth on ",
        "Open at the vehicle: look at it before you go on",
        "  - The belt guard is out, since 20",
        "Done last, the latest first",
        "  - Remove the belt guard.",
        "Measure tension",
        "Result: PASSED",
    ]
    .iter()
    .map(|part| said.out.find(part).unwrap_or_else(|| panic!("{part} is missing in\n{}", said.out)))
    .collect();
    assert!(places.is_sorted() && !wide(&said), "{}", said.out);
    let shown = bench.run(&["records", "show", "1"]);
    for part in ["Begun by   A. Weber on ", "Handed over: from A. Weber on ", "RESULT: PASSED", "\nhash "] {
        assert!(shown.out.contains(part), "{part} is missing in\n{}", shown.out);
    }
    let again = bench.run(&["resume", "1"]);
    assert!(again.status == 2 && again.says("job 1 is over: passed"), "{}", again.err);
    assert!(bench.run(&["resume"]).says("no job is unfinished"));
}

#[test]
fn a_job_that_is_not_over_is_told_of_where_the_same_one_is_begun() {
    let bench = interrupted();
    let said = bench.fed(&["run", "belt.dwell"], "");
    assert!(said.says("job 1 of this procedure, at a vehicle without a number, is not over"), "{}", said.err);
    assert!(said.says("`dwell resume 1` goes on with it"), "{}", said.err);
    let several = bench.run(&["resume"]);
    assert!(several.says("several jobs are unfinished: say which"), "{}", several.err);
    let other = bench.fed(&["run", "belt.dwell", "--vehicle", "1G4AH59H45G118341"], "");
    assert!(!other.err.contains("is not over"), "{}", other.err);
}

/// The program at work, with its screen read up to a prompt.
struct Working {
    child: Child,
    input: ChildStdin,
    out: BufReader<std::process::ChildStdout>,
    seen: String,
}

impl Working {
    fn new(bench: &Bench, arguments: &[&str]) -> Working {
        let mut child = bench
            .command(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let (input, out) = (child.stdin.take().unwrap(), BufReader::new(child.stdout.take().unwrap()));
        Working { child, input, out, seen: String::new() }
    }

    fn until(&mut self, words: &str) {
        while !self.seen.contains(words) {
            let read = self.out.fill_buf().unwrap();
            assert!(!read.is_empty(), "{words} never came:\n{}", self.seen);
            self.seen.push_str(&String::from_utf8_lossy(read));
            let length = read.len();
            self.out.consume(length);
        }
    }

    fn types(&mut self, line: &str) {
        writeln!(self.input, "{line}").unwrap();
    }

    fn ends(mut self) -> (i32, String, String) {
        drop(self.input);
        let mut err = String::new();
        self.child.stderr.take().unwrap().read_to_string(&mut err).unwrap();
        self.out.read_to_string(&mut self.seen).unwrap();
        (self.child.wait().unwrap().code().unwrap(), self.seen, err)
    }
}

#[test]
fn only_one_writes_and_the_other_sees_it() {
    let bench = bench();
    let mut first = Working::new(&bench, &["run", "belt.dwell", "--person", "A. Weber"]);
    first.until("Enter when it is done");
    let refused = bench.fed(&["resume", "1", "--person", "B. Roth"], "");
    assert!(refused.status == 2 && refused.says("has job 1 open, since 20"), "{}", refused.err);
    assert!(refused.says("A. Weber on ") && refused.says("dwell records watch 1"), "{}", refused.err);
    let mut watching = Working::new(&bench, &["records", "watch", "1"]);
    first.types("");
    watching.until("Remove the belt guard.");
    let listed = bench.run(&["records", "list"]);
    assert!(
        listed.out.contains("A. Weber on ") && listed.out.contains("has it open since"),
        "{}",
        listed.out
    );
    // Taken over: who had it writes no more, and is told by whom.
    let mut second = Working::new(&bench, &["resume", "1", "--take-over", "--person", "B. Roth"]);
    second.until("tension in Hz");
    first.types("62");
    let (status, out, err) = first.ends();
    let plain = err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(status == 2 && plain.contains("the last answer was not stored: B. Roth on "), "{out}{err}");
    assert!(!out.contains("in band"), "told although it is not stored:\n{out}");
    second.types("61");
    second.until("Refit the belt guard");
    second.types("");
    let (status, out, _) = second.ends();
    assert!(status == 0 && out.contains("Taken over: B. Roth on "), "{out}");
    let (status, out, _) = watching.ends();
    assert!(status == 0 && out.contains("Taken over: B. Roth") && out.ends_with("Result: PASSED\n"), "{out}");
    assert_eq!(bench.run(&["records", "verify"]).status, 0);
}

#[test]
fn a_killed_program_holds_nothing() {
    let bench = bench();
    let mut first = Working::new(&bench, &["run", "belt.dwell", "--person", "A. Weber"]);
    first.until("Enter when it is done");
    first.child.kill().unwrap();
    first.child.wait().unwrap();
    let listed = bench.run(&["records", "list"]);
    assert!(listed.out.contains("was interrupted at"), "{}", listed.out);
    let said = bench.fed(&["resume", "--person", "A. Weber"], "\n62\n\n");
    assert!(said.status == 0 && said.out.contains("Gone on: A. Weber on "), "{}{}", said.out, said.err);
}

#[test]
fn going_back_and_putting_right_at_the_terminal() {
    let bench = bench();
    let typed = "\n50\ncorrect\n1\ntyped 50 for 60\n60\nback\n2\nread once more\n61\n\n";
    let said = bench.fed(&["run", "belt.dwell", "--person", "A. Weber"], typed);
    let whole = format!("{}{}", said.out, said.err);
    assert!(
        said.out.contains("A. Weber put right the tension, noted as 50.0 Hz: typed 50 for 60"),
        "{whole}"
    );
    let shown = bench.run(&["records", "show", "1"]);
    assert!(shown.out.contains("as found") && !shown.out.contains("50.0 Hz         LOW"), "{}", shown.out);
    let events = bench.run(&["records", "show", "1", "--events"]);
    for part in ["tension: 50.0 Hz", "tension: 60.0 Hz", "put right the tension", "typed 50 for 60"] {
        assert!(events.out.contains(part), "{part} is missing in\n{}", events.out);
    }
    assert!(!wide(&events), "{}", events.out);
    assert_eq!(bench.run(&["records", "verify", "1"]).status, 0);
}

#[test]
fn hand_over_in_the_middle_names_both() {
    let bench = bench();
    let said = bench.fed(&["run", "belt.dwell", "--person", "A. Weber"], "\nhand over\nB. Roth\n62\n\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(said.out.contains("Handed over: from A. Weber on "), "{}", said.out);
    assert!(bench.run(&["records", "show", "1"]).out.contains("Handed over: from A. Weber"));
}

#[test]
fn what_is_exported_is_what_was_written_and_its_numbers_are_exact() {
    let bench = bench();
    assert_eq!(bench.fed(&["run", "belt.dwell", "--record", "own.jsonl"], "\n62.30\n\n").status, 0);
    let lines = bench.run(&["records", "export", "1", "--format", "jsonl"]);
    assert_eq!((lines.status, lines.out.as_str()), (0, bench.get("own.jsonl").as_str()));
    let verified = bench.run(&["records", "verify", "--file", "own.jsonl"]);
    assert!(
        verified.status == 0 && verified.out.contains("each as it was written\nhash "),
        "{}",
        verified.out
    );
    bench.put("changed.jsonl", bench.get("own.jsonl").replacen("62.30", "63.30", 1).as_bytes());
    let verified = bench.run(&["records", "verify", "--file", "changed.jsonl"]);
    assert!(
        verified.status == 1 && verified.out.starts_with("wrong: changed.jsonl: line "),
        "{}",
        verified.out
    );
    let table = bench.run(&["records", "export", "--format", "csv"]);
    let mut rows = csv::Reader::from_reader(table.out.as_bytes());
    let heads = rows.headers().unwrap().clone();
    let row = rows.records().next().unwrap().unwrap();
    let cell = |name: &str| row.get(heads.iter().position(|head| head == name).unwrap()).unwrap().to_owned();
    assert_eq!((cell("value"), cell("unit"), cell("shown")), ("62.3".into(), "Hz".into(), "62.30 Hz".into()));
    assert_eq!((cell("side"), cell("as-found"), cell("counts")), ("in".into(), "yes".into(), "yes".into()));
    let copied = bench.run(&["records", "export", "--format", "sqlite", "--to", "copy"]);
    assert_eq!(copied.status, 0, "{}", copied.err);
    assert_eq!(bench.run(&["records", "export", "1", "--format", "jsonl", "--store", "copy"]).out, lines.out);
    let again = bench.run(&["records", "export", "--format", "sqlite", "--to", "copy"]);
    assert!(again.status == 2 && again.says("is there already"), "{}", again.err);
}

/// What a person without rights is told, where that can be tried: who is root may write everywhere.
#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_written_is_read_and_nothing_is_begun_in_it() {
    use super::bench::{DWELL, said};
    use std::fs::{self, Permissions};
    use std::os::unix::fs::PermissionsExt;
    use std::process::Command;
    let bench = interrupted();
    let store = bench.path(".data/dwell/workshop.records");
    let root = Command::new("id").arg("-u").output().unwrap().stdout == b"0\n";
    // Nobody has to reach the program too.
    fs::copy(&*DWELL, bench.path("dwell")).unwrap();
    for path in [bench.path(""), bench.path(".data")] {
        fs::set_permissions(path, Permissions::from_mode(0o755)).unwrap();
    }
    fs::set_permissions(&store, Permissions::from_mode(0o444)).unwrap();
    fs::set_permissions(store.parent().unwrap(), Permissions::from_mode(0o555)).unwrap();
    let run = |arguments: &[&str]| {
        let mut command = if root {
            let mut command = Command::new("setpriv");
            command.args(["--reuid=65534", "--regid=65534", "--clear-groups"]).arg(bench.path("dwell"));
            command
        } else {
            Command::new(bench.path("dwell"))
        };
        let plain = bench.command(&[]);
        command.envs(plain.get_envs().filter_map(|(name, value)| Some((name, value?))));
        said(command.args(arguments).current_dir(bench.path("")).stdin(Stdio::null()).output().unwrap())
    };
    let listed = run(&["records", "list"]);
    assert!(listed.status == 0 && listed.out.ends_with("1 job\n"), "{}{}", listed.out, listed.err);
    for arguments in [&["run", "belt.dwell"][..], &["resume", "1"]] {
        let refused = run(arguments);
        assert!(refused.status == 2 && refused.says("cannot be written"), "{}{}", refused.out, refused.err);
    }
    fs::set_permissions(store.parent().unwrap(), Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn what_cannot_be_used_is_said_plainly() {
    let bench = bench();
    let none = bench.run(&["records", "list"]);
    assert!(none.status == 2 && none.says("there are no records"), "{}", none.err);
    assert!(!bench.path(".data").exists(), "looking makes nothing");
    bench.put("text", b"not a store, but a text that is long enough to be looked at by anybody who wonders");
    let foreign = bench.fed(&["run", "belt.dwell", "--store", "text"], "\n");
    assert!(foreign.status == 2 && foreign.says("holds no records"), "{}", foreign.err);
    let unmade = bench.fed(&["run", "belt.dwell", "--store", "text/below"], "\n");
    assert!(unmade.status == 2 && unmade.says("cannot be written"), "{}", unmade.err);
    let bench = interrupted();
    let missing = bench.run(&["records", "show", "7"]);
    assert!(missing.status == 2 && missing.says("there is no job 7"), "{}", missing.err);
    let wrong = bench.run(&["records", "export", "--format", "jsonl"]);
    assert!(wrong.status == 2 && wrong.says("a file of events has one job"), "{}", wrong.err);
}
