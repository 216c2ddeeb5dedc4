//! Paths as URIs: the examples of RFC 8089 (file URIs) and RFC 3986 (percent-encoding).

use crate::{Base, Link};

fn base() -> Base {
    Base { here: "/home/ann/library/brakes".into(), top: "/home/ann/library".into(), links: vec![] }
}

#[test]
fn a_path_is_relative_to_the_top_and_percent_encoded() {
    // RFC 3986 section 2.1 and 2.3: all but letters, digits and - . _ ~ as %XX of its UTF-8 bytes.
    assert_eq!(base().uri("a b#1é%.dwell"), ("brakes/a%20b%231%C3%A9%25.dwell".to_owned(), true));
    assert_eq!(base().uri("../wheels/./bolts.dwell"), ("wheels/bolts.dwell".to_owned(), true));
    assert_eq!(base().uri("/home/ann/library/x.dwell"), ("x.dwell".to_owned(), true));
}

#[test]
fn what_lies_outside_has_a_whole_uri() {
    // RFC 8089 section 2: file:///path/to/file.
    assert_eq!(base().uri("/tmp/x.dwell"), ("file:///tmp/x.dwell".to_owned(), false));
    assert_eq!(
        base().uri("../../library-2/x.dwell"),
        ("file:///home/ann/library-2/x.dwell".to_owned(), false)
    );
}

#[test]
fn a_link_into_the_repository_is_followed() {
    let link = Link { written: "/link".into(), real: "/home/ann/library/wheels".into() };
    let base = Base { links: vec![link], ..base() };
    assert_eq!(base.uri("/link/bolts.dwell"), ("wheels/bolts.dwell".to_owned(), true));
    assert_eq!(base.uri("/linked/x.dwell"), ("file:///linked/x.dwell".to_owned(), false));
    assert_eq!(base.uri("bolts.dwell"), ("brakes/bolts.dwell".to_owned(), true));
}

#[test]
fn a_drive_is_no_relative_path() {
    // RFC 8089 appendix E.2: file:///c:/path/to/file.
    let base = Base { here: "C:/src/library".into(), top: "C:/src/library".into(), links: vec![] };
    assert_eq!(base.uri("D:/a.dwell"), ("file:///D:/a.dwell".to_owned(), false));
    assert_eq!(base.uri("C:/src/library/a.dwell"), ("a.dwell".to_owned(), true));
    assert_eq!(base.top_uri(), "file:///C:/src/library/");
}

#[test]
fn the_top_ends_with_a_slash() {
    assert_eq!(base().top_uri(), "file:///home/ann/library/");
    assert_eq!(Base { here: "/".into(), top: "/".into(), links: vec![] }.top_uri(), "file:///");
}
