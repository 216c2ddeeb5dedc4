//! The Language Server Protocol: pipes, messages, what is open, who waits for what.

mod abilities;
mod actions;
mod addresses;
mod beside;
mod disk;
mod document;
mod editor;
mod edits;
mod findings;
mod frames;
mod further;
mod guard;
mod late;
mod names;
mod outgoing;
mod pages;
mod positions;
mod queue;
mod service;
mod settings;
mod shapes;
mod typing;
mod worker;

use crate::ide::Shelf;
use disk::RealDisk;
use outgoing::Outgoing;
use queue::Queue;
use service::Service;
use std::io;
use std::sync::Arc;
use std::time::Duration;
use tokio::io::{AsyncRead, AsyncWrite, BufReader, duplex};
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender, unbounded_channel};
use tokio::sync::watch;
use tower_lsp::{LspService, Server};
use worker::{Event, Worker};

/// How many bytes wait in a pipe within the process.
const PIPE: usize = 1 << 20;
/// How long what is in hand may still take when the session ends.
const LAST: Duration = Duration::from_millis(400);
/// How many questions are in hand at once.
const AT_ONCE: usize = 64;

/// Serves an editor over the standard input and output until it ends the session; gives the exit status for the process.
///
/// # Errors
/// Where the machine has no thread left.
pub fn serve() -> io::Result<u8> {
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
    let code = runtime.block_on(serve_on(tokio::io::stdin(), tokio::io::stdout()));
    // A read of the standard input that nobody answers any more must not keep the process.
    runtime.shutdown_background();
    Ok(code)
}

/// The same over any pipes.
pub async fn serve_on(
    input: impl AsyncRead + Unpin + Send + 'static,
    output: impl AsyncWrite + Unpin + Send + 'static,
) -> u8 {
    let (to_server, server_input) = duplex(PIPE);
    let (server_output, from_server) = duplex(PIPE);
    let (answers, answered) = unbounded_channel();
    let (named, editor) = watch::channel(None);
    let (events, received) = unbounded_channel();
    let stop = events.clone();
    let (service, socket) = LspService::new(|client| {
        begin(Outgoing::to(client.clone()), events.clone(), received);
        Service::new(events, client)
    });
    let server = Server::new(server_input, server_output, socket).concurrency_level(AT_ONCE).serve(service);
    let server = tokio::spawn(server);
    let writing = tokio::spawn(outgoing(from_server, answered, output));
    let code = tokio::select! {
        code = guard::incoming(BufReader::new(input), to_server, answers, named) => code,
        () = guard::editor_gone(editor) => 1,
    };
    // What was asked before the end is still answered, if that does not take long.
    let _ = tokio::time::timeout(LAST, server).await;
    let _ = tokio::time::timeout(LAST, writing).await;
    let _ = stop.send(Event::Stop);
    code
}

/// Starts the worker and those who check for it.
fn begin(outgoing: Outgoing, events: UnboundedSender<Event>, received: UnboundedReceiver<Event>) {
    let shelf = Shelf::new(Arc::new(RealDisk));
    let queue = Queue::new(shelf.clone());
    for behind in [false, true] {
        let (queue, events) = (queue.clone(), events.clone());
        std::thread::spawn(move || {
            queue.work(behind, |outcome| drop(events.send(Event::Checked(outcome))));
        });
    }
    let worker = Worker::new(shelf, queue, outgoing, events);
    std::thread::spawn(move || worker.run(received));
}

/// Writes what the server says and what the guard answers, frame by frame, so that neither stands within the other.
async fn outgoing(
    server: impl AsyncRead + Unpin,
    mut answered: UnboundedReceiver<Vec<u8>>,
    mut output: impl AsyncWrite + Unpin,
) {
    let mut server = BufReader::new(server);
    loop {
        // A frame that is half read must be read on, so the other branch only ever begins anew.
        let mut frame = std::pin::pin!(frames::read(&mut server));
        let read = loop {
            tokio::select! {
                read = &mut frame => break read,
                Some(answer) = answered.recv() => {
                    if frames::write(&mut output, &answer).await.is_err() {
                        return;
                    }
                }
            }
        };
        match read {
            Ok(Some(body)) if frames::write(&mut output, &body).await.is_ok() => {}
            _ => return,
        }
    }
}
