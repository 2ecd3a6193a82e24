//! What a rescue says to a person, on the screen and on the sheet alike.

use glam::DVec2;

use crate::check::Verdict;
use crate::layout::OldBore;
use crate::standards::StockSize;
use crate::study::fit::End;
use crate::tolerance::NOISE;
use crate::units::{Lengths, show_degrees};

use super::{
    Centred, FREE, PLUG_WALL, PlateRoom, Plug, Reaming, Remedy, Rescue, Single, Sits, WoodLeft,
};

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
            list.push(("Single machines", single_machines(rescue, single, lengths)));
        }
    }
    list.push(("Do", what_to_do(rescue)));
    list
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

fn plate(room: &PlateRoom, lengths: Lengths) -> String {
    let each = [
        (room.face, "the face"),
        (room.back, "the back"),
        (room.nut_end, "the start of the straight side"),
        (room.crest_end, "the end of the straight side"),
    ];
    let over: Vec<String> = each
        .iter()
        .filter(|(left, _)| *left < -NOISE)
        .map(|(left, where_to)| format!("{} beyond {where_to}", lengths.show(-left)))
        .collect();
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

fn reaming(rescue: &Rescue, lengths: Lengths) -> String {
    let limit = format!(
        "{} ({})",
        lengths.show(rescue.loosest.clearance),
        rescue.loosest.basis.name()
    );
    let mut text = match &rescue.reaming {
        Some(reaming) => format!(
            "{} with a bit of {}: then at least {} is left all round, the plate {}. A barrel is {} loose in \
             it, no more than {limit}, and can lean {}.{}",
            capital(&bores(&reaming.numbers)),
            size(&reaming.bit, lengths),
            lengths.show(reaming.settled.gap),
            shift(reaming.settled.shift, reaming.settled.turn, lengths),
            lengths.show(reaming.clearance),
            show_degrees(reaming.lean),
            after(reaming, lengths)
        ),
        None if !rescue.faulty.is_empty() => {
            let numbers: Vec<usize> = rescue.faulty.iter().map(|bore| bore.number).collect();
            let is = if numbers.len() == 1 { "is" } else { "are" };
            let what = match rescue.too_wide_and_open() {
                [_, open] if open.is_empty() => "too wide",
                [wide, _] if wide.is_empty() => "open",
                _ => "too wide or open",
            };
            format!(
                "No bit will do: {} {is} {what} already, and reaming only widens.",
                bores(&numbers)
            )
        }
        None => format!(
            "No bit frees it without leaving a barrel looser than {limit}: it would lean under the string."
        ),
    };
    if let Some(loose) = &rescue.too_loose {
        text.push_str(&format!(
            " {}{} would want a bit of {}: {} loose, more than {limit}.",
            capital(&bores(&loose.numbers)),
            if loose.numbers.len() < rescue.bores.len() {
                " alone"
            } else {
                ""
            },
            size(&loose.bit, lengths),
            lengths.show(loose.clearance)
        ));
    }
    text
}

/// Cover and wood after reaming.
fn after(reaming: &Reaming, lengths: Lengths) -> String {
    let mut text = if reaming.covered >= 0.0 {
        format!(
            " The plate still reaches {} past it.",
            lengths.show(reaming.covered)
        )
    } else {
        format!(
            " But it shows {} beside the plate, so this will not do.",
            lengths.show(-reaming.covered)
        )
    };
    text.push_str(&wood(&reaming.wood, lengths, false));
    text
}

/// Wood left: what is not clear, or all of it.
fn wood(left: &[WoodLeft], lengths: Lengths, all: bool) -> String {
    let mut text = String::new();
    for wood in left {
        if wood.verdict == Verdict::Clear && !all {
            continue;
        }
        let word = match wood.verdict {
            Verdict::Clear => "clear",
            Verdict::Caution => "caution",
            Verdict::Stop => "stop",
        };
        text.push_str(&format!(
            " {}: {} left, at least {} wanted ({}): {word}.",
            wood.title,
            lengths.show(wood.value),
            lengths.show(wood.limit),
            wood.basis.name()
        ));
    }
    text
}

fn plugging(rescue: &Rescue, lengths: Lengths) -> String {
    let numbers: Vec<usize> = rescue.plugs.iter().map(|plug| plug.old.number).collect();
    let mut text = if rescue.remedy == Remedy::Neither {
        format!("It would take plugs in {}, drilled anew", bores(&numbers))
    } else {
        format!("Plug {} and drill anew", bores(&numbers))
    };
    if let Some(plugged) = &rescue.plugged {
        text.push_str(&format!(
            "; the plate then sits {}.",
            shift(plugged.shift, plugged.turn, lengths)
        ));
    }
    for plug in &rescue.plugs {
        text.push_str(&format!(
            " Bore {}: {}",
            plug.old.number,
            one_plug(plug, lengths)
        ));
    }
    text
}

/// One plug in words: size, overlap, cover, wood.
#[must_use]
pub fn one_plug(plug: &Plug, lengths: Lengths) -> String {
    let about = match plug.centred {
        Centred::New => "about the new centre",
        Centred::Old => "about the old bore",
    };
    let overlap = if plug.overlap.width > 0.0 {
        format!(
            "old and new overlap over {} ({:.0} % of the new bore)",
            lengths.show(plug.overlap.width),
            plug.overlap.share * 100.0
        )
    } else {
        format!(
            "{} of wood stands between old and new",
            lengths.show(-plug.overlap.width)
        )
    };
    let ring = if plug.ring >= PLUG_WALL - NOISE {
        format!(
            "{} of plug stays round the new bore",
            lengths.show(plug.ring)
        )
    } else if plug.ring > 0.0 {
        format!(
            "only {} of plug stays at its thinnest",
            lengths.show(plug.ring)
        )
    } else {
        "the new bore breaks out of the plug".to_owned()
    };
    let hidden = if plug.covered >= 0.0 {
        format!("the plate hides it by {}", lengths.show(plug.covered))
    } else {
        format!(
            "the repair shows {} beside the plate",
            lengths.show(-plug.covered)
        )
    };
    format!(
        "plug {} {about}; {overlap}; {ring}; {hidden}.{}",
        plug.size.name,
        wood(&plug.wood, lengths, true)
    )
}

fn single_machines(rescue: &Rescue, single: &Single, lengths: Lengths) -> String {
    let length = single.nearest.map_or(String::new(), |nearest| {
        format!(
            " Their plates may be no longer than {}.",
            lengths.show(nearest)
        )
    });
    if !single.spares() {
        return format!(
            "With a plate each they would not spare the wood: in {} a barrel would be more than {} loose.",
            bores(&single.too_loose),
            lengths.show(rescue.loosest.clearance)
        );
    }
    if single.ream.is_empty() {
        return format!(
            "With a plate each, and barrels alike, they would go into the bores as they are: no plug, no reaming.{length}"
        );
    }
    let each: Vec<String> = single
        .ream
        .iter()
        .map(|(number, bit)| format!("bore {number} with a bit of {}", size(bit, lengths)))
        .collect();
    format!(
        "With a plate each, and barrels alike, they would spare the wood: only ream {}.{length}",
        each.join(", ")
    )
}

fn what_to_do(rescue: &Rescue) -> String {
    match (rescue.remedy, &rescue.reaming) {
        (Remedy::Nothing, _) => "Nothing: fit the machines as the head is.".to_owned(),
        (Remedy::Ream, Some(reaming)) => {
            format!(
                "Ream {} with a {} bit.",
                bores(&reaming.numbers),
                reaming.bit.name
            )
        }
        (Remedy::Neither, _) => {
            let single = rescue.single.as_ref().is_some_and(Single::spares);
            let [wide, open] = rescue.too_wide_and_open();
            // What shows beside the plate no thicker barrel of such a plate would fill.
            let instead = if !open.is_empty() || !(wide.is_empty() || rescue.shows.is_empty()) {
                "Let new wood into the head before it is drilled again, or make it anew"
            } else if !wide.is_empty() {
                "Look for a set with thicker barrels"
            } else if single {
                "Take single machines"
            } else {
                "Look for a set nearer to these bores"
            };
            format!("Neither reaming nor plugs will do with this set. {instead}.")
        }
        _ => {
            let each: Vec<String> = rescue
                .plugs
                .iter()
                .map(|plug| format!("bore {} with a plug of {}", plug.old.number, plug.size.name))
                .collect();
            format!("Plug and drill anew: {}.", each.join(", "))
        }
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

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
