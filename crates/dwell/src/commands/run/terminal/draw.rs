//! A page laid out on a screen: what stands below or above its edge has a mark, and nothing is cut off without one.

use super::rows::Row;
use super::view::Page;
use crate::screen::Ink;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier, Style};

/// Which rows of the middle are seen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Seen {
    /// How many are scrolled away, at most as many as there are.
    pub(super) scrolled: usize,
    /// How many are seen at once.
    pub(super) rows: usize,
    /// Whether there are more below.
    pub(super) below: bool,
}

/// Draws a page, and says what of its middle is seen.
pub(super) fn draw(page: &Page, scrolled: usize, colour: bool, ascii: bool, buffer: &mut Buffer) -> Seen {
    let area = buffer.area;
    let height = usize::from(area.height);
    let fixed = page.head.len() + page.field.len() + page.foot.len();
    // On the smallest screens the field goes before the head: what is typed is always seen, and so is what is open.
    let spare = height.saturating_sub(page.field.len() + page.foot.len());
    let head = page.head.len().min(spare.saturating_sub(2).max(usize::from(fixed < height)));
    let middle = height.saturating_sub(head + page.field.len() + page.foot.len());
    let over = page.body.len() > middle;
    // A row of its own says that there is more.
    let rows = if over { middle.saturating_sub(1) } else { middle };
    let scrolled = scrolled.min(page.body.len().saturating_sub(rows));
    let below = scrolled + rows < page.body.len();
    let mut at = 0;
    let mut put = |row: &Row| {
        line(buffer, area, at, row, colour);
        at += 1;
    };
    page.head.iter().take(head).for_each(&mut put);
    page.body.iter().skip(scrolled).take(rows).for_each(&mut put);
    if over && middle > 0 {
        let [up, down] = if ascii { ["^", "v"] } else { ["▲", "▼"] };
        let mut words = Vec::new();
        if scrolled > 0 {
            words.push(format!("{up} {scrolled} above"));
        }
        if below {
            words.push(format!("{down} {} more: Enter", page.body.len() - scrolled - rows));
        }
        put(&vec![super::rows::turned(None, &format!(" {} ", words.join("  ")))]);
    }
    let seen = rows.min(page.body.len().saturating_sub(scrolled));
    for _ in seen..rows {
        put(&Vec::new());
    }
    page.field.iter().chain(&page.foot).for_each(&mut put);
    Seen { scrolled, rows, below }
}

fn line(buffer: &mut Buffer, area: Rect, at: usize, row: &Row, colour: bool) {
    let Ok(at) = u16::try_from(at) else { return };
    if at >= area.height {
        return;
    }
    let mut x = area.x;
    for piece in row {
        let room = usize::from(area.right().saturating_sub(x));
        let (next, _) =
            buffer.set_stringn(x, area.y + at, &piece.text, room, style(piece.ink, piece.turned, colour));
        x = next;
    }
}

fn style(ink: Option<Ink>, turned: bool, colour: bool) -> Style {
    let mut style = Style::default();
    if turned {
        style = style.add_modifier(Modifier::REVERSED);
    }
    let Some(ink) = ink else { return style };
    if !matches!(ink, Ink::Faint) {
        style = style.add_modifier(Modifier::BOLD);
    }
    let named = match ink {
        Ink::Red => Some(Color::Red),
        Ink::Orange => Some(Color::Indexed(208)),
        Ink::Yellow => Some(Color::Yellow),
        Ink::Green => Some(Color::Green),
        Ink::Blue => Some(Color::Blue),
        Ink::Faint | Ink::Bold => None,
    };
    match named.filter(|_| colour) {
        Some(named) => style.fg(named),
        None => style,
    }
}
