//! A folder to work in and the built program to run there.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::LazyLock;
use tempfile::TempDir;

/// The program: the one that `DWELL_PROGRAM` names, or built once by the same cargo and in the same place as these tests.
pub(crate) static DWELL: LazyLock<PathBuf> = LazyLock::new(|| {
    if let Some(built) = std::env::var_os("DWELL_PROGRAM") {
        return PathBuf::from(built);
    }
    let own = std::env::current_exe().unwrap();
    let profile = own.parent().unwrap().parent().unwrap();
    let built = Command::new(env!("CARGO"))
        .args(["build", "--quiet", "--package", "dwell", "--target-dir"])
        .arg(profile.parent().unwrap())
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .status()
        .unwrap();
    assert!(built.success(), "the program cannot be built");
    profile.parent().unwrap().join("debug").join(format!("dwell{}", std::env::consts::EXE_SUFFIX))
});

/// The folder of the demo library.
pub(crate) fn library() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().join("procedures")
}

/// What a run of the program gave.
pub(crate) struct Said {
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Said {
    /// Whether these words stand at the standard error, wherever its lines are broken: that depends on how long the paths in it are.
    pub(crate) fn says(&self, words: &str) -> bool {
        let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        plain(&self.err).contains(&plain(words))
    }
}

/// A folder.
pub(crate) struct Bench(pub(crate) TempDir);

impl Bench {
    /// With these files.
    pub(crate) fn new(files: &[(&str, &str)]) -> Bench {
        let bench = Bench(TempDir::new().unwrap());
        for (path, text) in files {
            bench.put(path, text.as_bytes());
        }
        bench
    }

    pub(crate) fn path(&self, path: &str) -> PathBuf {
        self.0.path().join(path)
    }

    pub(crate) fn put(&self, path: &str, bytes: &[u8]) {
        let path = self.path(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }

    pub(crate) fn get(&self, path: &str) -> String {
        fs::read_to_string(self.path(path)).unwrap()
    }

    /// The program with these arguments, in the folder, with none of the variables that colour depends on.
    pub(crate) fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(&*DWELL);
        command.args(arguments).current_dir(self.0.path());
        for name in ["NO_COLOR", "CLICOLOR_FORCE", "CLICOLOR", "LC_ALL", "LC_CTYPE", "LANG"] {
            command.env_remove(name);
        }
        // Nothing of a test gets among the records of whoever runs it.
        command.env("XDG_DATA_HOME", self.path(".data")).env_remove("DWELL_STORE").env_remove("DWELL_PERSON");
        command
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Said {
        said(self.command(arguments).stdin(Stdio::null()).output().unwrap())
    }

    /// With a text at its standard input.
    pub(crate) fn fed(&self, arguments: &[&str], input: &str) -> Said {
        let mut child = self
            .command(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // The program may have ended before it has read everything.
        let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
        said(child.wait_with_output().unwrap())
    }
}

pub(crate) fn said(output: Output) -> Said {
    Said {
        status: output.status.code().expect("it ended by itself"),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// A small procedure without a fault.
pub(crate) const GOOD: &str = r#"item belt-guard: removable "belt guard"
tool belt-meter: hand-held "belt tension meter" { measures frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz }
spec belt-tension: frequency { check 62 ± 6 Hz }

procedure belt "Belt tension" {
    step tension-check "Check the belt tension" {
        remove belt-guard
        measure tension: frequency with belt-meter
        expect tension meets belt-tension
        otherwise { end failed "Look at the tensioner." }
    }
    restore { refit belt-guard }
}
"#;

/// The same with the guard left off.
pub(crate) fn faulty() -> String {
    GOOD.replace("    restore { refit belt-guard }\n", "")
}

/// The same with a text that cannot be read.
pub(crate) fn torn() -> String {
    GOOD.replace("62 ± 6 Hz", "62 ± Hz")
}

/// A procedure with a step that nothing leads to, which is a warning.
pub(crate) fn idle() -> String {
    GOOD.replace(
        "    restore {",
        "    step never \"Never\" {\n        do \"Look at it.\"\n    }\n    restore {",
    )
    .replace(
        "        otherwise { end failed \"Look at the tensioner.\" }\n",
        "        otherwise { end failed \"Look at the tensioner.\" }\n        end passed\n",
    )
}
