//! For every check, a design and one number of it that moves the check's value through its limits.

use std::f64::consts::PI;

use super::super::sample::{both, sandpiper, spread};
use crate::input::*;

/// One number to turn.
pub(super) struct Case {
    pub code: &'static str,
    pub design: fn() -> Design,
    pub set: fn(&mut Design, f64),
    /// The value is monotone between these.
    pub range: [f64; 2],
}

/// The clear base without allowances, so that finished and printed copy agree.
pub(super) fn plain() -> Design {
    let mut d = sandpiper();
    d.print.head_allowance = 0.0;
    d.print.block_allowance = 0.0;
    d
}

fn slots(d: &mut Design) -> &mut Slots {
    d.slots.as_mut().unwrap()
}

fn set_rib(d: &mut Design, v: f64) {
    slots(d).lie = Lie::Rib(v);
}

fn set_mouth(d: &mut Design, v: f64) {
    slots(d).ramp.as_mut().unwrap().mouth = v;
}

fn set_axis(d: &mut Design, v: f64) {
    d.placement.depth = Across::AxisBelowFace(v);
}

fn set_first(d: &mut Design, v: f64) {
    d.placement.along = Along::FirstBarrel(both(v));
}

fn set_guide_depth(d: &mut Design, v: f64) {
    d.guide.depth = v;
}

fn set_bore(d: &mut Design, v: f64) {
    d.bores.diameter = v;
}

/// Parallel sides, one blind mirrored pair at each station.
pub(super) fn parallel() -> Design {
    let mut d = plain();
    d.head.half_width_at_start = both(32.0);
    d.head.half_width_at_end = both(32.0);
    d.placement.along = Along::FirstBarrel(both(57.0));
    d.bores.depth = BoreDepth::BeyondCentre(-5.0);
    d
}

/// Staggered sides without slots, bores that pass one another deep into the head.
pub(super) fn staggered() -> Design {
    let mut d = parallel();
    d.placement.along = Along::FirstBarrel(PerSide {
        treble: 57.0,
        bass: 74.5,
    });
    d.slots = None;
    d.bores.point = Point::Flat;
    d
}

fn with_screw(along: f64, across: f64) -> Design {
    let mut d = plain();
    d.machines.screws = Some(Screws {
        points: vec![[along, across]],
        pilot: 1.6,
        depth: 7.0,
    });
    d
}

fn with_counterbore() -> Design {
    let mut d = plain();
    d.bores.counterbore = Some(Counterbore {
        diameter: 12.0,
        depth: 4.0,
    });
    d
}

/// With `[strings]`: a nylon six, three turns that walk out.
pub(super) fn strung() -> Design {
    let mut d = plain();
    d.strings = crate::input::sample::strung(&d);
    d
}

