//! The page of the bay under load: vehicles whose instruments all send, each watched on a screen of another device.
//!
//! Every instrument sends its readings with its own clock; the screen beside it is told of each by a stream of events. Nothing may
//! be lost: what was sent is what the server says it took, what the screen counts at the end, and what stands in the record when
//! the reading is taken.

use anyhow::{Context, Result, bail, ensure};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Barrier, Mutex};
use std::thread;
use std::time::{Duration, Instant};

/// How often each instrument sends.
const EACH: Duration = Duration::from_millis(100);

/// A reading that is taken over as long as the instrument sends.
const PROCEDURE: &str = r#"tool multimeter: hand-held "multimeter" {
    measures dc-voltage 0 .. 60 V resolution 0.001 V accuracy ± 0.002 V
}

spec voltage-under-load: dc-voltage { check 10 .. 16 V  not adjustable  source "Invented." }

procedure voltage-over-time "Charging voltage over time" {
    step voltage "Measure" {
        measure charge: dc-voltage with multimeter every 0.1 s over SECONDS s take mean
        expect charge meets voltage-under-load
        otherwise no reading { end unfinished "Measure again." }
        otherwise { end failed "Look for a loose contact." }
    }
}
"#;

/// What came of one vehicle.
struct Vehicle {
    job: String,
    sent: usize,
    /// How many the server says that it showed.
    shown: usize,
    /// The most that the screen counted.
    counted: usize,
    /// How many times the screen was told; of two that come at once it is told the later one.
    told: usize,
    /// From sending to the other device's screen, in milliseconds, for each time that it was told.
    took: Vec<f64>,
}

/// Runs `devices` instruments for `seconds` against this program, and prints what came of it.
pub(crate) fn report(program: &str, devices: usize, seconds: u64) -> Result<()> {
    let folder = Folder::new()?;
    let text = PROCEDURE.replace("SECONDS", &seconds.to_string());
    std::fs::write(folder.0.join("voltage.dwell"), text)?;
    let mut server = Server::start(program, &folder.0)?;
    let bearers = (0..2 * devices)
        .map(|number| server.let_in(program, &folder.0, number))
        .collect::<Result<Vec<_>>>()?;
    // The running server looks who may come in twice a second.
    thread::sleep(Duration::from_secs(1));
    let at = server.at;
    let (begin, end) = (Arc::new(Barrier::new(devices)), Arc::new(Barrier::new(devices)));
    let begun = Instant::now();
    let mut all = Vec::new();
    for pair in bearers.chunks_exact(2) {
        let [instrument, screen] = pair else { continue };
        let (instrument, screen) = (instrument.clone(), screen.clone());
        let (begin, end) = (begin.clone(), end.clone());
        all.push(thread::spawn(move || vehicle(at, &instrument, &screen, seconds, &begin, &end)));
    }
    let mut vehicles = Vec::new();
    for one in all {
        vehicles.push(one.join().map_err(|_| anyhow::anyhow!("a device stopped"))??);
    }
    let lasted = begun.elapsed().as_secs_f64();
    let memory = server.memory();
    server.end()?;
    verified(program, &folder.0)?;
    let sum = |of: fn(&Vehicle) -> usize| vehicles.iter().map(of).sum::<usize>();
    let mut took: Vec<f64> = vehicles.iter().flat_map(|one| one.took.iter().copied()).collect();
    took.sort_by(f64::total_cmp);
    let part = |share: f64| {
        let place = (took.len() as f64 * share) as usize;
        took.get(place.min(took.len().saturating_sub(1))).copied().unwrap_or(f64::NAN)
    };
    let mut out = std::io::stdout().lock();
    writeln!(
        out,
        "{devices} instruments, 10 readings a second each for {seconds} s, each watched by another device; {lasted:.1} s in all"
    )?;
    writeln!(
        out,
        "sent {}, taken by the server {}, counted by the screens {}, told in {} events",
        sum(|one| one.sent),
        sum(|one| one.shown),
        sum(|one| one.counted),
        sum(|one| one.told)
    )?;
    writeln!(
        out,
        "from the instrument to the other device's screen: half of them {:.1} ms, 99 of 100 {:.1} ms, all {:.1} ms",
        part(0.5),
        part(0.99),
        part(1.0)
    )?;
    writeln!(out, "the server takes {memory} MB; every record is whole")?;
    for one in &vehicles {
        let there = recorded(program, &folder.0, &one.job)?;
        ensure!(there == one.sent, "job {}: {there} of {} readings stand in the record", one.job, one.sent);
        ensure!(
            one.sent == one.shown && one.sent == one.counted,
            "lost: {} sent, {} shown, {} counted",
            one.sent,
            one.shown,
            one.counted
        );
    }
    Ok(())
}

