//! Draws a design: the whole parameter file, from a small ukulele to a twelve-string and now and
//! then an absurd sixty-four a side, most of them valid, the rest nearly so.

use super::near::{nudge, to_a_stop};
use super::tables::{bores, guide, machines, placement, shop, slots};
use super::{Dice, Sheet, Value};

/// Numbers that hang together.
pub struct Plan {
    pub barrel: f64,
    pub bore: f64,
    pub barrel_length: f64,
    pub rib_slots: bool,
    pub rib: f64,
    pub slot: f64,
    pub cheek: f64,
    pub first: f64,
    side_start: f64,
    side_end: f64,
    at_nut: f64,
    at_crest: f64,
    pub thickness: f64,
    pub treble: Vec<f64>,
    pub bass: Vec<f64>,
    pub overhang: [f64; 2],
    pub bass_overhang: [f64; 2],
    pub centred: bool,
    pub untrue: bool,
}

/// A random design.
pub fn design(dice: &mut Dice) -> Sheet {
    let plan = loop {
        if let Some(plan) = plan(dice) {
            break plan;
        }
    };
    let mut sheet = Sheet::default();
    head(&mut sheet, &plan, dice);
    nut(&mut sheet, &plan, dice);
    machines(&mut sheet, &plan, dice);
    placement(&mut sheet, &plan, dice);
    bores(&mut sheet, &plan, dice);
    if !dice.once_in(9) {
        slots(&mut sheet, &plan, dice);
    }
    guide(&mut sheet, &plan, dice);
    shop(&mut sheet, &plan, dice);
    if dice.once_in(6) {
        nudge(&mut sheet, dice);
    } else if dice.once_in(8) {
        to_a_stop(&mut sheet, &plan, dice);
    }
    sheet.to_the_shelf(dice);
    sheet
}

pub fn hundredth(v: f64) -> f64 {
    (v * 100.0).round() / 100.0
}

/// `None` where no head is that long.
fn plan(dice: &mut Dice) -> Option<Plan> {
    let small = dice.once_in(4);
    let barrel = if small {
        dice.length(5.0, 7.0)
    } else {
        dice.length(6.0, 10.5)
    };
    let bore = barrel + dice.length(0.2, 0.6);
    let barrel_length = if small {
        dice.length(18.0, 26.0)
    } else {
        dice.length(22.0, 38.0)
    };
    let rib_slots = !dice.once_in(3);
    let rib = dice.length(8.0, 20.0).min(barrel_length / 2.0).round();
    let bearing = dice.between(1.0, (rib / 2.0 - 1.2).clamp(1.5, 6.0));
    let least_slot = if small { 6.0 } else { 10.0 };
    let slot = dice.length(
        least_slot,
        (barrel_length - bearing - 8.5).clamp(least_slot + 0.5, 18.0),
    );
    let cheek = (barrel_length - bearing - slot).max(2.0);
    let many = dice.once_in(150);
    let count = if many { 64 } else { dice.whole(1, 8) as usize };
    let other = if dice.once_in(4) && !many {
        dice.whole(1, 8) as usize
    } else {
        count
    };
    let pitch = dice.length(bore + 1.2, if many { 20.0 } else { 40.0 });
    let uneven = dice.once_in(4);
    let gaps = |n: usize, dice: &mut Dice| -> Vec<f64> {
        let wider = |dice: &mut Dice| if uneven { dice.length(0.0, 4.0) } else { 0.0 };
        (1..n).map(|_| hundredth(pitch + wider(dice))).collect()
    };
    let (treble, bass) = (gaps(count, dice), gaps(other, dice));
    let bass = if other == count && !dice.once_in(5) {
        treble.clone()
    } else {
        bass
    };
    let (on_treble, on_bass) = (treble.iter().sum::<f64>(), bass.iter().sum::<f64>());
    let longest = on_treble.max(on_bass);
    let overhang = [dice.length(11.0, 20.0), dice.length(11.0, 24.0)];
    let bass_overhang = if dice.once_in(5) {
        [dice.length(11.0, 20.0), overhang[1] - dice.length(0.0, 3.0)]
    } else {
        overhang
    };
    let mut first = if small {
        dice.length(26.0, 40.0)
    } else {
        dice.length(40.0, 64.0)
    };
    let side_start = if dice.once_in(4) {
        dice.length(3.0, 14.0)
    } else {
        0.0
    };
    let mut side_end = first + longest + overhang[1] + dice.length(6.0, 30.0);
    let centred = dice.once_in(4);
    if centred {
        // The plate's middle at the middle of the side.
        first = (side_start + side_end - longest - overhang[1] + overhang[0]) / 2.0;
        side_end += dice.length(0.0, 8.0);
    }
    if side_end > 1950.0 {
        return None;
    }
    // Half widths that put the first barrels where they bear in the rib.
    let taper = if dice.once_in(6) {
        0.0
    } else if dice.once_in(8) {
        dice.between(-0.06, 0.16)
    } else {
        dice.between(-0.015, 0.05)
    };
    let at_first = rib / 2.0 + slot + cheek + dice.between(0.0, 0.6);
    Some(Plan {
        barrel,
        bore,
        barrel_length,
        rib_slots,
        rib,
        slot,
        cheek,
        first,
        side_start,
        side_end,
        at_nut: at_first - taper * (first - side_start),
        at_crest: at_first + taper * (side_end - first),
        thickness: bore + dice.length(4.0, 12.0),
        treble,
        bass,
        overhang,
        bass_overhang,
        centred,
        untrue: dice.once_in(3),
    })
}

