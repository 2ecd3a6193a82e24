//! The rig at the drill press: a base on the table, an upright square to it, braces behind. The head
//! stands on edge, its face flat against the upright; packing and a wedge of the two sides' taper
//! raise it until its upper side presses up under the block, which is screwed to the same upright.
//!
//! Rig frame: origin where the top of the base, the face of the upright and the end x = 0 of the
//! block meet; +y up, +z out of the upright, +x along the upright so that all three are right-handed.
//! With the treble side up the nut lies towards −x, with the bass side up towards +x, so the rig is
//! open and relieved at both ends.

use glam::{DVec2, DVec3};

use crate::input::{PerSide, Side};
use crate::standards::iso273;
use crate::tolerance::MERGE;

use super::rig_holes::{self, RigHole};
use super::{Frame, Layout};
use stance::Raw;
pub use stance::Stance;

mod stance;

/// The upright's full face ends this much before the nut line, mm, so that no nut or fingerboard
/// meets it (our choice).
const BEFORE_NUT: f64 = 2.0;
/// Braces reach this share of the height of the block's foot: clear of the block's screws (our choice).
const BRACE_SHARE: f64 = 2.0 / 3.0;
/// A wedge steeper than this would not hold by friction, radians (our assumption).
const STEEPEST: f64 = 0.3;

/// The wedge under the head, lying on its flat side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wedge {
    /// Angle between its faces: the tapers of both sides together, without sign, radians.
    pub angle: f64,
    /// Length along the base.
    pub length: f64,
    /// Height of its thin end.
    pub thin: f64,
    /// Height of its thick end.
    pub thick: f64,
    /// Width, out from the upright.
    pub width: f64,
}

/// Positions of the rig, in its frame.
#[derive(Debug, Clone, PartialEq)]
pub struct RigLayout {
    /// Ends of base and upright along x.
    pub ends: [f64; 2],
    /// Between these x the upright keeps its full thickness; beyond, it is cut back by the relief.
    pub bearing: [f64; 2],
    /// Height of the block's foot above the base.
    pub block_foot: f64,
    /// Height of the upright: level with the block's top.
    pub upright_height: f64,
    /// Thickness of base, and of the upright.
    pub thickness: [f64; 2],
    /// How deep the upright is cut back.
    pub relief: f64,
    /// z of the base's back and front.
    pub base_z: [f64; 2],
    /// Braces behind the upright: height, depth along z and thickness along x.
    pub brace: [f64; 3],
    /// x of the two braces' middles.
    pub brace_x: [f64; 2],
    /// Holes through the upright for the screws that hold the block.
    pub block_screws: Vec<RigHole>,
    /// Holes up through the base for the screws that hold upright and braces.
    pub base_screws: Vec<RigHole>,
    /// Thread of all screws.
    pub thread: &'static iso273::Row,
    /// The wedge; `None` for a head with parallel sides, or sides too steep for one.
    pub wedge: Option<Wedge>,
    /// The head with either side up.
    pub stances: PerSide<Stance>,
}

impl RigLayout {
    /// Works out the rig of a layout; `None` only where a side has no bore or no block.
    #[must_use]
    pub fn new(layout: &Layout) -> Option<RigLayout> {
        let keys = &layout.design.rig;
        let thread = iso273::thread(&keys.fixing)?;
        let raw = PerSide {
            treble: Raw::new(layout, Side::Treble)?,
            bass: Raw::new(layout, Side::Bass)?,
        };
        let wedge = wedge(layout, &raw);
        let thin = wedge.map_or(0.0, |wedge| wedge.thin);
        let deepest = raw.treble.deepest.max(raw.bass.deepest);
        let block_foot = deepest + thin + keys.packing;
        let upright_height = block_foot + layout.design.guide.depth;

        let nut = [raw.treble.nut[1], raw.bass.nut[0]];
        let margin = BEFORE_NUT.min((nut[1] - nut[0]).max(0.0) / 4.0);
        let bearing = [nut[0] + margin, nut[1] - margin];
        let ends = [
            (raw.treble.nut[0] - keys.beyond).min(raw.bass.reach[0]),
            (raw.bass.nut[1] + keys.beyond).max(raw.treble.reach[1]),
        ];
        let length = ends[1] - ends[0];
        let brace = [
            block_foot * BRACE_SHARE,
            keys.behind,
            keys.base.min(length / 6.0),
        ];
        let mut rig = RigLayout {
            ends,
            bearing,
            block_foot,
            upright_height,
            thickness: [keys.base, keys.upright],
            relief: keys.relief,
            base_z: [-keys.upright - keys.behind, keys.front],
            brace,
            brace_x: [ends[0] + length / 4.0, ends[1] - length / 4.0],
            block_screws: Vec::new(),
            base_screws: Vec::new(),
            thread,
            wedge,
            stances: PerSide {
                treble: raw.treble.stance(block_foot, wedge.as_ref()),
                bass: raw.bass.stance(block_foot, wedge.as_ref()),
            },
        };
        rig.block_screws = rig_holes::block_screws(layout, &rig);
        rig.base_screws = rig_holes::base_screws(&rig);
        Some(rig)
    }

