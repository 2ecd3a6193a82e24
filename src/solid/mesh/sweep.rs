//! Triangles of a plane region from its boundary points alone, by a line that sweeps over it from
//! left to right (Hertel and Mehlhorn, 1983).
//!
//! Where the line meets the region, it does so in intervals. Each lies between an upper and a lower
//! boundary edge; to the left of it a chain of points, from the upper edge's left end to the lower
//! edge's, bounds what has triangles already. A chain bulges to the right: of three neighbours the
//! middle one never stands back, else the three would be a triangle. All decisions are signs of areas
//! in exact arithmetic, so that a boundary which touches or crosses itself is found out, and every
//! triangle has an area.

use std::collections::VecDeque;

use glam::DVec2;
use robust::{Coord, orient2d};

use super::net::{NOTHING, Net};

/// The boundary touches or crosses itself, or does not run anticlockwise (holes clockwise).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotSimple;

/// A point of a chain, and what lies behind the edge from it to the next one.
#[derive(Debug, Clone, Copy)]
struct Link {
    point: u32,
    behind: u32,
}

/// A stretch of the sweep line within the region. An edge has the number of its first point.
#[derive(Debug, Default)]
struct Interval {
    upper: u32,
    lower: u32,
    chain: VecDeque<Link>,
}

/// The sweep, with room that is used again for the next region.
#[derive(Debug, Default)]
pub(super) struct Sweep {
    points: Vec<DVec2>,
    next: Vec<u32>,
    previous: Vec<u32>,
    /// Points from left to right, and the place of each among them.
    ordered: Vec<u32>,
    rank: Vec<u32>,
    intervals: Vec<Interval>,
    /// Intervals that are free to be used again.
    free: Vec<usize>,
    /// The interval that an edge bounds while the line crosses it.
    bounded: Vec<usize>,
    /// Intervals from top to bottom.
    line: Vec<usize>,
    net: Net,
}

impl Sweep {
    /// Triangles of the region with these boundary points, loop after loop, of which `counts` says
    /// how many each has.
    pub fn triangles(
        &mut self,
        points: impl Iterator<Item = DVec2>,
        counts: impl Iterator<Item = usize>,
    ) -> Result<&[[u32; 3]], NotSimple> {
        self.divide(points, counts)?;
        self.net.make_stout(&self.points);
        Ok(&self.net.triangles)
    }

    /// The same as the line leaves them, before any diagonal is exchanged.
    pub fn divide(
        &mut self,
        points: impl Iterator<Item = DVec2>,
        counts: impl Iterator<Item = usize>,
    ) -> Result<&Net, NotSimple> {
        self.load(points, counts)?;
        for place in 0..self.ordered.len() {
            self.pass(self.ordered[place])?;
        }
        // Every edge that began has ended, and with it every interval.
        Ok(&self.net)
    }

    fn load(
        &mut self,
        points: impl Iterator<Item = DVec2>,
        counts: impl Iterator<Item = usize>,
    ) -> Result<(), NotSimple> {
        self.points.clear();
        // Minus zero would be sorted before zero.
        self.points.extend(points.map(|point| point + 0.0));
        self.next.clear();
        self.previous.clear();
        for count in counts {
            let (start, count) = (self.next.len() as u32, count as u32);
            let round = |i: u32| start + i % count;
            self.next.extend((0..count).map(|i| round(i + 1)));
            self.previous
                .extend((0..count).map(|i| round(i + count - 1)));
        }
        let size = self.points.len();
        self.ordered.clear();
        self.ordered.extend(0..size as u32);
        let points = &self.points;
        let at = |point: u32| points[point as usize];
        self.ordered.sort_unstable_by(|&one, &other| {
            let (one, other) = (at(one), at(other));
            one.x.total_cmp(&other.x).then(one.y.total_cmp(&other.y))
        });
        if self
            .ordered
            .windows(2)
            .any(|pair| at(pair[0]) == at(pair[1]))
        {
            return Err(NotSimple);
        }
        self.rank.resize(size, 0);
        for (place, &point) in self.ordered.iter().enumerate() {
            self.rank[point as usize] = place as u32;
        }
        self.bounded.clear();
        self.bounded.resize(size, usize::MAX);
        self.line.clear();
        for interval in &mut self.intervals {
            interval.chain.clear();
        }
        self.free.clear();
        self.free.extend(0..self.intervals.len());
        self.net.clear();
        Ok(())
    }

