//! What the machine shows so that a device can be let in: the address, the code, the fingerprint, and all of it as a picture.

use super::devices::CODE_HOLDS;
use super::secret::Code;
use qrcode::render::unicode::Dense1x2;
use qrcode::{EcLevel, QrCode};

/// What lets one device in.
#[derive(Debug)]
pub struct Invitation {
    /// The address to open, `https://192.168.1.20:8420`; the likeliest one first.
    pub addresses: Vec<String>,
    /// The code.
    pub code: Code,
    /// SHA-256 of the certificate, in pairs of digits.
    pub fingerprint: String,
}

/// How the picture is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Picture {
    /// Half blocks in black on white, for a terminal that takes colours.
    Coloured,
    /// Half blocks, for a terminal with a dark ground.
    Blocks,
    /// `##` for each light square, for a terminal without block characters, with a dark ground.
    Ascii,
}

impl Invitation {
    /// The address that the picture holds: with the code, and with the fingerprint where a browser shows it and sends it nowhere.
    pub fn address(&self) -> String {
        let digits = self.fingerprint.replace(':', "").to_ascii_lowercase();
        let first = self.addresses.first().map(String::as_str).unwrap_or_default();
        format!("{first}/pair?code={}#sha256={digits}", self.code.shown())
    }

    /// The lines for the machine's screen.
    pub fn lines(&self, picture: Option<Picture>) -> Vec<String> {
        let minutes = CODE_HOLDS.as_secs() / 60;
        let (first, second) = self.fingerprint.split_at_checked(48).unwrap_or((&self.fingerprint, ""));
        let mut lines = vec!["To let a tablet or phone in, open there".to_owned(), String::new()];
        let mut heading = "  address      ";
        for address in &self.addresses {
            lines.push(format!("{heading}{address}/pair"));
            heading = "  or           ";
        }
        lines.push(format!("  code         {}   good once, for {minutes} minutes", self.code.shown()));
        lines.push(format!("  fingerprint  {first}"));
        lines.push(format!("  (SHA-256)    {second}"));
        if let Some(squares) = picture.and_then(|picture| self.drawn(picture)) {
            lines.extend([String::new(), "or point its camera at this".to_owned(), String::new()]);
            lines.extend(squares);
        }
        lines.push(String::new());
        lines.extend(
            [
                "The browser there warns the first time: this machine made its certificate",
                "itself, and no authority vouches for it. Compare before you go past the",
                "warning: let the browser show the certificate, and see that its SHA-256",
                "fingerprint is the one above. If it is another one, somebody is between the",
                "tablet and this machine: stop there.",
            ]
            .map(str::to_owned),
        );
        lines
    }

    /// The picture, line by line; nothing where the address is too long for one.
    fn drawn(&self, picture: Picture) -> Option<Vec<String>> {
        let code = QrCode::with_error_correction_level(self.address(), EcLevel::L).ok()?;
        let text = match picture {
            Picture::Coloured => {
                code.render().dark_color(Dense1x2::Dark).light_color(Dense1x2::Light).build()
            }
            // The ground is dark already: what is drawn are the light squares.
            Picture::Blocks => code.render().dark_color(Dense1x2::Light).light_color(Dense1x2::Dark).build(),
            Picture::Ascii => code.render().dark_color(' ').light_color('#').module_dimensions(2, 1).build(),
        };
        let coloured = |line: &str| match picture {
            Picture::Coloured => format!("\u{1b}[30;47m{line}\u{1b}[0m"),
            Picture::Blocks | Picture::Ascii => line.to_owned(),
        };
        Some(text.lines().map(coloured).collect())
    }
}
