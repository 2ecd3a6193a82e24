use super::*;
use crate::input::sample::six_string;
use crate::layout::Copy;
use crate::paper::flat::tests::assert_closed;
use crate::plane::Piece;

fn made(corner_radius: f64, cutter: f64, bush: f64) -> (Slot, SlotTemplate) {
    let mut design = six_string();
    if let Some(slots) = &mut design.slots {
        slots.corner_radius = corner_radius;
    }
    let layout = Layout::new(&design, Copy::Finished);
    let template = slot_template(&layout, &Template { cutter, bush }).unwrap();
    assert_closed(&template.items);
    (layout.sides.treble.slot.unwrap(), template)
}

fn first_opening(template: &SlotTemplate) -> Region {
    let found = template.items.iter().find_map(|item| match item {
        Item::Path(path) if path.layer == Layer::Slots => Some(path.pieces.clone()),
        _ => None,
    });
    Region {
        boundary: found.unwrap(),
    }
}

/// Distance of a point to a boundary, piece by piece; shares nothing with the offset.
fn to_boundary(region: &Region, point: DVec2) -> f64 {
    let to_piece = |piece: &Piece| match *piece {
        Piece::Line { a, b } => {
            let t = (point - a).dot(b - a) / (b - a).length_squared();
            point.distance(a.lerp(b, t.clamp(0.0, 1.0)))
        }
        Piece::Arc {
            center,
            radius,
            from,
            sweep,
        } => {
            let turn = (point - center).to_angle() - from;
            let along = (turn * sweep.signum()).rem_euclid(std::f64::consts::TAU);
            if along <= sweep.abs() {
                (point.distance(center) - radius).abs()
            } else {
                point
                    .distance(piece.start())
                    .min(point.distance(piece.end()))
            }
        }
    };
    let each = region.boundary.iter().map(to_piece);
    each.fold(f64::INFINITY, f64::min)
}

/// The bush in every place it fits: its centre runs a bush's radius inside the opening. What the bit sweeps
/// from there must be the slot. Tried by brute force: centres on a grid as fine as 0.1 mm; each point of the slot's
/// boundary (rounded as the bit leaves it) is reached, and no centre brings the bit outside it.
#[test]
fn the_bit_sweeps_the_slot_and_nothing_else() {
    for (corner, cutter, bush) in [
        (7.5, 12.0, 16.0),
        (7.5, 12.0, 12.0),
        (6.0, 12.0, 10.0),
        (0.0, 10.0, 17.0),
        (2.0, 8.0, 30.0),
    ] {
        let (slot, template) = made(corner, cutter, bush);
        let opening = first_opening(&template);
        let wanted = Slot {
            corner_radius: corner.max(cutter / 2.0),
            ..slot
        }
        .region();
        let low = DVec2::new(-opening.reach(-DVec2::X), -opening.reach(-DVec2::Y));
        // The nut end of the slot: corners, both walls, the end.
        let fits = |centre: DVec2| {
            opening.contains(centre) && to_boundary(&opening, centre) >= bush / 2.0 - 0.01
        };
        let width = opening.reach(DVec2::X) - low.x;
        let mut centres = Vec::new();
        let step = 0.1;
        let (across, along) = (
            (width / step) as usize,
            ((bush / 2.0 + 4.0) / step) as usize,
        );
        for i in 0..=across {
            for j in 0..=along {
                let centre = low + DVec2::new(i as f64, j as f64) * step;
                if fits(centre) {
                    centres.push(centre);
                    // Never outside the slot by more than the allowance above.
                    assert!(wanted.contains(centre));
                    assert!(to_boundary(&wanted, centre) >= cutter / 2.0 - 0.03);
                }
            }
        }
        assert!(!centres.is_empty());
        let near_end = low.y + (bush - cutter) / 2.0 + 3.0;
        let nut_end = wanted
            .boundary
            .iter()
            .flat_map(|piece| (0..=100).map(move |i| piece.at(f64::from(i) / 100.0)))
            .filter(|on| on.y < near_end);
        for on in nut_end {
            let short = centres
                .iter()
                .map(|centre| centre.distance(on))
                .fold(f64::INFINITY, f64::min)
                - cutter / 2.0;
            assert!(
                short < 0.15,
                "{corner} {cutter} {bush}: {on} missed by {short}"
            );
        }
    }
}

