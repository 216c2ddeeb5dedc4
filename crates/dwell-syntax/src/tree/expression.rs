//! Numbers, bands, formulas and conditions in the tree. Numbers and units are kept as they were typed.

use super::{Name, NeverSide, Span};

/// A number as typed: `62`, `-0.5`, `2 1/4`, or a compound such as `-0° 30′` (then it carries its units itself).
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Number {
    /// The typed text, sign included.
    pub text: String,
    /// Whether degrees, minutes and seconds (or hours) stand in one literal.
    pub compound: bool,
    /// Where it stands.
    pub span: Span,
}

/// A number with its unit.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Amount {
    /// The number.
    pub number: Number,
    /// The unit as typed, a spelling of the closed table or (with a slip beside it) a word that is none.
    pub unit: Option<Name>,
    /// The same in a second unit, in parentheses: `target 250 kPa (36 psi)`. The last number of a band has none; there the
    /// whole band is printed in a second unit.
    pub second: Option<Box<Amount>>,
    /// Where the number and its unit stand.
    pub span: Span,
}

/// What a reading has to lie in.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Band {
    /// Its form.
    pub form: BandForm,
    /// The value to aim at: `target 800 rpm`.
    pub target: Option<Amount>,
    /// The same band in a second unit, in parentheses.
    pub second: Option<Box<Band>>,
    /// Where it stands.
    pub span: Span,
}

/// The forms of a band.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum BandForm {
    /// `820 .. 880 rpm`; the unit may stand on the high end alone.
    Range(Amount, Amount),
    /// `62 ± 6 Hz`, `12 V ± 5 %`: nominal, tolerance.
    PlusMinus(Amount, Amount),
    /// `25 +0.021 -0 mm`: nominal, plus, minus (both as typed, with their sign).
    Uneven(Amount, Amount, Amount),
    /// `at least 2 mm`.
    AtLeast(Expr),
    /// `at most 0.05 mm`.
    AtMost(Expr),
    /// `above 0 V`.
    Above(Expr),
    /// `below 50 ppm`.
    Below(Expr),
    /// `exactly 5`, for counts.
    Exactly(Amount),
    /// A lone number, which is no band for a measured value.
    Bare(Amount),
}

impl BandForm {
    /// The amounts that stand in it, in the order typed; of a formula only where it is a lone amount.
    pub fn amounts(&self) -> Vec<&Amount> {
        match self {
            BandForm::Range(one, other) | BandForm::PlusMinus(one, other) => vec![one, other],
            BandForm::Uneven(nominal, plus, minus) => vec![nominal, plus, minus],
            BandForm::Exactly(amount) | BandForm::Bare(amount) => vec![amount],
            BandForm::AtLeast(end) | BandForm::AtMost(end) | BandForm::Above(end) | BandForm::Below(end) => {
                match end {
                    Expr::Amount(amount) => vec![amount],
                    _ => Vec::new(),
                }
            }
        }
    }
}

/// A formula.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Expr {
    /// A number with or without a unit.
    Amount(Amount),
    /// A reading, an answer, a `let`.
    Name(Name),
    /// `camber at left`.
    At(Box<Expr>, Name),
    /// `first tension`: the value as found.
    First(Name),
    /// `highest of dry`.
    Fold(Fold, Box<Expr>, Span),
    /// `sine of toe`, `root of (a * a + b * b)`.
    Function(Function, Box<Expr>, Span),
    /// `target of valve-clearance`.
    TargetOf(Name),
    /// `70 % of highest of dry`.
    Share(Amount, Box<Expr>),
    /// Two formulas joined.
    Binary(Operator, Box<Expr>, Box<Expr>),
    /// A formula in parentheses.
    Group(Box<Expr>, Span),
}

impl Expr {
    /// Where it stands.
    pub fn span(&self) -> Span {
        match self {
            Expr::Amount(amount) => amount.span,
            Expr::Name(name) | Expr::First(name) | Expr::TargetOf(name) => name.span,
            Expr::At(inner, place) => inner.span().to(place.span),
            Expr::Fold(_, inner, span) | Expr::Function(_, inner, span) => span.to(inner.span()),
            Expr::Share(share, inner) => share.span.to(inner.span()),
            Expr::Binary(_, left, right) => left.span().to(right.span()),
            Expr::Group(_, span) => *span,
        }
    }
}

/// What is worked out of one value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Function {
    /// The sine of an angle.
    Sine,
    /// The square root.
    Root,
}

/// A band whose ends are computed.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ComputedBand {
    /// The lower end and whether it belongs to the band.
    pub low: Option<(Expr, bool)>,
    /// The upper end and whether it belongs to the band.
    pub high: Option<(Expr, bool)>,
    /// Where the band never goes below (or above), whatever comes out.
    pub never: Vec<(NeverSide, Amount)>,
    /// Where it stands.
    pub span: Span,
}

/// How several values become one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Fold {
    Lowest,
    Highest,
    Mean,
    Spread,
    Sum,
    Furthest,
    Last,
}

/// An arithmetic sign, with blanks on both sides in the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Operator {
    Plus,
    Minus,
    Times,
    Over,
}

/// What `expect`, `if`, `until` and `where` ask.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Condition {
    /// `every` or `any` in front, which spans the whole condition.
    pub quantifier: Option<(Quantifier, Span)>,
    /// How the tests are joined; of no account for a single one.
    pub joint: Joint,
    /// The tests, at least one (none after a slip).
    pub tests: Vec<Test>,
    /// Where it stands.
    pub span: Span,
}

/// Over the places or moments of a series.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Quantifier {
    Every,
    Any,
}

/// How tests are joined; the two are never mixed in one condition.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Joint {
    And,
    Or,
}

/// One test.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Test {
    /// What is asked.
    pub kind: TestKind,
    /// Where it stands.
    pub span: Span,
}

/// The forms of a test.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum TestKind {
    /// `tension meets belt-tension`, `play meets steering-play at rim`; `misses` is the opposite.
    Meets { what: Expr, misses: bool, spec: Name, at: Option<Expr> },
    /// `coolant at least 85 °C`, `rest within 0 ± 1 psi`.
    Band { what: Expr, band: Band },
    /// `lamp is dark or flickers`, `wheel-nut at left is tight`, `hv-pair is not plus-minus`, `charge is steady within 0.2 V`.
    Is { name: Name, at: Option<Name>, not: bool, values: Vec<Name>, within: Option<Amount> },
}
