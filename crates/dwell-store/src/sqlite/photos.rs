//! Photos: kept by their hash beside the events that name them, and like these never changed.

use super::Sqlite;
use crate::error::{StoreError, Trouble};
use dwell_record::Hash;
use rusqlite::{OptionalExtension, params};

/// The largest photo that is kept, in bytes: 16 MiB.
pub const MOST_PHOTO_BYTES: usize = 16 << 20;

impl Sqlite {
    /// Keeps a photo; on the disk when this returns, with the SHA-256 by which it is found. One that is there is kept once.
    ///
    /// # Errors
    /// [`Trouble::TooLarge`] above [`MOST_PHOTO_BYTES`]; a [`StoreError`] otherwise.
    pub fn keep_photo(&mut self, bytes: &[u8]) -> Result<Hash, StoreError> {
        if bytes.len() > MOST_PHOTO_BYTES {
            return Err(Trouble::TooLarge { bytes: bytes.len(), most: MOST_PHOTO_BYTES }.at(&self.path));
        }
        let hash = Hash::of(bytes);
        let kept = "INSERT OR IGNORE INTO photo (sha256, bytes) VALUES (?1, ?2)";
        self.connection.execute(kept, params![hash.digits(), bytes]).map_err(self.said())?;
        Ok(hash)
    }

    /// A photo, byte for byte; none where there is none with this hash.
    ///
    /// # Errors
    /// A [`StoreError`].
    pub fn photo(&self, sha256: &str) -> Result<Option<Vec<u8>>, StoreError> {
        let tables = "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = 'photo'";
        // A file of an older version that is only looked at has no photos.
        let known: i64 = self.connection.query_row(tables, [], |row| row.get(0)).map_err(self.said())?;
        if known == 0 {
            return Ok(None);
        }
        let found = "SELECT bytes FROM photo WHERE sha256 = ?1";
        self.connection.query_row(found, [sha256], |row| row.get(0)).optional().map_err(self.said())
    }
}