fn head(sheet: &mut Sheet, plan: &Plan, dice: &mut Dice) {
    let (at_nut, at_crest) = (plan.at_nut, plan.at_crest);
    sheet.length("head.width_at_nut_end", hundredth(2.0 * at_nut));
    sheet.length("head.width_at_crest_end", hundredth(2.0 * at_crest));
    if plan.untrue {
        let step = if dice.once_in(2) { 0.4 } else { 3.0 };
        for (key, half) in [
            ("head.bass.width_at_nut_end", at_nut),
            ("head.bass.width_at_crest_end", at_crest),
        ] {
            let width = hundredth(2.0 * half + dice.between(-step, step));
            sheet.length(key, width);
        }
    }
    sheet.length("head.side_end", plan.side_end);
    if dice.once_in(3) {
        sheet.length("head.length", plan.side_end);
    } else {
        let most = at_nut.min(at_crest).min(30.0) - 2.0;
        let rise = dice.between(0.2, most.max(0.3));
        sheet.length("head.length", hundredth(plan.side_end + rise));
        sheet.set("head.crest", Value::Word("arch"));
    }
    if plan.side_start > 0.0 {
        sheet.length("head.side_start", plan.side_start);
        if !dice.once_in(3) {
            let width = 2.0 * at_nut + dice.between(-12.0, 10.0);
            sheet.length("head.shoulder_width", hundredth(width));
        }
    }
    sheet.length("head.thickness", plan.thickness);
    if dice.once_in(3) {
        let at_crest = plan.thickness + dice.length(-2.0, 2.0);
        sheet.length("head.thickness_at_crest", at_crest);
    }
    if dice.once_in(3) {
        sheet.length("head.face_veneer", 0.6);
        sheet.set("head.veneers_on", Value::Truth(dice.once_in(2)));
        if dice.once_in(2) {
            sheet.set("head.back_veneer", Value::Text("0.02 in".to_owned()));
        }
    }
    if dice.once_in(5) {
        sheet.length("head.edge_radius", dice.length(0.0, 2.0));
    }
    sheet.set("head.angle", Value::Number(dice.between(0.0, 18.0).round()));
}

fn nut(sheet: &mut Sheet, plan: &Plan, dice: &mut Dice) {
    let strings = plan.treble.len() + plan.bass.len() + 2;
    let span = dice.length(20.0, 60.0);
    if dice.once_in(4) {
        sheet.length("nut.string_span", span);
    } else {
        let step = span / (strings - 1) as f64;
        let places = (0..strings).map(|i| step * i as f64 - span / 2.0);
        sheet.set("nut.strings", Value::Lengths(places.collect()));
    }
    sheet.length("nut.string_height", dice.length(2.0, 7.0));
}
