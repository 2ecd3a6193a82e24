//! Mistakes of TOML itself, said in a maker's words. The parser goes on after each, so all of
//! them are reported at once; one a line, since what follows on the same line is its echo.

use std::collections::BTreeMap;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::source::Source;
use super::syntax_words::{Words, first_given, words};

/// Most mistakes of TOML reported from one file; beyond this it is no parameter file.
const MOST_SLIPS: usize = 30;

/// One mistake of TOML.
#[derive(Debug)]
pub(crate) struct Slip {
    pub span: Range<usize>,
    pub message: String,
    pub hint: Option<String>,
}

/// A parsed document with its mistakes.
pub(crate) struct Parsed<'t> {
    pub document: Spanned<DeTable<'t>>,
    pub slips: Vec<Slip>,
    /// Keys may be lost: nothing may be said about absent ones.
    pub incomplete: bool,
    /// Keys may have ended up in the wrong table: nothing may be said about any.
    pub scrambled: bool,
}

/// Parses a text, going on after every mistake.
pub(crate) fn parse(source: &Source) -> Parsed<'_> {
    let text = source.text();
    let (document, errors) = DeTable::parse_recoverable(text);
    let mut errors: Vec<(Range<usize>, &str)> = errors
        .iter()
        .map(|e| (e.span().unwrap_or(0..0), e.message()))
        .collect();
    errors.sort_by_key(|(span, _)| span.start);

    let mut slips = Vec::new();
    let mut scrambled = false;
    if let Some((span, what, close)) = unclosed(text, document.get_ref(), &errors) {
        errors.retain(|(other, _)| other.start < span.start);
        slips.push(Slip {
            span,
            message: format!("the {what} opened here is never closed"),
            hint: Some(format!("the same with a {close} after its last value")),
        });
        scrambled = true;
    }
    let mut by_line: BTreeMap<usize, Vec<(Range<usize>, &str)>> = BTreeMap::new();
    for (span, message) in errors {
        by_line
            .entry(source.line_index(span.start))
            .or_default()
            .push((span, message));
    }
    let mut incomplete = scrambled;
    let more = by_line.len().saturating_sub(MOST_SLIPS);
    for (line, errors) in by_line.iter().take(MOST_SLIPS) {
        let Some((span, raw)) = errors.first() else {
            continue;
        };
        let duplicate = *raw == "duplicate key";
        incomplete |= !duplicate;
        scrambled |= raw.starts_with("unclosed table") || raw.contains("recurs");
        let Words {
            message,
            hint,
            span,
        } = if duplicate {
            twice(source, span, *line)
        } else {
            words(source.line_text(*line), source.line_start(*line), span, raw)
        };
        slips.push(Slip {
            span,
            message,
            hint,
        });
    }
    slips.sort_by_key(|slip| slip.span.start);
    if let Some(last) = slips.last_mut().filter(|_| more > 0) {
        last.message
            .push_str(&format!(" ({more} more lines with mistakes are not shown)"));
        scrambled = true;
    }
    Parsed {
        document,
        slips,
        incomplete,
        scrambled,
    }
}

fn twice(source: &Source, span: &Range<usize>, line: usize) -> Words {
    let key = source
        .text()
        .get(span.clone())
        .unwrap_or_default()
        .trim_matches(['"', '\'']);
    let lines = (0..line).map(|index| source.line_text(index));
    let first = first_given(lines, key, source.line_text(line)).map_or(String::new(), |index| {
        format!("; the first is on line {}", index + 1)
    });
    Words {
        message: format!("`{key}` is given twice{first}"),
        hint: Some(format!("`{key}` once only")),
        span: span.clone(),
    }
}

/// The quotes of a text of several lines.
const LONG: &str = "\"\"\"";
/// The same, taking backslashes as they are.
const RAW: &str = "'''";

/// Where something opens, what it is, and what would close it.
type Open = (Range<usize>, &'static str, &'static str);

/// The outermost list, inline table or long text that runs to the end of the file for want of
/// what closes it.
fn unclosed(text: &str, document: &DeTable<'_>, errors: &[(Range<usize>, &str)]) -> Option<Open> {
    let open = |message: &str| {
        message.starts_with("unclosed array")
            || message.starts_with("unclosed inline")
            || message.starts_with("invalid multi-line")
    };
    let (span, _) = errors.iter().find(|(_, message)| open(message))?;
    find_open(text, document, span.start)
}

