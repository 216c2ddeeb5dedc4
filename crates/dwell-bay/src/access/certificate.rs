//! The certificate of the machine: made by itself, kept with its key, and made anew before it runs out.

use super::error::AccessError;
use super::folder::Folder;
use super::machine::Machine;
use super::secret::hex;
use rcgen::{CertificateParams, DnType, ExtendedKeyUsagePurpose, IsCa, KeyPair, KeyUsagePurpose};
use sha2::{Digest, Sha256};
use std::net::{IpAddr, Ipv4Addr};
use time::format_description::well_known::Rfc3339;
use time::{Duration, OffsetDateTime};
use tokio_rustls::rustls::pki_types::pem::PemObject;
use tokio_rustls::rustls::pki_types::{CertificateDer, PrivateKeyDer};

/// How long it holds: browsers refuse those of more than 398 days.
const HOLDS: Duration = Duration::days(397);
/// It is made anew when it would run out within this time.
const BEFORE: Duration = Duration::days(30);
/// Tablets whose clock is slow take it as well.
const EARLIER: Duration = Duration::days(1);

/// This machine as it calls itself.
const LOOP: IpAddr = IpAddr::V4(Ipv4Addr::LOCALHOST);

const KEY: &str = "key.pem";
const CERTIFICATE: &str = "certificate.pem";

/// A certificate with its key.
#[derive(Debug)]
pub struct Certificate {
    /// The certificate.
    pub(crate) der: CertificateDer<'static>,
    /// Its key.
    pub(crate) key: PrivateKeyDer<'static>,
    /// Until when it holds; nothing known of one that a house has put there itself.
    pub until: Option<OffsetDateTime>,
    /// The names and addresses that it was made for.
    pub names: Vec<String>,
}

/// What became of the certificate when the server was started.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept {
    /// It was there, and holds.
    AsItWas,
    /// There was none.
    MadeFirst,
    /// It would soon have run out, or has: there is a new one.
    Renewed,
}

impl Certificate {
    /// The certificate that lies in the folder; a new one where there is none or it runs out soon.
    ///
    /// # Errors
    /// [`AccessError::Certificate`] where what lies there cannot be read: it is not written over.
    pub fn kept(
        folder: &Folder,
        machine: &Machine,
        now: OffsetDateTime,
    ) -> Result<(Certificate, Kept), AccessError> {
        let how = match Certificate::found(folder)? {
            Some(found) if found.until.is_none_or(|until| until - now > BEFORE) => {
                return Ok((found, Kept::AsItWas));
            }
            Some(_) => Kept::Renewed,
            None => Kept::MadeFirst,
        };
        Ok((Certificate::made(folder, machine, now)?, how))
    }

    /// Makes a new one with a new key, and keeps it.
    ///
    /// # Errors
    /// [`AccessError`] where it cannot be made or written.
    pub fn made(folder: &Folder, machine: &Machine, now: OffsetDateTime) -> Result<Certificate, AccessError> {
        let said = |error: rcgen::Error| AccessError::certificate(&folder.file(CERTIFICATE), error);
        let mut names: Vec<String> = machine.names().into_iter().collect();
        for address in [&LOOP].into_iter().chain(&machine.addresses).map(ToString::to_string) {
            if !names.contains(&address) {
                names.push(address);
            }
        }
        let until = now + HOLDS;
        let mut asked = CertificateParams::new(names.clone()).map_err(said)?;
        asked.not_before = now - EARLIER;
        asked.not_after = until;
        asked.is_ca = IsCa::ExplicitNoCa;
        asked.key_usages = vec![KeyUsagePurpose::DigitalSignature];
        asked.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
        let shown = format!("Dwell bay on {}", machine.name.as_deref().unwrap_or("this machine"));
        asked.distinguished_name.push(DnType::CommonName, shown);
        let key = KeyPair::generate().map_err(said)?;
        let certificate = asked.self_signed(&key).map_err(said)?;
        // The key first: a key without its certificate is made anew, a certificate without its key would be an error.
        folder.write(KEY, &key.serialize_pem())?;
        let end = until.format(&Rfc3339).unwrap_or_default();
        let text = format!("made for: {}\nuntil: {end}\n{}", names.join(" "), certificate.pem());
        folder.write(CERTIFICATE, &text)?;
        Certificate::found(folder)?
            .ok_or_else(|| AccessError::certificate(&folder.file(CERTIFICATE), "it is gone"))
    }

    /// The certificate that lies in the folder.
    ///
    /// # Errors
    /// [`AccessError::Certificate`] where it cannot be read.
    pub fn found(folder: &Folder) -> Result<Option<Certificate>, AccessError> {
        let (at, key_at) = (folder.file(CERTIFICATE), folder.file(KEY));
        let (Some(text), Some(key)) = (folder.read(CERTIFICATE)?, folder.read(KEY)?) else { return Ok(None) };
        folder.private(KEY)?;
        let der = CertificateDer::from_pem_slice(text.as_bytes())
            .map_err(|error| AccessError::certificate(&at, error))?;
        let key = PrivateKeyDer::from_pem_slice(key.as_bytes())
            .map_err(|error| AccessError::certificate(&key_at, error))?;
        // Lines before the first block are free text in such a file (RFC 7468, section 2).
        let noted = |word: &str| text.lines().find_map(|line| line.strip_prefix(word));
        let until = noted("until: ").and_then(|end| OffsetDateTime::parse(end, &Rfc3339).ok());
        let names = noted("made for: ").unwrap_or_default().split_whitespace().map(str::to_owned).collect();
        Ok(Some(Certificate { der, key, until, names }))
    }

    /// SHA-256 of the certificate, as browsers show it: `A1:B2:…`, 32 pairs of digits.
    pub fn fingerprint(&self) -> String {
        let digits = self.fingerprint_digits().to_ascii_uppercase();
        let pairs: Vec<&str> = (0..32).filter_map(|pair| digits.get(2 * pair..2 * pair + 2)).collect();
        pairs.join(":")
    }

    /// The same in 64 small digits, for programs.
    pub(crate) fn fingerprint_digits(&self) -> String {
        hex(&Sha256::digest(&self.der))
    }

    /// Addresses of the machine that it was not made for: a tablet that was told to trust it warns there.
    pub fn missing(&self, machine: &Machine) -> Vec<String> {
        let addresses = machine.addresses.iter().map(ToString::to_string);
        let all = addresses.filter(|address| !self.names.is_empty() && !self.names.contains(address));
        all.collect()
    }
}
