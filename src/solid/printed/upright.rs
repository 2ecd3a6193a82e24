//! A body that stands on the printer's bed: a rectangle in plan, straight up, its foot chamfered
//! all round, with V grooves up its walls, upright bores and dowel holes in its ends.
//!
//! Frame: the bed is z = 0; the body lies in x from 0 to its length, y from 0 to its width.

use glam::{DVec2, DVec3};

/// One of the four walls. A place on a wall is measured along it, anticlockwise seen from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wall {
    /// y = 0, measured along +x.
    Front,
    /// x = length, measured along +y.
    Far,
    /// y = width, measured along −x.
    Back,
    /// x = 0, measured along −y.
    Near,
}

impl Wall {
    pub const ALL: [Wall; 4] = [Wall::Front, Wall::Far, Wall::Back, Wall::Near];

    /// Unit vector along the wall.
    pub fn along(self) -> DVec2 {
        match self {
            Wall::Front => DVec2::X,
            Wall::Far => DVec2::Y,
            Wall::Back => -DVec2::X,
            Wall::Near => -DVec2::Y,
        }
    }

    /// Unit vector out of the body.
    pub fn outward(self) -> DVec2 {
        -self.along().perp()
    }
}

/// A groove of triangular section, the whole height of a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Vee {
    pub wall: Wall,
    /// Its middle, along the wall.
    pub at: f64,
    /// Width at the wall.
    pub width: f64,
    pub depth: f64,
}

impl Vee {
    /// Half its width at this distance behind the wall.
    pub fn half_width_at(&self, inset: f64) -> f64 {
        self.width / 2.0 * (1.0 - inset / self.depth)
    }
}

/// How an upright bore runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Run {
    /// Right through, its rim at the foot chamfered by this much.
    Through { rim: f64 },
    /// From the top, full diameter to `depth`, then a point of this height (0: flat).
    Blind { depth: f64, point_height: f64 },
}

/// An upright round hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct UprightHole {
    pub center: DVec2,
    pub radius: f64,
    pub run: Run,
    /// Wider mouth of a blind bore: radius and depth from the top.
    pub mouth: Option<(f64, f64)>,
}

impl UprightHole {
    /// The widest radius at any height.
    pub fn reach(&self) -> f64 {
        let rim = match self.run {
            Run::Through { rim } => rim,
            Run::Blind { .. } => 0.0,
        };
        self.mouth
            .map_or(self.radius + rim, |(wide, _)| wide.max(self.radius + rim))
    }
}

/// A flat-ended hole along x into one end, for a dowel that joins two pieces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Dowel {
    /// `Near` or `Far`.
    pub wall: Wall,
    pub y: f64,
    pub z: f64,
    pub radius: f64,
    pub depth: f64,
}

/// The body.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Upright {
    /// Length along x, width along y, height.
    pub size: DVec3,
    /// Chamfer round the foot, at 45 degrees; above zero.
    pub chamfer: f64,
    pub grooves: Vec<Vee>,
    pub holes: Vec<UprightHole>,
    pub dowels: Vec<Dowel>,
}

impl Upright {
    /// The corner in which a wall begins.
    pub fn corner(&self, wall: Wall) -> DVec2 {
        match wall {
            Wall::Front => DVec2::ZERO,
            Wall::Far => DVec2::new(self.size.x, 0.0),
            Wall::Back => self.size.truncate(),
            Wall::Near => DVec2::new(0.0, self.size.y),
        }
    }

    /// A point of a wall in plan, or behind it.
    pub fn on_wall(&self, wall: Wall, at: f64, inset: f64) -> DVec2 {
        self.corner(wall) + wall.along() * at - wall.outward() * inset
    }

    /// The grooves of a wall, in order along it.
    pub fn grooves_of(&self, wall: Wall) -> Vec<Vee> {
        let mut grooves: Vec<Vee> = self
            .grooves
            .iter()
            .copied()
            .filter(|groove| groove.wall == wall)
            .collect();
        grooves.sort_by(|a, b| a.at.total_cmp(&b.at));
        grooves
    }

    /// Least distance from a point in plan to a groove's section.
    pub fn distance_to_groove(&self, groove: &Vee, point: DVec2) -> f64 {
        let half = groove.width / 2.0;
        let left = self.on_wall(groove.wall, groove.at - half, 0.0);
        let tip = self.on_wall(groove.wall, groove.at, groove.depth);
        let right = self.on_wall(groove.wall, groove.at + half, 0.0);
        to_segment(point, left, tip).min(to_segment(point, tip, right))
    }

    /// Least wood between any hole and the outline, grooves included, at full height; infinite
    /// without holes.
    pub fn least_wood(&self) -> f64 {
        let mut least = f64::INFINITY;
        for hole in &self.holes {
            let (c, r) = (hole.center, hole.reach());
            for gap in [c.x, self.size.x - c.x, c.y, self.size.y - c.y] {
                least = least.min(gap - r);
            }
            for groove in &self.grooves {
                least = least.min(self.distance_to_groove(groove, c) - r);
            }
        }
        least
    }
}

fn to_segment(point: DVec2, a: DVec2, b: DVec2) -> f64 {
    let along = b - a;
    let t = ((point - a).dot(along) / along.length_squared()).clamp(0.0, 1.0);
    point.distance(a + along * t)
}
