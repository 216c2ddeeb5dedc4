//! A folder that is a git repository, for what looks back.

use super::bench::{Bench, Said};
use std::process::{Command, Stdio};

impl Bench {
    /// Runs git in the folder, under a made-up name and without anybody's settings.
    pub(crate) fn git(&self, arguments: &[&str]) {
        let output = self
            .isolated(Command::new("git"))
            .args([
                "-c",
                "user.name=Ann",
                "-c",
                "user.email=ann@example.org",
                "-c",
                "init.defaultBranch=main",
            ])
            .args(arguments)
            .output()
            .expect("git starts");
        assert!(output.status.success(), "git {arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    }

    /// Makes the folder a repository with all that is in it.
    pub(crate) fn committed(files: &[(&str, &str)]) -> Bench {
        let bench = Bench::new(files);
        bench.git(&["init", "--quiet"]);
        bench.commit();
        bench
    }

    /// Commits everything.
    pub(crate) fn commit(&self) {
        self.git(&["add", "--all"]);
        self.git(&["commit", "--quiet", "--allow-empty", "--message", "as it is"]);
    }

    /// The program in a folder of the repository.
    pub(crate) fn run_in(&self, folder: &str, arguments: &[&str]) -> Said {
        let mut command = self.command(arguments);
        command.current_dir(self.path(folder)).stdin(Stdio::null());
        super::bench::said(self.isolated(command).output().unwrap())
    }

    /// A command in the folder, with nobody's settings of git and no repository around it.
    pub(crate) fn isolated(&self, mut command: Command) -> Command {
        if command.get_current_dir().is_none() {
            command.current_dir(self.0.path());
        }
        for name in ["GIT_DIR", "GIT_INDEX_FILE", "GIT_WORK_TREE"] {
            command.env_remove(name);
        }
        command
            .env("GIT_CEILING_DIRECTORIES", self.0.path().parent().unwrap())
            .env("GIT_CONFIG_GLOBAL", "/dev/null")
            .env("GIT_CONFIG_NOSYSTEM", "1");
        command
    }
}
