//! The terminal taken and given back: whatever ends the program, the next thing typed there is typed at a sound terminal.

use anyhow::Context;
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::crossterm::cursor::{Hide, Show};
use ratatui::crossterm::execute;
use ratatui::crossterm::terminal::{
    Clear, ClearType, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGSTOP, SIGTERM};
use std::io::{Stdout, Write, stdout};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

/// Whether the terminal is ours just now.
static TAKEN: AtomicBool = AtomicBool::new(false);

/// Gives the terminal back, where it was taken. It is called at the end, and before a fault is told.
pub(crate) fn give_back() {
    if TAKEN.swap(false, Ordering::SeqCst) {
        let _ = execute!(stdout(), LeaveAlternateScreen, Show);
        let _ = disable_raw_mode();
        let _ = stdout().flush();
    }
}

/// The terminal while it is ours.
pub(super) struct Guard {
    /// What is drawn on.
    pub(super) terminal: Terminal<CrosstermBackend<Stdout>>,
    ended: Arc<AtomicBool>,
    woken: Arc<AtomicBool>,
}

impl Guard {
    /// Takes the terminal.
    pub(super) fn take() -> anyhow::Result<Guard> {
        let (ended, woken) = (Arc::new(AtomicBool::new(false)), Arc::new(AtomicBool::new(false)));
        for signal in [SIGTERM, SIGHUP, SIGINT, SIGQUIT] {
            signal_hook::flag::register(signal, Arc::clone(&ended)).context("cannot listen for signals")?;
        }
        signal_hook::flag::register(SIGCONT, Arc::clone(&woken)).context("cannot listen for signals")?;
        watch(Arc::clone(&ended));
        take_over()?;
        let terminal = Terminal::new(CrosstermBackend::new(stdout())).inspect_err(|_| give_back())?;
        Ok(Guard { terminal, ended, woken })
    }

    /// Whether somebody outside has ended the program, or the terminal is gone.
    pub(super) fn is_ended(&self) -> bool {
        self.ended.load(Ordering::SeqCst)
    }

    /// Lets the shell have the terminal until the program is fetched back.
    pub(super) fn suspend(&mut self) -> anyhow::Result<()> {
        give_back();
        signal_hook::low_level::raise(SIGSTOP).context("cannot be suspended")?;
        self.back()
    }

    /// After somebody else had the terminal: takes it again, and everything is drawn anew.
    pub(super) fn if_woken(&mut self) -> anyhow::Result<()> {
        if self.woken.swap(false, Ordering::SeqCst) {
            self.back()?;
        }
        Ok(())
    }

    fn back(&mut self) -> anyhow::Result<()> {
        self.woken.store(false, Ordering::SeqCst);
        take_over()?;
        // A new one knows that nothing is drawn yet; clearing the old one would ask the terminal where its cursor is.
        execute!(stdout(), Clear(ClearType::All))?;
        self.terminal = Terminal::new(CrosstermBackend::new(stdout()))?;
        Ok(())
    }
}

impl Drop for Guard {
    fn drop(&mut self) {
        give_back();
    }
}

/// Ends the program a while after it was asked to, where it has not ended by itself: reading keys from a terminal that is gone
/// may never come back. Every answer that was taken is on the disk.
fn watch(ended: Arc<AtomicBool>) {
    thread::spawn(move || {
        while !ended.load(Ordering::SeqCst) {
            thread::sleep(Duration::from_millis(250));
        }
        thread::sleep(Duration::from_secs(3));
        // As for a job that is interrupted; at once, since nobody is there to tell anything.
        signal_hook::low_level::exit(3);
    });
}

fn take_over() -> anyhow::Result<()> {
    TAKEN.store(true, Ordering::SeqCst);
    let taken = enable_raw_mode().and_then(|()| execute!(stdout(), EnterAlternateScreen, Hide));
    taken.inspect_err(|_| give_back()).context("cannot take the terminal: run it with --plain")
}
