//! The layout in one look: the head's face with slots, ramps, bores, plates and strings. For reading
//! on a screen or in a report, not for marking out.

use glam::DVec2;

use crate::input::Side;
use crate::layout::{Bore, Layout, SideLayout};
use crate::plane::Region;
use crate::units::number;

use super::{Anchor, Fill, Layer, LineKind, Sheet};

/// Room beside the plates for the bores' labels, mm.
const BESIDE: f64 = 20.0;
/// Room beyond crest and nut line, mm.
const BEYOND: f64 = 10.0;
/// Height of capitals, mm.
const CAPITALS: f64 = 2.8;
/// Centre lines and axes stand out past what they belong to by this much, mm.
const OVERSHOOT: f64 = 4.0;

/// The face of the head, crest up, 1 : 1. Each bore carries its number and its distance along the
/// side from the nut line.
#[must_use]
pub fn face_plan(layout: &Layout) -> Sheet {
    let outline = layout.outline.region();
    let plates: Vec<Region> = layout.each_side().map(|side| plate(layout, side)).collect();
    let reach = |toward: DVec2| {
        plates
            .iter()
            .chain([&outline])
            .map(|region| region.reach(toward))
            .fold(f64::NEG_INFINITY, f64::max)
    };
    let (left, right) = (reach(-DVec2::X), reach(DVec2::X));
    let (below, above) = (reach(-DVec2::Y), reach(DVec2::Y));
    let mut sheet = Sheet::new(
        format!("{}: face of the head", layout.design.title),
        left + right + 2.0 * BESIDE,
        below + above + 2.0 * BEYOND,
    );
    let plan = Plan {
        origin: DVec2::new(left + BESIDE, below + BEYOND),
    };
    plan.head(&mut sheet, layout, &outline);
    for (side, plate) in layout.each_side().zip(&plates) {
        plan.region(&mut sheet, Layer::Adjacent, LineKind::Narrow, plate);
        plan.side(&mut sheet, layout, side);
    }
    plan.strings(&mut sheet, layout);
    plan.labels(&mut sheet, layout, left, right);
    sheet
}

/// The plate as it lies on its side, seen from the front.
fn plate(layout: &Layout, side: &SideLayout) -> Region {
    let out = side.line.inward * -layout.design.machines.plate_thickness;
    let (start, end) = (
        side.line.at(side.plate.start_s),
        side.line.at(side.plate.end_s),
    );
    Region::polygon(&[start, end, end + out, start + out])
}

/// A hole square to the side as it would show from the front.
fn hole(entry: DVec2, direction: DVec2, diameter: f64, depth: f64) -> Region {
    let across = direction.perp() * (diameter / 2.0);
    let deep = entry + direction * depth;
    Region::polygon(&[entry - across, entry + across, deep + across, deep - across])
}

/// Where the head's frame lies on the sheet.
struct Plan {
    origin: DVec2,
}

impl Plan {
    fn line(&self, sheet: &mut Sheet, layer: Layer, kind: LineKind, a: DVec2, b: DVec2) {
        sheet.line(layer, kind, a + self.origin, b + self.origin);
    }

    fn moved(&self, region: &Region) -> Region {
        let boundary = region
            .boundary
            .iter()
            .map(|piece| piece.placed(|point| point + self.origin, 1.0, 0.0))
            .collect();
        Region { boundary }
    }

    fn region(&self, sheet: &mut Sheet, layer: Layer, kind: LineKind, region: &Region) {
        sheet.region(layer, kind, &self.moved(region));
    }

    fn head(&self, sheet: &mut Sheet, layout: &Layout, outline: &Region) {
        let wood = self.moved(outline);
        sheet.area(
            Layer::Outline,
            Some(LineKind::Wide),
            &wood,
            Fill::Grey(0.93),
        );
        for slot in layout.each_side().filter_map(|side| side.slot.as_ref()) {
            if let Some(ramp) = slot.ramp_region() {
                let ramp = self.moved(&ramp);
                sheet.area(Layer::Ramps, Some(LineKind::Wide), &ramp, Fill::Grey(0.8));
            }
            let opening = self.moved(&slot.region());
            sheet.area(
                Layer::Slots,
                Some(LineKind::Wide),
                &opening,
                Fill::Grey(1.0),
            );
        }
        let (start, end) = (-OVERSHOOT, layout.outline.length + OVERSHOOT);
        self.line(
            sheet,
            Layer::Axes,
            LineKind::Axis,
            DVec2::new(0.0, start),
            DVec2::new(0.0, end),
        );
    }

