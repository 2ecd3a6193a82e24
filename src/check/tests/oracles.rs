//! Distances against brute-force sampling, and laws that hold for any design.

use glam::{DVec2, DVec3};
use proptest::prelude::*;

use super::super::sample::*;
use super::*;
use crate::input::*;
use crate::layout::Bore;

/// Points over a bore's surface as built: full diameter, rim and point, end plane.
fn surface(bore: &Bore) -> Vec<DVec3> {
    let along = DVec3::new(bore.side.sign() * bore.taper.sin(), bore.taper.cos(), 0.0);
    let mut points = Vec::new();
    let total = bore.depth + bore.point_height;
    let depths = (0..=240)
        .map(|i| total * f64::from(i) / 240.0)
        .chain([bore.depth]);
    for depth in depths {
        let radius = if depth <= bore.depth {
            bore.radius()
        } else {
            bore.radius() * (total - depth) / bore.point_height
        };
        for turn in 0..180 {
            let angle = f64::from(turn).to_radians() * 2.0;
            let point = bore.axis_at(depth)
                + along * (radius * angle.cos())
                + DVec3::Z * (radius * angle.sin());
            let w = bore.end_plane.map_or(f64::NEG_INFINITY, |(w, _)| w);
            if point.x * bore.side.sign() >= w {
                points.push(point);
            }
        }
    }
    points
}

/// A bore's outline in the plane of the axes, corner to corner.
fn outline(bore: &Bore) -> Vec<DVec2> {
    let section = bore.section();
    let mut points = Vec::new();
    for (index, corner) in section.iter().enumerate() {
        let next = section[(index + 1) % section.len()];
        for i in 0..400 {
            points.push(corner.lerp(next, f64::from(i) / 400.0));
        }
    }
    points
}

fn least(pairs: impl Iterator<Item = f64>) -> f64 {
    pairs.fold(f64::INFINITY, f64::min)
}

/// Sloping back, steep taper, staggered sides.
fn skewed() -> Design {
    let mut d = sandpiper();
    d.head.half_width_at_start = PerSide {
        treble: 28.0,
        bass: 33.0,
    };
    d.head.half_width_at_end = PerSide {
        treble: 39.0,
        bass: 36.0,
    };
    d.head.thickness_at_crest = 17.0;
    d.placement.along = Along::FirstBarrel(PerSide {
        treble: 55.0,
        bass: 63.0,
    });
    d
}

#[test]
fn wood_agrees_with_sampled_surfaces() {
    // A back and sides so steep that nothing may be taken for square.
    let mut steep = skewed();
    steep.head.thickness = 60.0;
    steep.head.half_width_at_end = both(90.0);
    // The same with pairs that open: their ends are ellipses in the centre plane.
    let mut opening = sandpiper();
    opening.head.thickness = 60.0;
    opening.head.half_width_at_end = both(70.0);
    opening.bores.depth = BoreDepth::BeyondBarrel(40.0);
    for design in [skewed(), sandpiper(), curlew(), steep, opening] {
        let layout = Layout::new(&design, Copy::Finished);
        let slope = (design.head.thickness_at_crest - design.head.thickness) / design.head.length;
        let over = least(layout.bores().flat_map(surface).map(|p| -p.z));
        let under =
            least(layout.bores().flat_map(surface).map(|p| {
                (p.z + design.head.thickness + slope * p.y) / (1.0 + slope * slope).sqrt()
            }));
        for (code, sampled) in [("wood-over", over), ("wood-under", under)] {
            let value = found(&design, code).value;
            // Samples lie on the surface: never nearer, and further by little.
            assert!(
                value <= sampled + 1e-9 && sampled - value < 0.01,
                "{code} {value} {sampled}"
            );
        }
    }
}

#[test]
fn cheek_agrees_with_sampled_walls() {
    for (lie, radius) in [
        (Lie::Rib(14.0), 7.5),
        (Lie::Cheek(10.0), 3.0),
        (Lie::Rib(14.0), 0.0),
    ] {
        let mut design = skewed();
        let slots = design.slots.as_mut().unwrap();
        (slots.lie, slots.corner_radius) = (lie, radius);
        let layout = Layout::new(&design, Copy::Finished);
        let sampled = least(layout.each_side().flat_map(|side| {
            let (start, end) = (side.line.at(-500.0), side.line.at(500.0));
            let normal = (end - start).normalize().perp();
            side.slot
                .as_ref()
                .unwrap()
                .region()
                .boundary
                .into_iter()
                .flat_map(move |piece| {
                    (0..=4000)
                        .map(move |i| (piece.at(f64::from(i) / 4000.0) - start).dot(normal).abs())
                })
        }));
        let value = found(&design, "cheek").value;
        assert!(
            value <= sampled + 1e-9 && sampled - value < 1e-4,
            "{value} {sampled}"
        );
    }
}

#[test]
fn far_wood_agrees_with_sampled_outlines() {
    for stagger in [3.0, 6.5, 12.0, 17.5] {
        let mut design = skewed();
        design.slots = None;
        design.placement.along = Along::FirstBarrel(PerSide {
            treble: 55.0,
            bass: 55.0 + stagger,
        });
        design.bores.depth = BoreDepth::BeyondBarrel(-1.0);
        let layout = Layout::new(&design, Copy::Finished);
        if !layout.pairs.is_empty() {
            continue;
        }
        let mut sampled = f64::INFINITY;
        for treble in &layout.sides.treble.bores {
            for bass in &layout.sides.bass.bores {
                let (one, other) = (outline(treble), outline(bass));
                sampled = sampled.min(least(
                    one.iter()
                        .flat_map(|p| other.iter().map(|q| p.distance(*q))),
                ));
            }
        }
        let value = found(&design, "far-wood").value;
        // Bores of opposite sides are the nearest thing here unless they stand well apart.
        assert!(value <= sampled + 1e-9, "{value} {sampled}");
        if sampled < 5.0 {
            assert!(sampled - value < 0.05, "{stagger}: {value} {sampled}");
        }
    }
}

