//! Pages that an editor can open: those of the rules, and the words that come with the language, written where the user
//! keeps what can be made again.

use std::collections::HashMap;
use std::env;
use std::fs;
use std::path::PathBuf;
use std::sync::{LazyLock, Mutex, PoisonError};
use tower_lsp::ls_types::Uri;

/// The address of a rule's page; none where it cannot be written.
pub(crate) fn rule(name: &str) -> Option<Uri> {
    let rule = dwell_check::rules::named(name)?;
    written(&format!("rules/{name}.md"), rule.page)
}

/// The address of what comes with the language.
pub(crate) fn prelude() -> Option<Uri> {
    written("prelude.dwell", dwell_check::program::PRELUDE_TEXT)
}

/// The pages that were written since the start.
static DONE: LazyLock<Mutex<HashMap<String, Option<Uri>>>> = LazyLock::new(Mutex::default);

/// The address of a page; it is written once, unless it is there as it should be.
fn written(name: &str, text: &str) -> Option<Uri> {
    let mut done = DONE.lock().unwrap_or_else(PoisonError::into_inner);
    done.entry(name.to_owned()).or_insert_with(|| write(name, text)).clone()
}

fn write(name: &str, text: &str) -> Option<Uri> {
    let path = folder()?.join(name);
    if fs::read_to_string(&path).ok().as_deref() != Some(text) {
        fs::create_dir_all(path.parent()?).ok()?;
        fs::write(&path, text).ok()?;
    }
    Uri::from_file_path(&path)
}

/// The folder for what can be made again: of the user, never one that is shared with others.
fn folder() -> Option<PathBuf> {
    let from = |name: &str| env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute());
    let base = from("XDG_CACHE_HOME")
        .or_else(|| from("LOCALAPPDATA"))
        .or_else(|| from("HOME").map(|home| home.join(".cache")))?;
    Some(base.join("dwell").join(env!("CARGO_PKG_VERSION")))
}
