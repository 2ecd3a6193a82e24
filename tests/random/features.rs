//! What a design has in it, so that a run can tell that nothing of the parameter file went untried.

use barrelhead::check::{self, Checked};
use barrelhead::input::{Across, Along, BoreDepth, Crest, Lie, Point, Unit};
use barrelhead::layout::{Bore, BoreEnd, EndCut};

/// Every feature that must occur among the designs built.
pub const FEATURES: &[&str] = &[
    "sides alike",
    "sides that differ",
    "a head that flares",
    "a head that narrows",
    "shoulders of their own width",
    "sides prolonged to the nut",
    "arch",
    "flat crest",
    "thicker at the crest",
    "thinner at the crest",
    "veneers glued on later",
    "veneers inside",
    "edges rounded",
    "no slots",
    "rib slots",
    "cheek slots",
    "square corners",
    "corners rounded in part",
    "half-round ends",
    "ramp",
    "ramp from the slot's end",
    "slots without ramp",
    "flat bit",
    "pointed bit",
    "blind bores",
    "bores that open",
    "bores that keep a web",
    "a pair not mirrored",
    "depth from the centre line",
    "counterbore",
    "pilots",
    "bushes",
    "scribe grooves",
    "shim under the block",
    "shim under the head",
    "one block",
    "two blocks",
    "uneven pitches",
    "one count a side, another on the other",
    "plate centred along",
    "first barrel given",
    "axis centred",
    "axis given",
    "plate off the axis",
    "holes printed tighter",
    "coarse chord",
    "right at a stop",
    "in inches",
    "bores by clearance",
    "pitches by the length over the barrels",
    "bass bores begin elsewhere",
    "overhangs that differ",
    "points that open alone",
    "two pilots a side",
    "guide bore of its own",
    "block printed tighter",
    "a small head",
    "twelve strings",
    "a head longer than a metre",
    "1 barrel a side",
    "2 barrels a side",
    "3 barrels a side",
    "4 barrels a side",
    "5 barrels a side",
    "6 barrels a side",
    "7 barrels a side",
    "8 barrels a side",
    "64 barrels a side",
    "three pilots a side or more",
    "a steep flare",
    "a steep narrowing",
    "axis of the block off its middle",
    "a set from a file",
    "a block from a file",
    "64 barrels a side with ramps",
    "an untrue head with a web and cheek slots",
    "counterbores and bores that open",
    "a ramp in a wedge",
    "shoulders with cheek slots and an arch",
    "pilots and a pair that keeps a web",
    "inches and a block from a file",
    "flat bit and bores that open",
    "veneers later and a shim",
];

/// A stop nearer than this is right at hand, mm.
const AT_HAND: f64 = 0.02;