/// One vehicle from the beginning of its job until its reading is taken.
fn vehicle(
    at: SocketAddr,
    instrument: &str,
    screen: &str,
    seconds: u64,
    begin: &Barrier,
    end: &Barrier,
) -> Result<Vehicle> {
    let job = asked_for_a_reading(at, instrument);
    let sent_at = Arc::new(Mutex::new(Vec::new()));
    let watching = job.as_ref().ok().map(|job| watch(at, screen, job, sent_at.clone()));
    begin.wait();
    let streamed = job
        .as_ref()
        .map_err(|error| anyhow::anyhow!("{error:#}"))
        .and_then(|job| stream(at, instrument, job, seconds, &sent_at));
    let taken = job.as_ref().ok().map(|job| take(at, instrument, job));
    end.wait();
    let (sent, shown) = streamed?;
    let (counted, told, took) =
        watching.context("nobody watches")?.join().map_err(|_| anyhow::anyhow!("the screen stopped"))??;
    taken.context("nothing was taken")??;
    Ok(Vehicle { job: job?, sent, shown, counted, told, took })
}

fn ask(at: SocketAddr, bearer: &str, method: &str, path: &str, body: &str) -> Result<(u16, String, String)> {
    let mut stream = TcpStream::connect(at)?;
    stream.set_read_timeout(Some(Duration::from_secs(60)))?;
    write!(
        stream,
        "{method} {path} HTTP/1.1\r\nHost: {at}\r\nAuthorization: Bearer {bearer}\r\nConnection: close\r\nX-Bay-Moment: 1\r\n\
         Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
        body.len()
    )?;
    let mut answer = String::new();
    stream.read_to_string(&mut answer)?;
    let (head, body) = answer.split_once("\r\n\r\n").context("half an answer")?;
    let status = head.split(' ').nth(1).unwrap_or_default().parse()?;
    Ok((status, head.to_owned(), body.to_owned()))
}

fn part<'p>(page: &'p str, before: &str) -> Result<&'p str> {
    let found = page.split_once(before).and_then(|(_, rest)| rest.split('"').next());
    found.with_context(|| format!("`{before}` is not there: {page}"))
}

/// Begins a job and goes on until it asks for a reading. Gives its number.
fn asked_for_a_reading(at: SocketAddr, bearer: &str) -> Result<String> {
    let card = part(&ask(at, bearer, "GET", "/", "")?.2, "href=\"/begin/")?.to_owned();
    let once =
        part(&ask(at, bearer, "GET", &format!("/begin/{card}"), "")?.2, "name=\"once\" value=\"")?.to_owned();
    let (status, head, page) =
        ask(at, bearer, "POST", &format!("/begin/{card}"), &format!("once={once}&vin=&person=Ines"))?;
    ensure!(status == 303, "{status} {page}");
    let job =
        head.lines().find_map(|line| line.strip_prefix("location: /job/")).context("no job")?.to_owned();
    let mut page = ask(at, bearer, "GET", &format!("/job/{job}/now"), "")?.2;
    for _ in 0..20 {
        if page.contains("value=\"no-reading\"") {
            return Ok(job);
        }
        let act = if page.contains("value=\"go-on\"") { "go-on" } else { "done" };
        let moment = part(&page, "data-moment=\"")?.to_owned();
        page = ask(at, bearer, "POST", &format!("/job/{job}/do"), &format!("moment={moment}&do={act}"))?.2;
    }
    bail!("no reading is asked for: {page}")
}

