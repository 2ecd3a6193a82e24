//! The light head for trying: the printed copy, face down, in as many pieces as the bed asks for.

use glam::DVec3;

use crate::layout::Layout;
use crate::solid::mesh_data::Mesh;

use super::bed;
use super::cut;

/// Wood a cut keeps from every bore, pilot and slot end, mm.
const CLEAR: f64 = 1.0;
/// Where a corner of the mesh lies in the plane of a cut, the cut moves by this, mm, and no more
/// often than this.
const STEP: f64 = 0.003;
const STEPS: u32 = 100;

/// Stretches of y, from the nut, that no cut may touch: bores, pilots, and the ends of slots and ramps.
fn taken(layout: &Layout) -> Vec<(f64, f64)> {
    let mut list = Vec::new();
    let mut add = |places: &mut dyn Iterator<Item = f64>| {
        let (low, high) = places.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| {
            (low.min(y), high.max(y))
        });
        list.push((low - CLEAR, high + CLEAR));
    };
    for side in layout.each_side() {
        for bore in &side.bores {
            let mouth = bore.counterbore.map_or(0.0, |wide| wide.diameter / 2.0);
            let mouth = [bore.entry.y - mouth, bore.entry.y + mouth];
            add(&mut bore.section().iter().map(|p| p.y).chain(mouth));
        }
        for pilot in &side.pilots {
            let end = (pilot.entry + pilot.direction * pilot.depth).y;
            let radius = pilot.diameter / 2.0;
            let ends = [pilot.entry.y, end];
            add(&mut ends.into_iter().flat_map(|y| [y - radius, y + radius]));
        }
        if let Some(slot) = &side.slot {
            let half = slot.width / 2.0;
            let mouth = slot.ramp.map_or(0.0, |ramp| ramp.mouth);
            let [first, last] = slot.straight();
            for [from, to] in [[-mouth, first], [last, slot.length]] {
                let corners = [from, to]
                    .into_iter()
                    .flat_map(|tau| [slot.at(tau, -half).y, slot.at(tau, half).y]);
                add(&mut corners.into_iter());
            }
        }
    }
    list
}

/// Pieces of the head's printed mesh, nut end first; one where it fits or cannot be parted. The
/// second value says whether every piece fits.
pub(super) fn pieces(
    layout: &Layout,
    mesh: &Mesh,
    bed: Option<[f64; 3]>,
) -> Result<(Vec<Mesh>, bool), String> {
    let (low, high) = extent(mesh);
    let size = high - low;
    let fits = |length: f64| bed::turn_to_fit(DVec3::new(size.x, length, size.z), bed).is_some();
    if fits(size.y) {
        return Ok((vec![mesh.clone()], true));
    }
    let taken: Vec<(f64, f64)> = taken(layout)
        .into_iter()
        .map(|(from, to)| (from - low.y, to - low.y))
        .collect();
    let Some(cuts) = bed::cuts(size.y, &taken, fits) else {
        return Ok((vec![mesh.clone()], false));
    };
    let mut pieces = Vec::new();
    let mut rest = mesh.clone();
    for at in cuts {
        let [piece, beyond] = cut_near(&rest, low.y + at)?;
        // Two cuts through one slot leave its cheek loose: a piece of its own.
        pieces.extend(cut::bodies(&piece));
        rest = beyond;
    }
    pieces.extend(cut::bodies(&rest));
    Ok((pieces, true))
}

/// Cuts at the first place from `at` on where no corner lies in the plane.
fn cut_near(mesh: &Mesh, at: f64) -> Result<[Mesh; 2], String> {
    let place = (0..STEPS)
        .map(|step| at + STEP * f64::from(step))
        .find(|place| {
            mesh.points
                .iter()
                .all(|point| (point.y - place).abs() > STEP / 10.0)
        })
        .unwrap_or(at);
    cut::cut(mesh, place)
}

/// Corners of the box round a mesh.
pub(super) fn extent(mesh: &Mesh) -> (DVec3, DVec3) {
    mesh.points.iter().fold(
        (DVec3::INFINITY, DVec3::NEG_INFINITY),
        |(low, high), point| (low.min(*point), high.max(*point)),
    )
}

/// The mesh turned face down about the y axis, and moved so that it begins at zero.
pub(super) fn face_down(mesh: &Mesh) -> Mesh {
    let turned: Vec<DVec3> = mesh
        .points
        .iter()
        .map(|point| DVec3::new(-point.x, point.y, -point.z))
        .collect();
    let turned = Mesh {
        points: turned,
        triangles: mesh.triangles.clone(),
    };
    let (low, _) = extent(&turned);
    Mesh {
        points: turned.points.iter().map(|point| point - low).collect(),
        triangles: turned.triangles,
    }
}