/// Those of [`FEATURES`] that a design has.
pub fn features(checked: &Checked) -> Vec<&'static str> {
    let layout = checked.finished();
    let design = &layout.design;
    let head = &design.head;
    let (start, end) = (head.half_width_at_start, head.half_width_at_end);
    let true_head = start.treble == start.bass && end.treble == end.bass;
    let corner = design.slots.as_ref().map(|s| s.corner_radius / s.width);
    let ramp = design.slots.as_ref().and_then(|slots| slots.ramp);
    let ends = |end: BoreEnd| layout.bores().any(|bore| bore.end == end);
    let counts = [
        &design.machines.pitches.treble,
        &design.machines.pitches.bass,
    ];
    let uneven = |gaps: &Vec<f64>| gaps.windows(2).any(|two| (two[0] - two[1]).abs() > 1e-6);
    let shim = |holds: fn(f64) -> bool| layout.blocks.iter().any(|block| holds(block.shim));
    let lie = design.slots.as_ref().map(|slots| slots.lie);
    let at_hand = check::slacks(layout, checked.printed())
        .iter()
        // The guide bore is the bit's, and the barrel fills its bore, as a rule.
        .filter(|slack| !["block-bore", "bore-depth"].contains(&slack.code))
        .any(|slack| slack.to_stop < AT_HAND);
    let typed = |key: &str| design.places.contains_key(key);
    let elsewhere = match design.placement.along {
        Along::FirstBarrel(y) => y.treble != y.bass,
        Along::Centred => false,
    };
    let point_alone = |bore: &Bore| {
        bore.end == BoreEnd::Opens && matches!(bore.end_plane, Some((_, EndCut::Point)))
    };
    let barrels = |count: usize| counts.iter().any(|gaps| gaps.len() + 1 == count);
    let taper = |at: usize| layout.each_side().map(|side| side.line.taper).nth(at);
    let steepest = [0, 1].map(|at| taper(at).unwrap_or_default());
    let (wedge, cheek) = (
        head.thickness != head.thickness_at_crest,
        matches!(lie, Some(Lie::Cheek(_))),
    );
    let own_shoulders = head.side_start > 0.0 && head.shoulder_width.is_some();
    let pilots = layout.each_side().any(|side| !side.pilots.is_empty());
    let later = head.face_veneer > 0.0 && !head.veneers_on;
    // Where a key stands says which file it was read from.
    let from = |table: &str| {
        let mut places = design.places.iter();
        places.any(|(key, place)| {
            key.split('.').next() == Some(table)
                && place.file.ends_with(format!("shelf-{table}.toml"))
        })
    };
    [
        ("sides alike", true_head),
        ("sides that differ", !true_head),
        ("a head that flares", end.treble > start.treble),
        ("a head that narrows", end.treble < start.treble),
        (
            "shoulders of their own width",
            head.side_start > 0.0 && head.shoulder_width.is_some(),
        ),
        (
            "sides prolonged to the nut",
            head.side_start > 0.0 && head.shoulder_width.is_none(),
        ),
        ("arch", head.crest == Crest::Arch),
        ("flat crest", head.crest == Crest::Flat),
        (
            "thicker at the crest",
            head.thickness_at_crest > head.thickness,
        ),
        (
            "thinner at the crest",
            head.thickness_at_crest < head.thickness,
        ),
        (
            "veneers glued on later",
            head.face_veneer > 0.0 && !head.veneers_on,
        ),
        ("veneers inside", head.face_veneer > 0.0 && head.veneers_on),
        ("edges rounded", head.edge_radius > 0.0),
        ("no slots", design.slots.is_none()),
        ("rib slots", matches!(lie, Some(Lie::Rib(_)))),
        ("cheek slots", matches!(lie, Some(Lie::Cheek(_)))),
        ("square corners", corner == Some(0.0)),
        (
            "corners rounded in part",
            corner.is_some_and(|c| c > 0.0 && c < 0.5),
        ),
        ("half-round ends", corner == Some(0.5)),
        ("ramp", ramp.is_some_and(|ramp| ramp.mouth > 0.0)),
        (
            "ramp from the slot's end",
            ramp.is_some_and(|ramp| ramp.mouth == 0.0),
        ),
        (
            "slots without ramp",
            design.slots.is_some() && ramp.is_none(),
        ),
        ("flat bit", design.bores.point == Point::Flat),
        ("pointed bit", design.bores.point != Point::Flat),
        ("blind bores", ends(BoreEnd::Blind)),
        ("bores that open", ends(BoreEnd::Opens)),
        ("bores that keep a web", ends(BoreEnd::Web)),
        (
            "a pair not mirrored",
            layout.pairs.iter().any(|pair| !pair.mirrored),
        ),
        (
            "depth from the centre line",
            matches!(design.bores.depth, BoreDepth::BeyondCentre(_)),
        ),
        ("counterbore", design.bores.counterbore.is_some()),
        (
            "pilots",
            layout.each_side().any(|side| !side.pilots.is_empty()),
        ),
        ("bushes", design.guide.bush_diameter.is_some()),
        ("scribe grooves", design.guide.scribe.is_some()),
        ("shim under the block", shim(|shim| shim > 0.0)),
        ("shim under the head", shim(|shim| shim < 0.0)),
        ("one block", layout.blocks.len() == 1),
        ("two blocks", layout.blocks.len() == 2),
        ("uneven pitches", counts.into_iter().any(uneven)),
        (
            "one count a side, another on the other",
            counts[0].len() != counts[1].len(),
        ),
        (
            "plate centred along",
            design.placement.along == Along::Centred,
        ),
        (
            "first barrel given",
            design.placement.along != Along::Centred,
        ),
        ("axis centred", design.placement.depth == Across::Centred),
        ("axis given", design.placement.depth != Across::Centred),
        ("plate off the axis", design.machines.axis_offset != 0.0),
        ("holes printed tighter", design.print.head_allowance < 0.0),
        ("coarse chord", design.print.chord > 0.1),
        ("right at a stop", at_hand),
        ("in inches", design.unit == Unit::Inch),
        ("bores by clearance", typed("bores.clearance")),
        (
            "pitches by the length over the barrels",
            typed("machines.over_outer_barrels"),
        ),
        ("bass bores begin elsewhere", elsewhere),
        (
            "overhangs that differ",
            design.machines.overhang.treble != design.machines.overhang.bass,
        ),
        ("points that open alone", layout.bores().any(point_alone)),
        (
            "two pilots a side",
            layout.each_side().any(|side| side.pilots.len() == 2),
        ),
        (
            "guide bore of its own",
            design.guide.bore_diameter > design.bores.diameter + 0.005,
        ),
        ("block printed tighter", design.print.block_allowance < 0.0),
        (
            "a small head",
            design.nut.strings.len() == 4 && head.length < 130.0,
        ),
        ("twelve strings", design.nut.strings.len() == 12),
        ("a head longer than a metre", head.length > 1000.0),
        ("1 barrel a side", barrels(1)),
        ("2 barrels a side", barrels(2)),
        ("3 barrels a side", barrels(3)),
        ("4 barrels a side", barrels(4)),
        ("5 barrels a side", barrels(5)),
        ("6 barrels a side", barrels(6)),
        ("7 barrels a side", barrels(7)),
        ("8 barrels a side", barrels(8)),
        ("64 barrels a side", barrels(64)),
        (
            "three pilots a side or more",
            layout.each_side().any(|side| side.pilots.len() > 2),
        ),
        ("a steep flare", steepest.iter().any(|taper| *taper > 0.06)),
        (
            "a steep narrowing",
            steepest.iter().any(|taper| *taper < -0.02),
        ),
        (
            "axis of the block off its middle",
            typed("guide.axis_height")
                && layout.blocks.iter().any(|block| {
                    block
                        .holes
                        .iter()
                        .any(|hole| (hole.z - block.height / 2.0).abs() > 0.1)
                }),
        ),
        ("a set from a file", from("machines")),
        ("a block from a file", from("guide")),
        (
            "64 barrels a side with ramps",
            barrels(64) && ramp.is_some(),
        ),
        (
            "an untrue head with a web and cheek slots",
            !true_head && cheek && ends(BoreEnd::Web),
        ),
        (
            "counterbores and bores that open",
            design.bores.counterbore.is_some() && ends(BoreEnd::Opens),
        ),
        ("a ramp in a wedge", wedge && ramp.is_some()),
        (
            "shoulders with cheek slots and an arch",
            own_shoulders && cheek && head.crest == Crest::Arch,
        ),
        (
            "pilots and a pair that keeps a web",
            pilots && ends(BoreEnd::Web),
        ),
        (
            "inches and a block from a file",
            design.unit == Unit::Inch && from("guide"),
        ),
        (
            "flat bit and bores that open",
            design.bores.point == Point::Flat && ends(BoreEnd::Opens),
        ),
        (
            "veneers later and a shim",
            later && shim(|shim| shim != 0.0),
        ),
    ]
    .into_iter()
    .filter_map(|(feature, has)| has.then_some(feature))
    .collect()
}
