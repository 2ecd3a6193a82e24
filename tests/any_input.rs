//! Laws of reading: whatever the text, there is a design or at least one finding, never a panic,
//! and every finding points into the file.

// Clippy lets test functions unwrap, but not their helpers.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::path::Path;

use barrelhead::diagnostic::Diagnostic;
use barrelhead::diagnostic::render::render;
use barrelhead::input::{Design, read_str};
use proptest::prelude::*;

fn example() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/good/example.toml");
    std::fs::read_to_string(path).unwrap()
}

fn read(text: &str) -> Result<Design, Vec<Diagnostic>> {
    read_str(text, Path::new("any.toml"), Path::new("no such folder"))
}

fn holds(text: &str) -> Result<(), TestCaseError> {
    match read(text) {
        Ok(design) => prop_assert!(lengths(&design).iter().all(|v| v.is_finite() && *v > 0.0)),
        Err(findings) => {
            prop_assert!(!findings.is_empty());
            for finding in &findings {
                prop_assert!(!finding.message.is_empty());
                if let Some((line, column)) = finding.at {
                    // A lone line feed ends a line, a carriage return before it belongs to the end.
                    let source = text.split('\n').nth(line - 1);
                    prop_assert!(source.is_some(), "line {line} of {:?}", finding.message);
                    prop_assert!(column >= 1 && finding.span_len >= 1);
                }
            }
            prop_assert!(!render(&findings).is_empty());
        }
    }
    Ok(())
}

/// Lengths of a design that must be above zero.
fn lengths(d: &Design) -> Vec<f64> {
    let (h, m) = (&d.head, &d.machines);
    let mut all = vec![
        h.length,
        h.side_end,
        h.thickness,
        h.thickness_at_crest,
        m.barrel_length,
        d.bores.diameter,
    ];
    all.extend([
        h.half_width_at_start.treble,
        h.half_width_at_end.bass,
        d.guide.height,
        d.guide.depth,
        d.print.chord,
    ]);
    all.extend(m.pitches.treble.iter().chain(&m.pitches.bass));
    all
}

/// Bits of parameter files, to be strewn about.
fn scrap() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("\n".to_owned()),
        Just("[".to_owned()),
        Just("]".to_owned()),
        Just("{".to_owned()),
        Just("\"".to_owned()),
        Just("'''".to_owned()),
        Just(" = ".to_owned()),
        Just(",".to_owned()),
        Just("nan".to_owned()),
        Just("\"3/8 in\"".to_owned()),
        Just("from = \"x.toml\"\n".to_owned()),
        Just("\r".to_owned()),
        Just("\u{0}".to_owned()),
        Just("é".to_owned()),
        "-?[0-9]{1,4}(\\.[0-9]{1,3})?",
        "\\PC{0,6}",
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_text(text in "\\PC{0,200}") {
        holds(&text)?;
    }

    #[test]
    fn any_scraps(scraps in proptest::collection::vec(scrap(), 0..60)) {
        holds(&scraps.concat())?;
    }

    #[test]
    fn the_example_with_a_scrap_in_it(at in any::<prop::sample::Index>(), cut in 0usize..12, put in scrap()) {
        let chars: Vec<char> = example().chars().collect();
        let at = at.index(chars.len());
        let rest = chars.iter().skip(at + cut);
        let text: String = chars[..at].iter().copied().chain(put.chars()).chain(rest.copied()).collect();
        holds(&text)?;
    }

    #[test]
    fn the_example_without_some_lines(gone in proptest::collection::btree_set(0usize..95, 0..6)) {
        let text: String = example()
            .lines()
            .enumerate()
            .filter(|(i, _)| !gone.contains(i))
            .map(|(_, line)| format!("{line}\n"))
            .collect();
        holds(&text)?;
    }

    /// A length typed in inches is the same length in millimetres.
    #[test]
    fn a_length_in_either_unit(mm in 20.0..60.0f64) {
        let inch = |value: f64| format!("\"{} in\"", value / 25.4);
        let edit = |thickness: String| example()
            .replacen("thickness = 20.4 ", &format!("thickness = {thickness} "), 1);
        let a = read(&edit(format!("{mm}"))).unwrap();
        let b = read(&edit(inch(mm))).unwrap();
        prop_assert!((a.head.thickness - mm).abs() < 1e-12);
        prop_assert!((a.head.thickness - b.head.thickness).abs() < 1e-12);
    }
}
