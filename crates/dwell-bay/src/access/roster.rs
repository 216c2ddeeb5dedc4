//! The devices as the running server knows them: asked at every request, and read anew soon after another program changed them.

use super::devices::{Devices, Known, Sort};
use super::error::AccessError;
use super::secret::{Code, Token, hash};
use super::shown::Invitation;
use crate::device::Device;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use time::{Duration, OffsetDateTime};
use tokio::sync::watch;

/// How exactly it is noted when a device last came.
const EXACTLY: Duration = Duration::hours(1);

/// A device at the door, with what ends its open connections when it is shut out.
#[derive(Clone, Debug)]
pub(crate) struct Let {
    pub(crate) device: Device,
    pub(crate) number: i64,
    /// Its other end is dropped when the device is shut out, or the server ends.
    pub(crate) until: watch::Receiver<()>,
}

struct Entry {
    known: Known,
    end: watch::Sender<()>,
}

struct Inside {
    devices: Devices,
    version: i64,
    /// What the program was told of this machine when it was started, for its own browsers.
    own: Device,
    by_token: HashMap<String, Entry>,
}

/// The devices of the running server; a clone is the same one.
#[derive(Clone)]
pub(crate) struct Roster(Arc<Mutex<Inside>>);

impl Roster {
    pub(crate) fn new(devices: Devices, own: Device, now: OffsetDateTime) -> Result<Roster, AccessError> {
        let inside = Inside { devices, version: 0, own, by_token: HashMap::new() };
        let roster = Roster(Arc::new(Mutex::new(inside)));
        roster.inside().read(now)?;
        Ok(roster)
    }

    /// The device that shows this token. Found by the token's hash, so that the time it takes tells nothing of the token.
    pub(crate) fn who(&self, token: &str, now: OffsetDateTime) -> Option<Let> {
        let mut inside = self.inside();
        let Inside { devices, own, by_token, .. } = &mut *inside;
        let entry = by_token.get_mut(&hash(token))?;
        if now - entry.known.last > EXACTLY {
            entry.known.last = now;
            // Whoever is at work is not kept out because this could not be noted.
            let _ = devices.came(entry.known.number, now);
        }
        Some(entry.shown(own))
    }

    /// Lets a device in with a code: nothing where the code is wrong, used or too old.
    pub(crate) fn pair(
        &self,
        code: &Code,
        name: &str,
        person: Option<&str>,
        now: OffsetDateTime,
    ) -> Result<Option<(Let, Token)>, AccessError> {
        let mut inside = self.inside();
        // A name that cannot be taken does not cost the code.
        super::devices::named("A device", name)?;
        if !inside.devices.use_up(code, now)? {
            return Ok(None);
        }
        inside.take(Sort::Paired, name, person, now).map(Some)
    }

    /// Lets a browser of this machine in.
    pub(crate) fn here(&self, now: OffsetDateTime) -> Result<(Let, Token), AccessError> {
        self.inside().take(Sort::Here, "this machine", None, now)
    }

    /// What lets one device in; codes before it no longer count.
    pub(crate) fn invite(&self, now: OffsetDateTime) -> Result<Option<Invitation>, AccessError> {
        self.inside().devices.invite(now)
    }

    /// No code counts any more.
    pub(crate) fn withdraw_codes(&self) -> Result<(), AccessError> {
        self.inside().devices.withdraw_codes()
    }

    /// Notes where the server is reached, and with which certificate.
    pub(crate) fn served_at(&self, addresses: &[String], fingerprint: &str) -> Result<(), AccessError> {
        self.inside().devices.served_at(addresses, fingerprint)
    }

    /// Reads the devices anew where another program has changed them. Who is no longer there is cut off.
    pub(crate) fn look_again(&self, now: OffsetDateTime) -> Result<(), AccessError> {
        let mut inside = self.inside();
        if inside.devices.version()? == inside.version {
            return Ok(());
        }
        inside.read(now)
    }

    /// Cuts all connections that stay open, because the server ends.
    pub(crate) fn end(&self) {
        self.inside().by_token.clear();
    }

    fn inside(&self) -> MutexGuard<'_, Inside> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Inside {
    fn read(&mut self, now: OffsetDateTime) -> Result<(), AccessError> {
        self.version = self.devices.version()?;
        let mut before = std::mem::take(&mut self.by_token);
        for known in self.devices.all(now)? {
            let end = match before.remove(&known.token) {
                Some(entry) => entry.end,
                None => watch::channel(()).0,
            };
            self.by_token.insert(known.token.clone(), Entry { known, end });
        }
        Ok(())
    }

    fn take(
        &mut self,
        sort: Sort,
        name: &str,
        person: Option<&str>,
        now: OffsetDateTime,
    ) -> Result<(Let, Token), AccessError> {
        let (known, token) = self.devices.let_in(sort, name, person, now)?;
        let entry = Entry { known, end: watch::channel(()).0 };
        let shown = entry.shown(&self.own);
        self.by_token.insert(token.hash(), entry);
        Ok((shown, token))
    }
}

impl Entry {
    fn shown(&self, own: &Device) -> Let {
        let known = &self.known;
        let (name, person) = match known.sort {
            Sort::Here => (own.name.clone().or_else(|| Some(known.name.clone())), own.person.clone()),
            Sort::Paired | Sort::Program => (Some(known.name.clone()), known.person.clone()),
        };
        let device = Device { key: known.number.to_string(), name, person };
        Let { device, number: known.number, until: self.end.subscribe() }
    }
}
