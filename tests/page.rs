//! The page of every procedure of the library: whole, well formed, in order, and with every limit in the words of the runner.

use crate::merle::Merle;
use dwell_card::Card;
use dwell_card::graph::{Act, Way};
use dwell_card::ways::Ways;
use dwell_page::{Paper, Pieces, Vehicle, document, pieces, sheet};
use dwell_quantity::{Kind, Lookup, band_fully_shown, lookup};
use std::collections::BTreeSet;

/// The cards of the library, each for any vehicle and for the first of every variant.
fn pages(mut see: impl FnMut(&Card, &Vehicle, bool)) {
    let mut seen = 0;
    for compiled in &Merle::read().checked().procedures {
        let card = compiled.card.as_ref().expect("a card");
        let first: Vec<(String, String)> =
            card.axes.iter().map(|axis| (axis.name.clone(), axis.values[0].clone())).collect();
        see(card, &Vehicle::any(card), true);
        see(card, &Vehicle::of(card, &first).expect("known variants"), false);
        seen += 1;
    }
    assert!(seen > 25);
}

/// What a page says, without tags.
fn said(html: &str) -> String {
    let mut out = String::new();
    let mut rest = html;
    while let Some((text, tag)) = rest.split_once('<') {
        out.push_str(text);
        rest = tag.split_once('>').expect("a tag ends").1;
    }
    out.push_str(rest);
    out.replace("&amp;", "&").replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"")
}

/// Whether every tag is closed in its turn, and every value of an attribute stands in quotes.
pub(crate) fn well_formed(html: &str) -> Result<(), String> {
    const VOID: &[&str] = &["meta", "br", "img"];
    let mut open: Vec<&str> = Vec::new();
    let mut rest = html;
    while let Some((text, tag)) = rest.split_once('<') {
        if text.contains('>') && open.last() != Some(&"style") {
            return Err(format!("a bare > in {text:?}"));
        }
        let (inside, after) = tag.split_once('>').ok_or("a tag has no end")?;
        rest = after;
        let name = inside.trim_start_matches('/').split([' ', '\n']).next().unwrap_or_default();
        if let Some(closed) = inside.strip_prefix('/') {
            let last = open.pop();
            if last != Some(closed) {
                return Err(format!("</{closed}> closes {last:?}"));
            }
        } else if !inside.starts_with('!') && !VOID.contains(&name) {
            open.push(name);
        }
        if inside.matches('"').count() % 2 != 0 {
            return Err(format!("quotes in <{inside}>"));
        }
    }
    if open.is_empty() { Ok(()) } else { Err(format!("{open:?} are not closed")) }
}

#[test]
fn every_page_is_well_formed_and_needs_nothing_from_elsewhere() {
    pages(|card, vehicle, _| {
        let page = document(card, vehicle);
        well_formed(&page).unwrap_or_else(|why| panic!("{}: {why}", card.procedure));
        assert!(!page.contains("http://") && !page.contains("https://") && !page.contains("<script"));
        assert!(said(&page).contains(&card.notice), "{}", card.procedure);
        assert_eq!(page, document(card, vehicle), "{} is not the same twice", card.procedure);
    });
}

/// The numbers that a sheet's lines have, and those that it sends to.
fn numbers(sheet: &str) -> (Vec<String>, Vec<String>) {
    let after = |mark: &str| -> Vec<String> {
        sheet.split(mark).skip(1).filter_map(|rest| Some(rest.split_once('<')?.0.to_owned())).collect()
    };
    let own = after("<span class=\"no\">").into_iter().chain(after("<span class=\"number\">")).collect();
    let is_number =
        |text: &String| text.contains(|letter: char| letter.is_ascii_digit()) && !text.contains(' ');
    // What is referred to is a procedure, and has no number.
    let sent = after("go on with <strong>").into_iter().chain(after("Then put back, from <strong>"));
    let sent = sent.filter(is_number).collect();
    (own, sent)
}

