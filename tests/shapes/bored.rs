//! Boxes with one bore: right through, blind with a conical point, and oblique.

use super::Shape;
use super::hand::{arc, back, bottom, face, line, measures, on, plane, top, vertex, walls};
use barrelhead::solid::brep::Surface;
use glam::DVec3;
use std::f64::consts::{PI, TAU};

/// A block with a bore square through it; the rims' arcs run in all four ways.
pub fn through_hole() -> Shape {
    let size = DVec3::new(40.0, 30.0, 20.0);
    let (radius, x, y) = (5.25, 17.0, 13.0);
    let mut brep = walls(size);
    let at = |angle: f64, z: f64| DVec3::new(x + radius * angle.cos(), y + radius * angle.sin(), z);
    let [p, q, r, s] = [(0.0, 0.0), (PI, 0.0), (0.0, size.z), (PI, size.z)]
        .map(|(angle, z)| vertex(&mut brep, at(angle, z)));
    let rim = |z: f64, turn: f64| {
        [
            DVec3::new(x, y, z),
            DVec3::X * radius,
            DVec3::Y * radius * turn,
        ]
    };
    // Below, both anticlockwise from above, one of them on a rim whose axis points down.
    let low_far = arc(&mut brep, [p, q], rim(0.0, 1.0), [0.0, PI]);
    let low_near = arc(&mut brep, [q, p], rim(0.0, -1.0), [PI, 0.0]);
    // Above, both clockwise, likewise.
    let high_far = arc(&mut brep, [s, r], rim(size.z, 1.0), [PI, 0.0]);
    let high_near = arc(&mut brep, [r, s], rim(size.z, -1.0), [0.0, PI]);
    let right = line(&mut brep, p, r);
    let left = line(&mut brep, q, s);
    let bore = Surface::Cylinder {
        origin: DVec3::new(x, y, -3.0),
        axis: DVec3::Z,
        x_axis: DVec3::X,
        radius,
    };
    let far = vec![back(low_far), on(right), back(high_far), back(left)];
    face(&mut brep, "bore", bore, false, vec![far]);
    let near = vec![back(low_near), on(left), back(high_near), back(right)];
    face(&mut brep, "bore", bore, false, vec![near]);
    let floor = plane(DVec3::ZERO, DVec3::Z, DVec3::X);
    let hole = vec![on(low_far), on(low_near)];
    face(&mut brep, "bottom", floor, false, vec![bottom(), hole]);
    let lid = plane(DVec3::Z * size.z, DVec3::Z, DVec3::X);
    let hole = vec![on(high_far), on(high_near)];
    face(&mut brep, "top", lid, true, vec![top(), hole]);
    let disc = PI * radius * radius;
    let (whole, gone) = (size.x * size.y * size.z, disc * size.z);
    let middle = DVec3::new(x, y, size.z / 2.0);
    let skin = 2.0 * (size.x * size.y + size.y * size.z + size.z * size.x);
    Shape {
        name: "through hole",
        brep,
        measures: measures(
            whole - gone,
            skin - 2.0 * disc + TAU * radius * size.z,
            (size / 2.0 * whole - middle * gone) / (whole - gone),
            [DVec3::ZERO, size],
        ),
        genus: 1,
    }
}

