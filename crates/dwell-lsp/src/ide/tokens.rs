//! Every word, number, text and sign of a file with what it is, for colouring; none goes over the end of a line.

use super::mentions::{Role, What};
use super::view::View;
use super::world::{Key, Resolved, World};
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::tree::Span;

/// What a token is, as editors know it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum TokenType {
    /// A step.
    Namespace,
    /// A handling, a quantity, a kind, a hazard, a variant, a set of positions.
    Type,
    /// An item, a tool.
    Class,
    /// A procedure, a verb.
    Function,
    /// A reading, a question, what is worked out.
    Variable,
    /// A spec, a table, a series.
    Property,
    /// A state, a value, a place, an answer.
    EnumMember,
    /// A word of the language, a rule, an end, a unit.
    Keyword,
    /// A number, a date.
    Number,
    /// A text, a path.
    String,
    /// A comment.
    Comment,
    /// A sign.
    Operator,
}

impl TokenType {
    /// All of them, in the order in which a server announces them.
    pub const ALL: [TokenType; 12] = [
        TokenType::Namespace,
        TokenType::Type,
        TokenType::Class,
        TokenType::Function,
        TokenType::Variable,
        TokenType::Property,
        TokenType::EnumMember,
        TokenType::Keyword,
        TokenType::Number,
        TokenType::String,
        TokenType::Comment,
        TokenType::Operator,
    ];
}

/// What more is said of a name.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Modifiers {
    /// It is declared here.
    pub declaration: bool,
    /// It never changes while a procedure runs: a spec, a series, what is worked out.
    pub readonly: bool,
    /// It comes with the program: the prelude's, or a kind of quantity.
    pub default_library: bool,
}

/// A token: within one line, never empty.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SemanticToken {
    /// Where it stands.
    pub span: Span,
    /// What it is.
    pub token: TokenType,
    /// What more is said of it.
    pub modifiers: Modifiers,
}

/// The tokens of the view's file, in order, none overlapping another. A text is cut where braces in it name something.
pub fn tokens(view: &View) -> Vec<SemanticToken> {
    let world = World::of(view, &[]);
    let text = view.text();
    let lexed = lex(text);
    let names = world.resolved(view.file());
    let mut all: Vec<SemanticToken> = Vec::new();
    for comment in &lexed.trivia.comments {
        push(&mut all, text, comment.span, TokenType::Comment, Modifiers::default());
    }
    for token in &lexed.tokens {
        let first = names.partition_point(|known| known.mention.span.end <= token.span.start);
        let within = names.get(first..).unwrap_or_default().iter();
        let within = within.take_while(|known| known.mention.span.start < token.span.end);
        match token.kind {
            TokenKind::Str | TokenKind::LineStr => {
                let mut at = token.span.start;
                // A path after `use` is the whole text.
                for known in within.filter(|known| known.mention.span != token.span) {
                    let name = known.mention.span;
                    push(&mut all, text, Span::new(at, name.start), TokenType::String, Modifiers::default());
                    named(&mut all, text, &world, known);
                    at = name.end;
                }
                push(&mut all, text, Span::new(at, token.span.end), TokenType::String, Modifiers::default());
            }
            TokenKind::Word | TokenKind::LineWord => {
                match within.clone().find(|known| known.mention.span == token.span) {
                    Some(known) => named(&mut all, text, &world, known),
                    None if dwell_syntax::words::Word::of(slice(text, token.span)).is_some() => {
                        push(&mut all, text, token.span, TokenType::Keyword, Modifiers::default());
                    }
                    // A word in a place that cannot be read: nothing is known of it.
                    None => {}
                }
            }
            TokenKind::Number | TokenKind::Compound | TokenKind::Date => {
                match within.clone().find(|known| known.mention.span == token.span) {
                    Some(known) => named(&mut all, text, &world, known),
                    None => push(&mut all, text, token.span, TokenType::Number, Modifiers::default()),
                }
            }
            TokenKind::Unit => push(&mut all, text, token.span, TokenType::Keyword, Modifiers::default()),
            TokenKind::PlusMinus
            | TokenKind::DotDot
            | TokenKind::Arrow
            | TokenKind::Equals
            | TokenKind::Plus
            | TokenKind::Minus
            | TokenKind::Times
            | TokenKind::Over => {
                push(&mut all, text, token.span, TokenType::Operator, Modifiers::default());
            }
            TokenKind::Colon
            | TokenKind::Comma
            | TokenKind::OpenBrace
            | TokenKind::CloseBrace
            | TokenKind::OpenParen
            | TokenKind::CloseParen
            | TokenKind::Error => {}
        }
    }
    all.sort_by_key(|token| token.span.start);
    all
}

fn slice(text: &str, span: Span) -> &str {
    text.get(span.start..span.end).unwrap_or_default()
}

