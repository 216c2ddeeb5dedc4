//! Bands drawn one over the other as a scale, in letters of one width.

use dwell_quantity::{Band, Bound, Exact};

/// How many letters the scale is wide.
const WIDE: usize = 37;

/// A band with what stands before and behind it.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    /// What it is: "check".
    pub(crate) name: String,
    /// The band, in base units.
    pub(crate) band: Band,
    /// The value to aim at.
    pub(crate) target: Option<Exact>,
    /// The band in words.
    pub(crate) words: String,
}

/// The rows under one another on one scale. An end that does not belong to its band is round; where there is none the line goes on.
pub(crate) fn drawn(rows: &[Row]) -> String {
    let ends = rows.iter().flat_map(|row| [&row.band.low, &row.band.high]).flatten().map(|end| &end.value);
    let ends: Vec<&Exact> = ends.chain(rows.iter().filter_map(|row| row.target.as_ref())).collect();
    let (Some(least), Some(most)) = (ends.iter().min(), ends.iter().max()) else { return String::new() };
    let width = *most - *least;
    // Where a band has one end, there is room beside it for the line that goes on.
    let open = |side: fn(&Band) -> &Option<Bound>| rows.iter().any(|row| side(&row.band).is_none());
    let (left, right) = (usize::from(open(|band| &band.low)) * 8, usize::from(open(|band| &band.high)) * 8);
    let room = WIDE.saturating_sub(1 + left + right);
    let column = |value: &Exact| {
        let share = (value - *least).checked_div(&width).map_or(0.5, |share| share.to_f64());
        // A share lies between 0 and 1.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)]
        let letters = (share * room as f64).round() as usize;
        left + letters.min(room)
    };
    let wide = rows.iter().map(|row| row.name.chars().count()).max().unwrap_or_default();
    let line = |row: &Row| {
        let from = row.band.low.as_ref().map_or(0, |end| column(&end.value));
        let to = row.band.high.as_ref().map_or(WIDE - 1, |end| column(&end.value));
        let target = row.target.as_ref().map(column);
        let letter = |at: usize| match (&row.band.low, &row.band.high) {
            _ if target == Some(at) => '◆',
            (Some(end), _) if at == from => {
                if end.closed {
                    '├'
                } else {
                    '('
                }
            }
            (_, Some(end)) if at == to => {
                if end.closed {
                    '┤'
                } else {
                    ')'
                }
            }
            (None, _) if at == from => '◄',
            (_, None) if at == to => '►',
            _ if from < at && at < to => '─',
            _ => ' ',
        };
        let letters: String = (0..WIDE).map(letter).collect();
        format!("{:wide$}  {letters}  {}", row.name, row.words)
    };
    rows.iter().map(line).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use expect_test::expect;

    fn row(name: &str, band: Band, target: Option<i64>) -> Row {
        Row { name: name.into(), band, target: target.map(Exact::whole), words: "words".into() }
    }

    #[test]
    fn one_over_the_other() {
        let band = |low, high| Band::closed(Exact::whole(low), Exact::whole(high));
        let drawn = drawn(&[row("check", band(56, 68), None), row("adjust", band(59, 65), Some(62))]);
        expect![[r#"
            check   ├───────────────────────────────────┤  words
            adjust           ├────────◆────────┤           words"#]]
        .assert_eq(&drawn);
    }

    #[test]
    fn a_limit_with_one_end_goes_on() {
        let drawn = drawn(&[
            row("check", Band::at_least(Exact::whole(2)), None),
            row("adjust", Band::above(Exact::whole(3)), None),
        ]);
        expect![[r#"
            check   ├───────────────────────────────────►  words
            adjust                              (───────►  words"#]]
        .assert_eq(&drawn);
    }
}