#[test]
fn no_inner_corner_is_tighter_than_the_bush_and_hand_work_is_said() {
    for (corner, cutter, bush, by_hand) in [
        (7.5, 12.0, 16.0, false),
        (6.0, 12.0, 16.0, false),
        (3.0, 12.0, 16.0, true),
        (0.0, 15.0, 19.0, true),
    ] {
        let (_, template) = made(corner, cutter, bush);
        assert_eq!(template.corners_by_hand, by_hand);
        let mut design = six_string();
        design.template = Some(Template { cutter, bush });
        if let Some(slots) = &mut design.slots {
            slots.corner_radius = corner;
        }
        let notes = template_notes(&Layout::new(&design, Copy::Finished));
        assert_eq!(notes.len(), usize::from(by_hand), "{notes:?}");
        if let Some(note) = notes.first() {
            assert!(
                note.contains(&format!("R{:.2} mm where", cutter / 2.0)),
                "{note}"
            );
            assert!(note.contains(&format!("have R{corner:.2} mm")), "{note}");
        }
        assert!((template.offset - (bush - cutter) / 2.0).abs() < 1e-12);
        for piece in first_opening(&template).boundary {
            if let Piece::Arc { radius, .. } = piece {
                assert!(radius >= bush / 2.0 - 1e-9);
            }
        }
    }
}

/// The sample's slots run with the centre line, 14 mm of rib between them and far from the nut line: the
/// openings come nearer one another by bush less cutter.
#[test]
fn a_template_that_would_not_steer_over_the_rib_is_none_and_a_thin_one_is_named() {
    let rib = match six_string().slots.unwrap().lie {
        crate::input::Lie::Rib(rib) => rib,
        crate::input::Lie::Cheek(_) => panic!("the sample has a rib"),
    };
    let notes = |cutter: f64, bush: f64| {
        let mut design = six_string();
        design.template = Some(Template { cutter, bush });
        template_notes(&Layout::new(&design, Copy::Finished))
    };
    for (web, steers, said) in [
        (2.0, true, None),
        (
            1.99,
            true,
            Some("only 1.99 mm of template is left between the two"),
        ),
        (0.01, true, Some("only 0.01 mm")),
        (
            0.0,
            false,
            Some("not written: for a bush or bearing of 26.00 mm"),
        ),
        (-4.0, false, Some("the rib between the slots")),
    ] {
        let bush = 12.0 + rib - web;
        let (_, template) = made(7.5, 12.0, bush);
        assert_eq!(template.steers(), steers, "{web}");
        assert!((template.web.0 - web.max(0.0)).abs() < 1e-9, "{web}");
        let notes = notes(12.0, bush);
        assert_eq!(notes.len(), usize::from(said.is_some()), "{notes:?}");
        assert!(
            notes.iter().all(|note| note.contains(said.unwrap())),
            "{notes:?}"
        );
    }
}

#[test]
fn an_opening_through_the_edge_at_the_nut_line_is_withheld_too() {
    let plate = Region::polygon(&[
        DVec2::new(-90.0, 0.0),
        DVec2::new(90.0, 0.0),
        DVec2::new(90.0, 240.0),
        DVec2::new(-90.0, 240.0),
    ]);
    let square = |x: f64, y: f64| {
        let corners = [(x, y), (x + 15.0, y), (x + 15.0, 100.0), (x, 100.0)];
        Region::polygon(&corners.map(|(x, y)| DVec2::new(x, y)))
    };
    let web = |y: f64| least_web(&[square(7.0, 40.0), square(-22.0, y)], &plate);
    assert_eq!(web(3.0), (3.0, Web::Edge));
    assert_eq!(web(-0.5), (0.0, Web::Edge));
    assert_eq!(web(30.0), (14.0, Web::Rib));
}

#[test]
fn a_bass_opening_mirrors_the_treble_one() {
    let (_, template) = made(7.5, 12.0, 16.0);
    let reach = |x: f64| {
        let mut all = template.items.iter().filter_map(|item| match item {
            Item::Path(path) if path.layer == Layer::Slots => Some(Region {
                boundary: path.pieces.clone(),
            }),
            _ => None,
        });
        let treble = all.next().unwrap();
        let bass = all.next().unwrap();
        (treble.reach(DVec2::X * x), bass.reach(DVec2::X * -x))
    };
    let (outer, mirrored) = reach(1.0);
    assert!((outer - mirrored).abs() < 1e-9 && (outer - 24.0).abs() < 1e-9);
}
