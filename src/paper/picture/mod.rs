//! Shaded pictures of solids: parallel projection, hidden surfaces removed, visible edges drawn in
//! ink, so that a picture reads as a drawing. Tones only; colours and file formats are the writer's.

mod band;
mod ink;
mod paint;
mod view;

use band::Band;
pub use view::View;

use rayon::prelude::*;

use crate::solid::brep::Brep;
use crate::solid::mesh::{MeshFault, mesh_by_face};

/// Chord of the mesh that is painted, mm: well under a pixel at the sizes asked for.
const CHORD: f64 = 0.01;
/// Fine pixels to a pixel, each way: edges come out smooth.
const FINE: usize = 3;
/// Empty border round the solid, pixels.
const BORDER: usize = 6;
/// Rows of a picture that are painted at once: a band of fine pixels of about a megabyte.
const ROWS: usize = 32;

/// Tone of plain paper.
pub const PAPER: u8 = 255;
/// Tone of ink.
pub const INK: u8 = 0;

/// A picture: one tone a pixel, rows from the top, [`INK`] darkest, [`PAPER`] where nothing is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Tones, `width` × `height` of them.
    pub tones: Vec<u8>,
}

/// A solid seen from one direction, its longer extent `pixels` long (at least 1).
///
/// # Errors
/// [`MeshFault`] where a face cannot be divided; a proved solid never meets it.
pub fn picture(brep: &Brep, view: &View, pixels: usize) -> Result<Picture, MeshFault> {
    let (mesh, faces) = mesh_by_face(brep, CHORD)?;
    let frame = view.frame(&mesh.points, pixels, FINE, BORDER);
    let facets = paint::facets(brep, &mesh, &faces, &frame);
    let strokes = ink::strokes(brep, &frame);
    let (width, height) = (frame.width / FINE, frame.height / FINE);
    let mut tones = vec![PAPER; width * height];
    // Every pixel comes of its own band alone, whichever core paints it.
    tones
        .par_chunks_mut(width.max(1) * ROWS)
        .enumerate()
        .for_each(|(index, into)| {
            let first = index * ROWS * FINE;
            let last = (first + ROWS * FINE).min(frame.height);
            let rows = first.saturating_sub(ink::REACH)..(last + ink::REACH).min(frame.height);
            let mut band = Band::blank(frame.width, frame.height, rows);
            paint::faces(&facets, &mut band);
            ink::outline(&mut band);
            ink::edges(&strokes, &mut band);
            band.reduce(first, into);
            band.done();
        });
    Ok(Picture {
        width,
        height,
        tones,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check;
    use crate::input::sample::six_string;
    use crate::layout::{Copy, Layout};
    use crate::solid;
    use glam::DVec3;

    fn head() -> Brep {
        let design = six_string();
        let (_, checked) = check::judge(
            Layout::new(&design, Copy::Finished),
            Layout::new(&design, Copy::Printed),
        );
        solid::build(&checked.unwrap()).unwrap().head.brep
    }

    /// Share of the pixels that are not paper.
    fn covered(picture: &Picture) -> f64 {
        let solid = picture.tones.iter().filter(|tone| **tone != PAPER).count();
        solid as f64 / picture.tones.len() as f64
    }

    #[test]
    fn seen_square_on_the_face_has_its_outline_and_openings() {
        let (design, brep) = (six_string(), head());
        let layout = Layout::new(&design, Copy::Finished);
        let view = View::new(DVec3::Z, DVec3::Y);
        let picture = picture(&brep, &view, 600).unwrap();
        // Through slots show paper; ramps and bores do not. Square millimetres to pixels by the
        // scale that puts the head's length on 600 pixels.
        let slots: f64 = layout
            .each_side()
            .filter_map(|side| side.slot.as_ref())
            .map(|slot| slot.region().moments().area)
            .sum();
        let area = layout.outline.region().moments().area - slots;
        let scale = 600.0 / design.head.length;
        let wanted = area * scale * scale;
        let got = covered(&picture) * picture.tones.len() as f64;
        // Half a line's width of ink lies outside the solid, all round.
        assert!((got / wanted - 1.0).abs() < 0.04, "{got} {wanted}");
        // On the centre line halfway up there is rib; the paper is at the corner.
        let middle = picture.tones[picture.width * (picture.height / 2) + picture.width / 2];
        assert!(middle > 150 && middle < PAPER, "{middle}");
        assert_eq!(picture.tones[0], PAPER);
    }

    #[test]
    fn what_is_behind_is_hidden() {
        let brep = head();
        // Seen from the treble side only the treble bores' mouths are seen: round holes with ink.
        let side = |x: f64| picture(&brep, &View::new(DVec3::X * x, DVec3::Y), 300).unwrap();
        let (treble, bass) = (side(1.0), side(-1.0));
        assert_eq!((treble.width, treble.height), (bass.width, bass.height));
        let inked = |picture: &Picture| picture.tones.iter().filter(|t| **t < 40).count();
        // A mirrored head: as much ink from either side.
        let (a, b) = (inked(&treble) as f64, inked(&bass) as f64);
        assert!((a / b - 1.0).abs() < 0.05 && a > 500.0, "{a} {b}");
    }

    #[test]
    fn the_same_solid_gives_the_same_picture() {
        let brep = head();
        let view = View::new(DVec3::new(0.6, -0.5, 1.0), DVec3::Y);
        assert_eq!(picture(&brep, &view, 200), picture(&brep, &view, 200));
    }
}
