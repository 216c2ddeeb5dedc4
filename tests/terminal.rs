//! The program on a real terminal: a job by keys, sizes that change, and the terminal as it was whatever ends the program.
//!
//! The program runs on a pseudo terminal, and an emulator of a VT100 reads what it writes. Nothing of ours stands between.

use crate::program::bench::{DWELL, library};
use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

/// How long anything may take on a machine that is busy.
const PATIENCE: Duration = Duration::from_secs(40);

/// The program at a terminal.
struct Terminal {
    pty: Box<dyn MasterPty + Send>,
    child: Box<dyn Child + Send + Sync>,
    keys: Box<dyn Write + Send>,
    screen: Arc<Mutex<vt100::Parser>>,
}

impl Terminal {
    /// The shell with `dwell run` for the demo job of the belt; what comes after it is printed by the shell.
    fn run(rows: u16, columns: u16, before: &str, after: &str) -> Terminal {
        let size = PtySize { rows, cols: columns, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).unwrap();
        let file = library().join("charging/belt-and-charging.dwell");
        let job = format!(
            "{before} {} run {} --variant engine-family=k9 --variant charging=single --no-store; {after}",
            DWELL.display(),
            file.display()
        );
        let mut shell = CommandBuilder::new("/bin/sh");
        shell.args(["-c", &job]);
        shell.env("TERM", "xterm-256color");
        shell.env("LANG", "C.UTF-8");
        shell.env_remove("NO_COLOR");
        let child = pair.slave.spawn_command(shell).unwrap();
        drop(pair.slave);
        let screen = Arc::new(Mutex::new(vt100::Parser::new(rows, columns, 2000)));
        let (mut output, seen) = (pair.master.try_clone_reader().unwrap(), Arc::clone(&screen));
        thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(count) = output.read(&mut bytes) {
                if count == 0 {
                    break;
                }
                seen.lock().unwrap().process(&bytes[..count]);
            }
        });
        let keys = pair.master.take_writer().unwrap();
        Terminal { pty: pair.master, child, keys, screen }
    }

    fn text(&self) -> String {
        self.screen.lock().unwrap().screen().contents()
    }

    fn on_the_other_screen(&self) -> bool {
        self.screen.lock().unwrap().screen().alternate_screen()
    }

    fn types(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).unwrap();
        self.keys.flush().unwrap();
    }

    /// Waits until something stands on the screen.
    fn sees(&self, words: &str) -> String {
        let until = Instant::now() + PATIENCE;
        loop {
            let text = self.text();
            if text.contains(words) {
                return text;
            }
            assert!(Instant::now() < until, "`{words}` never came:\n{text}");
            thread::sleep(Duration::from_millis(30));
        }
    }

    /// Presses Enter, and `y` where a need is asked, until something stands on the screen.
    fn goes_on_to(&mut self, words: &str) -> String {
        let until = Instant::now() + PATIENCE;
        let mut before = String::new();
        loop {
            let text = self.text();
            if text.contains(words) {
                return text;
            }
            assert!(Instant::now() < until, "`{words}` never came:\n{text}");
            if text != before {
                self.types(if text.contains("y yes") { "y" } else { "\r" });
                before = text;
            }
            thread::sleep(Duration::from_millis(120));
        }
    }

    fn resizes(&self, rows: u16, columns: u16) {
        self.pty.resize(PtySize { rows, cols: columns, pixel_width: 0, pixel_height: 0 }).unwrap();
        // The program has the whole size; vt100 0.16 itself falls over where a single row or column is written beyond.
        self.screen.lock().unwrap().screen_mut().set_size(rows.max(2), columns.max(2));
    }

    /// The number of the program under the shell.
    fn number(&self) -> u32 {
        let shell = self.child.process_id().unwrap();
        let children = std::fs::read_to_string(format!("/proc/{shell}/task/{shell}/children")).unwrap();
        children.split_whitespace().next().unwrap().parse().unwrap()
    }

    fn signal(&self, name: &str) {
        let number = self.number().to_string();
        assert!(std::process::Command::new("kill").args([name, &number]).status().unwrap().success());
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The settings of the terminal before and after, both printed by the shell.
const BEFORE: &str = "echo before: $(stty -g);";
const AFTER: &str = "code=$?; echo after: $(stty -g); echo code $code; sleep 60";

fn settings(text: &str, which: &str) -> String {
    let line = text.lines().find_map(|line| line.strip_prefix(which));
    line.unwrap_or_else(|| panic!("no `{which}` in\n{text}")).trim().to_owned()
}

/// The terminal is as it was.
fn is_given_back(terminal: &Terminal) {
    let text = terminal.sees("code ");
    assert!(!terminal.on_the_other_screen(), "{text}");
    assert!(!terminal.screen.lock().unwrap().screen().hide_cursor(), "the cursor stays hidden");
    let (before, after) = (settings(&text, "before: "), settings(&text, "after: "));
    assert!(before == after && before.len() > 20, "{before}\n{after}\n{text}");
}

#[test]
fn a_whole_job_by_keys() {
    let mut terminal = Terminal::run(24, 80, "", "echo code $?; sleep 60");
    terminal.goes_on_to("rest:");
    assert!(terminal.on_the_other_screen());
    terminal.types("12,62\r");
    for tension in ["62.1", "62.0", "61.9"] {
        terminal.goes_on_to("tension (");
        terminal.types(tension);
        terminal.sees("█");
        terminal.types("\r");
        thread::sleep(Duration::from_millis(400));
    }
    let came = terminal.sees("in band");
    assert!(came.contains('■') && came.contains("OPEN NOW: "), "{came}");
    terminal.goes_on_to("charge:");
    terminal.types("14.18\r");
    let end = terminal.goes_on_to("Result: PASSED");
    assert!(end.contains("code 0") || terminal.sees("code 0").contains("code 0"));
    assert!(!terminal.on_the_other_screen());
}

#[test]
fn sizes_change_in_the_middle_and_nothing_is_lost() {
    let mut terminal = Terminal::run(24, 80, "", "sleep 60");
    terminal.goes_on_to("rest:");
    terminal.types("12.6");
    for (rows, columns) in [(12, 40), (3, 10), (1, 1), (50, 132), (12, 40)] {
        terminal.resizes(rows, columns);
        thread::sleep(Duration::from_millis(350));
    }
    let text = terminal.sees("12.6");
    assert!(text.contains("OPEN NOW: "), "{text}");
}

#[test]
fn the_terminal_is_given_back_after_signals() {
    for signal in ["-TERM", "-HUP", "-INT"] {
        let mut terminal = Terminal::run(40, 100, BEFORE, AFTER);
        terminal.goes_on_to("rest:");
        terminal.signal(signal);
        is_given_back(&terminal);
        terminal.sees("code 3");
    }
}

#[test]
fn the_terminal_is_given_back_at_the_end_of_a_stopped_job() {
    let mut terminal = Terminal::run(40, 100, BEFORE, AFTER);
    terminal.goes_on_to("rest:");
    terminal.types("\u{3}");
    terminal.sees("end this job?");
    terminal.types("Wrong van.\r");
    terminal.goes_on_to("UNFINISHED");
    is_given_back(&terminal);
    terminal.sees("code 3");
}

#[test]
fn stopped_by_the_shell_and_fetched_back_it_goes_on() {
    let mut terminal = Terminal::run(24, 80, "", "sleep 60");
    terminal.goes_on_to("rest:");
    terminal.types("12.6\u{1A}");
    let until = Instant::now() + PATIENCE;
    while terminal.on_the_other_screen() {
        assert!(Instant::now() < until, "it is not suspended");
        thread::sleep(Duration::from_millis(30));
    }
    let stat = format!("/proc/{}/stat", terminal.number());
    while !std::fs::read_to_string(&stat).unwrap().contains(") T ") {
        assert!(Instant::now() < until, "it is not stopped");
        thread::sleep(Duration::from_millis(30));
    }
    terminal.signal("-CONT");
    let text = terminal.sees("rest:");
    assert!(terminal.on_the_other_screen(), "{text}");
    terminal.types("2\r");
    terminal.goes_on_to("tension (");
}

#[test]
fn the_terminal_is_given_back_after_a_fault_in_the_program() {
    let before = format!("{BEFORE} DWELL_FALLS_OVER=66");
    let mut terminal = Terminal::run(40, 100, &before, AFTER);
    terminal.goes_on_to("rest:");
    terminal.types("66");
    is_given_back(&terminal);
    let text = terminal.sees("code 2");
    assert!(text.contains("a fault inside the program"), "{text}");
}

/// A window that is closed takes the terminal away; a program that reads on from nothing would spin for ever.
#[test]
fn it_ends_when_its_window_is_closed() {
    let tmux = |arguments: &[&str]| {
        let socket = format!("dwell-closed-{}", std::process::id());
        std::process::Command::new("tmux").args(["-L", &socket, "-f", "/dev/null"]).args(arguments).output()
    };
    let folder = tempfile::TempDir::new().unwrap();
    let number = folder.path().join("number");
    let job = format!(
        "echo $$ > {}; exec {} run {} --variant engine-family=k9 --variant charging=single --no-store",
        number.display(),
        DWELL.display(),
        library().join("charging/belt-and-charging.dwell").display()
    );
    if tmux(&["new-session", "-d", "-s", "job", "-x", "80", "-y", "24", &job]).is_err() {
        let _ = writeln!(std::io::stderr(), "skipped: tmux is not installed; `tests/run` installs it");
        return;
    }
    let until = Instant::now() + PATIENCE;
    let shown = || String::from_utf8(tmux(&["capture-pane", "-p", "-t", "job"]).unwrap().stdout).unwrap();
    while !shown().contains("OPEN NOW") {
        assert!(Instant::now() < until, "it never began:\n{}", shown());
        thread::sleep(Duration::from_millis(50));
    }
    let number = std::fs::read_to_string(number).unwrap();
    let process = std::path::Path::new("/proc").join(number.trim());
    assert!(process.exists());
    assert!(tmux(&["kill-session", "-t", "job"]).unwrap().status.success());
    while process.exists() {
        assert!(Instant::now() < until, "it goes on without a terminal");
        thread::sleep(Duration::from_millis(50));
    }
}
