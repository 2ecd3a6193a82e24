//! Plain stand-ins for what is not made here: sets of machines, and the beginning of the neck.

use glam::{DVec2, DVec3};

use super::brep::Brep;
use super::builder::{Builder, HoleFrame};
use super::closed_form::ClosedForm;
use super::prism::{Prism, Round};
use crate::input::Side;
use crate::layout::{Frame, Layout, OutlinePart, SideLayout};
use crate::tolerance::MERGE;

/// A solid with what it must come out as.
pub(super) struct Built {
    pub name: String,
    pub brep: Brep,
    pub form: ClosedForm,
}

/// One side's set in its own frame ([`Layout::set_frame`]): plate and barrels as one solid where every
/// barrel stands wholly on the plate, else plate and barrels each for itself.
pub(super) fn machines(layout: &Layout, side: Side) -> Vec<Built> {
    let own = layout.sides.get(side);
    let plate = plate(layout, own);
    let barrels = barrels(layout, own);
    let mut builder = Builder::default();
    let faces = plate.add(&mut builder);
    let mut form = plate.form();
    let name = |part: &str| format!("{} machines{part} (reference, do not make)", side.name());
    if on_plate(layout, own) {
        for (index, barrel) in barrels.iter().enumerate() {
            let label = format!("barrel {} {}", side.name(), index + 1);
            barrel.stand_on(&mut builder, &label, faces.near);
            form.add(barrel.stand_on_form());
        }
        return vec![Built {
            name: name(""),
            brep: builder.brep,
            form,
        }];
    }
    let mut built = vec![Built {
        name: name(", plate"),
        brep: builder.brep,
        form,
    }];
    for (index, barrel) in barrels.iter().enumerate() {
        let mut builder = Builder::default();
        let label = format!("barrel {} {}", side.name(), index + 1);
        barrel.add_alone(&mut builder, &label);
        built.push(Built {
            name: name(&format!(", barrel {}", index + 1)),
            brep: builder.brep,
            form: barrel.alone_form(),
        });
    }
    built
}

/// The plate, a box outwards from its underside at y = 0.
fn plate(layout: &Layout, own: &SideLayout) -> Prism<'static> {
    let machines = &layout.design.machines;
    let start = own.plate.start_s - first_station(own);
    // The set's own z runs to the back on the treble side, to the face on the bass side.
    let to_back = own.side.sign();
    let middle = (own.plate.middle_below_face - layout.axis_below_face) * to_back;
    // Drawn in (z, x), it grows along y.
    let pose = Frame {
        origin: DVec3::new(start, 0.0, middle - own.plate.width / 2.0),
        x: DVec3::Z,
        y: DVec3::X,
        z: DVec3::Y,
    };
    let size = DVec3::new(own.plate.width, own.plate.length, machines.plate_thickness);
    let names = [
        "plate nut end",
        "plate edge",
        "plate crest end",
        "plate edge",
        "plate underside",
        "plate outside",
    ];
    Prism::cuboid(pose, size, names)
}

fn barrels(layout: &Layout, own: &SideLayout) -> Vec<Round> {
    let machines = &layout.design.machines;
    let first = first_station(own);
    let rod = |s: &f64| Round {
        frame: HoleFrame::new(DVec3::X * (s - first), -DVec3::Y, DVec3::Z),
        radius: machines.barrel_diameter / 2.0,
        length: machines.barrel_length,
    };
    own.plate.stations.iter().map(rod).collect()
}

fn first_station(own: &SideLayout) -> f64 {
    own.plate.stations.first().copied().unwrap_or_default()
}

/// Whether every barrel's foot lies inside the plate's underside, none touching another.
fn on_plate(layout: &Layout, own: &SideLayout) -> bool {
    let machines = &layout.design.machines;
    let reach = machines.barrel_diameter / 2.0 + MERGE * 100.0;
    let plate = &own.plate;
    let off = (plate.middle_below_face - layout.axis_below_face).abs();
    plate.width / 2.0 - off > reach
        && plate
            .stations
            .iter()
            .all(|s| s - plate.start_s > reach && plate.end_s - s > reach)
        && plate
            .stations
            .windows(2)
            .all(|pair| pair[1] - pair[0] > 2.0 * reach)
}

/// Holding stock for the shop: as wide and thick as the head at the nut line, running on from there
/// at the head's angle, its end square to its own length. `length`, mm, above zero, is that of its
/// shorter edge, along the back; the head itself is not changed. `None` for a head without a nut line.
pub(super) fn neck_stub(layout: &Layout, length: f64) -> Option<Built> {
    let nut = layout.outline.part(OutlinePart::Nut)?;
    let (bass, treble) = (nut.start(), nut.end());
    let thickness = layout.outline.thickness_at(0.0);
    let (sin, cos) = layout.design.head.angle.sin_cos();
    // To the body: the head falls back from the playing surface, so the neck falls away from the
    // plane of the head's face.
    let away = DVec2::new(-cos, -sin);
    let back = DVec2::new(0.0, -thickness);
    let reach = length + back.dot(away);
    // Drawn in (y, z), it grows along x.
    let pose = Frame {
        origin: DVec3::new(bass.x, 0.0, 0.0),
        x: DVec3::Y,
        y: DVec3::Z,
        z: DVec3::X,
    };
    let prism = Prism {
        pose,
        profile: vec![
            (DVec2::ZERO, "playing side"),
            (away * reach, "square end"),
            (back + away * length, "neck back"),
            (back, "nut end"),
        ],
        height: treble.x - bass.x,
        ends: ["neck side bass", "neck side treble"],
    };
    let mut builder = Builder::default();
    prism.add(&mut builder);
    Some(Built {
        name: "neck stub (holding stock)".to_owned(),
        form: prism.form(),
        brep: builder.brep,
    })
}
