//! The Language Server Protocol: pipes, messages, what is open, who waits for what.

mod abilities;
mod actions;
mod addresses;
mod answers;
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
mod page;
mod pages;
mod positions;
mod queue;
mod service;
mod settings;
mod shapes;
mod state;
mod typing;
mod worker;

use crate::ide::{Shelf, View};
use answers::Answers;
use disk::RealDisk;
use outgoing::Outgoing;
use queue::Queue;
use service::Service;
use state::State;
use std::io;
use std::num::NonZero;
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
    let (service, socket) = LspService::build(|client| {
        begin(Outgoing::to(client.clone()), events.clone(), received);
        Service::new(events, client)
    })
    .custom_method(page::METHOD, Service::page)
    .finish();
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

/// Starts the worker, and those who check and answer for it: one that only checks what is open, so that it never waits for a
/// file that is not; the others check those too.
fn begin(outgoing: Outgoing, events: UnboundedSender<Event>, received: UnboundedReceiver<Event>) {
    let cores = std::thread::available_parallelism().map_or(1, NonZero::get);
    let state = State::new(Arc::new(RealDisk::default()));
    let queue = Queue::new(state.shelf.clone());
    for number in 0..cores.max(2) {
        let (queue, events) = (queue.clone(), events.clone());
        let behind = number > 0;
        std::thread::spawn(move || {
            // Each has threads of its own for the parts of one check, itself among them, so that none waits for the parts of
            // another.
            let threads = if behind { 1 } else { cores };
            let threads =
                rayon::ThreadPoolBuilder::new().num_threads(threads).use_current_thread().build().ok();
            let check = |key: &str, shelf: &Shelf, wanted: &(dyn Fn() -> bool + Sync)| {
                let check = || View::while_wanted(key, shelf, wanted);
                threads.as_ref().map_or_else(check, |threads| threads.install(check))
            };
            queue.work(behind, check, |outcome| drop(events.send(Event::Checked(outcome))));
        });
    }
    let log = outgoing.clone();
    let answers = Answers::begin(2, move || log.fault());
    let worker = Worker::new(state, queue, answers, outgoing, events);
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
