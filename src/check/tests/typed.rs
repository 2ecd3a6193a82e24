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

#[test]
fn a_ramp_that_runs_into_a_pilot_is_not_proposed() {
    let ramp = "ramp       = { mouth = 19.0, angle = 24.0 }";
    let screws = "points = [[-11.0, 0.0], [81.0, 0.0]], pilot = 1.6, depth = 7.0";
    let deep = "points = [[-24.0, 4.0]], pilot = 1.6, depth = 14.0";
    let text = file(&[(ramp, ""), (screws, deep)]);
    let advice = advice_on(&text, "string-wood");
    let offered = advice
        .strip_prefix("Set slots.ramp to ")
        .and_then(|rest| rest.split('}').next())
        .unwrap();
    let typed = file(&[(ramp, &format!("ramp = {offered}}}")), (screws, deep)]);
    for code in [
        "string-wood",
        "string-face",
        "screw-slot",
        "far-wood",
        "ramp-depth",
    ] {
        assert_eq!(verdict_of(&typed, code), Verdict::Clear, "{code}: {advice}");
    }
    assert!(!advice.contains("but then"), "{advice}");
    // Where every ramp does, what it costs is said.
    let near = "points = [[-24.0, 8.0]], pilot = 1.6, depth = 14.0";
    let text = file(&[(ramp, ""), (screws, near)]);
    let advice = advice_on(&text, "string-wood");
    assert!(advice.starts_with("Set slots.ramp to {"), "{advice}");
    assert!(
        advice.contains("(but then screw-slot would stop the design)"),
        "{advice}"
    );
}

#[test]
fn a_number_that_costs_a_caution_is_offered_beside_another_set_or_press() {
    // Barrels that meet on a narrow head: a wider one leaves the string holes close to a wall.
    let narrow = file(&[
        ("width_at_nut_end   = 63.0", "width_at_nut_end   = 57.0"),
        ("width_at_crest_end = 71.0", "width_at_crest_end = 65.0"),
        ("string_hole     = 19.0", "string_hole     = 12.3"),
    ]);
    let advice = advice_on(&narrow, "barrels-apart");
    assert!(advice.contains("another set of machines"), "{advice}");
    assert!(advice.contains("make both widths of the head"), "{advice}");
    assert!(advice.contains("(but then "), "{advice}");
    // A shallower block guides less than is usual, but does not ask for another press.
    let press = file(&[("travel = 80.0", "travel = 54.0")]);
    let advice = advice_on(&press, "press-travel");
    assert!(advice.contains("another press"), "{advice}");
    assert!(advice.contains("set guide.depth to 18.34 mm"), "{advice}");
    assert!(
        advice.contains("(but then block-guided would draw a caution)"),
        "{advice}"
    );
}

#[test]
fn a_head_that_is_not_true_is_told_all_four_widths() {
    let head = |treble: [f64; 2], bass: [f64; 2]| {
        let own = format!(
            "[head.bass]\nwidth_at_nut_end = {}\nwidth_at_crest_end = {}\n\n[nut]",
            bass[0], bass[1]
        );
        let nut_end = format!("width_at_nut_end   = {}", treble[0]);
        let crest_end = format!("width_at_crest_end = {}", treble[1]);
        file(&[
            ("width_at_nut_end   = 63.0", &nut_end),
            ("width_at_crest_end = 71.0", &crest_end),
            ("barrel_length   = 30.5", "barrel_length   = 33.2"),
            ("[nut]", &own),
        ])
    };
    let advice = advice_on(&head([63.0, 71.0], [62.0, 70.0]), "barrels-apart");
    let wanted = "ake both widths in [head] and both in [head.bass] 2.66 mm greater";
    assert!(advice.contains(wanted), "{advice}");
    let typed = head([65.66, 73.66], [64.66, 72.66]);
    assert_eq!(verdict_of(&typed, "barrels-apart"), Verdict::Clear);
}

#[test]
fn a_narrow_pitch_of_the_bass_set_is_named_as_its_own() {
    let bass = "[machines.bass]\npitches = [35.0, 14.0]\n\n[placement]";
    let advice = advice_on(&file(&[("[placement]", bass)]), "web");
    assert!(
        advice.contains("with machines.bass.pitches of 15.5 mm or more"),
        "{advice}"
    );
    // Without one of its own it has the treble's.
    let text = file(&[
        ("pitches         = [35.0, 35.0]", "pitches = [35.0, 14.0]"),
        ("plate_length", "# plate_length"),
    ]);
    let advice = advice_on(&text, "web");
    assert!(
        advice.contains("with machines.pitches of 15.5 mm or more"),
        "{advice}"
    );
}