    fn side(&self, sheet: &mut Sheet, layout: &Layout, side: &SideLayout) {
        for bore in &side.bores {
            let section = Region::polygon(&bore.section());
            self.region(sheet, Layer::Bores, LineKind::Hidden, &section);
            let (entry, direction) = (bore.entry.truncate(), bore.direction.truncate());
            if let Some(mouth) = bore.counterbore {
                let mouth = hole(entry, direction, mouth.diameter, mouth.depth);
                self.region(sheet, Layer::Bores, LineKind::Hidden, &mouth);
            }
            self.axis(sheet, layout, bore);
        }
        for pilot in &side.pilots {
            let (entry, direction) = (pilot.entry.truncate(), pilot.direction.truncate());
            let pilot = hole(entry, direction, pilot.diameter, pilot.depth);
            self.region(sheet, Layer::Pilots, LineKind::Hidden, &pilot);
        }
    }

    /// The bore's axis, and the line on which its centre squares across.
    fn axis(&self, sheet: &mut Sheet, layout: &Layout, bore: &Bore) {
        let plate = layout.design.machines.plate_thickness;
        let from = bore.axis_at(-plate - OVERSHOOT / 2.0).truncate();
        let to = bore.axis_at(bore.depth + bore.point_height).truncate();
        self.line(sheet, Layer::Axes, LineKind::Axis, from, to);
        let y = bore.squares_across_at();
        let centre = DVec2::new(0.0, y);
        self.line(
            sheet,
            Layer::Marks,
            LineKind::Narrow,
            bore.entry.truncate(),
            centre,
        );
    }

    fn strings(&self, sheet: &mut Sheet, layout: &Layout) {
        for string in &layout.strings {
            if let Some(winding) = layout.winding_in_plan(string) {
                self.region(sheet, Layer::Strings, LineKind::Narrow, &winding);
            }
            self.line(
                sheet,
                Layer::Strings,
                LineKind::Narrow,
                string.at_nut,
                string.at_barrel.truncate(),
            );
            sheet.circle(
                Layer::Strings,
                LineKind::Narrow,
                string.at_hole + self.origin,
                0.7,
            );
        }
    }

    fn labels(&self, sheet: &mut Sheet, layout: &Layout, left: f64, right: f64) {
        for bore in layout.bores() {
            let (x, anchor, letter) = match bore.side {
                Side::Treble => (right + 3.0, Anchor::Start, 'T'),
                Side::Bass => (-left - 3.0, Anchor::End, 'B'),
            };
            let at = self.origin + DVec2::new(x, bore.entry.y);
            let name = format!("{letter}{}", bore.number);
            sheet.strong(Layer::Notes, at + DVec2::Y * 0.7, CAPITALS, anchor, name);
            let along = number(bore.s);
            let below = at - DVec2::Y * (CAPITALS + 0.7);
            sheet.text(Layer::Notes, below, CAPITALS, anchor, along);
        }
        let words = [
            (-BEYOND + 1.5, "nut line"),
            (layout.outline.length + OVERSHOOT + 1.0, "crest"),
        ];
        for (y, word) in words {
            let at = self.origin + DVec2::new(0.0, y);
            sheet.text(Layer::Notes, at, CAPITALS, Anchor::Middle, word);
        }
        for (side, word) in [(Side::Treble, "treble"), (Side::Bass, "bass")] {
            let (x, anchor) = match side {
                Side::Treble => (right + 3.0, Anchor::Start),
                Side::Bass => (-left - 3.0, Anchor::End),
            };
            let at = self.origin + DVec2::new(x, 0.0);
            sheet.text(Layer::Notes, at, CAPITALS, anchor, word);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;
    use crate::paper::{Item, measure};
    use crate::plane::Piece;

    #[test]
    fn every_bore_is_named_with_its_place_and_nothing_leaves_the_sheet() {
        let layout = Layout::new(&six_string(), Copy::Finished);
        let sheet = face_plan(&layout);
        let mut words = Vec::new();
        for item in &sheet.items {
            match item {
                Item::Text(text) => {
                    let width = measure::text_width(&text.text, text.height, text.weight);
                    let start = text.at.x + text.anchor.start(width);
                    assert!(start >= 0.0 && start + width <= sheet.width, "{text:?}");
                    assert!(text.at.y >= 0.0 && text.at.y + text.height <= sheet.height);
                    words.push(text.text.as_str());
                }
                Item::Path(path) => {
                    for point in path.pieces.iter().map(Piece::start) {
                        assert!(point.x >= 0.0 && point.x <= sheet.width, "{path:?}");
                        assert!(point.y >= 0.0 && point.y <= sheet.height, "{path:?}");
                    }
                }
                Item::Circle { .. } => {}
            }
        }
        for bore in layout.bores() {
            let letter = if bore.side == Side::Treble { "T" } else { "B" };
            assert!(words.contains(&format!("{letter}{}", bore.number).as_str()));
            assert!(words.contains(&number(bore.s).as_str()));
        }
    }
}
