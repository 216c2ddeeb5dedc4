//! Connections: taken one by one, as many as there may be, spoken to over TLS where others can hear, and ended in time.

use super::certificate::Certificate;
use super::guard::Peer;
use axum::Router;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::Service;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use std::collections::HashMap;
use std::future::Future;
use std::io;
use std::net::IpAddr;
use std::pin::pin;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use tokio::io::{AsyncRead, AsyncReadExt, AsyncWrite, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{Semaphore, watch};
use tokio::task::JoinSet;
use tokio::time::{sleep, timeout};
use tokio_rustls::TlsAcceptor;
use tokio_rustls::rustls::{self, ServerConfig};

/// The most connections at once.
const MOST: usize = 1024;
/// The most from one address over the network; a tablet has one or two.
const MOST_FROM_ONE: usize = 32;
/// How long a device may take to agree on a key.
const HANDSHAKE: Duration = Duration::from_secs(10);
/// How long a device may take to say what it wants, and how long a connection stays on which nothing is asked.
const HEAD: Duration = Duration::from_secs(15);
/// The longest head of a request, in bytes.
const HEAD_BYTES: usize = 32 * 1024;
/// How long connections have to end when the server ends.
const PARTING: Duration = Duration::from_secs(2);

/// TLS with this certificate.
///
/// # Errors
/// What is wrong with the certificate or its key.
pub(crate) fn tls(certificate: &Certificate) -> Result<TlsAcceptor, rustls::Error> {
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let mut config = ServerConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()?
        .with_no_client_auth()
        .with_single_cert(vec![certificate.der.clone()], certificate.key.clone_key())?;
    config.alpn_protocols = vec![b"http/1.1".to_vec()];
    Ok(TlsAcceptor::from(Arc::new(config)))
}

/// Serves until it is told to stop; then those who are being answered are answered, within two seconds.
pub(crate) async fn serve(
    listener: TcpListener,
    tls: Option<TlsAcceptor>,
    app: Router,
    stop: impl Future<Output = ()>,
) {
    let room = Arc::new(Semaphore::new(MOST));
    let counts = Arc::new(Counts::default());
    let (ending, end) = watch::channel(());
    let mut connections = JoinSet::new();
    let mut stop = pin!(stop);
    loop {
        let taken = tokio::select! {
            () = &mut stop => break,
            Some(_) = connections.join_next(), if !connections.is_empty() => continue,
            taken = listener.accept() => taken,
        };
        let (stream, from) = match taken {
            Ok(taken) => taken,
            Err(error) if of_one_connection(&error) => continue,
            // The system has no room for another one just now.
            Err(_) => {
                sleep(Duration::from_millis(200)).await;
                continue;
            }
        };
        let (Ok(place), Ok(local)) = (room.clone().try_acquire_owned(), stream.local_addr()) else {
            continue;
        };
        // Behind the address of this machine itself there may be any number of its own browsers and programs.
        let counted = counts.one_more(from.ip().to_canonical());
        let Some(counted) = counted else { continue };
        let (tls, app, end) = (tls.clone(), app.clone(), end.clone());
        connections.spawn(async move {
            let _held = (place, counted);
            let _ = stream.set_nodelay(true);
            let peer = Peer { from, local };
            match tls {
                None => answered(stream, peer, app, end).await,
                Some(tls) => {
                    let agreed = timeout(HANDSHAKE, agreed(stream, &tls)).await;
                    if let Ok(Some(stream)) = agreed {
                        answered(stream, peer, app, end).await;
                    }
                }
            }
        });
    }
    drop(listener);
    drop(ending);
    let _ = timeout(PARTING, async { while connections.join_next().await.is_some() {} }).await;
    connections.abort_all();
}

/// Agrees on a key. Whoever speaks plainly is told how to come in, and nothing else.
async fn agreed(
    mut stream: TcpStream,
    tls: &TlsAcceptor,
) -> Option<tokio_rustls::server::TlsStream<TcpStream>> {
    let mut first = [0];
    // The first byte of a TLS handshake record (RFC 8446, section 5.1).
    if stream.peek(&mut first).await.ok()? == 1 && first != [22] {
        const PLAIN: &str = "HTTP/1.1 400 Bad Request\r\nContent-Type: text/plain; charset=utf-8\r\nContent-Length: 78\r\n\
                             Cache-Control: no-store\r\nX-Content-Type-Options: nosniff\r\nConnection: close\r\n\r\n\
                             This page is spoken to over TLS only: begin its address with https:// please.\n";
        // What was sent is taken first: where some of it is left, the answer would be lost as the connection is cut.
        let mut asked = [0; 4096];
        let _ = stream.read(&mut asked).await;
        let _ = stream.write_all(PLAIN.as_bytes()).await;
        let _ = stream.shutdown().await;
        return None;
    }
    tls.accept(stream).await.ok()
}

async fn answered<S>(stream: S, peer: Peer, app: Router, mut end: watch::Receiver<()>)
where
    S: AsyncRead + AsyncWrite + Unpin + Send + 'static,
{
    let inside = Known { inside: TowerToHyperService::new(app), peer };
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD)
        .max_buf_size(HEAD_BYTES)
        .serve_connection(TokioIo::new(stream), inside)
        .with_upgrades();
    let mut connection = pin!(connection);
    tokio::select! {
        _ = connection.as_mut() => return,
        _ = end.changed() => {}
    }
    connection.as_mut().graceful_shutdown();
    let _ = connection.await;
}

/// Puts beside each request where it came from.
struct Known {
    inside: TowerToHyperService<Router>,
    peer: Peer,
}

impl Service<hyper::Request<Incoming>> for Known {
    type Response = axum::response::Response;
    type Error = std::convert::Infallible;
    type Future = <TowerToHyperService<Router> as Service<hyper::Request<Incoming>>>::Future;

    fn call(&self, mut request: hyper::Request<Incoming>) -> Self::Future {
        request.extensions_mut().insert(self.peer);
        self.inside.call(request)
    }
}

/// How many connections there are from each address.
#[derive(Default)]
struct Counts(Mutex<HashMap<IpAddr, usize>>);

/// One connection of an address, counted as long as this lives.
struct Counted {
    counts: Arc<Counts>,
    from: IpAddr,
}

impl Counts {
    fn one_more(self: &Arc<Counts>, from: IpAddr) -> Option<Counted> {
        let mut counts = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let count = counts.entry(from).or_default();
        if *count >= MOST_FROM_ONE && !from.is_loopback() {
            return None;
        }
        *count += 1;
        Some(Counted { counts: self.clone(), from })
    }
}

impl Drop for Counted {
    fn drop(&mut self) {
        let mut counts = self.counts.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(count) = counts.get_mut(&self.from) {
            *count = count.saturating_sub(1);
            if *count == 0 {
                counts.remove(&self.from);
            }
        }
    }
}

/// Whether only the connection failed that was about to be taken.
fn of_one_connection(error: &io::Error) -> bool {
    matches!(
        error.kind(),
        io::ErrorKind::ConnectionRefused | io::ErrorKind::ConnectionAborted | io::ErrorKind::ConnectionReset
    )
}