/// Points of a slot's ramp: its column in plan above its floor.
fn ramp_points(slot: &crate::layout::Slot) -> Vec<DVec3> {
    let mouth = slot.ramp.unwrap().mouth;
    let floor = slot.ramp_depth().unwrap();
    let mut points = Vec::new();
    for i in 0..=40 {
        for j in 0..=20 {
            let tau = -mouth + (mouth + slot.corner_radius) * f64::from(i) / 40.0;
            let plan = slot.at(tau, slot.width * (f64::from(j) / 20.0 - 0.5));
            for k in 0..=8 {
                points.push(plan.extend(-floor.at(plan) * f64::from(k) / 8.0));
            }
        }
    }
    points
}

#[test]
fn screws_beside_and_under_ramps_are_as_far_as_said() {
    // Two beside a ramp, one under its mouth (by height alone), one past the slot's corner.
    for (along, across, depth, within) in [
        (-25.0, 0.0, 7.0, 0.3),
        (-20.0, 4.0, 9.0, 0.3),
        (-36.0, -5.0, 20.0, 0.3),
        (-30.0, 2.0, 9.0, 0.3),
    ] {
        let mut design = skewed();
        design.machines.screws = Some(Screws {
            points: vec![[along, across]],
            pilot: 1.6,
            depth,
        });
        let [layout, _] = copies(&design);
        let mut sampled = f64::INFINITY;
        for side in layout.each_side() {
            let pilot = &side.pilots[0];
            for slot in layout.each_side().filter_map(|side| side.slot.as_ref()) {
                let near = ramp_points(slot).into_iter().map(|point| {
                    // Distance of a point from a cylinder.
                    let out = point - pilot.entry;
                    let down = out.dot(pilot.direction);
                    let past = (down - pilot.depth).max(-down).max(0.0);
                    let off = (out - pilot.direction * down).length() - pilot.diameter / 2.0;
                    past.hypot(off.max(0.0))
                });
                sampled = sampled.min(least(near));
            }
        }
        let value = found(&design, "screw-slot").value;
        // Never further than there is room, and no less than that by much.
        assert!(value <= sampled + 1e-9, "{along}: {value} {sampled}");
        assert!(sampled - value < within, "{along}: {value} {sampled}");
    }
}

/// The design seen in a mirror: sides swapped, strings from the other end.
fn mirrored(design: &Design) -> Design {
    fn swap<T: Clone>(v: &PerSide<T>) -> PerSide<T> {
        PerSide {
            treble: v.bass.clone(),
            bass: v.treble.clone(),
        }
    }
    let mut d = design.clone();
    d.head.half_width_at_start = swap(&d.head.half_width_at_start);
    d.head.half_width_at_end = swap(&d.head.half_width_at_end);
    d.machines.pitches = swap(&d.machines.pitches);
    d.machines.overhang = swap(&d.machines.overhang);
    if let Along::FirstBarrel(y) = &d.placement.along {
        d.placement.along = Along::FirstBarrel(swap(y));
    }
    d.nut.strings = design.nut.strings.iter().rev().map(|x| -x).collect();
    d
}

prop_compose! {
    fn any_design()(
        widths in (26.0..36.0_f64, 26.0..36.0_f64, 28.0..40.0_f64, 28.0..40.0_f64),
        first in (45.0..70.0_f64, 45.0..70.0_f64),
        crest in 16.0..24.0_f64,
        rib in 4.0..20.0_f64,
        cheek in 6.0..14.0_f64,
        by_cheek in any::<bool>(),
        beyond in -2.0..6.0_f64,
        bass_barrels in 2..4_usize,
    ) -> Design {
        let mut d = sandpiper();
        d.head.half_width_at_start = PerSide { treble: widths.0, bass: widths.1 };
        d.head.half_width_at_end = PerSide { treble: widths.2, bass: widths.3 };
        d.head.thickness_at_crest = crest;
        d.placement.along = Along::FirstBarrel(PerSide { treble: first.0, bass: first.1 });
        // One axis for both sides: else the treble plate alone decides it.
        d.placement.depth = Across::AxisBelowFace(10.2);
        d.slots.as_mut().unwrap().lie = if by_cheek { Lie::Cheek(cheek) } else { Lie::Rib(rib) };
        d.bores.depth = BoreDepth::BeyondBarrel(beyond);
        d.machines.pitches.bass = vec![35.0; bass_barrels];
        d.nut.strings = spread(43.0, 3 + bass_barrels + 1);
        d.machines.screws = Some(Screws { points: vec![[-11.0, 2.0], [17.0, -3.0]], pilot: 1.6, depth: 7.0 });
        d.bores.counterbore = Some(Counterbore { diameter: 13.0, depth: 4.0 });
        d
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_mirrored_design_has_the_same_values(design in any_design()) {
        let (one, other) = (all_found(&design), all_found(&mirrored(&design)));
        prop_assert_eq!(one.len(), other.len());
        for (a, b) in one.iter().zip(&other) {
            prop_assert_eq!(a.code, b.code);
            prop_assert_eq!(a.verdict, b.verdict, "{}", a.code);
            prop_assert!((a.value - b.value).abs() < 1e-9, "{} {} {}", a.code, a.value, b.value);
        }
    }

    #[test]
    fn every_value_is_a_number(design in any_design()) {
        for finding in all_found(&design) {
            prop_assert!(finding.value.is_finite() && finding.margin.is_finite(), "{:?}", finding);
        }
    }
}