/// The instrument: how many values it sent, and how many the server says it showed.
fn stream(
    at: SocketAddr,
    bearer: &str,
    job: &str,
    seconds: u64,
    sent_at: &Mutex<Vec<Instant>>,
) -> Result<(usize, usize)> {
    let mut stream = TcpStream::connect(at)?;
    stream.set_nodelay(true)?;
    stream.set_read_timeout(Some(Duration::from_secs(60)))?;
    write!(
        stream,
        "POST /job/{job}/stream HTTP/1.1\r\nHost: {at}\r\nAuthorization: Bearer {bearer}\r\nConnection: close\r\n\
         Transfer-Encoding: chunked\r\n\r\n"
    )?;
    let begun = Instant::now();
    // The first at once, and one more than there are pauses.
    let wanted = usize::try_from(seconds * 10)? + 1;
    for number in 0..wanted {
        let due = begun + EACH * u32::try_from(number)?;
        thread::sleep(due.saturating_duration_since(Instant::now()));
        let line = format!("@{}.{} 14.{:03} V\n", number / 10, number % 10, number % 1000);
        if let Ok(mut all) = sent_at.lock() {
            all.push(Instant::now());
        }
        write!(stream, "{:x}\r\n{line}\r\n", line.len())?;
    }
    stream.write_all(b"0\r\n\r\n")?;
    let mut answer = String::new();
    stream.read_to_string(&mut answer)?;
    let body = answer.split_once("\r\n\r\n").map(|(_, body)| body).unwrap_or_default();
    let shown = body.split(' ').next().unwrap_or_default();
    Ok((wanted, shown.parse().with_context(|| answer.clone())?))
}

type Watched = thread::JoinHandle<Result<(usize, usize, Vec<f64>)>>;

/// The screen of another device, until the reading was taken.
fn watch(at: SocketAddr, bearer: &str, job: &str, sent_at: Arc<Mutex<Vec<Instant>>>) -> Watched {
    let request =
        format!("GET /job/{job}/live HTTP/1.1\r\nHost: {at}\r\nAuthorization: Bearer {bearer}\r\n\r\n");
    thread::spawn(move || {
        let mut stream = TcpStream::connect(at)?;
        stream.set_read_timeout(Some(Duration::from_secs(60)))?;
        stream.write_all(request.as_bytes())?;
        let (mut counted, mut told, mut took) = (0, 0, Vec::new());
        for line in BufReader::new(stream).lines() {
            let line = line?;
            let now = Instant::now();
            let Some(data) = line.strip_prefix("data: ") else { continue };
            if data == "null" && counted > 0 {
                break;
            }
            let Ok(known) = serde_json::from_str::<serde_json::Value>(data) else { continue };
            let Some(count) = known.get("count").and_then(serde_json::Value::as_u64) else { continue };
            counted = counted.max(usize::try_from(count)?);
            told += 1;
            let sent = sent_at.lock().ok().and_then(|all| all.get(counted - 1).copied());
            took.extend(sent.map(|sent| now.duration_since(sent).as_secs_f64() * 1000.0));
        }
        Ok((counted, told, took))
    })
}

/// Takes what the instrument sent as the reading.
fn take(at: SocketAddr, bearer: &str, job: &str) -> Result<()> {
    let page = ask(at, bearer, "GET", &format!("/job/{job}/now"), "")?.2;
    let moment = part(&page, "data-moment=\"")?.to_owned();
    let (status, _, page) =
        ask(at, bearer, "POST", &format!("/job/{job}/do"), &format!("moment={moment}&do=live"))?;
    ensure!(status == 200 && !page.contains("role=\"alert\""), "not taken: {page}");
    let events = moment.split('.').next().unwrap_or_default().parse::<usize>()?;
    let after = part(&page, "data-moment=\"")?.split('.').next().unwrap_or_default().parse::<usize>()?;
    ensure!(after > events, "nothing came into the record: {page}");
    Ok(())
}

