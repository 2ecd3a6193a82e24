//! Draws the tables of a design after the head and the nut.

use super::draw::{Plan, hundredth};
use super::{Dice, Sheet, Value};

pub fn machines(sheet: &mut Sheet, plan: &Plan, dice: &mut Dice) {
    let even = |gaps: &[f64]| gaps.windows(2).all(|two| two[0] == two[1]) && !gaps.is_empty();
    let over = even(&plan.treble) && even(&plan.bass) && dice.once_in(4);
    for (table, gaps, overhang) in [
        ("machines", &plan.treble, plan.overhang),
        ("machines.bass", &plan.bass, plan.bass_overhang),
    ] {
        if over {
            let barrels = gaps.len() + 1;
            sheet.set(&format!("{table}.barrels"), Value::Count(barrels));
            let length = gaps.iter().sum::<f64>() + plan.barrel;
            sheet.length(&format!("{table}.over_outer_barrels"), hundredth(length));
        } else {
            sheet.set(&format!("{table}.pitches"), Value::Lengths(gaps.clone()));
        }
        let overhang = Value::Lengths(overhang.to_vec());
        sheet.set(&format!("{table}.overhang"), overhang);
    }
    sheet.length("machines.barrel_diameter", plan.barrel);
    sheet.length("machines.barrel_length", plan.barrel_length);
    let string_hole = hundredth(plan.cheek + plan.slot / 2.0);
    sheet.length("machines.string_hole", string_hole);
    let plate_width = dice.length(10.0, plan.thickness + 1.0);
    sheet.length("machines.plate_width", plate_width);
    sheet.set(
        "machines.plate_thickness",
        Value::Text("3/64 in".to_owned()),
    );
    if dice.once_in(4) {
        sheet.length("machines.axis_offset", dice.length(-0.6, 0.6));
    }
    if dice.once_in(4) {
        let depth = dice.length(3.0, (plan.cheek - 1.0).max(3.5));
        let along = -(plan.bore / 2.0 + dice.length(2.0, 4.0));
        let mut points = vec![[along, dice.length(-1.5, 1.5)]];
        if dice.once_in(2) {
            let last = plan.treble.iter().sum::<f64>();
            points.push([last - along, dice.length(-1.5, 1.5)]);
        }
        // More of them between the bores, where there is room.
        let mut from = 0.0;
        for gap in plan.treble.iter().take(3) {
            if *gap > plan.bore + 8.0 && dice.once_in(2) {
                points.push([hundredth(from + gap / 2.0), dice.length(-1.5, 1.5)]);
            }
            from += gap;
        }
        sheet.set("machines.screws.points", Value::Points(points));
        sheet.length("machines.screws.pilot", 1.6);
        sheet.length("machines.screws.depth", depth);
    }
}

pub fn placement(sheet: &mut Sheet, plan: &Plan, dice: &mut Dice) {
    if plan.centred {
        sheet.set("placement.along", Value::Word("centred"));
    } else {
        let slip = plan.untrue && dice.once_in(2);
        let shift = if slip { dice.length(-0.6, 0.6) } else { 0.0 };
        sheet.length("placement.first_barrel", plan.first);
        sheet.length("placement.bass.first_barrel", plan.first + shift);
    }
    if dice.once_in(4) {
        sheet.set("placement.depth", Value::Word("centred"));
    } else {
        let below = hundredth(plan.thickness / 2.0 + dice.between(-0.7, 0.7));
        sheet.length("placement.axis_below_face", below);
    }
}

pub fn bores(sheet: &mut Sheet, plan: &Plan, dice: &mut Dice) {
    if dice.once_in(4) {
        sheet.length("bores.clearance", hundredth(plan.bore - plan.barrel));
    } else {
        sheet.length("bores.diameter", plan.bore);
    }
    if dice.once_in(3) {
        sheet.length("bores.beyond_centre", dice.length(0.5, 4.0));
    } else {
        sheet.length("bores.beyond_barrel", dice.length(0.0, 4.0));
    }
    match dice.whole(0, 3) {
        0 => sheet.set("bores.point", Value::Word("flat")),
        1 => {
            let angle = dice.between(60.0, 179.0).round();
            sheet.set("bores.point", Value::Number(angle));
        }
        _ => {}
    }
    if dice.once_in(4) {
        let wide = plan.bore + dice.length(0.5, 3.0);
        let depth = dice.length(1.0, (plan.cheek - 1.5).max(1.5));
        sheet.length("bores.counterbore.diameter", wide);
        sheet.length("bores.counterbore.depth", depth);
    }
}

