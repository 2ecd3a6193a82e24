//! The fit gauge: a short coupon of holes, each a tenth of a millimetre wider than the one before,
//! to find the allowance of a printer and its plastic.

use glam::{DVec2, DVec3};

use super::foot::chamfer_foot;
use super::upright::{Run, Upright, UprightHole, Vee, Wall};

/// From one hole to the next, on the diameter, mm; one notch each.
pub const GAUGE_STEP: f64 = 0.1;
/// Holes; the first has no notch.
const HOLES: u32 = 6;
/// Wall beside the holes and between them, mm (our assumption).
const WALL: f64 = 3.0;
/// Height, mm: long enough to feel shake, quickly printed (our assumption).
const HEIGHT: f64 = 8.0;
/// Width, depth and distance of the notches, mm (our assumption).
const NOTCH: (f64, f64, f64) = (1.2, 0.6, 2.2);

/// How the gauge is read, for people.
pub const GAUGE_RULE: &str = "Each notch beside a hole stands for 0.1 mm: the hole without a notch \
    is drawn with the diameter itself. Find the first hole into which the part slides without force; \
    its notches are your printer's allowance in tenths of a millimetre.";

/// A gauge for a round part of this diameter.
pub(super) fn gauge(diameter: f64) -> Upright {
    let widest = diameter + GAUGE_STEP * f64::from(HOLES - 1);
    let notched = NOTCH.2 * f64::from(HOLES - 1);
    let pitch = (widest + WALL).max(notched + NOTCH.0);
    let width = widest + 2.0 * WALL;
    let middle = |k: u32| pitch * (f64::from(k) + 0.5);
    let mut body = Upright {
        size: DVec3::new(pitch * f64::from(HOLES), width, HEIGHT),
        chamfer: 0.0,
        grooves: Vec::new(),
        holes: Vec::new(),
        dowels: Vec::new(),
    };
    for k in 0..HOLES {
        body.holes.push(UprightHole {
            center: DVec2::new(middle(k), width / 2.0),
            radius: (diameter + GAUGE_STEP * f64::from(k)) / 2.0,
            run: Run::Through { rim: 0.0 },
            mouth: None,
        });
        for n in 0..k {
            let aside = NOTCH.2 * (f64::from(n) - f64::from(k - 1) / 2.0);
            body.grooves.push(Vee {
                wall: Wall::Front,
                at: middle(k) + aside,
                width: NOTCH.0,
                depth: NOTCH.1,
            });
        }
    }
    chamfer_foot(&mut body);
    body
}