/// A box with a bore from its top that ends in a 118 degree point.
pub fn blind_hole() -> Shape {
    let size = DVec3::new(30.0, 30.0, 25.0);
    let (radius, depth, x, y) = (5.25, 12.0, 14.0, 16.0);
    let half_angle = 59.0_f64.to_radians();
    let point = radius / half_angle.tan();
    let (rim_z, tip_z) = (size.z - depth, size.z - depth - point);
    let mut brep = walls(size);
    let [a, b, c, d, tip] = [
        (radius, size.z),
        (-radius, size.z),
        (radius, rim_z),
        (-radius, rim_z),
        (0.0, tip_z),
    ]
    .map(|(out, z)| vertex(&mut brep, DVec3::new(x + out, y, z)));
    let rim = |z: f64| [DVec3::new(x, y, z), DVec3::X * radius, DVec3::Y * radius];
    let high_far = arc(&mut brep, [a, b], rim(size.z), [0.0, PI]);
    let high_near = arc(&mut brep, [b, a], rim(size.z), [PI, TAU]);
    let low_far = arc(&mut brep, [a, b].map(|v| v + 2), rim(rim_z), [0.0, PI]);
    let low_near = arc(&mut brep, [d, c], rim(rim_z), [-PI, 0.0]);
    let right = line(&mut brep, a, c);
    let left = line(&mut brep, b, d);
    let slope_right = line(&mut brep, c, tip);
    let slope_left = line(&mut brep, tip, d);
    let bore = Surface::Cylinder {
        origin: DVec3::new(x, y, size.z),
        axis: DVec3::NEG_Z,
        x_axis: DVec3::X,
        radius,
    };
    // One half of the point on a cone from its tip, the other from the rim.
    let from_tip = Surface::Cone {
        origin: DVec3::new(x, y, tip_z),
        axis: DVec3::Z,
        x_axis: DVec3::X,
        radius: 0.0,
        half_angle,
    };
    let from_rim = Surface::Cone {
        origin: DVec3::new(x, y, rim_z),
        axis: DVec3::Z,
        x_axis: DVec3::X,
        radius,
        half_angle,
    };
    let far = vec![on(high_far), on(left), back(low_far), back(right)];
    face(&mut brep, "bore", bore, false, vec![far]);
    let near = vec![on(high_near), on(right), back(low_near), back(left)];
    face(&mut brep, "bore", bore, false, vec![near]);
    let far = vec![on(low_far), back(slope_left), back(slope_right)];
    face(&mut brep, "point", from_tip, false, vec![far]);
    let near = vec![on(low_near), on(slope_right), on(slope_left)];
    face(&mut brep, "point", from_rim, false, vec![near]);
    let floor = plane(DVec3::ZERO, DVec3::NEG_Z, DVec3::Y);
    face(&mut brep, "bottom", floor, true, vec![bottom()]);
    let lid = plane(size, DVec3::NEG_Z, DVec3::X);
    let hole = vec![back(high_near), back(high_far)];
    face(&mut brep, "top", lid, false, vec![top(), hole]);
    let disc = PI * radius * radius;
    let (whole, gone, cone) = (size.x * size.y * size.z, disc * depth, disc * point / 3.0);
    let volume = whole - gone - cone;
    // A cone's centroid lies a quarter of its height from the base.
    let bore_middle = DVec3::new(x, y, size.z - depth / 2.0);
    let cone_middle = DVec3::new(x, y, rim_z - point / 4.0);
    let moment = size / 2.0 * whole - bore_middle * gone - cone_middle * cone;
    let skin = 2.0 * (size.x * size.y + size.y * size.z + size.z * size.x);
    let inside = TAU * radius * depth + PI * radius * radius / half_angle.sin();
    Shape {
        name: "blind hole",
        brep,
        measures: measures(
            volume,
            skin - disc + inside,
            moment / volume,
            [DVec3::ZERO, size],
        ),
        genus: 0,
    }
}

/// A plate with a bore leaning 10 degrees, so its rims are ellipses; one of them is given by its
/// shorter semi-axis first.
pub fn oblique_bore() -> Shape {
    let size = DVec3::new(50.0, 30.0, 15.0);
    let (radius, lean, y) = (5.0, 10.0_f64.to_radians(), 14.0);
    let low = DVec3::new(20.0, y, 0.0);
    let high = low + DVec3::new(size.z * lean.tan(), 0.0, size.z);
    let long = DVec3::X * radius / lean.cos();
    let wide = DVec3::Y * radius;
    let mut brep = walls(size);
    let [p, q, r, s] =
        [low + long, low - long, high + long, high - long].map(|at| vertex(&mut brep, at));
    let low_far = arc(&mut brep, [p, q], [low, long, wide], [0.0, PI]);
    let low_near = arc(&mut brep, [p, q], [low, long, wide], [0.0, -PI]);
    // Shorter semi-axis first, so the ends of the long one lie at ±90 degrees.
    let quarter = PI / 2.0;
    let high_far = arc(&mut brep, [r, s], [high, wide, long], [quarter, -quarter]);
    let high_near = arc(
        &mut brep,
        [s, r],
        [high, wide, long],
        [-quarter, -3.0 * quarter],
    );
    let right = line(&mut brep, p, r);
    let left = line(&mut brep, s, q);
    let axis = (high - low).normalize();
    let bore = Surface::Cylinder {
        origin: low - axis * 4.0,
        axis,
        x_axis: DVec3::Y,
        radius,
    };
    let far = vec![back(low_far), on(right), on(high_far), on(left)];
    face(&mut brep, "bore", bore, false, vec![far]);
    let near = vec![on(low_near), back(left), on(high_near), back(right)];
    face(&mut brep, "bore", bore, false, vec![near]);
    let floor = plane(DVec3::ZERO, DVec3::NEG_Z, DVec3::X);
    let hole = vec![on(low_far), back(low_near)];
    face(&mut brep, "bottom", floor, true, vec![bottom(), hole]);
    let lid = plane(size, DVec3::Z, DVec3::X);
    let hole = vec![back(high_near), back(high_far)];
    face(&mut brep, "top", lid, true, vec![top(), hole]);
    // Oblique bore through parallel walls: πr²t/cos; its wall is 2πr·t/cos, a rim πr²/cos.
    let gone = PI * radius * radius * size.z / lean.cos();
    let whole = size.x * size.y * size.z;
    let middle = f64::midpoint(low.x, high.x);
    let middle = DVec3::new(middle, y, size.z / 2.0);
    let skin = 2.0 * (size.x * size.y + size.y * size.z + size.z * size.x);
    let rims = 2.0 * PI * radius * radius / lean.cos();
    let wall = TAU * radius * size.z / lean.cos();
    Shape {
        name: "oblique bore",
        brep,
        measures: measures(
            whole - gone,
            skin - rims + wall,
            (size / 2.0 * whole - middle * gone) / (whole - gone),
            [DVec3::ZERO, size],
        ),
        genus: 1,
    }
}
