//! Good parameter files: every key lands where it belongs, whatever the unit, order and form.

// Clippy lets test functions unwrap, but not their helpers.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::path::{Path, PathBuf};

use barrelhead::input::{
    Across, Along, BoreDepth, Counterbore, Crest, Design, DiameterBasis, DrilledAlong, Lie,
    OwnLimit, PerSide, Point, Ramp, Scribe, Side, Unit, read, read_str,
};

/// The least that makes a design; tests add to it or replace lines of it.
const LEAST: &str = "
[head]
length = 100
width_at_nut_end = 60
width_at_crest_end = 64
thickness = 20
angle = 12
[nut]
string_span = 40
string_height = 4
[machines]
barrel_diameter = 10
barrel_length = 30
string_hole = 19
plate_width = 17
plate_thickness = 1.2
pitches = [35]
overhang = [15, 16]
[placement]
[bores]
diameter = 10.5
beyond_barrel = 2
[guide]
depth = 24
end_margin = 30
";

fn design(text: &str) -> Design {
    read_str(text, Path::new("shop/least.toml"), Path::new("shop")).unwrap()
}

fn with(from: &str, to: &str) -> Design {
    assert!(LEAST.contains(from), "{from}");
    design(&LEAST.replacen(from, to, 1))
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-12, "{a} against {b}");
}

fn good(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/good")
        .join(name)
}

#[test]
fn the_example_with_every_table() {
    let d = read(&good("example.toml")).unwrap();
    assert_eq!((d.title.as_str(), d.unit), ("Sandpiper", Unit::Mm));
    let job = [
        &d.job.number,
        &d.job.revision,
        &d.job.date,
        &d.job.material,
        &d.job.quantity,
        &d.job.contact,
        &d.job.owner,
        &d.job.creator,
        &d.job.approver,
    ];
    assert_eq!(
        job,
        [
            "07",
            "B",
            "2026-03-14",
            "Spanish cedar, quarter-sawn",
            "1",
            "",
            "the workshop",
            "bench 2",
            ""
        ]
    );
    let h = &d.head;
    for (value, typed) in [
        (h.length, 196.0),
        (h.side_start, 0.0),
        (h.side_end, 184.0),
        (h.half_width_at_start.treble, 31.5),
        (h.half_width_at_start.bass, 31.5),
        (h.half_width_at_end.treble, 35.5),
        (h.half_width_at_end.bass, 35.5),
        (h.thickness, 20.4),
        (h.thickness_at_crest, 20.4),
        (h.face_veneer, 2.4),
        (h.back_veneer, 0.6),
        (h.angle, 14f64.to_radians()),
        (h.edge_radius, 0.0),
        (d.nut.string_height, 4.2),
    ] {
        near(value, typed);
    }
    assert!(h.veneers_on && h.crest == Crest::Arch && h.shoulder_width.is_none());
    for (x, typed) in d
        .nut
        .strings
        .iter()
        .zip([-21.5, -12.9, -4.3, 4.3, 12.9, 21.5])
    {
        near(*x, typed);
    }
    let m = &d.machines;
    assert_eq!(
        (m.barrel_diameter, m.barrel_length, m.string_hole),
        (10.0, 30.5, 19.0)
    );
    assert_eq!(
        (m.plate_width, m.plate_thickness, m.axis_offset),
        (17.4, 1.2, 0.0)
    );
    assert_eq!(
        m.pitches,
        PerSide {
            treble: vec![35.0, 35.0],
            bass: vec![35.0, 35.0]
        }
    );
    assert_eq!(
        m.overhang,
        PerSide {
            treble: [17.0, 18.5],
            bass: [17.0, 18.5]
        }
    );
    let screws = m.screws.as_ref().unwrap();
    assert_eq!(screws.points, [[-11.0, 0.0], [81.0, 0.0]]);
    assert_eq!((screws.pilot, screws.depth), (1.6, 7.0));
    assert_eq!(
        (d.placement.along, d.placement.depth),
        (Along::Centred, Across::Centred)
    );
    assert_eq!(
        (d.bores.diameter, d.bores.depth),
        (10.5, BoreDepth::BeyondBarrel(2.0))
    );
    assert_eq!(
        (d.bores.point, d.bores.counterbore),
        (Point::Angle(118f64.to_radians()), None)
    );
    let s = d.slots.as_ref().unwrap();
    assert_eq!(
        (s.width, s.lie, s.end_margin, s.corner_radius),
        (15.0, Lie::Rib(14.0), [18.0, 18.0], 7.5)
    );
    assert_eq!(
        s.ramp,
        Some(Ramp {
            mouth: 19.0,
            angle: 24f64.to_radians()
        })
    );
    let g = &d.guide;
    assert_eq!(
        (g.depth, g.height, g.axis_height, g.end_margin),
        (24.0, 20.4, None, 31.0)
    );
    assert_eq!((g.bore_diameter, g.bush_diameter), (10.5, None));
    assert_eq!(
        g.scribe,
        Some(Scribe {
            width: 0.8,
            depth: 0.4
        })
    );
    let p = d.press.as_ref().unwrap();
    assert_eq!(
        (p.travel, p.daylight, p.bit_length, p.flute_length),
        (80.0, Some(330.0), Some(133.0), Some(87.0))
    );
    let p = &d.print;
    assert_eq!(
        (
            p.head_allowance,
            p.block_allowance,
            p.bush_allowance,
            p.chord
        ),
        (0.2, 0.2, 0.0, 0.02)
    );
    assert_eq!(d.limits.len(), 2);
    assert_eq!(d.limits["bearing"], OwnLimit::Single(2.5));
    assert_eq!(
        d.limits["clearance"],
        OwnLimit::Band {
            low: 0.3,
            high: 0.7
        }
    );
    assert_eq!(d.files, [good("example.toml")]);
}

