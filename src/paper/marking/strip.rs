//! A strip that folds round one side: lip of the face, the side, lip of the back.
//!
//! Drawn as it lies flat, printed side up: s upwards from the nut, across it the way round the
//! wood. The face's lip points to where the face is drawn, so the bass strip mirrors the treble
//! one.

use std::f64::consts::FRAC_PI_2;

use glam::DVec2;

use crate::layout::{Layout, SideLayout, StringPath};
use crate::paper::cut::within;
use crate::paper::dimension::{Style, arrow, clear_for_text, figure, line_step, put};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Layer, LineKind, Sheet, Weight};
use crate::plane::{Piece, Region};
use crate::tolerance::NOISE;
use crate::units::show_inches;

use super::marks::{self, NUMBERS, height_of, mark, prick, strip_numbers, write};
use crate::input::Side;

/// Width of a lip, mm.
pub(super) const LIP: f64 = 7.0;

/// From the strip's ends to the arrows that show the datum, clear of the words there, mm.
const TO_ARROW: f64 = 10.0;

/// What the words at the strip's crest end take of it, mm.
const END_WORDS: f64 = INSET + 2.0 + 1.6 * 2.5 + 0.6;
/// From the strip's ends to the words there, mm.
const INSET: f64 = 1.5;

/// What is left of a stretch between those to be kept clear, in order.
fn gaps([mut from, to]: [f64; 2], mut keep_clear: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    keep_clear.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut left = Vec::new();
    for [low, high] in keep_clear {
        if low < to && high > from {
            left.push([from, low]);
            from = high;
        }
    }
    left.push([from, to]);
    left
}

/// The strip of one side.
pub(super) fn strip(layout: &Layout, side: Side) -> Sheet {
    let strip = Strip {
        layout,
        side: layout.sides.get(side),
    };
    let mut sheet = Sheet::new(format!("{} strip", side.name()), 0.0, 0.0);
    strip.paper(&mut sheet);
    strip.strings(&mut sheet);
    strip.plate(&mut sheet);
    strip.bores(&mut sheet);
    strip.pilots(&mut sheet);
    strip.words(&mut sheet);
    sheet
}

struct Strip<'a> {
    layout: &'a Layout,
    side: &'a SideLayout,
}

