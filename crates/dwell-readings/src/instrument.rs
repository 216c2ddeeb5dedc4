//! An instrument that speaks SCPI over TCP: it is asked for a value, and what it answers is taken exactly or not at all.
//!
//! The messages are those of IEEE 488.2 (common commands, numeric response data, the standard event status register) and
//! SCPI-1999 (`SYSTem:ERRor?`, the numbers that stand for infinity and for nothing). An answer that comes too late is never
//! taken for the answer to a later question: after every fault the connection is begun anew, and the instrument must be the same.

mod answer;
mod fault;
mod number;

pub use answer::{Answered, Nothing};
pub use fault::InstrumentFault;

use number::{Given, number};
use std::io::{BufRead, BufReader, Write};
use std::net::{TcpStream, ToSocketAddrs};
use std::time::{Duration, Instant};

/// The port on which instruments take SCPI where the address names none: `scpi-raw` in the list of IANA (from memory).
pub const PORT: u16 = 5025;

/// The longest answer that is read, in bytes.
const LONGEST: usize = 4096;

/// Bits of the standard event status register that say that the last question was not understood or could not be carried
/// out: query, device-dependent, execution and command error (IEEE 488.2, 11.5.1).
const ERROR_BITS: u32 = 0b0011_1100;

/// An instrument.
#[derive(Debug)]
pub struct Instrument {
    address: String,
    patience: Duration,
    line: Option<BufReader<TcpStream>>,
    identity: String,
}

impl Instrument {
    /// Goes to the instrument at `HOST` or `HOST:PORT`, clears what it had noted, and asks who it is. `patience` is how long
    /// an answer is waited for.
    ///
    /// # Errors
    /// Where there is none, or it does not answer as IEEE 488.2 says.
    pub fn at(address: &str, patience: Duration) -> Result<Instrument, InstrumentFault> {
        let mut instrument =
            Instrument { address: with_port(address), patience, line: None, identity: String::new() };
        instrument.begin()?;
        Ok(instrument)
    }

    /// What it says it is: maker, model, serial number and firmware, with commas between.
    pub fn identity(&self) -> &str {
        &self.identity
    }

    /// Asks for one value, such as with `MEASure:VOLTage:DC?`.
    ///
    /// # Errors
    /// Where no answer comes in time, where it is not one number, and where the instrument notes an error.
    pub fn value(&mut self, query: &str) -> Result<Answered, InstrumentFault> {
        if !query.is_ascii() || query.contains(['\n', '\r', ';']) || !query.contains('?') {
            return Err(InstrumentFault::NoQuery { query: query.to_owned() });
        }
        if self.line.is_none() {
            let before = self.identity.clone();
            self.begin()?;
            if before != self.identity {
                let now = std::mem::replace(&mut self.identity, before.clone());
                self.line = None;
                return Err(InstrumentFault::Another { address: self.address.clone(), before, now });
            }
        }
        let answered = self.asked(query);
        if answered.is_err() {
            self.line = None;
        }
        answered
    }

    fn asked(&mut self, query: &str) -> Result<Answered, InstrumentFault> {
        let answer = match self.ask(query) {
            // A question that is not understood has no answer: the register says so.
            Err(InstrumentFault::NoAnswer { .. }) => return Err(self.why_no_answer(query)),
            other => other?,
        };
        let noted = self.noted()?;
        if let Some(said) = noted {
            return Err(InstrumentFault::Noted { query: query.to_owned(), said });
        }
        match number(&answer) {
            Some(Given::Number(text)) => Ok(Answered::Value(text)),
            Some(Given::Above) => Ok(Answered::Nothing(Nothing::AboveRange)),
            Some(Given::Below) => Ok(Answered::Nothing(Nothing::BelowRange)),
            Some(Given::NotANumber) => Ok(Answered::Nothing(Nothing::NotANumber)),
            None => Err(InstrumentFault::NotOneNumber { query: query.to_owned(), answer }),
        }
    }

    /// Why an answer did not come: what the instrument noted, or that it is silent. It is asked over a new connection, since
    /// on the old one the answer may still come.
    fn why_no_answer(&mut self, query: &str) -> InstrumentFault {
        self.line = None;
        let said = self.connect().and_then(|()| self.ask("SYSTem:ERRor?"));
        self.line = None;
        match said {
            Ok(said) if !said.trim_start_matches(['+', '-']).starts_with("0,") => {
                InstrumentFault::Noted { query: query.to_owned(), said }
            }
            _ => self.silent(query),
        }
    }

