//! The trial bar: a slice of one side, as long as its plate, with that side's bores at their true
//! pitch and depth, its mouths on top. The machines can be tried in it before any wood is bored.

use glam::{DVec2, DVec3};

use crate::layout::SideLayout;

use crate::input::Side;

use super::foot::{chamfer_foot, notch};
use super::upright::{Run, Upright, UprightHole};

/// Wall beside and beyond the bores, mm: three lines of a 0.4 mm nozzle (our assumption).
const WALL: f64 = 1.2;
/// Floor below the deepest bore, mm: six layers of 0.2 (our assumption).
const FLOOR: f64 = 1.2;

/// The bar of one side of the printed copy, and what could not be shown in it. In plan +y is
/// towards the face; +x runs to the crest on the treble side, to the nut on the bass side, as a
/// guide block's does.
pub(super) fn trial_bar(side: &SideLayout) -> (Upright, Vec<String>) {
    let mut notes = Vec::new();
    let reach = side.bores.iter().map(mouth_radius).fold(0.0, f64::max) + WALL;
    let deepest = side.bores.iter().map(|bore| bore.depth).fold(0.0, f64::max);
    let along = |s: f64| match side.side {
        Side::Treble => s,
        Side::Bass => -s,
    };
    let (mut from, mut to) = (f64::INFINITY, f64::NEG_INFINITY);
    for (s, beyond) in [(side.plate.start_s, 0.0), (side.plate.end_s, 0.0)]
        .into_iter()
        .chain(side.bores.iter().map(|bore| (bore.s, reach)))
    {
        from = from.min(along(s) - beyond);
        to = to.max(along(s) + beyond);
    }
    let height = deepest + FLOOR;
    let mut body = Upright {
        size: DVec3::new(to - from, 2.0 * reach, height),
        chamfer: 0.0,
        grooves: Vec::new(),
        holes: side
            .bores
            .iter()
            .map(|bore| UprightHole {
                center: DVec2::new(along(bore.s) - from, reach),
                radius: bore.radius(),
                run: Run::Blind {
                    depth: bore.depth,
                    // No barrel reaches the bit's point: a flat end prints sooner.
                    point_height: 0.0,
                },
                mouth: bore
                    .counterbore
                    .map(|wide| (wide.diameter / 2.0, wide.depth)),
            })
            .collect(),
        dowels: Vec::new(),
    };
    let axis = side.bores.first().map_or(0.0, |bore| bore.entry.z);
    for pilot in &side.pilots {
        let hole = UprightHole {
            center: DVec2::new(along(pilot.s) - from, reach + pilot.entry.z - axis),
            radius: pilot.diameter / 2.0,
            run: Run::Blind {
                depth: pilot.depth,
                point_height: 0.0,
            },
            mouth: None,
        };
        if has_room(&body, &hole, pilot.depth) {
            body.holes.push(hole);
        } else {
            notes.push(format!(
                "screw pilot {} lies outside the bar and is left out",
                pilot.number
            ));
        }
    }
    if !notch(&mut body, side.side) {
        notes.push("there is no room for its notches: mark the nut end with a pen".to_owned());
    }
    chamfer_foot(&mut body);
    (body, notes)
}

/// The radius of a bore at its mouth.
fn mouth_radius(bore: &crate::layout::Bore) -> f64 {
    bore.counterbore
        .map_or(bore.radius(), |wide| wide.diameter / 2.0)
}

/// Whether a pilot keeps half a wall to the outside, the floor and the holes that are there.
fn has_room(body: &Upright, hole: &UprightHole, depth: f64) -> bool {
    let least = WALL / 2.0;
    let alone = Upright {
        holes: vec![*hole],
        ..body.clone()
    };
    alone.least_wood() >= least
        && body.size.z - depth >= FLOOR
        && body.holes.iter().all(|other| {
            other.center.distance(hole.center) - other.reach() - hole.reach() >= least / 2.0
        })
}
