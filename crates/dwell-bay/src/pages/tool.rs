//! Which tool of the workshop is used: the field for its number, which a scanner fills, and those that would serve.

use super::parts::button;
use crate::clock::now;
use crate::job::{Look, ToolAsked};
use dwell_tools::{Register, day};
use maud::{Markup, html};

/// The question, inside of its form.
pub(crate) fn tool(look: &Look, asked: &ToolAsked, register: Option<&Register>, mine: bool) -> Markup {
    let card = look.session.card().tools.iter().find(|tool| tool.name == asked.name);
    let today = day(&now());
    let known = register.into_iter().flat_map(|register| register.serving(&asked.name));
    let known: Vec<(String, String, bool)> = known
        .filter_map(|tool| {
            let stands = tool.serves(card?, today?);
            let words = match &stands {
                Ok(standing) => standing.to_string(),
                Err(against) => format!("not to be used: {against}"),
            };
            Some((tool.number.clone(), words, stands.is_ok()))
        })
        .collect();
    html! {
        h2.says { "Which " (asked.label) " is used?" }
        ul.notes { @for (number, words, good) in &known { li { (if *good { "✓ " } else { "⊘ " }) (number) ": " (words) } } }
        @if mine {
            input type="hidden" name="name" value=(asked.name);
            label for="text" { "Scan or type the number on its label" }
            @let number = asked.overdue.as_ref().map_or("", |(number, _)| number.as_str());
            @let number = if look.typed.is_empty() { number } else { look.typed.as_str() };
            input.words #text name="text" value=(number) autocomplete="off" spellcheck="false" maxlength="80" data-first;
            @if asked.overdue.is_some() {
                label for="allowed" { "Who allows it" }
                input.words #allowed name="to" autocomplete="off" maxlength="80";
                label for="why" { "Why" }
                input.words #why name="why" autocomplete="off" maxlength="300";
            }
            div.buttons { (button("tool", "This one", "strong")) (button("no-tool", "Not noted", "")) }
        }
    }
}
