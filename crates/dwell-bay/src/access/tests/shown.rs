//! What the machine shows.

use crate::access::secret::Code;
use crate::access::{Invitation, Picture};

fn invitation() -> Invitation {
    Invitation {
        addresses: vec!["https://192.168.100.200:8420".to_owned(), "https://lift2:8420".to_owned()],
        code: Code::typed("7K3M-9QXT").unwrap(),
        fingerprint: (0..32).map(|byte| format!("{:02X}", byte * 7)).collect::<Vec<_>>().join(":"),
    }
}

#[test]
fn everything_that_is_compared_or_typed_stands_there() {
    let lines = invitation().lines(None);
    let all = lines.join("\n");
    for part in [
        "https://192.168.100.200:8420/pair",
        "https://lift2:8420/pair",
        "7K3M-9QXT",
        "10 minutes",
        "00:07:0E",
    ] {
        assert!(all.contains(part), "{part}\n{all}");
    }
    assert!(lines.iter().all(|line| line.chars().count() <= 80), "{all}");
}

#[test]
fn the_picture_holds_address_code_and_fingerprint() {
    let address = invitation().address();
    assert!(address.starts_with("https://192.168.100.200:8420/pair?code=7K3M-9QXT#sha256=00070e"));
    assert_eq!(address.split_once("#sha256=").unwrap().1.len(), 64);
}

#[test]
fn the_picture_fits_on_a_terminal_of_eighty_columns() {
    for (picture, wide) in [(Picture::Coloured, 57), (Picture::Blocks, 57), (Picture::Ascii, 114)] {
        let lines = invitation().lines(Some(picture));
        let squares: Vec<&String> =
            lines.iter().skip_while(|line| !line.contains("camera")).skip(2).collect();
        let squares: Vec<&&String> = squares.iter().take_while(|line| !line.is_empty()).collect();
        let plain = |line: &str| line.replace("\u{1b}[30;47m", "").replace("\u{1b}[0m", "").chars().count();
        let widths: Vec<usize> = squares.iter().map(|line| plain(line)).collect();
        assert!(widths.iter().all(|width| *width == widths[0] && *width <= wide), "{picture:?} {widths:?}");
        assert!(squares.len() > 20);
    }
    let ascii = invitation().lines(Some(Picture::Ascii));
    assert!(ascii.iter().all(|line| line.is_ascii() || !line.contains('#')));
}
