//! Advice typed into the file that drew it: the file is read anew and judged.

use super::*;
use crate::input::read_str;

/// The main demo's file with some pieces of its text replaced.
fn file(changes: &[(&str, &str)]) -> String {
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/params/sandpiper.toml");
    let mut text = std::fs::read_to_string(demo).unwrap();
    for (from, to) in changes {
        assert!(text.contains(from), "{from} is not in the file");
        text = text.replacen(from, to, 1);
    }
    text
}

fn design(text: &str) -> Design {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/params");
    read_str(text, "typed.toml".as_ref(), folder.as_ref()).unwrap_or_else(|faults| {
        panic!("{faults:?}");
    })
}

/// The advice on a check of a file.
fn advice_on(text: &str, code: &str) -> String {
    advised(&design(text), code).unwrap_or_else(|| panic!("{code} is clear"))
}

/// The verdict of one check on a file; clear where it is left out.
fn verdict_of(text: &str, code: &str) -> Verdict {
    let all = all_found(&design(text));
    let one = all.iter().find(|finding| finding.code == code);
    one.map_or(Verdict::Clear, |finding| finding.verdict)
}

#[test]
fn both_first_barrels_are_named_where_both_keys_stand_in_the_file() {
    let firsts = |treble: &str, bass: &str| {
        let keys = format!("first_barrel = {treble}\nbass.first_barrel = {bass}");
        file(&[("along = \"centred\"", &keys)])
    };
    let text = firsts("96", "96");
    let advice = advice_on(&text, "plate-side");
    assert!(
        advice.starts_with(
            "Set placement.first_barrel and placement.bass.first_barrel to 94.52 mm or less"
        ),
        "{advice}"
    );
    let typed = firsts("94.52", "94.52");
    assert_eq!(verdict_of(&typed, "plate-side"), Verdict::Clear);
    assert_eq!(verdict_of(&typed, "far-wood"), Verdict::Clear);
    // Alone the treble side's key leaves the bass side where it is.
    assert_eq!(
        verdict_of(&firsts("94.52", "96"), "plate-side"),
        Verdict::Caution
    );
    // Where the two differ, both move by as much.
    let advice = advice_on(&firsts("96", "95"), "plate-side");
    assert!(
        advice.contains("placement.first_barrel and placement.bass.first_barrel each 1.48 mm less"),
        "{advice}"
    );
    assert_eq!(
        verdict_of(&firsts("94.52", "93.52"), "plate-side"),
        Verdict::Clear
    );
    // With no key of its own the bass side follows, and one key is named.
    let one = file(&[("along = \"centred\"", "first_barrel = 96")]);
    let advice = advice_on(&one, "plate-side");
    assert!(
        advice.starts_with("Set placement.first_barrel to 94.52 mm or less"),
        "{advice}"
    );
}
