//! Head, nut, machines, placement, bores and guide, and the contract's tables beside them: defaults and keys.

use barrelhead::input::{
    Across, Along, BoreDepth, Counterbore, Crest, Lie, OwnLimit, PerSide, Point, Unit,
};

use super::{LEAST, design, near, with};

#[test]
fn defaults_of_the_least_file() {
    let d = design(LEAST);
    assert_eq!((d.title.as_str(), d.unit), ("least", Unit::Mm));
    let h = &d.head;
    assert_eq!(
        (h.side_start, h.side_end, h.thickness_at_crest),
        (0.0, 100.0, 20.0)
    );
    assert_eq!(
        (h.face_veneer, h.back_veneer, h.edge_radius),
        (0.0, 0.0, 0.0)
    );
    assert!(h.veneers_on && h.crest == Crest::Flat && h.shoulder_width.is_none());
    assert_eq!(d.nut.strings.len(), 4);
    assert_eq!(
        (d.machines.axis_offset, d.machines.screws.is_none()),
        (0.0, true)
    );
    assert_eq!(
        (d.placement.along, d.placement.depth),
        (Along::Centred, Across::Centred)
    );
    assert_eq!(d.bores.point, Point::Angle(118f64.to_radians()));
    assert_eq!((d.guide.height, d.guide.bore_diameter), (20.0, 10.5));
    assert!(
        d.guide.scribe.is_none() && d.slots.is_none() && d.press.is_none() && d.limits.is_empty()
    );
    let p = &d.print;
    assert_eq!(
        (
            p.head_allowance,
            p.block_allowance,
            p.bush_allowance,
            p.chord
        ),
        (0.2, 0.2, 0.0, 0.02)
    );
}

#[test]
fn keys_of_the_head() {
    let h = with(
        "angle = 12",
        "angle = 0\ncrest = 'arch'\nside_start = 10\nside_end = 90\nshoulder_width = 50\nthickness_at_crest = 18
         face_veneer = 2\nback_veneer = 1\nveneers_on = false\nedge_radius = 3
         bass = { width_at_nut_end = 58, width_at_crest_end = 61 }",
    )
    .head;
    assert_eq!(
        (h.side_start, h.side_end, h.shoulder_width),
        (10.0, 90.0, Some(50.0))
    );
    assert_eq!(
        h.half_width_at_start,
        PerSide {
            treble: 30.0,
            bass: 29.0
        }
    );
    assert_eq!(
        h.half_width_at_end,
        PerSide {
            treble: 32.0,
            bass: 30.5
        }
    );
    assert_eq!(
        (
            h.thickness_at_crest,
            h.face_veneer,
            h.back_veneer,
            h.edge_radius
        ),
        (18.0, 2.0, 1.0, 3.0)
    );
    assert!(!h.veneers_on && h.crest == Crest::Arch && h.angle.abs() < 1e-15);
    // Without shoulders above the nut line the width there is not read.
    assert!(
        with("angle = 12", "angle = 12\nshoulder_width = 50")
            .head
            .shoulder_width
            .is_none()
    );
}

#[test]
fn keys_of_nut_placement_bores_slots() {
    let d = with("string_span = 40", "strings = [-20, -5, 7, 21.5]");
    assert_eq!(d.nut.strings, [-20.0, -5.0, 7.0, 21.5]);
    let d = with(
        "[placement]",
        "[placement]\nfirst_barrel = 40\nbass.first_barrel = 41\naxis_below_face = 9",
    );
    assert_eq!(
        d.placement.along,
        Along::FirstBarrel(PerSide {
            treble: 40.0,
            bass: 41.0
        })
    );
    assert_eq!(d.placement.depth, Across::AxisBelowFace(9.0));
    let d = with("[placement]", "[placement]\nfirst_barrel = 40");
    assert_eq!(
        d.placement.along,
        Along::FirstBarrel(PerSide {
            treble: 40.0,
            bass: 40.0
        })
    );
    let d = with(
        "diameter = 10.5\nbeyond_barrel = 2",
        "clearance = 0.4\nbeyond_centre = 0\npoint = 'flat'\ncounterbore = { diameter = 13, depth = 4 }",
    );
    near(d.bores.diameter, 10.4);
    near(d.guide.bore_diameter, 10.4);
    assert_eq!(
        (d.bores.depth, d.bores.point),
        (BoreDepth::BeyondCentre(0.0), Point::Flat)
    );
    assert_eq!(
        d.bores.counterbore,
        Some(Counterbore {
            diameter: 13.0,
            depth: 4.0
        })
    );
    let d = with("beyond_barrel = 2", "beyond_barrel = 2\npoint = 179.5");
    assert_eq!(d.bores.point, Point::Angle(179.5f64.to_radians()));
    let s = with(
        "[guide]",
        "[slots]\nwidth = 14\ncheek = 11\nend_margin = [0, 18]\ncorner_radius = 0\n[guide]",
    )
    .slots;
    let s = s.unwrap();
    assert_eq!(
        (s.lie, s.end_margin, s.corner_radius, s.ramp),
        (Lie::Cheek(11.0), [0.0, 18.0], 0.0, None)
    );
    let s = with(
        "[guide]",
        "[slots]\nwidth = 14\nrib = 12\nend_margin = [18, 18]\n[guide]",
    )
    .slots
    .unwrap();
    assert_eq!((s.lie, s.corner_radius), (Lie::Rib(12.0), 7.0));
}

