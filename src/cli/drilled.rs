//! The part of `barrelhead fit` on a head that is already drilled.

use serde_json::{Value, json};

use crate::layout::Layout;
use crate::standards::StockSize;
use crate::study::drilled::words::{off, said};
use crate::study::drilled::{
    Centred, FREE, PLUG_WALL, Plug, Reaming, Remedy, Rescue, Sits, WoodLeft, rescues,
};
use crate::study::fit::{End, Settled};
use crate::units::show_degrees;

use super::style::{Lengths, QUIET, STRONG, fill_after, paint};
use super::table::{Lean, Table};

/// What comes before the chances of a new head; empty where the file has no records.
pub fn text(layout: &Layout, lengths: Lengths) -> String {
    let found = rescues(layout);
    let mut out = String::new();
    for rescue in &found {
        let heading = format!("As drilled: {} side", rescue.side.name());
        out.push_str(&format!("{}\n", paint(STRONG, &heading)));
        out.push_str(&table(rescue, lengths).draw());
        for (word, text) in said(rescue, lengths) {
            out.push_str(&fill_after(word, &text, 17));
        }
        out.push('\n');
    }
    if !found.is_empty() {
        let more = "`make` writes this to bench/rescue-sheet.pdf. What follows is for bores still to be drilled.\n\n";
        out.push_str(&paint(QUIET, more));
    }
    out
}

fn table(rescue: &Rescue, lengths: Lengths) -> Table {
    let mut table = Table::new(&[
        ("bore", Lean::Right),
        ("diameter", Lean::Right),
        ("along the side", Lean::Right),
        ("off, + to crest", Lean::Right),
        ("off, + to face", Lean::Right),
        ("lean along", Lean::Right),
        ("lean across", Lean::Right),
        ("", Lean::Left),
    ]);
    for bore in &rescue.bores {
        let off = off(bore);
        table.row(vec![
            bore.number.to_string(),
            lengths.show(bore.diameter),
            lengths.show(bore.centre.x),
            lengths.show(off.x),
            lengths.show(off.y),
            show_degrees(bore.slope.x.atan()),
            show_degrees(bore.slope.y.atan()),
            if bore.recorded { "" } else { "as designed" }.to_owned(),
        ]);
    }
    table
}

/// The same for a program: a list of sides.
pub fn value(layout: &Layout) -> Value {
    rescues(layout).iter().map(side).collect()
}

fn side(rescue: &Rescue) -> Value {
    let bores: Vec<Value> = rescue
        .bores
        .iter()
        .map(|bore| {
            let off = off(bore);
            json!({
                "number": bore.number,
                "recorded": bore.recorded,
                "along_side": bore.centre.x,
                "off_to_crest": off.x,
                "off_to_face": off.y,
                "lean_along_deg": bore.slope.x.atan().to_degrees(),
                "lean_across_deg": bore.slope.y.atan().to_degrees(),
                "diameter": bore.diameter,
            })
        })
        .collect();
    let deciding: Vec<Value> = rescue
        .settled
        .deciding
        .iter()
        .map(|(index, end)| {
            let end = match end {
                End::Mouth => "mouth",
                End::Bottom => "bottom",
            };
            json!({ "number": index + 1, "end": end })
        })
        .collect();
    let single = rescue.single.as_ref().map(|single| {
        json!({
            "spares_the_wood": single.spares(),
            "ream": single.ream.iter()
                .map(|(number, bit)| json!({ "number": number, "bit": bit_value(bit) }))
                .collect::<Vec<_>>(),
            "too_loose": single.too_loose,
            "longest_plate_mm": single.nearest,
        })
    });
    json!({
        "side": rescue.side.name(),
        "bores": bores,
        "sits": match rescue.sits {
            Sits::Freely => "freely",
            Sits::Tight => "tight",
            Sits::NotAtAll => "not at all",
        },
        "free_gap_mm": FREE,
        "settled": settled(&rescue.settled),
        "too_wide": rescue.faulty.iter()
            .filter_map(|bore| Some(json!({ "number": bore.number, "clearance_mm": bore.too_wide? })))
            .collect::<Vec<_>>(),
        "breaks_out": rescue.faulty.iter()
            .flat_map(|bore| bore.breaks.iter().map(|(of, by)| {
                json!({ "number": bore.number, "of": of, "by_mm": by })
            }))
            .collect::<Vec<_>>(),
        "shows_beside_plate": rescue.shows.iter()
            .map(|(number, by)| json!({ "number": number, "by_mm": by }))
            .collect::<Vec<_>>(),
        "most_left_mm": rescue.most_left,
        "deciding": deciding,
        "room_mm": {
            "face": rescue.room.face,
            "back": rescue.room.back,
            "nut_end": rescue.room.nut_end,
            "crest_end": rescue.room.crest_end,
        },
        "most_clearance_mm": rescue.loosest.clearance,
        "most_clearance_basis": rescue.loosest.basis.name(),
        "reaming": rescue.reaming.as_ref().map(reaming),
        "reaming_too_loose": rescue.too_loose.as_ref().map(reaming),
        "plugs": rescue.plugs.iter().map(plug).collect::<Vec<_>>(),
        "plugged": rescue.plugged.as_ref().map(settled),
        "plug_wall_mm": PLUG_WALL,
        "single_machines": single,
        "remedy": match rescue.remedy {
            Remedy::Nothing => "nothing",
            Remedy::Ream => "ream",
            Remedy::Plug => "plug",
            Remedy::Neither => "neither",
        },
    })
}

fn settled(settled: &Settled) -> Value {
    json!({
        "shift_to_crest_mm": settled.shift.x,
        "shift_to_face_mm": settled.shift.y,
        "turn_deg": settled.turn.to_degrees(),
        "gap_mm": settled.gap,
    })
}

fn bit_value(bit: &StockSize) -> Value {
    json!({ "name": bit.name, "diameter_mm": bit.diameter, "mark": bit.mark.words() })
}

fn reaming(reaming: &Reaming) -> Value {
    json!({
        "bit": bit_value(&reaming.bit),
        "numbers": reaming.numbers,
        "settled": settled(&reaming.settled),
        "clearance_mm": reaming.clearance,
        "lean_deg": reaming.lean.to_degrees(),
        "covered_by_plate_mm": reaming.covered,
        "wood": reaming.wood.iter().map(wood).collect::<Vec<_>>(),
    })
}

fn plug(plug: &Plug) -> Value {
    json!({
        "number": plug.old.number,
        "new_along_side": plug.new.x,
        "new_off_to_face": plug.new.y,
        "new_diameter": plug.new_diameter,
        "overlap": {
            "apart_mm": plug.overlap.apart,
            "width_mm": plug.overlap.width,
            "area_mm2": plug.overlap.area,
            "share": plug.overlap.share,
        },
        "plug": bit_value(&plug.size),
        "centred_on": match plug.centred {
            Centred::New => "new",
            Centred::Old => "old",
        },
        "ring_mm": plug.ring,
        "covered_by_plate_mm": plug.covered,
        "wood": plug.wood.iter().map(wood).collect::<Vec<_>>(),
    })
}

fn wood(wood: &WoodLeft) -> Value {
    json!({
        "code": wood.code,
        "value": wood.value,
        "limit": wood.limit,
        "basis": wood.basis.name(),
        "verdict": wood.verdict.name(),
    })
}
