//! Edges as the file states them: where they run, from which point to which, after the flag of
//! the EDGE_CURVE.

use super::meaning::{Found, flag, real, reference};
use super::parse::File;
use glam::DVec3;
use std::f64::consts::TAU;

/// How far a point may lie off the curve or surface it belongs to, mm. The writer's points are
/// exact to rounding, which stays far below this over two metres.
pub const ON: f64 = 1e-9;

/// A piece of a line or conic: position at `t` from `from` to `to` is
/// `origin + a·t` or `origin + a·cos t + b·sin t`.
#[derive(Debug, Clone, Copy)]
pub struct Piece {
    origin: DVec3,
    a: DVec3,
    b: DVec3,
    straight: bool,
    pub from: f64,
    pub to: f64,
}

/// An EDGE_CURVE.
#[derive(Debug, Clone, Copy)]
pub struct Edge {
    pub start: u64,
    pub end: u64,
    pub piece: Piece,
}

impl Piece {
    /// Position at a parameter.
    pub fn at(&self, t: f64) -> DVec3 {
        if self.straight {
            self.origin + self.a * t
        } else {
            self.origin + self.a * t.cos() + self.b * t.sin()
        }
    }

    /// Derivative of the position.
    pub fn rate(&self, t: f64) -> DVec3 {
        if self.straight {
            self.a
        } else {
            self.b * t.cos() - self.a * t.sin()
        }
    }

    /// The same piece run the other way.
    pub fn reversed(&self) -> Piece {
        Piece {
            from: self.to,
            to: self.from,
            ..*self
        }
    }

    /// Number of equal steps that keep each at an eighth of a turn at most.
    pub fn steps(&self) -> u32 {
        let mut steps = 1;
        while !self.straight && (self.to - self.from).abs() > f64::from(steps) * TAU / 8.0 {
            steps += 1;
        }
        steps
    }

    /// Least and greatest position along a direction from the origin of the frame.
    pub fn range(&self, along: DVec3) -> (f64, f64) {
        let mut stops = vec![self.from, self.to];
        if !self.straight {
            let top = self.b.dot(along).atan2(self.a.dot(along));
            let (low, high) = (self.from.min(self.to), self.from.max(self.to));
            for half_turns in -8..=8 {
                let t = top + f64::from(half_turns) * TAU / 2.0;
                if t > low && t < high {
                    stops.push(t);
                }
            }
        }
        let heights = stops.iter().map(|t| self.at(*t).dot(along));
        heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), z| {
            (l.min(z), h.max(z))
        })
    }
}

/// Reads an EDGE_CURVE and checks that its curve passes through its vertices.
pub fn edge(file: &File, name: u64) -> Found<Edge> {
    let values = file.record(name, "EDGE_CURVE", 5)?;
    let (start, end) = (reference(&values[1])?, reference(&values[2])?);
    if start == end {
        return Err(format!("#{name} is a closed edge"));
    }
    let vertex = |v: u64| file.point(reference(&file.record(v, "VERTEX_POINT", 2)?[1])?);
    let (first, last) = (vertex(start)?, vertex(end)?);
    let curve = reference(&values[3])?;
    let forward = flag(&values[4])?;
    let mut piece = match file.keyword(curve) {
        "LINE" => {
            let line = file.record(curve, "LINE", 3)?;
            let vector = file.record(reference(&line[2])?, "VECTOR", 3)?;
            Piece {
                origin: file.point(reference(&line[1])?)?,
                a: file.direction(reference(&vector[1])?)? * real(&vector[2])?,
                b: DVec3::ZERO,
                straight: true,
                from: 0.0,
                to: 0.0,
            }
        }
        "CIRCLE" => {
            let circle = file.record(curve, "CIRCLE", 3)?;
            let radius = real(&circle[2])?;
            conic(file, reference(&circle[1])?, radius, radius)?
        }
        "ELLIPSE" => {
            let ellipse = file.record(curve, "ELLIPSE", 4)?;
            let (a, b) = (real(&ellipse[2])?, real(&ellipse[3])?);
            if a <= b {
                return Err(format!("#{curve} has its longer semi-axis second"));
            }
            conic(file, reference(&ellipse[1])?, a, b)?
        }
        other => return Err(format!("#{name} lies on a {other}")),
    };
    let parameter = |p: DVec3| {
        let local = p - piece.origin;
        if piece.straight {
            local.dot(piece.a) / piece.a.length_squared()
        } else {
            (local.dot(piece.b) / piece.b.length_squared())
                .atan2(local.dot(piece.a) / piece.a.length_squared())
        }
    };
    let (from, mut to) = (parameter(first), parameter(last));
    if piece.straight {
        if (to > from) != forward {
            return Err(format!("#{name} runs against its line"));
        }
    } else if forward && to <= from {
        to += TAU;
    } else if !forward && to >= from {
        to -= TAU;
    }
    piece.from = from;
    piece.to = to;
    for (t, p) in [(from, first), (to, last)] {
        let off = piece.at(t).distance(p);
        if off.is_nan() || off > ON {
            return Err(format!("#{name} misses its vertex by {off:e}"));
        }
    }
    Ok(Edge { start, end, piece })
}

fn conic(file: &File, placement: u64, a: f64, b: f64) -> Found<Piece> {
    let [origin, x, y, _] = file.placement(placement)?;
    if !(a > 0.0 && b > 0.0) {
        return Err(format!("#{placement} carries a conic of no size"));
    }
    Ok(Piece {
        origin,
        a: x * a,
        b: y * b,
        straight: false,
        from: 0.0,
        to: 0.0,
    })
}