impl Strip<'_> {
    /// Where a point of the side lies on the strip.
    fn at(&self, s: f64, z: f64) -> DVec2 {
        let across = LIP + self.layout.front_when_drilled() - z;
        DVec2::new(self.side.side.sign() * across, s)
    }

    /// s at which the side's straight edge, and with it the strip, begins.
    fn start(&self) -> f64 {
        self.layout.straight_from(self.side.side)
    }

    /// z of the back edge at s.
    fn back(&self, s: f64) -> f64 {
        self.layout.back_when_drilled(self.side.line.at(s).y)
    }

    /// Between two distances towards the back from the face's edge and from the back's edge,
    /// negative out onto the lips; along the whole strip.
    fn band(&self, from: impl Fn(f64) -> f64, to: impl Fn(f64) -> f64) -> Region {
        let line = &self.side.line;
        let (a, b) = (self.start(), line.end_s);
        Region::polygon(&[
            self.at(a, from(a)),
            self.at(b, from(b)),
            self.at(b, to(b)),
            self.at(a, to(a)),
        ])
    }

    /// Cut edge and fold lines.
    fn paper(&self, sheet: &mut Sheet) {
        let front = self.layout.front_when_drilled();
        let edge = self.band(|_| front + LIP, |s| self.back(s) - LIP);
        sheet.region(Layer::Frame, LineKind::Narrow, &edge);
        let (a, b) = (self.start(), self.side.line.end_s);
        for fold in [[front, front], [self.back(a), self.back(b)]] {
            let (a, b) = (self.at(a, fold[0]), self.at(b, fold[1]));
            sheet.line(Layer::Outline, LineKind::Hidden, a, b);
        }
        // The datum: an arrow onto the face's edge, from the lip.
        let sign = self.side.side.sign();
        for s in [a + TO_ARROW, b - TO_ARROW] {
            arrow(
                sheet,
                Layer::Notes,
                self.at(s, front),
                DVec2::X * -sign,
                4.0,
            );
        }
    }

    /// With `[strings]`: where this side's strings run within the wood's thickness, as one would see
    /// them through it along the bores. To look at, not to transfer.
    fn strings(&self, sheet: &mut Sheet) {
        let front = self.layout.front_when_drilled();
        let side = self.band(|_| front, |s| self.back(s));
        let own = |string: &&StringPath| string.side == self.side.side && string.strung.is_some();
        for string in self.layout.strings.iter().filter(own) {
            let run = string.run();
            let [a, b] = [run.from, run.to]
                .map(|point| self.at(self.side.line.s_of(point.truncate()), point.z));
            for shown in within(&Piece::Line { a, b }, &side) {
                sheet.path(Layer::Strings, LineKind::Dotted, vec![shown], false);
            }
        }
    }

    fn plate_region(&self) -> Region {
        let plate = &self.side.plate;
        let (top, low) = (
            plate.width / 2.0 - plate.middle_below_face,
            -plate.width / 2.0 - plate.middle_below_face,
        );
        let (a, b) = (plate.start_s, plate.end_s);
        Region::polygon(&[
            self.at(a, top),
            self.at(b, top),
            self.at(b, low),
            self.at(a, low),
        ])
    }

    /// The plate's outline where it lies on the side, and the line of the axes. A plate that stands over does
    /// not lie on the lips, which are face and back.
    fn plate(&self, sheet: &mut Sheet) {
        let front = self.layout.front_when_drilled();
        let side = self.band(|_| front, |s| self.back(s));
        for piece in &self.plate_region().boundary {
            for shown in within(piece, &side) {
                sheet.path(Layer::Adjacent, LineKind::Adjacent, vec![shown], false);
            }
        }
        let line = &self.side.line;
        let z = -self.layout.axis_below_face;
        let (a, b) = (self.at(self.start(), z), self.at(line.end_s, z));
        sheet.line(Layer::Axes, LineKind::Axis, a, b);
    }

    /// Where a knife line goes with the wood or out of sight: under the plate, as far as the side goes, and
    /// what the later rounding takes at both edges of the side.
    fn may_be_cut(&self) -> Vec<Region> {
        let plate = &self.side.plate;
        let half = plate.width / 2.0;
        let [top, low] = [half, -half].map(|half| half - plate.middle_below_face);
        let front = self.layout.front_when_drilled();
        let (a, b) = (plate.start_s, plate.end_s);
        let under = |s: f64| {
            [
                self.at(s, top.min(front)),
                self.at(s, low.max(self.back(s))),
            ]
        };
        let ([near, far], [near_end, far_end]) = (under(a), under(b));
        let mut regions = vec![Region::polygon(&[near, near_end, far_end, far])];
        let radius = self.layout.design.head.edge_radius;
        if radius > 0.0 {
            regions.push(self.band(|_| front + radius, |_| front - radius));
            regions.push(self.band(|s| self.back(s) + radius, |s| self.back(s) - radius));
        }
        regions
    }

    fn bores(&self, sheet: &mut Sheet) {
        let front = self.layout.front_when_drilled();
        let knife = self.may_be_cut();
        let bores = &self.side.bores;
        for (index, bore) in bores.iter().enumerate() {
            let centre = self.at(bore.s, bore.entry.z);
            let (from, to) = (
                self.at(bore.s, front + LIP),
                self.at(bore.s, self.back(bore.s) - LIP),
            );
            mark(sheet, from, to, &knife);
            sheet.circle(Layer::Bores, LineKind::Narrow, centre, bore.radius());
            let mut widest = bore.radius();
            if let Some(mouth) = bore.counterbore {
                widest = mouth.diameter / 2.0;
                sheet.circle(Layer::Bores, LineKind::Narrow, centre, widest);
            }
            prick(sheet, Layer::Bores, centre);
            let lines = strip_numbers(self.layout, bore);
            let next = bores.get(index + 1).map(|next| next.s - widest);
            if let Some((from, count)) = self.room_for(&lines, bore.s, widest, next)
                && let Some(lines) = lines.get(..count)
            {
                let up = from - bore.s + height_of(lines) / 2.0;
                write(sheet, centre + DVec2::Y * up, Anchor::Middle, lines);
            }
        }
    }

    /// Where beyond a bore its lines begin, and how many of them find room before the `next` circle or the
    /// strip's end: clear of pilots, of the plate's end and of the words at the strip's end, as far as that
    /// leaves two of them anything.
    fn room_for(
        &self,
        lines: &[(String, Weight)],
        s: f64,
        widest: f64,
        next: Option<f64>,
    ) -> Option<(f64, usize)> {
        let pilots = self.side.pilots.iter();
        let pilots = pilots.map(|pilot| [-0.5, 0.5].map(|half| pilot.s + half * pilot.diameter));
        let plate = [self.side.plate.end_s; 2];
        let end = self.side.line.end_s;
        let before_words = next.unwrap_or(end - END_WORDS);
        let clear: Vec<[f64; 2]> = pilots.clone().chain([plate]).collect();
        let tries = [
            (clear, before_words),
            (pilots.clone().collect(), before_words),
            (pilots.collect(), next.unwrap_or(end)),
        ];
        let most = tries.map(|(keep_clear, to)| {
            let gaps = gaps([s + widest, to], keep_clear);
            let fitting = gaps.into_iter().map(|[from, to]| {
                let room = to - from - NUMBERS;
                let fits =
                    |count: &usize| height_of(lines.get(..*count).unwrap_or_default()) <= room;
                let count = (1..=lines.len()).rev().find(fits).unwrap_or_default();
                (from + NUMBERS / 2.0, count)
            });
            // The first of those that take as many.
            fitting.rev().max_by_key(|(_, count)| *count)
        });
        let with = |least: usize| most.iter().flatten().find(|(_, count)| *count >= least);
        with(2).or_else(|| with(1)).copied()
    }

    fn pilots(&self, sheet: &mut Sheet) {
        for pilot in &self.side.pilots {
            let at = self.at(pilot.s, pilot.entry.z);
            sheet.circle(Layer::Pilots, LineKind::Narrow, at, pilot.diameter / 2.0);
            prick(sheet, Layer::Pilots, at);
        }
    }

    /// Which lip is which, which side, and where the strip begins and ends.
    fn words(&self, sheet: &mut Sheet) {
        let line = &self.side.line;
        let front = self.layout.front_when_drilled();
        let first = self.side.bores.first().map_or(line.end_s, |bore| bore.s);
        let last = self.side.bores.last().map_or(self.start(), |bore| bore.s);
        let half_lip = LIP / 2.0;
        for (from, to) in [
            (self.start() + TO_ARROW + 2.0, first),
            (last, line.end_s - TO_ARROW - 2.0),
        ] {
            let middle = (from + to) / 2.0;
            let style = Style {
                weight: Weight::Strong,
                ..Style::default()
            };
            for (text, z) in [
                ("FACE = DATUM", front + half_lip),
                ("BACK", self.back(middle) - half_lip),
            ] {
                if text_width(text, style.text, style.weight) + 2.0 <= to - from {
                    let at = self.at(middle, z) + DVec2::X * (style.text / 2.0);
                    put(
                        sheet,
                        Layer::Notes,
                        at,
                        FRAC_PI_2,
                        Anchor::Middle,
                        style,
                        text,
                    );
                }
            }
        }
        let name = match self.side.side {
            Side::Treble => "TREBLE SIDE",
            Side::Bass => "BASS SIDE",
        };
        let nut = if self.start() > NOISE {
            format!("start s {}", figure(self.start()))
        } else {
            "nut line".to_owned()
        };
        let end = format!("end s {}", figure(line.end_s));
        // Inches under their figure, as beside the marks.
        let inches = marks::lengths(self.layout).inches;
        let (mut from, mut to) = (self.start() + INSET, line.end_s - INSET - 2.0);
        if inches && self.start() > NOISE {
            self.word(sheet, from, &show_inches(self.start()), false);
            from += line_step(2.0);
        }
        self.word(sheet, from, &nut, false);
        self.word(sheet, from + line_step(2.0), name, true);
        self.word(sheet, to, &end, false);
        if inches {
            to -= line_step(2.0);
            self.word(sheet, to, &show_inches(line.end_s), false);
        }
        self.word(sheet, to - line_step(2.5), name, true);
    }

    /// A word in the middle of the side.
    fn word(&self, sheet: &mut Sheet, s: f64, text: &str, strong: bool) {
        let middle = (self.layout.front_when_drilled() + self.back(s)) / 2.0;
        let weight = if strong {
            Weight::Strong
        } else {
            Weight::Plain
        };
        let room = self.layout.front_when_drilled() - self.back(s) - 2.0;
        // Thin heads get smaller words rather than cut ones.
        let wanted = text_width(text, 2.0, weight);
        let style = Style {
            text: 2.0 * (room / wanted).clamp(0.5, 1.0),
            weight,
            ..Style::default()
        };
        let at = self.at(s, middle);
        let anchor = Anchor::Middle;
        clear_for_text(sheet, Layer::Notes, at, 0.0, anchor, style, text);
        put(sheet, Layer::Notes, at, 0.0, anchor, style, text);
    }
}
