//! The guide block for printing: standing on the face that meets the head, its bores upright.

use glam::{DVec2, DVec3};

use crate::input::Side;
use crate::layout::{Block, Serves};

use super::foot::{WOOD, chamfer_foot, notch};
use super::upright::{Run, Upright, UprightHole, Vee, Wall};

/// Least width and depth of a scribe groove that a 0.4 mm nozzle draws cleanly, mm: three and one
/// and a half widths of its line (our assumption).
const GROOVE: (f64, f64) = (1.2, 0.6);

/// A block as printed, and what could not be added to it.
pub(super) fn block(block: &Block) -> (Upright, Vec<String>) {
    let mut notes = Vec::new();
    // The block's y stands up; its upright face, z = 0, is at the back.
    let mut body = Upright {
        size: DVec3::new(block.length, block.height, block.depth),
        chamfer: 0.0,
        grooves: Vec::new(),
        holes: block
            .holes
            .iter()
            .map(|hole| UprightHole {
                center: DVec2::new(hole.x, block.height - hole.z),
                radius: hole.diameter / 2.0,
                run: Run::Through { rim: 0.0 },
                mouth: None,
            })
            .collect(),
        dowels: Vec::new(),
    };
    let own: Vec<Vee> = block
        .grooves
        .iter()
        .map(|groove| Vee {
            wall: Wall::Front,
            at: groove.x,
            width: groove.width,
            depth: groove.depth,
        })
        .collect();
    let wide: Vec<Vee> = own
        .iter()
        .map(|groove| Vee {
            width: groove.width.max(GROOVE.0),
            depth: groove.depth.max(GROOVE.1),
            ..*groove
        })
        .collect();
    if wide != own && !fits(&body, &wide) {
        notes.push(
            "the scribe grooves keep their own size, as wider ones would come too near the holes or \
             one another; a knife may have to clean them"
                .to_owned(),
        );
        body.grooves = own;
    } else {
        body.grooves = wide;
    }
    for side in Side::BOTH {
        let serves = match block.serves {
            Serves::Both => true,
            Serves::Only(only) => only == side,
        };
        if serves && !notch(&mut body, side) {
            notes.push(format!(
                "there is no room for the notches of the {} side: mark its nut end with a pen",
                side.name()
            ));
        }
    }
    chamfer_foot(&mut body);
    (body, notes)
}

/// Whether these grooves keep the wood round the holes, between one another and to the ends.
fn fits(body: &Upright, grooves: &[Vee]) -> bool {
    let clear = grooves.iter().all(|groove| {
        let half = groove.width / 2.0;
        let ends = groove.at - half >= WOOD && body.size.x - groove.at - half >= WOOD;
        let holes = body
            .holes
            .iter()
            .all(|hole| body.distance_to_groove(groove, hole.center) - hole.reach() >= WOOD);
        ends && holes
    });
    clear
        && grooves
            .windows(2)
            .all(|pair| pair[1].at - pair[0].at - (pair[0].width + pair[1].width) / 2.0 >= WOOD)
}
