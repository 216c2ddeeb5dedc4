//! The devices that may come in, and the codes by which a new one does: a small database of its own, with hashes instead of secrets.

use super::error::AccessError;
use super::folder::Folder;
use super::secret::{Code, Token};
use super::shown::Invitation;
use rusqlite::{Connection, OptionalExtension, Row, TransactionBehavior, params};
use std::path::PathBuf;
use std::time::Duration;
use time::OffsetDateTime;

/// A device that has not come in for this long is shut out.
const FORGOTTEN: time::Duration = time::Duration::days(90);
/// How long a code can be used.
pub(crate) const CODE_HOLDS: Duration = Duration::from_secs(600);
/// How many devices may come in.
const MOST: usize = 200;
/// What marks the file as ours: "Door" in ASCII.
const MARK: i64 = 0x446F_6F72;

const TABLES: &str = "
CREATE TABLE device (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE CHECK (length(token) = 64),
    sort TEXT NOT NULL CHECK (sort IN ('paired', 'here', 'program')),
    name TEXT NOT NULL,
    person TEXT,
    since INTEGER NOT NULL,
    last INTEGER NOT NULL
) STRICT;
CREATE TABLE code (
    hash TEXT PRIMARY KEY CHECK (length(hash) = 64),
    until INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE served (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    addresses TEXT NOT NULL,
    fingerprint TEXT NOT NULL
) STRICT;
";

/// How a device came to be let in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// With a code from the machine's screen.
    Paired,
    /// By the address that this machine printed for itself.
    Here,
    /// A program that was given a token.
    Program,
}

impl Sort {
    fn word(self) -> &'static str {
        match self {
            Sort::Paired => "paired",
            Sort::Here => "here",
            Sort::Program => "program",
        }
    }
}

/// A device that may come in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Known {
    /// Its number; never given twice.
    pub number: i64,
    /// How it was let in.
    pub sort: Sort,
    /// The name that it was given.
    pub name: String,
    /// Who works at it.
    pub person: Option<String>,
    /// Since when it may come in.
    pub since: OffsetDateTime,
    /// When it last came; to the hour.
    pub last: OffsetDateTime,
    /// What is kept of its token.
    pub(crate) token: String,
}

/// The database.
#[derive(Debug)]
pub struct Devices {
    path: PathBuf,
    connection: Connection,
}

impl Devices {
    /// Opens the database in the door's folder, or makes it.
    ///
    /// # Errors
    /// [`AccessError::File`] where it cannot be used.
    pub fn open(folder: &Folder) -> Result<Devices, AccessError> {
        let path = folder.private("devices.sqlite")?;
        let said = |error: rusqlite::Error| AccessError::file(&path, error);
        let mut connection = Connection::open(&path).map_err(said)?;
        connection.busy_timeout(Duration::from_secs(5)).map_err(said)?;
        for (name, value) in [("synchronous", 2), ("trusted_schema", 0), ("secure_delete", 1)] {
            connection.pragma_update(None, name, value).map_err(said)?;
        }
        let change = connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(said)?;
        let pragma =
            |name: &str| change.pragma_query_value(None, name, |row| row.get::<_, i64>(0)).map_err(said);
        match (pragma("application_id")?, pragma("user_version")?) {
            (MARK, 1) => {}
            (0, 0) => {
                change.execute_batch(TABLES).map_err(said)?;
                change.pragma_update(None, "application_id", MARK).map_err(said)?;
                change.pragma_update(None, "user_version", 1).map_err(said)?;
            }
            _ => {
                return Err(AccessError::file(
                    &path,
                    "it was made by another program, or by a newer version of this one",
                ));
            }
        }
        change.commit().map_err(said)?;
        Ok(Devices { path, connection })
    }

    /// Lets a device in, and gives the token that it comes with. Those that nobody has used for 90 days are forgotten first.
    ///
    /// # Errors
    /// [`AccessError::Name`] or [`AccessError::TooMany`]; [`AccessError::File`] where nothing can be written.
    pub fn let_in(
        &mut self,
        sort: Sort,
        name: &str,
        person: Option<&str>,
        now: OffsetDateTime,
    ) -> Result<(Known, Token), AccessError> {
        let name = named("A device", name)?;
        let person = person
            .filter(|person| !person.trim().is_empty())
            .map(|person| named("A person", person))
            .transpose()?;
        let token = Token::drawn()?;
        let at = now.unix_timestamp();
        self.write("DELETE FROM device WHERE last < ?", params![(now - FORGOTTEN).unix_timestamp()])?;
        if self.all(now)?.len() >= MOST {
            return Err(AccessError::TooMany { most: MOST });
        }
        self.write(
            "INSERT INTO device (token, sort, name, person, since, last) VALUES (?, ?, ?, ?, ?, ?)",
            params![token.hash(), sort.word(), name, person, at, at],
        )?;
        let number = self.connection.last_insert_rowid();
        let at = moment(at);
        Ok((Known { number, sort, name, person, since: at, last: at, token: token.hash() }, token))
    }

    /// All that may come in.
    ///
    /// # Errors
    /// [`AccessError::File`] where it cannot be read.
    pub fn all(&self, now: OffsetDateTime) -> Result<Vec<Known>, AccessError> {
        let said = |error: rusqlite::Error| AccessError::file(&self.path, error);
        let text = "SELECT number, sort, name, person, since, last, token FROM device WHERE last >= ? ORDER BY number";
        let mut asked = self.connection.prepare(text).map_err(said)?;
        let rows = asked.query_map([(now - FORGOTTEN).unix_timestamp()], known).map_err(said)?;
        rows.collect::<Result<_, _>>().map_err(said)
    }

