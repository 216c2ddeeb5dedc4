//! Addresses of documents, and the paths that they stand for. Only `file:` leads to the disk.

use super::disk::{plain, shown};
use std::path::Path;
use tower_lsp::ls_types::Uri;

/// What a document is known by here: the path of a file, however its address is spelt, or else the address itself.
pub(crate) fn key(uri: &Uri) -> String {
    if !is_file(uri) {
        return uri.as_str().to_owned();
    }
    match uri.to_file_path() {
        Some(path) => small_drive(shown(&plain(&path))),
        None => uri.as_str().to_owned(),
    }
}

/// The address of a file; none of what is no file.
pub(crate) fn address(key: &str) -> Option<Uri> {
    if Path::new(key).is_absolute() {
        Uri::from_file_path(key)
    } else {
        key.parse().ok().filter(|_| key.contains(':'))
    }
}

fn is_file(uri: &Uri) -> bool {
    uri.as_str().get(..5).is_some_and(|scheme| scheme.eq_ignore_ascii_case("file:"))
}

/// `C:/a` and `c:/a` are one file.
fn small_drive(path: String) -> String {
    let mut letters = path.chars();
    match (letters.next(), letters.next()) {
        (Some(drive), Some(':')) if drive.is_ascii_uppercase() => {
            format!("{}{}", drive.to_ascii_lowercase(), path.get(1..).unwrap_or_default())
        }
        _ => path,
    }
}

#[cfg(test)]
mod tests {
    use super::{Uri, address, key};
    use std::str::FromStr;

    fn of(uri: &str) -> String {
        Uri::from_str(uri).map(|uri| key(&uri)).unwrap_or_default()
    }

    #[test]
    fn one_file_has_one_key_however_it_is_spelt() {
        assert_eq!(of("file:///w/a%20b(1).dwell"), "/w/a b(1).dwell");
        assert_eq!(of("file:///w/x/../a%20b%281%29.dwell"), "/w/a b(1).dwell");
        assert_eq!(of("FILE:///w/gr%C3%B6%C3%9Fe.dwell"), "/w/größe.dwell");
    }

    #[test]
    fn what_is_no_file_stays_apart_from_the_file_of_the_same_path() {
        assert_eq!(of("untitled:Untitled-1"), "untitled:Untitled-1");
        assert_eq!(of("git:/w/a.dwell?x"), "git:/w/a.dwell?x");
        assert_eq!(
            address("untitled:Untitled-1").map(|uri| uri.as_str().to_owned()),
            Some("untitled:Untitled-1".into())
        );
        assert_eq!(
            address("/w/a b.dwell").map(|uri| uri.as_str().to_owned()),
            Some("file:///w/a%20b.dwell".into())
        );
        assert_eq!(address("<prelude>"), None);
    }
}
