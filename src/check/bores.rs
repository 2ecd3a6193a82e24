//! `web`, `bore-depth`, `clearance`, `bit-size`, `barrels-apart`, `pair-offset`: the bores among
//! themselves and with the barrels that go into them.

use crate::input::{PerSide, Side};
use crate::layout::{Bore, Layout};
use crate::standards::nearest_stock;
use crate::tolerance::NOISE;
use crate::units::Lengths;

use super::at::{At, words};
use super::measure::Measure;
use super::shapes::barrel_plan;

/// Wood between neighbours of one side: pitch less diameter.
pub(super) fn web(layout: &Layout) -> Vec<Measure> {
    layout
        .each_side()
        .flat_map(|side| {
            let pitches = layout.design.machines.pitches.get(side.side);
            side.bores
                .windows(2)
                .zip(pitches)
                .map(move |(pair, pitch)| {
                    Measure::new(
                        pitch - pair[0].diameter,
                        words!("between ", &pair[0], " and ", pair[1].number),
                        match side.side {
                            Side::Treble => &[
                                "machines.pitches",
                                "machines.over_outer_barrels",
                                "machines.barrels",
                                "bores.diameter",
                                "bores.clearance",
                            ],
                            Side::Bass => &[
                                "machines.bass.pitches",
                                "machines.bass.barrels",
                                "machines.pitches",
                                "machines.over_outer_barrels",
                                "bores.diameter",
                            ],
                        },
                    )
                })
        })
        .collect()
}

/// D less the barrel's length, of every bore.
pub(super) fn bore_depth(layout: &Layout) -> Vec<Measure> {
    layout
        .bores()
        .map(|bore| {
            let measure = Measure::new(
                bore.depth - layout.design.machines.barrel_length,
                bore,
                &["bores.beyond_barrel", "bores.beyond_centre"],
            );
            // Contract, 3.9: only printed points are ended shorter than asked for, and they meet the same stops.
            if bore.depth < bore.depth_asked {
                measure.note(printed_shorter)
            } else {
                measure
            }
        })
        .collect()
}

/// Why a printed bore is short of its barrel where the finished one is not.
fn printed_shorter(_: &Measure) -> String {
    "in the printed copy the points of two opposite bores would all but touch, so they end a little \
     shorter there than in the head"
        .into()
}

/// Bore less barrel, on the diameter; alike for all bores.
pub(super) fn clearance(layout: &Layout) -> Vec<Measure> {
    layout
        .bores()
        .take(1)
        .map(|bore| {
            Measure::new(
                bore.diameter - layout.design.machines.barrel_diameter,
                "every bore",
                &["bores.clearance", "bores.diameter"],
            )
        })
        .collect()
}

/// Bore against the sizes in which bits are sold.
pub(super) fn bit_size(layout: &Layout) -> Vec<Measure> {
    let bore = layout.design.bores.diameter;
    let size = nearest_stock(bore);
    let off = (bore - size.diameter).abs();
    vec![
        Measure::new(
            off,
            At::NearestBit(bore),
            &["bores.diameter", "bores.clearance"],
        )
        .note(bit_note),
    ]
}

/// The nearest bit, and how its size was read.
fn bit_note(measure: &Measure) -> String {
    let At::NearestBit(bore) = measure.at else {
        return String::new();
    };
    let size = nearest_stock(bore);
    format!(
        "the nearest bit is {}, {:.3} mm, {}",
        size.name,
        size.diameter,
        size.mark.words()
    )
}

/// Barrels of opposite sides as whole cylinders. Their axes lie in one plane, so the distance of
/// the rectangles they show there is the exact distance.
pub(super) fn barrels_apart(layout: &Layout) -> Vec<Measure> {
    let machines = &layout.design.machines;
    let barrels = PerSide::from_fn(|side| {
        let bores = layout.sides.get(side).bores.iter();
        let plan = |bore| {
            let plan = barrel_plan(bore, machines.barrel_diameter, machines.barrel_length);
            let bounds = plan.bounds();
            (bore, plan, bounds)
        };
        bores.map(plan).collect::<Vec<_>>()
    });
    let mut list = Vec::new();
    let mut nearest = f64::INFINITY;
    for (treble, one, near) in &barrels.treble {
        for (bass, other, far) in &barrels.bass {
            // What is farther off than the nearest so far is not the worst.
            if near.gap(far) > nearest + NOISE {
                continue;
            }
            let distance = one.distance(other);
            nearest = nearest.min(distance);
            let pair = words!("barrels of ", *treble, " and ", *bass);
            let keys = &["machines.barrel_length", "head.width_at_nut_end"];
            // The value is nothing for every overlap, so how large it is stands in a remark.
            let reach = reach(treble, bass, machines.barrel_length);
            list.push(if distance <= NOISE && reach > NOISE {
                let lengths = layout.design.lengths();
                let note = if lengths.inches {
                    |measure: &Measure| overlap(measure, true)
                } else {
                    |measure: &Measure| overlap(measure, false)
                };
                Measure::new(distance, At::Overlap(pair, reach), keys).note(note)
            } else {
                Measure::new(distance, pair, keys)
            });
        }
    }
    list
}

/// By how much two barrels run past each other.
fn overlap(measure: &Measure, inches: bool) -> String {
    let At::Overlap(_, by) = measure.at else {
        return String::new();
    };
    let by = Lengths { inches }.show(by);
    format!("they run past each other by {by}")
}

/// How far the end of one bore's barrel lies beyond that of another it faces, along its axis.
fn reach(one: &Bore, other: &Bore, length: f64) -> f64 {
    let end = |bore: &Bore| bore.entry + bore.direction * length;
    (end(one) - end(other)).dot(one.direction)
}

/// Distance at the centre line of a pair's axes.
pub(super) fn pair_offset(layout: &Layout) -> Vec<Measure> {
    layout
        .pairs
        .iter()
        .map(|pair| {
            Measure::new(
                pair.offset,
                words!(
                    "treble bore ",
                    pair.treble + 1,
                    " and bass bore ",
                    pair.bass + 1
                ),
                &[
                    "placement.bass.first_barrel",
                    "placement.first_barrel",
                    "machines.bass.pitches",
                ],
            )
        })
        .collect()
}
