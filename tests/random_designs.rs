//! Random designs: whatever the checks let pass must build and prove itself, and must obey the
//! laws of the workshop: a mirror, another unit, another order of keys change nothing but signs.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise"
)]

mod random;

use std::path::Path;

use barrelhead::check::{Finding, Limit, Report, Verdict};
use barrelhead::solid::brep::{Face, Surface};
use barrelhead::solid::{Part, Solids, unproved_copies};
use glam::DVec3;
use random::features::FEATURES;
use random::integral::measured;
use random::look::{look_at, mesh_bound};
use random::shell::volume_of_mesh;
use random::stops::{Ground, STOPS, ground};
use random::tally::{Fate, Judged, fate, judged, report_of, try_many};
use random::{Dice, Draft, Sheet, Value};

/// Ten thousand designs. Every one that passes its checks is built, closed, oriented, with the faces
/// and passages its design asks for, its volume that of the closed form, its bores where the layout
/// has them; and every feature of the parameter file is among them.
#[test]
fn what_passes_its_checks_is_built_and_proved() {
    let (seed, count) = (7, 10_000);
    let tally = try_many(seed, count);
    report_of("fixed", seed, count, &tally);
    println!("  built with {:?}", tally.features);
    for stop in STOPS {
        let code = stop.code;
        assert!(tally.stops.contains_key(code), "{code} stopped no design");
    }
    for feature in FEATURES {
        assert!(
            tally.features.contains_key(*feature),
            "no design built has: {feature}"
        );
    }
}

/// The same for designs never drawn before: 300, or as many as BARRELHEAD_FRESH says; a seed that
/// failed is tried again with BARRELHEAD_SEED.
#[test]
fn designs_never_drawn_before_are_built_and_proved() {
    let seed = random::seed();
    let count = random::number("BARRELHEAD_FRESH").unwrap_or(300) as usize;
    println!("BARRELHEAD_SEED={seed}");
    let tally = try_many(seed, count);
    report_of("fresh", seed, count, &tally);
}

/// Not a test: files for a soak of the fuzzer to begin from, 400 or as many as BARRELHEAD_FRESH says, so that
/// it need not find out by chance what a design is made of.
#[test]
#[ignore = "writes files for the fuzzer: DEVELOPERS, Fuzzing"]
fn random_designs_for_the_fuzzer() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/fuzz/random");
    let count = random::number("BARRELHEAD_FRESH").unwrap_or(400);
    let mut dice = Dice::new(random::seed());
    for n in 0..count {
        let sheet = random::design(&mut dice).in_one_file();
        let draft = if n % 4 == 3 {
            sheet.inches()
        } else {
            sheet.millimetres()
        };
        draft.write(&folder, &format!("{n:04}.toml")).unwrap();
    }
}

type Tamper<'a> = &'a dyn Fn(&mut Part);
type Twist<'a> = &'a dyn Fn(&mut Finding);

