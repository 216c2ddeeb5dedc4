//! Who may come in, as it is kept.

use crate::access::devices::{CODE_HOLDS, named};
use crate::access::roster::Roster;
use crate::access::secret::Code;
use crate::access::{AccessError, Devices, Folder, Sort};
use crate::device::Device;
use time::{Duration, OffsetDateTime};

pub(super) fn now() -> OffsetDateTime {
    OffsetDateTime::from_unix_timestamp(1_930_000_000).unwrap()
}

fn devices() -> (tempfile::TempDir, Folder, Devices) {
    let folder = tempfile::tempdir().unwrap();
    let door = Folder::beside(&folder.path().join("workshop.records")).unwrap();
    let devices = Devices::open(&door).unwrap();
    (folder, door, devices)
}

#[test]
fn a_device_is_kept_without_its_token() {
    let (_folder, door, mut devices) = devices();
    let (known, token) = devices.let_in(Sort::Paired, " tablet  lift 2 ", Some("Ines"), now()).unwrap();
    assert_eq!((known.name.as_str(), known.person.as_deref()), ("tablet lift 2", Some("Ines")));
    assert_eq!(devices.all(now()).unwrap(), [known]);
    let kept = std::fs::read(door.file("devices.sqlite")).unwrap();
    let there = |text: &str| kept.windows(text.len()).any(|window| window == text.as_bytes());
    assert!(there("tablet lift 2") && there(&token.hash()) && !there(token.shown()));
}

#[test]
fn a_device_that_is_shut_out_stays_out_and_its_number_is_not_given_again() {
    let (_folder, door, mut devices) = devices();
    let (first, token) = devices.let_in(Sort::Paired, "tablet", None, now()).unwrap();
    devices.let_in(Sort::Program, "gateway", None, now()).unwrap();
    assert_eq!(devices.shut_out(" tablet ", now()).unwrap().len(), 1);
    assert!(matches!(devices.shut_out("tablet", now()), Err(AccessError::NoSuchDevice { .. })));
    assert_eq!(devices.shut_out("2", now()).unwrap()[0].name, "gateway");
    let (third, _) = devices.let_in(Sort::Paired, "tablet", None, now()).unwrap();
    assert!(third.number > 2 && first.number == 1);
    let roster = Roster::new(Devices::open(&door).unwrap(), Device::default(), now()).unwrap();
    assert!(roster.who(token.shown(), now()).is_none());
}

#[test]
fn a_device_that_nobody_uses_is_forgotten_after_ninety_days() {
    let (_folder, door, mut devices) = devices();
    let (_, token) = devices.let_in(Sort::Paired, "tablet", None, now()).unwrap();
    let later = now() + Duration::days(89);
    let roster = Roster::new(Devices::open(&door).unwrap(), Device::default(), later).unwrap();
    assert!(roster.who(token.shown(), later).is_some(), "and this is noted");
    assert_eq!(devices.all(later + Duration::days(89)).unwrap().len(), 1);
    assert_eq!(devices.all(later + Duration::days(91)).unwrap().len(), 0);
    assert!(
        Roster::new(Devices::open(&door).unwrap(), Device::default(), later + Duration::days(91))
            .unwrap()
            .who(token.shown(), later)
            .is_none()
    );
}

#[test]
fn a_code_lets_one_device_in_once() {
    let (_folder, door, mut devices) = devices();
    let code = devices.code(now()).unwrap();
    let roster = Roster::new(Devices::open(&door).unwrap(), Device::default(), now()).unwrap();
    let wrong = Code::typed("0000-0000").unwrap();
    assert!(roster.pair(&wrong, "tablet", None, now()).unwrap().is_none());
    assert!(
        matches!(roster.pair(&code, "  ", None, now()), Err(AccessError::Name { .. })),
        "and the code is still good"
    );
    assert!(roster.pair(&code, "tablet", None, now()).unwrap().is_some());
    assert!(roster.pair(&code, "tablet", None, now()).unwrap().is_none());
}

#[test]
fn a_code_runs_out_and_a_new_one_takes_the_place_of_the_old() {
    let (_folder, _, mut devices) = devices();
    let code = devices.code(now()).unwrap();
    assert!(!devices.use_up(&code, now() + CODE_HOLDS).unwrap());
    assert!(devices.use_up(&code, now() + CODE_HOLDS - Duration::seconds(1)).unwrap());
    let (old, new) = (devices.code(now()).unwrap(), devices.code(now()).unwrap());
    assert!(!devices.use_up(&old, now()).unwrap());
    devices.withdraw_codes().unwrap();
    assert!(!devices.use_up(&new, now()).unwrap());
}

#[tokio::test]
async fn whoever_is_shut_out_by_another_program_is_cut_off() {
    let (_folder, door, mut devices) = devices();
    let (_, stays) = devices.let_in(Sort::Paired, "tablet 1", None, now()).unwrap();
    let (_, goes) = devices.let_in(Sort::Paired, "tablet 2", None, now()).unwrap();
    let roster = Roster::new(Devices::open(&door).unwrap(), Device::default(), now()).unwrap();
    let (mut one, mut two) =
        (roster.who(stays.shown(), now()).unwrap(), roster.who(goes.shown(), now()).unwrap());
    devices.shut_out("tablet 2", now()).unwrap();
    roster.look_again(now()).unwrap();
    assert!(roster.who(goes.shown(), now()).is_none());
    assert!(two.until.changed().await.is_err(), "its open connections end");
    assert!(!one.until.has_changed().unwrap(), "those of the other do not");
    roster.end();
    assert!(one.until.changed().await.is_err());
}

#[test]
fn names_can_be_read_by_others() {
    for (name, good) in [
        ("tablet lift 2", true),
        ("Prüfstand 3 – Halle B", true),
        (" ", false),
        ("a\u{202E}b", false),
        ("a\u{7}b", false),
        (&"x".repeat(61), false),
    ] {
        assert_eq!(named("A device", name).is_ok(), good, "{name}");
    }
}

#[test]
fn there_are_never_more_than_two_hundred() {
    let (_folder, _, mut devices) = devices();
    for number in 0..200 {
        devices.let_in(Sort::Here, &format!("browser {number}"), None, now()).unwrap();
    }
    assert!(matches!(
        devices.let_in(Sort::Here, "one more", None, now()),
        Err(AccessError::TooMany { most: 200 })
    ));
}

#[test]
fn a_file_of_another_program_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let door = Folder::beside(&folder.path().join("workshop.records")).unwrap();
    std::fs::write(door.file("devices.sqlite"), "these are notes of somebody's, and no database at all")
        .unwrap();
    assert!(matches!(Devices::open(&door), Err(AccessError::File { .. })));
    assert!(std::fs::read_to_string(door.file("devices.sqlite")).unwrap().starts_with("these are notes"));
}

#[test]
fn a_browser_of_this_machine_has_the_name_that_the_program_was_started_with() {
    let (_folder, door, devices) = devices();
    let own = |person: &str| Device {
        key: String::new(),
        name: Some("lift2".to_owned()),
        person: Some(person.to_owned()),
    };
    let roster = Roster::new(devices, own("Ines"), now()).unwrap();
    let (_, token) = roster.here(now()).unwrap();
    assert_eq!(roster.who(token.shown(), now()).unwrap().device.person.as_deref(), Some("Ines"));
    let roster = Roster::new(Devices::open(&door).unwrap(), own("Oskar"), now()).unwrap();
    let device = roster.who(token.shown(), now()).unwrap().device;
    assert_eq!((device.name.as_deref(), device.person.as_deref()), (Some("lift2"), Some("Oskar")));
}
