use super::*;
use crate::input::read_str;

/// A design with these lines in `[machines]` and `[bores]`.
fn design(machines: &str, bores: &str) -> Design {
    let text = format!(
        r#"
title = "Sandpiper"
head = {{ length = 196.0, width_at_nut_end = 63.0, width_at_crest_end = 71.0, side_end = 184.0, thickness = 20.4, angle = 14.0, crest = "arch" }}
nut = {{ string_span = 43.0, string_height = 4.2 }}
placement = {{ along = "centred", depth = "centred" }}
slots = {{ width = 15.0, rib = 14.0, end_margin = [18.0, 18.0], ramp = {{ mouth = 19.0, angle = 24.0 }} }}
guide = {{ depth = 24.0, height = 20.4, end_margin = 31.0 }}
[machines]
barrel_length = 30.5
string_hole = 19.0
plate_width = 17.4
plate_thickness = 1.2
overhang = [17.0, 18.5]
{machines}
[bores]
beyond_barrel = 2.0
{bores}
"#
    );
    read_str(&text, "a.toml".as_ref(), ".".as_ref()).unwrap()
}

fn studied(machines: &str, bores: &str) -> Study {
    let design = design(machines, bores);
    let (report, _) = check::run(&design);
    study(&design, &report).unwrap()
}

#[test]
fn a_design_without_readings_has_no_study() {
    let design = design(
        "barrel_diameter = 10.0\npitches = [35.0, 35.0]",
        "diameter = 10.5",
    );
    let (report, _) = check::run(&design);
    assert_eq!(study(&design, &report), None);
    assert!(read_again(&design, &BTreeMap::new()).is_err());
}

/// Bore 10.5 over a barrel of 9.907 ± 0.040 is 0.593 of clearance, 0.6 is the limit: the barrel thinner
/// by its uncertainty makes it a caution, thicker it does not.
#[test]
fn a_verdict_that_hangs_on_a_reading_is_named() {
    let study = studied(
        "barrel_diameter = { repeats = [9.91, 9.89, 9.92] }\npitches = [35.0, 35.0]",
        "diameter = 10.5",
    );
    let [turn] = study.turns.as_slice() else {
        panic!("{:?}", study.turns)
    };
    let (key, by) = turn.by.as_ref().unwrap();
    assert_eq!(
        (turn.code, key.as_str()),
        ("clearance", "machines.barrel_diameter")
    );
    assert_eq!((turn.now, turn.then), (Verdict::Clear, Verdict::Caution));
    let expanded = study.quantities[0].uncertainty.expanded;
    assert!((by + expanded).abs() < 1e-12);
    assert!((turn.value.unwrap() - (10.5 - 29.72 / 3.0 + expanded)).abs() < 1e-9);
    // The clearance is as unsure as the barrel.
    let effect = study
        .effects
        .iter()
        .find(|effect| effect.code == "clearance")
        .unwrap();
    assert!((effect.expanded - expanded).abs() < 1e-9);
}

/// A clearance added to the barrel moves with it: only the bit to buy hangs on the reading.
#[test]
fn what_follows_the_barrel_does_not_change() {
    let study = studied(
        "barrel_diameter = { repeats = [9.91, 9.89, 9.92] }\npitches = [35.0, 35.0]",
        "clearance = 0.59",
    );
    let codes: Vec<&str> = study.turns.iter().map(|turn| turn.code).collect();
    assert_eq!(codes, ["bit-size", "bit-size"]);
    let moves = |code: &str| study.effects.iter().any(|effect| effect.code == code);
    assert!(!moves("clearance") && moves("web"));
}

/// Pitch (45.01 + 25.00)/2 = 35.005, diameter (45.01 − 25.00)/2 = 10.005; both have half of each
/// reading's uncertainty, at right angles.
#[test]
fn over_and_between_give_both() {
    let pair = "{ over = [45.02, 45.00], between = [25.01, 24.99] }";
    let machines = format!("pitches = [{pair}, 35.0]");
    let design = design(&machines, "diameter = 10.5");
    assert!((design.machines.pitches.treble[0] - 35.005).abs() < 1e-12);
    assert!((design.machines.barrel_diameter - 10.005).abs() < 1e-12);
    let (report, _) = check::run(&design);
    let study = study(&design, &report).unwrap();
    let [diameter, pitch] = study.given.as_slice() else {
        panic!("{:?}", study.given)
    };
    assert_eq!(
        (diameter.name.as_str(), pitch.name.as_str()),
        ("barrel diameter", "pitch 1")
    );
    let [over, between] = [0, 1].map(|i| study.quantities[i].uncertainty.expanded);
    let wanted = over.hypot(between) / 2.0;
    assert!((pitch.expanded - wanted).abs() < 1e-9 && (diameter.expanded - wanted).abs() < 1e-9);
    assert_eq!(study.diameters, None);
}

