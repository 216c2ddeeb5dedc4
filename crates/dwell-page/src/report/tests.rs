//! Reports of small records.

use super::{Job, report};
use crate::Paper;
use dwell_record::{Event, Hash, read_line};

fn events(more: &[String]) -> Vec<Event> {
    let begun = r#""begun":{"format":2,"card":"c0ffee","procedure":"belt","title":"Belt & <braces>","program":"dwell"}"#;
    let all = std::iter::once(begun.to_owned()).chain(more.iter().cloned());
    let line = |(seq, what): (u64, String)| {
        let text = format!(r#"{{"seq":{seq},"at":"2031-04-12T09:05:00+02:00","what":{{{what}}}}}"#);
        read_line(&text, 1).unwrap()
    };
    (1..).zip(all).map(line).collect()
}

fn page(events: &[Event], photos: &[(String, Vec<u8>)]) -> String {
    report(&Job { number: Some(7), events, last: None, photos }, Paper::Letter)
}

#[test]
fn a_photo_is_shown_where_it_is_the_one_of_the_record() {
    let hash = Hash::of(b"a picture").to_string();
    let photo = |media: &str| {
        events(&[format!(
            r#""photo-taken":{{"sha256":"{hash}","media":"{media}","bytes":9,"says":"Look at <it>.","text":"a crack"}}"#
        )])
    };
    let at_hand = [(hash.clone(), b"a picture".to_vec())];
    let shown = page(&photo("image/png"), &at_hand);
    assert!(
        shown.contains("<img src=\"data:image/png;base64,YSBwaWN0dXJl\" alt=\"Look at &lt;it&gt;.\">"),
        "{shown}"
    );
    assert!(
        shown.contains(&hash) && shown.contains("a crack") && shown.contains("2031-04-12 09:05 +02:00"),
        "{shown}"
    );
    // Another picture under the same hash, none at all, and a kind that can hold a program.
    let other = page(&photo("image/png"), &[(hash.clone(), b"another picture".to_vec())]);
    assert!(other.contains("is not the one that was taken") && !other.contains("<img"), "{other}");
    assert!(page(&photo("image/png"), &[]).contains("The picture is not at hand."));
    let drawing = page(&photo("image/svg+xml"), &at_hand);
    assert!(drawing.contains("which is not shown here") && !drawing.contains("<img"), "{drawing}");
}

#[test]
fn what_stands_in_a_record_stays_a_text() {
    let page = page(&events(&[r#""stopped":{"text":"smoke <b>"}"#.to_owned()]), &[]);
    assert!(page.contains("Belt &amp; &lt;braces&gt;") && page.contains("smoke &lt;b&gt;"), "{page}");
    // It is not over, its number is there, and without a chain that is said.
    for part in ["This job is not over.", "number 7", "of format 1, which has no chain", "size: letter"] {
        assert!(page.contains(part), "{part}: {page}");
    }
}

#[test]
fn a_record_without_its_beginning_is_no_fault() {
    assert!(page(&[], &[]).contains("A record without its beginning"));
}
