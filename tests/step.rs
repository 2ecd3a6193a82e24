//! STEP files of small solids written by hand, read back by an independent reader that takes
//! every flag literally.
#![allow(clippy::unwrap_used, clippy::panic, reason = "helpers of tests")]

mod part21;
mod shapes;

use barrelhead::write::step::{Header, Part, StepError, step_file};
use part21::{Audit, Kind, audit};
use shapes::Shape;

const COLOUR: [f64; 3] = [0.72, 0.52, 0.31];

fn write(shape: &Shape, name: &str, date: Option<&str>) -> Result<String, StepError> {
    let part = Part {
        name,
        brep: &shape.brep,
        measures: &shape.measures,
        colour: COLOUR,
    };
    let header = Header {
        file_name: "part.step",
        description: "A part for a test",
        date,
    };
    step_file(&part, &header)
}

fn text(shape: &Shape) -> String {
    write(shape, shape.name, None).unwrap()
}

fn sound(step: &str) -> Audit {
    audit(step).unwrap_or_else(|wrong| panic!("{}\n{step}", wrong.join("\n")))
}

#[test]
fn every_shape_is_sound_by_its_own_flags() {
    for shape in shapes::all() {
        let found = sound(&text(&shape));
        let [solid] = found.solids.as_slice() else {
            panic!("{} solids", found.solids.len());
        };
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-12 * b.abs();
        assert!(close(solid.volume, shape.measures.volume), "{}", shape.name);
        assert!(close(solid.area, shape.measures.area), "{}", shape.name);
        assert!(solid.centroid.distance(shape.measures.centroid) < 1e-11);
        assert_eq!(solid.genus, shape.genus, "{}", shape.name);
        assert_eq!(solid.name, shape.name);
        assert_eq!(found.products, [shape.name]);
        assert_eq!(solid.faces, shape.brep.faces.len());
        assert_eq!(solid.edges, shape.brep.edges.len());
        assert_eq!(solid.vertices, shape.brep.vertices.len());
        assert!(
            solid
                .colour
                .iter()
                .zip(COLOUR)
                .all(|(a, b)| (a - b).abs() < 1e-15)
        );
    }
}

#[test]
fn surfaces_and_curves_stay_analytic() {
    let count = |found: &Audit, keyword: &str| found.counts.get(keyword).copied().unwrap_or(0);
    let plain = sound(&text(&shapes::slab()));
    for (keyword, expected) in [
        ("PLANE", 6),
        ("LINE", 12),
        ("VERTEX_POINT", 8),
        ("FACE_OUTER_BOUND", 6),
        ("FACE_BOUND", 0),
    ] {
        assert_eq!(count(&plain, keyword), expected, "{keyword}");
    }
    let bored = sound(&text(&shapes::through_hole()));
    assert_eq!(count(&bored, "FACE_BOUND"), 2);
    assert_eq!(count(&bored, "CIRCLE"), 4);
    assert_eq!(count(&bored, "ELLIPSE"), 0);
    let [one, other] = bored.solids[0].cylinders.as_slice() else {
        panic!("a bore is two halves");
    };
    for half in [one, other] {
        assert_eq!(half.name, "bore");
        assert!(half.hollow);
        assert_eq!(half.surface.kind, Kind::Cylinder { radius: 5.25 });
        assert!((half.low - 3.0).abs() < 1e-12 && (half.high - 23.0).abs() < 1e-12);
    }
    let oblique = sound(&text(&shapes::oblique_bore()));
    assert_eq!(count(&oblique, "ELLIPSE"), 4);
    assert_eq!(count(&oblique, "CIRCLE"), 0);
    let pointed = sound(&text(&shapes::blind_hole()));
    assert_eq!(count(&pointed, "CONICAL_SURFACE"), 2);
    assert_eq!(pointed.solids[0].cones.len(), 2);
    let round = sound(&text(&shapes::obround()));
    assert!(round.solids[0].cylinders.iter().all(|half| !half.hollow));
}

/// Flips the last flag of the `nth` line of an entity type.
fn flipped(step: &str, keyword: &str, nth: usize) -> Option<String> {
    let marker = format!("={keyword}(");
    let (at, _) = step.match_indices(&marker).nth(nth)?;
    let end = at + step[at..].find(");\n")?;
    let start = end - 3;
    let other = match &step[start..end] {
        ".T." => ".F.",
        ".F." => ".T.",
        _ => return None,
    };
    Some(format!("{}{other}{}", &step[..start], &step[end..]))
}

#[test]
fn each_single_flipped_flag_is_caught() {
    for shape in shapes::all() {
        let good = text(&shape);
        for (keyword, reasons) in [
            ("ORIENTED_EDGE", ["head to tail", "once each way"]),
            ("EDGE_CURVE", ["against its line", "loop runs"]),
            ("FACE_OUTER_BOUND", ["once each way", "once each way"]),
            ("FACE_BOUND", ["once each way", "once each way"]),
            ("ADVANCED_FACE", ["outer loop runs clockwise"; 2]),
        ] {
            let total = good.matches(&format!("={keyword}(")).count();
            for nth in 0..total {
                let bad = flipped(&good, keyword, nth).unwrap();
                assert_ne!(bad, good);
                let wrong = audit(&bad).unwrap_err().join("\n");
                assert!(
                    reasons.iter().any(|reason| wrong.contains(reason)),
                    "{}: {keyword} {nth} flipped gives {wrong}",
                    shape.name
                );
            }
            assert!(flipped(&good, keyword, total).is_none());
        }
    }
}

