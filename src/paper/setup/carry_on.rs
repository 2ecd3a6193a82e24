//! What someone at the bench does about a caution: whether to carry on, or what to settle first.
//!
//! Which caution asks for what is our judgement; nothing here changes a verdict.

/// Nothing has to be done before drilling.
pub(super) const CARRY_ON: &str = "Carry on";
/// Something has to be done before drilling.
pub(super) const SETTLE: &str = "Settle first";

/// Carry on or settle first, and a sentence that says why or what.
pub(super) fn next_step(code: &str) -> (&'static str, &'static str) {
    match code {
        "press-travel" | "press-daylight" => (
            SETTLE,
            "Find a press that reaches, or drill by hand with a collar.",
        ),
        "press-flutes" => (SETTLE, "Find a bit with longer flutes."),
        "bit-size" => (SETTLE, "Have this very bit in hand and measure it."),
        "clearance" => (SETTLE, "Drill scrap with this bit and try a barrel in it."),
        "bore-depth" => (SETTLE, "Drill scrap to this depth and try a barrel in it."),
        "barrels-apart" => (SETTLE, "Measure the barrels of both sets once more."),
        "block-bore" => (
            SETTLE,
            "Try the bit in the block: it must turn without rocking.",
        ),
        "block-guided" => (
            SETTLE,
            "Drill scrap through the block: the bore must come out square.",
        ),
        "block-axis" => (SETTLE, "The shim that page 1 names must be in its place."),
        "plate-thickness" | "plate-even" | "plate-side" => (
            SETTLE,
            "Hold a plate to the side at its marks: does it look right to you?",
        ),
        "wood-over" | "wood-under" | "web" | "end-wood" => {
            (CARRY_ON, "The wood is thin there: feed gently.")
        }
        "block-wood" => (
            CARRY_ON,
            "The block is thin there: look that it is not split.",
        ),
        "far-wood" | "pair-offset" => (CARRY_ON, "Feed gently near the end of the bore."),
        "cheek" | "rib" | "slot-end" | "bearing" | "rim" | "ramp-depth" | "hole-in-slot"
        | "string-face" | "string-edge" => (
            CARRY_ON,
            "The drilling is not touched; settle it before the slots are cut.",
        ),
        "side-pull" | "nut-break" => (
            CARRY_ON,
            "The drilling is not touched; the strings will run so.",
        ),
        "edge-radius" => (CARRY_ON, "Settle it before the edges are rounded."),
        "screw-slot" | "screw-bore" => (
            CARRY_ON,
            "Settle it before the holes for the screws are drilled.",
        ),
        "counterbore" => (CARRY_ON, "Settle it before the wider mouths are cut."),
        _ => (SETTLE, "Ask whoever designed the head."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every check that can draw a caution (contract, section 4).
    const CODES: [&str; 36] = [
        "wood-over",
        "wood-under",
        "web",
        "cheek",
        "rib",
        "end-wood",
        "slot-end",
        "bearing",
        "counterbore",
        "bore-depth",
        "clearance",
        "barrels-apart",
        "far-wood",
        "pair-offset",
        "plate-thickness",
        "plate-even",
        "plate-side",
        "edge-radius",
        "hole-in-slot",
        "string-face",
        "string-edge",
        "side-pull",
        "nut-break",
        "ramp-depth",
        "screw-slot",
        "screw-bore",
        "block-wood",
        "block-guided",
        "block-bore",
        "block-axis",
        "press-travel",
        "press-flutes",
        "press-daylight",
        "bit-size",
        "rim",
        "edges",
    ];

    #[test]
    fn every_check_that_cautions_has_its_own_word() {
        let unknown = next_step("no such check");
        for code in CODES {
            // A mouth too near an end stops the design and never cautions.
            assert_eq!(next_step(code) == unknown, code == "edges", "{code}");
        }
    }
}
