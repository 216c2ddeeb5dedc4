//! `dwell bay pair`, `devices`, `certificate`: who may come in, as whoever sits at this machine sees and decides it.

use crate::commands::kept::{Kept, moment};
use crate::drawing::visible;
use crate::exit::Exit;
use crate::screen::{Ink, Screen, wrapped};
use anyhow::{Context, bail};
use clap::{Args, Subcommand};
use dwell_bay::access::{Certificate, Devices, Folder, Invitation, Known, Machine, Picture, Sort};
use std::io::IsTerminal;
use std::net::{TcpStream, ToSocketAddrs};
use std::time::Duration;
use time::OffsetDateTime;
use time::format_description::well_known::Rfc3339;

/// What is decided at the door.
#[derive(Debug, Subcommand)]
pub(super) enum Door {
    Pair(Pair),
    #[command(subcommand)]
    Devices(OfDevices),
    #[command(subcommand)]
    Certificate(OfCertificate),
}

/// Show a new code, with which one tablet or phone is let in.
///
/// The bay has to be running with `--lan`, in another window. A code from before no longer counts.
#[derive(Debug, Args)]
pub(super) struct Pair {
    #[command(flatten)]
    kept: Kept,
}

/// See who may come in, let a program in, shut a device out.
#[derive(Debug, Subcommand)]
pub(super) enum OfDevices {
    /// List the devices that may come in
    List {
        #[command(flatten)]
        kept: Kept,
    },
    /// Let a program in, such as one that streams readings: its token is shown once
    Add {
        /// The name by which others see it
        #[arg(value_name = "NAME")]
        name: String,
        #[command(flatten)]
        kept: Kept,
    },
    /// Shut a device out; a running bay cuts it off within a second
    Revoke {
        /// Its number, or its name
        #[arg(value_name = "DEVICE")]
        device: String,
        #[command(flatten)]
        kept: Kept,
    },
}

/// See the certificate of this machine, or make a new one.
#[derive(Debug, Subcommand)]
pub(super) enum OfCertificate {
    /// Show its fingerprint and until when it holds
    Show {
        #[command(flatten)]
        kept: Kept,
    },
    /// Make a new one with a new key: every tablet warns once more
    Renew {
        #[command(flatten)]
        kept: Kept,
    },
}

impl Door {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        match self {
            Door::Pair(Pair { kept }) => pair(&kept, screen),
            Door::Devices(OfDevices::List { kept }) => list(&kept, screen),
            Door::Devices(OfDevices::Add { name, kept }) => add(&name, &kept, screen),
            Door::Devices(OfDevices::Revoke { device, kept }) => revoke(&device, &kept, screen),
            Door::Certificate(OfCertificate::Show { kept }) => show(&kept, screen),
            Door::Certificate(OfCertificate::Renew { kept }) => renew(&kept, screen),
        }
    }
}

/// The door's folder beside records that are there. Nothing is made beside records that are not.
fn folder(kept: &Kept) -> anyhow::Result<Folder> {
    let path = kept.path()?;
    if !path.exists() {
        bail!(
            "there are no records {}\n  help: `dwell bay FOLDER --lan` makes them; `--store FILE` names others",
            path.display()
        );
    }
    Ok(Folder::beside(&path)?)
}

fn pair(kept: &Kept, screen: &mut Screen) -> anyhow::Result<Exit> {
    let mut devices = Devices::open(&folder(kept)?)?;
    let start = format!("start it with `dwell bay FOLDER --lan{}`", kept.typed());
    let Some(invitation) = devices.invite(OffsetDateTime::now_utc())? else {
        bail!("no bay was ever open to the network with these records\n  help: {start}");
    };
    if !invitation.addresses.iter().any(|address| answers(address)) {
        bail!("no bay answers at {}\n  help: {start}", invitation.addresses.join(" or "));
    }
    invite(&invitation, screen)?;
    Ok(Exit::Well)
}

/// Whether anything listens there.
fn answers(address: &str) -> bool {
    let place = address.trim_start_matches("https://");
    let place = if place.rsplit_once(':').is_some_and(|(_, port)| port.parse::<u16>().is_ok()) {
        place.to_owned()
    } else {
        format!("{place}:443")
    };
    let mut all = place.to_socket_addrs().into_iter().flatten();
    all.any(|at| TcpStream::connect_timeout(&at, Duration::from_secs(1)).is_ok())
}

