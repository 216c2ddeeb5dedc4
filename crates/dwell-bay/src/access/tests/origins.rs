//! By which name, and from which page.

use crate::access::host::Hosts;
use crate::access::origin::from_here;
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, Uri};

fn headers(lines: &[(&str, &str)]) -> HeaderMap {
    let mut headers = HeaderMap::new();
    for (name, value) in lines {
        headers.append(name.parse::<HeaderName>().unwrap(), HeaderValue::from_str(value).unwrap());
    }
    headers
}

fn called(host: &str) -> Option<String> {
    called_at("/", &[("host", host)])
}

fn called_at(uri: &str, lines: &[(&str, &str)]) -> Option<String> {
    let names = ["localhost", "lift2", "lift2.local"].map(str::to_owned).into();
    let hosts = Hosts { names, usual_port: 443 };
    hosts.called(&uri.parse::<Uri>().unwrap(), &headers(lines), "192.168.1.20:8420".parse().unwrap())
}

#[test]
fn the_server_answers_to_its_own_names_and_address() {
    for (host, shown) in [
        ("192.168.1.20:8420", "192.168.1.20:8420"),
        ("lift2:8420", "lift2:8420"),
        ("LIFT2.local:8420", "lift2.local:8420"),
        ("lift2.local.:8420", "lift2.local:8420"),
        ("[::ffff:192.168.1.20]:8420", "[::ffff:192.168.1.20]:8420"),
    ] {
        assert_eq!(called(host).as_deref(), Some(shown), "{host}");
    }
}

#[test]
fn it_does_not_answer_to_others() {
    for host in [
        "",
        "workshop.example",
        "workshop.example:8420",
        "lift2.local.example:8420",
        "192.168.1.21:8420",
        "127.0.0.1:8420",
        "192.168.1.20",
        "192.168.1.20:443",
        "192.168.1.20:",
        "192.168.1.20:+8420",
        "192.168.1.20:8420:8420",
        "192.168.1.20:8420@workshop.example",
        "user@192.168.1.20:8420",
        "lift2:99999",
        "[::1]:8420",
        "[192.168.1.20",
        ".:8420",
    ] {
        assert_eq!(called(host), None, "{host}");
    }
    assert_eq!(called_at("/", &[]), None, "none at all");
    assert_eq!(
        called_at("/", &[("host", "lift2:8420"), ("host", "workshop.example:8420")]),
        None,
        "two of them"
    );
    assert_eq!(
        called_at("https://workshop.example:8420/", &[("host", "lift2:8420")]),
        None,
        "another in the address"
    );
    assert!(called_at("https://lift2:8420/", &[("host", "lift2:8420")]).is_some(), "the same in the address");
}

#[test]
fn the_usual_port_is_said_by_nobody() {
    let hosts = Hosts { names: ["lift2".to_owned()].into(), usual_port: 443 };
    let at = |host: &str| {
        hosts.called(&Uri::from_static("/"), &headers(&[("host", host)]), "10.0.0.1:443".parse().unwrap())
    };
    assert_eq!(at("lift2").as_deref(), Some("lift2"));
    assert_eq!(at("lift2:443").as_deref(), Some("lift2"), "a browser leaves it out of the origin");
    assert_eq!(at("lift2:80"), None);
}

const OURS: &str = "https://192.168.1.20:8420";

fn asked(method: &Method, lines: &[(&str, &str)], sent_along: bool) -> bool {
    from_here(method, &headers(lines), OURS, sent_along)
}

#[test]
fn our_own_page_may_ask_and_change() {
    for method in [Method::GET, Method::POST] {
        assert!(asked(&method, &[("origin", OURS)], true));
        assert!(asked(&method, &[("origin", OURS), ("sec-fetch-site", "same-origin")], true));
        assert!(asked(&method, &[("sec-fetch-site", "same-origin")], true));
    }
    assert!(asked(&Method::GET, &[], true), "an old browser opens a page");
    assert!(
        asked(&Method::GET, &[("sec-fetch-site", "none"), ("sec-fetch-mode", "navigate")], true),
        "typed in"
    );
}

#[test]
fn a_page_of_elsewhere_may_not() {
    for origin in [
        "https://workshop.example",
        "http://192.168.1.20:8420",
        "https://192.168.1.20",
        "https://192.168.1.20:8421",
        "https://192.168.1.20:8420.workshop.example",
        "https://192.168.1.20:84200",
        "null",
        "",
    ] {
        for method in [Method::GET, Method::POST, Method::PUT, Method::DELETE] {
            for sent_along in [true, false] {
                assert!(!asked(&method, &[("origin", origin)], sent_along), "{method} {origin}");
            }
        }
    }
    assert!(
        !asked(&Method::POST, &[("origin", OURS), ("origin", "https://workshop.example")], true),
        "two of them"
    );
    for site in ["cross-site", "same-site", "something new"] {
        assert!(!asked(&Method::POST, &[("sec-fetch-site", site)], true), "{site}");
        assert!(
            !asked(&Method::GET, &[("sec-fetch-site", site), ("sec-fetch-mode", "no-cors")], true),
            "{site}"
        );
    }
}

#[test]
fn a_change_says_where_it_comes_from() {
    assert!(!asked(&Method::POST, &[], true), "a browser that says nothing");
    assert!(!asked(&Method::POST, &[("sec-fetch-site", "none")], true));
    assert!(!asked(&Method::GET, &[("upgrade", "websocket")], true), "a socket that says nothing");
    assert!(asked(&Method::GET, &[("upgrade", "websocket"), ("origin", OURS)], true));
    assert!(asked(&Method::POST, &[], false), "a program that shows its token on purpose");
}

#[test]
fn a_link_from_elsewhere_shows_a_page() {
    let link =
        [("sec-fetch-site", "cross-site"), ("sec-fetch-mode", "navigate"), ("sec-fetch-dest", "document")];
    assert!(asked(&Method::GET, &link, true));
    assert!(!asked(&Method::POST, &link, true));
    let framed =
        [("sec-fetch-site", "cross-site"), ("sec-fetch-mode", "navigate"), ("sec-fetch-dest", "iframe")];
    assert!(!asked(&Method::GET, &framed, true));
}