#[test]
fn every_sheet_is_well_formed_and_each_number_that_it_sends_to_stands_on_it() {
    let mut sent_to = 0;
    pages(|card, vehicle, _| {
        let page = sheet(card, vehicle, &card.sha256().expect("a hash"), Some("2031-04-12"), Paper::A4);
        well_formed(&page).unwrap_or_else(|why| panic!("{}: {why}", card.procedure));
        assert!(!page.contains("http://") && !page.contains("https://") && !page.contains("<script"));
        let (own, sent) = numbers(&page);
        for number in &sent {
            assert!(own.contains(number), "{}: {number} is on no line of {own:?}", card.procedure);
        }
        sent_to += sent.len();
        // Each line that is not a pointer to another one has its number once.
        let lines: Vec<&str> = page.split("<li class=\"do\"").skip(1).collect();
        assert!(
            lines
                .iter()
                .all(|line| line.split_once("<li").map_or(*line, |(own, _)| own).contains("class=\"no\"")),
            "{}",
            card.procedure
        );
    });
    assert!(sent_to > 60, "only {sent_to}");
}

#[test]
fn what_is_not_well_formed_is_noticed() {
    for bad in ["<p>", "<p></b>", "<p><b></p></b>", "<p class=\"x>a</p>", "a > b<p></p>"] {
        assert!(well_formed(bad).is_err(), "{bad}");
    }
}

#[test]
fn every_limit_stands_in_the_words_of_the_runner() {
    let mut limits = 0;
    pages(|card, vehicle, any| {
        if !any {
            return;
        }
        let page = said(&pieces(card, vehicle).card);
        for limit in &card.limits {
            let Lookup::Unit(unit) = lookup(&limit.unit) else { panic!("{}", limit.unit) };
            let kind = Kind::named(&limit.kind).expect("a kind");
            // What is only ever checked is never set to.
            let sets = card
                .nodes
                .iter()
                .any(|node| matches!(&node.act, Act::Judge(judge) if judge.adjusting))
                || card.nodes.iter().any(|node| matches!(&node.act, Act::Work(work) if work.limit.is_some()));
            for choice in limit.check.iter().chain(limit.adjust.iter().filter(|_| sets)) {
                let words = band_fully_shown(&choice.band.band(), unit, kind, limit.decimals);
                assert!(page.contains(&words), "{}: {} {words}", card.procedure, limit.name);
                limits += 1;
            }
            for row in limit.rows.iter().flat_map(|group| &group.rows) {
                assert!(page.contains(&row.written), "{}: {}", card.procedure, row.written);
                limits += 1;
            }
        }
    });
    assert!(limits > 60, "only {limits}");
}

/// Where a node stands first.
fn place(html: &str, node: usize) -> Option<usize> {
    html.find(&format!("data-node=\"{node}\""))
}

/// The ends that are told for all of them at once: a need is not met, what is performed does not end passed.
fn told_together(card: &Card) -> BTreeSet<usize> {
    let of = |ways: &[Way], is: fn(&Act) -> bool| -> Vec<usize> {
        let nodes = card.nodes.iter().filter(|node| is(&node.act));
        nodes.flat_map(|node| ways.iter().filter_map(|way| node.next.get(way).copied())).collect()
    };
    let needs = of(&[Way::No], |act| matches!(act, Act::Need { .. }));
    let performed = of(&[Way::Failed, Way::Unfinished, Way::Referred], |act| matches!(act, Act::Close));
    needs.into_iter().chain(performed).collect()
}

#[test]
fn nothing_that_is_done_asked_or_told_is_missing() {
    pages(|card, vehicle, any| {
        if !any {
            return;
        }
        let Pieces { card: html, ways } = pieces(card, vehicle);
        let together = told_together(card);
        for (at, reached) in Ways::of(&card.nodes).reachable().into_iter().enumerate() {
            let act = &card.nodes[at].act;
            let told = act.asks()
                || matches!(
                    act,
                    Act::Caution { .. }
                        | Act::Keep { .. }
                        | Act::Hold(_)
                        | Act::Judge(_)
                        | Act::Cause { .. }
                        | Act::End(_)
                );
            if reached && told && !together.contains(&at) {
                assert!(place(&html, at).is_some(), "{}: node {at}, {act:?}", card.procedure);
            }
            let drawn =
                matches!(act, Act::Step { .. } | Act::Judge(_) | Act::End(_)) && card.nodes[at].frame == 0;
            if reached && drawn && !together.contains(&at) {
                assert!(place(&ways, at).is_some(), "{}: node {at} is not drawn, {act:?}", card.procedure);
            }
        }
    });
}

