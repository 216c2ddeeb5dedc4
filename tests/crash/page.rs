//! The page of the bay killed at any moment while devices answer and watch, and on a disk that fails: what any of them was told is
//! in the record.

use super::faults::{FAULTS, only, unable};
use super::job::{Came, Reference, VARIANTS};
use super::{long, seed};
use crate::bay::server::{Answer, Server, serve, started};
use dwell_store::{JobNumber, Records, Sqlite};
use dwell_tests::chance::Chance;
use std::io::{BufRead, BufReader, Write};
use std::net::{SocketAddr, TcpStream};
use std::process::Command;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

const STORE: &str = "page.records";
const CARD: &str = "cards/belt-and-charging.card.json";

/// A device that is let in, as it speaks to whichever server runs now.
struct Tablet<'a> {
    reference: &'a Reference,
    server: &'a Server,
    bearer: &'a str,
    /// How many answers of the server it has heard.
    heard: Arc<AtomicUsize>,
    /// Whether the disk fails, so that it may be told so.
    faulty: bool,
}

/// What a device was told before it heard nothing more.
#[derive(Debug, Default)]
struct Told {
    /// The job that it was told of.
    job: Option<JobNumber>,
    /// Answers whose page came back.
    answers: usize,
    /// The most events that any page named.
    events: usize,
    /// The last answer that was sent, with nothing heard of it.
    open: Option<String>,
    over: bool,
    /// The server said that an answer was not stored.
    refused: bool,
}

/// What stands behind `name="` in a page, up to the next quote.
fn part<'p>(page: &'p str, before: &str) -> Option<&'p str> {
    page.split_once(before)?.1.split('"').next()
}

/// How many events a moment has behind it: it is named `EVENTS.TURN`.
fn events(moment: &str) -> usize {
    moment.split('.').next().and_then(|events| events.parse().ok()).unwrap_or_default()
}

impl Tablet<'_> {
    fn ask(&self, method: &str, path: &str, body: &str) -> Option<Answer> {
        let mut stream = TcpStream::connect(self.server.at).ok()?;
        stream.set_read_timeout(Some(Duration::from_secs(30))).ok()?;
        let request = format!(
            "{method} {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n{}\r\nX-Bay-Moment: 1\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
            self.server.at,
            self.bearer,
            body.len()
        );
        stream.write_all(request.as_bytes()).ok()?;
        let answer = crate::bay::server::read(&mut stream);
        // An answer that was cut off within was not heard.
        let length: usize = answer.header("content-length")?.parse().ok()?;
        let whole = answer.body.len() == length;
        self.heard.fetch_add(usize::from(whole), Ordering::SeqCst);
        whole.then_some(answer)
    }

    /// Begins a job of the reference.
    fn begin(&self) -> Option<JobNumber> {
        let list = self.ask("GET", "/", "")?;
        let card = part(&list.body, "href=\"/begin/").expect("the card is offered").to_owned();
        let form = self.ask("GET", &format!("/begin/{card}"), "")?;
        let once = part(&form.body, "name=\"once\" value=\"").expect("the form has its own name").to_owned();
        let variants: String =
            VARIANTS.iter().map(|(axis, value)| format!("&variant.{axis}={value}")).collect();
        let begun = self.ask(
            "POST",
            &format!("/begin/{card}"),
            &format!("once={once}&vin=&person=A.+Weber{variants}"),
        )?;
        if begun.status == 422 && self.faulty {
            return None;
        }
        assert_eq!(begun.status, 303, "{begun:?}");
        let number = begun.header("location").unwrap().trim_start_matches("/job/").parse().unwrap();
        Some(JobNumber(number))
    }

    /// Answers from the given answer on, until the job is over or nothing is heard any more.
    fn work(&self, told: &mut Told, job: JobNumber, from: usize) -> Option<()> {
        told.job = Some(job);
        told.answers = from;
        let mut page = self.ask("GET", &format!("/job/{job}/now"), "")?;
        if page.body.contains("data-mine=\"false\"") || !page.body.contains("data-mine") {
            let taken = self.ask("POST", &format!("/job/{job}/take"), "name=A.+Weber&over=yes")?;
            if taken.status != 303 && self.faulty {
                return None;
            }
            assert_eq!(taken.status, 303, "{taken:?}");
            page = self.ask("GET", &format!("/job/{job}/now"), "")?;
        }
        loop {
            if self.faulty && !page.body.contains("data-moment") {
                return None;
            }
            let moment = part(&page.body, "data-moment=\"").unwrap_or_else(|| panic!("{page:?}")).to_owned();
            told.events = told.events.max(events(&moment));
            if page.body.contains("class=\"verdict") && page.body.contains(&format!("/job/{job}/report")) {
                told.over = true;
                return Some(());
            }
            let wish = if page.body.contains("value=\"go-on\"") {
                "do=go-on".to_owned()
            } else {
                let typed = self.reference.typed.get(told.answers).unwrap_or_else(|| panic!("{page:?}"));
                match typed.as_str() {
                    "" => "do=done".to_owned(),
                    "yes" => "do=yes".to_owned(),
                    value => format!("do=value&text={value}"),
                }
            };
            let is_answer = wish != "do=go-on";
            let sent = format!("moment={moment}&{wish}");
            told.open = is_answer.then(|| sent.clone());
            page = self.ask("POST", &format!("/job/{job}/do"), &sent)?;
            if self.faulty && page.status != 200 {
                told.refused = page.body.contains("was not stored");
                return None;
            }
            assert_eq!(page.status, 200, "{sent}: {page:?}");
            told.open = None;
            // A wait that is not over is asked about once more; nothing else is.
            let asked_back = page.body.contains("role=\"alert\"");
            assert!(!asked_back || page.body.contains("the time is not over"), "{sent}: {page:?}");
            told.answers += usize::from(is_answer && !asked_back);
        }
    }
}

