//! What a rescue says to a person, on the screen and on the sheet alike.

use glam::DVec2;

use crate::layout::{Layout, OldBore};
use crate::standards::StockSize;
use crate::study::fit::End;
use crate::tolerance::NOISE;
use crate::units::{Lengths, show_degrees};
use crate::wording::capital;

use super::{FREE, PlateRoom, Remedy, Rescue, Sits, rescues};
use remedies::{plugging, reaming, single_machines, what_to_do};

mod remedies;
pub use remedies::one_plug;

/// A few words and what stands beside them.
pub type Said = (&'static str, String);

/// Everything about one side, in the order in which a maker asks.
#[must_use]
pub fn said(rescue: &Rescue, lengths: Lengths) -> Vec<Said> {
    let mut list = vec![("As it is", as_it_is(rescue, lengths))];
    if rescue.sits != Sits::NotAtAll {
        list.push(("Plate", plate(&rescue.room, lengths)));
    }
    if rescue.sits != Sits::Freely {
        list.push(("Decides", decides(rescue)));
    }
    if !rescue.serves() {
        list.push(("Reaming", reaming(rescue, lengths)));
        list.push(("Plugging", plugging(rescue, lengths)));
        if let Some(single) = &rescue.single {
            list.push(("Single machines", single_machines(single, lengths)));
        }
    }
    list.push(("Do", what_to_do(rescue)));
    list
}

/// For places that judge the design and not the wood: which sides are drilled already and do not take their
/// machines as they are. Without figures; those are on the rescue sheet.
#[must_use]
pub fn needs_repair(layout: &Layout) -> Vec<String> {
    let found = rescues(layout);
    let bad = found.iter().filter(|rescue| !rescue.serves());
    bad.map(|rescue| {
        let why = match rescue.sits {
            Sits::NotAtAll => "its plate does not go in",
            Sits::Tight => "its plate goes in only just",
            Sits::Freely => "a bore of it may not stay as it is",
        };
        let what = match rescue.remedy {
            Remedy::Nothing => "",
            Remedy::Ream => ": it wants reaming",
            Remedy::Plug => ": it wants plugs",
            Remedy::Neither => ", and neither reaming nor plugs will do",
        };
        format!(
            "The {} side is drilled already, and {why}{what}.",
            rescue.side.name()
        )
    })
    .collect()
}

fn as_it_is(rescue: &Rescue, lengths: Lengths) -> String {
    let settled = &rescue.settled;
    let gap = lengths.show(settled.gap.abs());
    let mut text = match rescue.sits {
        Sits::Freely => format!(
            "The plate goes in and turns freely, {}: at least {gap} is left all round every barrel.",
            shift(settled.shift, settled.turn, lengths)
        ),
        Sits::Tight => format!(
            "The plate goes in, {}, but only just: {gap} is left round the tightest barrel, and {} is \
             wanted to turn freely (our assumption).",
            shift(settled.shift, settled.turn, lengths),
            lengths.show(FREE)
        ),
        Sits::NotAtAll => format!(
            "The plate does not go in: even at its best, {}, a barrel stands {gap} into the wood.",
            shift(settled.shift, settled.turn, lengths)
        ),
    };
    text.push_str(&faulty(rescue, lengths));
    text
}

/// Which bores may not stay as they are, and by how much; which show beside the plate.
fn faulty(rescue: &Rescue, lengths: Lengths) -> String {
    let basis = if rescue.most_left > rescue.loosest.clearance + NOISE {
        "as designed"
    } else {
        rescue.loosest.basis.name()
    };
    let most = lengths.show(rescue.most_left);
    let mut text = String::new();
    // Bores wider by the same are said together.
    let mut wide: Vec<(String, Vec<usize>)> = Vec::new();
    for bore in &rescue.faulty {
        let Some(by) = bore.too_wide.map(|by| lengths.show(by)) else {
            continue;
        };
        match wide.iter_mut().find(|(same, _)| *same == by) {
            Some((_, numbers)) => numbers.push(bore.number),
            None => wide.push((by, vec![bore.number])),
        }
    }
    for (by, numbers) in &wide {
        let (are, barrel) = match numbers.as_slice() {
            [_] => ("is", "its barrel"),
            _ => ("are", "their barrels"),
        };
        text.push_str(&format!(
            " {} {are} {by} wider than {barrel}, more than {most} ({basis}): a barrel would rattle and lean \
             under the string.",
            capital(&bores(numbers))
        ));
    }
    for bore in &rescue.faulty {
        for (what, by) in &bore.breaks {
            let by = lengths.show(*by);
            text.push_str(&format!(
                " Bore {} breaks out of {what} by {by}.",
                bore.number
            ));
        }
    }
    for (number, by) in &rescue.shows {
        let by = lengths.show(*by);
        text.push_str(&format!(" Bore {number} shows {by} beside the plate."));
    }
    text
}

/// A shift and a turn in words: `shifted 0.20 mm to the crest and turned 0.10°`.
fn shift(by: DVec2, turn: f64, lengths: Lengths) -> String {
    let seen = 0.005;
    let mut parts = Vec::new();
    for (value, [more, less]) in [
        (by.x, ["to the crest", "to the nut"]),
        (by.y, ["to the face", "to the back"]),
    ] {
        if value.abs() >= seen {
            let way = if value > 0.0 { more } else { less };
            parts.push(format!("{} {way}", lengths.show(value.abs())));
        }
    }
    let turned = turn.to_degrees().abs() >= seen;
    let way = if turn > 0.0 { "face" } else { "back" };
    let turn = format!(
        "turned {}, its crest end to the {way}",
        show_degrees(turn.abs())
    );
    match (parts.is_empty(), turned) {
        (true, false) => "where the design has it".to_owned(),
        (true, true) => turn,
        (false, false) => format!("shifted {}", parts.join(" and ")),
        (false, true) => format!("shifted {} and {turn}", parts.join(" and ")),
    }
}

/// Where a plate stands over the wood, and by how much.
fn beyond(room: &PlateRoom, lengths: Lengths) -> Vec<String> {
    let each = [
        (room.face, "the face"),
        (room.back, "the back"),
        (room.nut_end, "the start of the straight side"),
        (room.crest_end, "the end of the straight side"),
    ];
    let over = each.iter().filter(|(left, _)| *left < -NOISE);
    over.map(|(left, where_to)| format!("{} beyond {where_to}", lengths.show(-left)))
        .collect()
}

fn plate(room: &PlateRoom, lengths: Lengths) -> String {
    let over = beyond(room, lengths);
    if over.is_empty() {
        format!(
            "There it leaves {} to the face and {} to the back.",
            lengths.show(room.face),
            lengths.show(room.back)
        )
    } else {
        format!("There it stands {}.", over.join(", "))
    }
}

fn decides(rescue: &Rescue) -> String {
    let mut ends: Vec<String> = Vec::new();
    for bore in &rescue.bores {
        let touches = |end| {
            let mut all = rescue.settled.deciding.iter();
            all.any(|(index, at)| index + 1 == bore.number && *at == end)
        };
        let place = match (touches(End::Mouth), touches(End::Bottom)) {
            (true, true) => "at mouth and bottom",
            (true, false) => "at its mouth",
            (false, true) => "at its bottom",
            (false, false) => continue,
        };
        ends.push(format!("bore {} {place}", bore.number));
    }
    format!("These touch first: {}.", ends.join(", "))
}

/// `bore 2`, `bores 1 and 3`, `bores 1, 2 and 3`.
#[must_use]
pub fn bores(numbers: &[usize]) -> String {
    let all: Vec<String> = numbers.iter().map(usize::to_string).collect();
    match all.split_last() {
        None => "no bore".to_owned(),
        Some((only, [])) => format!("bore {only}"),
        Some((last, rest)) => format!("bores {} and {last}", rest.join(", ")),
    }
}

/// How far a bore is off, for a table: along (+ to the crest), across (+ to the face).
#[must_use]
pub fn off(bore: &OldBore) -> DVec2 {
    bore.centre - bore.designed
}

/// A bit or dowel by its name, and its diameter where the name does not tell it.
pub(super) fn size(size: &StockSize, lengths: Lengths) -> String {
    match (size.name.ends_with("mm"), lengths.inches) {
        (true, false) => size.name.clone(),
        (true, true) => lengths.show(size.diameter),
        (false, _) => format!("{}, {}", size.name, lengths.show(size.diameter)),
    }
}
