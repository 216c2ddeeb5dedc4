//! What a form sends: every field as text, each of which may be missing.

/// An answer, or another wish, for a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Wish {
    /// The moment of the job that it was shown for.
    pub(crate) moment: String,
    /// What is wanted.
    pub(crate) act: String,
    /// A value, a choice, words.
    pub(crate) text: String,
    /// Why.
    pub(crate) why: String,
    /// The number of an event.
    pub(crate) to: String,
    /// The name of a person.
    pub(crate) name: String,
}

impl Wish {
    /// From the fields of a form. Of a field that is there twice the last one counts: a button stands behind what it stands for.
    pub(crate) fn of(fields: &Fields) -> Wish {
        let take = |name: &str| {
            fields
                .iter()
                .rev()
                .find(|(known, _)| known == name)
                .map(|(_, value)| value.clone())
                .unwrap_or_default()
        };
        Wish {
            moment: take("moment"),
            act: take("do"),
            text: take("text"),
            why: take("why"),
            to: take("to"),
            name: take("name"),
        }
    }
}

/// The fields of a form, in their order. Variants come as `variant.NAME`.
pub(crate) type Fields = Vec<(String, String)>;

/// The last value of a field; an empty text where there is none.
pub(crate) fn field<'f>(fields: &'f Fields, name: &str) -> &'f str {
    fields.iter().rev().find(|(known, _)| known == name).map_or("", |(_, value)| value.trim())
}

/// A name with single blanks.
pub(crate) fn plain(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}
