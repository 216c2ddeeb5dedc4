//! What git lists: the `.dwell` files of a revision with their objects, and what was renamed or removed since.

use super::git::Git;
use std::collections::BTreeMap;

/// The `.dwell` files of a commit, path from the top and the hash of its content. Links and submodules are no files.
///
/// # Errors
/// A sentence: what `git` says.
pub(super) fn dwell_files(git: &Git, commit: &str) -> Result<BTreeMap<String, String>, String> {
    let listed = git.bytes(&["ls-tree", "-r", "-z", "--full-tree", commit])?;
    let mut files = BTreeMap::new();
    for entry in listed.split(|byte| *byte == 0) {
        // MODE blob HASH<tab>PATH; a path that is no UTF-8 cannot be named in a finding either.
        let Ok(entry) = std::str::from_utf8(entry) else { continue };
        let Some((about, path)) = entry.split_once('\t') else { continue };
        let mut about = about.split(' ');
        if let (Some("100644" | "100755"), Some("blob"), Some(hash)) =
            (about.next(), about.next(), about.next())
            && path.ends_with(".dwell")
        {
            files.insert(path.to_owned(), hash.to_owned());
        }
    }
    Ok(files)
}

/// The `.dwell` files that have another path now, or none: path then, path now.
///
/// # Errors
/// A sentence: what `git` says.
pub(super) fn moves(git: &Git, commit: &str) -> Result<Vec<(String, Option<String>)>, String> {
    let listed = git.bytes(&[
        "diff",
        "--name-status",
        "-z",
        "--find-renames",
        "--no-ext-diff",
        "--no-relative",
        commit,
        "--",
    ])?;
    let mut parts = listed.split(|byte| *byte == 0).map(|part| String::from_utf8_lossy(part).into_owned());
    let mut moves = Vec::new();
    while let Some(what) = parts.next() {
        let Some(then) = parts.next() else { break };
        let now = match what.chars().next() {
            Some('R') => Some(parts.next().unwrap_or_default()),
            Some('C') => {
                parts.next();
                continue;
            }
            Some('D') => None,
            _ => continue,
        };
        if then.ends_with(".dwell") {
            moves.push((then, now));
        }
    }
    Ok(moves)
}