    /// The error that it noted since it was last asked, in its own words.
    fn noted(&mut self) -> Result<Option<String>, InstrumentFault> {
        let answer = self.ask("*ESR?")?;
        let register = match answer.parse::<u32>() {
            Ok(register) if register < 256 => register,
            _ => return Err(InstrumentFault::NotOneNumber { query: "*ESR?".to_owned(), answer }),
        };
        if register & ERROR_BITS == 0 {
            return Ok(None);
        }
        Ok(Some(self.ask("SYSTem:ERRor?").unwrap_or_else(|_| format!("event status {register}"))))
    }

    /// A connection, nothing noted from before, and an instrument that says what it is.
    fn begin(&mut self) -> Result<(), InstrumentFault> {
        let presented = self.connect().and_then(|()| self.send("*CLS")).and_then(|()| self.ask("*IDN?"));
        let identity = presented.inspect_err(|_| self.line = None)?;
        if identity.split(',').count() < 4 {
            self.line = None;
            return Err(InstrumentFault::NoInstrument { address: self.address.clone(), answer: identity });
        }
        self.identity = identity;
        Ok(())
    }

    fn connect(&mut self) -> Result<(), InstrumentFault> {
        let connected = connected(&self.address, self.patience);
        let stream = connected.map_err(|why| InstrumentFault::Unreachable {
            address: self.address.clone(),
            why: why.to_string(),
        })?;
        self.line = Some(BufReader::new(stream));
        Ok(())
    }

    fn send(&mut self, message: &str) -> Result<(), InstrumentFault> {
        let Some(line) = &mut self.line else { return Err(self.silent(message)) };
        let sent = line.get_mut().write_all(format!("{message}\n").as_bytes());
        sent.map_err(|why| InstrumentFault::Lost { address: self.address.clone(), why: why.to_string() })
    }

    /// Sends a question and reads the line that answers it, within the patience, however slowly it comes.
    fn ask(&mut self, query: &str) -> Result<String, InstrumentFault> {
        self.send(query)?;
        let address = self.address.clone();
        let until = Instant::now() + self.patience;
        let lost = |why: String| InstrumentFault::Lost { address: address.clone(), why };
        let mut bytes = Vec::new();
        while !bytes.ends_with(b"\n") {
            let left = until.saturating_duration_since(Instant::now());
            let Some(line) = self.line.as_mut().filter(|_| !left.is_zero()) else {
                return Err(self.silent(query));
            };
            line.get_ref().set_read_timeout(Some(left)).map_err(|why| lost(why.to_string()))?;
            let came = match line.fill_buf() {
                Ok([]) => return Err(lost("it closed the connection".to_owned())),
                Ok(came) => came,
                Err(why) if is_late(&why) => return Err(self.silent(query)),
                Err(why) => return Err(lost(why.to_string())),
            };
            let end = came.iter().position(|byte| *byte == b'\n').map_or(came.len(), |place| place + 1);
            bytes.extend(came.iter().take(end));
            line.consume(end);
            if bytes.len() > LONGEST {
                return Err(lost(format!("its answer is longer than {LONGEST} bytes")));
            }
        }
        let answer = String::from_utf8_lossy(&bytes);
        Ok(answer.trim_end_matches(['\r', '\n']).to_owned())
    }

    fn silent(&self, query: &str) -> InstrumentFault {
        InstrumentFault::NoAnswer {
            address: self.address.clone(),
            query: query.to_owned(),
            seconds: self.patience.as_secs_f64(),
        }
    }
}

/// A connection to the first address that takes one.
fn connected(address: &str, patience: Duration) -> std::io::Result<TcpStream> {
    let mut last = std::io::Error::other("the name stands for no address");
    for address in address.to_socket_addrs()? {
        match TcpStream::connect_timeout(&address, patience) {
            Ok(stream) => {
                stream.set_nodelay(true)?;
                stream.set_write_timeout(Some(patience))?;
                return Ok(stream);
            }
            Err(why) => last = why,
        }
    }
    Err(last)
}

fn is_late(why: &std::io::Error) -> bool {
    matches!(why.kind(), std::io::ErrorKind::WouldBlock | std::io::ErrorKind::TimedOut)
}

/// The address with a port: an IPv6 address with one stands between square brackets.
fn with_port(address: &str) -> String {
    let has_one = match address.rsplit_once(':') {
        Some((host, port)) => port.parse::<u16>().is_ok() && (!host.contains(':') || host.ends_with(']')),
        None => false,
    };
    match has_one {
        true => address.to_owned(),
        false if address.contains(':') && !address.starts_with('[') => format!("[{address}]:{PORT}"),
        false => format!("{address}:{PORT}"),
    }
}

#[cfg(test)]
mod tests;
