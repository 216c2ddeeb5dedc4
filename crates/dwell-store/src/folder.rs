//! The folder in which records lie: its names on the disk too, and whether it lies on this device at all.

use crate::error::Trouble;
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

/// Has the name of a new file on the disk: a file that is synced in a folder that is not may be gone after a power cut.
///
/// # Errors
/// What the system says.
pub fn name_stays(path: &Path) -> io::Result<()> {
    if cfg!(windows) {
        // There a folder cannot be opened to be synced, and a new name needs no such thing.
        return Ok(());
    }
    File::open(folder_of(path))?.sync_all()
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."))
}

/// Makes the folder of a file, with all above it, and has their names on the disk.
pub(crate) fn made(path: &Path) -> io::Result<()> {
    let folder = folder_of(path);
    let missing: Vec<&Path> = folder.ancestors().take_while(|folder| !folder.exists()).collect();
    fs::create_dir_all(folder)?;
    missing.into_iter().filter(|folder| !folder.as_os_str().is_empty()).try_for_each(name_stays)
}

/// File systems that are not on this device: over a network the locks and the shared memory of a write-ahead log do not hold.
const AWAY: [&str; 13] = [
    "9p",
    "afs",
    "beegfs",
    "ceph",
    "cifs",
    "fuse.sshfs",
    "glusterfs",
    "lustre",
    "ncpfs",
    "nfs",
    "nfs4",
    "smb3",
    "smbfs",
];

/// Refuses a file on a network file system, where the system tells which one it is on.
pub(crate) fn on_this_device(path: &Path) -> Result<(), Trouble> {
    let Ok(mounts) = fs::read_to_string("/proc/self/mountinfo") else { return Ok(()) };
    let Ok(folder) = folder_of(path).canonicalize() else { return Ok(()) };
    match away(&mounts, &folder) {
        Some(kind) => {
            Err(Trouble::Unsafe { what: format!("they would lie on a network file system ({kind})") })
        }
        None => Ok(()),
    }
}

/// The kind of network file system that a folder lies on, by the text of proc_pid_mountinfo(5).
pub(crate) fn away(mounts: &str, folder: &Path) -> Option<String> {
    let mount = |line: &str| -> Option<(PathBuf, String)> {
        let (before, after) = line.split_once(" - ")?;
        let point =
            before.split(' ').nth(4)?.replace("\\040", " ").replace("\\011", "\t").replace("\\134", "\\");
        Some((PathBuf::from(point), after.split(' ').next()?.to_owned()))
    };
    let mounts = mounts.lines().filter_map(mount).filter(|(point, _)| folder.starts_with(point));
    // Of two at one place the later one hides the other.
    let (_, kind) = mounts.max_by_key(|(point, _)| point.components().count())?;
    AWAY.contains(&kind.as_str()).then_some(kind)
}
