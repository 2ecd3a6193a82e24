//! Straight prisms on a polygon, round holes right through them, and round rods standing on them:
//! all that stand-ins, neck stub and rig are made of, each with its closed form.

use std::f64::consts::PI;

use glam::{DVec2, DVec3};

use super::brep::Surface;
use super::builder::{Builder, HoleFrame, Ring, reversed_loop};
use super::closed_form::ClosedForm;
use crate::layout::Frame;
use crate::plane::moments::Body;

/// A prism: its profile lies in the plane z = 0 of `pose`, it reaches to z = `height`.
#[derive(Debug, Clone)]
pub(super) struct Prism<'a> {
    pub pose: Frame,
    /// Corners anticlockwise seen from +z, each with the name of the face on the edge that begins
    /// there.
    pub profile: Vec<(DVec2, &'a str)>,
    pub height: f64,
    /// Names of the faces z = 0 and z = height.
    pub ends: [&'a str; 2],
}

/// Faces of a prism: on every edge of the profile, and at its ends.
#[derive(Debug, Clone)]
pub(super) struct PrismFaces {
    pub sides: Vec<usize>,
    pub near: usize,
    pub far: usize,
}

impl<'a> Prism<'a> {
    /// A box from the pose's origin, `size` along its axes; names for the faces at −y, +x, +y, −x,
    /// −z and +z.
    pub fn cuboid(pose: Frame, size: DVec3, names: [&'a str; 6]) -> Prism<'a> {
        let [low, right, high, left, near, far] = names;
        Prism {
            pose,
            profile: vec![
                (DVec2::ZERO, low),
                (DVec2::new(size.x, 0.0), right),
                (DVec2::new(size.x, size.y), high),
                (DVec2::new(0.0, size.y), left),
            ],
            height: size.z,
            ends: [near, far],
        }
    }

    /// Adds the prism's faces.
    pub fn add(&self, builder: &mut Builder) -> PrismFaces {
        let (pose, count) = (&self.pose, self.profile.len());
        let up = DVec3::Z * self.height;
        let corner = |i: usize| self.profile[i % count].0.extend(0.0);
        let mut ring = |lift: DVec3| -> Vec<usize> {
            (0..count)
                .map(|i| builder.vertex(pose.point(corner(i) + lift)))
                .collect()
        };
        let (low, high) = (ring(DVec3::ZERO), ring(up));
        let (low_loop, high_loop) = (builder.polygon(&low), builder.polygon(&high));
        let sides = (0..count)
            .map(|i| {
                let next = (i + 1) % count;
                let along = (corner(next) - corner(i)).normalize();
                let normal = pose.direction(along.cross(DVec3::Z));
                let edges = builder.polygon(&[low[i], low[next], high[next], high[i]]);
                let origin = pose.point(corner(i));
                let name = self.profile[i].1;
                builder.plane_face(name, origin, normal, pose.direction(along), vec![edges])
            })
            .collect();
        let [near, far] = self.ends;
        let below = vec![reversed_loop(&low_loop)];
        PrismFaces {
            sides,
            near: builder.plane_face(near, pose.origin, -pose.z, pose.x, below),
            far: builder.plane_face(far, pose.point(up), pose.z, pose.x, vec![high_loop]),
        }
    }

    /// Volume, centroid and area of the whole boundary, by the polygon's own sums (handbook form).
    pub fn form(&self) -> ClosedForm {
        let count = self.profile.len();
        let (mut twice, mut moment, mut round) = (0.0, DVec2::ZERO, 0.0);
        for i in 0..count {
            let (a, b) = (self.profile[i].0, self.profile[(i + 1) % count].0);
            let cross = a.perp_dot(b);
            twice += cross;
            moment += (a + b) * cross;
            round += a.distance(b);
        }
        let middle = moment / (3.0 * twice);
        let centroid = self.pose.point(middle.extend(self.height / 2.0));
        ClosedForm {
            body: Body::at(twice / 2.0 * self.height, centroid),
            area: twice + round * self.height,
        }
    }
}

/// A round hole right through, or a rod: its axis starts at `frame.origin`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Round {
    pub frame: HoleFrame,
    pub radius: f64,
    pub length: f64,
}

impl Round {
    fn surface(&self) -> Surface {
        Surface::Cylinder {
            origin: self.frame.origin,
            axis: self.frame.along,
            x_axis: self.frame.first,
            radius: self.radius,
        }
    }

    fn rings(&self, builder: &mut Builder) -> (Ring, Ring) {
        let start = builder.ring(&self.frame, self.radius, 0.0, 0.0);
        (
            start,
            builder.ring(&self.frame, self.radius, self.length, 0.0),
        )
    }

    /// Cuts a hole through from one plane face to another; both square to it.
    pub fn cut(&self, builder: &mut Builder, name: &str, [entry, exit]: [usize; 2]) {
        let (start, end) = self.rings(builder);
        builder.tube(name, self.surface(), &start, &end);
        builder.add_hole(entry, start.forward());
        builder.add_hole(exit, end.backward());
    }

    /// What [`Round::cut`] takes away, and the area it adds.
    pub fn cut_form(&self) -> ClosedForm {
        self.with_area(-2.0)
    }

    /// Stands a rod on a plane face from which it runs outwards.
    pub fn stand_on(&self, builder: &mut Builder, name: &str, face: usize) {
        let (start, end) = self.rings(builder);
        builder.rod_wall(name, self.surface(), &start, &end);
        builder.add_hole(face, start.backward());
        self.cap(builder, name, &end);
    }

    /// What [`Round::stand_on`] adds.
    pub fn stand_on_form(&self) -> ClosedForm {
        self.with_area(0.0)
    }

    /// A rod by itself.
    pub fn add_alone(&self, builder: &mut Builder, name: &str) {
        let (start, end) = self.rings(builder);
        builder.rod_wall(name, self.surface(), &start, &end);
        let origin = self.frame.origin;
        let loops = vec![start.backward()];
        builder.plane_face(name, origin, -self.frame.along, self.frame.first, loops);
        self.cap(builder, name, &end);
    }

    /// A rod by itself, in closed form.
    pub fn alone_form(&self) -> ClosedForm {
        self.with_area(2.0)
    }

    fn cap(&self, builder: &mut Builder, name: &str, ring: &Ring) {
        let origin = self.frame.origin + self.frame.along * self.length;
        let loops = vec![ring.forward()];
        builder.plane_face(name, origin, self.frame.along, self.frame.first, loops);
    }

    fn with_area(&self, ends: f64) -> ClosedForm {
        let section = PI * self.radius * self.radius;
        let middle = self.frame.origin + self.frame.along * (self.length / 2.0);
        ClosedForm {
            body: Body::at(section * self.length, middle),
            area: 2.0 * PI * self.radius * self.length + ends * section,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solid::proof::{prove_mesh, prove_solid};

    /// A turned and moved frame, so that nothing holds by chance.
    fn askew() -> Frame {
        let x = DVec3::new(2.0, 1.0, -0.5).normalize();
        let z = x.cross(DVec3::new(0.3, 1.0, 0.7)).normalize();
        Frame {
            origin: DVec3::new(11.0, -7.0, 3.0),
            x,
            y: z.cross(x),
            z,
        }
    }

    const NAMES: [&str; 6] = ["low", "right", "high", "left", "near", "far"];

    fn round(pose: &Frame, at: DVec3, along: DVec3, radius: f64, length: f64) -> Round {
        let second = if along == DVec3::X { pose.y } else { pose.x };
        let frame = HoleFrame::new(pose.point(at), pose.direction(along), second);
        Round {
            frame,
            radius,
            length,
        }
    }

    #[test]
    fn a_box_with_a_hole_and_a_rod_proves_itself() {
        let pose = askew();
        let prism = Prism::cuboid(pose, DVec3::new(40.0, 25.0, 6.0), NAMES);
        let mut builder = Builder::default();
        let faces = prism.add(&mut builder);
        let mut form = prism.form();
        let hole = round(&pose, DVec3::new(8.0, 9.0, 0.0), DVec3::Z, 2.5, 6.0);
        hole.cut(&mut builder, "hole", [faces.near, faces.far]);
        form.take(hole.cut_form());
        let rod = round(&pose, DVec3::new(28.0, 12.0, 0.0), -DVec3::Z, 4.0, 30.0);
        rod.stand_on(&mut builder, "rod", faces.near);
        form.add(rod.stand_on_form());
        let measures = prove_solid("box", &builder.brep, &form).unwrap();
        // 40·25·6 − π·2.5²·6 + π·4²·30.
        let by_hand = 6000.0 - PI * 37.5 + PI * 480.0;
        assert!((measures.volume - by_hand).abs() < 1e-9);
        prove_mesh("box", &builder.brep, &measures, 0.02).unwrap();
    }

    #[test]
    fn a_hole_through_the_sides_and_a_lone_rod_prove_themselves() {
        let pose = askew();
        let prism = Prism::cuboid(pose, DVec3::new(40.0, 25.0, 18.0), NAMES);
        let mut builder = Builder::default();
        let faces = prism.add(&mut builder);
        let mut form = prism.form();
        let hole = round(&pose, DVec3::new(8.0, 0.0, 9.0), DVec3::Y, 2.5, 25.0);
        hole.cut(&mut builder, "hole", [faces.sides[0], faces.sides[2]]);
        form.take(hole.cut_form());
        prove_solid("box", &builder.brep, &form).unwrap();
        let rod = round(&pose, DVec3::ZERO, DVec3::X, 3.0, 20.0);
        let mut builder = Builder::default();
        rod.add_alone(&mut builder, "rod");
        prove_solid("rod", &builder.brep, &rod.alone_form()).unwrap();
    }

    #[test]
    fn a_wrong_closed_form_is_refused() {
        let prism = Prism::cuboid(askew(), DVec3::new(40.0, 25.0, 6.0), NAMES);
        let mut builder = Builder::default();
        prism.add(&mut builder);
        let mut form = prism.form();
        form.body.volume *= 1.0 + 1e-8;
        assert!(prove_solid("box", &builder.brep, &form).is_err());
    }

    #[test]
    fn a_prism_on_any_polygon_holds() {
        let corner = |x: f64, y: f64| (DVec2::new(x, y), "side");
        let prism = Prism {
            pose: askew(),
            // An L, 3·10 + 2·4.
            profile: vec![
                corner(0.0, 0.0),
                corner(10.0, 0.0),
                corner(10.0, 3.0),
                corner(4.0, 3.0),
                corner(4.0, 5.0),
                corner(0.0, 5.0),
            ],
            height: 7.0,
            ends: ["near", "far"],
        };
        let mut builder = Builder::default();
        prism.add(&mut builder);
        let measures = prove_solid("L", &builder.brep, &prism.form()).unwrap();
        assert!((measures.volume - 38.0 * 7.0).abs() < 1e-9);
    }
}
