//! Pairs of opposite bores, and how the model ends them at the centre line (contract, 3.3, 3.9).

use crate::input::{PerSide, Side};
use crate::plane::{Bounds, Region};
use crate::tolerance::{MERGE, NOISE, TOUCH};

use super::bore::{Bore, BoreEnd, EndCut};
use super::{Copy, SideLayout};

/// Axes that cross the centre line closer than this are a pair.
const PAIR_DISTANCE: f64 = 1.0;
/// Half the web kept between the bores of a pair that is not quite mirrored.
const HALF_WEB: f64 = 0.25;
/// A bore that would reach past its web plane by no more than this keeps its own end.
const WEB_GRACE: f64 = 0.005;
/// Printed points closer than this end shorter.
const PRINTED_POINTS: f64 = 0.01;
/// By this much each.
const PRINTED_SHORTER: f64 = 0.05;

/// Two opposite bores whose axes cross the centre line close together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Index into the treble bores.
    pub treble: usize,
    /// Index into the bass bores.
    pub bass: usize,
    /// Distance of the axes at x = 0.
    pub offset: f64,
    /// Whether the two mirror one another to [`MERGE`].
    pub mirrored: bool,
}

/// Finds the pairs and ends their bores.
pub(super) fn end_pairs(sides: &mut PerSide<SideLayout>, copy: Copy) -> Vec<Pair> {
    let mut pairs = Vec::new();
    // Once for each, not for each against each: heads have up to 64 a side.
    let crossings: Vec<f64> = sides.bass.bores.iter().map(Bore::centre_line_y).collect();
    for (treble, one) in sides.treble.bores.iter().enumerate() {
        let here = one.centre_line_y();
        let nearest = crossings
            .iter()
            .enumerate()
            .map(|(bass, other)| (bass, (here - other).abs()))
            .filter(|(_, offset)| *offset < PAIR_DISTANCE)
            .min_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((bass, offset)) = nearest {
            let mirrored = mirrored(one, &sides.bass.bores[bass]);
            pairs.push(Pair {
                treble,
                bass,
                offset,
                mirrored,
            });
        }
    }
    // A bass bore near two treble ones (they overlap; a check stops that) keeps its first pair.
    let mut taken = Vec::new();
    pairs.retain(|pair: &Pair| {
        let free = !taken.contains(&pair.bass);
        taken.push(pair.bass);
        free
    });
    for pair in &pairs {
        let treble = &mut sides.treble.bores[pair.treble];
        let bass = &mut sides.bass.bores[pair.bass];
        if pair.mirrored {
            let gap = treble.reach(treble.depth) + bass.reach(bass.depth);
            let pointed = treble.point_height > 0.0;
            if copy == Copy::Printed && pointed && gap.abs() < PRINTED_POINTS {
                // Neither a web that would print nor an opening worth having.
                shorten(treble);
                shorten(bass);
            } else if opens(treble) || opens(bass) {
                align(treble, bass);
                let cut = share_opening(treble, bass);
                for bore in [treble, bass] {
                    end_in_plane(bore, 0.0, cut, BoreEnd::Opens, pair.offset);
                }
            }
        } else {
            for bore in [treble, bass] {
                if HALF_WEB - bore.reach(bore.depth) > WEB_GRACE {
                    let cut = cut_at(bore, HALF_WEB);
                    end_in_plane(bore, HALF_WEB, cut, BoreEnd::Web, pair.offset);
                }
            }
        }
    }
    if copy == Copy::Printed {
        part_printed_points(sides);
    }
    pairs
}

/// Whether entries and directions mirror in x = 0.
fn mirrored(treble: &Bore, bass: &Bore) -> bool {
    let flip = glam::DVec3::new(-1.0, 1.0, 1.0);
    (treble.entry * flip).distance(bass.entry) <= MERGE
        && (treble.direction * flip).distance(bass.direction) <= MERGE
}

/// A pair that opens shares one ellipse, also where it is mirrored only to the merge distance: then the
/// bass bore runs as the treble one's mirror image, and moves along its side until the axes meet at the
/// centre line, both by no more than that.
fn align(treble: &Bore, bass: &mut Bore) {
    let (sin, cos) = bass.taper.sin_cos();
    bass.turned = treble.taper - bass.taper;
    bass.taper = treble.taper;
    bass.direction = treble.direction * glam::DVec3::new(-1.0, 1.0, 1.0);
    if let Some(crossing) = &mut bass.slot {
        // Turned about its entry: as far from the walls, square to them, as before.
        let square = crossing.skew.cos();
        crossing.skew += bass.turned;
        let longer = square / crossing.skew.cos();
        crossing.outer *= longer;
        crossing.inner *= longer;
    }
    // A step along the side moves the axis by step / cos along the centre line.
    let step = (treble.centre_line_y() - bass.centre_line_y()) * cos;
    bass.s += step;
    bass.entry += glam::DVec3::new(bass.side.sign() * sin, cos, 0.0) * step;
    if let Some(crossing) = &mut bass.slot {
        let deeper = step * crossing.skew.tan();
        crossing.outer += deeper;
        crossing.inner += deeper;
    }
}

/// Whether the bore reaches the centre plane. A point that only touches it leaves no opening that a
/// file could hold and stays blind; a flat end that lies in the plane opens.
fn opens(bore: &Bore) -> bool {
    let rim = bore.rim_reach(bore.depth);
    rim <= NOISE || bore.reach(bore.depth) < -TOUCH
}

