//! A device at a job: it reads what the page asks, and answers by the forms that stand there.

use super::server::{Answer, Server};
use crate::program::bench::Bench;

/// A device that was let in.
pub(crate) struct Screen<'s> {
    pub(crate) server: &'s Server,
    cookie: String,
    pub(crate) job: u32,
}

/// The value of an attribute, behind its first `NAME="`.
pub(crate) fn attribute(body: &str, name: &str) -> String {
    let (_, rest) = body.split_once(&format!("{name}=\"")).unwrap_or_else(|| panic!("no {name}: {body}"));
    rest.split('"').next().unwrap_or_default().to_owned()
}

/// The words of a page, without its tags.
pub(crate) fn words(body: &str) -> String {
    let mut out = String::new();
    for piece in body.split('<') {
        out.push(' ');
        out.push_str(piece.split_once('>').map_or("", |(_, words)| words));
    }
    let plain = out.replace("&quot;", "\"").replace("&amp;", "&").replace("&lt;", "<").replace("&gt;", ">");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn encoded(text: &str) -> String {
    text.bytes().map(|byte| format!("%{byte:02X}")).collect()
}

impl<'s> Screen<'s> {
    /// A device with a name, at no job yet.
    pub(crate) fn new(server: &'s Server, name: &str) -> Screen<'s> {
        Screen { server, cookie: server.let_in(name), job: 0 }
    }

    /// Another device of the network, let in with a code of its own.
    pub(crate) fn another(server: &'s Server, bench: &Bench, name: &str) -> Screen<'s> {
        let shown = bench.run(&["bay", "pair", "--store", &server.store]);
        assert_eq!(shown.status, 0, "{}", shown.err);
        let (_, rest) = shown.out.split_once("code         ").unwrap();
        let code = rest.split_whitespace().next().unwrap();
        let form = format!("code={code}&name={}&person=Ines", encoded(name));
        let answer = server.ask("POST", "/pair", &[&format!("Origin: {}", server.origin())], &form);
        assert_eq!(answer.status, 303, "{answer:?}");
        let cookie = answer.header("set-cookie").unwrap().split(';').next().unwrap();
        Screen { server, cookie: format!("Cookie: {cookie}"), job: 0 }
    }

    pub(crate) fn get(&self, path: &str) -> Answer {
        self.server.ask("GET", path, &[&self.cookie], "")
    }

    pub(crate) fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let body: Vec<String> =
            fields.iter().map(|(name, value)| format!("{name}={}", encoded(value))).collect();
        self.server.ask(
            "POST",
            path,
            &[&self.cookie, &format!("Origin: {}", self.server.origin())],
            &body.join("&"),
        )
    }

    /// A body of another kind.
    pub(crate) fn post_as(&self, path: &str, kind: &str, body: &str) -> Answer {
        let origin = format!("Origin: {}", self.server.origin());
        self.server.ask("POST", path, &[&self.cookie, &origin, &format!("Content-Type: {kind}")], body)
    }

    /// Begins a job by the first card that is offered.
    pub(crate) fn begin(&mut self, fields: &[(&str, &str)]) -> Answer {
        let first = self.get("/").body;
        let (_, rest) = first.split_once("/begin/").unwrap_or_else(|| panic!("nothing is offered: {first}"));
        let path = format!("/begin/{}", rest.split('"').next().unwrap_or_default());
        let form = self.get(&path).body;
        let (_, rest) = form.split_once("name=\"once\"").unwrap();
        let once = attribute(rest, "value");
        let mut all = vec![("once", once.as_str()), ("person", "Ada Roth")];
        all.extend_from_slice(fields);
        let answer = self.post(&path, &all);
        if let Some(job) = answer.header("location").and_then(|to| to.strip_prefix("/job/")) {
            self.job = job.parse().unwrap();
        }
        answer
    }

    /// What is shown now.
    pub(crate) fn now(&self) -> String {
        let answer = self.get(&format!("/job/{}/now", self.job));
        assert_eq!(answer.status, 200, "{answer:?}");
        answer.body
    }

    /// The words of it.
    pub(crate) fn reads(&self) -> String {
        words(&self.now())
    }

    pub(crate) fn moment(&self) -> String {
        attribute(&self.now(), "data-moment")
    }

    /// Sends a wish for a moment.
    pub(crate) fn at(&self, moment: &str, act: &str, fields: &[(&str, &str)]) -> Answer {
        let mut all = vec![("moment", moment), ("do", act)];
        all.extend_from_slice(fields);
        self.post(&format!("/job/{}/do", self.job), &all)
    }

    /// Sends a wish for this moment, which must be taken; what is shown then.
    pub(crate) fn does(&self, act: &str, fields: &[(&str, &str)]) -> String {
        let answer = self.at(&self.moment(), act, fields);
        assert_eq!(answer.status, 303, "{}", words(&answer.body));
        self.reads()
    }
}