    /// The line passes a point.
    fn pass(&mut self, point: u32) -> Result<(), NotSimple> {
        let (before, after) = (self.previous[point as usize], self.next[point as usize]);
        let later = |other: u32| self.rank[other as usize] > self.rank[point as usize];
        match (later(before), later(after)) {
            (false, true) => {
                let interval = self.bounded[before as usize];
                if self.over_upper(point, interval) >= 0.0 {
                    return Err(NotSimple);
                }
                self.is_clear_below(point, self.place(interval)? + 1)?;
                self.bound_below(interval, point);
                self.add_at_bottom(interval, point, NOTHING);
                Ok(())
            }
            (true, false) => {
                let interval = self.bounded[point as usize];
                if self.over_lower(point, interval) <= 0.0 {
                    return Err(NotSimple);
                }
                self.is_clear_above(point, self.place(interval)?)?;
                self.bound_above(interval, before);
                self.add_at_top(interval, point, NOTHING);
                Ok(())
            }
            (true, true) => {
                let turn = self.turn(before, point, after);
                if turn > 0.0 {
                    self.begin(point)
                } else if turn < 0.0 {
                    self.part(point)
                } else {
                    Err(NotSimple)
                }
            }
            (false, false) => self.close(point),
        }
    }

    /// An interval begins in a point of the line outside all others.
    fn begin(&mut self, point: u32) -> Result<(), NotSimple> {
        let mut place = 0;
        while place < self.line.len() && self.is_below(point, place)? {
            place += 1;
        }
        self.is_clear_below(point, place)?;
        let interval = self.interval();
        self.line.insert(place, interval);
        self.bound_below(interval, point);
        self.bound_above(interval, self.previous[point as usize]);
        self.intervals[interval].chain.push_back(Link {
            point,
            behind: NOTHING,
        });
        Ok(())
    }

    /// A point within an interval parts it: a diagonal runs from it to the chain's rightmost point.
    fn part(&mut self, point: u32) -> Result<(), NotSimple> {
        let mut place = 0;
        while place < self.line.len() && self.is_below(point, place)? {
            place += 1;
        }
        let above = *self.line.get(place).ok_or(NotSimple)?;
        if self.over_upper(point, above) >= 0.0 {
            return Err(NotSimple);
        }
        let below = self.interval();
        self.line.insert(place + 1, below);
        let chain = &mut self.intervals[above].chain;
        let rank = &self.rank;
        let tip = (0..chain.len())
            .max_by_key(|&i| rank[chain[i].point as usize])
            .ok_or(NotSimple)?;
        let rest: VecDeque<Link> = chain.range(tip..).copied().collect();
        chain.truncate(tip + 1);
        self.intervals[below].chain.extend(rest);
        let lower = self.intervals[above].lower;
        self.bound_below(below, lower);
        self.bound_above(below, self.previous[point as usize]);
        self.bound_below(above, point);
        let diagonal = self.net.diagonal();
        self.add_at_bottom(above, point, diagonal);
        self.add_at_top(below, point, diagonal);
        Ok(())
    }

    /// Two edges end in a point: an interval's own, which ends with them, or those between two
    /// intervals, which become one.
    fn close(&mut self, point: u32) -> Result<(), NotSimple> {
        let above = self.bounded[self.previous[point as usize] as usize];
        let below = self.bounded[point as usize];
        let place = self.place(above)?;
        if above == below {
            self.is_clear_above(point, place)?;
            self.is_clear_below(point, place + 1)?;
            let mut behind = NOTHING;
            let mut chain = std::mem::take(&mut self.intervals[above].chain);
            for i in 1..chain.len() {
                let (one, other) = (chain[i - 1], chain[i]);
                if self.turn(point, one.point, other.point) <= 0.0 {
                    return Err(NotSimple);
                }
                let corners = [point, one.point, other.point];
                behind = self.net.add(corners, behind, one.behind);
            }
            chain.clear();
            self.intervals[above].chain = chain;
            self.line.remove(place);
            self.free.push(above);
            return Ok(());
        }
        if self.line.get(place + 1) != Some(&below)
            || self.over_upper(point, above) >= 0.0
            || self.over_lower(point, below) <= 0.0
        {
            return Err(NotSimple);
        }
        self.add_at_bottom(above, point, NOTHING);
        self.add_at_top(below, point, NOTHING);
        let mut rest = std::mem::take(&mut self.intervals[below].chain);
        // The point itself ends one chain and begins the other.
        self.intervals[above].chain.pop_back();
        self.intervals[above].chain.append(&mut rest);
        self.intervals[below].chain = rest;
        let lower = self.intervals[below].lower;
        self.bound_below(above, lower);
        self.line.remove(place + 1);
        self.free.push(below);
        Ok(())
    }