/// A name.
fn named(all: &mut Vec<SemanticToken>, text: &str, world: &World<'_>, known: &Resolved<'_>) {
    let token = match known.what {
        What::Step => TokenType::Namespace,
        What::Handling | What::Quantity | What::Kind | What::Hazard | What::Variant | What::Positions => {
            TokenType::Type
        }
        What::Item | What::Tool => TokenType::Class,
        What::Procedure | What::Verb => TokenType::Function,
        What::Reading | What::Computed | What::Limit | What::Question => TokenType::Variable,
        What::Spec | What::Table | What::Series => TokenType::Property,
        What::State | What::Value | What::Place | What::Answer => TokenType::EnumMember,
        What::Rule | What::Outcome | What::Word | What::Unit => TokenType::Keyword,
        What::File => TokenType::String,
    };
    let readonly =
        matches!(known.what, What::Spec | What::Table | What::Series | What::Computed | What::Limit);
    let of_program =
        |key: &Key<'_>| matches!(key, Key::Kind(_)) || key.file().is_some_and(|file| world.is_prelude(file));
    let modifiers = Modifiers {
        declaration: known.mention.role == Role::Declares,
        readonly,
        default_library: !known.keys.is_empty() && known.keys.iter().all(of_program),
    };
    push(all, text, known.mention.span, token, modifiers);
}

/// A token, cut where a line ends in it.
fn push(all: &mut Vec<SemanticToken>, text: &str, span: Span, token: TokenType, modifiers: Modifiers) {
    let mut at = span.start;
    for line in slice(text, span).split(['\n', '\r']) {
        if !line.is_empty() {
            all.push(SemanticToken { span: Span::new(at, at + line.len()), token, modifiers });
        }
        at += line.len() + 1;
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::view;
    use super::{TokenType, tokens};
    use dwell_syntax::lines::Lines;
    use expect_test::expect;

    fn told(files: &[(&str, &str)]) -> String {
        let (view, _) = view(files);
        let lines = Lines::of(view.text());
        let mut end = 0;
        let mut line = 0;
        let mut out = String::new();
        for token in tokens(&view) {
            assert!(end <= token.span.start && token.span.start < token.span.end, "{token:?}");
            assert_eq!(lines.line(token.span.start), lines.line(token.span.end - 1), "{token:?}");
            end = token.span.end;
            let now = lines.line(token.span.start);
            out.push_str(if now == line { "" } else { "\n" });
            line = now;
            let more = [
                (token.modifiers.declaration, "!"),
                (token.modifiers.readonly, "="),
                (token.modifiers.default_library, "*"),
            ];
            let more: String = more.iter().filter(|(is, _)| *is).map(|(_, sign)| *sign).collect();
            let what = format!("{:?}", token.token);
            let text = view.text().get(token.span.start..token.span.end).unwrap();
            out += &format!("{text}·{}{more} ", what.get(..2).unwrap());
        }
        out
    }

    #[test]
    fn every_sort_of_name_has_its_token() {
        expect![[r#"
            use·Ke "b.dwell"·St # µ 😀·Co 
            item·Ke x·Cl! hose·Ty* "x"·St 
            spec·Ke s·Pr!= length·Ty* check·Ke 1·Nu ±·Op 0.1·Nu mm·Ke source·Ke "s"·St 
            positions·Ke w·Ty! 1·En! 2·En! 
            procedure·Ke p·Fu! "P"·St 
            revision·Ke 1·Nu on·Ke 2031-02-11·Nu "First."·St 
            needs·Ke x·Cl is·Ke connected·En* 
            step·Ke one·Na! "One"·St 
            warning·Ke crush·Ty "°😀 {·St gap·Va } and {·St gap·Va  at ·St 1·En }"·St 
            disconnect·Fu* x·Cl 
            measure·Ke gap·Va! length·Ty* with·Ke t·Cl 3·Nu times·Ke take·Ke mean·Ke 
            let·Ke twice·Va!= =·Op gap·Va *·Op 2·Nu 
            expect·Ke gap·Va meets·Ke s·Pr= 
            otherwise·Ke low·Ke end·Ke failed·Ke "No."·St 
            on·Ke to·Ke one·Na 
            case·Ke "c"·St gap·Va 1·Nu 2·Nu 3·Nu mm·Ke ends·Ke passed·Ke "#]].assert_eq(&told(&[(
            "a.dwell",
            "use \"b.dwell\" # µ 😀\nitem x: hose \"x\"\nspec s: length { check 1 ± 0.1 mm  source \"s\" }\npositions w: 1, 2\nprocedure p \"P\" {\n revision 1 on 2031-02-11 \"First.\"\n needs { x is connected }\n step one \"One\" {\n  warning crush \"°😀 {gap} and {gap at 1}\"\n  disconnect x\n  measure gap: length with t 3 times take mean\n  let twice = gap * 2\n  expect gap meets s\n  otherwise low { end failed \"No.\" }\n  on to one\n }\n case \"c\" { gap (1, 2, 3) mm  ends passed }\n}\n",
        )]));
    }

    #[test]
    fn no_token_goes_over_the_end_of_a_line() {
        expect![[r#"
            procedure·Ke p·Fu! step·Ke s·Na! 
            note·Ke "not closed µ·St 
            measure·Ke gap·Va! length·Ty* with·Ke t·Cl 
            expect·Ke 
            note·Ke "two {gap·St 
            " # ends 😀·St "#]].assert_eq(&told(&[(
            "a.dwell",
            "procedure p { step s {\r\n note \"not closed µ\r\n measure gap: length with t\n expect %%% Ω\n note \"two {gap\n}\" # ends 😀",
        )]));
        assert_eq!(told(&[("a.dwell", "")]), "");
    }

    #[test]
    fn the_types_are_announced_in_their_own_order() {
        for (place, token) in TokenType::ALL.into_iter().enumerate() {
            assert_eq!(token as usize, place);
        }
    }
}
