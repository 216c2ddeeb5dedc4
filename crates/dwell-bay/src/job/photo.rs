//! A photo for the place where a job stands: kept first, then named in the record by its hash.

use super::{Inside, Job, Said, Writer};
use crate::bay::{Bay, held};
use crate::clock::now;
use crate::device::Device;
use crate::form::plain;
use dwell_record::What;
use dwell_record::event::PhotoTaken;
use dwell_store::{MOST_PHOTO_BYTES, Records};

/// The media type of a picture, by its first bytes; none for what is no picture that every browser shows.
pub(crate) fn media(bytes: &[u8]) -> Option<&'static str> {
    match bytes {
        [0xFF, 0xD8, 0xFF, ..] => Some("image/jpeg"),
        [0x89, b'P', b'N', b'G', 0x0D, 0x0A, 0x1A, 0x0A, ..] => Some("image/png"),
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P', ..] => Some("image/webp"),
        _ => None,
    }
}

impl Job {
    /// Keeps a photo at the place that asks now.
    pub(crate) fn photo(&self, bay: &Bay, device: &Device, bytes: &[u8], text: &str) -> Said {
        let Some(media) = media(bytes) else {
            return Said::Not(
                "this is no photo that can be kept: send a JPEG, PNG or WebP picture".to_owned(),
            );
        };
        if bytes.len() > MOST_PHOTO_BYTES {
            let most = MOST_PHOTO_BYTES >> 20;
            return Said::Not(format!("the photo is larger than {most} MiB: take it with fewer pixels"));
        }
        let mut inside = held(&self.inside);
        let Inside { session, writer: Some(writer), desk, .. } = &mut *inside else {
            return Said::Not("take the job in hand first: a photo belongs to who works at it".to_owned());
        };
        if writer.device.key != device.key {
            return Said::Not(format!("{} writes this job now: take the photo there", writer.device.by()));
        }
        let hash = match bay.store().keep_photo(bytes) {
            Ok(hash) => hash,
            Err(error) => return Said::Not(error.to_string()),
        };
        let same = |event: &dwell_record::Event| matches!(&event.what, What::PhotoTaken(known) if known.sha256 == hash.digits());
        if session.events().iter().rev().take(1).any(same) {
            // Sent again after the answer was lost on its way.
            return Said::Done;
        }
        let text = Some(plain(text)).filter(|text| !text.is_empty());
        let photo = PhotoTaken {
            sha256: hash.digits().to_owned(),
            media: media.to_owned(),
            bytes: u64::try_from(bytes.len()).unwrap_or(u64::MAX),
            says: session.ask().says().to_owned(),
            text,
        };
        let mut next = session.clone();
        let events = match next.note_photo(photo, &now()) {
            Ok(events) => events,
            Err(refusal) => return Said::Not(refusal.to_string()),
        };
        let Writer { writing, .. } = writer;
        if let Err(error) = bay.store().append(writing, &events) {
            return Said::Not(format!("the photo was not noted: {error}"));
        }
        *session = next;
        desk.turn();
        self.tell(&inside);
        Said::Done
    }

    /// Whether a photo belongs to this job, and its media type.
    pub(crate) fn has_photo(&self, sha256: &str) -> Option<String> {
        let inside = held(&self.inside);
        inside.session.events().iter().find_map(|event| match &event.what {
            What::PhotoTaken(photo) if photo.sha256 == sha256 => Some(photo.media.clone()),
            _ => None,
        })
    }
}
