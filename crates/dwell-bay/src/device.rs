//! The device that asks, and who works at it: told by the door for each request, noted with each event.

use dwell_record::event::By;

/// A device that was let in. The door puts it beside each request; what is behind the door relies on it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Device {
    /// What tells it from the others; no secret, and never shown. One device keeps it as long as it may come in.
    pub key: String,
    /// The name that was given to it, "tablet 3".
    pub name: Option<String>,
    /// Who works at it.
    pub person: Option<String>,
}

impl Device {
    /// As the record names it.
    pub fn by(&self) -> By {
        By { person: self.person.clone(), device: self.name.clone() }
    }
}
