//! Where the paths of findings count from: the top of the repository that is checked, also when it is named by another way.

use dwell_report::{Base, Link};
use std::path::{Path, PathBuf};

/// The folder that the work is done in, and the top of the repository: the nearest folder upwards that has a `.git`, from here,
/// or, where there is none, from the first of the paths that has one above it. Where a path that was given goes through a link
/// into that repository, that is noted, so that its files are found in it.
pub(crate) fn base(paths: &[PathBuf]) -> Base {
    let here = std::env::current_dir().unwrap_or_default();
    let given: Vec<PathBuf> = paths.iter().map(|path| here.join(path)).collect();
    let above_given = || given.iter().filter_map(|path| repository(&path.canonicalize().ok()?)).next();
    let top = repository(&here).or_else(above_given).unwrap_or_else(|| here.clone());
    let mut links: Vec<Link> = given.iter().filter_map(|path| link(path, &top)).collect();
    links.dedup();
    Base { here: slashes(&here), top: slashes(&top), links }
}

fn repository(within: &Path) -> Option<PathBuf> {
    within.ancestors().find(|folder| folder.join(".git").exists()).map(Path::to_path_buf)
}

/// The outermost part of a path that really lies in the repository, where it is written as if it lay elsewhere.
fn link(path: &Path, top: &Path) -> Option<Link> {
    let real = |part: &Path| part.canonicalize().ok().filter(|real| real.starts_with(top));
    let (written, real) = path.ancestors().map_while(|part| Some((part, real(part)?))).last()?;
    (written != real).then(|| Link { written: slashes(written), real: slashes(&real) })
}

/// With forward slashes, and without the mark that Windows sets before a path that was worked out.
fn slashes(path: &Path) -> String {
    let text = path.to_string_lossy().replace(std::path::MAIN_SEPARATOR, "/");
    text.strip_prefix("//?/").map_or_else(|| text.clone(), str::to_owned)
}
