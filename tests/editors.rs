//! Real editors, without a screen, with the very files that `editors/` has for users to copy.

mod helix;
mod tap;
mod vscode;

use crate::program::bench::Bench;
use std::ffi::OsString;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use tap::Tap;

/// A procedure with a fault, letters of all widths before it, and room for its repair.
const TEXT: &str = "# Größe ° 😀
item belt-guard: removable \"belt guard °\"

procedure look \"Look\" {
    step look \"Look\" { remove belt-guard }
    restore {   }
}
";

/// What a writer sees in every editor that is driven by a script.
const SEEN: &str = "found: 5 not-restored
declared in line 2
renamed: item belt-cover: removable \"belt guard °\"
found: 
set: }
";

fn project(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().join(path)
}

fn skipped(why: &str) {
    let _ = writeln!(std::io::stderr(), "skipped: {why}");
}

/// An editor's program, where it is installed; said where it is not.
fn here(editor: &str) -> Option<PathBuf> {
    let found = Command::new(editor).arg("--version").stdin(Stdio::null()).output();
    if found.is_ok_and(|said| said.status.success()) {
        return Some(editor.into());
    }
    skipped(&format!("{editor} is not installed; `tests/run` installs it"));
    None
}

/// An editor of a newer Debian, where that is installed; said where it is not.
fn newer(editor: &str) -> Option<PathBuf> {
    if std::env::var_os("DWELL_DEBIAN").is_some() {
        return Some(project("tests/editors/newer").join(editor));
    }
    skipped(&format!("only `tests/run --long` installs a newer {editor}"));
    None
}

/// A folder with the text, in which an editor works, and the program on its way.
struct Desk {
    bench: Bench,
    tap: Tap,
}

impl Desk {
    fn new() -> Desk {
        let bench = Bench::new(&[("work/look.dwell", TEXT), ("dwell.toml", ""), ("home/.none", "")]);
        let tap = Tap::of(&bench);
        Desk { bench, tap }
    }

    /// A program that knows nothing of the user who runs the tests.
    fn command(&self, program: &Path) -> Command {
        let programs = std::iter::once(self.tap.programs.clone());
        let path = std::env::var_os("PATH").unwrap();
        let path: OsString = std::env::join_paths(programs.chain(std::env::split_paths(&path))).unwrap();
        let mut command = Command::new(program);
        command.current_dir(self.bench.path("work")).env("PATH", path).stdin(Stdio::null());
        for name in ["HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"] {
            command.env(name, self.bench.path("home"));
        }
        command
    }

    /// What the editor printed; all that the server sent to it was as the protocol says.
    fn printed(&self, said: &Output) -> String {
        let out = String::from_utf8_lossy(&said.stdout).into_owned();
        assert!(said.status.success(), "{out}{}", String::from_utf8_lossy(&said.stderr));
        self.tap.is_sound();
        out
    }
}

fn neovim(program: &Path) {
    let desk = Desk::new();
    let mut command = desk.command(program);
    command.args(["--headless", "-i", "NONE", "-n", "-u"]).arg(project("editors/neovim/init.lua"));
    command.args(["look.dwell", "-S"]).arg(project("tests/editors/neovim.lua"));
    assert_eq!(desk.printed(&command.output().unwrap()), SEEN);
}

fn emacs(program: &Path) {
    let desk = Desk::new();
    let mut command = desk.command(program);
    command.env("DWELL_COPIED", project("editors/emacs/init.el"));
    command.args(["-Q", "--batch", "-l"]).arg(project("tests/editors/emacs.el")).arg("look.dwell");
    assert_eq!(desk.printed(&command.output().unwrap()), SEEN);
}

#[test]
fn neovim_with_what_a_user_copies() {
    let _ = here("nvim").map(|program| neovim(&program));
}

#[test]
fn emacs_with_what_a_user_copies() {
    let _ = here("emacs").map(|program| emacs(&program));
}

#[cfg(unix)]
#[test]
fn a_newer_neovim_with_what_a_user_copies() {
    let _ = newer("nvim").map(|program| neovim(&program));
}

#[cfg(unix)]
#[test]
fn a_newer_emacs_with_what_a_user_copies() {
    let _ = newer("emacs").map(|program| emacs(&program));
}

/// Vim has no commands of its own for a server; the plug-in ALE does not set a text in order, so the last line is not there.
#[cfg(unix)]
#[test]
fn vim_with_what_a_user_copies() {
    if here("vim").is_none() || !Path::new("/usr/share/vim-ale").exists() {
        return skipped("Vim with ALE is not installed; `tests/run` installs both");
    }
    let desk = Desk::new();
    // Vim needs a terminal; `script` gives it one.
    let mut command = desk.command(Path::new("script"));
    let driver = project("tests/editors/vim.vim");
    command
        .arg("-qec")
        .arg(format!("vim -N -u '{}' -i NONE -n look.dwell", driver.display()))
        .arg("/dev/null");
    let said = desk.bench.path("said");
    command.env("DWELL_COPIED", project("editors/vim/vimrc")).env("DWELL_SAID", &said).env("TERM", "xterm");
    let screen = desk.printed(&command.output().unwrap());
    let said = std::fs::read_to_string(said).unwrap_or(screen);
    assert_eq!(said, SEEN.strip_suffix("set: }\n").unwrap());
}

#[test]
fn what_a_user_copies_is_ten_lines_or_fewer() {
    for file in ["neovim/init.lua", "emacs/init.el", "helix/languages.toml", "vim/vimrc"] {
        let text = std::fs::read_to_string(project(&format!("editors/{file}"))).unwrap();
        assert!(text.lines().count() <= 10, "editors/{file}");
    }
}
