//! By which name the server was called: a page of elsewhere whose name was turned to this machine's address is not answered.
//!
//! A browser that is led astray so ("DNS rebinding") still says the foreign name in `Host`. An address in digits cannot be led
//! astray; it is taken where it is the one that was really called.

use axum::http::header::HOST;
use axum::http::{HeaderMap, Uri};
use std::collections::BTreeSet;
use std::net::{IpAddr, SocketAddr};

/// What the server answers to.
#[derive(Clone, Debug)]
pub(crate) struct Hosts {
    /// Names in small letters.
    pub(crate) names: BTreeSet<String>,
    /// The port that is meant where none is said.
    pub(crate) usual_port: u16,
}

impl Hosts {
    /// The name and port that a request calls, in the form in which a browser writes them in `Origin`; nothing where it is not
    /// meant for this server.
    pub(crate) fn called(&self, uri: &Uri, headers: &HeaderMap, local: SocketAddr) -> Option<String> {
        let mut said = headers.get_all(HOST).iter();
        let (host, None) = (said.next()?.to_str().ok()?, said.next()) else { return None };
        // A request may carry the whole address: both must say the same (RFC 9112, section 3.2.2).
        if uri.authority().is_some_and(|authority| !authority.as_str().eq_ignore_ascii_case(host)) {
            return None;
        }
        let (name, port) = self.parted(host)?;
        if port != local.port() {
            return None;
        }
        let ours = match name.trim_start_matches('[').trim_end_matches(']').parse::<IpAddr>() {
            Ok(address) => address.to_canonical() == local.ip().to_canonical(),
            Err(_) => self.names.contains(&name),
        };
        let shown_port = if port == self.usual_port { String::new() } else { format!(":{port}") };
        ours.then(|| format!("{name}{shown_port}"))
    }

    fn parted(&self, host: &str) -> Option<(String, u16)> {
        let end_of_address = host.rfind(']').unwrap_or(0);
        let (name, port) = match host.rsplit_once(':') {
            Some((name, port))
                if name.len() > end_of_address
                    || host.starts_with('[') && name.len() == end_of_address + 1 =>
            {
                let digits = !port.is_empty() && port.bytes().all(|byte| byte.is_ascii_digit());
                (name, digits.then(|| port.parse().ok())??)
            }
            _ => (host, self.usual_port),
        };
        let name = name.strip_suffix('.').unwrap_or(name);
        (!name.is_empty()).then(|| (name.to_ascii_lowercase(), port))
    }
}
