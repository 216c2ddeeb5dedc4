//! The door of the bay over the wire: who does not come in, by whichever way.

use super::server::{Answer, Server, pinned, serve};
use crate::program::bench::{Bench, GOOD};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

/// Addresses of all sorts: pages, parts of them, the door's own, and such as are nowhere.
const ADDRESSES: [&str; 10] = [
    "/",
    "/bay.css",
    "/bay.js",
    "/pair",
    "/enter",
    "/door.css",
    "/jobs/1",
    "/jobs/99999",
    "/../../etc/passwd",
    "/%2e%2e/%2e%2e/etc/passwd",
];

fn bench() -> Bench {
    Bench::new(&[("belt.dwell", GOOD)])
}

fn here(bench: &Bench) -> Server {
    serve(bench, "workshop.records", &["belt.dwell"])
}

fn on_the_network(bench: &Bench) -> Server {
    serve(bench, "workshop.records", &["belt.dwell", "--lan=127.0.0.1"])
}

/// The headers of the OWASP list of secure headers that a page of one's own without anything from elsewhere can have.
fn guarded(answer: &Answer) {
    let says = |name: &str, part: &str| {
        assert!(
            answer.header(name).is_some_and(|value| value.contains(part)),
            "{name}: {part}\n{}",
            answer.head
        );
    };
    for part in [
        "default-src 'none'",
        "script-src 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
        "form-action 'self'",
    ] {
        says("content-security-policy", part);
    }
    assert!(!answer.head.contains("unsafe-inline"));
    says("x-content-type-options", "nosniff");
    says("x-frame-options", "DENY");
    says("referrer-policy", "same-origin");
    says("cache-control", "no-store");
    says("permissions-policy", "camera=(self)");
    says("cross-origin-resource-policy", "same-origin");
    says("cross-origin-opener-policy", "same-origin");
    assert!(answer.header("access-control-allow-origin").is_none(), "{}", answer.head);
}

/// Without what a fingerprint is parted by, in small letters.
fn plain(text: &str) -> String {
    text.chars()
        .filter(|letter| *letter != ':' && !letter.is_whitespace())
        .collect::<String>()
        .to_ascii_lowercase()
}

#[test]
fn every_answer_tells_the_browser_how_far_to_trust_it() {
    let bench = bench();
    let server = here(&bench);
    let cookie = server.let_in("this machine");
    for path in ADDRESSES {
        for lines in [&[] as &[&str], &[&cookie]] {
            for method in ["GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS", "TRACE"] {
                let answer = server.ask(method, path, lines, "");
                assert!((200..600).contains(&answer.status), "{method} {path} {answer:?}");
                assert_ne!(answer.status, 500, "{method} {path} {answer:?}");
                guarded(&answer);
            }
        }
    }
}

#[test]
fn without_the_printed_address_nobody_of_this_machine_comes_in() {
    let bench = bench();
    let server = here(&bench);
    let first = server.ask("GET", "/", &[], "");
    for path in ADDRESSES.iter().filter(|path| **path != "/door.css") {
        let answer = server.ask("GET", path, &[], "");
        // Whether there is something or not is not told.
        assert_eq!((answer.status, &answer.body), (401, &first.body), "{path}");
    }
    assert_eq!(server.ask("GET", "/enter?key=", &[], "").status, 401);
    assert_eq!(server.ask("GET", &format!("/enter?key={}", "0".repeat(64)), &[], "").status, 401);
    let cookie = server.let_in("this machine");
    assert_eq!(server.ask("GET", "/", &[&cookie], "").status, 200);
    assert_eq!(server.ask("GET", "/no-such-page", &[&cookie], "").status, 404);
    let mut guessed = cookie.clone();
    let last = guessed.pop();
    guessed.push(if last == Some('0') { '1' } else { '0' });
    assert_eq!(server.ask("GET", "/", &[&guessed], "").status, 401);
    // The secret is neither in the folder nor readable by others.
    let folder = bench.path("workshop.records.door");
    let token = cookie.split_once('=').unwrap().1;
    for entry in std::fs::read_dir(&folder).unwrap() {
        let path = entry.unwrap().path();
        let bytes = std::fs::read(&path).unwrap();
        assert!(!bytes.windows(token.len()).any(|part| part == token.as_bytes()), "{}", path.display());
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            assert_eq!(
                std::fs::metadata(&path).unwrap().permissions().mode() & 0o077,
                0,
                "{}",
                path.display()
            );
        }
    }
}