#[test]
fn a_diameter_that_contradicts_the_pitches_is_named() {
    let machines = "barrel_diameter = 10.2\npitches = [{ over = [45.02, 45.00], between = [25.01, 24.99] }, 35.0]";
    let two = studied(machines, "diameter = 10.5").diameters.unwrap();
    assert!((two.of_pairs - 10.005).abs() < 1e-12 && two.expanded < 0.1);
}

/// Two lengths of which neither alone brings the clearance to its limit, but both do: the barrel by
/// its readings and the bore of a block... here the barrel's two pitches, each read over and between.
#[test]
fn lengths_that_do_it_only_together_are_named_so() {
    // Diameter: mean of two pairs, each ± half of two readings: four lengths, each moves it by a
    // quarter of U; together by half of U = 0.0173.
    let pair = |over: f64| format!("{{ over = {over}, between = 25.0 }}");
    let machines = format!("pitches = [{}, {}]", pair(44.82), pair(44.82));
    let study = studied(&machines, "diameter = 10.5");
    // Clearance 10.5 − 9.91 = 0.59: 0.0087 more does not reach 0.6, 0.0173 more does.
    let [turn] = study.turns.as_slice() else {
        panic!("{:?}", study.turns)
    };
    assert_eq!((turn.code, &turn.by), ("clearance", &None));
    assert!((turn.value.unwrap() - (0.59 + 0.03 / 3.0_f64.sqrt())).abs() < 1e-9);
}

#[test]
fn a_cross_check_of_the_file_that_would_fail_is_told() {
    let machines = "barrel_diameter = 10.0\nplate_length = 105.68\npitches = [{ repeats = [35.0, 35.01] }, 35.0]";
    let study = studied(machines, "diameter = 10.5");
    assert!(
        study
            .refusals
            .iter()
            .any(|refusal| refusal.message.contains("plate_length")),
        "{:?}",
        study.refusals
    );
}

/// The same readings in another order, or in inches, say the same.
#[test]
fn order_and_unit_change_nothing() {
    let one = studied(
        "barrel_diameter = { repeats = [9.91, 9.89, 9.92] }\npitches = [35.0, 35.0]",
        "diameter = 10.5",
    );
    let turned = studied(
        "barrel_diameter = { repeats = [9.92, 9.91, 9.89] }\npitches = [35.0, 35.0]",
        "diameter = 10.5",
    );
    assert_eq!((&one.turns, &one.effects), (&turned.turns, &turned.effects));
    let inch = |mm: f64| format!("\"{} in\"", mm / crate::units::MM_PER_INCH);
    let inches = studied(
        &format!(
            "barrel_diameter = {{ repeats = [{}, {}, {}] }}\npitches = [35.0, 35.0]",
            inch(9.91),
            inch(9.89),
            inch(9.92)
        ),
        "diameter = 10.5",
    );
    for (a, b) in one.effects.iter().zip(&inches.effects) {
        // Fifteen digits of a length in inches are good to far below this.
        assert!((a.value - b.value).abs() < 1e-9 && (a.expanded - b.expanded).abs() < 1e-9);
    }
    assert_eq!(one.effects.len(), inches.effects.len());
}

/// Wood to the nearer of face and back: it falls whichever way the axis is off, so half of up less down would
/// be nothing. To the back it moves with the thickness, the axis and half the plate's width together: more
/// than the 0.04 to spare, though no length takes that alone.
#[test]
fn the_worst_of_two_places_moves_whichever_way_a_length_is_off() {
    let text = std::fs::read_to_string(crate::support::demos::demo_file("sandpiper")).unwrap();
    let twice = |text: &str, from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    };
    let text = twice(
        &text,
        "thickness          = 20.4",
        "thickness = { repeats = [20.4, 20.4] }",
    );
    let text = twice(
        &text,
        "plate_width     = 17.4",
        "plate_width = { repeats = [19.32, 19.32] }",
    );
    let text = twice(
        &text,
        "depth = \"centred\"",
        "axis_below_face = { repeats = [10.2, 10.2] }",
    );
    let design = read_str(&text, "a.toml".as_ref(), ".".as_ref()).unwrap();
    let (report, _) = check::run(&design);
    let study = study(&design, &report).unwrap();
    let by = |code: &str| {
        study
            .effects
            .iter()
            .find(|e| e.code == code)
            .unwrap()
            .expanded
    };
    let one = study.quantities[0].uncertainty.expanded;
    assert!(
        study
            .quantities
            .iter()
            .all(|q| (q.uncertainty.expanded - one).abs() < 1e-12)
    );
    // 0.0346 each: √(1 + 1 + ¼) of it, to the file's hundredth of a limit.
    assert!((by("plate-thickness") - 1.5 * one).abs() < 1e-9);
    // Twice what the axis is off, and the thickness.
    assert!((by("plate-even") - 5.0_f64.sqrt() * one).abs() < 1e-9);
    let turn = study
        .turns
        .iter()
        .find(|turn| turn.code == "plate-thickness");
    let turn = turn.unwrap();
    assert_eq!((turn.then, turn.by.as_ref()), (Verdict::Caution, None));
}
