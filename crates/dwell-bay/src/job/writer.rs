//! Who writes a job: one device at a time. Another one watches, and may take it over by a button that names who has it.

use super::desk::{Desk, Showing};
use super::{Inside, Job};
use crate::bay::{Bay, Trouble, held};
use crate::clock::now;
use crate::device::Device;
use dwell_record::event::Taking;
use dwell_store::{Records, Writing};

/// The device that writes, with its right to.
pub(crate) struct Writer {
    pub(super) device: Device,
    pub(super) writing: Writing,
}

/// Who has a job, as a page says it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Holder {
    /// The device that asks.
    You,
    /// Another one, by its name and person.
    Other(String),
    /// Nobody.
    Nobody,
}

impl Inside {
    /// Who writes, as seen from a device.
    pub(super) fn holder(&self, device: &Device) -> Holder {
        match &self.writer {
            Some(writer) if writer.device.key == device.key => Holder::You,
            Some(writer) => Holder::Other(writer.device.by().to_string()),
            None => self.outside.clone().map_or(Holder::Nobody, Holder::Other),
        }
    }
}

impl Job {
    /// A device takes the job in hand. Where somebody else has it, `over` says that it is to be taken over all the same. The
    /// record notes it with both names.
    ///
    /// # Errors
    /// A [`Trouble`]; nothing has changed then.
    pub(crate) fn take(&self, bay: &Bay, device: &Device, over: bool) -> Result<(), Trouble> {
        let mut inside = held(&self.inside);
        if inside.holder(device) == Holder::You || inside.session.result().is_some() {
            return Ok(());
        }
        let (by, at) = (device.by(), now());
        let mut session = bay.session(self.number)?;
        let mut store = bay.store();
        // Whoever had it on this machine, in a program that is gone, has it no more: the records lie on this machine's disk.
        let known = store.job(self.number, None)?.held;
        let gone = match &known {
            Some(theirs) => {
                store.job(self.number, theirs.by.device.as_deref())?.held.is_some_and(|held| held.gone)
            }
            None => true,
        };
        let (mut writing, _) = store.take(self.number, &by, &at, over || gone)?;
        let how = match gone {
            false => Taking::TakenOver,
            true if session.by().person != by.person => Taking::HandedOver,
            true => Taking::GoneOn,
        };
        let recorded = store.lines(self.number, 0)?.len();
        // An answer is stored whole or not at all; should a record ever end within one, it is made whole first.
        let missing = session.events().get(recorded..).unwrap_or_default().to_vec();
        store.append(&mut writing, &missing)?;
        let events = session.take_up(by, how, &at).map_err(Trouble::Refused)?;
        store.append(&mut writing, &events)?;
        drop(store);
        inside.desk = Desk::first(&session).after(std::mem::take(&mut inside.desk));
        inside.session = session;
        inside.source.forget();
        inside.outside = None;
        inside.writer = Some(Writer { device: device.clone(), writing });
        self.tell(&inside);
        Ok(())
    }

    /// Another person of the same device has it in hand from now on.
    ///
    /// # Errors
    /// A [`Trouble`]; nothing has changed then.
    pub(super) fn hand_over(&self, bay: &Bay, inside: &mut Inside, name: &str) -> Result<(), Trouble> {
        let Some(writer) = &mut inside.writer else { return Ok(()) };
        let at = now();
        let device = Device { person: Some(name.to_owned()), ..writer.device.clone() };
        let by = device.by();
        let mut next = inside.session.clone();
        let events = next.take_up(by.clone(), Taking::HandedOver, &at).map_err(Trouble::Refused)?;
        let mut store = bay.store();
        let (mut writing, _) = store.take(self.number, &by, &at, true)?;
        store.append(&mut writing, &events)?;
        *writer = Writer { device, writing };
        inside.session = next;
        inside.source.forget();
        inside.desk.happened(Showing::Came(events));
        Ok(())
    }

    /// Looks whether somebody outside of this server has the job open, and wrote it meanwhile.
    pub(crate) fn look_again(&self, bay: &Bay) -> Result<(), Trouble> {
        let known = {
            let inside = held(&self.inside);
            if inside.writer.is_some() {
                return Ok(());
            }
            inside.session.events().len()
        };
        let (more, outside) = {
            let store = bay.store();
            let more = !store.lines(self.number, u64::try_from(known).unwrap_or(u64::MAX))?.is_empty();
            let by = store.job(self.number, None)?.held.map(|held| held.by);
            let seen = store.job(self.number, by.as_ref().and_then(|by| by.device.as_deref()))?.held;
            (more, seen.filter(|held| !held.gone).map(|held| held.by.to_string()))
        };
        let session = if more { Some(bay.session(self.number)?) } else { None };
        let mut inside = held(&self.inside);
        if inside.writer.is_some() {
            return Ok(());
        }
        if let Some(session) = session {
            inside.session = session;
            inside.desk.happened(Showing::Asked);
        }
        if inside.outside != outside {
            inside.outside = outside;
            inside.desk.turn();
        }
        self.tell(&inside);
        Ok(())
    }
}