#[test]
fn every_place_is_the_line_that_set_it() {
    let path = good("example.toml");
    let text = std::fs::read_to_string(&path).unwrap();
    let d = read(&path).unwrap();
    for (key, place) in d.places.iter() {
        let line = text.lines().nth(place.line - 1).unwrap();
        let name = key.rsplit('.').next().unwrap();
        assert!(line.contains(name), "{key} at line {}: {line}", place.line);
        assert_eq!(place.file, path);
    }
    for key in [
        "title",
        "unit",
        "job.contact",
        "job.owner",
        "head.thickness_at_crest",
        "machines.screws.points",
        "slots.ramp.angle",
        "guide.scribe.depth",
        "print.chord",
        "limits.clearance.low",
        "press.flute_length",
    ] {
        assert!(d.places.contains_key(key), "{key}");
    }
}

#[test]
fn defaults_of_the_least_file() {
    let d = design(LEAST);
    assert_eq!((d.title.as_str(), d.unit), ("least", Unit::Mm));
    let h = &d.head;
    assert_eq!(
        (h.side_start, h.side_end, h.thickness_at_crest),
        (0.0, 100.0, 20.0)
    );
    assert_eq!(
        (h.face_veneer, h.back_veneer, h.edge_radius),
        (0.0, 0.0, 0.0)
    );
    assert!(h.veneers_on && h.crest == Crest::Flat && h.shoulder_width.is_none());
    assert_eq!(d.nut.strings.len(), 4);
    assert_eq!(
        (d.machines.axis_offset, d.machines.screws.is_none()),
        (0.0, true)
    );
    assert_eq!(
        (d.placement.along, d.placement.depth),
        (Along::Centred, Across::Centred)
    );
    assert_eq!(d.bores.point, Point::Angle(118f64.to_radians()));
    assert_eq!((d.guide.height, d.guide.bore_diameter), (20.0, 10.5));
    assert!(
        d.guide.scribe.is_none() && d.slots.is_none() && d.press.is_none() && d.limits.is_empty()
    );
    let p = &d.print;
    assert_eq!(
        (
            p.head_allowance,
            p.block_allowance,
            p.bush_allowance,
            p.chord
        ),
        (0.2, 0.2, 0.0, 0.02)
    );
}