#[test]
fn a_caution_stands_before_what_it_is_about() {
    let mut exposed = 0;
    pages(|card, vehicle, any| {
        if !any {
            return;
        }
        let html = pieces(card, vehicle).card;
        for (at, node) in card.nodes.iter().enumerate() {
            let Act::Work(work) = &node.act else { continue };
            for hazard in work.exposes(&card.slots) {
                let covers = card.nodes.iter().enumerate().filter(|(_, other)| {
                    other.frame == node.frame
                        && matches!(&other.act, Act::Caution { hazard: of, .. } if *of == hazard)
                });
                let covers: Vec<usize> = covers.map(|(at, _)| at).collect();
                let Some(work) = place(&html, at) else { continue };
                let before = covers.iter().filter_map(|cover| place(&html, *cover)).any(|cover| cover < work);
                assert!(covers.is_empty() || before, "{}: node {at}", card.procedure);
                exposed += usize::from(before);
            }
        }
    });
    assert!(exposed > 20, "only {exposed}");
}

#[test]
fn the_steps_stand_in_their_order_with_their_titles() {
    pages(|card, vehicle, _| {
        let html = pieces(card, vehicle).card;
        let own = card
            .nodes
            .iter()
            .enumerate()
            .filter(|(_, node)| node.frame == 0 && matches!(node.act, Act::Step { .. }));
        let places: Vec<usize> = own
            .filter_map(|(at, _)| html.find(&format!("<section class=\"step\" data-node=\"{at}\"")))
            .collect();
        assert!(places.is_sorted() && !places.is_empty(), "{}", card.procedure);
        let page = said(&html);
        for step in card.steps.iter().filter(|step| step.frame == 0) {
            assert!(page.contains(&step.title), "{}: {}", card.procedure, step.title);
        }
    });
}

#[test]
fn every_place_that_is_pointed_at_is_there_once() {
    pages(|card, vehicle, _| {
        let html = pieces(card, vehicle).card;
        for link in html.split("href=\"#").skip(1).filter_map(|rest| rest.split_once('"')) {
            let there = html.matches(&format!(" id=\"{}\"", link.0)).count();
            assert_eq!(there, 1, "{}: {}", card.procedure, link.0);
        }
    });
}

#[test]
fn what_only_leads_another_way_is_no_band_to_be_in() {
    let checked = Merle::read().checked();
    let compiled =
        checked.procedures.iter().find(|known| known.name == "compression-test").expect("it is there");
    let card = compiled.card.as_ref().expect("a card");
    let page = said(&pieces(card, &Vehicle::any(card)).card);
    assert!(page.contains("dry below 75 % of highest of dry") && !page.contains("in band below 75 %"));
}

#[test]
fn a_chosen_vehicle_sees_its_own_limits_only() {
    let checked = Merle::read().checked();
    let compiled =
        checked.procedures.iter().find(|known| known.name == "belt-and-charging").expect("it is there");
    let card = compiled.card.as_ref().expect("a card");
    let of = |value: &str| {
        let vehicle = Vehicle::of(card, &[("engine-family".to_owned(), value.to_owned())]).expect("known");
        said(&pieces(card, &vehicle).card)
    };
    let (one, other) = (of("k9"), of("k9h"));
    assert!(one.contains("56 .. 68 Hz") && !one.contains("62 .. 74 Hz"));
    assert!(other.contains("62 .. 74 Hz") && !other.contains("56 .. 68 Hz"));
    let any = said(&pieces(card, &Vehicle::any(card)).card);
    assert!(
        any.contains("engine family k9: in band 56 .. 68 Hz")
            && any.contains("engine family k9h: in band 62 .. 74 Hz")
    );
}
