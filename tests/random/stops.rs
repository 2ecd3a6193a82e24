//! The contract's closed list of stops, place by place, transcribed from its section 4: what a design may
//! be refused for, and at which limit. Beside it the guards: bounds of the program's own that keep from its
//! builder what no row speaks of by the letter. A design that nothing but a guard stops is a fault.

use barrelhead::check::{Finding, Limit, Verdict};
use barrelhead::layout::{Bore, BoreEnd, Layout};

use super::facts::left_to_centre;

/// What a design is stopped by, and where. In places `S` stands for a side, `#` for a number, `D` for
/// anything drilled (`S bore #`, `counterbore of S bore #`, `S screw pilot #`), `B` for a block.
pub struct Row {
    pub code: &'static str,
    places: &'static [&'static str],
    /// Below this, mm; at zero too where the contract says "≤ 0".
    limit: f64,
}

const fn row(code: &'static str, limit: f64, places: &'static [&'static str]) -> Row {
    Row {
        code,
        places,
        limit,
    }
}

/// Two opposite bores: the limit depends on what they are to one another.
const OPPOSITE: &str = "S bore # and S bore #";

/// The closed list. `edges` with a shoulder and any hole is this project's reading of "shoulder" there.
pub const STOPS: &[Row] = &[
    row(
        "wood-over",
        1.0,
        &["S bore # to the face", "S bore # to the face of the core"],
    ),
    row(
        "wood-under",
        1.0,
        &["S bore # to the back", "S bore # to the back of the core"],
    ),
    row("web", 1.0, &["between S bore # and #"]),
    row("cheek", 1.0, &["S slot to the S side"]),
    row("rib", 1.0, &["between the two slots"]),
    row(
        "end-wood",
        1.0,
        &[
            "S ramp mouth to the nut line",
            "S slot to the nut line",
            "S slot to the crest",
            "D to the nut line",
            "D to the crest",
        ],
    ),
    row(
        "slot-end",
        0.5,
        &[
            "S bore # on the outer wall, nut end",
            "S bore # on the outer wall, crest end",
            "S bore # on the inner wall, nut end",
            "S bore # on the inner wall, crest end",
        ],
    ),
    row("bearing", 0.5, &["S bore #"]),
    row("rim", 0.5, &["S bore #"]),
    row(
        "edges",
        1.0,
        &[
            "D to the nut end of its side",
            "D to the crest end of its side",
            "S ramp's mouth to the S side",
            "S ramp to the opening on the S side",
            "S slot with its ramp to the S shoulder",
            "D to the S shoulder",
        ],
    ),
    row(
        "counterbore",
        1.0,
        &[
            "between S bore # and #",
            "S bore # to the face",
            "S bore # to the back",
            "S bore # to S screw pilot #",
            "S bore # to the slot",
        ],
    ),
    row("bore-depth", 0.0, &["S bore #"]),
    row("clearance", 0.0, &["every bore"]),
    row("barrels-apart", 0.0, &["barrels of S bore # and S bore #"]),
    row(
        "far-wood",
        0.5,
        &[
            "S bore # to the opposite slot",
            "S bore # to the opposite ramp",
            "S bore # to the far side",
            "S bore # to the counterbore of S bore #",
        ],
    ),
    row(
        "ramp-depth",
        1.0,
        &["S ramp at the outer wall", "S ramp at the inner wall"],
    ),
    row(
        "screw-slot",
        0.5,
        &[
            "S screw pilot # to its slot",
            "S screw pilot # to its ramp",
            "S screw pilot # to the opposite slot",
            "S screw pilot # to the opposite ramp",
        ],
    ),
    row(
        "screw-bore",
        0.5,
        &[
            "S screw pilot # to S bore #",
            "S screw pilot # to S screw pilot #",
            "S screw pilot # to the face",
            "S screw pilot # to the back",
            "S screw pilot # to the far side",
        ],
    ),
    row(
        "block-wood",
        1.0,
        &[
            "B, hole # to the upright",
            "B, hole # to the face away from the upright",
            "B, hole # to the block's end",
            "B, hole # to hole #",
            "B, hole # to the scribe groove",
            "B, groove # to the block's end",
            "B, groove # to groove #",
        ],
    ),
    row("block-bore", 0.0, &["every guide hole"]),
];

/// Stops at a value of zero, too: "≤ 0" in the contract.
const AT_ZERO: [&str; 2] = ["clearance", "barrels-apart"];

/// Guards, with the bound of each.
const GUARDS: &[Row] = &[
    row("wood-under", 0.01, &["the head's own thickness"]),
    row("rim", 0.2, &["S bore # where it ends near the centre line"]),
    row("edges", 1.0, &["width of the head at the nut line"]),
    row("edges", 0.01, &["length of the S shoulder"]),
    row(
        "counterbore",
        0.01,
        &[
            "S bore #, floor to the bore's end",
            "S bore #, width of the ring around the bore",
        ],
    ),
    row(
        "far-wood",
        1e-4,
        &["S bore # and S bore #, past the centre line"],
    ),
    row("screw-bore", 0.01, &["S screw pilot #, its own diameter"]),
    row(
        "block-wood",
        1e-3,
        &["B, groove # to nothing: it is too small"],
    ),
];

/// What a stop is.
#[derive(Debug, PartialEq)]
pub enum Ground {
    /// A row of the contract.
    Contract,
    /// A bound of the program's own; its place and bound.
    Guard(String),
}

/// On what ground a finding stops its design; the fault where it is on none, or at another limit than
/// that place has, or at a value that does not miss it.
pub fn ground(finding: &Finding, finished: &Layout, printed: &Layout) -> Result<Ground, String> {
    if finding.verdict != Verdict::Stop {
        return Err(format!("{} is no stop", finding.code));
    }
    let at = finding.at.strip_prefix("printed ");
    let layout = if at.is_some() { printed } else { finished };
    let place = in_kind(at.unwrap_or(&finding.at));
    let said = || {
        format!(
            "{} stops at {}, {:?}, at \"{}\"",
            finding.code, finding.value, finding.limit, finding.at
        )
    };
    let of = |rows: &'static [Row]| {
        let own = rows.iter().filter(|row| row.code == finding.code);
        own.flat_map(|row| row.places.iter().map(move |at| (*at, row.limit)))
            .find(|(at, _)| *at == place || *at == with_any_hole(&place))
            .map(|(_, limit)| limit)
    };
    let (limit, ground) = if finding.code == "far-wood" && place == OPPOSITE {
        let limit = limit_between(layout, at.unwrap_or(&finding.at))?;
        (limit, Ground::Contract)
    } else if let Some(limit) = of(STOPS) {
        (limit, Ground::Contract)
    } else if let Some(limit) = of(GUARDS) {
        let guard = format!("{}: {place}, below {limit}", finding.code);
        (limit, Ground::Guard(guard))
    } else {
        return Err(format!("{}: the contract has no such place", said()));
    };
    // A limit is missed only by more than 1e-9; what is asked to be above zero, within 1e-9 of it.
    let missed = if AT_ZERO.contains(&finding.code) {
        finding.value <= limit + 1e-9
    } else {
        finding.value < limit - 0.99e-9
    };
    if finding.limit != Limit::Single(limit) || !missed || !finding.value.is_finite() {
        return Err(format!("{}: the limit there is {limit}", said()));
    }
    Ok(ground)
}

