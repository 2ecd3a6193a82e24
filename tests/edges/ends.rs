//! How a bore must end, by section 3.3 and 3.9 of the contract, from its numbers alone.

use barrelhead::layout::{Bore, BoreEnd, EndCut, Layout};

use super::by_hand::Line;
use super::fate::Read;

/// What decides how a bore ends.
#[derive(Clone, Copy)]
pub struct Asked {
    /// Half width of its side at its mouth.
    pub half: f64,
    /// Its side.
    pub line: Line,
    pub diameter: f64,
    /// Height of the point over its radius; 0 for a flat end.
    pub point: f64,
    /// Depth asked for.
    pub depth: f64,
    /// Whether the opposite bore is a pair with it, and if so whether the two mirror one another.
    pub pair: Option<bool>,
    /// Distance of the axes of the two at the centre line.
    pub apart: f64,
}

/// Two opposite bores alike but for their sides and how far along they enter.
pub fn opposite(lines: [Line; 2], firsts: [f64; 2], bore: [f64; 3]) -> [Asked; 2] {
    let [diameter, point, depth] = bore;
    let [one, other] = [0, 1].map(|side| {
        let line = lines[side];
        (line.half + firsts[side] * line.tan, firsts[side], line)
    });
    let centre = |(half, y, line): (f64, f64, Line)| y + half * line.tan;
    let apart = (centre(one) - centre(other)).abs();
    let mirrored = (one.0 - other.0).hypot(one.1 - other.1) <= MERGE
        && (one.2.sin - other.2.sin).abs() <= MERGE / 2.0;
    let pair = (apart < 1.0).then_some(mirrored);
    [one, other].map(|(half, _, line)| Asked {
        half,
        line,
        diameter,
        point,
        depth,
        pair,
        apart,
    })
}

/// How it ends.
#[derive(Debug)]
pub struct Ends {
    pub end: BoreEnd,
    pub cut: Option<EndCut>,
    pub depth: f64,
    /// Length of the full diameter in the model.
    pub length: f64,
    /// Bound on the width of what drilling takes beyond the end plane.
    pub beyond: f64,
}

/// Corners nearer than this are one to the topology kernel, so that a rim this near its end plane counts as
/// cut, and a point this little past it as touching (chosen where the contract is silent).
const MERGE: f64 = 1e-6;
/// A flat end lies in the plane within the noise of any comparison.
const NOISE: f64 = 1e-9;
/// Nearer to a place than this, rounding decides on which side a number lies.
const UNDECIDED: f64 = 5e-13;
/// Rounding of lengths of some dozen millimetres.
const ROUNDING: f64 = 2e-12;

impl Asked {
    /// Ends of a bore; two where its numbers lie right at a place where they change.
    fn ends(&self, printed: bool) -> Vec<Ends> {
        let mut all: Vec<Ends> = Vec::new();
        for nudge in [-UNDECIDED, 0.0, UNDECIDED] {
            let ends = self.ends_if(printed, nudge);
            if !all.iter().any(|known| known.same(&ends)) {
                all.push(ends);
            }
        }
        all
    }

    fn ends_if(&self, printed: bool, nudge: f64) -> Ends {
        let (radius, aside) = (self.diameter / 2.0, self.line.sin.abs());
        // From the centre plane: the middle of the full diameter's end, its rim, and the point.
        let middle = self.half - self.depth * self.line.cos + nudge;
        let rim = middle - radius * aside;
        let reach = rim.min(middle - radius * self.point * self.line.cos);
        let blind = |depth| Ends {
            end: BoreEnd::Blind,
            cut: None,
            depth,
            length: depth,
            beyond: 0.0,
        };
        let beyond = |depth: f64| {
            let past = (depth - self.half / self.line.cos).max(0.0);
            past * 2.0 * aside * self.line.cos + self.apart
        };
        let (end, w) = match self.pair {
            None => return blind(self.depth),
            Some(true) => {
                if printed && self.point > 0.0 && (2.0 * reach).abs() < 0.01 {
                    return blind(self.depth - 0.05);
                }
                if rim > NOISE && reach >= -MERGE {
                    return blind(self.depth);
                }
                (BoreEnd::Opens, 0.0)
            }
            Some(false) => {
                if 0.25 - reach <= 0.005 {
                    return blind(self.depth);
                }
                (BoreEnd::Web, 0.25)
            }
        };
        if self.point > 0.0 && rim > w + MERGE {
            return Ends {
                end,
                cut: Some(EndCut::Point),
                depth: self.depth,
                length: self.depth,
                beyond: beyond(self.depth),
            };
        }
        let whole_rim = (self.half - w + radius * aside) / self.line.cos;
        let depth = self.depth.max(whole_rim);
        Ends {
            end,
            cut: Some(EndCut::FullDiameter),
            depth,
            length: (self.half - w) / self.line.cos,
            beyond: beyond(depth),
        }
    }
}

impl Ends {
    fn same(&self, other: &Ends) -> bool {
        self.end == other.end
            && self.cut == other.cut
            && (self.depth - other.depth).abs() < ROUNDING
            && (self.length - other.length).abs() < ROUNDING
            && (self.beyond - other.beyond).abs() < ROUNDING
    }

    fn of(bore: &Bore) -> Ends {
        Ends {
            end: bore.end,
            cut: bore.end_plane.map(|(_, cut)| cut),
            depth: bore.depth,
            length: bore.length_in_model,
            beyond: bore.beyond_end_plane,
        }
    }
}

/// Every bore of a design, finished and with `allowance` more printed, against what is asked of it: treble
/// from the nut, then bass.
pub fn all_end_so(read: &Read, asked: &[Asked], allowance: f64) -> Result<(), String> {
    let wider = |bore: &Asked| Asked {
        diameter: bore.diameter + allowance,
        ..*bore
    };
    copy_ends_so(&read.finished, asked, false)?;
    let printed: Vec<_> = asked.iter().map(wider).collect();
    copy_ends_so(&read.printed, &printed, true).map_err(|what| format!("printed {what}"))
}

fn copy_ends_so(layout: &Layout, asked: &[Asked], printed: bool) -> Result<(), String> {
    let bores: Vec<_> = layout.bores().collect();
    if bores.len() != asked.len() {
        return Err(format!("{} bores, not {}", bores.len(), asked.len()));
    }
    for (bore, asked) in bores.into_iter().zip(asked) {
        let (found, wanted) = (Ends::of(bore), asked.ends(printed));
        if !wanted.iter().any(|wanted| wanted.same(&found)) {
            let (side, number) = (bore.side.name(), bore.number);
            return Err(format!("{side} bore {number}: {found:?}, not {wanted:?}"));
        }
    }
    Ok(())
}