#[test]
fn keys_of_the_head() {
    let h = with(
        "angle = 12",
        "angle = 0\ncrest = 'arch'\nside_start = 10\nside_end = 90\nshoulder_width = 50\nthickness_at_crest = 18
         face_veneer = 2\nback_veneer = 1\nveneers_on = false\nedge_radius = 3
         bass = { width_at_nut_end = 58, width_at_crest_end = 61 }",
    )
    .head;
    assert_eq!(
        (h.side_start, h.side_end, h.shoulder_width),
        (10.0, 90.0, Some(50.0))
    );
    assert_eq!(
        h.half_width_at_start,
        PerSide {
            treble: 30.0,
            bass: 29.0
        }
    );
    assert_eq!(
        h.half_width_at_end,
        PerSide {
            treble: 32.0,
            bass: 30.5
        }
    );
    assert_eq!(
        (
            h.thickness_at_crest,
            h.face_veneer,
            h.back_veneer,
            h.edge_radius
        ),
        (18.0, 2.0, 1.0, 3.0)
    );
    assert!(!h.veneers_on && h.crest == Crest::Arch && h.angle.abs() < 1e-15);
    // Without shoulders above the nut line the width there is not read.
    assert!(
        with("angle = 12", "angle = 12\nshoulder_width = 50")
            .head
            .shoulder_width
            .is_none()
    );
}

#[test]
fn keys_of_nut_placement_bores_slots() {
    let d = with("string_span = 40", "strings = [-20, -5, 7, 21.5]");
    assert_eq!(d.nut.strings, [-20.0, -5.0, 7.0, 21.5]);
    let d = with(
        "[placement]",
        "[placement]\nfirst_barrel = 40\nbass.first_barrel = 41\naxis_below_face = 9",
    );
    assert_eq!(
        d.placement.along,
        Along::FirstBarrel(PerSide {
            treble: 40.0,
            bass: 41.0
        })
    );
    assert_eq!(d.placement.depth, Across::AxisBelowFace(9.0));
    let d = with("[placement]", "[placement]\nfirst_barrel = 40");
    assert_eq!(
        d.placement.along,
        Along::FirstBarrel(PerSide {
            treble: 40.0,
            bass: 40.0
        })
    );
    let d = with(
        "diameter = 10.5\nbeyond_barrel = 2",
        "clearance = 0.4\nbeyond_centre = 0\npoint = 'flat'\ncounterbore = { diameter = 13, depth = 4 }",
    );
    near(d.bores.diameter, 10.4);
    near(d.guide.bore_diameter, 10.4);
    assert_eq!(
        (d.bores.depth, d.bores.point),
        (BoreDepth::BeyondCentre(0.0), Point::Flat)
    );
    assert_eq!(
        d.bores.counterbore,
        Some(Counterbore {
            diameter: 13.0,
            depth: 4.0
        })
    );
    let d = with("beyond_barrel = 2", "beyond_barrel = 2\npoint = 179.5");
    assert_eq!(d.bores.point, Point::Angle(179.5f64.to_radians()));
    let s = with(
        "[guide]",
        "[slots]\nwidth = 14\ncheek = 11\nend_margin = [0, 18]\ncorner_radius = 0\n[guide]",
    )
    .slots;
    let s = s.unwrap();
    assert_eq!(
        (s.lie, s.end_margin, s.corner_radius, s.ramp),
        (Lie::Cheek(11.0), [0.0, 18.0], 0.0, None)
    );
    let s = with(
        "[guide]",
        "[slots]\nwidth = 14\nrib = 12\nend_margin = [18, 18]\n[guide]",
    )
    .slots
    .unwrap();
    assert_eq!((s.lie, s.corner_radius), (Lie::Rib(12.0), 7.0));
}