/// The limit between two opposite bores (contract, `far-wood`): 0.01 between the blind ends of a pair, or
/// for points less than half a millimetre past each other, else 0.5.
fn limit_between(layout: &Layout, place: &str) -> Result<f64, String> {
    let numbers: Vec<usize> = place
        .split_whitespace()
        .filter_map(|word| word.parse().ok())
        .collect();
    let [treble, bass] = numbers[..] else {
        return Err(format!("\"{place}\" names no two bores"));
    };
    let bore = |list: &'_ [Bore], number: usize| list.get(number - 1).cloned();
    let (one, other) = (
        bore(&layout.sides.treble.bores, treble),
        bore(&layout.sides.bass.bores, bass),
    );
    let (Some(one), Some(other)) = (one, other) else {
        return Err(format!("\"{place}\": no such bores"));
    };
    let at_centre = |bore: &Bore| {
        let slope = bore.direction.y / bore.direction.x.abs();
        bore.entry.y + bore.entry.x.abs() * slope
    };
    let pair = (at_centre(&one) - at_centre(&other)).abs() < 1.0;
    let blind = [&one, &other].iter().all(|b| b.end == BoreEnd::Blind);
    if pair && !blind {
        return Err(format!("\"{place}\": a pair that opens or keeps its web"));
    }
    let past = -[&one, &other].map(left_to_centre).iter().sum::<f64>();
    Ok(if pair || past < 0.5 - 1e-9 { 0.01 } else { 0.5 })
}

/// A place without its sides and numbers.
fn in_kind(place: &str) -> String {
    let place = ["guide block, treble", "guide block, bass", "guide block"]
        .iter()
        .find_map(|block| Some(format!("B{}", place.strip_prefix(block)?)))
        .unwrap_or_else(|| place.to_owned());
    let words = place.split(' ').map(|word| {
        let bare = word.trim_end_matches(',');
        let tail = &word[bare.len()..];
        match bare {
            "treble" | "bass" => format!("S{tail}"),
            bare if !bare.is_empty() && bare.bytes().all(|b| b.is_ascii_digit()) => {
                format!("#{tail}")
            }
            _ => word.to_owned(),
        }
    });
    words.collect::<Vec<_>>().join(" ")
}

/// The same with what is drilled there left open.
fn with_any_hole(place: &str) -> String {
    ["counterbore of S bore #", "S bore #", "S screw pilot #"]
        .iter()
        .find_map(|hole| Some(format!("D{}", place.strip_prefix(hole)?)))
        .unwrap_or_default()
}