    /// Adds a point before a chain's first, with every triangle that it sees; `behind` is what lies
    /// behind the edge from it to that first point.
    fn add_at_top(&mut self, interval: usize, point: u32, mut behind: u32) {
        let chain = &mut self.intervals[interval].chain;
        while let (Some(&one), Some(&other)) = (chain.front(), chain.get(1))
            && turn_at(&self.points, [point, one.point, other.point]) > 0.0
        {
            let corners = [point, one.point, other.point];
            behind = self.net.add(corners, behind, one.behind);
            chain.pop_front();
        }
        chain.push_front(Link { point, behind });
    }

    /// The same after a chain's last point; `behind` is behind the edge from that last point.
    fn add_at_bottom(&mut self, interval: usize, point: u32, mut behind: u32) {
        let chain = &mut self.intervals[interval].chain;
        while let Some(before) = chain.len().checked_sub(2)
            && let (one, other) = (chain[before], chain[before + 1])
            && turn_at(&self.points, [one.point, other.point, point]) > 0.0
        {
            let corners = [one.point, other.point, point];
            behind = self.net.add(corners, one.behind, behind);
            chain.pop_back();
        }
        if let Some(last) = chain.back_mut() {
            last.behind = behind;
        }
        chain.push_back(Link {
            point,
            behind: NOTHING,
        });
    }

    /// An interval that is not in use, its chain empty.
    fn interval(&mut self) -> usize {
        self.free.pop().unwrap_or_else(|| {
            self.intervals.push(Interval::default());
            self.intervals.len() - 1
        })
    }

    fn bound_below(&mut self, interval: usize, edge: u32) {
        self.intervals[interval].lower = edge;
        self.bounded[edge as usize] = interval;
    }

    fn bound_above(&mut self, interval: usize, edge: u32) {
        self.intervals[interval].upper = edge;
        self.bounded[edge as usize] = interval;
    }

    fn place(&self, interval: usize) -> Result<usize, NotSimple> {
        let found = self.line.iter().position(|&other| other == interval);
        found.ok_or(NotSimple)
    }

    /// Whether a point lies below the interval at this place of the line; on its lower edge neither
    /// answer would do.
    fn is_below(&self, point: u32, place: usize) -> Result<bool, NotSimple> {
        let over = self.over_lower(point, self.line[place]);
        if over == 0.0 {
            Err(NotSimple)
        } else {
            Ok(over < 0.0)
        }
    }

    /// Whether a point lies below all that comes before this place of the line.
    fn is_clear_above(&self, point: u32, place: usize) -> Result<(), NotSimple> {
        let above = place.checked_sub(1).map(|above| self.line[above]);
        let clear = above.is_none_or(|above| self.over_lower(point, above) < 0.0);
        clear.then_some(()).ok_or(NotSimple)
    }

    /// Whether a point lies above all that stands at this place of the line or after it.
    fn is_clear_below(&self, point: u32, place: usize) -> Result<(), NotSimple> {
        let below = self.line.get(place);
        let clear = below.is_none_or(|&below| self.over_upper(point, below) > 0.0);
        clear.then_some(()).ok_or(NotSimple)
    }

    /// Above 0 where a point lies above an interval's upper edge, below 0 where below it.
    fn over_upper(&self, point: u32, interval: usize) -> f64 {
        let edge = self.intervals[interval].upper;
        self.turn(self.next[edge as usize], edge, point)
    }

    /// Above 0 where a point lies above an interval's lower edge, below 0 where below it.
    fn over_lower(&self, point: u32, interval: usize) -> f64 {
        let edge = self.intervals[interval].lower;
        self.turn(edge, self.next[edge as usize], point)
    }

    fn turn(&self, a: u32, b: u32, c: u32) -> f64 {
        turn_at(&self.points, [a, b, c])
    }
}

/// Twice the area of a triangle, its sign exact: above 0 where a, b, c run anticlockwise.
pub(super) fn turn(a: DVec2, b: DVec2, c: DVec2) -> f64 {
    let [a, b, c] = [a, b, c].map(|DVec2 { x, y }| Coord { x, y });
    orient2d(a, b, c)
}

/// The same of points by their numbers.
fn turn_at(points: &[DVec2], corners: [u32; 3]) -> f64 {
    let [a, b, c] = corners.map(|point| points[point as usize]);
    turn(a, b, c)
}