#[test]
fn no_number_is_offered_that_the_file_would_be_refused_for() {
    // A cutter of one's own goes into the slots, or no slot so narrow is offered.
    let narrow = |cutter: &str| {
        let template = format!("{cutter}[guide]");
        file(&[
            ("width_at_nut_end   = 63.0", "width_at_nut_end   = 57.0"),
            ("width_at_crest_end = 71.0", "width_at_crest_end = 65.0"),
            ("barrel_length   = 30.5", "barrel_length   = 27.5"),
            ("string_hole     = 19.0", "string_hole     = 16.0"),
            ("[guide]", &template),
        ])
    };
    let advice = advice_on(&narrow("[template]\ncutter = 14.5\n"), "cheek");
    assert!(!advice.contains("slots.width to 14.49"), "{advice}");
    for cutter in ["", "[template]\ncutter = 14.4\n"] {
        let advice = advice_on(&narrow(cutter), "cheek");
        assert!(advice.contains("slots.width to 14.49 mm"), "{advice}");
    }
    // No bit shorter than its flutes.
    let press = |flutes: &str| {
        let press = format!("travel = 80.0\ndaylight = 225.0\nbit_length = 133.0\n{flutes}");
        advice_on(&file(&[("travel = 80.0", &press)]), "press-daylight")
    };
    assert!(
        press("").contains("with press.bit_length of 130"),
        "{}",
        press("")
    );
    let long = press("flute_length = 132.0");
    assert!(!long.contains("press.bit_length"), "{long}");
}

#[test]
fn what_breaks_out_of_the_core_is_told_where_veneers_come_later() {
    let veneers = |on: bool, changes: &[(&str, &str)]| {
        let key = format!("back_veneer        = 0.6\nveneers_on = {on}");
        let all: Vec<(&str, &str)> = [("back_veneer        = 0.6", key.as_str())]
            .into_iter()
            .chain(changes.iter().copied())
            .collect();
        file(&all)
    };
    let bush = [
        (
            "point         = 118",
            "point = 118\ncounterbore = { diameter = 17, depth = 4 }",
        ),
        ("[[-11.0, 0.0], [81.0, 0.0]]", "[]"),
    ];
    let later = veneers(false, &bush);
    let advice = advice_on(&later, "counterbore");
    let said = "It breaks out of the core, drilled before its veneers are on, by 0.70 mm. ";
    assert!(advice.starts_with(said), "{advice}");
    // Value and verdict are those of the finished face, as the contract has them.
    let finding = found(&design(&later), "counterbore");
    assert_eq!(
        (finding.verdict, finding.at.as_str()),
        (Verdict::Caution, "treble bore 1 to the face")
    );
    assert!((finding.value - 1.7).abs() < 1e-9);
    let advice = advice_on(&veneers(true, &bush), "counterbore");
    assert!(!advice.contains("core"), "{advice}");
    // A pilot near the face.
    let screw = [("[[-11.0, 0.0], [81.0, 0.0]]", "[[-11.0, 8.6], [81.0, 0.0]]")];
    let advice = advice_on(&veneers(false, &screw), "screw-bore");
    assert!(advice.starts_with("It breaks out of the core"), "{advice}");
}

#[test]
fn a_printed_bore_that_ends_shorter_says_why() {
    let advice = advice_on(
        &file(&[
            ("width_at_nut_end   = 63.0", "width_at_nut_end   = 67.429"),
            ("width_at_crest_end = 71.0", "width_at_crest_end = 67.429"),
            ("beyond_barrel = 2.0", "beyond_barrel = 0.0"),
        ]),
        "bore-depth",
    );
    assert!(
        advice.starts_with("In the printed copy the points of two opposite bores"),
        "{advice}"
    );
    assert!(advice.contains("Set bores.beyond_barrel to"), "{advice}");
}

#[test]
fn or_more_is_said_as_far_as_it_holds() {
    let angle = |degrees: &str| {
        let key = format!("angle              = {degrees}");
        file(&[
            ("angle              = 14.0", &key),
            ("string_height = 4.2", "string_height = 0.5"),
        ])
    };
    let advice = advice_on(&angle("0.0"), "nut-break");
    let numbers = advice
        .strip_prefix("Set head.angle to ")
        .and_then(|rest| rest.split_once(" degrees or more, up to "));
    let (least, rest) = numbers.unwrap_or_else(|| panic!("{advice}"));
    let most = rest.split(' ').next().unwrap();
    for (degrees, wanted) in [(least, Verdict::Clear), (most, Verdict::Clear)] {
        assert_eq!(
            verdict_of(&angle(degrees), "nut-break"),
            wanted,
            "{degrees}"
        );
    }
    let beyond = format!("{:.1}", most.parse::<f64>().unwrap() + 0.1);
    assert_eq!(verdict_of(&angle(&beyond), "nut-break"), Verdict::Caution);
    // From the other side it is the same range.
    let advice = advice_on(&angle(&beyond), "nut-break");
    let wanted = format!("Set head.angle to {most} degrees or less, down to {least} degrees");
    assert!(advice.starts_with(&wanted), "{advice}");
}

#[test]
fn a_bush_without_a_wall_is_remarked_on() {
    let lengths = crate::units::Lengths { inches: false };
    let remarks = |bush: &str| {
        let guide = format!("[guide]\nbush_diameter = {bush}");
        crate::check::words::remarks(&design(&file(&[("[guide]", &guide)])), lengths)
    };
    let none = remarks("10.5");
    assert_eq!(none.len(), 1);
    let (table, text) = &none[0];
    assert_eq!(*table, "[guide]");
    assert!(
        text.starts_with("a bush of 10.50 mm outside, bored 10.50 mm, has no wall"),
        "{text}"
    );
    assert!(remarks("15.0").is_empty());
}
