//! A box, and a bar with round ends.

use super::Shape;
use super::hand::{arc, back, bottom, face, line, measures, on, plane, top, vertex, walls};
use barrelhead::solid::brep::{Brep, Surface};
use glam::DVec3;
use std::f64::consts::PI;

/// A box.
pub fn slab() -> Shape {
    let size = DVec3::new(40.0, 25.5, 20.4);
    let mut brep = walls(size);
    let floor = plane(DVec3::ZERO, DVec3::NEG_Z, DVec3::X);
    face(&mut brep, "bottom", floor, true, vec![bottom()]);
    let lid = plane(DVec3::Z * size.z, DVec3::Z, DVec3::X);
    face(&mut brep, "top", lid, true, vec![top()]);
    let area = 2.0 * (size.x * size.y + size.y * size.z + size.z * size.x);
    Shape {
        name: "slab",
        brep,
        measures: measures(
            size.x * size.y * size.z,
            area,
            size / 2.0,
            [DVec3::ZERO, size],
        ),
        genus: 0,
    }
}

/// A bar with half-round ends: cylinders with the wood inside them. Its arcs run one way below
/// and the other way above.
pub fn obround() -> Shape {
    let (length, radius, height) = (30.0, 7.5, 12.0);
    let mut brep = Brep::default();
    for z in [0.0, height] {
        for [x, y] in [
            [0.0, -radius],
            [length, -radius],
            [length, radius],
            [0.0, radius],
        ] {
            vertex(&mut brep, DVec3::new(x, y, z));
        }
    }
    let rim = |x: f64, z: f64| [DVec3::new(x, 0.0, z), DVec3::X * radius, DVec3::Y * radius];
    let quarter = PI / 2.0;
    // Bottom 0 to 3, anticlockwise from above.
    line(&mut brep, 0, 1);
    arc(&mut brep, [1, 2], rim(length, 0.0), [-quarter, quarter]);
    line(&mut brep, 2, 3);
    arc(&mut brep, [3, 0], rim(0.0, 0.0), [quarter, 3.0 * quarter]);
    // Top 4 to 7, clockwise from above.
    line(&mut brep, 5, 4);
    arc(&mut brep, [6, 5], rim(length, height), [quarter, -quarter]);
    line(&mut brep, 7, 6);
    arc(
        &mut brep,
        [4, 7],
        rim(0.0, height),
        [-quarter, -3.0 * quarter],
    );
    for i in 0..4 {
        line(&mut brep, i, i + 4);
    }
    let round = |x: f64| Surface::Cylinder {
        origin: DVec3::new(x, 0.0, -3.0),
        axis: DVec3::Z,
        x_axis: DVec3::Y,
        radius,
    };
    let front = plane(DVec3::Y * -radius, DVec3::NEG_Y, DVec3::X);
    let rear = plane(DVec3::Y * radius, DVec3::Y, DVec3::X);
    let sides = [
        ("front", front),
        ("end", round(length)),
        ("rear", rear),
        ("start", round(0.0)),
    ];
    for (i, (name, surface)) in sides.into_iter().enumerate() {
        let around = vec![on(i), on(8 + (i + 1) % 4), on(4 + i), back(8 + i)];
        face(&mut brep, name, surface, true, vec![around]);
    }
    let floor = plane(DVec3::ZERO, DVec3::NEG_Z, DVec3::X);
    face(&mut brep, "bottom", floor, true, vec![bottom()]);
    let lid = plane(DVec3::Z * height, DVec3::Z, DVec3::X);
    let above = vec![back(4), back(5), back(6), back(7)];
    face(&mut brep, "top", lid, true, vec![above]);
    let section = length * 2.0 * radius + PI * radius * radius;
    let girth = 2.0 * length + 2.0 * PI * radius;
    let corner = DVec3::new(-radius, -radius, 0.0);
    let far = DVec3::new(length + radius, radius, height);
    Shape {
        name: "obround",
        brep,
        measures: measures(
            section * height,
            2.0 * section + girth * height,
            DVec3::new(length / 2.0, 0.0, height / 2.0),
            [corner, far],
        ),
        genus: 0,
    }
}
