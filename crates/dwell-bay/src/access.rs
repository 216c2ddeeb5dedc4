//! The door: who may come in, and what is said to everybody else.
//!
//! Without more, a bay is reached from this machine alone, by whoever has the address that it prints. With `--lan` it is reached
//! from the network, over TLS, by devices that were let in one by one with a code from the machine's screen. A device shows a
//! token of 256 bits at each request; only its hash is kept. What cannot be known is not told: whoever shows no token is
//! answered the same at every address.

mod bodies;
mod certificate;
mod devices;
mod error;
mod folder;
mod guard;
mod headers;
mod host;
mod listen;
mod machine;
mod origin;
mod pages;
mod rates;
mod roster;
mod secret;
mod shown;
mod waits;

#[cfg(test)]
mod tests;

pub use bodies::Measure;
pub use certificate::{Certificate, Kept};
pub use devices::{Devices, Known, Sort};
pub use error::AccessError;
pub use folder::Folder;
pub use machine::Machine;
pub use secret::{Code, Token};
pub use shown::{Invitation, Picture};

use crate::device::Device;
use axum::Router;
use guard::{Guard, Inside};
pub(crate) use headers::Standing;
use host::Hosts;
use rates::Rates;
use roster::Roster;
use std::collections::BTreeSet;
use std::future::Future;
use std::net::{IpAddr, SocketAddr, TcpListener};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;
use time::OffsetDateTime;
use tokio_rustls::TlsAcceptor;
use waits::Waits;

/// How soon a device that another program has shut out is cut off.
const LOOKS: Duration = Duration::from_millis(500);

/// How a bay is to be reached.
pub struct Opening {
    /// The file with the records: the door keeps its own things beside it.
    pub records: PathBuf,
    /// Where to listen.
    pub at: SocketAddr,
    /// Whether devices of the network come in, over TLS; so they do at any address but this machine's own loop.
    pub lan: bool,
    /// This machine, with whoever sits at it.
    pub own: Device,
    /// What the addresses take that take more than a form.
    pub measures: Vec<Measure>,
    /// Told in words what happens at the door, for the machine's screen.
    pub tell: Arc<dyn Fn(&str) + Send + Sync>,
}

/// A door that is ready: it has its address, and nobody has come yet.
pub struct Door {
    listener: TcpListener,
    at: SocketAddr,
    tls: Option<TlsAcceptor>,
    guard: Guard,
    key: Option<Token>,
    inviter: Option<Inviter>,
    words: Vec<String>,
}

/// Makes invitations; a clone makes them for the same door.
#[derive(Clone)]
pub struct Inviter(Roster);

impl Inviter {
    /// A new code for one device; those before it no longer count.
    ///
    /// # Errors
    /// [`AccessError`] where none can be drawn or noted.
    pub fn invite(&self) -> Result<Option<Invitation>, AccessError> {
        self.0.invite(OffsetDateTime::now_utc())
    }
}

/// What differs between a bay on the network and one of this machine alone.
struct Reached {
    names: BTreeSet<String>,
    tls: Option<TlsAcceptor>,
    key: Option<Token>,
    inviter: Option<Inviter>,
    words: Vec<String>,
}

impl Door {
    /// Makes what is missing (the folder, the certificate, the list of devices) and takes the address.
    ///
    /// # Errors
    /// [`AccessError`], in words for whoever starts the server.
    pub fn open(opening: Opening) -> Result<Door, AccessError> {
        let Opening { records, at, lan, own, measures, tell } = opening;
        let now = OffsetDateTime::now_utc();
        let lan = lan || !at.ip().is_loopback();
        let folder = Folder::beside(&records)?;
        let roster = Roster::new(Devices::open(&folder)?, own, now)?;
        let listen =
            |error: std::io::Error| AccessError::Listen { at: at.to_string(), why: error.to_string() };
        let listener = TcpListener::bind(at).map_err(listen)?;
        listener.set_nonblocking(true).map_err(listen)?;
        let at = listener.local_addr().map_err(listen)?;
        let reached =
            if lan { Reached::from_the_network(&folder, &roster, at, now)? } else { Reached::from_here()? };
        let Reached { names, tls, key, inviter, words } = reached;
        let guard = Guard::new(Inside {
            roster,
            waits: Waits::default(),
            rates: Rates::new(),
            hosts: Hosts { names, usual_port: if lan { 443 } else { 80 } },
            lan,
            // Cookies do not tell ports apart: two bays on one machine must not take each other's.
            cookie: format!("{}dwell-{}", if lan { "__Host-" } else { "" }, at.port()),
            entry: key.as_ref().map(Token::hash),
            measures,
            tell,
        });
        Ok(Door { listener, at, tls, guard, key, inviter, words })
    }

