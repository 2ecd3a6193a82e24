//! Draws what is nearly valid: lengths moved a little, lengths set right to a stop.

use super::draw::{Plan, hundredth};
use super::{Dice, Sheet, Value};

/// Sets one length so that a check comes right to its stop, a hair inside or outside it, in the wood
/// and, without allowances, in the printed copies too.
pub fn to_a_stop(sheet: &mut Sheet, plan: &Plan, dice: &mut Dice) {
    let hair = [0.0, 0.0, 0.01, -0.01][dice.whole(0, 3) as usize];
    for allowance in ["head_allowance", "block_allowance", "bush_allowance"] {
        sheet.length(&format!("print.{allowance}"), 0.0);
    }
    let length = |sheet: &Sheet, key: &str| match sheet.get(key) {
        Some(Value::Length(length)) => Some(*length),
        _ => None,
    };
    match dice.whole(0, 7) {
        // `block-wood`, from the outer hole to the block's end.
        0 => sheet.length("guide.end_margin", plan.bore / 2.0 + 1.0 + hair),
        // `wood-over`.
        1 => {
            sheet.take("placement.depth");
            sheet.length("placement.axis_below_face", plan.bore / 2.0 + 1.0 + hair);
        }
        // `edges`, from the last bore to the end of its side, nearly; the same for both sides.
        2 => {
            let last = plan.first + plan.treble.iter().sum::<f64>();
            let end = last + plan.bore / 2.0 + 1.05 + hair;
            if sheet.get("head.crest").is_none() {
                sheet.length("head.length", end);
            }
            sheet.length("head.side_end", end);
        }
        // `slot-end`.
        3 => {
            if let Some(radius) = length(sheet, "slots.corner_radius") {
                let margin = plan.bore / 2.0 + radius + 0.5 + hair;
                sheet.set("slots.end_margin", Value::Lengths(vec![margin; 2]));
            }
        }
        // `bore-depth`: as deep as the barrel is long; or to the centre line, where barrels that would
        // pass it (so `barrels-apart` stops them too) are longer.
        4 => {
            let centre = dice.once_in(4);
            sheet.take("bores.beyond_centre");
            sheet.take("bores.beyond_barrel");
            if centre {
                sheet.length("bores.beyond_centre", 0.0);
                let half = plan.rib / 2.0 + plan.slot + plan.cheek;
                sheet.length("machines.barrel_length", hundredth(half + 4.0));
            } else {
                sheet.length("bores.beyond_barrel", 0.0);
            }
        }
        // `cheek`.
        5 => {
            if length(sheet, "slots.width").is_some() {
                sheet.take("slots.rib");
                sheet.length("slots.cheek", 1.0 + hair);
            }
        }
        // `web`.
        6 => {
            for table in ["machines", "machines.bass"] {
                if let Some(Value::Lengths(gaps)) = sheet.get(&format!("{table}.pitches")) {
                    let gaps = vec![plan.bore + 1.0 + hair; gaps.len()];
                    sheet.set(&format!("{table}.pitches"), Value::Lengths(gaps));
                }
            }
        }
        // `ramp-depth`, exactly so under an even thickness.
        _ => {
            let radius = length(sheet, "slots.corner_radius");
            let mouth = length(sheet, "slots.ramp.mouth");
            if let (Some(radius), Some(mouth)) = (radius, mouth) {
                let angle = (plan.thickness - 1.0 - hair).atan2(mouth + radius);
                let angle = angle.to_degrees().min(79.0);
                sheet.set("slots.ramp.angle", Value::Number(angle));
            }
        }
    }
}

/// Moves one length by up to an eighth: what was comfortable comes near its stop, or past it.
pub fn nudge(sheet: &mut Sheet, dice: &mut Dice) {
    let at = dice.whole(0, sheet.keys.len() as u64 - 1) as usize;
    let by = dice.between(-0.125, 0.125);
    if let Some((_, Value::Length(length))) = sheet.keys.get_mut(at) {
        *length = hundredth(*length * (1.0 + by));
    }
}