pub fn slots(sheet: &mut Sheet, plan: &Plan, dice: &mut Dice) {
    let slot = plan.slot;
    sheet.length("slots.width", slot);
    if plan.rib_slots {
        sheet.length("slots.rib", plan.rib);
    } else {
        sheet.length("slots.cheek", hundredth(plan.cheek));
    }
    let radius = match dice.whole(0, 3) {
        0 => 0.0,
        1 => hundredth(dice.between(0.1, slot / 2.0)),
        _ => slot / 2.0,
    };
    sheet.length("slots.corner_radius", radius);
    let margin = plan.bore / 2.0 + radius + 1.0;
    let margins = [0, 1].map(|_| margin + dice.length(0.0, 8.0));
    let ramp_room = plan.first - margins[0] - 6.0;
    sheet.set("slots.end_margin", Value::Lengths(margins.to_vec()));
    if !dice.once_in(3) && ramp_room > 1.0 {
        let mouth = if dice.once_in(6) {
            0.0
        } else {
            dice.length(0.05, ramp_room.min(25.0))
        };
        sheet.length("slots.ramp.mouth", mouth);
        let most = (plan.thickness - 2.0).atan2(mouth + radius + 0.1);
        let most = most.to_degrees().min(70.0);
        let angle = hundredth(dice.between(2.0, most.max(3.0)));
        sheet.set("slots.ramp.angle", Value::Number(angle));
    }
}

pub fn guide(sheet: &mut Sheet, plan: &Plan, dice: &mut Dice) {
    if dice.once_in(5) {
        sheet.set("guide.depth", Value::Text("1 1/8 in".to_owned()));
    } else {
        sheet.length("guide.depth", dice.length(12.0, 30.0));
    }
    let margin = dice.length(plan.bore / 2.0 + 6.0, 34.0);
    sheet.length("guide.end_margin", margin);
    if dice.once_in(3) {
        let bush = plan.bore + dice.length(2.0, 3.5);
        sheet.length("guide.bush_diameter", bush);
    }
    if dice.once_in(5) {
        let bore = plan.bore + dice.length(0.0, 0.2);
        sheet.length("guide.bore_diameter", hundredth(bore));
    }
    if dice.once_in(2) {
        sheet.length("guide.scribe.width", 0.8);
        sheet.length("guide.scribe.depth", 0.4);
    }
    if dice.once_in(3) {
        // A block from the shelf: shimmed up, or the head is.
        let height = plan.thickness + dice.length(-1.0, 6.0);
        sheet.length("guide.height", height);
        let share = if dice.once_in(2) {
            0.5
        } else {
            dice.between(0.4, 0.6)
        };
        sheet.length("guide.axis_height", hundredth(height * share));
    }
}

pub fn shop(sheet: &mut Sheet, plan: &Plan, dice: &mut Dice) {
    if dice.once_in(3) {
        sheet.length("press.travel", dice.length(40.0, 120.0));
        if dice.once_in(2) {
            sheet.length("press.daylight", dice.length(200.0, 500.0));
            sheet.length("press.bit_length", dice.length(100.0, 200.0));
        }
    }
    if dice.once_in(3) {
        sheet.length("print.head_allowance", dice.length(-0.2, 0.5));
        sheet.length("print.block_allowance", dice.length(-0.2, 0.5));
        sheet.length("print.bush_allowance", dice.length(-0.1, 0.2));
    }
    if dice.once_in(3) {
        sheet.length("print.chord", hundredth(dice.between(0.01, 0.2)));
    }
    if dice.once_in(8) {
        sheet.length("limits.bearing", dice.length(0.0, 5.0));
        sheet.length("limits.clearance.low", 0.1);
        sheet.length("limits.clearance.high", 0.1 + plan.bore - plan.barrel);
    }
}