#[test]
fn a_page_of_elsewhere_changes_nothing_and_a_name_that_is_led_astray_is_not_answered() {
    let bench = bench();
    let server = here(&bench);
    let cookie = server.let_in("this machine");
    let ours = format!("Origin: {}", server.origin());
    // The way of our own page, so that what follows fails for the one reason only.
    assert_eq!(server.ask("POST", "/no-such-page", &[&cookie, &ours], "").status, 404);
    for lines in [
        &["Origin: https://workshop.example"] as &[&str],
        &["Origin: null"],
        &[],
        &["Sec-Fetch-Site: cross-site"],
        &["Sec-Fetch-Site: same-site"],
        &["Origin: http://127.0.0.1:1"],
    ] {
        let mut all = vec![cookie.as_str()];
        all.extend(lines);
        assert_eq!(server.ask("POST", "/no-such-page", &all, "").status, 403, "{lines:?}");
    }
    let socket = ["Connection: Upgrade", "Upgrade: websocket", "Sec-WebSocket-Version: 13"];
    let mut all = vec![cookie.as_str(), "Origin: https://workshop.example"];
    all.extend(socket);
    assert_eq!(server.ask("GET", "/", &all, "").status, 403);
    for host in ["workshop.example", "workshop.example:8090", "127.0.0.1", "127.0.0.1:1", ""] {
        let answer = server.ask("GET", "/", &[&cookie, &format!("Host: {host}")], "");
        assert_eq!(answer.status, 421, "{host}");
    }
    let named = format!("Host: localhost:{}", server.at.port());
    assert_eq!(server.ask("GET", "/", &[&cookie, &named], "").status, 200);
}

#[test]
fn too_much_and_too_slow_is_not_taken() {
    let bench = bench();
    let server = here(&bench);
    let cookie = server.let_in("this machine");
    let ours = format!("Origin: {}", server.origin());
    let big = "x".repeat(65_537);
    assert_eq!(server.ask("POST", "/no-such-page", &[&cookie, &ours], &big).status, 413);
    // A head without an end, however it is fed, and one of many megabytes.
    let mut slow = server.connect();
    let begun = Instant::now();
    slow.write_all(b"GET / HTTP/1.1\r\n").unwrap();
    let feeding = std::thread::spawn({
        let mut other = TcpStream::connect(server.at).unwrap();
        move || {
            other.write_all(b"GET / HTTP/1.1\r\n").unwrap();
            for number in 0..60 {
                std::thread::sleep(Duration::from_millis(500));
                if other.write_all(format!("X-{number}: 1\r\n").as_bytes()).is_err() {
                    return true;
                }
            }
            false
        }
    });
    let answer = server.raw(&format!("GET / HTTP/1.1\r\nX: {}", "y".repeat(2_000_000)));
    assert!([431, 0].contains(&answer.status), "{answer:?}");
    let mut rest = Vec::new();
    let _ = slow.read_to_end(&mut rest);
    assert!(begun.elapsed() < Duration::from_secs(30), "a silent head: {:?}", begun.elapsed());
    assert!(feeding.join().unwrap(), "a head that is fed slowly has no end");
    assert_eq!(server.ask("GET", "/", &[&cookie], "").status, 200, "others are served meanwhile");
}

