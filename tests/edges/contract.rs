//! The table of section 4 of the contract, copied out by hand: what stops a design, what is a caution, and
//! which cautions are common practice. The program's own table must say the same.

use barrelhead::check::Basis;
use barrelhead::check::limits::{Bound, RULES};

/// A limit is missed only by more than this, in the check's unit (contract, section 4).
pub const NOISE: f64 = 1e-9;

/// The closed list of stops: code, limit, and whether the limit itself is missed already.
pub const STOPS: [(&str, f64, bool); 20] = [
    ("wood-over", 1.0, false),
    ("wood-under", 1.0, false),
    ("web", 1.0, false),
    ("cheek", 1.0, false),
    ("rib", 1.0, false),
    ("end-wood", 1.0, false),
    ("slot-end", 0.5, false),
    ("bearing", 0.5, false),
    ("rim", 0.5, false),
    ("edges", 1.0, false),
    ("counterbore", 1.0, false),
    ("bore-depth", 0.0, false),
    ("clearance", 0.0, true),
    ("barrels-apart", 0.0, true),
    ("far-wood", 0.5, false),
    ("ramp-depth", 1.0, false),
    ("screw-slot", 0.5, false),
    ("screw-bore", 0.5, false),
    ("block-wood", 1.0, false),
    ("block-bore", 0.0, false),
];

/// Cautions: code, the bound that holds, and whether it is common practice (marked with a star).
const CAUTIONS: [(&str, Bound, bool); 31] = [
    ("wood-over", Bound::AtLeast(3.0), true),
    ("wood-under", Bound::AtLeast(3.0), true),
    ("web", Bound::AtLeast(5.0), false),
    ("cheek", Bound::AtLeast(8.0), true),
    ("rib", Bound::AtLeast(7.0), true),
    ("end-wood", Bound::AtLeast(5.0), false),
    ("slot-end", Bound::AtLeast(1.0), false),
    ("bearing", Bound::AtLeast(3.0), true),
    ("counterbore", Bound::AtLeast(3.0), false),
    ("bore-depth", Bound::AtLeast(1.0), false),
    (
        "clearance",
        Bound::Within {
            low: 0.2,
            high: 0.6,
        },
        true,
    ),
    ("barrels-apart", Bound::AtLeast(1.0), false),
    ("far-wood", Bound::AtLeast(1.0), false),
    ("pair-offset", Bound::AtMost(1e-6), false),
    ("plate-thickness", Bound::AtLeast(0.5), true),
    ("plate-even", Bound::AtMost(0.5), true),
    ("plate-side", Bound::AtLeast(1.0), false),
    ("edge-radius", Bound::AtLeast(0.0), false),
    ("hole-in-slot", Bound::AtLeast(3.0), false),
    ("string-face", Bound::AtLeast(0.5), false),
    ("string-edge", Bound::AtLeast(1.0), false),
    ("side-pull", Bound::AtMost(8.0), false),
    (
        "nut-break",
        Bound::Within {
            low: 7.0,
            high: 30.0,
        },
        false,
    ),
    ("ramp-depth", Bound::AtLeast(3.0), false),
    ("screw-slot", Bound::AtLeast(1.0), false),
    ("screw-bore", Bound::AtLeast(1.0), false),
    ("block-wood", Bound::AtLeast(2.5), false),
    ("block-guided", Bound::AtLeast(1.9), true),
    ("block-bore", Bound::AtMost(0.2), false),
    ("block-axis", Bound::AtMost(0.1), false),
    ("bit-size", Bound::AtMost(0.02), false),
];

/// Checks whose caution limit is what the press has.
const PRESS: [&str; 3] = ["press-travel", "press-flutes", "press-daylight"];

/// The stop limit of a check, and whether the limit itself is missed.
pub fn stop(code: &str) -> Option<(f64, bool)> {
    let found = STOPS.iter().find(|(own, ..)| *own == code);
    found.map(|(_, limit, strict)| (*limit, *strict))
}

/// Limits of the program that are not the contract's.
pub fn differences() -> Vec<String> {
    let mut wrong = Vec::new();
    let codes = STOPS
        .iter()
        .map(|stop| stop.0)
        .chain(CAUTIONS.iter().map(|caution| caution.0));
    for code in codes.chain(PRESS) {
        if RULES.iter().filter(|rule| rule.code == code).count() != 1 {
            wrong.push(format!("{code}: not once in the catalogue"));
        }
    }
    for rule in RULES {
        let own = stop(rule.code).map(|(limit, strict)| match strict {
            true => Bound::MoreThan(limit),
            false => Bound::AtLeast(limit),
        });
        if rule.stop != own {
            let found = rule.stop;
            wrong.push(format!("{}: stop {found:?}, not {own:?}", rule.code));
        }
        let caution = CAUTIONS.iter().find(|(code, ..)| *code == rule.code);
        // What the contract has not, cautions only; the press has limits of its own.
        let ours = rule.code.starts_with("string-") || rule.code == "winding-wall";
        if caution.is_none() && (ours || PRESS.contains(&rule.code)) {
            continue;
        }
        let basis = |starred| match starred {
            true => Basis::CommonPractice,
            false => Basis::Assumed,
        };
        let as_written = rule.caution == caution.map(|(_, bound, _)| *bound)
            && caution.is_none_or(|(.., starred)| rule.basis == basis(*starred));
        if !as_written {
            let (found, base) = (rule.caution, &rule.basis);
            wrong.push(format!("{}: caution {found:?}, {base:?}", rule.code));
        }
    }
    wrong
}