/// How many values of the instrument stand in the record of a job.
fn recorded(program: &str, folder: &Path, job: &str) -> Result<usize> {
    let arguments = ["records", "export", job, "--format", "jsonl", "--store", "load.records"];
    let said = Command::new(program).args(arguments).current_dir(folder).output()?;
    ensure!(said.status.success(), "{}", String::from_utf8_lossy(&said.stderr));
    let mut most = 0;
    for line in String::from_utf8_lossy(&said.stdout).lines() {
        most = most.max(samples(&serde_json::from_str(line)?));
    }
    Ok(most)
}

/// The longest list of samples in an event.
fn samples(value: &serde_json::Value) -> usize {
    match value {
        serde_json::Value::Object(fields) => {
            let own = fields.get("samples").and_then(serde_json::Value::as_array).map_or(0, Vec::len);
            fields.values().map(samples).max().unwrap_or_default().max(own)
        }
        serde_json::Value::Array(all) => all.iter().map(samples).max().unwrap_or_default(),
        _ => 0,
    }
}

fn verified(program: &str, folder: &Path) -> Result<()> {
    let said = Command::new(program)
        .args(["records", "verify", "--store", "load.records"])
        .current_dir(folder)
        .output()?;
    ensure!(
        said.status.success(),
        "{}{}",
        String::from_utf8_lossy(&said.stdout),
        String::from_utf8_lossy(&said.stderr)
    );
    Ok(())
}

/// A running server.
struct Server {
    child: Child,
    at: SocketAddr,
}

impl Server {
    fn start(program: &str, folder: &Path) -> Result<Server> {
        let mut child = Command::new(program)
            .args(["bay", "voltage.dwell", "--store", "load.records", "--port", "0"])
            .current_dir(folder)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .spawn()
            .with_context(|| format!("{program} cannot be started"))?;
        let mut lines = BufReader::new(child.stdout.take().context("no output")?).lines();
        let address = lines.find_map(|line| line.ok()?.trim().strip_prefix("http://").map(str::to_owned));
        let at = address.and_then(|address| address.split('/').next()?.parse().ok());
        // What it says later is read, so that it never waits for a reader.
        thread::spawn(move || lines.for_each(drop));
        Ok(Server { child, at: at.context("it says no address")? })
    }

    /// Lets a program in, and gives its token.
    fn let_in(&self, program: &str, folder: &Path, number: usize) -> Result<String> {
        let said = Command::new(program)
            .args(["bay", "devices", "add", &format!("device {number}"), "--store", "load.records"])
            .current_dir(folder)
            .output()?;
        ensure!(said.status.success(), "{}", String::from_utf8_lossy(&said.stderr));
        Ok(String::from_utf8_lossy(&said.stdout).trim().to_owned())
    }

    /// The most memory that it had, in MB, where the system tells it.
    fn memory(&self) -> u64 {
        let text = std::fs::read_to_string(format!("/proc/{}/status", self.child.id())).unwrap_or_default();
        let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap_or_default();
        line.split_whitespace().next().and_then(|kilo| kilo.parse::<u64>().ok()).unwrap_or_default() / 1000
    }

    fn end(&mut self) -> Result<()> {
        self.child.kill()?;
        self.child.wait()?;
        Ok(())
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A folder of its own, gone afterwards.
struct Folder(PathBuf);

impl Folder {
    fn new() -> Result<Folder> {
        let path = std::env::temp_dir().join(format!("dwell-bench-bay-{}", std::process::id()));
        std::fs::create_dir_all(&path)?;
        Ok(Folder(path))
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}
