//! Questions answered beside everything else, so that no answer, however long it takes, keeps a key waiting.

use super::document::Document;
use super::state::State;
use std::panic::{self, AssertUnwindSafe};
use std::sync::mpsc::{Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};

/// A question: what it is about, and what answers it.
pub(crate) struct Ask {
    /// The document; none for one about all of them.
    pub(crate) key: Option<String>,
    /// Whether it must wait until the newest text is checked.
    pub(crate) checked: bool,
    /// The answer; the sender within it is closed when nobody waits any more.
    pub(crate) answer: Answer,
}

/// What answers a question.
pub(crate) type Answer = Box<dyn FnOnce(Desk<'_>) + Send>;

/// What a question may look at.
#[derive(Clone, Copy)]
pub(crate) struct Desk<'a> {
    /// Everything.
    pub(crate) state: &'a State,
    /// The document, if it is open.
    pub(crate) document: Option<&'a Document>,
}

/// Those who answer.
pub(crate) struct Answers(Sender<(State, Ask)>);

impl Answers {
    /// Starts so many; `failed` is told where an answer could not be made, and the next one is made all the same.
    pub(crate) fn begin(many: usize, failed: impl Fn() + Clone + Send + 'static) -> Answers {
        let (sender, receiver) = channel();
        let receiver = Arc::new(Mutex::new(receiver));
        for _ in 0..many {
            let (receiver, failed) = (Arc::clone(&receiver), failed.clone());
            std::thread::spawn(move || {
                loop {
                    // Only the wait for the next question is one after the other.
                    let next = receiver.lock().unwrap_or_else(PoisonError::into_inner).recv();
                    let Ok((state, ask)) = next else { return };
                    if panic::catch_unwind(AssertUnwindSafe(|| answer(&state, ask))).is_err() {
                        failed();
                    }
                }
            });
        }
        Answers(sender)
    }

    /// Has a question answered from what is known now.
    pub(crate) fn put(&self, state: State, ask: Ask) {
        // They are there as long as this is.
        let _ = self.0.send((state, ask));
    }
}

fn answer(state: &State, ask: Ask) {
    let document = ask.key.as_ref().and_then(|key| state.open.get(key));
    (ask.answer)(Desk { state, document });
}

#[cfg(test)]
mod tests {
    use super::{Answers, Ask, Desk, State};
    use std::sync::Arc;
    use std::sync::mpsc::channel;

    #[test]
    fn an_answer_that_fails_is_told_and_takes_no_other_with_it() {
        let (failed, told) = channel();
        let answers = Answers::begin(1, move || failed.send(()).unwrap());
        let state = State::new(Arc::default());
        let (sender, receiver) = channel();
        let ask = |answer: Box<dyn FnOnce(Desk<'_>) + Send>| Ask { key: None, checked: false, answer };
        let dropped = sender.clone();
        answers.put(
            state.clone(),
            ask(Box::new(move |_| {
                let _sender = dropped;
                panic!("as if the analysis had failed")
            })),
        );
        answers.put(state, ask(Box::new(move |desk| sender.send(desk.state.open.len()).unwrap())));
        assert_eq!(told.recv(), Ok(()));
        assert_eq!(receiver.recv(), Ok(0));
        assert!(receiver.recv().is_err(), "both questions are done with");
    }
}
