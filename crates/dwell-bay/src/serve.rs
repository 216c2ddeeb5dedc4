//! The server: it serves behind its door, and ends when it is told to, after what was begun is done.

use crate::access::Door;
use crate::bay::Bay;
use crate::routes::router;
use std::io;
use std::time::Duration;
use tokio::runtime::Builder;
use tokio::time::MissedTickBehavior;

/// Threads for what reads or writes a disk. All share one file with records: more of them would only wait there, and take memory.
const WRITERS: usize = 16;

/// How often it is looked at what the instruments of the workshop give.
const LOOK: Duration = Duration::from_millis(200);

/// Serves a bay behind its door until Ctrl-C.
///
/// # Errors
/// What the system says where the address cannot be served.
pub fn serve(bay: Bay, door: Door) -> io::Result<()> {
    Builder::new_multi_thread().max_blocking_threads(WRITERS).enable_all().build()?.block_on(async move {
        let asked = bay.has_instruments().then(|| tokio::spawn(instruments(bay.clone())));
        let served = door.serve(router(bay.clone()), told_to_end()).await;
        if let Some(asked) = asked {
            asked.abort();
        }
        let _ = tokio::task::spawn_blocking(move || bay.let_go()).await;
        served
    })
}

/// Looks again and again at what the instruments of the workshop give. They are asked on threads of their own.
async fn instruments(bay: Bay) {
    let mut looks = tokio::time::interval(LOOK);
    looks.set_missed_tick_behavior(MissedTickBehavior::Delay);
    loop {
        looks.tick().await;
        let bay = bay.clone();
        let _ = tokio::task::spawn_blocking(move || bay.look_at_instruments()).await;
    }
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