    /// What whoever starts the server should know.
    pub fn words(&self) -> &[String] {
        &self.words
    }

    /// Where it listens.
    pub fn at(&self) -> SocketAddr {
        self.at
    }

    /// The address for this machine's browser, with the key that lets it in; nothing for a bay on the network.
    pub fn own_address(&self) -> Option<String> {
        let key = self.key.as_ref()?;
        Some(format!("http://{}/enter?key={}", self.at, key.shown()))
    }

    /// What makes invitations; nothing for a bay that only this machine reaches.
    pub fn inviter(&self) -> Option<Inviter> {
        self.inviter.clone()
    }

    /// Serves a router behind this door until it is told to stop; then it ends within two seconds, open streams and all.
    ///
    /// # Errors
    /// What the system says where the address cannot be served.
    pub async fn serve(self, inside: Router, stop: impl Future<Output = ()>) -> std::io::Result<()> {
        let listener = tokio::net::TcpListener::from_std(self.listener)?;
        let (roster, tell) = (self.guard.roster.clone(), self.guard.tell.clone());
        let watched = roster.clone();
        let looking = tokio::spawn(async move {
            let mut last = String::new();
            loop {
                tokio::time::sleep(LOOKS).await;
                let said = watched.look_again(OffsetDateTime::now_utc()).err().map(|error| error.to_string());
                // A fault is told once, not twice a second.
                match said {
                    Some(error) if error != last => {
                        tell(&format!("who may come in could not be read anew: {error}"));
                        last = error;
                    }
                    Some(_) => {}
                    None => last.clear(),
                }
            }
        });
        let stopped = async {
            stop.await;
            roster.end();
        };
        listen::serve(listener, self.tls, self.guard.before(inside), stopped).await;
        looking.abort();
        Ok(())
    }
}

impl Reached {
    fn from_here() -> Result<Reached, AccessError> {
        let names = BTreeSet::from(["localhost".to_owned()]);
        Ok(Reached { names, tls: None, key: Some(Token::drawn()?), inviter: None, words: Vec::new() })
    }

    fn from_the_network(
        folder: &Folder,
        roster: &Roster,
        at: SocketAddr,
        now: OffsetDateTime,
    ) -> Result<Reached, AccessError> {
        let machine = Machine::known(Some(at.ip()));
        let (certificate, kept) = Certificate::kept(folder, &machine, now)?;
        let tls = listen::tls(&certificate)
            .map_err(|error| AccessError::certificate(&folder.file("certificate.pem"), error))?;
        let port = if at.port() == 443 { String::new() } else { format!(":{}", at.port()) };
        let mut addresses: Vec<String> = machine
            .addresses
            .iter()
            .map(|address| format!("https://{}{port}", in_an_address(*address)))
            .collect();
        addresses.extend(machine.name.iter().map(|name| format!("https://{name}{port}")));
        roster.served_at(&addresses, &certificate.fingerprint())?;
        let mut words = Vec::new();
        if kept == Kept::Renewed {
            words.push(
                "The certificate would soon have run out: a new one was made. Each tablet warns once more, and its fingerprint \
                 is a new one too."
                    .to_owned(),
            );
        }
        let missing = certificate.missing(&machine);
        if !missing.is_empty() {
            words.push(format!(
                "The certificate was made when this machine had not the address {} yet: a tablet that was told to trust it warns \
                 there. `dwell bay certificate renew` makes a new one.",
                missing.join(", ")
            ));
        }
        let inviter = Inviter(roster.clone());
        Ok(Reached { names: machine.names(), tls: Some(tls), key: None, inviter: Some(inviter), words })
    }
}

/// An address as it stands in an address of the web (RFC 3986, section 3.2.2).
fn in_an_address(address: IpAddr) -> String {
    match address {
        IpAddr::V4(address) => address.to_string(),
        IpAddr::V6(address) => format!("[{address}]"),
    }
}
