//! The strings of one side as one looks along its bores: barrels and windings round, the head cut open
//! along the slot's mid-line, every string from the nut to where it touches its winding.

use glam::{DVec2, DVec3};

use crate::input::Side;
use crate::layout::{Layout, SideLayout};
use crate::plane::{Piece, Region};

use super::{Anchor, Fill, Layer, LineKind, Sheet};

/// Room round the drawing, mm.
const ROUND: f64 = 6.0;
/// Height of capitals, mm.
const CAPITALS: f64 = 2.2;
/// The head is shown so far past the last barrel, mm.
const PAST: f64 = 14.0;

/// Side view 1 : 1, the nut to the left, the face up; `None` without `[strings]`.
#[must_use]
pub fn string_side(layout: &Layout, side: Side) -> Option<Sheet> {
    layout.design.strings.as_ref()?;
    let own = layout.sides.get(side);
    let last = own.bores.last()?;
    let strings = || layout.strings.iter().filter(|string| string.side == side);
    let highest = strings()
        .map(|string| string.height)
        .fold(CAPITALS * 2.0, f64::max);
    let end = last.s + PAST;
    let deepest = layout
        .outline
        .thickness_at(0.0)
        .max(layout.outline.thickness_at(last.entry.y));
    let low = strings()
        .filter_map(|string| string.strung.as_ref())
        .map(|wound| layout.axis_below_face + wound.winding_radius)
        .fold(deepest, f64::max);
    let view = View {
        layout,
        side: own,
        origin: DVec2::new(ROUND + 4.0, low + ROUND + CAPITALS * 2.5),
        end,
    };
    let mut sheet = Sheet::new(
        format!("strings of the {} side", side.name()),
        view.origin.x + end + ROUND,
        view.origin.y + highest + ROUND + CAPITALS,
    );
    view.wood(&mut sheet);
    view.barrels(&mut sheet);
    for string in strings() {
        let run = string.run();
        let (from, to) = (view.at(run.from), view.at(run.to));
        sheet.line(Layer::Strings, LineKind::Narrow, from, to);
    }
    view.words(&mut sheet);
    Some(sheet)
}

struct View<'a> {
    layout: &'a Layout,
    side: &'a SideLayout,
    origin: DVec2,
    end: f64,
}

