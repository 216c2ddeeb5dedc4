//! A simulated instrument: the commands that IEEE 488.2 and SCPI-1999 demand as the crate `scpi` carries them out, a voltage,
//! and the ways in which a real one misbehaves. Two test programs use it.

#![allow(dead_code, reason = "each of the two tries some of what it does")]

use scpi::error::{Error, ErrorCode, Result};
use scpi::tree::prelude::{Command, Context, Node, Parameters, ResponseUnit};
use scpi::{Branch, Device, Leaf, Root, cmd_qonly};
use scpi_contrib::scpi1999::prelude::*;
use scpi_contrib::{
    ieee488::prelude::*, ieee488_cls, ieee488_ese, ieee488_esr, ieee488_idn, ieee488_sre, scpi_system,
};
use std::collections::VecDeque;
use std::io::{BufRead, BufReader, Write};
use std::net::{TcpListener, TcpStream};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, Weak};
use std::time::Duration;

/// What it does when it is asked for the voltage.
#[derive(Clone, Debug)]
pub(crate) enum Does {
    /// It answers this.
    Answers(&'static str),
    /// It answers this after so many milliseconds.
    Late(&'static str, u64),
    /// It answers letter by letter, with so many milliseconds between.
    Dribbles(&'static str, u64),
    /// It notes that it cannot measure, and answers nothing.
    Fails,
    /// It says nothing at all.
    Silent,
    /// It closes the connection.
    HangsUp,
    /// It answers without end.
    Floods,
}

/// An instrument on a port of this machine.
pub(crate) struct Simulated {
    /// Where it listens.
    pub(crate) address: String,
    /// What it will do, one question after the other; the last one for ever.
    pub(crate) plan: Arc<Mutex<VecDeque<Does>>>,
    /// Which of two instruments it is.
    pub(crate) other: Arc<Mutex<bool>>,
    /// Whether anybody ever connected while the connection before was open.
    pub(crate) together: Arc<AtomicBool>,
}

impl Simulated {
    pub(crate) fn that(plan: &[Does]) -> Simulated {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let simulated = Simulated {
            address: listener.local_addr().unwrap().to_string(),
            plan: Arc::new(Mutex::new(plan.iter().cloned().collect())),
            other: Arc::default(),
            together: Arc::default(),
        };
        let (plan, other) = (Arc::clone(&simulated.plan), Arc::clone(&simulated.other));
        let together = Arc::clone(&simulated.together);
        std::thread::spawn(move || {
            let device = Arc::new(Mutex::new(Inside { plan, ..Inside::default() }));
            let mut before: Option<Weak<TcpStream>> = None;
            for stream in listener.incoming() {
                let stream = Arc::new(stream.unwrap());
                if let Some(before) = before.filter(|before| before.strong_count() > 0) {
                    let together = Arc::clone(&together);
                    std::thread::spawn(move || together.fetch_or(is_open(&before), Ordering::Relaxed));
                }
                before = Some(Arc::downgrade(&stream));
                let (device, other) = (Arc::clone(&device), Arc::clone(&other));
                std::thread::spawn(move || serve(&stream, &device, &other));
            }
        });
        simulated
    }
}

/// Whether a connection stays open, a moment given to whoever serves it to see that it was closed.
fn is_open(stream: &Weak<TcpStream>) -> bool {
    (0..20).all(|_| {
        std::thread::sleep(Duration::from_millis(10));
        stream.strong_count() > 0
    })
}

/// Answers line by line, as long as somebody is there.
fn serve(stream: &TcpStream, device: &Mutex<Inside>, other: &Mutex<bool>) {
    let mut out = stream;
    for line in BufReader::new(stream).lines() {
        let Ok(line) = line else { return };
        if line == "*IDN?" && *other.lock().unwrap() {
            let _ = out.write_all(b"Workshop,Other meter,2,1.0\n");
            continue;
        }
        let mut answer = Vec::new();
        let does = {
            let mut device = device.lock().unwrap();
            let carried_out = TREE.run(line.as_bytes(), &mut *device, &mut Context::default(), &mut answer);
            if carried_out.is_err() {
                answer.clear();
            }
            device.does.take()
        };
        let sent = match does {
            Some(Does::Late(text, wait)) => {
                std::thread::sleep(Duration::from_millis(wait));
                out.write_all(format!("{text}\n").as_bytes())
            }
            Some(Does::Dribbles(text, wait)) => format!("{text}\n").bytes().try_for_each(|byte| {
                std::thread::sleep(Duration::from_millis(wait));
                out.write_all(&[byte])
            }),
            Some(Does::HangsUp) => return,
            Some(Does::Floods) => (0..1000).try_for_each(|_| out.write_all(&[b'1'; 100])),
            Some(Does::Silent) => Ok(()),
            _ => out.write_all(&answer),
        };
        if sent.is_err() {
            return;
        }
    }
}

#[derive(Default)]
struct Inside {
    esr: u8,
    ese: u8,
    sre: u8,
    operation: EventRegister,
    questionable: EventRegister,
    errors: VecDeque<Error>,
    plan: Arc<Mutex<VecDeque<Does>>>,
    /// What the question just carried out has it do.
    does: Option<Does>,
}

impl Device for Inside {
    fn handle_error(&mut self, error: Error) {
        self.push_error(error);
    }
}

impl IEEE4882 for Inside {
    fn stb(&self) -> u8 {
        self.scpi_stb()
    }
    fn sre(&self) -> u8 {
        self.sre
    }
    fn set_sre(&mut self, value: u8) {
        self.sre = value;
    }
    fn esr(&self) -> u8 {
        self.esr
    }
    fn set_esr(&mut self, value: u8) {
        self.esr = value;
    }
    fn ese(&self) -> u8 {
        self.ese
    }
    fn set_ese(&mut self, value: u8) {
        self.ese = value;
    }
    fn tst(&mut self) -> Result<()> {
        Ok(())
    }
    fn rst(&mut self) -> Result<()> {
        Ok(())
    }
    fn cls(&mut self) -> Result<()> {
        self.scpi_cls()
    }
    fn opc(&mut self) -> Result<()> {
        self.scpi_opc()
    }
}

impl GetEventRegister<Operation> for Inside {
    fn register(&self) -> &EventRegister {
        &self.operation
    }
    fn register_mut(&mut self) -> &mut EventRegister {
        &mut self.operation
    }
}

impl GetEventRegister<Questionable> for Inside {
    fn register(&self) -> &EventRegister {
        &self.questionable
    }
    fn register_mut(&mut self) -> &mut EventRegister {
        &mut self.questionable
    }
}

impl ErrorQueue for Inside {
    fn push_back_error(&mut self, error: Error) {
        self.errors.push_back(error);
    }
    fn pop_front_error(&mut self) -> Option<Error> {
        self.errors.pop_front()
    }
    fn num_errors(&self) -> usize {
        self.errors.len()
    }
    fn clear_errors(&mut self) {
        self.errors.clear();
    }
}

impl ScpiDevice for Inside {}

struct Voltage;

impl Command<Inside> for Voltage {
    cmd_qonly!();

    fn query(
        &self,
        device: &mut Inside,
        _: &mut Context,
        _: Parameters<'_, '_>,
        mut response: ResponseUnit<'_>,
    ) -> Result<()> {
        let mut plan = device.plan.lock().unwrap();
        let does = if plan.len() > 1 { plan.pop_front() } else { plan.front().cloned() };
        drop(plan);
        match does {
            Some(Does::Answers(text)) => {
                return response.data(scpi::parser::format::Character(text.as_bytes())).finish();
            }
            Some(Does::Fails) => return Err(ErrorCode::HardwareError.into()),
            _ => {}
        }
        device.does = does;
        Ok(())
    }
}

const TREE: Node<'static, Inside> = Root![
    ieee488_cls!(),
    ieee488_ese!(),
    ieee488_esr!(),
    ieee488_idn!(b"Workshop", b"Bench meter", b"1", b"1.0"),
    ieee488_sre!(),
    scpi_system!(),
    Branch![b"MEASure";
        Branch![b"VOLTage";
            Leaf!(default b"DC" => &Voltage)
        ]
    ]
];