#[test]
fn over_the_network_only_tls_with_the_certificate_that_was_shown() {
    let bench = bench();
    let server = on_the_network(&bench);
    let fingerprint = server.fingerprint();
    assert_eq!(fingerprint.len(), 64);
    assert_eq!(server.ask("GET", "/", &[], "").status, 401, "TLS with that fingerprint");
    let other = fingerprint.replace(|digit: char| digit.is_ascii_digit(), "f");
    let error = pinned(TcpStream::connect(server.at).unwrap(), &other).map(|_| ()).unwrap_err();
    assert!(error.to_string().contains("another certificate"), "{error}");
    // Plainly spoken: nothing but how to come in.
    let mut spoken = TcpStream::connect(server.at).unwrap();
    spoken.write_all(format!("GET / HTTP/1.1\r\nHost: {}\r\n\r\n", server.at).as_bytes()).unwrap();
    let mut answer = String::new();
    spoken.read_to_string(&mut answer).unwrap();
    assert!(answer.starts_with("HTTP/1.1 400 ") && answer.ends_with("with https:// please.\n"), "{answer}");
    // The same certificate after a new start, and another one after it was made anew.
    drop(server);
    let again = on_the_network(&bench);
    assert_eq!(again.fingerprint(), fingerprint);
    let shown = bench.run(&["bay", "certificate", "show", "--store", "workshop.records"]);
    assert!(plain(&shown.out).contains(&fingerprint), "{}", shown.out);
    let renewed = bench.run(&["bay", "certificate", "renew", "--store", "workshop.records"]);
    assert_eq!(renewed.status, 0, "{}", renewed.err);
    assert_eq!(again.ask("GET", "/", &[], "").status, 401, "a running bay keeps the one that it showed");
    drop(again);
    let third = on_the_network(&bench);
    assert_ne!(third.fingerprint(), fingerprint);
    assert!(plain(&renewed.out).contains(&third.fingerprint()), "{}", renewed.out);
}

#[test]
fn a_code_lets_one_device_in_and_a_guess_none() {
    let bench = bench();
    let server = on_the_network(&bench);
    let ours = format!("Origin: {}", server.origin());
    let pair = |code: &str, name: &str| {
        server.ask("POST", "/pair", &[&ours], &format!("code={code}&name={name}&person="))
    };
    let first = server.shown("code         ");
    assert_eq!(pair(&first, "+").status, 400, "a device without a name, and the code is not lost");
    let cookie = server.let_in("tablet lift 2");
    assert!(cookie.starts_with("Cookie: __Host-dwell-"), "{cookie}");
    assert_eq!(server.ask("GET", "/", &[&cookie], "").status, 200);
    let known = server.ask("GET", "/pair", &[&cookie], "");
    assert!(known.body.contains("tablet lift 2 (Ines)"), "{}", known.body);
    assert_eq!(pair(&first, "tablet").status, 403, "it was used");
    // A scanned address only fills the field in.
    let code = || {
        let shown = bench.run(&["bay", "pair", "--store", &server.store]);
        assert_eq!(shown.status, 0, "{}", shown.err);
        let (_, rest) = shown.out.split_once("code         ").unwrap();
        rest.split_whitespace().next().unwrap().to_owned()
    };
    let second = code();
    for _ in 0..3 {
        let scanned = server.ask("GET", &format!("/pair?code={second}"), &[], "");
        assert!(
            scanned.status == 200 && scanned.body.contains(&format!("value=\"{second}\"")),
            "{}",
            scanned.body
        );
    }
    assert_eq!(
        server.ask("POST", "/pair", &[], &format!("code={second}&name=x&person=")).status,
        403,
        "no origin"
    );
    // Two wrong ones more are free, then there is a wait, during which the right one is not looked at either.
    assert_eq!(pair("0000-0000", "guess").status, 403);
    let third = pair("0000-0001", "guess");
    assert_eq!(third.status, 403, "{third:?}");
    let wait = pair(&second, "tablet");
    assert_eq!(wait.status, 429, "{wait:?}");
    let seconds: u64 = wait.header("retry-after").unwrap().parse().unwrap();
    assert!((1..=3).contains(&seconds));
    assert!(wait.body.contains("was not looked at"));
    std::thread::sleep(Duration::from_secs(seconds));
    assert_eq!(pair(&second, "tablet").status, 303, "and after the wait it is");
    assert!(server.said.lock().unwrap().contains("tablet lift 2 (Ines) may come in now"));
}