/// Shows how one device is let in.
pub(super) fn invite(invitation: &Invitation, screen: &mut Screen) -> anyhow::Result<()> {
    let picture = match screen.style {
        _ if !std::io::stdout().is_terminal() => None,
        style if style.ascii => Some(Picture::Ascii),
        style if style.colour => Some(Picture::Coloured),
        _ => Some(Picture::Blocks),
    };
    for line in invitation.lines(picture) {
        screen.line(&line)?;
    }
    screen.line("")?;
    screen.flush()?;
    Ok(())
}

fn list(kept: &Kept, screen: &mut Screen) -> anyhow::Result<Exit> {
    let all = Devices::open(&folder(kept)?)?.all(OffsetDateTime::now_utc())?;
    for known in &all {
        one(known, screen)?;
    }
    screen.line(&match all.len() {
        1 => "1 device may come in".to_owned(),
        count => format!("{count} devices may come in"),
    })?;
    Ok(Exit::Well)
}

/// `  3  tablet lift 2, Ines` and, below it, how it came in and when it was last there.
fn one(known: &Known, screen: &mut Screen) -> anyhow::Result<()> {
    let person = known.person.iter().map(|person| format!(", {person}")).collect::<String>();
    screen.line(&format!("{:>4}  {}", known.number, visible(&format!("{}{person}", known.name))))?;
    let how = match known.sort {
        Sort::Paired => "let in with a code",
        Sort::Here => "a browser of this machine, let in",
        Sort::Program => "a program, let in",
    };
    let words = format!("{how} at {}, last here at about {}", at(known.since), at(known.last));
    for line in wrapped("      ", 6, &words) {
        screen.line(&screen.style.ink(Ink::Faint, &line))?;
    }
    Ok(())
}

fn add(name: &str, kept: &Kept, screen: &mut Screen) -> anyhow::Result<Exit> {
    let mut devices = Devices::open(&folder(kept)?)?;
    let (known, token) = devices.let_in(Sort::Program, name, None, OffsetDateTime::now_utc())?;
    screen.line(token.shown())?;
    crate::say(&format!(
        "{} may come in now, as device {}, when it sends this line with each request:\n  Authorization: Bearer TOKEN\nThe \
         token above is shown this once and kept nowhere.",
        visible(&known.name),
        known.number
    ));
    Ok(Exit::Well)
}

fn revoke(device: &str, kept: &Kept, screen: &mut Screen) -> anyhow::Result<Exit> {
    let out = Devices::open(&folder(kept)?)?.shut_out(device, OffsetDateTime::now_utc())?;
    for known in &out {
        screen.line(&format!("{} (device {}) may no longer come in", visible(&known.name), known.number))?;
    }
    Ok(Exit::Well)
}

fn show(kept: &Kept, screen: &mut Screen) -> anyhow::Result<Exit> {
    let Some(certificate) = Certificate::found(&folder(kept)?)? else {
        bail!("there is no certificate yet\n  help: `dwell bay FOLDER --lan{}` makes one", kept.typed());
    };
    told(&certificate, screen)
}

fn renew(kept: &Kept, screen: &mut Screen) -> anyhow::Result<Exit> {
    let certificate = Certificate::made(&folder(kept)?, &Machine::known(None), OffsetDateTime::now_utc())?;
    told(&certificate, screen)?;
    screen
        .line("A bay that is running takes it when it is started again. Each tablet warns once more then.")?;
    Ok(Exit::Well)
}

fn told(certificate: &Certificate, screen: &mut Screen) -> anyhow::Result<Exit> {
    let whole = certificate.fingerprint();
    let (first, second) = whole.split_at_checked(48).unwrap_or((&whole, ""));
    screen.line(&format!("fingerprint (SHA-256)  {first}"))?;
    screen.line(&format!("                       {second}"))?;
    match certificate.until {
        Some(until) => screen.line(&format!("holds until            {}", at(until)))?,
        None => screen.line("it was put there by somebody, and is not made anew by itself")?,
    }
    if !certificate.names.is_empty() {
        for line in wrapped("made for               ", 23, &certificate.names.join(", ")) {
            screen.line(&line)?;
        }
    }
    Ok(Exit::Well)
}

fn at(when: OffsetDateTime) -> String {
    when.format(&Rfc3339)
        .map(|text| moment(&text))
        .context("a time that cannot be written")
        .unwrap_or_default()
}
