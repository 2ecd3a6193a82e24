//! Shaded pictures of head and blocks, each from two sides.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use glam::DVec3;
use rayon::prelude::*;

use crate::layout::Layout;
use crate::paper::picture::{View, picture};
use crate::solid::{Part, Solids};
use crate::wording::capital;

use super::escape::text;
use super::picture_png::{BLOCK, Tint, WOOD, png};

/// Longer extent of a picture, pixels: about two to a screen's own at the size shown.
const HEAD_PIXELS: usize = 1000;
const BLOCK_PIXELS: usize = 760;

/// All pictures.
pub fn section(layout: &Layout, solids: &Solids) -> String {
    let (treble, bass) = (
        layout.sides.treble.bores.len(),
        layout.sides.bass.bores.len(),
    );
    let slots = match &layout.design.slots {
        Some(slots) if slots.ramp.is_some() => "two string slots with their ramps",
        Some(_) => "two string slots",
        None => "a plain face",
    };
    let heads = [
        Shot {
            eye: DVec3::new(0.85, -0.30, 1.0),
            up: DVec3::Y,
            caption: "Head from the front, treble side and nut".to_owned(),
            alt: format!(
                "The head from the front and a little from the treble side and the nut: {slots}, \
                 and the mouths of the treble bores, {treble} of them, in the side."
            ),
        },
        Shot {
            eye: DVec3::new(-0.85, 0.30, -1.0),
            up: DVec3::Y,
            caption: "Head from the back, bass side and crest".to_owned(),
            alt: format!(
                "The head from the back and a little from the bass side and the crest: the slots \
                 come through the back, and the mouths of the bass bores, {bass} of them, lie in \
                 the side."
            ),
        },
    ];
    let mut out = String::from("<div class=\"pictures\">\n<div class=\"heads\">\n");
    let figures = |part: &Part, shots: &[Shot], pixels: usize, tint: &Tint| {
        let drawn = shots
            .par_iter()
            .map(|shot| figure(part, shot, pixels, tint));
        drawn.collect::<Vec<_>>().concat()
    };
    let (heads, blocks) = rayon::join(
        || figures(&solids.head, &heads, HEAD_PIXELS, &WOOD),
        || {
            let drawn = solids
                .blocks
                .par_iter()
                .map(|part| figures(part, &block_shots(part), BLOCK_PIXELS, &BLOCK));
            drawn.collect::<Vec<_>>().concat()
        },
    );
    out.push_str(&heads);
    out.push_str("</div>\n<div class=\"blocks\">\n");
    out.push_str(&blocks);
    out.push_str("</div>\n</div>\n");
    out
}

/// A block from its two sides.
fn block_shots(part: &Part) -> [Shot; 2] {
    let name = part.name;
    [
        Shot {
            eye: DVec3::new(0.40, 0.75, 1.0),
            up: DVec3::Y,
            caption: format!("{}: top, and the face away from the upright", capital(name)),
            alt: format!(
                "The {name} from its top, where the bit goes in, and from the face that looks \
                 away from the upright."
            ),
        },
        Shot {
            eye: DVec3::new(0.40, -0.75, -1.0),
            up: DVec3::Y,
            caption: format!(
                "{}: the face on the upright, and the one on the head's side",
                capital(name)
            ),
            alt: format!(
                "The {name} from below: the face that lies against the upright and the one that \
                 lies on the head's side, with the holes coming out."
            ),
        },
    ]
}

struct Shot {
    eye: DVec3,
    up: DVec3,
    caption: String,
    alt: String,
}

fn figure(part: &Part, shot: &Shot, pixels: usize, tint: &Tint) -> String {
    let drawn = picture(&part.brep, &View::new(shot.eye, shot.up), pixels).ok();
    let image = drawn.and_then(|drawn| {
        let bytes = png(&drawn, tint).ok()?;
        Some(format!(
            "<img alt=\"{}\" width=\"{}\" height=\"{}\" src=\"data:image/png;base64,{}\"/>",
            text(&shot.alt),
            drawn.width / 2,
            drawn.height / 2,
            STANDARD.encode(bytes)
        ))
    });
    format!(
        "<figure>{}<figcaption>{}</figcaption></figure>\n",
        image.unwrap_or_else(|| "<p>This picture could not be drawn.</p>".to_owned()),
        text(&shot.caption)
    )
}
