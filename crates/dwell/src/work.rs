//! From the paths that were typed to what the checker says of them.

use dwell_check::check::{Checked, check_with};
use dwell_check::mend::{Mended, mend};
use dwell_check::options::Options;
use dwell_check::program::Sources;
use dwell_report::Unreadable;
use dwell_workspace::{Folder, SettingsFile};
use std::path::{Path, PathBuf};
use time::OffsetDateTime;

/// What was checked, and what could not be.
pub(crate) struct Work {
    /// The result.
    pub(crate) checked: Checked,
    /// What could not be read; the rest was checked without it.
    pub(crate) unreadable: Vec<Unreadable>,
    /// How many files were checked.
    pub(crate) files: usize,
    /// What it was checked with.
    pub(crate) options: Options,
    /// Where the files were read.
    pub(crate) folder: Folder,
}

/// Checks the files below these paths, with the settings that lie above them.
/// On a day, year-month-day; without one it is today, in UTC.
pub(crate) fn work(paths: &[PathBuf], day: Option<&str>) -> Work {
    work_with(paths, day, None)
}

/// The same with a file of settings given by its path.
pub(crate) fn work_with(paths: &[PathBuf], day: Option<&str>, settings: Option<&Path>) -> Work {
    let desk = Desk::of(paths, day, settings);
    let options = desk.options(&desk.folder);
    let checked = check_with(&desk.roots, &desk.folder, &options);
    desk.done(checked, options)
}

/// The same with all repairs made, in memory; and what was done.
pub(crate) fn mended(paths: &[PathBuf], day: Option<&str>, settings: Option<&Path>) -> (Work, Mended) {
    let desk = Desk::of(paths, day, settings);
    let mended = mend(&desk.roots, &desk.folder, |sources| desk.options(sources));
    let options = desk.options(&desk.folder);
    (desk.done(mended.checked.clone(), options), mended)
}

/// What is to be checked, made ready.
struct Desk {
    folder: Folder,
    roots: Vec<String>,
    unreadable: Vec<Unreadable>,
    settings: Option<SettingsFile>,
    day: String,
}

impl Desk {
    fn of(paths: &[PathBuf], day: Option<&str>, given: Option<&Path>) -> Desk {
        let mut folder = Folder::of(paths);
        let mut unreadable: Vec<Unreadable> = folder
            .faults()
            .iter()
            .map(|fault| Unreadable { path: fault.path.clone(), why: fault.what.clone() })
            .collect();
        let mut roots = Vec::new();
        for root in folder.roots() {
            match folder.read(root) {
                Ok(_) => roots.push(root.clone()),
                Err(why) => unreadable.push(Unreadable { path: root.clone(), why }),
            }
        }
        let settings = settings(paths, given).unwrap_or_else(|fault| {
            unreadable.push(fault);
            None
        });
        if let Some(file) = &settings {
            folder.at_home(file.folder.clone());
            if let Err(why) = folder.read(&file.shown) {
                unreadable.push(Unreadable { path: file.shown.clone(), why });
            }
        }
        Desk { folder, roots, unreadable, settings, day: on(day) }
    }

    /// What the settings say, as these sources have them.
    fn options(&self, sources: &dyn Sources) -> Options {
        let day = Some(self.day.as_str());
        let read = self.settings.as_ref().and_then(|file| Some((file, sources.read(&file.shown).ok()?)));
        match read {
            Some((file, text)) => dwell_settings::read(&text).options(&file.shown, &text, day),
            None => Options { day: day.map(str::to_owned), ..Options::default() },
        }
    }

    fn done(self, checked: Checked, options: Options) -> Work {
        let Desk { folder, roots, unreadable, .. } = self;
        Work { checked, unreadable, files: roots.len(), options, folder }
    }
}

/// The one file of settings for all these paths.
pub(crate) fn settings(paths: &[PathBuf], given: Option<&Path>) -> Result<Option<SettingsFile>, Unreadable> {
    if let Some(given) = given {
        let missing = || Unreadable {
            path: given.display().to_string(),
            why: "there is no such file of settings: check the path after `--settings`".to_owned(),
        };
        return SettingsFile::at(given).map(Some).ok_or_else(missing);
    }
    let mut found: Vec<SettingsFile> =
        paths.iter().filter_map(|path| SettingsFile::above(path, dwell_settings::NAME)).collect();
    found.sort_by(|one, other| one.path.cmp(&other.path));
    found.dedup();
    match found.as_slice() {
        [] => Ok(None),
        [only] => Ok(Some(only.clone())),
        [one, other, ..] => Err(Unreadable {
            path: other.shown.clone(),
            why: format!(
                "these paths have different settings, {} and this: check them one after the other, or say which \
                 settings count with `--settings`",
                one.shown
            ),
        }),
    }
}

/// That day, or today in UTC, year-month-day.
pub(crate) fn on(day: Option<&str>) -> String {
    day.map_or_else(|| OffsetDateTime::now_utc().date().to_string(), str::to_owned)
}
