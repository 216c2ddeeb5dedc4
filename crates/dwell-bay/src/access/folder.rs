//! The door's own folder beside the records: nobody but its owner looks into it.

use super::error::AccessError;
use std::fs::{self, File, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// A folder for secrets, `workshop.records.door` beside `workshop.records`.
#[derive(Clone, Debug)]
pub struct Folder(PathBuf);

impl Folder {
    /// The folder beside a file with records; it is made where it is not there, and only its owner may look into it.
    ///
    /// # Errors
    /// [`AccessError::File`] where it cannot be made or others could look into it.
    pub fn beside(records: &Path) -> Result<Folder, AccessError> {
        let mut name = records.as_os_str().to_owned();
        name.push(".door");
        let path = PathBuf::from(name);
        fs::create_dir_all(&path).map_err(|error| AccessError::file(&path, error))?;
        shut(&path, 0o700)?;
        Ok(Folder(path))
    }

    /// A file in it.
    pub(crate) fn file(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }

    /// Makes an empty file that only its owner reads, where there is none; one that is there is shut to others.
    pub(crate) fn private(&self, name: &str) -> Result<PathBuf, AccessError> {
        let path = self.file(name);
        match only_mine().create_new(true).open(&path) {
            Ok(_) => {}
            Err(error) if error.kind() == ErrorKind::AlreadyExists => shut(&path, 0o600)?,
            Err(error) => return Err(AccessError::file(&path, error)),
        }
        Ok(path)
    }

    /// Writes a file whole or not at all, with nobody else reading it at any moment.
    pub(crate) fn write(&self, name: &str, text: &str) -> Result<PathBuf, AccessError> {
        let path = self.file(name);
        let said = |error: std::io::Error| AccessError::file(&path, error);
        let beside = self.file(&format!("{name}.new"));
        match fs::remove_file(&beside) {
            Err(error) if error.kind() != ErrorKind::NotFound => return Err(said(error)),
            _ => {}
        }
        let mut file = only_mine().create_new(true).open(&beside).map_err(said)?;
        file.write_all(text.as_bytes()).and_then(|()| file.sync_all()).map_err(said)?;
        fs::rename(&beside, &path).map_err(said)?;
        if cfg!(unix) {
            File::open(&self.0).and_then(|folder| folder.sync_all()).map_err(said)?;
        }
        Ok(path)
    }

    /// Reads a file; nothing where there is none.
    pub(crate) fn read(&self, name: &str) -> Result<Option<String>, AccessError> {
        let path = self.file(name);
        match fs::read_to_string(&path) {
            Ok(text) => Ok(Some(text)),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(AccessError::file(&path, error)),
        }
    }
}

/// For writing, with rights for the owner only from the first moment. On Windows the user's own folders are shut already.
fn only_mine() -> OpenOptions {
    let mut options = OpenOptions::new();
    options.write(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options
}

/// Takes all rights from everybody but the owner.
#[cfg(unix)]
fn shut(path: &Path, mode: u32) -> Result<(), AccessError> {
    use std::os::unix::fs::PermissionsExt;
    let said = |error: std::io::Error| AccessError::file(path, error);
    let now = fs::metadata(path).map_err(said)?.permissions().mode() & 0o777;
    if now & 0o077 == 0 {
        return Ok(());
    }
    fs::set_permissions(path, fs::Permissions::from_mode(mode)).map_err(said)
}

#[cfg(not(unix))]
fn shut(_: &Path, _: u32) -> Result<(), AccessError> {
    Ok(())
}
