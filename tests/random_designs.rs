//! Random designs: whatever the checks let pass must build and prove itself, and must obey the
//! laws of the workshop: a mirror, another unit, another order of keys change nothing but signs.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::float_cmp,
    clippy::neg_cmp_op_on_partial_ord,
    reason = "a test stops at the first surprise"
)]

mod random;

use barrelhead::solid::brep::Surface;
use barrelhead::solid::{Part, Solids};
use glam::DVec3;
use random::features::FEATURES;
use random::look::look_at;
use random::tally::{Fate, STOPS, fate, report_of, try_many};
use random::{Dice, Sheet, Value};

/// Ten thousand designs. Every one that passes its checks is built, closed, oriented, with the faces
/// and passages its design asks for, its volume that of the closed form, its bores where the layout
/// has them; and every feature of the parameter file is among them.
#[test]
fn what_passes_its_checks_is_built_and_proved() {
    let (seed, count) = (7, 10_000);
    let tally = try_many(seed, count);
    report_of("fixed", seed, count, &tally);
    println!("  built with {:?}", tally.features);
    for (code, _) in STOPS {
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
    let number = |name: &str| std::env::var(name).ok()?.parse::<u64>().ok();
    let now = std::time::UNIX_EPOCH.elapsed();
    let clock = now.map_or(0, |now| now.as_nanos() as u64);
    let seed = number("BARRELHEAD_SEED").unwrap_or(clock);
    let count = number("BARRELHEAD_FRESH").unwrap_or(300) as usize;
    println!("BARRELHEAD_SEED={seed}");
    let tally = try_many(seed, count);
    report_of("fresh", seed, count, &tally);
}

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
    let tampers: [(&str, &dyn Fn(&mut Part)); 9] = [
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
        ("a copy shrunk by a hundredth", &|part| {
            let mesh = &mut part.printed;
            let middle = mesh.points.iter().sum::<DVec3>() / mesh.points.len() as f64;
            for point in &mut mesh.points {
                *point = middle + (*point - middle) * 0.99;
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

/// Both designs meet the same fate, and where built, `same` holds for every pair of numbers.
fn same_fate(one: &str, other: &str, law: &str, flip: f64) {
    match (fate(one), fate(other)) {
        (Fate::Built(one), Fate::Built(other)) => {
            let ((report, solids, _), (other_report, other_solids, _)) = (*one, *other);
            // The mirror's blocks change names; a head with two blocks has them in the other order.
            let (a, b) = (&solids.head.measures, &other_solids.head.measures);
            let close = |x: f64, y: f64, scale: f64| (x - y).abs() <= 1e-9 * scale;
            assert!(
                close(a.volume, b.volume, a.volume),
                "{law}: volume {} {}",
                a.volume,
                b.volume
            );
            assert!(
                close(a.area, b.area, a.area),
                "{law}: area {} {}",
                a.area,
                b.area
            );
            let size = a.max.distance(a.min);
            assert!(
                close(a.centroid.x, flip * b.centroid.x, size),
                "{law}: centroid"
            );
            assert!(
                close(a.centroid.y, b.centroid.y, size) && close(a.centroid.z, b.centroid.z, size)
            );
            let blocks = |solids: &Solids| {
                let mut volumes: Vec<f64> =
                    solids.blocks.iter().map(|b| b.measures.volume).collect();
                volumes.sort_by(f64::total_cmp);
                volumes
            };
            for (x, y) in blocks(&solids).into_iter().zip(blocks(&other_solids)) {
                assert!(close(x, y, x), "{law}: block {x} {y}");
            }
            for finding in &report.findings {
                let twin = other_report
                    .finding(finding.code)
                    .unwrap_or_else(|| panic!("{law}: no {}", finding.code));
                assert_eq!(finding.verdict, twin.verdict, "{law}: {}", finding.code);
                assert!(
                    close(finding.value, twin.value, 1e3),
                    "{law}: {} {} {}",
                    finding.code,
                    finding.value,
                    twin.value
                );
            }
        }
        (Fate::Stopped(one), Fate::Stopped(other)) => {
            for finding in &one.findings {
                let twin = other.finding(finding.code).map(|twin| twin.verdict);
                assert_eq!(Some(finding.verdict), twin, "{law}: {}", finding.code);
            }
        }
        (Fate::Refused(_), Fate::Refused(_)) => {}
        (Fate::Faulty(fault), _) | (_, Fate::Faulty(fault)) => panic!("{law}: {fault}\n{one}"),
        _ => panic!("{law}: one is built, the other is not\n{one}\n{other}"),
    }
}

/// Mirror, inches for millimetres, and another order of keys give the same solid. Tolerance 1e-9
/// relative: the sums differ only by rounding.
#[test]
fn mirror_unit_and_order_change_nothing() {
    let mut dice = Dice::new(11);
    for _ in 0..80 {
        let sheet = random::design(&mut dice);
        let plain = sheet.millimetres();
        same_fate(&plain, &sheet.inches(), "inches", 1.0);
        same_fate(
            &plain,
            &sheet.shuffled(&mut dice).millimetres(),
            "order of keys",
            1.0,
        );
        let both = as_both_sides(&sheet);
        same_fate(
            &both.millimetres(),
            &both.mirrored().millimetres(),
            "mirror",
            -1.0,
        );
    }
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