    /// Length of base and upright.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.ends[1] - self.ends[0]
    }

    /// Width of packing and wedge, out from the upright: as far as the head is thick everywhere.
    #[must_use]
    pub fn support_width(&self, layout: &Layout) -> f64 {
        support_width(layout)
    }

    /// Height of the lowest point of the head's lower side above the base, the treble side up.
    #[must_use]
    pub fn head_bottom(&self) -> f64 {
        self.stances.treble.packing + self.wedge.map_or(0.0, |wedge| wedge.thin)
    }

    /// From the table to the top of the block.
    #[must_use]
    pub fn height_over_table(&self) -> f64 {
        self.thickness[0] + self.upright_height
    }

    /// How much higher the block's top stands on the rig than with the head on edge on the bare table, which
    /// is what the check `press-daylight` reckons with.
    #[must_use]
    pub fn raises(&self, layout: &Layout) -> f64 {
        let outline = layout.outline.region();
        let width = outline.reach(DVec2::X) + outline.reach(DVec2::NEG_X);
        self.height_over_table() - width - layout.design.guide.depth
    }

    /// Frame of the wedge's own frame (+x from its thin to its thick end, +z up, origin on its lower
    /// thin edge nearest the upright or farthest from it) with that side up.
    #[must_use]
    pub fn wedge_pose(&self, side: Side) -> Option<Frame> {
        let wedge = self.wedge?;
        let stance = self.stances.get(side);
        let [from, to] = stance.support;
        let (x, z, at) = if stance.thick_towards_x {
            (DVec3::X, wedge.width, from)
        } else {
            (-DVec3::X, 0.0, to)
        };
        Some(Frame {
            origin: DVec3::new(at, stance.packing, z),
            x,
            y: DVec3::Y.cross(x),
            z: DVec3::Y,
        })
    }
}

/// The wedge for either side: as long as the shorter lower side, seen along the base.
fn wedge(layout: &Layout, raw: &PerSide<Raw>) -> Option<Wedge> {
    let angle = layout.wedge_angle().abs();
    if angle <= MERGE || angle > STEEPEST {
        return None;
    }
    let span = |raw: &Raw| raw.lower[1].0 - raw.lower[0].0;
    let length = span(&raw.treble).min(span(&raw.bass));
    let thin = layout.design.rig.wedge_thin_end;
    Some(Wedge {
        angle,
        length,
        thin,
        thick: thin + length * angle.tan(),
        width: support_width(layout),
    })
}

