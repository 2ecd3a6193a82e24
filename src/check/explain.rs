//! What each check means, in plain words: what is measured and how, why it matters at the bench, what
//! to change, and the limits with their basis (taken from the one table of limits).

use super::Basis;
use super::limits::{Bound, RULES, Rule};
use crate::units::plain;

/// Explanation of one check.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// Code.
    pub code: &'static str,
    /// Short title.
    pub title: &'static str,
    /// What is measured and how.
    pub measured: &'static str,
    /// Why it matters at the bench.
    pub why: &'static str,
    /// What to change.
    pub change: &'static str,
    /// Limits and their basis.
    pub limits: String,
}

/// The explanation of a check; `None` for an unknown code.
#[must_use]
pub fn explain(code: &str) -> Option<Explanation> {
    let rule = super::limits::rule(code)?;
    let (code, measured, why, change) = *words(code)?;
    Some(Explanation {
        code,
        title: rule.title,
        measured,
        why,
        change,
        limits: limits(rule),
    })
}

/// Every code, in the order of the table of limits.
pub fn codes() -> impl Iterator<Item = &'static str> {
    RULES.iter().map(|rule| rule.code)
}

/// What to change where no one number clears a check.
pub(super) fn what_to_change(code: &str) -> &'static str {
    words(code).map_or("", |(_, _, _, change)| change)
}

type Words = (&'static str, &'static str, &'static str, &'static str);

fn words(code: &str) -> Option<&'static Words> {
    WORDS.iter().find(|(own, ..)| *own == code)
}

fn limits(rule: &Rule) -> String {
    let unit = match rule.unit {
        "mm" => " mm",
        "deg" => " degrees",
        _ => "",
    };
    let missed = |bound: Bound| match bound {
        Bound::AtLeast(limit) => format!("below {limit}{unit}"),
        Bound::MoreThan(limit) => format!("at {limit}{unit} or below"),
        Bound::AtMost(limit) => format!("above {limit}{unit}"),
        Bound::Within { low, high } => format!("outside {low} to {high}{unit}"),
    };
    let basis = match rule.basis {
        Basis::CommonPractice => "common practice",
        _ => "our assumption",
    };
    let mut parts = Vec::new();
    match rule.stop {
        Some(stop) => parts.push(format!(
            "Stops the design {} (our assumption).",
            missed(stop)
        )),
        None => parts.push("Never stops the design.".to_owned()),
    }
    match rule.caution {
        Some(Bound::AtMost(limit)) if limit.is_infinite() => parts.push(
            "Draws a caution where what is needed exceeds what the press or the bit has, as the file or the drill table says.".to_owned(),
        ),
        Some(caution) => parts.push(format!("Draws a caution {} ({basis}).", missed(caution))),
        None => parts.push("Draws no caution of its own.".to_owned()),
    }
    let example = if rule.takes_band() {
        match rule.caution {
            Some(Bound::Within { low, high }) => {
                format!("{{ low = {}, high = {} }}", plain(low), plain(high))
            }
            _ => String::new(),
        }
    } else {
        own_example(rule)
    };
    let stays = if rule.stop.is_some() {
        "; it cannot loosen the stop"
    } else {
        ""
    };
    parts.push(format!(
        "A caution limit of your own goes into the table [limits] of your file, as in `{} = {example}`{stays}.",
        rule.code
    ));
    parts.join(" ")
}

/// A limit of the maker's own that could stand there: the one that holds now, where it is a number.
fn own_example(rule: &Rule) -> String {
    match rule.caution.or(rule.stop) {
        Some(Bound::AtLeast(limit) | Bound::MoreThan(limit) | Bound::AtMost(limit))
            if limit.is_finite() && limit >= 0.01 =>
        {
            plain(limit)
        }
        Some(Bound::AtMost(limit)) if limit.is_infinite() => "70".to_owned(),
        _ => "0.5".to_owned(),
    }
}

