//! One open job: its session, who writes it, and what its screens show. All devices see the same.

mod answering;
mod desk;
mod live;
mod look;
mod photo;
mod source;
mod tools;
mod writer;

use crate::bay::{Bay, held};
use crate::device::Device;
pub(crate) use answering::Said;
use desk::Desk;
pub(crate) use desk::Showing;
use dwell_run::Session;
use dwell_store::{JobNumber, Records, Writing};
use dwell_tools::Register;
pub(crate) use live::{Line, Live};
pub(crate) use look::Look;
use std::sync::Mutex;
use tokio::sync::watch;
pub(crate) use tools::ToolAsked;
pub use tools::{counts, noted};
pub(crate) use writer::Holder;
use writer::Writer;

/// One open job.
pub(crate) struct Job {
    number: JobNumber,
    inside: Mutex<Inside>,
    /// The moment, told to all who watch whenever it changes.
    turned: watch::Sender<String>,
    /// What an instrument sends just now.
    live: watch::Sender<Option<Live>>,
}

struct Inside {
    session: Session,
    writer: Option<Writer>,
    /// Who has it open outside of this server, at a terminal.
    outside: Option<String>,
    desk: Desk,
    samples: live::Samples,
    source: source::Source,
}

impl Job {
    /// A job that was just begun by a device, which writes it.
    pub(crate) fn begun(session: Session, writing: Writing, device: Device, tools: Option<&Register>) -> Job {
        let number = writing.job();
        let mut desk = Desk::first(&session);
        desk.tools = tools::asked(&session, tools);
        Job::with(number, session, Some(Writer { device, writing }), desk, tools)
    }

    /// A job that is only looked at.
    pub(crate) fn looked_at(number: JobNumber, session: Session, tools: Option<&Register>) -> Job {
        Job::with(number, session, None, Desk::default(), tools)
    }

    fn with(
        number: JobNumber,
        session: Session,
        writer: Option<Writer>,
        desk: Desk,
        tools: Option<&Register>,
    ) -> Job {
        let moment = desk.moment(&session);
        let (samples, source) = (live::Samples::default(), source::Source::new(tools));
        let inside = Inside { session, writer, outside: None, desk, samples, source };
        let (turned, live) = (watch::Sender::new(moment), watch::Sender::new(None));
        Job { number, inside: Mutex::new(inside), turned, live }
    }

    /// Its number.
    pub(crate) fn number(&self) -> JobNumber {
        self.number
    }

    /// The moment, now and whenever it changes.
    pub(crate) fn turned(&self) -> watch::Receiver<String> {
        self.turned.subscribe()
    }

    /// What an instrument sends, now and whenever it sends.
    pub(crate) fn live(&self) -> watch::Receiver<Option<Live>> {
        self.live.subscribe()
    }

    /// Whether somebody writes it or sees it.
    pub(crate) fn is_needed(&self) -> bool {
        self.turned.receiver_count() > 0 || held(&self.inside).writer.is_some()
    }

    /// Tells all who watch that something is otherwise.
    fn tell(&self, inside: &Inside) {
        let moment = inside.desk.moment(&inside.session);
        self.turned.send_if_modified(|known| {
            let changed = *known != moment;
            *known = moment;
            changed
        });
    }

    /// Gives up the right to write.
    pub(crate) fn let_go(&self, bay: &Bay) {
        if let Some(writer) = held(&self.inside).writer.take() {
            // It could not be given up: then the next one takes it over, and the record says so.
            let _ = bay.store().let_go(writer.writing);
        }
    }
}
