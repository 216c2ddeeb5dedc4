//! The folder and the certificate: who may read them, how long they hold.

use super::devices::now;
use crate::access::{AccessError, Certificate, Folder, Kept, Machine};
use std::fs;
use time::Duration;

fn folder() -> (tempfile::TempDir, Folder) {
    let folder = tempfile::tempdir().unwrap();
    let door = Folder::beside(&folder.path().join("workshop.records")).unwrap();
    (folder, door)
}

fn machine() -> Machine {
    Machine { name: Some("lift2".to_owned()), addresses: vec!["192.168.1.20".parse().unwrap()] }
}

#[test]
fn a_certificate_is_made_once_and_kept() {
    let (_folder, door) = folder();
    let (made, how) = Certificate::kept(&door, &machine(), now()).unwrap();
    assert_eq!(how, Kept::MadeFirst);
    assert_eq!(made.until, Some(now() + Duration::days(397)));
    assert_eq!(made.names, ["lift2", "lift2.local", "localhost", "127.0.0.1", "192.168.1.20"]);
    let (again, how) = Certificate::kept(&door, &machine(), now() + Duration::days(360)).unwrap();
    assert_eq!((how, again.fingerprint()), (Kept::AsItWas, made.fingerprint()));
    crate::access::listen::tls(&again).unwrap();
}

#[test]
fn a_certificate_is_made_anew_with_a_new_key_before_it_runs_out() {
    let (_folder, door) = folder();
    let (made, _) = Certificate::kept(&door, &machine(), now()).unwrap();
    let key = fs::read_to_string(door.file("key.pem")).unwrap();
    let (renewed, how) = Certificate::kept(&door, &machine(), now() + Duration::days(368)).unwrap();
    assert_eq!(how, Kept::Renewed);
    assert_ne!(renewed.fingerprint(), made.fingerprint());
    assert_ne!(fs::read_to_string(door.file("key.pem")).unwrap(), key);
}

#[test]
fn a_fingerprint_is_that_of_the_certificate() {
    let (_folder, door) = folder();
    let (made, _) = Certificate::kept(&door, &machine(), now()).unwrap();
    let shown = made.fingerprint();
    assert_eq!((shown.len(), shown.split(':').count()), (95, 32));
    // A second opinion where openssl is installed.
    let asked = std::process::Command::new("openssl")
        .args(["x509", "-noout", "-fingerprint", "-sha256", "-ext", "subjectAltName", "-in"])
        .arg(door.file("certificate.pem"))
        .output();
    if let Ok(told) = asked {
        let told = String::from_utf8_lossy(&told.stdout).into_owned();
        assert!(told.contains(&shown), "{told}");
        assert!(told.contains("DNS:lift2.local") && told.contains("IP Address:192.168.1.20"), "{told}");
    }
}

#[test]
fn an_address_that_came_later_is_told() {
    let (_folder, door) = folder();
    let (made, _) = Certificate::kept(&door, &machine(), now()).unwrap();
    let mut moved = machine();
    moved.addresses.push("10.0.0.7".parse().unwrap());
    assert_eq!((made.missing(&machine()), made.missing(&moved)), (Vec::new(), vec!["10.0.0.7".to_owned()]));
}

#[test]
fn what_a_house_has_put_there_itself_is_used_and_not_made_anew() {
    let (_folder, door) = folder();
    let (made, _) = Certificate::kept(&door, &machine(), now()).unwrap();
    // Without the two lines that we write before the block, nothing is known of it but the certificate itself.
    let text = fs::read_to_string(door.file("certificate.pem")).unwrap();
    fs::write(door.file("certificate.pem"), text.get(text.find("-----BEGIN").unwrap()..).unwrap()).unwrap();
    let (found, how) = Certificate::kept(&door, &machine(), now() + Duration::days(5000)).unwrap();
    assert_eq!((how, found.fingerprint()), (Kept::AsItWas, made.fingerprint()));
    assert_eq!(found.missing(&machine()), Vec::<String>::new());
}

#[test]
fn what_cannot_be_read_is_an_error_and_stays() {
    let (_folder, door) = folder();
    Certificate::kept(&door, &machine(), now()).unwrap();
    fs::write(door.file("certificate.pem"), "half of someth").unwrap();
    let error = Certificate::kept(&door, &machine(), now()).unwrap_err();
    assert!(matches!(error, AccessError::Certificate { .. }));
    assert!(error.to_string().contains("dwell bay certificate renew"), "{error}");
    assert_eq!(fs::read_to_string(door.file("certificate.pem")).unwrap(), "half of someth");
    Certificate::made(&door, &machine(), now()).unwrap();
    Certificate::kept(&door, &machine(), now()).unwrap();
}

#[cfg(unix)]
#[test]
fn nobody_but_the_owner_reads_what_is_secret() {
    use std::os::unix::fs::PermissionsExt;
    let (folder, door) = folder();
    let rights = |path: &std::path::Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    Certificate::kept(&door, &machine(), now()).unwrap();
    crate::access::Devices::open(&door).unwrap();
    assert_eq!(rights(&door.file("")), 0o700);
    for name in ["key.pem", "devices.sqlite"] {
        assert_eq!(rights(&door.file(name)), 0o600, "{name}");
        fs::set_permissions(door.file(name), fs::Permissions::from_mode(0o644)).unwrap();
    }
    fs::set_permissions(door.file(""), fs::Permissions::from_mode(0o755)).unwrap();
    // Rights that were opened by mistake are shut again.
    let door = Folder::beside(&folder.path().join("workshop.records")).unwrap();
    Certificate::kept(&door, &machine(), now()).unwrap();
    crate::access::Devices::open(&door).unwrap();
    for name in ["", "key.pem", "devices.sqlite"] {
        assert_eq!(rights(&door.file(name)) & 0o077, 0, "{name}");
    }
}