fn find_open(text: &str, table: &DeTable<'_>, end: usize) -> Option<Open> {
    for (_, value) in table.iter() {
        let span = value.span();
        let rest = text.get(span.start..).unwrap_or_default();
        let opened = |mark: &str| span.end >= end && rest.starts_with(mark);
        let at = |mark: &str| span.start..span.start + mark.len();
        match value.get_ref() {
            DeValue::Array(_) if opened("[") => return Some((at("["), "list", "]")),
            DeValue::Table(_) if opened("{") => return Some((at("{"), "table", "}")),
            DeValue::String(_) if opened(LONG) => return Some((at(LONG), "long text", LONG)),
            DeValue::String(_) if opened(RAW) => return Some((at(RAW), "long text", RAW)),
            DeValue::Table(inner) => {
                if let Some(found) = find_open(text, inner, end) {
                    return Some(found);
                }
            }
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slips(text: &str) -> Vec<(usize, String, String)> {
        let source = Source::new("x.toml".into(), "".into(), text);
        let parsed = parse(&source);
        parsed
            .slips
            .iter()
            .map(|s| {
                let line = source.line_index(s.span.start) + 1;
                (line, s.message.clone(), s.hint.clone().unwrap_or_default())
            })
            .collect()
    }

    fn one(text: &str, line: usize, message: &str, hint: &str) {
        let found = slips(text);
        assert_eq!(found.len(), 1, "{text:?}: {found:?}");
        let (at, said, mend) = &found[0];
        assert_eq!(*at, line, "{text:?}: {said}");
        assert!(said.contains(message), "{text:?}: {said}");
        assert!(mend.contains(hint), "{text:?}: {mend}");
    }

    #[test]
    fn each_mistake_is_named_and_mended() {
        one("a = 14,0\n", 1, "comma", "14.0");
        one("a = -1,25 # x\n", 1, "comma", "-1.25");
        one("a = 5 mm\n", 1, "quotes", "\"5 mm\"");
        one("a = 13/32 in\n", 1, "quotes", "\"13/32 in\"");
        one("a = 0.5\"\n", 1, "quotes", "\"0.5 in\"");
        one("a = centred\n", 1, "quotes", "\"centred\"");
        one("a = 10.5mm\n", 1, "quotes", "\"10.5mm\"");
        // What cannot be a length is not proposed as one, unless the key takes words in some table.
        one(
            "plate_length = abc\n",
            1,
            "`abc`",
            "plate_length = \"105.5 mm\"",
        );
        one(
            "overhang = abc\n",
            1,
            "takes a length",
            "[\"17.0 mm\", \"18.5 mm\"]",
        );
        one("along = centred\n", 1, "quotes", "\"centred\"");
        one("a = True\n", 1, "lower-case", "true");
        // A fraction begins as dates do.
        for fraction in ["1-15/16", "2-1/8", "4-1/2", "12-3/8", "1-15/16 in"] {
            let hint = format!("\"{} in\"", fraction.trim_end_matches(" in"));
            let message = "a fraction or a unit needs quotes";
            one(&format!("a = {fraction}\n"), 1, message, &hint);
            one(&format!("a = [{fraction}, 2]\n"), 1, message, &hint);
            one(
                &format!("a = {{ b = {fraction}, c = 1 }}\n"),
                1,
                message,
                &hint,
            );
        }
        one("a = 1-3/8\"\n", 1, "inch mark", "\"1-3/8 in\"");
        one("a = 1\u{2013}3/8\n", 1, "quotes", "\"1-3/8 in\"");
        // The parser takes `in` for a number.
        one("unit = in\n", 1, "quotes", "\"in\"");
        one("unit = inch\n", 1, "quotes", "\"in\"");
        one("unit = mm\n", 1, "quotes", "\"mm\"");
        one("walk = in\n", 1, "quotes", "\"in\"");
        one("date = 2026-3-14\n", 1, "quotes", "\"2026-3-14\"");
        for angle in ["12 deg", "12°", "12deg", "12 °"] {
            one(&format!("angle = {angle}\n"), 1, "bare number", "12");
            one(
                &format!("ramp = {{ mouth = 2, angle = {angle} }}\n"),
                1,
                "`angle` takes a bare number",
                "12",
            );
        }
        one("a = “x”\n", 1, "straight quotes", "\"x\"");
        one("a = −5\n", 1, "minus", "-5");
        one("a = \nb = 1\n", 1, "no value", "a = ");
        one("a 5\n", 1, "no =", "=");
        one("a: 5\n", 1, "colon", "a = 5");
        one("[head\na = 1\n", 1, "not closed", "[head]");
        one("head]\na = 1\n", 1, "bracket", "[head]");
        one("a = \"abc\nb = 1\n", 1, "quotes", "\"");
        one("a = .5\n", 1, "number", "0.5");
        one("a = 5.\n", 1, "number", "5.0");
        one("a = 05\n", 1, "number", "5");
        one("a = 10.5.2\n", 1, "number", "10.5");
        one("a = 1 b = 2\n", 1, "one line", "line of its own");
        one("a = 1]\n", 1, "`]`", "");
        one("a == 1\n", 1, "= too many", "a = 1");
        one("= 5\n", 1, "no key", "");
        one(
            "a = \"sets\\plain.toml\"\n",
            1,
            "backslash",
            "sets/plain.toml",
        );
        one("a = 1\u{0}2\n", 1, "control", "");
        one("\u{0}\n", 1, "control", "");
        one("a = [1 2]\n", 1, "comma", "");
        one("a = { b = 1 c = 2 }\n", 1, "comma", "");
        one("a = 1\ra = 2\n", 1, "carriage return", "");
        one(
            "x = 1\na = 1\nx = 2\n",
            3,
            "`x` is given twice; the first is on line 1",
            "once",
        );
        one(
            "[h]\na = 1\n[k]\na = 2\n[h]\nb = 1\n",
            5,
            "`h` is given twice; the first is on line 1",
            "once",
        );
    }

    #[test]
    fn commas_and_colons_are_mended_whole() {
        for (list, hint) in [
            ("0.313, 0.313", "[0.313, 0.313]"),
            ("0,313, 0.313", "[0.313, 0.313]"),
            ("17,18", "[17, 18]"),
            ("\"1/2 in\", 0.313 # both ends", "[\"1/2 in\", 0.313]"),
        ] {
            one(&format!("overhang = {list}\n"), 1, "in brackets", hint);
        }
        one("pitches = 35, 35, 36\n", 1, "brackets", "[35, 35, 36]");
        one("pitches = 35,5, 35,5\n", 1, "brackets", "[35.5, 35.5]");
        // One length where there are no two to be had.
        one("thickness = 17, 18\n", 1, "comma after", "the value alone");
        let comma = "a comma where a decimal point belongs";
        one("overhang = [0,050, 0.313]\n", 1, comma, "[0.050, 0.313]");
        one("overhang = [0,3 in, 1]\n", 1, comma, "[\"0.3 in\", 1]");
        one("a = 3,5 mm # wide\n", 1, comma, "\"3.5 mm\"");
        one("r = { m = 0,512, a = 24 }\n", 1, comma, "0.512");
        one("r = { m = 0.512, a = 24,5 }\n", 1, comma, "24.5");
        let both = "{ m = 0.512, a = 24.5 }";
        one("r = { m = 0,512, a = 24,5 }\n", 1, comma, both);
        let colon = "colon where an = belongs";
        one(
            "r = { m: 0.512, a: 24 }\n",
            1,
            colon,
            "{ m = 0.512, a = 24 }",
        );
        one("r = {m:0.512, a:24}\n", 1, colon, "{m = 0.512, a = 24}");
    }

    #[test]
    fn the_whole_number_is_marked() {
        for (text, marked) in [
            ("a = 14,05 # x\n", "14,05"),
            ("a = .5\n", ".5"),
            ("a = 5.\n", "5."),
            ("a = -010.5\n", "-010.5"),
            ("a = 10.5.2\n", "10.5.2"),
            ("a = 5 mm\n", "5 mm"),
            ("a = [1 2]\n", "1 2"),
            ("a = x1\n", "x1"),
            ("r = { m = 1, a = 24,5 }\n", "24,5"),
            ("a = 1-15/16 in # x\n", "1-15/16 in"),
        ] {
            let source = Source::new("x.toml".into(), "".into(), text);
            let parsed = parse(&source);
            assert_eq!(&text[parsed.slips[0].span.clone()], marked);
        }
    }

    #[test]
    fn an_open_bracket_is_reported_where_it_opens() {
        one(
            "x = 1\na = [1, 2\nb = 3\n[nut]\nc = 1\n",
            2,
            "list opened here",
            "]",
        );
        one(
            "a = { b = 1\nc = 2\n[x]\ny = 1\n",
            1,
            "table opened here",
            "}",
        );
        one(
            "[t]\nx = 1\na = [[1, 2], [3\n[u]\nb = { c = 1 }\n",
            3,
            "list opened here",
            "]",
        );
    }

    #[test]
    fn many_at_once_and_none_without_end() {
        let found = slips("a = 1,5\nb = 2,5\n[c]\nd = 5 mm\n");
        assert_eq!(found.iter().map(|f| f.0).collect::<Vec<_>>(), [1, 2, 4]);
        assert!(slips(&"junk\n".repeat(5000)).len() <= MOST_SLIPS + 1);
        one(&format!("a = {}", "[".repeat(100_000)), 1, "deep", "");
        one(&format!("a = {}", "{a=".repeat(100_000)), 1, "deep", "");
        one(&format!("{}a = 1", "a.".repeat(100_000)), 1, "deep", "");
    }
}
