//! The server: it listens, and ends when it is told to, after what was begun is done.

use crate::access::guarded;
use crate::bay::Bay;
use crate::device::Device;
use crate::routes::router;
use std::io;
use std::net::SocketAddr;
use tokio::net::TcpListener;
use tokio::runtime::Builder;

/// Serves a bay until Ctrl-C. `own` is this machine with whoever sits at it; `ready` is told where it listens.
///
/// # Errors
/// What the system says where nothing can be listened at.
pub fn serve(bay: Bay, at: SocketAddr, own: Device, ready: impl FnOnce(SocketAddr)) -> io::Result<()> {
    Builder::new_multi_thread().enable_all().build()?.block_on(async move {
        let listener = TcpListener::bind(at).await?;
        ready(listener.local_addr()?);
        let inside = guarded(router(bay), own);
        axum::serve(listener, inside).with_graceful_shutdown(told_to_end()).await
    })
}

/// Ctrl-C, or `kill`.
async fn told_to_end() {
    let interrupted = async {
        let _ = tokio::signal::ctrl_c().await;
    };
    #[cfg(unix)]
    let ended = async {
        match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(mut signal) => {
                signal.recv().await;
            }
            Err(_) => std::future::pending().await,
        }
    };
    #[cfg(not(unix))]
    let ended = std::future::pending::<()>();
    tokio::select! {
        () = interrupted => {}
        () = ended => {}
    }
}