#[test]
fn a_device_that_is_revoked_is_out_within_a_second() {
    let bench = bench();
    let server = on_the_network(&bench);
    let cookie = server.let_in("tablet lift 2");
    let added = bench.run(&["bay", "devices", "add", "gateway 1", "--store", &server.store]);
    assert_eq!(added.status, 0, "{}", added.err);
    let bearer = format!("Authorization: Bearer {}", added.out.trim());
    std::thread::sleep(Duration::from_millis(1000));
    assert_eq!(server.ask("GET", "/", &[&bearer], "").status, 200);
    assert_eq!(server.ask("POST", "/no-such-page", &[&bearer], "").status, 404, "a program needs no origin");
    let listed = bench.run(&["bay", "devices", "list", "--store", &server.store]);
    for part in ["tablet lift 2, Ines", "gateway 1", "2 devices may come in"] {
        assert!(listed.out.contains(part), "{part}\n{}", listed.out);
    }
    assert!(!listed.out.contains(added.out.trim()));
    for (name, line) in [("tablet lift 2", &cookie), ("2", &bearer)] {
        let out = bench.run(&["bay", "devices", "revoke", name, "--store", &server.store]);
        assert!(out.status == 0 && out.out.contains("may no longer come in"), "{}{}", out.out, out.err);
        std::thread::sleep(Duration::from_millis(1000));
        assert_eq!(server.ask("GET", "/", &[line], "").status, 401, "{name}");
    }
    let none = bench.run(&["bay", "devices", "revoke", "tablet lift 2", "--store", &server.store]);
    assert!(none.status == 2 && none.says("no device `tablet lift 2` may come in"), "{}", none.err);
}

#[test]
fn what_is_decided_at_the_door_says_what_is_missing() {
    let bench = bench();
    let none = bench.run(&["bay", "devices", "list", "--store", "none.records"]);
    assert!(none.status == 2 && none.says("there are no records none.records"), "{}", none.err);
    assert!(!bench.path("none.records.door").exists(), "and nothing is made");
    let server = here(&bench);
    let pair = bench.run(&["bay", "pair", "--store", "workshop.records"]);
    assert!(
        pair.status == 2 && pair.says("no bay was ever open to the network with these records"),
        "{}",
        pair.err
    );
    let show = bench.run(&["bay", "certificate", "show", "--store", "workshop.records"]);
    assert!(show.status == 2 && show.says("there is no certificate yet"), "{}", show.err);
    let taken = format!("{}", server.at.port());
    let second = bench.run(&["bay", "belt.dwell", "--port", &taken, "--store", "workshop.records"]);
    assert!(second.status == 2 && second.says("nothing can be served at 127.0.0.1"), "{}", second.err);
}

#[cfg(unix)]
#[test]
fn it_ends_within_three_seconds_of_ctrl_c_with_connections_open() {
    let bench = bench();
    let mut server = here(&bench);
    let mut idle = server.connect();
    idle.write_all(b"GET / HTTP/1.1\r\n").unwrap();
    let begun = Instant::now();
    let sent =
        std::process::Command::new("kill").args(["-INT", &server.child.id().to_string()]).status().unwrap();
    assert!(sent.success());
    let status = server.child.wait().unwrap();
    assert!(status.success() && begun.elapsed() < Duration::from_secs(3), "{status} {:?}", begun.elapsed());
}
