//! What the editor's user has set; few things, each with a default.

use serde_json::Value;

/// The settings below `dwell`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Settings {
    /// Whether findings of files that are not open are shown too.
    pub(crate) all_files: bool,
    /// Inlay hints: a number in the other unit.
    pub(crate) hint_unit: bool,
    /// Inlay hints: the band behind the name of a spec.
    pub(crate) hint_limit: bool,
    /// Inlay hints: what is owed at the end of a step.
    pub(crate) hint_owed: bool,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings { all_files: true, hint_unit: false, hint_limit: true, hint_owed: true }
    }
}

impl Settings {
    /// From what an editor sends: the section itself, or an object that has it as `dwell`; what is missing or has another
    /// type keeps its default.
    pub(crate) fn of(sent: &Value) -> Settings {
        let section = sent.get("dwell").unwrap_or(sent);
        let hint = |name: &str| section.pointer(&format!("/hints/{name}")).and_then(Value::as_bool);
        Settings {
            all_files: section.get("findings").and_then(Value::as_str) != Some("open files"),
            hint_unit: hint("unit").unwrap_or(false),
            hint_limit: hint("limit").unwrap_or(true),
            hint_owed: hint("owed").unwrap_or(true),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Settings;
    use serde_json::json;

    #[test]
    fn what_is_not_said_keeps_its_default() {
        for nothing in [json!(null), json!([null]), json!({}), json!({"dwell": null}), json!({"findings": 7})]
        {
            assert_eq!(Settings::of(&nothing), Settings::default(), "{nothing}");
        }
        let set = Settings::of(
            &json!({"dwell": {"findings": "open files", "hints": {"unit": true, "owed": false}}}),
        );
        assert_eq!(
            set,
            Settings { all_files: false, hint_unit: true, hint_owed: false, ..Settings::default() }
        );
    }
}