fn support_width(layout: &Layout) -> f64 {
    let outline = &layout.outline;
    outline
        .thickness_at(0.0)
        .min(outline.thickness_at(outline.length))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::{Copy, OutlinePart};

    fn rig_of(change: impl FnOnce(&mut crate::input::Design)) -> (Layout, RigLayout) {
        let mut design = six_string();
        change(&mut design);
        let layout = Layout::new(&design, Copy::Finished);
        let rig = RigLayout::new(&layout).unwrap();
        (layout, rig)
    }

    /// Corners of a side line in the rig.
    fn line_in_rig(layout: &Layout, stance: &Stance, side: Side) -> [DVec3; 2] {
        let line = &layout.sides.get(side).line;
        [line.start_s, line.end_s].map(|s| stance.head.point(line.at(s).extend(0.0)))
    }

    #[test]
    fn the_upper_side_is_level_under_the_block_and_the_wedge_fills_what_is_below() {
        let (layout, rig) = rig_of(|_| {});
        let wedge = rig.wedge.unwrap();
        // Twice the taper of 4 mm over 184 mm.
        assert!((wedge.angle - 2.0 * (4.0f64 / 184.0).atan()).abs() < 1e-12);
        for side in [Side::Treble, Side::Bass] {
            let stance = rig.stances.get(side);
            let other = if side == Side::Treble {
                Side::Bass
            } else {
                Side::Treble
            };
            for p in line_in_rig(&layout, stance, side) {
                assert!((p.y - rig.block_foot).abs() < 1e-9);
                assert!(p.z.abs() < 1e-9, "the face lies on the upright");
            }
            let pose = rig.wedge_pose(side).unwrap();
            assert!(pose.x.cross(pose.y).distance(pose.z) < 1e-12);
            let ends = [
                pose.point(DVec3::new(0.0, 0.0, wedge.thin)),
                pose.point(DVec3::new(wedge.length, 0.0, wedge.thick)),
            ];
            let [a, b] = line_in_rig(&layout, stance, other);
            for end in ends {
                let on_line = a.y + (b.y - a.y) * (end.x - a.x) / (b.x - a.x);
                assert!((end.y - on_line).abs() < 1e-9, "{end} {on_line}");
                assert!(end.x > a.x.min(b.x) - 1e-9 && end.x < a.x.max(b.x) + 1e-9);
            }
            assert!(stance.packing >= 12.0 - 1e-9);
        }
    }

    #[test]
    fn the_upright_ends_before_either_nut_line_and_reaches_past_the_crest() {
        let (layout, rig) = rig_of(|_| {});
        let nut = layout.outline.part(OutlinePart::Nut).unwrap();
        for t in [0.0, 0.5, 1.0] {
            let p = nut.at(t).extend(0.0);
            let treble = rig.stances.treble.head.point(p);
            let bass = rig.stances.bass.head.point(p);
            assert!(treble.x < rig.bearing[0] - 1.9 && treble.x > rig.ends[0] + 59.0);
            assert!(bass.x > rig.bearing[1] + 1.9 && bass.x < rig.ends[1] - 59.0);
        }
        let crest = DVec3::new(0.0, 196.0, 0.0);
        assert!(rig.stances.treble.head.point(crest).x < rig.ends[1]);
        assert!(rig.stances.bass.head.point(crest).x > rig.ends[0]);
    }

    #[test]
    fn shims_stand_where_the_contract_puts_them() {
        let (_, rig) = rig_of(|design| design.guide.axis_height = Some(9.0));
        assert!((rig.stances.treble.block.origin.z - 1.2).abs() < 1e-9);
        assert!(rig.stances.treble.head.point(DVec3::ZERO).z.abs() < 1e-9);
        let (_, rig) = rig_of(|design| design.guide.axis_height = Some(11.0));
        assert!(rig.stances.treble.block.origin.z.abs() < 1e-9);
        assert!((rig.stances.treble.head.point(DVec3::ZERO).z - 0.8).abs() < 1e-9);
    }

    #[test]
    fn heads_without_taper_need_no_wedge_and_narrowing_ones_turn_it() {
        let parallel = crate::input::PerSide {
            treble: 31.5,
            bass: 31.5,
        };
        let (_, rig) = rig_of(|design| design.head.half_width_at_end = parallel);
        assert!(rig.wedge.is_none() && rig.wedge_pose(Side::Treble).is_none());
        assert!((rig.stances.treble.packing - 12.0).abs() < 1e-9);
        let (_, flaring) = rig_of(|_| {});
        // Treble up: the nut, and the wedge's thick end, lie towards −x.
        assert!(!flaring.stances.treble.thick_towards_x && flaring.stances.bass.thick_towards_x);
        let (_, narrowing) = rig_of(|design| {
            design.head.half_width_at_end = crate::input::PerSide {
                treble: 29.0,
                bass: 29.0,
            };
        });
        assert!(narrowing.stances.treble.thick_towards_x);
    }
}
