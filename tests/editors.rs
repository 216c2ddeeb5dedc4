//! Real editors, without a screen, with the very files that `editors/` has for users to copy.

mod tap;

use crate::program::bench::Bench;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use tap::Tap;

/// A procedure with a fault, letters of all widths before it, and room for its repair.
const TEXT: &str = "# Größe ° 😀
item belt-guard: removable \"belt guard °\"

procedure look \"Look\" {
    step look \"Look\" { remove belt-guard }
    restore {   }
}
";

/// What a writer sees in either editor.
const SEEN: &str = "found: 5 not-restored
declared in line 2
renamed: item belt-cover: removable \"belt guard °\"
found: 
set: }
";

fn project(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().join(path)
}

/// Whether an editor is installed; said where it is not.
fn is_here(editor: &str) -> bool {
    let found = Command::new(editor).arg("--version").stdin(Stdio::null()).output();
    let here = found.is_ok_and(|said| said.status.success());
    if !here {
        let _ = writeln!(std::io::stderr(), "skipped: {editor} is not installed; `tests/run` installs it");
    }
    here
}

/// Runs an editor in a folder of its own, with the program on its way; what it printed.
fn seen(editor: &str, arguments: impl Fn(&Bench) -> Vec<PathBuf>) -> String {
    let bench = Bench::new(&[("work/look.dwell", TEXT), ("dwell.toml", "")]);
    let tap = Tap::of(&bench);
    let programs = tap.programs.clone();
    let path = std::env::var_os("PATH").unwrap();
    let path = std::env::join_paths(std::iter::once(programs).chain(std::env::split_paths(&path))).unwrap();
    let home = bench.path("home");
    std::fs::create_dir_all(&home).unwrap();
    let mut command = Command::new(editor);
    command.args(arguments(&bench)).current_dir(bench.path("work")).env("PATH", path).stdin(Stdio::null());
    for name in ["HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"] {
        command.env(name, &home);
    }
    command.env("DWELL_COPIED", project("editors/emacs/init.el"));
    let said = command.output().unwrap();
    let out = String::from_utf8_lossy(&said.stdout).into_owned();
    assert!(said.status.success(), "{editor}: {out}{}", String::from_utf8_lossy(&said.stderr));
    tap.is_sound();
    out
}

#[test]
fn neovim_with_what_a_user_copies() {
    if !is_here("nvim") {
        return;
    }
    let out = seen("nvim", |_| {
        let mut all: Vec<PathBuf> = ["--headless", "-i", "NONE", "-n", "-u"].map(PathBuf::from).into();
        all.extend([project("editors/neovim/init.lua"), "look.dwell".into(), "-S".into()]);
        all.push(project("tests/editors/neovim.lua"));
        all
    });
    assert_eq!(out, SEEN);
}

#[test]
fn emacs_with_what_a_user_copies() {
    if !is_here("emacs") {
        return;
    }
    let out = seen("emacs", |_| {
        let mut all: Vec<PathBuf> = ["-Q", "--batch", "-l"].map(PathBuf::from).into();
        all.extend([project("tests/editors/emacs.el"), "look.dwell".into()]);
        all
    });
    assert_eq!(out, SEEN);
}

/// Builds the extension in a copy and runs its suite in the extension host.
#[cfg(unix)]
#[test]
fn visual_studio_code_with_the_extension() {
    let Some(home) = std::env::var_os("DWELL_VSCODE").map(PathBuf::from) else {
        let _ = writeln!(std::io::stderr(), "skipped: only `tests/run --long` installs Visual Studio Code");
        return;
    };
    let bench = Bench::new(&[]);
    let tap = Tap::of(&bench);
    let copy = bench.path("extension");
    let mut copied = Command::new("cp");
    copied.arg("-r").arg(project("editors/vscode")).arg(&copy);
    assert!(copied.status().unwrap().success());
    let _ = std::fs::remove_dir_all(copy.join("node_modules"));
    let _ = std::fs::remove_file(copy.join("node_modules"));
    std::os::unix::fs::symlink(home.join("node_modules"), copy.join("node_modules")).unwrap();
    let bundle = ["src/extension.ts", "--bundle", "--platform=node", "--format=cjs", "--external:vscode"];
    for (tool, arguments) in [
        ("tsc", vec!["--noEmit"]),
        ("esbuild", [&bundle[..], &["--outfile=dist/extension.js", "--log-level=error"]].concat()),
    ] {
        let tool = home.join("node_modules/.bin").join(tool);
        let said = Command::new(&tool).args(arguments).current_dir(&copy).output().unwrap();
        assert!(
            said.status.success(),
            "{}{}",
            String::from_utf8_lossy(&said.stdout),
            String::from_utf8_lossy(&said.stderr)
        );
    }
    let own = |name: &str| project(&format!("tests/editors/vscode/{name}"));
    let said = Command::new("node")
        .args([own("run.js"), copy, own("suite.js"), own("look.dwell")])
        .env("DWELL_PROGRAM", tap.programs.join("dwell"))
        .env("DWELL_VSCODE", home)
        .output()
        .unwrap();
    let out = String::from_utf8_lossy(&said.stdout);
    assert!(
        said.status.success() && out.contains(" 0 failed"),
        "{out}{}",
        String::from_utf8_lossy(&said.stderr)
    );
    tap.is_sound();
}

#[test]
fn what_a_user_copies_is_ten_lines_or_fewer() {
    for file in ["neovim/init.lua", "emacs/init.el", "helix/languages.toml", "vim/vimrc"] {
        let text = std::fs::read_to_string(project(&format!("editors/{file}"))).unwrap();
        assert!(text.lines().count() <= 10, "editors/{file}");
    }
}