    /// Shuts a device out, by its number or by its name; all of that name.
    ///
    /// # Errors
    /// [`AccessError::NoSuchDevice`] where there is none.
    pub fn shut_out(&mut self, asked: &str, now: OffsetDateTime) -> Result<Vec<Known>, AccessError> {
        let number = asked.trim().parse::<i64>().ok();
        let all = self.all(now)?;
        let meant = |known: &&Known| Some(known.number) == number || known.name == asked.trim();
        let out: Vec<Known> = all.iter().filter(meant).cloned().collect();
        if out.is_empty() {
            return Err(AccessError::NoSuchDevice { asked: asked.trim().to_owned() });
        }
        for known in &out {
            self.write("DELETE FROM device WHERE number = ?", [known.number])?;
        }
        Ok(out)
    }

    /// Notes that a device came.
    pub(crate) fn came(&self, number: i64, now: OffsetDateTime) -> Result<(), AccessError> {
        self.write("UPDATE device SET last = ? WHERE number = ?", params![now.unix_timestamp(), number])
    }

    /// A new code for one device; those before it no longer count.
    ///
    /// # Errors
    /// [`AccessError::NoSecrets`], or [`AccessError::File`] where nothing can be written.
    pub fn code(&mut self, now: OffsetDateTime) -> Result<Code, AccessError> {
        let code = Code::drawn()?;
        self.withdraw_codes()?;
        let until = (now + CODE_HOLDS).unix_timestamp();
        self.write("INSERT INTO code (hash, until) VALUES (?, ?)", params![code.hash(), until])?;
        Ok(code)
    }

    /// Uses a code up: true where it was good.
    pub(crate) fn use_up(&mut self, code: &Code, now: OffsetDateTime) -> Result<bool, AccessError> {
        let said = |error: rusqlite::Error| AccessError::file(&self.path, error);
        let mut asked =
            self.connection.prepare("DELETE FROM code WHERE hash = ? AND until > ?").map_err(said)?;
        Ok(asked.execute(params![code.hash(), now.unix_timestamp()]).map_err(said)? == 1)
    }

    /// No code counts any more.
    pub(crate) fn withdraw_codes(&mut self) -> Result<(), AccessError> {
        self.write("DELETE FROM code", [])
    }

    /// Notes where the server is reached and with which certificate, for a code that another window shows.
    pub(crate) fn served_at(&self, addresses: &[String], fingerprint: &str) -> Result<(), AccessError> {
        let text = "INSERT OR REPLACE INTO served (one, addresses, fingerprint) VALUES (1, ?, ?)";
        self.write(text, [&addresses.join(" "), fingerprint])
    }

    /// A new code for the server that was started last with these records, whichever window it runs in; nothing where none was.
    ///
    /// # Errors
    /// [`AccessError`] where none can be drawn or noted.
    pub fn invite(&mut self, now: OffsetDateTime) -> Result<Option<Invitation>, AccessError> {
        let pair = |row: &Row<'_>| Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?));
        let asked =
            self.connection.query_row("SELECT addresses, fingerprint FROM served", [], pair).optional();
        let Some((addresses, fingerprint)) = asked.map_err(|error| AccessError::file(&self.path, error))?
        else {
            return Ok(None);
        };
        let addresses = addresses.split(' ').map(str::to_owned).collect();
        Ok(Some(Invitation { addresses, code: self.code(now)?, fingerprint }))
    }

    /// A number that changes when another program has written.
    pub(crate) fn version(&self) -> Result<i64, AccessError> {
        let asked = self.connection.pragma_query_value(None, "data_version", |row| row.get(0));
        asked.map_err(|error| AccessError::file(&self.path, error))
    }

    fn write(&self, text: &str, values: impl rusqlite::Params) -> Result<(), AccessError> {
        self.connection
            .execute(text, values)
            .map(|_| ())
            .map_err(|error| AccessError::file(&self.path, error))
    }
}

fn known(row: &Row<'_>) -> rusqlite::Result<Known> {
    let sort = match row.get_ref(1)?.as_str()? {
        "here" => Sort::Here,
        "program" => Sort::Program,
        _ => Sort::Paired,
    };
    Ok(Known {
        number: row.get(0)?,
        sort,
        name: row.get(2)?,
        person: row.get(3)?,
        since: moment(row.get(4)?),
        last: moment(row.get(5)?),
        token: row.get(6)?,
    })
}

fn moment(seconds: i64) -> OffsetDateTime {
    OffsetDateTime::from_unix_timestamp(seconds).unwrap_or(OffsetDateTime::UNIX_EPOCH)
}

/// A name with single blanks, of 1 to 60 letters that can be seen.
pub(crate) fn named(whose: &str, name: &str) -> Result<String, AccessError> {
    let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
    let no = |why: &str| Err(AccessError::Name { why: format!("{whose} needs a name {why}") });
    if name.is_empty() {
        return no("by which others know which one it is, such as `tablet lift 2`");
    }
    if name.chars().count() > 60 {
        return no("of at most 60 letters");
    }
    if name.chars().any(|letter| letter.is_control() || hidden(letter)) {
        return no("of letters that can be seen");
    }
    Ok(name)
}

/// Letters that show nothing and turn what stands beside them.
fn hidden(letter: char) -> bool {
    matches!(letter, '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{2069}' | '\u{FEFF}' | '\u{061C}' | '\u{00AD}')
}
