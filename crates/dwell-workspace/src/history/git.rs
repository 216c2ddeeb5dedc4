//! The program `git`: run in a folder, its answer taken as bytes or as one line.

use std::io::{BufRead, BufReader, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;

/// Git, run in one folder.
#[derive(Debug)]
pub(super) struct Git {
    folder: PathBuf,
}

impl Git {
    /// Git in that folder.
    ///
    /// # Errors
    /// A sentence: the program is missing, or the folder is in no repository.
    pub(super) fn here(folder: &Path) -> Result<Git, String> {
        let git = Git { folder: folder.to_owned() };
        git.bytes(&["rev-parse", "--git-dir"]).map_err(|why| {
            if why.starts_with("there is no program") {
                why
            } else {
                format!(
                    "{} lies in no git repository, so there is nothing earlier to compare with ({why})",
                    folder.display()
                )
            }
        })?;
        Ok(git)
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new("git");
        command.current_dir(&self.folder).args(["-c", "core.quotepath=off", "--no-optional-locks"]);
        command.args(arguments).stdin(Stdio::null());
        command
    }

    /// What git answers.
    ///
    /// # Errors
    /// A sentence: git is not there, or its own words.
    pub(super) fn bytes(&self, arguments: &[&str]) -> Result<Vec<u8>, String> {
        let output = self.command(arguments).output().map_err(|why| starting(&why))?;
        if output.status.success() {
            return Ok(output.stdout);
        }
        let said = String::from_utf8_lossy(&output.stderr);
        Err(format!("git says: {}", said.trim().lines().next().unwrap_or("nothing")))
    }

    /// The one line that git answers.
    ///
    /// # Errors
    /// As [`Git::bytes`]; also where the line is no UTF-8.
    pub(super) fn line(&self, arguments: &[&str]) -> Result<String, String> {
        let line =
            String::from_utf8(self.bytes(arguments)?).map_err(|_| "a path that is not UTF-8".to_owned())?;
        Ok(line.trim_end_matches(['\r', '\n']).to_owned())
    }

    /// The bytes of a file that is no `.dwell` file by its name.
    ///
    /// # Errors
    /// A sentence: it is not there.
    pub(super) fn other_file(&self, commit: &str, path: &str) -> Result<Vec<u8>, String> {
        self.bytes(&["cat-file", "blob", &format!("{commit}:{path}")])
            .map_err(|_| "there was no such file at that revision".to_owned())
    }

    /// The bytes of many objects, in their order, from one run of `git cat-file --batch`.
    ///
    /// # Errors
    /// A sentence: an object is missing, or git stopped.
    pub(super) fn blobs(&self, hashes: &[String]) -> Result<Vec<Vec<u8>>, String> {
        if hashes.is_empty() {
            return Ok(Vec::new());
        }
        let mut child = self
            .command(&["cat-file", "--batch"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|why| starting(&why))?;
        let (Some(mut asks), Some(answers)) = (child.stdin.take(), child.stdout.take()) else {
            return Err("git has no pipe to speak through".to_owned());
        };
        let questions: String = hashes.iter().map(|hash| format!("{hash}\n")).collect();
        // Asked from beside, for git answers before it has read everything.
        let asking = thread::spawn(move || asks.write_all(questions.as_bytes()));
        let mut answers = BufReader::new(answers);
        let blobs: Result<Vec<Vec<u8>>, String> =
            hashes.iter().map(|hash| blob(&mut answers, hash)).collect();
        drop(answers);
        let _ = asking.join();
        let _ = child.wait();
        blobs
    }
}

/// One answer of `cat-file --batch`: `HASH blob SIZE`, the bytes, a line end.
fn blob(answers: &mut impl BufRead, hash: &str) -> Result<Vec<u8>, String> {
    let failed = |why: std::io::Error| format!("git stopped in the middle: {why}");
    let mut heading = String::new();
    answers.read_line(&mut heading).map_err(failed)?;
    let size = heading.trim_end().rsplit_once(' ').and_then(|(_, size)| size.parse::<u64>().ok());
    let size = size.ok_or_else(|| {
        format!("the repository lacks the object {hash}: `git fetch` may bring it, `git fsck` says more")
    })?;
    let mut bytes = Vec::new();
    answers.by_ref().take(size).read_to_end(&mut bytes).map_err(failed)?;
    let mut end = [0];
    answers.read_exact(&mut end).map_err(failed)?;
    Ok(bytes)
}

fn starting(why: &std::io::Error) -> String {
    match why.kind() {
        ErrorKind::NotFound => {
            "there is no program `git` on this machine: install it, or compare two folders instead".to_owned()
        }
        _ => format!("the program `git` cannot be started: {why}"),
    }
}