#[test]
fn keys_of_guide_press_print_limits() {
    let g = with(
        "end_margin = 30",
        "end_margin = 30\nheight = 25\naxis_height = 9.5\nbore_diameter = 10.6\nbush_diameter = 15",
    )
    .guide;
    assert_eq!(
        (g.height, g.axis_height, g.bore_diameter, g.bush_diameter),
        (25.0, Some(9.5), 10.6, Some(15.0))
    );
    let d = design(&format!(
        "{LEAST}[press]\ntravel = 70\n[print]\nhead_allowance = -0.1\nblock_allowance = 0\nbush_allowance = 0.05\nchord = 0.1
         [limits]\nside-pull = 9\nnut-break = {{ low = 6, high = 31 }}\nblock-guided = 2\nwood-over = '1/8 in'\nplate-side = -3"
    ));
    let press = d.press.unwrap();
    assert_eq!(
        (
            press.travel,
            press.daylight,
            press.bit_length,
            press.flute_length
        ),
        (70.0, None, None, None)
    );
    let p = &d.print;
    assert_eq!(
        (
            p.head_allowance,
            p.block_allowance,
            p.bush_allowance,
            p.chord
        ),
        (-0.1, 0.0, 0.05, 0.1)
    );
    assert_eq!(d.limits["side-pull"], OwnLimit::Single(9.0));
    assert_eq!(
        d.limits["nut-break"],
        OwnLimit::Band {
            low: 6.0,
            high: 31.0
        }
    );
    assert_eq!(d.limits["wood-over"], OwnLimit::Single(3.175));
    assert_eq!(d.limits["plate-side"], OwnLimit::Single(-3.0));
    assert_eq!(d.limits["block-guided"], OwnLimit::Single(2.0));
}

#[test]
fn barrels_of_both_sides() {
    let m = with("pitches = [35]", "barrels = 3\nover_outer_barrels = 80").machines;
    assert_eq!(
        m.pitches,
        PerSide {
            treble: vec![35.0, 35.0],
            bass: vec![35.0, 35.0]
        }
    );
    let d = with(
        "[placement]",
        "[machines.bass]\npitches = [34, 36]\noverhang = [14, 13]\n[placement]",
    );
    assert_eq!(
        d.machines.pitches,
        PerSide {
            treble: vec![35.0],
            bass: vec![34.0, 36.0]
        }
    );
    assert_eq!(
        d.machines.overhang,
        PerSide {
            treble: [15.0, 16.0],
            bass: [14.0, 13.0]
        }
    );
    assert_eq!(d.nut.strings.len(), 5);
    let m = with(
        "[placement]",
        "[machines.bass]\nbarrels = 2\nover_outer_barrels = 44\n[placement]",
    )
    .machines;
    assert_eq!(m.pitches.bass, [34.0]);
    assert_eq!(
        m.overhang.bass.map(f64::to_bits),
        m.overhang.treble.map(f64::to_bits)
    );
    let d = with("pitches = [35]", "pitches = []");
    assert_eq!(
        (d.machines.pitches.treble.len(), d.nut.strings.as_slice()),
        (0, [-20.0, 20.0].as_slice())
    );
    assert!(
        with("pitches = [35]", "barrels = 1")
            .machines
            .pitches
            .treble
            .is_empty()
    );
    let m = with(
        "pitches = [35]",
        "pitches = [35]\nplate_length = 66.2\nscrews = { points = [], pilot = 1, depth = 5 }",
    );
    assert!(m.machines.screws.is_none());
    let many = format!("pitches = {:?}", vec![20; 63]);
    assert_eq!(with("pitches = [35]", &many).nut.strings.len(), 128);
}

#[test]
fn a_text_carries_its_own_unit_in_any_file() {
    let inches = LEAST.replacen("\n[head]", "\nunit = 'in'\n[head]", 1);
    let to_text = |text: &str| -> String {
        text.lines()
            .map(|line| match line.split_once(" = ") {
                Some((key, list)) if list.starts_with('[') => {
                    let items: Vec<_> = list
                        .trim_matches(['[', ']'])
                        .split(", ")
                        .map(|n| format!("'{n} mm'"))
                        .collect();
                    format!("{key} = [{}]\n", items.join(", "))
                }
                Some((key, number)) if key != "angle" && key != "unit" => {
                    format!("{key} = '{number} mm'\n")
                }
                _ => format!("{line}\n"),
            })
            .collect()
    };
    let mut a = design(&to_text(&inches));
    let b = design(LEAST);
    assert_eq!(a.unit, Unit::Inch);
    a.unit = Unit::Mm;
    a.places.clone_from(&b.places);
    assert_eq!(a, b);
    near(
        with("thickness = 20", "thickness = '1-3/16 in'")
            .head
            .thickness,
        1.1875 * 25.4,
    );
}

