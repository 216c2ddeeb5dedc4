//! Paths as URIs: relative to the top folder of the repository where they lie in it, percent-encoded as RFC 3986 says.

/// Where the work is done.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Base {
    /// The folder that relative paths begin at, absolute, with forward slashes.
    pub here: String,
    /// The top folder of the repository, absolute, with forward slashes; where there is none, `here` again.
    pub top: String,
    /// What is written as if it lay outside and really lies in the repository.
    pub links: Vec<Link>,
}

/// A path that goes through a link.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// As it is written, absolute, with forward slashes.
    pub written: String,
    /// Where it really leads, absolute, with forward slashes.
    pub real: String,
}

impl Base {
    /// The URI of the top folder, `file:///…/`, with a slash at its end.
    pub fn top_uri(&self) -> String {
        let uri = absolute_uri(&parts(&self.top));
        if uri.ends_with('/') { uri } else { format!("{uri}/") }
    }

    /// The URI of a path as it is shown, and whether it is relative to the top folder. What lies outside gets a whole
    /// `file:` URI.
    pub fn uri(&self, path: &str) -> (String, bool) {
        let path = if is_absolute(path) { path.to_owned() } else { format!("{}/{path}", self.here) };
        let whole = self.real(parts(&path));
        match whole.strip_prefix(parts(&self.top).as_slice()) {
            Some(inside) if !inside.is_empty() => (encoded(inside), true),
            _ => (absolute_uri(&whole), false),
        }
    }

    /// The names of a path with the link that it goes through, if any, followed.
    fn real<'a>(&'a self, path: Vec<&'a str>) -> Vec<&'a str> {
        let followed = |link: &'a Link| {
            let rest = path.strip_prefix(parts(&link.written).as_slice())?;
            Some([parts(&link.real).as_slice(), rest].concat())
        };
        self.links.iter().find_map(followed).unwrap_or(path)
    }
}

/// With a root as on Unix, or a drive as on Windows.
fn is_absolute(path: &str) -> bool {
    path.starts_with('/') || drive(path.split('/').next().unwrap_or_default())
}

fn drive(part: &str) -> bool {
    matches!(part.as_bytes(), [letter, b':'] if letter.is_ascii_alphabetic())
}

/// The names of a path, without `.` and `name/..`.
fn parts(path: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    for part in path.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                parts.pop();
            }
            name => parts.push(name),
        }
    }
    parts
}

fn absolute_uri(parts: &[&str]) -> String {
    match parts.split_first() {
        Some((first, rest)) if drive(first) && rest.is_empty() => format!("file:///{first}/"),
        Some((first, rest)) if drive(first) => format!("file:///{first}/{}", encoded(rest)),
        _ => format!("file:///{}", encoded(parts)),
    }
}

/// The names joined by slashes, each with all but RFC 3986's unreserved characters as `%XX`.
fn encoded(parts: &[&str]) -> String {
    let mut uri = String::new();
    for (place, part) in parts.iter().enumerate() {
        if place > 0 {
            uri.push('/');
        }
        for byte in part.bytes() {
            if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~') {
                uri.push(char::from(byte));
            } else {
                uri.push_str(&format!("%{byte:02X}"));
            }
        }
    }
    uri
}
