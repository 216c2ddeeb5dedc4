//! The server: it serves behind its door, and ends when it is told to, after what was begun is done.

use crate::access::Door;
use crate::bay::Bay;
use crate::routes::router;
use std::io;
use tokio::runtime::Builder;

/// Threads for what reads or writes a disk. All share one file with records: more of them would only wait there, and take memory.
const WRITERS: usize = 16;

/// Serves a bay behind its door until Ctrl-C.
///
/// # Errors
/// What the system says where the address cannot be served.
pub fn serve(bay: Bay, door: Door) -> io::Result<()> {
    Builder::new_multi_thread().max_blocking_threads(WRITERS).enable_all().build()?.block_on(async move {
        let served = door.serve(router(bay.clone()), told_to_end()).await;
        let _ = tokio::task::spawn_blocking(move || bay.let_go()).await;
        served
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