impl View<'_> {
    /// A point of the head's frame on the sheet: along the side, and up.
    fn at(&self, point: DVec3) -> DVec2 {
        self.sz(self.side.line.s_of(point.truncate()), point.z)
    }

    fn sz(&self, s: f64, z: f64) -> DVec2 {
        self.origin + DVec2::new(s, z)
    }

    fn back(&self, s: f64) -> f64 {
        -self.layout.outline.thickness_at(self.side.line.at(s).y)
    }

    /// The head cut along the slot's mid-line: what is left towards the nut of slot and ramp, and the
    /// rest of the head behind the cut.
    fn wood(&self, sheet: &mut Sheet) {
        let head = Region::polygon(&[
            self.sz(0.0, 0.0),
            self.sz(self.end, 0.0),
            self.sz(self.end, self.back(self.end)),
            self.sz(0.0, self.back(0.0)),
        ]);
        sheet.area(
            Layer::Outline,
            Some(LineKind::Narrow),
            &head,
            Fill::Grey(0.96),
        );
        let Some(slot) = &self.side.slot else { return };
        let begins = slot.at(0.0, 0.0);
        let floor = |tau: f64| {
            let point = slot.at(tau, 0.0);
            let depth = slot.ramp_depth().map_or(0.0, |depth| depth.at(point));
            self.at(point.extend(-depth))
        };
        let mouth = slot.ramp.map_or(0.0, |ramp| -ramp.mouth);
        let s = self.side.line.s_of(begins);
        let cut = Region::polygon(&[
            self.sz(0.0, 0.0),
            floor(mouth),
            floor(0.0),
            self.sz(s, self.back(s)),
            self.sz(0.0, self.back(0.0)),
        ]);
        sheet.area(Layer::Ramps, Some(LineKind::Wide), &cut, Fill::Grey(0.8));
    }

    fn barrels(&self, sheet: &mut Sheet) {
        let bare = self.layout.design.machines.barrel_diameter / 2.0;
        for bore in &self.side.bores {
            let centre = self.sz(bore.s, bore.entry.z);
            sheet.circle(Layer::Adjacent, LineKind::Wide, centre, bare);
            let cross = 1.2;
            for arm in [DVec2::X * cross, DVec2::Y * cross] {
                sheet.line(Layer::Axes, LineKind::Narrow, centre - arm, centre + arm);
            }
        }
        for string in &self.layout.strings {
            let bore = self.side.bores.get(string.barrel - 1);
            let wound = string.strung.as_ref();
            if let (true, Some(bore), Some(wound)) = (string.side == self.side.side, bore, wound) {
                let centre = self.sz(bore.s, bore.entry.z);
                sheet.circle(
                    Layer::Strings,
                    LineKind::Narrow,
                    centre,
                    wound.winding_radius,
                );
            }
        }
    }

    fn words(&self, sheet: &mut Sheet) {
        let say = |sheet: &mut Sheet, at: DVec2, anchor, words: String| {
            sheet.text(Layer::Notes, at, CAPITALS, anchor, words);
        };
        let top = self
            .layout
            .strings
            .iter()
            .map(|string| string.height)
            .fold(0.0, f64::max);
        let nut = [self.sz(0.0, 0.0), self.sz(0.0, top + 2.0)];
        sheet.path(
            Layer::Outline,
            LineKind::Wide,
            vec![Piece::Line {
                a: nut[0],
                b: nut[1],
            }],
            false,
        );
        let below = self
            .side
            .bores
            .iter()
            .map(|bore| self.back(bore.s))
            .fold(self.back(0.0), f64::min);
        let low = self.origin.y + below - ROUND / 2.0 - CAPITALS;
        let at_nut = DVec2::new(self.origin.x, low);
        say(sheet, at_nut, Anchor::Start, "nut".to_owned());
        let letter = match self.side.side {
            Side::Treble => 'T',
            Side::Bass => 'B',
        };
        for string in &self.layout.strings {
            let bore = self.side.bores.get(string.barrel - 1);
            let (true, Some(bore)) = (string.side == self.side.side, bore) else {
                continue;
            };
            let at = DVec2::new(self.origin.x + bore.s, low);
            let name = format!("{letter}{}", bore.number);
            sheet.strong(Layer::Notes, at, CAPITALS, Anchor::Middle, name);
            let under = at - DVec2::Y * CAPITALS * 1.6;
            say(
                sheet,
                under,
                Anchor::Middle,
                format!("string {}", string.number),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;
    use crate::paper::Item;

    #[test]
    fn strings_are_tangents_of_their_windings_in_the_drawing_too() {
        let mut design = six_string();
        assert!(string_side(&Layout::new(&design, Copy::Finished), Side::Bass).is_none());
        design.strings = crate::input::sample::strung(&design);
        let layout = Layout::new(&design, Copy::Finished);
        for side in Side::BOTH {
            let sheet = string_side(&layout, side).unwrap();
            let mut lines = Vec::new();
            let mut rings = Vec::new();
            for item in &sheet.items {
                match item {
                    Item::Path(path) if path.layer == Layer::Strings => lines.push(path.pieces[0]),
                    Item::Circle {
                        layer: Layer::Strings,
                        center,
                        radius,
                        ..
                    } => rings.push((*center, *radius)),
                    _ => {}
                }
            }
            assert_eq!((lines.len(), rings.len()), (3, 3));
            // Each run ends on its own winding, half a string inside the winding's outside, square to
            // the radius.
            for (line, string) in lines
                .iter()
                .zip(layout.strings.iter().filter(|string| string.side == side))
            {
                let wound = string.strung.as_ref().unwrap();
                let (centre, ring) = rings
                    .iter()
                    .min_by(|a, b| {
                        line.end()
                            .distance(a.0)
                            .total_cmp(&line.end().distance(b.0))
                    })
                    .unwrap();
                assert!((ring - wound.winding_radius).abs() < 1e-12);
                let out = line.end() - *centre;
                assert!((out.length() - wound.centre_radius()).abs() < 1e-9);
                assert!(out.dot(line.start() - line.end()).abs() < 1e-9);
            }
            // Nothing leaves the sheet.
            let paper = DVec2::new(sheet.width, sheet.height);
            for line in &lines {
                for point in [line.start(), line.end()] {
                    assert!(point.cmpge(DVec2::ZERO).all() && point.cmple(paper).all());
                }
            }
        }
    }
}
