//! Guessing a code takes longer and longer.

use crate::access::waits::Waits;
use std::net::{IpAddr, Ipv4Addr};
use std::time::{Duration, Instant};

fn tablet(number: u8) -> IpAddr {
    IpAddr::V4(Ipv4Addr::new(192, 168, 1, number))
}

/// How long each of the first attempts from one address has to wait after the one before, in seconds.
#[test]
fn two_slips_are_free_and_then_the_wait_doubles_up_to_a_quarter_of_an_hour() {
    let (waits, mut now) = (Waits::default(), Instant::now());
    let mut waited = Vec::new();
    for _ in 0..12 {
        match waits.attempt(tablet(1), now) {
            Ok(_) => waited.push(0),
            Err(wait) => {
                waited.push(wait.as_secs());
                now += wait;
                waits.attempt(tablet(1), now).unwrap();
            }
        }
    }
    assert_eq!(waited, [0, 0, 0, 2, 4, 8, 16, 32, 64, 128, 256, 512]);
    for _ in 0..3 {
        let wait = waits.attempt(tablet(1), now).unwrap_err();
        assert_eq!(wait.as_secs(), 900);
        now += wait;
        waits.attempt(tablet(1), now).unwrap();
    }
}

#[test]
fn many_addresses_together_wait_too() {
    let (waits, now) = (Waits::default(), Instant::now());
    let free = (1..=200).take_while(|number| waits.attempt(tablet(*number), now).is_ok()).count();
    assert_eq!(free, 6, "each had only one try of its own");
}

#[test]
fn an_attempt_during_a_wait_is_not_counted_and_not_made() {
    let (waits, now) = (Waits::default(), Instant::now());
    for _ in 0..3 {
        waits.attempt(tablet(1), now).unwrap();
    }
    for _ in 0..50 {
        assert_eq!(waits.attempt(tablet(1), now).unwrap_err(), Duration::from_secs(2));
    }
    assert_eq!(waits.attempt(tablet(1), now + Duration::from_secs(2)).unwrap(), 4);
}

#[test]
fn a_right_code_and_an_hour_without_wrong_ones_clear_the_count() {
    let (waits, now) = (Waits::default(), Instant::now());
    for _ in 0..3 {
        waits.attempt(tablet(1), now).unwrap();
    }
    waits.right(tablet(1));
    assert_eq!(waits.attempt(tablet(1), now).unwrap(), 1);
    assert_eq!(waits.attempt(tablet(1), now).unwrap(), 2);
    assert_eq!(waits.attempt(tablet(1), now).unwrap(), 3);
    assert_eq!(waits.attempt(tablet(1), now + Duration::from_secs(3601)).unwrap(), 1);
}

#[test]
fn one_machine_is_not_two_because_it_writes_its_address_in_another_way() {
    let (waits, now) = (Waits::default(), Instant::now());
    for _ in 0..3 {
        waits.attempt(tablet(1), now).unwrap();
    }
    let mapped = IpAddr::V6(Ipv4Addr::new(192, 168, 1, 1).to_ipv6_mapped());
    assert!(waits.attempt(mapped, now).is_err());
}
