//! Big digits, five rows high, so that the reading is the largest thing on the screen.

/// Rows of a big digit.
const HIGH: usize = 5;

/// The letters that have a big form, each with its rows; `#` is filled.
const FORMS: [(char, [&str; HIGH]); 13] = [
    ('0', ["####", "#  #", "#  #", "#  #", "####"]),
    ('1', [" # ", "## ", " # ", " # ", "###"]),
    ('2', ["####", "   #", "####", "#   ", "####"]),
    ('3', ["####", "   #", " ###", "   #", "####"]),
    ('4', ["#  #", "#  #", "####", "   #", "   #"]),
    ('5', ["####", "#   ", "####", "   #", "####"]),
    ('6', ["####", "#   ", "####", "#  #", "####"]),
    ('7', ["####", "   #", "  # ", " #  ", " #  "]),
    ('8', ["####", "#  #", "####", "#  #", "####"]),
    ('9', ["####", "#  #", "####", "   #", "####"]),
    ('.', ["  ", "  ", "  ", "  ", "# "]),
    ('-', ["   ", "   ", "###", "   ", "   "]),
    (':', ["  ", "# ", "  ", "# ", "  "]),
];

/// A number in big digits, where each of its letters has a big form and all of it fits into the width; nothing else is shown
/// big, since half of it would be worse than none.
pub(super) fn big(number: &str, width: usize, ascii: bool) -> Option<Vec<String>> {
    let full = if ascii { "#" } else { "█" };
    let forms: Option<Vec<&[&str; HIGH]>> = number
        .chars()
        .map(|letter| FORMS.iter().find(|(known, _)| *known == letter).map(|(_, form)| form))
        .collect();
    let forms = forms.filter(|forms| !forms.is_empty())?;
    let rows: Vec<String> = (0..HIGH)
        .map(|row| {
            let parts = forms.iter().filter_map(|form| form.get(row));
            parts.map(|part| part.replace('#', full)).collect::<Vec<_>>().join(" ")
        })
        .collect();
    rows.first().is_some_and(|row| row.chars().count() <= width).then_some(rows)
}

#[cfg(test)]
mod tests {
    use super::big;

    #[test]
    fn only_whole_numbers_that_fit_are_shown_big() {
        let shown = big("-1.5", 40, true).unwrap().join("\n");
        assert_eq!(
            shown,
            "     #     ####\n    ##     #   \n###  #     ####\n     #        #\n    ### #  ####"
        );
        assert!(big("62.3", 10, false).is_none(), "too narrow");
        assert!(big("above 5", 80, false).is_none(), "letters");
        assert!(big("", 80, false).is_none());
    }
}
