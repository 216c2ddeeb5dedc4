//! The built program as it serves a bay, and devices that speak to it, over TLS where it does.

use crate::program::bench::Bench;
use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
use rustls::crypto::{CryptoProvider, ring, verify_tls12_signature, verify_tls13_signature};
use rustls::pki_types::{CertificateDer, ServerName, UnixTime};
use rustls::{ClientConfig, ClientConnection, DigitallySignedStruct, Error, SignatureScheme, StreamOwned};
use sha2::{Digest, Sha256};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// A running bay. It is killed when this is dropped.
pub(crate) struct Server {
    pub(crate) child: Child,
    pub(crate) at: SocketAddr,
    pub(crate) lan: bool,
    /// What it printed until it was ready, and what it said later.
    pub(crate) said: Arc<Mutex<String>>,
    pub(crate) store: String,
}

/// What came back.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) status: u16,
    /// The lines of the head, in small letters up to the colon.
    pub(crate) head: String,
    pub(crate) body: String,
}

impl Answer {
    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(": "))
    }
}

/// Starts the program in the bench's folder with these arguments behind `bay`, on a port that is free.
pub(crate) fn serve(bench: &Bench, store: &str, arguments: &[&str]) -> Server {
    let mut all = vec!["bay", "--port", "0", "--store", store];
    all.extend(arguments);
    started(bench.command(&all), store).unwrap_or_else(|said| panic!("it ended: {said}"))
}

/// The same with a command that is made already; where it ends before it serves, what it said.
pub(crate) fn started(mut command: Command, store: &str) -> Result<Server, String> {
    let mut child =
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let said = Arc::new(Mutex::new(String::new()));
    for stream in [
        Box::new(child.stdout.take().unwrap()) as Box<dyn Read + Send>,
        Box::new(child.stderr.take().unwrap()),
    ] {
        let said = said.clone();
        std::thread::spawn(move || {
            for line in BufReader::new(stream).lines().map_while(Result::ok) {
                said.lock().unwrap().push_str(&format!("{line}\n"));
            }
        });
    }
    let begun = Instant::now();
    while !said.lock().unwrap().contains("Ctrl-C ends it") {
        let now = said.lock().unwrap().clone();
        assert!(begun.elapsed() < Duration::from_secs(60), "it does not begin: {now}");
        if child.try_wait().unwrap().is_some() {
            std::thread::sleep(Duration::from_millis(50));
            return Err(said.lock().unwrap().clone());
        }
        std::thread::sleep(Duration::from_millis(20));
    }
    let now = said.lock().unwrap().clone();
    let lan = now.contains("https://");
    let port = now.split("://").skip(1).find_map(|rest| {
        let place = rest.split(['/', '\n']).next()?;
        place.rsplit_once(':')?.1.parse::<u16>().ok()
    });
    let at = SocketAddr::from(([127, 0, 0, 1], port.unwrap_or_else(|| panic!("no port: {now}"))));
    Ok(Server { child, at, lan, said, store: store.to_owned() })
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Server {
    /// What it printed behind this word, up to the next blank.
    pub(crate) fn shown(&self, word: &str) -> String {
        let said = self.said.lock().unwrap().clone();
        let (_, rest) = said.rsplit_once(word).unwrap_or_else(|| panic!("`{word}` is not there: {said}"));
        rest.split_whitespace().next().unwrap_or_default().to_owned()
    }

    /// The fingerprint that it showed: 64 small digits.
    pub(crate) fn fingerprint(&self) -> String {
        let halves = self.shown("fingerprint  ") + &self.shown("(SHA-256)    ");
        halves.replace(':', "").to_ascii_lowercase()
    }

    pub(crate) fn origin(&self) -> String {
        format!("{}://{}", if self.lan { "https" } else { "http" }, self.at)
    }

    /// One connection, as it is spoken to here.
    pub(crate) fn connect(&self) -> Box<dyn Wire> {
        let stream = TcpStream::connect(self.at).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(40))).unwrap();
        if self.lan { Box::new(pinned(stream, &self.fingerprint()).unwrap()) } else { Box::new(stream) }
    }

    /// Sends this and reads until the connection is closed.
    pub(crate) fn raw(&self, request: &str) -> Answer {
        let mut wire = self.connect();
        // The server may answer and close before all was sent.
        let _ = wire.write_all(request.as_bytes());
        let _ = wire.flush();
        read(&mut *wire)
    }

    /// One request with these lines in its head; `Host` and the end are added.
    pub(crate) fn ask(&self, method: &str, path: &str, lines: &[&str], body: &str) -> Answer {
        let mut head = format!("{method} {path} HTTP/1.1\r\nConnection: close\r\n");
        if !lines.iter().any(|line| line.starts_with("Host:")) {
            head.push_str(&format!("Host: {}\r\n", self.at));
        }
        for line in lines {
            head.push_str(&format!("{line}\r\n"));
        }
        if !body.is_empty() || method != "GET" {
            head.push_str(&format!("Content-Length: {}\r\n", body.len()));
        }
        if !body.is_empty() && !lines.iter().any(|line| line.starts_with("Content-Type:")) {
            head.push_str("Content-Type: application/x-www-form-urlencoded\r\n");
        }
        self.raw(&format!("{head}\r\n{body}"))
    }

    /// Lets a device in, in the way that is meant, and gives the line that it sends from then on.
    pub(crate) fn let_in(&self, name: &str) -> String {
        let answer = if self.lan {
            let form =
                format!("code={}&name={}&person=Ines", self.shown("code         "), name.replace(' ', "+"));
            self.ask("POST", "/pair", &[&format!("Origin: {}", self.origin())], &form)
        } else {
            self.ask("GET", &format!("/enter?key={}", self.shown("enter?key=")), &[], "")
        };
        assert_eq!((answer.status, answer.header("location")), (303, Some("/")), "{answer:?}");
        format!("Cookie: {}", answer.header("set-cookie").unwrap().split(';').next().unwrap())
    }
}