/// A device that only watches: the most events of which it was told.
fn watch(at: SocketAddr, bearer: String, job: JobNumber) -> (Arc<AtomicUsize>, JoinHandle<()>) {
    let most = Arc::new(AtomicUsize::new(0));
    let seen = most.clone();
    let watching = std::thread::spawn(move || {
        let Ok(mut stream) = TcpStream::connect(at) else { return };
        let request = format!("GET /job/{job}/live HTTP/1.1\r\nHost: {at}\r\n{bearer}\r\n\r\n");
        if stream.write_all(request.as_bytes()).is_err() {
            return;
        }
        let mut named = false;
        for line in BufReader::new(stream).lines().map_while(Result::ok) {
            match line.strip_prefix("data: ").filter(|_| named) {
                Some(moment) => {
                    seen.fetch_max(events(moment.trim()), Ordering::SeqCst);
                    named = false;
                }
                None => named = line.trim() == "event: moment",
            }
        }
    });
    (most, watching)
}

fn records(reference: &Reference, job: JobNumber) -> usize {
    Sqlite::look(&reference.bench.path(STORE)).unwrap().record(job).unwrap().events.len()
}

#[test]
fn what_any_device_was_told_before_a_kill_of_the_page_is_there() {
    let reference = Reference::new();
    let mut chance = Chance::seeded(seed());
    let first = serve(&reference.bench, STORE, &[CARD]);
    let added = reference.bench.run(&["bay", "devices", "add", "tablet lift 2", "--store", STORE]);
    assert_eq!(added.status, 0, "{}", added.err);
    let bearer = format!("Authorization: Bearer {}", added.out.trim());
    std::thread::sleep(Duration::from_secs(1));
    let begun = Instant::now();
    let mut told = Told::default();
    let tablet = Tablet {
        reference: &reference,
        server: &first,
        bearer: &bearer,
        heard: Arc::default(),
        faulty: false,
    };
    let job = tablet.begin().unwrap();
    tablet.work(&mut told, job, 0).unwrap();
    // How long one request takes, in microseconds.
    let each =
        u64::try_from(begun.elapsed().as_micros()).unwrap() / tablet.heard.load(Ordering::SeqCst) as u64;
    drop(first);
    assert!(told.over && told.answers == reference.typed.len(), "{told:?}");
    reference.is_whole(STORE);

    let wanted = if long() { 1_000 } else { 25 };
    let (mut kills, mut heard, mut between, mut watched) = (0, 0, 0, 0);
    let mut came = Came::default();
    let mut open: Option<String> = None;
    while kills < wanted {
        let mut server = serve(&reference.bench, STORE, &[CARD]);
        let (at, mut told) = (server.at, Told::default());
        let tablet = Tablet {
            reference: &reference,
            server: &server,
            bearer: &bearer,
            heard: Arc::default(),
            faulty: false,
        };
        let job = match came.job {
            Some(job) => job,
            None => tablet.begin().unwrap(),
        };
        if let Some(sent) = open.take().filter(|_| came.job.is_some()) {
            // What was sent again after nothing was heard answers nothing that is asked now.
            let late = tablet.ask("POST", &format!("/job/{job}/do"), &sent).unwrap();
            assert_eq!(late.status, 409, "{late:?}");
        }
        let before = came.answers;
        let (most, watching) = watch(at, bearer.clone(), job);
        // After some answers more, at any moment of the next one.
        let last = tablet.heard.load(Ordering::SeqCst) + usize::try_from(chance.below(24)).unwrap();
        let (over, wait) = (Arc::new(AtomicBool::new(false)), Duration::from_micros(chance.below(2 * each)));
        let killing = kill(server.child.id(), tablet.heard.clone(), last, over.clone(), wait);
        let through = tablet.work(&mut told, job, came.answers).is_some();
        over.store(true, Ordering::SeqCst);
        killing.join().unwrap();
        let _ = server.child.wait();
        watching.join().unwrap();
        let seen = most.load(Ordering::SeqCst);
        let there = records(&reference, job);
        assert!(there >= told.events, "a page named {} events, {there} are there", told.events);
        assert!(there >= seen, "who watched was told of {seen} events, {there} are there");
        came = reference.came(STORE);
        assert_eq!(came.job, Some(job));
        assert!(
            came.answers >= told.answers,
            "{} were acknowledged, {} are there",
            told.answers,
            came.answers
        );
        assert!(came.answers <= told.answers + 1, "more is there than was sent");
        kills += 1;
        heard += told.answers - before;
        watched += usize::from(seen > 0);
        between += usize::from(came.answers > told.answers);
        open = told.open.clone();
        if through {
            assert!(came.over, "{told:?}");
        }
        if came.over {
            (came, open) = (Came::default(), None);
        }
    }
    if let Some(job) = came.job {
        let server = serve(&reference.bench, STORE, &[CARD]);
        let tablet = Tablet {
            reference: &reference,
            server: &server,
            bearer: &bearer,
            heard: Arc::default(),
            faulty: false,
        };
        tablet.work(&mut Told::default(), job, came.answers).unwrap();
        drop(server);
        reference.is_whole(STORE);
    }
    let verified = Sqlite::look(&reference.bench.path(STORE)).unwrap().verify(None).unwrap();
    assert!(verified.wrong.is_empty(), "{:?}", verified.wrong);
    assert!(watched > 0, "nobody watched");
    println!(
        "{kills} kills, {heard} answers heard of, {between} on the disk and not heard of, {watched} watched; {} jobs with {} events",
        verified.jobs, verified.events
    );
}

