//! Pieces carried elsewhere by maps that keep their shape.

use glam::DVec2;

use super::Piece;

impl Piece {
    /// The piece where a similarity puts it. `at` places a point; `scale` and `turn` (radians,
    /// anticlockwise) are what `at` does to lengths and to directions.
    #[must_use]
    pub fn placed(&self, at: impl Fn(DVec2) -> DVec2, scale: f64, turn: f64) -> Piece {
        match *self {
            Piece::Line { a, b } => Piece::Line { a: at(a), b: at(b) },
            Piece::Arc {
                center,
                radius,
                from,
                sweep,
            } => Piece::Arc {
                center: at(center),
                radius: radius * scale,
                from: from + turn,
                sweep,
            },
        }
    }

    /// The piece where a map puts it that scales by `scale` and mirrors: what ran anticlockwise then runs
    /// clockwise.
    #[must_use]
    pub fn mirrored(&self, at: impl Fn(DVec2) -> DVec2, scale: f64) -> Piece {
        match *self {
            Piece::Line { a, b } => Piece::Line { a: at(a), b: at(b) },
            Piece::Arc {
                center,
                radius,
                sweep,
                ..
            } => Piece::Arc {
                center: at(center),
                radius: radius * scale,
                from: (at(self.start()) - at(center)).to_angle(),
                sweep: -sweep,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every point of the placed piece is the point placed. Sums of a few numbers of this size are off
    /// by less than 1e-13.
    #[test]
    fn points_go_where_the_map_puts_them() {
        let pieces = [
            Piece::Line {
                a: DVec2::new(1.0, -2.0),
                b: DVec2::new(4.0, 7.0),
            },
            Piece::Arc {
                center: DVec2::new(2.0, 3.0),
                radius: 5.0,
                from: 0.4,
                sweep: -1.9,
            },
        ];
        let by = DVec2::new(-3.0, 8.0);
        let turned = |p: DVec2| DVec2::from_angle(0.7).rotate(p) * 0.5 + by;
        let mirrored = |p: DVec2| DVec2::new(-p.x, p.y) * 0.5 + by;
        for piece in pieces {
            for step in 0..=4 {
                let t = f64::from(step) / 4.0;
                let point = piece.at(t);
                let one = piece.placed(turned, 0.5, 0.7).at(t);
                assert!(one.distance(turned(point)) < 1e-13, "{one}");
                let other = piece.mirrored(mirrored, 0.5).at(t);
                assert!(other.distance(mirrored(point)) < 1e-13, "{other}");
            }
        }
    }
}