#[test]
fn keys_of_guide_press_print_limits() {
    let g = with(
        "end_margin = 30",
        "end_margin = 30\nheight = 25\naxis_height = 9.5\nbore_diameter = 10.6\nbush_diameter = 15",
    )
    .guide;
    assert_eq!(
        (g.height, g.axis_height, g.bore_diameter, g.bush_diameter),
        (25.0, Some(9.5), 10.6, Some(15.0))
    );
    let d = design(&format!(
        "{LEAST}[press]\ntravel = 70\n[print]\nhead_allowance = -0.1\nblock_allowance = 0\nbush_allowance = 0.05\nchord = 0.1
         [limits]\nside-pull = 9\nnut-break = {{ low = 6, high = 31 }}\nblock-guided = 2\nwood-over = '1/8 in'\nplate-side = -3"
    ));
    let press = d.press.unwrap();
    assert_eq!(
        (
            press.travel,
            press.daylight,
            press.bit_length,
            press.flute_length
        ),
        (70.0, None, None, None)
    );
    let p = &d.print;
    assert_eq!(
        (
            p.head_allowance,
            p.block_allowance,
            p.bush_allowance,
            p.chord
        ),
        (-0.1, 0.0, 0.05, 0.1)
    );
    assert_eq!(d.limits["side-pull"], OwnLimit::Single(9.0));
    assert_eq!(
        d.limits["nut-break"],
        OwnLimit::Band {
            low: 6.0,
            high: 31.0
        }
    );
    assert_eq!(d.limits["wood-over"], OwnLimit::Single(3.175));
    assert_eq!(d.limits["plate-side"], OwnLimit::Single(-3.0));
    assert_eq!(d.limits["block-guided"], OwnLimit::Single(2.0));
}

#[test]
fn barrels_of_both_sides() {
    let m = with("pitches = [35]", "barrels = 3\nover_outer_barrels = 80").machines;
    assert_eq!(
        m.pitches,
        PerSide {
            treble: vec![35.0, 35.0],
            bass: vec![35.0, 35.0]
        }
    );
    let d = with(
        "[placement]",
        "[machines.bass]\npitches = [34, 36]\noverhang = [14, 13]\n[placement]",
    );
    assert_eq!(
        d.machines.pitches,
        PerSide {
            treble: vec![35.0],
            bass: vec![34.0, 36.0]
        }
    );
    assert_eq!(
        d.machines.overhang,
        PerSide {
            treble: [15.0, 16.0],
            bass: [14.0, 13.0]
        }
    );
    assert_eq!(d.nut.strings.len(), 5);
    let m = with(
        "[placement]",
        "[machines.bass]\nbarrels = 2\nover_outer_barrels = 44\n[placement]",
    )
    .machines;
    assert_eq!(m.pitches.bass, [34.0]);
    assert_eq!(
        m.overhang.bass.map(f64::to_bits),
        m.overhang.treble.map(f64::to_bits)
    );
    let d = with("pitches = [35]", "pitches = []");
    assert_eq!(
        (d.machines.pitches.treble.len(), d.nut.strings.as_slice()),
        (0, [-20.0, 20.0].as_slice())
    );
    assert!(
        with("pitches = [35]", "barrels = 1")
            .machines
            .pitches
            .treble
            .is_empty()
    );
    let m = with(
        "pitches = [35]",
        "pitches = [35]\nplate_length = 66.2\nscrews = { points = [], pilot = 1, depth = 5 }",
    );
    assert!(m.machines.screws.is_none());
    let many = format!("pitches = {:?}", vec![20; 63]);
    assert_eq!(with("pitches = [35]", &many).nut.strings.len(), 128);
}