/// What the plane |x| = `w` cuts of a bore: a rim wholly short of the plane leaves only the point
/// to be cut.
fn cut_at(bore: &Bore, w: f64) -> EndCut {
    let point_only = bore.point_height > 0.0
        && bore.rim_reach(bore.depth) > w + MERGE
        && bore.reach(bore.depth) < w - MERGE;
    if point_only {
        EndCut::Point
    } else {
        EndCut::FullDiameter
    }
}

/// A pair that opens shares one ellipse, though its two bores may have been asked for different
/// depths (`beyond_centre` counts each side's own widest station): the deeper bore decides what the
/// plane cuts, and where that is the point, the other goes as deep.
fn share_opening(treble: &mut Bore, bass: &mut Bore) -> EndCut {
    // As deep from the centre plane, where the half widths differ by next to nothing: neither becomes
    // shallower than asked for.
    let further = (bass.half_width() - treble.half_width()) / bass.taper.cos();
    let depth = treble.depth.max(bass.depth - further);
    let deeper = if treble.depth >= depth {
        &*treble
    } else {
        &*bass
    };
    let cut = cut_at(deeper, 0.0);
    if cut == EndCut::Point {
        (treble.depth, bass.depth) = (depth, bass.depth.max(depth + further));
    }
    cut
}

/// Ends a bore in the plane |x| = `w`; a rim that the plane would cut through is carried past it.
fn end_in_plane(bore: &mut Bore, w: f64, cut: EndCut, end: BoreEnd, offset: f64) {
    bore.end = end;
    bore.end_plane = Some((w, cut));
    if cut == EndCut::Point {
        bore.length_in_model = bore.depth;
    } else {
        let (sin, cos) = bore.taper.sin_cos();
        let whole_rim_past = (bore.half_width() - w + bore.radius() * sin.abs()) / cos;
        bore.depth = bore.depth.max(whole_rim_past);
        bore.length_in_model = bore.depth_at_plane(w);
    }
    let past = (bore.depth - bore.depth_at_plane(0.0)).max(0.0);
    bore.beyond_end_plane = past * (2.0 * bore.taper).sin().abs() + offset;
}

/// Printed points that come too close to one another end shorter instead of failing. Flat ends have no
/// point: they meet the same stops as in wood.
fn part_printed_points(sides: &mut PerSide<SideLayout>) {
    let blind = |bores: &[Bore]| -> Vec<(usize, Region, Bounds)> {
        bores
            .iter()
            .enumerate()
            .filter(|(_, bore)| bore.end == BoreEnd::Blind && bore.point_height > 0.0)
            .map(|(index, bore)| {
                let section = Region::polygon(&bore.section());
                let bounds = section.bounds();
                (index, section, bounds)
            })
            .collect()
    };
    let (treble, bass) = (blind(&sides.treble.bores), blind(&sides.bass.bores));
    let mut shorter = [Vec::new(), Vec::new()];
    for (i, one, near) in &treble {
        for (j, other, far) in &bass {
            let apart =
                |one: &Region, other: &Region| one.distance(other) >= PRINTED_POINTS - NOISE;
            let close = near.gap(far) < PRINTED_POINTS && !apart(one, other);
            // Bores that run into one another farther back are not parted by it: they meet their stop.
            if close
                && apart(
                    &shorter_section(&sides.treble.bores[*i]),
                    &shorter_section(&sides.bass.bores[*j]),
                )
            {
                shorter[0].push(*i);
                shorter[1].push(*j);
            }
        }
    }
    for (side, list) in Side::BOTH.into_iter().zip(shorter) {
        let bores = match side {
            Side::Treble => &mut sides.treble.bores,
            Side::Bass => &mut sides.bass.bores,
        };
        for (index, bore) in bores.iter_mut().enumerate() {
            if list.contains(&index) {
                shorten(bore);
            }
        }
    }
}

/// The section of a blind bore that ends so much shorter.
fn shorter_section(bore: &Bore) -> Region {
    let mut bore = bore.clone();
    shorten(&mut bore);
    Region::polygon(&bore.section())
}

/// Ends a printed blind bore that much shorter.
fn shorten(bore: &mut Bore) {
    bore.depth -= PRINTED_SHORTER;
    bore.length_in_model = bore.depth;
}

#[cfg(test)]
mod tests {
    use crate::input::{Along, BoreDepth, PerSide, sample::six_string};
    use crate::layout::{Copy, Layout};

    /// Opposite bores 6 mm apart that run far past the centre line run into one another along their sides:
    /// ended 0.05 mm shorter they would as well, and what a check then measures would not be as drilled.
    #[test]
    fn bores_that_run_into_one_another_are_not_ended_shorter_in_print() {
        let mut design = six_string();
        design.placement.along = Along::FirstBarrel(PerSide {
            treble: 50.0,
            bass: 56.0,
        });
        design.bores.depth = BoreDepth::BeyondCentre(4.0);
        design.print.head_allowance = 0.4;
        let [finished, printed] =
            [Copy::Finished, Copy::Printed].map(|copy| Layout::new(&design, copy));
        assert!(finished.pairs.is_empty());
        for (one, other) in finished.bores().zip(printed.bores()) {
            assert!((one.depth - other.depth).abs() < 1e-12, "{}", other.depth);
        }
    }
}