/// A connection, plain or over TLS.
pub(crate) trait Wire: Read + Write + Send {}
impl<S: Read + Write + Send> Wire for S {}

pub(crate) fn read(wire: &mut dyn Wire) -> Answer {
    let mut all = Vec::new();
    // A connection that is cut without a farewell has still said what it said.
    let _ = wire.read_to_end(&mut all);
    let text = String::from_utf8_lossy(&all).into_owned();
    let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
    let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).unwrap_or_default();
    Answer { status, head: head.replace("\r\n", "\n"), body: body.to_owned() }
}

/// TLS that trusts nothing but the certificate with this fingerprint, as a program does that has scanned the code.
pub(crate) fn pinned(
    stream: TcpStream,
    fingerprint: &str,
) -> std::io::Result<StreamOwned<ClientConnection, TcpStream>> {
    let provider = Arc::new(ring::default_provider());
    let verifier = Pinned { fingerprint: fingerprint.to_owned(), provider: provider.clone() };
    let config = ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .unwrap()
        .dangerous()
        .with_custom_certificate_verifier(Arc::new(verifier))
        .with_no_client_auth();
    let name = ServerName::try_from("localhost").unwrap();
    let mut stream = StreamOwned::new(ClientConnection::new(Arc::new(config), name).unwrap(), stream);
    stream.conn.complete_io(&mut stream.sock)?;
    Ok(stream)
}

#[derive(Debug)]
struct Pinned {
    fingerprint: String,
    provider: Arc<CryptoProvider>,
}

impl ServerCertVerifier for Pinned {
    fn verify_server_cert(
        &self,
        shown: &CertificateDer<'_>,
        _: &[CertificateDer<'_>],
        _: &ServerName<'_>,
        _: &[u8],
        _: UnixTime,
    ) -> Result<ServerCertVerified, Error> {
        let digits: String = Sha256::digest(shown).iter().map(|byte| format!("{byte:02x}")).collect();
        if digits == self.fingerprint {
            Ok(ServerCertVerified::assertion())
        } else {
            Err(Error::General(format!("another certificate: {digits}")))
        }
    }

    fn verify_tls12_signature(
        &self,
        message: &[u8],
        certificate: &CertificateDer<'_>,
        signed: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        verify_tls12_signature(message, certificate, signed, &self.provider.signature_verification_algorithms)
    }

    fn verify_tls13_signature(
        &self,
        message: &[u8],
        certificate: &CertificateDer<'_>,
        signed: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        verify_tls13_signature(message, certificate, signed, &self.provider.signature_verification_algorithms)
    }

    fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
        self.provider.signature_verification_algorithms.supported_schemes()
    }
}
