//! What this machine is called on the network: its name and its addresses.

use std::collections::BTreeSet;
use std::net::{IpAddr, Ipv4Addr, UdpSocket};

/// The names and addresses by which other devices reach this machine.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Machine {
    /// Its name, where it has one that can stand in an address.
    pub name: Option<String>,
    /// Its addresses, the likeliest first.
    pub addresses: Vec<IpAddr>,
}

impl Machine {
    /// As the system says now. Only one address where only that one is served.
    pub fn known(only: Option<IpAddr>) -> Machine {
        let name = gethostname::gethostname().to_string_lossy().to_ascii_lowercase();
        let addresses = match only.filter(|address| !address.is_unspecified()) {
            Some(address) => vec![address],
            None => all_addresses(),
        };
        Machine { name: fit(&name).then_some(name), addresses }
    }

    /// All names by which it may be called: its own, and the one that it has in a network without a name server (RFC 6762).
    pub(crate) fn names(&self) -> BTreeSet<String> {
        let mut names = BTreeSet::from(["localhost".to_owned()]);
        if let Some(name) = &self.name {
            names.insert(name.clone());
            if !name.contains('.') {
                names.insert(format!("{name}.local"));
            }
        }
        names
    }
}

/// Whether a name can stand in an address and in a certificate (RFC 1123, section 2.1).
pub(crate) fn fit(name: &str) -> bool {
    let label = |label: &str| {
        let plain = label.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-');
        plain && (1..=63).contains(&label.len()) && !label.starts_with('-') && !label.ends_with('-')
    };
    name.len() <= 253 && name.split('.').all(label)
}

/// IPv4 addresses of this machine that others can reach. The one by which it reaches other networks comes first.
fn all_addresses() -> Vec<IpAddr> {
    let mut found = Vec::new();
    let mut take = |address: IpAddr| {
        let usable = matches!(address, IpAddr::V4(four) if !four.is_loopback() && !four.is_link_local() && !four.is_unspecified());
        if usable && !found.contains(&address) {
            found.push(address);
        }
    };
    outward().into_iter().for_each(&mut take);
    if_addrs::get_if_addrs().unwrap_or_default().iter().map(if_addrs::Interface::ip).for_each(take);
    found
}

/// The address that the system would take on its way out. Nothing is sent: to connect such a socket only asks the routes.
fn outward() -> Option<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    // An address of RFC 5737, which is nobody's.
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9)).ok()?;
    socket.local_addr().ok().map(|local| local.ip())
}