#[test]
fn a_default_is_millimetres_in_a_file_of_inches() {
    let text = std::fs::read_to_string(good("inches.toml")).unwrap();
    let d = design(&text);
    let p = &d.print;
    assert_eq!(
        (
            p.head_allowance,
            p.block_allowance,
            p.bush_allowance,
            p.chord
        ),
        (0.2, 0.2, 0.0, 0.02)
    );
    assert_eq!(d.bores.point, Point::Angle(118f64.to_radians()));
}

#[test]
fn inches_equal_millimetres() {
    let inch = read(&good("inches.toml")).unwrap();
    let mm = read(&good("millimetres.toml")).unwrap();
    assert_eq!(inch.unit, Unit::Inch);
    let numbers = |d: &Design| {
        let (h, m, g) = (&d.head, &d.machines, &d.guide);
        let s = d.slots.as_ref().unwrap();
        let BoreDepth::BeyondBarrel(beyond) = d.bores.depth else {
            panic!()
        };
        let Along::FirstBarrel(first) = d.placement.along else {
            panic!()
        };
        let Lie::Rib(rib) = s.lie else { panic!() };
        let OwnLimit::Band { low, high } = d.limits["clearance"] else {
            panic!()
        };
        let OwnLimit::Single(degrees) = d.limits["side-pull"] else {
            panic!()
        };
        let mut all = vec![
            h.length,
            h.side_end,
            h.half_width_at_start.treble,
            h.half_width_at_end.bass,
            h.thickness,
            h.angle,
            d.nut.string_height,
            m.barrel_diameter,
            m.barrel_length,
            m.string_hole,
            m.plate_width,
            m.plate_thickness,
            m.axis_offset,
            d.bores.diameter,
            beyond,
            first.treble,
            first.bass,
            s.width,
            rib,
            s.corner_radius,
            g.depth,
            g.height,
            g.end_margin,
            g.bush_diameter.unwrap(),
            low,
            high,
            degrees,
            d.press.as_ref().unwrap().travel,
        ];
        all.extend(&d.nut.strings);
        all.extend(&m.pitches.treble);
        all.extend(m.overhang.bass);
        all.extend(s.end_margin);
        all.extend(m.screws.as_ref().unwrap().points.iter().flatten());
        all
    };
    let (a, b) = (numbers(&inch), numbers(&mm));
    assert_eq!(a.len(), b.len());
    for (a, b) in a.iter().zip(&b) {
        near(*a, *b);
    }
}

#[test]
fn order_of_tables_and_keys_does_not_matter() {
    let text = std::fs::read_to_string(good("example.toml")).unwrap();
    let mut parts: Vec<Vec<&str>> = vec![vec![]];
    for line in text
        .lines()
        .filter(|line| !line.trim().is_empty() && !line.starts_with('#'))
    {
        if line.starts_with('[') {
            parts.push(vec![]);
        }
        parts.last_mut().unwrap().push(line);
    }
    for part in &mut parts {
        let keys_from = usize::from(part.first().is_some_and(|line| line.starts_with('[')));
        part[keys_from..].reverse();
    }
    parts[1..].reverse();
    let turned: Vec<String> = parts.iter().map(|part| part.join("\n")).collect();
    let mut a = design(&turned.join("\n"));
    let mut b = design(&text);
    assert_ne!(a.places, b.places);
    a.places = std::sync::Arc::default();
    b.places = std::sync::Arc::default();
    assert_eq!(a, b);
}

#[test]
fn windows_line_ends_and_byte_order_mark() {
    let text = std::fs::read_to_string(good("example.toml")).unwrap();
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("Sandpiper.toml");
    std::fs::write(&path, format!("\u{feff}{}", text.replace('\n', "\r\n"))).unwrap();
    let (a, b) = (read(&path).unwrap(), read(&good("example.toml")).unwrap());
    assert_eq!(
        (&a.head, &a.machines, &a.job),
        (&b.head, &b.machines, &b.job)
    );
    let lines = |d: &Design| {
        d.places
            .iter()
            .map(|(k, p)| (k.clone(), p.line))
            .collect::<Vec<_>>()
    };
    assert_eq!(lines(&a), lines(&b));
}