/// Kills the server when so many answers were heard, or the job is over, and a while after that.
fn kill(
    id: u32,
    heard: Arc<AtomicUsize>,
    last: usize,
    over: Arc<AtomicBool>,
    wait: Duration,
) -> JoinHandle<()> {
    std::thread::spawn(move || {
        while heard.load(Ordering::SeqCst) < last && !over.load(Ordering::SeqCst) {
            std::thread::sleep(Duration::from_micros(100));
        }
        std::thread::sleep(wait);
        // SIGKILL: the program is told nothing.
        let _ = std::process::Command::new("kill").args(["-KILL", &id.to_string()]).status();
    })
}

/// A server whose calls on the files of the records go wrong from a moment on.
fn failing(
    reference: &Reference,
    (call, fault, on): (&str, &str, &str),
    when: u64,
) -> Result<Server, String> {
    let plain = reference.bench.command(&[]);
    let mut command = Command::new("strace");
    // As a grandchild, strace leaves the program the child that is killed.
    command.args(["-D", "-f", "-qq", "-o", "page.log"]).args(only(reference, STORE));
    command.args(["-e", &format!("trace={call}"), "-e", &format!("inject={call}:{fault}:when={when}{on}")]);
    command.arg(&*crate::program::bench::DWELL).args(["bay", "--port", "0", "--store", STORE, CARD]);
    command.current_dir(reference.bench.0.path());
    for (name, value) in plain.get_envs() {
        match value {
            Some(value) => command.env(name, value),
            None => command.env_remove(name),
        };
    }
    started(command, STORE)
}

#[test]
fn a_disk_that_fails_under_the_page_loses_nothing_that_any_device_was_told() {
    if let Some(why) = unable() {
        eprintln!("not tried: {why}");
        return;
    }
    let reference = Reference::new();
    let mut chance = Chance::seeded(seed());
    let first = serve(&reference.bench, STORE, &[CARD]);
    let added = reference.bench.run(&["bay", "devices", "add", "tablet lift 2", "--store", STORE]);
    let bearer = format!("Authorization: Bearer {}", added.out.trim());
    drop(first);
    let (mut tried, mut injected, mut refused, mut heard) = (0, 0, 0, 0);
    for fault in FAULTS {
        for _ in 0..if long() { 15 } else { 2 } {
            tried += 1;
            let when = 1 + chance.below(if fault.0 == "pwrite64" { 150 } else { 40 });
            let what = format!("{fault:?} at {when}");
            let mut told = Told::default();
            if let Ok(server) = failing(&reference, fault, when) {
                let (bearer, heard) = (bearer.as_str(), Arc::default());
                let tablet = Tablet { reference: &reference, server: &server, bearer, heard, faulty: true };
                if let Some(job) = tablet.begin() {
                    let _ = tablet.work(&mut told, job, 0);
                    assert!(!server.said.lock().unwrap().contains("fault inside the program"), "{what}");
                }
            }
            injected += usize::from(reference.bench.get("page.log").contains("INJECTED"));
            refused += usize::from(told.refused);
            heard += told.answers;
            let Some(job) = told.job else { continue };
            assert!(records(&reference, job) >= told.events, "{what}: a page named {} events", told.events);
            let came = reference.came(STORE);
            assert!(came.job == Some(job) && came.answers >= told.answers, "{what}: {came:?}, {told:?}");
            let server = serve(&reference.bench, STORE, &[CARD]);
            let (bearer, heard) = (bearer.as_str(), Arc::default());
            let tablet = Tablet { reference: &reference, server: &server, bearer, heard, faulty: false };
            tablet.work(&mut Told::default(), job, came.answers).unwrap();
            drop(server);
            reference.is_whole(STORE);
        }
    }
    assert!(injected > 5 && refused > 0, "only {injected} of {tried} faults came about, {refused} were told");
    println!(
        "{injected} faults in {tried} runs, {refused} times told as not stored, {heard} answers heard of"
    );
}