pub(super) const CASES: &[Case] = &[
    Case {
        code: "wood-over",
        design: plain,
        set: set_axis,
        range: [3.0, 10.0],
    },
    Case {
        code: "wood-under",
        design: plain,
        set: set_axis,
        range: [10.0, 18.0],
    },
    Case {
        code: "web",
        design: plain,
        set: |d, v| d.machines.pitches = both(vec![35.0, v]),
        range: [10.0, 20.0],
    },
    Case {
        code: "cheek",
        design: plain,
        set: set_rib,
        range: [14.0, 40.0],
    },
    Case {
        code: "rib",
        design: plain,
        set: set_rib,
        range: [0.1, 10.0],
    },
    Case {
        code: "end-wood",
        design: plain,
        set: set_mouth,
        range: [19.0, 50.0],
    },
    Case {
        code: "slot-end",
        design: plain,
        set: |d, v| slots(d).end_margin[0] = v,
        range: [8.0, 18.0],
    },
    Case {
        code: "bearing",
        design: plain,
        set: set_rib,
        range: [4.0, 14.0],
    },
    Case {
        code: "rim",
        design: plain,
        set: set_rib,
        range: [1.0, 14.0],
    },
    Case {
        code: "edges",
        design: plain,
        set: set_first,
        range: [3.0, 40.0],
    },
    Case {
        code: "counterbore",
        design: with_counterbore,
        set: |d, v| d.bores.counterbore.as_mut().unwrap().diameter = v,
        range: [11.0, 20.0],
    },
    Case {
        code: "bore-depth",
        design: parallel,
        set: |d, v| d.bores.depth = BoreDepth::BeyondCentre(v),
        range: [-6.0, -0.4],
    },
    Case {
        code: "clearance",
        design: plain,
        set: set_bore,
        range: [9.9, 10.3],
    },
    Case {
        code: "clearance",
        design: plain,
        set: set_bore,
        range: [10.5, 11.0],
    },
    Case {
        code: "barrels-apart",
        design: plain,
        set: |d, v| d.machines.barrel_length = v,
        range: [28.0, 33.0],
    },
    Case {
        code: "far-wood",
        design: staggered,
        set: |d, v| d.bores.depth = BoreDepth::BeyondCentre(v),
        range: [28.0, 31.9],
    },
    Case {
        code: "pair-offset",
        design: parallel,
        set: |d, v| {
            d.placement.along = Along::FirstBarrel(PerSide {
                treble: 57.0,
                bass: 57.0 + v,
            });
        },
        range: [0.0, 0.5],
    },
    Case {
        code: "plate-thickness",
        design: plain,
        set: |d, v| d.machines.plate_width = v,
        range: [15.0, 20.4],
    },
    Case {
        code: "plate-even",
        design: plain,
        set: set_axis,
        range: [10.2, 11.2],
    },
    Case {
        code: "plate-side",
        design: plain,
        set: set_first,
        range: [10.0, 40.0],
    },
    Case {
        code: "edge-radius",
        design: plain,
        set: |d, v| d.head.edge_radius = v,
        range: [0.5, 3.0],
    },
    Case {
        code: "hole-in-slot",
        design: plain,
        set: |d, v| d.machines.string_hole = v,
        range: [10.0, 18.0],
    },
    Case {
        code: "string-face",
        design: plain,
        set: set_mouth,
        range: [5.0, 19.0],
    },
    Case {
        code: "string-edge",
        design: plain,
        set: set_rib,
        range: [14.0, 19.0],
    },
    Case {
        code: "side-pull",
        design: plain,
        set: |d, v| d.nut.strings = spread(v, 6),
        range: [40.0, 50.0],
    },
    Case {
        code: "nut-break",
        design: plain,
        set: |d, v| d.head.angle = v,
        range: [-0.3, 0.2],
    },
    Case {
        code: "nut-break",
        design: plain,
        set: |d, v| d.head.angle = v,
        range: [0.3, PI / 4.0],
    },
    Case {
        code: "ramp-depth",
        design: plain,
        set: set_mouth,
        range: [19.0, 60.0],
    },
    Case {
        code: "screw-slot",
        design: || with_screw(17.0, 0.0),
        set: |d, v| d.machines.screws.as_mut().unwrap().depth = v,
        range: [5.0, 15.0],
    },
    Case {
        code: "screw-bore",
        design: || with_screw(11.0, 0.0),
        set: |d, v| d.machines.screws.as_mut().unwrap().points[0][0] = v,
        range: [4.0, 11.0],
    },
    Case {
        code: "block-wood",
        design: plain,
        set: |d, v| d.guide.end_margin = v,
        range: [5.0, 12.0],
    },
    Case {
        code: "block-guided",
        design: plain,
        set: set_guide_depth,
        range: [10.0, 24.0],
    },
    Case {
        code: "block-bore",
        design: plain,
        set: |d, v| d.guide.bore_diameter = v,
        range: [10.0, 11.0],
    },
    Case {
        code: "block-axis",
        design: plain,
        set: |d, v| d.guide.axis_height = Some(v),
        range: [10.2, 11.0],
    },
    Case {
        code: "press-travel",
        design: plain,
        set: set_guide_depth,
        range: [24.0, 60.0],
    },
    Case {
        code: "press-flutes",
        design: plain,
        set: set_guide_depth,
        range: [24.0, 60.0],
    },
    Case {
        code: "press-daylight",
        design: || {
            let mut d = plain();
            d.press.as_mut().unwrap().daylight = Some(240.0);
            d
        },
        set: set_guide_depth,
        range: [24.0, 60.0],
    },
    Case {
        code: "bit-size",
        design: plain,
        set: set_bore,
        range: [10.5, 10.54],
    },
    Case {
        code: "string-wood",
        design: strung,
        set: set_mouth,
        range: [16.0, 19.0],
    },
    Case {
        code: "string-barrel",
        design: strung,
        set: |d, v| d.nut.string_height = v,
        range: [3.5, 4.2],
    },
    Case {
        code: "string-neighbour",
        design: strung,
        set: |d, v| d.nut.strings = spread(v, 6),
        range: [10.0, 20.0],
    },
    Case {
        code: "winding-wall",
        design: strung,
        set: |d, v| d.strings.as_mut().unwrap().turns = vec![v; 6],
        range: [3.0, 8.0],
    },
];