/// Code, what is measured, why it matters, what to change.
const WORDS: &[Words] = &[
    (
        "wood-over",
        "The least distance from a bore to the face of the head, taken from its full diameter and its point as drilled, to the face as an endless plane. With the veneers still to come (veneers_on = false) the face of the core counts as well, because that is what the bit goes through.",
        "The wood over a bore carries the pull of the string through the barrel. Where it is thin it moves, the face shows the bore as a line under the finish, and a knock can break it.",
        "Lower the axis, take a thicker head, or a smaller bore.",
    ),
    (
        "wood-under",
        "The least distance from a bore to the back of the head, taken from its full diameter and its point as drilled, square to the back plane; a back that slopes is met at its slope. With the veneers still to come the back of the core counts as well.",
        "Thin wood under a bore splits when the plate's screws are driven or the head is knocked, and a back that is thinned towards the crest loses it first at the last bore.",
        "Raise the axis, take a thicker head or less slope, or a smaller bore.",
    ),
    (
        "web",
        "The wood between two neighbouring bores of one side: the pitch less the bore's diameter.",
        "The bit wanders into a thin web, and the two bores become one slot in which neither barrel is held in line.",
        "Check the pitch that was measured, or take a smaller bore.",
    ),
    (
        "cheek",
        "The least distance from a slot's wall, its rounded corners included, to the side of the head as an endless plane. The ramp is left out. A slot so deep in the head that it nears the opposite side is caught too.",
        "The cheek carries the plate and its screws, and it is long thin wood along the grain. A thin cheek bends when the screws pull and splits at the end of the slot.",
        "Make the rib narrower (or the cheek wider, where the slots lie by the cheek), the slots narrower, or the head wider.",
    ),
    (
        "rib",
        "The least distance between the walls of the two slots.",
        "The barrels of both sides bear in the rib. It is what is left of the middle of the head, and it has to hold the ends of all barrels and keep the head stiff.",
        "Make the rib wider, the slots narrower, or the cheeks thinner where the slots lie by the cheek.",
    ),
    (
        "end-wood",
        "The wood left at the two ends: from the slot, or the mouth of its ramp, to the nut line; from the slot to the crest as it is curved; and from the nearest bore, counterbore or screw pilot to both.",
        "The ends of the slots are short grain. At the nut end it carries the nut's shelf, at the crest end it holds the two cheeks and the rib together.",
        "Shorten the end margins of the slots or the ramp's mouth, move the machines along the side, or take a longer head.",
    ),
    (
        "slot-end",
        "Where a bore goes through a wall of its slot it leaves an ellipse, r/cos of its lean long to each side. Measured from there to the ends of that wall's straight part, on both walls. Below zero the bore runs into the rounded corner or misses the slot.",
        "A bore that runs out in the corner leaves a feather edge that breaks, and the string has no room beside the barrel.",
        "Give the slot more end margin, or smaller corners.",
    ),
    (
        "bearing",
        "How far the end of the barrel goes past the inner wall of its slot into the rib, along the axis, at the bore where it is least.",
        "A barrel held only by the plate and the cheek tilts under the string, wears its gear and turns hard. It wants a second bearing in the rib.",
        "Make the rib wider (or the cheek thinner), or use longer barrels.",
    ),
    (
        "rim",
        "How far the whole rim of the bore's full diameter, at its depth D, lies past the inner wall of the slot, square to that wall; least over the rim. A bore that ends at the centre line must end past the wall too.",
        "If only the point of the bit has gone into the rib, the barrel does not enter it at all.",
        "Drill deeper, make the rib wider, or the cheek thinner.",
    ),
    (
        "edges",
        "Mouths of bores, counterbores and screw pilots to the ends of their straight side; the corners of a ramp's mouth to the sides and to the shoulders; each ramp to the opening on the other side. On a head with shoulders, slots and everything drilled must stay clear of them as well.",
        "A hole that touches the end of the straight side breaks out of the corner, and the plate has nothing to lie on there. A ramp that reaches the edge cuts the face open to the side.",
        "Move the machines along the side, lengthen the straight side, or shorten the ramp's mouth.",
    ),
    (
        "counterbore",
        "The wood around the wider mouth of a bore: its wall to face and back, to the next counterbore and to the screw pilots; its floor to the slot, square to the slot's wall.",
        "A bush pressed into the counterbore pushes the wood apart. Thin walls split, and a thin floor is pushed into the slot.",
        "Take a smaller or shallower counterbore, a thicker head, or a thicker cheek.",
    ),
    (
        "bore-depth",
        "The depth D of the full diameter less the length of the barrel.",
        "A barrel that touches the bottom keeps the plate off the side, and chips left in the bore make it worse. In damp weather the tip binds.",
        "Drill deeper: a greater beyond_barrel, or beyond_centre.",
    ),
    (
        "clearance",
        "The diameter of the bore less that of the barrel. Of a head already drilled, `fit` holds every bore that [[drilled]] records against the same upper limit.",
        "Too tight, and the barrel binds with the first damp day or a little lacquer in the bore; too loose, and the string pulls the barrel aside and the gear wears.",
        "Take the bit that leaves about half a millimetre, or type the clearance in place of the diameter.",
    ),
    (
        "barrels-apart",
        "The least distance between barrels of opposite sides, taken as whole cylinders from the plate to their ends; 0 where they overlap.",
        "Two barrels cannot be in one place. On a narrow head the inner ends meet, and the machines cannot be pushed home.",
        "Use shorter barrels or make the head wider.",
    ),
    (
        "far-wood",
        "The wood between the end of a bore and what lies across the head: the opposite bores, the opposite slot and its ramp, the far side. Between the blind ends of a pair, and between points that are less than 0.5 mm past each other, a hundredth is enough for the model; anywhere else half a millimetre must remain. The worst place is the one with the least margin to its own stop. For a pair that opens into one another, or keeps its web, the check is left out.",
        "A bit that comes through by accident tears the wood at the far wall, and a thin skin left by plan breaks out later.",
        "Drill less deep, use shorter barrels, or make the head wider. Where the plates of the two sides differ, a first_barrel for both in place of along lets their bores meet.",
    ),
    (
        "pair-offset",
        "The distance, at the centre line, between the axes of two opposite bores that are meant as a pair (less than 1 mm apart there).",
        "Two bores that meet a little out of line leave a step where the bit breaks through. Mirrored bores open cleanly into one another.",
        "Give both sides the same first barrel, the same widths and the same pitches. Where two sets differ it cannot be cured: the bit then breaks through half a millimetre of wood between such bores, and a limit of your own for pair-offset says that you know.",
    ),
    (
        "plate-thickness",
        "From the edges of the machine's plate, at its widest, to the face and to the back of the finished head, at the worse end.",
        "A plate that stands past the face or the back catches the hand and cannot be trimmed without showing it.",
        "Take a thicker head or a narrower plate, or move the axis across the thickness.",
    ),
    (
        "plate-even",
        "The difference between the plate's distance to the face and to the back, at the plate's middle.",
        "The eye sees a plate that sits nearer one surface than the other.",
        "Centre the plate across the thickness, or accept the difference where the barrels sit off the plate's middle.",
    ),
    (
        "plate-side",
        "From each end of the plate to the end of the straight side; below zero where the plate stands past it.",
        "An ornament may stand past the straight side; a working part may not, because the plate lies flat only where the side is straight.",
        "Move the machines along the side or lengthen the straight side.",
    ),
    (
        "edge-radius",
        "From the plate's edge to where the rounding of the side's edges ends: its distance to the face or to the back, less the radius. Left out where nothing is rounded.",
        "Where the rounding runs under the plate, a gap shows along its edge.",
        "Round less, or take a thicker head.",
    ),
    (
        "hole-in-slot",
        "From the centre of the string hole to the nearer wall of its slot, square to the wall.",
        "The string must be threaded and wound beside the hole. Close to a wall there is room neither for the fingers nor for the turns.",
        "Move the slots (rib or cheek), or widen them.",
    ),
    (
        "string-face",
        "Where a string, running straight from the nut to the top of its barrel (with [strings]: to where it touches its winding), comes down to the plane of the face, less where the opening begins: the mouth of the ramp, or the slot's end without one. Above zero the string is over the opening there. Measured along the slot.",
        "A string that comes down to the face before the opening rubs on the wood, buzzes and cuts a groove.",
        "Bring the ramp's mouth nearer to the nut, or raise the string at the nut.",
    ),
    (
        "string-edge",
        "At the same point: from the string's line to the nearer wall of the slot, prolonged. Below zero the string is over the wood.",
        "A string against the edge of the slot frets the finish and is held by it when it is tuned.",
        "Move or widen the slots, or change the string spacing at the nut.",
    ),
    (
        "side-pull",
        "The sideways angle of a string at the nut, in plan, between its run to the string hole (with [strings]: to where it touches its winding) and the centre line.",
        "A string pulled sideways binds in its nut slot: it jumps when it is tuned and wears the slot to one side.",
        "Put the first barrel further from the nut, or bring the strings and the slots nearer in line.",
    ),
    (
        "nut-break",
        "The angle by which a string bends down over the nut in side view: the head's angle and the string's own fall to its barrel.",
        "Too little, and the string rattles in its slot; too much, and it binds there and cracks the nut's edge.",
        "Change the head's angle or the string's height at the nut.",
    ),
    (
        "ramp-depth",
        "The wood left under the floor of the ramp where the straight walls of the slot begin, at both walls, square to the face.",
        "The ramp is cut into the short grain at the slot's end. Cut too deep, it comes out at the back.",
        "Make the ramp's mouth shorter or its angle flatter.",
    ),
    (
        "screw-slot",
        "From a screw pilot to the slots and their ramps, its own and the opposite one.",
        "A screw longer than the cheek comes out in the slot, where the string and the fingers find it.",
        "Use shorter screws or a thicker cheek.",
    ),
    (
        "screw-bore",
        "From a screw pilot to the bores, the other pilots, the face, the back and the far side.",
        "A pilot that breaks into a bore lets the screw press on the barrel, and one close to a surface splits it.",
        "Check the screw points that were measured, or use thinner screws.",
    ),
    (
        "block-wood",
        "The wood around each hole of the guide block: to the upright, to the far face, to both ends, to the next hole and to the scribe grooves; and around the grooves.",
        "The block guides the bit only while it keeps its shape. Thin walls give way when bushes are pressed in or the block is clamped.",
        "Make the block higher or longer, use smaller bushes, or shallower scribe grooves.",
    ),
    (
        "block-guided",
        "The length over which the block guides the bit, divided by the bit's diameter.",
        "A short guide lets the bit lean, and the bore is out of square to the side.",
        "Make the block deeper along the bores.",
    ),
    (
        "block-bore",
        "The diameter of the hole that guides the bit, less the bit's. With bushes it is the bush's own bore, and the bit must also pass the block's hole.",
        "Smaller than the bit, the hole is drilled out by the first bore; much wider, it no longer guides.",
        "Make the guide bore as wide as the bit.",
    ),
    (
        "block-axis",
        "The height of the block's holes above the upright against the height the head asks for; the difference is made up by a shim, between the block and the upright or between the head's face and the upright.",
        "A block from the shelf fits another head only with the right shim, and a shim forgotten puts every bore off by its thickness.",
        "Give the block its own height (leave axis_height out), or cut the shim that the report names.",
    ),
    (
        "press-travel",
        "What the quill has to travel: the depth of the block, the deepest bore and the point of its bit, against the travel of the press.",
        "A bore that the quill cannot finish in one stroke means raising the table with the head clamped to it, and the bore gets a step.",
        "Use a shallower block, or a press with more travel.",
    ),
    (
        "press-flutes",
        "The same length against the flutes of the bit. Without a figure in the file the flute length of a jobber drill for the bore is used.",
        "Once the flutes are wholly in the hole the chips cannot leave it: the bit jams, burns the wood and widens the bore.",
        "Use a longer bit or a shallower block, and lift the bit often.",
    ),
    (
        "press-daylight",
        "The greatest width of the head, the depth of the block and the length of the bit, against the largest opening between chuck and table.",
        "The head stands on its edge under the block with the bit above: if it does not fit, the job does not start.",
        "Use a shorter bit, a shallower block, or put the job beside the table.",
    ),
    (
        "bit-size",
        "The bore's diameter against the nearest size in which bits are sold: metric by 0.1 mm, inch by 1/64, letters and numbers. Where this is clear, `fit` lists the bore under that bit's name.",
        "The bore will be as wide as the bit in the drawer, not as wide as the number in the file, and every other check rests on that number.",
        "Write the size of the bit you have.",
    ),
    (
        "string-wood",
        "With [strings] only. The least distance, the string's own thickness counted, from each string on its way from the nut to its barrel to the wood: the walls of its slot and their edges, the face before the opening, the edge of the ramp's mouth, the ramp's floor and the rounded end of the slot. Below zero the string lies on the wood.",
        "A string that touches wood is stopped there: it does not follow the button, it saws a groove, and it may buzz.",
        "Cut the ramp further towards the nut or steeper; where a wall is in the way, move or widen the slots.",
    ),
    (
        "string-barrel",
        "With [strings] only. The least distance from each string to the barrels it passes and to the windings on them, counted as one layer of touching turns and as round as the barrel with the string on it.",
        "A string that rubs on a neighbour's winding turns with it and is never in tune. Crossed turns stand out by another string's thickness or two, so some room is wanted.",
        "Raise the strings at the nut or lower the barrels, wind fewer turns, let the turns walk the other way, or give the strings other barrels.",
    ),
    (
        "string-neighbour",
        "With [strings] only. The least distance between any two strings between nut and barrels, surface to surface. The strings of one course, closer at the nut than two thirds of the widest gap there, must keep half a millimetre only.",
        "Strings that cross or touch behind the nut pull one another out of tune.",
        "Give the strings other barrels, or let the turns walk the other way.",
    ),
    (
        "winding-wall",
        "With [strings] only. From the first and the last turn on each barrel to the walls of its slot, square to the walls: the turns lie side by side from the string hole.",
        "A winding that reaches the wall climbs on itself or rubs the wood.",
        "Wind fewer turns, let them walk the other way, or widen or move the slots.",
    ),
];