#[test]
fn a_solid_turned_inside_out_is_caught() {
    // Every sense and every loop reversed: all edges still match, the volume is negative.
    let mut shape = shapes::through_hole();
    for face in &mut shape.brep.faces {
        face.same_sense = !face.same_sense;
        for uses in &mut face.loops {
            uses.reverse();
            for used in uses.iter_mut() {
                used.forward = !used.forward;
            }
        }
    }
    let wrong = audit(&text(&shape)).unwrap_err().join("\n");
    assert!(wrong.contains("volume by the file's flags is -"), "{wrong}");
    assert!(!wrong.contains("once each way"), "{wrong}");
}

#[test]
fn other_damage_is_caught() {
    let good = text(&shapes::blind_hole());
    sound(&good);
    for (from, to, expected) in [
        ("VOLUME_MEASURE(2", "VOLUME_MEASURE(3", "volume is"),
        ("AREA_MEASURE(", "AREA_MEASURE(1", "surface area is"),
        ("'centre point',(1", "'centre point',(2", "centroid"),
        ("442 4 1 4", "442 1 1 4", "schema"),
        ("2;1", "4;1", "implementation level"),
        (".MILLI.", "$", "LENGTH_UNIT"),
        ("(1.E-6)", "(1.E-3)", "uncertainty"),
        ("#3=", "#2=", "twice"),
        (",1.0297442586766545)", ",59.)", "radians"),
        ("=STYLED_ITEM('',(#", "=STYLED_ITEM('',(#9", "not there"),
        (
            "(LENGTH_UNIT()NAMED_UNIT(*)",
            "(NAMED_UNIT(*)LENGTH_UNIT()",
            "alphabetical",
        ),
    ] {
        assert!(good.contains(from), "{from}");
        let wrong = audit(&good.replacen(from, to, 1)).unwrap_err().join("\n");
        assert!(wrong.contains(expected), "{from} gives {wrong}");
    }
    // A cylinder one hundredth too wide, and vertices that are gone.
    let wide = |line: &str| {
        let cylinder = line.contains("=CYLINDRICAL_SURFACE(");
        line.replace(",5.25);", if cylinder { ",5.26);" } else { ",5.25);" })
    };
    let wide: Vec<String> = good.lines().map(wide).collect();
    let wrong = audit(&wide.join("\n")).unwrap_err().join("\n");
    assert!(wrong.contains("off the surface"), "{wrong}");
    let kept = good.lines().filter(|line| !line.contains("=VERTEX_POINT("));
    let kept: Vec<&str> = kept.collect();
    let wrong = audit(&kept.join("\n")).unwrap_err().join("\n");
    assert!(wrong.contains("which is not there"), "{wrong}");
}

#[test]
fn names_and_dates_come_through() {
    let name = "Maker's \"T\u{ea}te\" \\ \u{1F3B8} \u{39}\u{2032}\nhead";
    let step = write(&shapes::slab(), name, Some("2026-03-14")).unwrap();
    assert!(step.is_ascii());
    let found = sound(&step);
    let shown = name.replace('\n', "\u{240A}");
    assert_eq!(found.products, [shown.as_str()]);
    assert_eq!(found.solids[0].name, shown);
    assert_eq!(found.file_name, "part.step");
    assert_eq!(found.time_stamp, "2026-03-14T00:00:00");
    let undated = sound(&text(&shapes::slab()));
    assert_eq!(undated.time_stamp, "1970-01-01T00:00:00");
}

#[test]
fn the_same_part_gives_the_same_bytes() {
    for (one, other) in shapes::all().iter().zip(&shapes::all()) {
        assert_eq!(text(one), text(other));
    }
}

#[test]
fn what_is_no_solid_is_refused() {
    let broken = |damage: &dyn Fn(&mut Shape)| {
        let mut shape = shapes::through_hole();
        damage(&mut shape);
        write(&shape, "broken", None).unwrap_err()
    };
    let error = broken(&|s| s.brep.faces.clear());
    assert_eq!(error, StepError::NoFaces);
    let error = broken(&|s| s.brep.faces[0].loops.clear());
    assert!(matches!(error, StepError::NoEdges { .. }));
    let error = broken(&|s| s.brep.faces[0].loops[0].clear());
    assert!(matches!(error, StepError::NoEdges { .. }));
    let error = broken(&|s| s.brep.faces[0].loops[0][0].edge = 999);
    assert_eq!(error, StepError::NoSuchEdge { index: 999 });
    let error = broken(&|s| s.brep.edges[0].end = 999);
    assert_eq!(error, StepError::NoSuchVertex { index: 999 });
    let error = broken(&|s| s.brep.edges[0].end = s.brep.edges[0].start);
    assert!(matches!(error, StepError::NoLength { .. }));
    let error = broken(&|s| s.brep.vertices[8].x += 1e-3);
    assert!(matches!(error, StepError::ArcOffVertex { .. }));
    let error = broken(&|s| s.brep.vertices[0].x = f64::NAN);
    assert!(matches!(
        error,
        StepError::NoLength { .. } | StepError::NotFinite { .. }
    ));
    let error = broken(&|s| s.measures.volume = f64::INFINITY);
    assert!(matches!(error, StepError::NotFinite { .. }));
}

#[test]
fn a_colour_out_of_range_is_refused() {
    let shape = shapes::slab();
    for bad in [-0.1, 1.1, f64::NAN] {
        let part = Part {
            name: "slab",
            brep: &shape.brep,
            measures: &shape.measures,
            colour: [bad, 0.5, 0.5],
        };
        let header = Header {
            file_name: "",
            description: "",
            date: None,
        };
        assert_eq!(step_file(&part, &header).unwrap_err(), StepError::BadColour);
    }
}
