//! The code of a sheet: a QR code (ISO/IEC 18004) that leads back to the card, drawn as squares.

use maud::{Markup, html};
use qrcode::{Color, EcLevel, QrCode};

/// The white border that readers need, in squares.
const QUIET: usize = 4;

/// A text as a QR code; nothing where it is too long for one.
pub(super) fn qr(text: &str) -> Markup {
    let Ok(code) = QrCode::with_error_correction_level(text, EcLevel::M) else { return html! {} };
    let size = code.width();
    let mut path = String::new();
    for (y, row) in code.to_colors().chunks(size.max(1)).enumerate() {
        let mut x = 0;
        for run in row.chunk_by(|one, other| one == other) {
            if run.first() == Some(&Color::Dark) {
                let long = run.len();
                path.push_str(&format!("M{} {}h{long}v1h-{long}z", x + QUIET, y + QUIET));
            }
            x += run.len();
        }
    }
    let whole = size + 2 * QUIET;
    html! {
        svg.qr viewBox=(format!("0 0 {whole} {whole}")) role="img" aria-label=(text) shape-rendering="crispEdges" {
            path d=(path) fill="#000" {}
        }
    }
}