#[test]
fn the_demo_forms_with_inline_tables() {
    let text = LEAST.replacen(
        "[bores]\ndiameter = 10.5\nbeyond_barrel = 2\n[guide]\ndepth = 24\nend_margin = 30\n",
        "",
        1,
    );
    let d = design(&format!(
        "bores = {{ diameter = 10.5, beyond_barrel = 2 }}\nguide.depth = 24\nguide.end_margin = 30\n{text}"
    ));
    assert_eq!((d.bores.diameter, d.guide.depth), (10.5, 24.0));
}

#[test]
fn keys_of_tolerances_and_template() {
    let d = design(LEAST);
    let t = &d.tolerances;
    assert_eq!(
        (t.pitch, t.bore_diameter, t.axis_below_face),
        (0.1, 0.1, 0.2)
    );
    assert_eq!(
        (t.squareness, t.bush_seat.name),
        (0.3_f64.to_radians(), "H7")
    );
    assert!(d.template.is_none());
    let slots = "[slots]\nwidth = 15\nrib = 14\nend_margin = [18, 18]\n";
    let d = design(&format!("{LEAST}{slots}"));
    let template = d.template.unwrap();
    assert_eq!((template.cutter, template.bush), (14.0, 14.0));
    let d = design(&format!("{LEAST}{slots}corner_radius = 1.5\n"));
    assert!((d.template.unwrap().cutter - 3.0).abs() < 1e-12);
    let d = design(&format!(
        "{LEAST}{slots}[template]\ncutter = '1/2 in'\nbush = 19\n[tolerances]\npitch = 0.05\nbore_diameter = '0.002 in'
         axis_below_face = 0.15\nsquareness = 0.2\nbush_seat = 'F7'"
    ));
    let template = d.template.unwrap();
    assert_eq!((template.cutter, template.bush), (12.7, 19.0));
    let t = &d.tolerances;
    assert_eq!(
        (t.pitch, t.bore_diameter, t.axis_below_face),
        (0.05, 0.0508, 0.15)
    );
    assert_eq!(
        (t.squareness, t.bush_seat.name),
        (0.2_f64.to_radians(), "F7")
    );
}

#[test]
fn drilling_has_defaults_and_takes_the_makers_own() {
    let d = design(LEAST).drilling;
    assert_eq!(
        (d.position, d.wander, d.growth, d.pitch),
        (0.1, 0.1, 0.05, 0.03)
    );
    assert!((d.squareness - 0.1_f64.to_radians()).abs() < 1e-15);
    let d = design(&format!(
        "{LEAST}[drilling]\nposition = '0.005 in'\nsquareness = 0\nwander = 0.2\ngrowth = 0\npitch = 0.01\n"
    ))
    .drilling;
    assert_eq!(
        (d.position, d.wander, d.growth, d.pitch),
        (0.127, 0.2, 0.0, 0.01)
    );
    assert!(d.squareness.abs() < 1e-15);
}

#[test]
fn a_bed_is_three_lengths_in_the_files_unit() {
    let text = std::fs::read_to_string("tests/good/example.toml").unwrap();
    let bed = |line: &str| {
        let text = text.replace("[print]\n", &format!("[print]\n{line}\n"));
        let design = barrelhead::input::read_str(&text, "a.toml".as_ref(), "tests/good".as_ref());
        design.unwrap().print.bed
    };
    assert_eq!(bed(""), None);
    assert_eq!(
        bed("bed = [220, \"8 in\", 250.5]"),
        Some([220.0, 203.2, 250.5])
    );
}

#[test]
fn the_rig_has_defaults_and_takes_its_own_measures() {
    let plain = design(LEAST).rig;
    near(plain.base, 18.0);
    near(plain.upright, 24.0);
    near(plain.packing, 12.0);
    assert_eq!(plain.fixing, "M5");
    let rig = design(&format!(
        "{LEAST}[rig]\nbase = '3/4 in'\nupright = 30\nfront = 100\nbehind = 70\nbeyond = 50\nrelief = 14\n\
         packing = 9\nwedge_thin_end = 2\nfixing = 'M6'"
    ))
    .rig;
    near(rig.base, 19.05);
    let [upright, front, behind] = [rig.upright, rig.front, rig.behind];
    for (got, wanted) in [(upright, 30.0), (front, 100.0), (behind, 70.0)] {
        near(got, wanted);
    }
    let [beyond, relief, packing] = [rig.beyond, rig.relief, rig.packing];
    for (got, wanted) in [(beyond, 50.0), (relief, 14.0), (packing, 9.0)] {
        near(got, wanted);
    }
    near(rig.wedge_thin_end, 2.0);
    assert_eq!(rig.fixing, "M6");
}