/// What a look at the solids is there for, it finds.
#[test]
fn solids_that_are_not_as_designed_are_found_out() {
    let mut dice = Dice::new(3);
    let (solids, checked) = loop {
        if let Fate::Built(built) = fate(&random::design(&mut dice).millimetres())
            && built.2.finished().design.slots.is_some()
            && built.2.finished().bores().count() == 6
        {
            break (built.1, built.2);
        }
    };
    look_at(&solids, &checked).unwrap();
    let axis_moved = |part: &mut Part| {
        let cylinders = part
            .brep
            .faces
            .iter_mut()
            .find_map(|face| match &mut face.surface {
                Surface::Cylinder { origin, axis, .. } if axis.z.abs() < 0.5 => Some(origin),
                _ => None,
            });
        cylinders.unwrap().z += 1e-6;
    };
    let tampers: [(&str, Tamper<'_>); 15] = [
        ("an axis a millionth off", &axis_moved),
        ("a face missing", &|part| {
            part.brep.faces.pop();
        }),
        ("an edge turned round", &|part| {
            let used = &mut part.brep.faces[0].loops[0][0];
            used.forward = !used.forward;
        }),
        ("a vertex too many", &|part| {
            part.brep.vertices.push(DVec3::ZERO);
        }),
        ("a box a millionth too wide", &|part| {
            part.measures.max.x += 1e-6
        }),
        ("a triangle missing", &|part| {
            part.printed.triangles.pop();
        }),
        ("a triangle turned round", &|part| {
            part.printed.triangles[0].reverse()
        }),
        ("another piece beside it", &|part| {
            let mesh = &mut part.printed;
            let (count, middle) = (mesh.points.len(), mesh.points[0]);
            mesh.points
                .extend([DVec3::ZERO, DVec3::X, DVec3::Y, DVec3::Z].map(|p| middle + p));
            let apart = [[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]];
            mesh.triangles
                .extend(apart.map(|three| three.map(|id| count + id)));
        }),
        ("a copy shrunk by a hundredth", &|part| resize(part, 0.99)),
        ("a volume told a hundred-millionth too large", &|part| {
            part.measures.volume *= 1.0 + 1e-8
        }),
        ("an area told a hundred-millionth too small", &|part| {
            part.measures.area *= 1.0 - 1e-8
        }),
        ("a centroid told a hundred-thousandth off", &|part| {
            part.measures.centroid.y += 1e-5
        }),
        ("a cylinder's face a millionth wider", &|part| {
            let radius = part
                .brep
                .faces
                .iter_mut()
                .find_map(|face| match &mut face.surface {
                    Surface::Cylinder { radius, axis, .. } if axis.z.abs() < 0.5 => Some(radius),
                    _ => None,
                });
            *radius.unwrap() += 1e-6;
        }),
        ("a point of a rim a hundredth into the wood", &|part| {
            let bores = |face: &&Face| matches!(face.surface, Surface::Cylinder { axis, .. } if axis.z.abs() < 0.5);
            let face = part.brep.faces.iter().find(bores).unwrap();
            let at = part.brep.vertices[part.brep.ends(face.loops[0][0]).0];
            let points = part.printed.points.iter_mut();
            let near = points.min_by(|a, b| a.distance(at).total_cmp(&b.distance(at)));
            near.unwrap().z += 0.01;
        }),
        ("a shell that is another's", &|part| {
            for vertex in &mut part.brep.vertices {
                vertex.y *= 1.0 + 1e-8;
            }
        }),
    ];
    for (what, tamper) in tampers {
        for index in 0..=solids.blocks.len() {
            let mut other = solids.clone();
            tamper(match index {
                0 => &mut other.head,
                _ => &mut other.blocks[index - 1],
            });
            assert!(look_at(&other, &checked).is_err(), "{what}, part {index}");
        }
    }
}

/// A printed copy larger or smaller about its middle.
fn resize(part: &mut Part, by: f64) {
    let mesh = &mut part.printed;
    let middle = mesh.points.iter().sum::<DVec3>() / mesh.points.len() as f64;
    for point in &mut mesh.points {
        *point = middle + (*point - middle) * by;
    }
}

/// The bound on a mesh's volume is no wider than it says.
#[test]
fn a_mesh_a_tenth_past_its_bound_is_found_out() {
    let mut dice = Dice::new(5);
    let mut tried = 0;
    while tried < 10 {
        let Fate::Built(built) = fate(&random::design(&mut dice).millimetres()) else {
            continue;
        };
        let (_, solids, checked) = *built;
        tried += 1;
        let chord = checked.finished().design.print.chord;
        let copies = unproved_copies(&checked);
        for (index, copy) in copies.iter().enumerate() {
            let own = measured(copy);
            for times in [1.1, -1.1] {
                let mut other = solids.clone();
                let part = match index {
                    0 => &mut other.head,
                    _ => &mut other.blocks[index - 1],
                };
                let wanted = own.volume + times * mesh_bound(&own, chord);
                let by = (wanted / volume_of_mesh(&part.printed)).cbrt();
                resize(part, by);
                let seen = look_at(&other, &checked).unwrap_err();
                assert!(
                    seen.contains("mesh: volume"),
                    "{times}, part {index}: {seen}"
                );
            }
        }
    }
}

/// A stop is held against the contract, not believed: another limit, a value that does not miss it or is no number,
/// a place or a code that the contract does not have, and what only a guard asks.
#[test]
fn stops_without_ground_are_found_out() {
    let mut dice = Dice::new(17);
    let (mut bearing, mut ends) = (None, None);
    while bearing.is_none() || ends.is_none() {
        let Judged::Stopped(stopped) = judged(&random::design(&mut dice).millimetres()) else {
            continue;
        };
        for finding in stopped.stops() {
            let (at, found) = (finding.at.clone(), (finding.clone(), stopped.clone()));
            match finding.code {
                "bearing" => bearing = bearing.or(Some(found)),
                "far-wood" if finding.limit == Limit::Single(0.01) && !at.contains("past") => {
                    ends = ends.or(Some(found));
                }
                _ => {}
            }
        }
    }
    let (right, design) = bearing.unwrap();
    let ground_of = |finding: &Finding| ground(finding, &design.finished, &design.printed);
    assert_eq!(ground_of(&right), Ok(Ground::Contract));
    let tampered = |tamper: &dyn Fn(&mut Finding)| {
        let mut finding = right.clone();
        tamper(&mut finding);
        ground_of(&finding)
    };
    let wrong: [(&str, Twist<'_>); 8] = [
        ("no number", &|f| f.value = f64::NAN),
        ("without end", &|f| f.value = f64::NEG_INFINITY),
        ("not missed", &|f| f.value = 0.5),
        ("another limit", &|f| f.limit = Limit::Single(0.6)),
        ("no single limit", &|f| {
            f.limit = Limit::Band {
                low: 0.5,
                high: 1.0,
            }
        }),
        ("nowhere", &|f| f.at = "somewhere".to_owned()),
        ("a caution's row", &|f| f.code = "plate-side"),
        ("a caution", &|f| f.verdict = Verdict::Caution),
    ];
    for (what, tamper) in wrong {
        assert!(tampered(tamper).is_err(), "{what}");
    }
    let guard = tampered(&|f| {
        f.code = "edges";
        f.at = "printed width of the head at the nut line".to_owned();
        f.limit = Limit::Single(1e-4);
        f.value = 5e-5;
    });
    assert!(matches!(guard, Ok(Ground::Guard(_))), "{guard:?}");

    let (mut right, design) = ends.unwrap();
    let ground_of = |finding: &Finding| ground(finding, &design.finished, &design.printed);
    assert_eq!(ground_of(&right), Ok(Ground::Contract));
    right.limit = Limit::Single(0.5);
    assert!(
        ground_of(&right).is_err(),
        "half a millimetre where a hundredth is asked"
    );

    for message in [
        "`depth` must be above zero",
        "this head is not to our taste",
    ] {
        assert!(random::refusals::rule(message).is_err(), "{message}");
    }
}

/// A message without what a mirror or another unit changes in it: sides, numbers and units.
fn in_kind(messages: &[String]) -> Vec<String> {
    let kind = |message: &String| {
        let words = message.split(' ').filter(|word| {
            !word.contains(|c: char| c.is_ascii_digit())
                // Beside the millimetres a file in inches is told its own.
                && !["mm", "mm,", "in", "in,", "in)", "in),", "treble", "bass"].contains(word)
        });
        words.collect::<Vec<_>>().join(" ")
    };
    let mut kinds: Vec<String> = messages.iter().map(kind).collect();
    kinds.sort();
    kinds
}

/// Both designs meet the same fate, for the same reasons and with the same numbers; whether they are built.
/// Lengths are held to 1e-9 of their scale: the sums differ only by rounding.
fn same_fate(one: &Draft, other: &Draft, law: &str, flip: f64) -> bool {
    match (fate(one), fate(other)) {
        (Fate::Built(one), Fate::Built(other)) => {
            let ((report, solids, _), (other_report, other_solids, _)) = (*one, *other);
            let (a, b) = (&solids.head.measures, &other_solids.head.measures);
            let close = |what: &str, x: f64, y: f64, scale: f64| {
                let off = (x - y).abs();
                assert!(off <= 1e-9 * scale, "{law}: {what} {x} {y}");
            };
            close("volume", a.volume, b.volume, a.volume);
            close("area", a.area, b.area, a.area);
            let size = a.max.distance(a.min);
            close("centroid", a.centroid.x, flip * b.centroid.x, size);
            close("centroid", a.centroid.y, b.centroid.y, size);
            close("centroid", a.centroid.z, b.centroid.z, size);
            // The mirror's blocks change names; a head with two blocks has them in the other order.
            let blocks = |solids: &Solids| {
                let mut volumes: Vec<f64> =
                    solids.blocks.iter().map(|b| b.measures.volume).collect();
                volumes.sort_by(f64::total_cmp);
                volumes
            };
            let (one, other) = (blocks(&solids), blocks(&other_solids));
            assert_eq!(one.len(), other.len(), "{law}: blocks");
            for (x, y) in one.into_iter().zip(other) {
                close("block", x, y, x);
            }
            same_findings(&report, &other_report, law);
            true
        }
        (Fate::Stopped(one), Fate::Stopped(other)) => {
            same_findings(&one.report, &other.report, law);
            false
        }
        (Fate::Refused(one), Fate::Refused(other)) | (Fate::Misfit(one), Fate::Misfit(other)) => {
            assert_eq!(in_kind(&one), in_kind(&other), "{law}");
            false
        }
        (Fate::Faulty(fault), _) | (_, Fate::Faulty(fault)) => panic!("{law}: {fault}\n{one}"),
        _ => panic!("{law}: they do not meet the same fate\n{one}\n{other}"),
    }
}

fn same_findings(one: &Report, other: &Report, law: &str) {
    let codes = |report: &Report| -> Vec<_> { report.findings.iter().map(|f| f.code).collect() };
    assert_eq!(codes(one), codes(other), "{law}");
    for (finding, twin) in one.findings.iter().zip(&other.findings) {
        let code = finding.code;
        assert_eq!(finding.verdict, twin.verdict, "{law}: {code}");
        let (x, y) = (finding.value, twin.value);
        // The longest length of a file, and with it the worst rounding, is 2000 mm.
        assert!((x - y).abs() <= 1e-9, "{law}: {code} {x} {y}");
    }
}

/// Mirror, inches for millimetres, another order of keys, and a table taken from a file of its own give the same
/// solid.
#[test]
fn mirror_unit_order_and_shelf_change_nothing() {
    let mut dice = Dice::new(11);
    let (mut built, mut shelved) = (0, 0);
    for _ in 0..80 {
        let drawn = random::design(&mut dice);
        let sheet = drawn.in_one_file();
        let plain = sheet.millimetres();
        if !drawn.shelf.is_empty() {
            same_fate(&plain, &drawn.millimetres(), "tables from a file", 1.0);
            shelved += 1;
        }
        built += usize::from(same_fate(&plain, &sheet.inches(), "inches", 1.0));
        let shuffled = sheet.shuffled(&mut dice).millimetres();
        same_fate(&plain, &shuffled, "order of keys", 1.0);
        let both = as_both_sides(&sheet);
        let mirrored = both.mirrored().millimetres();
        same_fate(&both.millimetres(), &mirrored, "mirror", -1.0);
    }
    assert!(
        built >= 40 && shelved >= 15,
        "{built} built, {shelved} shelved"
    );
}

/// The same design with the bass side's keys written out, so that a mirror can swap them, and with
/// the axis below the face given: centred, the treble plate alone decides it.
fn as_both_sides(sheet: &Sheet) -> Sheet {
    let mut sheet = sheet.clone();
    if sheet.take("placement.depth").is_some()
        && let Some(Value::Length(thickness)) = sheet.get("head.thickness").cloned()
    {
        sheet.length("placement.axis_below_face", thickness / 2.0);
    }
    for (treble, bass) in [
        ("head.width_at_nut_end", "head.bass.width_at_nut_end"),
        ("head.width_at_crest_end", "head.bass.width_at_crest_end"),
    ] {
        if let (Some(width), None) = (sheet.get(treble).cloned(), sheet.get(bass)) {
            sheet.set(bass, width);
        }
    }
    sheet
}