#[test]
fn records_of_bores_in_every_way_they_can_be_measured() {
    let text = format!(
        "{LEAST}
[[drilled]]
side = \"treble\"
number = 2
edges_from_previous = [24.5, \"1-3/8 in\"]
edges_below_face = [4.6, 15.1]

[[drilled]]
side = \"bass\"
number = 2

[[drilled]]
side = \"treble\"
number = 1
along = 40.2
below_face = 9.8
lean_along = 0.5
lean_across = -0.25
diameter = 10.6
"
    );
    let drilled = design(&text).drilled;
    let [first, second, third] = drilled.as_slice() else {
        panic!("{drilled:?}");
    };
    assert_eq!((first.side, first.number), (Side::Treble, 1));
    assert_eq!(first.along, DrilledAlong::FromNutLine(40.2));
    assert_eq!((first.below_face, first.diameter), (Some(9.8), Some(10.6)));
    near(first.lean_along, 0.5_f64.to_radians());
    near(first.lean_across, -0.25_f64.to_radians());
    let DrilledAlong::FromPrevious(centre) = second.along else {
        panic!("{second:?}");
    };
    // 1-3/8 in = 34.925 mm.
    near(centre, (24.5 + 34.925) / 2.0);
    near(second.below_face.unwrap(), 9.85);
    near(second.diameter.unwrap(), (34.925 - 24.5 + 10.5) / 2.0);
    assert_eq!(
        (third.side, third.along),
        (Side::Bass, DrilledAlong::AsDesigned)
    );
    assert_eq!((third.below_face, third.diameter), (None, None));
}

#[test]
fn strings_are_given_or_taken_as_is_usual() {
    assert!(design(LEAST).strings.is_none());
    let six = std::fs::read_to_string(good("example.toml")).unwrap();
    let strung = |table: &str| design(&format!("{six}\n{table}")).strings.unwrap();
    let usual = strung("[strings]");
    assert_eq!(usual.diameters, [1.09, 0.89, 0.74, 1.02, 0.82, 0.71]);
    assert_eq!(usual.diameter_basis, DiameterBasis::FromMemory);
    let on = |numbers: [usize; 6]| -> Vec<(Side, usize)> {
        let sides = [Side::Bass, Side::Treble];
        numbers
            .into_iter()
            .enumerate()
            .map(|(i, n)| (sides[i / 3], n))
            .collect()
    };
    assert_eq!(usual.barrels, on([1, 2, 3, 3, 2, 1]));
    assert_eq!(usual.turns, [3.0; 6]);
    assert_eq!((usual.over, usual.outwards), (vec![true; 6], vec![true; 6]));
    let own = strung(
        "[strings]\ndiameters = \"0.04 in\"\nbarrels = [2, 1, 3, 1, 2, 3]\nturns = [3, 3, 3, 4, 4, 4.5]\n\
         leaves = [\"over\", \"over\", \"under\", \"over\", \"over\", \"over\"]\nwalk = \"in\"",
    );
    for diameter in &own.diameters {
        near(*diameter, 1.016);
    }
    assert_eq!(own.diameter_basis, DiameterBasis::Given);
    assert_eq!(own.barrels, on([2, 1, 3, 1, 2, 3]));
    assert_eq!(own.turns, [3.0, 3.0, 3.0, 4.0, 4.0, 4.5]);
    assert_eq!(own.over, [true, true, false, true, true, true]);
    assert_eq!(own.outwards, [false; 6]);
    // Thin posts carry steel; how many strings decides the rest.
    let posts = six.replace("barrel_diameter = 10.0", "barrel_diameter = 6.35");
    let steel = design(&format!("{posts}\n[strings]")).strings.unwrap();
    assert_eq!(
        (steel.diameters[0], steel.diameter_basis),
        (1.37, DiameterBasis::CommonPractice)
    );
    let one = design(&format!("{LEAST}\n[strings]")).strings.unwrap();
    assert_eq!(one.diameter_basis, DiameterBasis::Assumed);
}
