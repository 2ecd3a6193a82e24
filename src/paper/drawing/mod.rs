//! The shop drawing: head in front view with a section through a bore, both sides square to
//! themselves with the table of bores, and every guide block in three views.
//!
//! Sheets of A3, each view at a standard scale, first angle; the sides and the section are placed by
//! reference arrows (A, B, C). Every figure is the layout's, each feature dimensioned once; what
//! follows from other figures stands in brackets.

mod figure;
mod front;
mod front_notes;
mod front_widths;
mod guide_block;
mod hatch;
mod notes;
mod profile;
mod section;
mod side_tables;
mod sides;
mod view;

use glam::DVec2;

use crate::check::Report;
use crate::input::Side;
use crate::layout::Layout;
use crate::solid::Solids;

use super::dimension::Style;
use super::frame::{BLOCK_HEIGHT, BLOCK_WIDTH, Space, Titles, framed};
use super::{Anchor, Layer, Paper, Sheet, Weight};
use figure::Figures;
use front::Front;
use guide_block::BlockViews;
use section::Section;
use sides::SideView;
use view::{Scale, View, clear_text};

/// How the drawing is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct DrawingOptions {
    /// Inches in square brackets beside every millimetre.
    pub units_both: bool,
}

/// Paper to the left of the front view for its dimensions, mm.
const LEFT: f64 = 40.0;
/// Width kept for notes beside the views, mm.
const NOTES: f64 = 86.0;

/// The sheets: head in front and section, sides, one sheet a guide block.
#[must_use]
pub fn drawing_sheets(
    layout: &Layout,
    report: &Report,
    solids: &Solids,
    options: &DrawingOptions,
) -> Vec<Sheet> {
    let maker = Maker {
        layout,
        report,
        solids,
        figures: Figures {
            both: options.units_both,
        },
        of: 2 + layout.blocks.len(),
    };
    let mut sheets = vec![maker.front(), maker.sides()];
    sheets.extend((0..layout.blocks.len()).filter_map(|index| maker.block(index)));
    sheets
}

struct Maker<'a> {
    layout: &'a Layout,
    report: &'a Report,
    solids: &'a Solids,
    figures: Figures,
    of: usize,
}

impl Maker<'_> {
    fn sheet(&self, number: usize, part: &str, scale: Scale, material: &str) -> (Sheet, Space) {
        let design = &self.layout.design;
        let titles = Titles {
            title: &design.title,
            part,
            kind: "Part drawing",
            scale: scale.name,
            material,
            units: if self.figures.both { "mm [in]" } else { "mm" },
            sheet: number,
            of: self.of,
        };
        framed(Paper::A3, &titles, &design.job)
    }

    /// The scale of the head's views.
    fn head_scale(&self) -> Scale {
        let outline = self.layout.outline.region();
        let width = outline.reach(DVec2::X) + outline.reach(-DVec2::X);
        let size = DVec2::new(self.layout.outline.length, width);
        let room = DVec2::new(390.0 - LEFT - NOTES - 11.0, 100.0);
        Scale::fitting(size, room, 1.0)
    }

    fn front(&self) -> Sheet {
        let layout = self.layout;
        let scale = self.head_scale();
        let material = &layout.design.job.material;
        let (mut sheet, space) = self.sheet(1, "Head: front view and section", scale, material);
        let outline = layout.outline.region();
        let bass = outline.reach(-DVec2::X) * scale.factor;
        let treble = outline.reach(DVec2::X) * scale.factor;
        let running = front::ROW + self.figures.widest(layout.outline.length) + 2.0;
        let above = if layout.is_mirrored() {
            24.0
        } else {
            running + 6.0
        };
        let origin = DVec2::new(space.low.x + LEFT, space.high.y - 8.0 - above - bass);
        let cut = section::chosen(layout);
        Front {
            layout,
            view: Front::view(origin, scale),
            figures: self.figures,
            cut: &cut,
        }
        .draw(&mut sheet);
        self.title(
            &mut sheet,
            DVec2::new(space.low.x + 8.0, space.high.y - 8.0),
            "Front view, on the face; treble side below",
        );
        let bottom = origin.y - treble - running;
        self.section(&mut sheet, space, bottom, &cut);
        let block_top = space.low.y + BLOCK_HEIGHT;
        let table = notes::head_tolerances(layout, self.figures);
        let size = table.size();
        let corner = DVec2::new(space.high.x - size.x - 4.0, block_top + size.y + 4.0);
        table.draw(&mut sheet, Layer::Notes, corner);
        let text = notes::head(
            layout,
            self.report,
            &self.solids.head.measures,
            self.figures,
        );
        let corner = DVec2::new(space.high.x - NOTES, space.high.y - 6.0);
        notes::column(&mut sheet, corner, NOTES - 4.0, &text);
        sheet
    }

    fn section(&self, sheet: &mut Sheet, space: Space, top: f64, cut: &[&crate::layout::Bore]) {
        let (left, right) = Section::extent(cut);
        let thickness = self.layout.design.head.thickness;
        let thickness = thickness.max(self.layout.design.head.thickness_at_crest);
        let room = DVec2::new(390.0 - BLOCK_WIDTH - 30.0, top - space.low.y - 44.0);
        let size = DVec2::new(left + right, thickness);
        let scale = Scale::fitting(size, room, 2.0);
        let origin = DVec2::new(space.low.x + 10.0 + left * scale.factor, top - 24.0);
        let Some(first) = cut.first() else {
            return;
        };
        let through = match cut {
            [one] => format!(
                "C–C ({}) through bore T{}, along its axis",
                scale.name, one.number
            ),
            [one, other, ..] => format!(
                "C–C ({}) through bores T{} and B{}, along their axes",
                scale.name, one.number, other.number
            ),
            [] => String::new(),
        };
        Section {
            layout: self.layout,
            bores: cut,
            view: Section::view(origin, scale),
            figures: self.figures,
        }
        .draw(sheet);
        debug_assert_eq!(first.side, Side::Treble);
        self.title(sheet, DVec2::new(space.low.x + 8.0, top - 6.0), &through);
    }

    fn sides(&self) -> Sheet {
        let layout = self.layout;
        let scale = self.head_scale();
        let material = &layout.design.job.material;
        let (mut sheet, space) = self.sheet(2, "Head: sides", scale, material);
        let head = &layout.design.head;
        let thickness = head.thickness.max(head.thickness_at_crest) * scale.factor;
        let running = sides::ROW + self.figures.widest(layout.outline.length) + 2.0;
        let mut top = space.high.y - 8.0;
        for side in Side::BOTH {
            let above = if layout.sides.get(side).pilots.is_empty() {
                13.0
            } else {
                running + 6.0
            };
            let upper = top - above;
            let face = match side {
                Side::Treble => upper,
                Side::Bass => upper - thickness,
            };
            let view = View::new(DVec2::new(space.low.x + LEFT, face), scale, 0.0);
            let one = SideView {
                layout,
                side,
                view,
                figures: self.figures,
            };
            one.draw(&mut sheet);
            self.title(&mut sheet, DVec2::new(space.low.x + 8.0, top), &one.title());
            self.face_name(&mut sheet, &view, side);
            top = upper - thickness - running - 5.0;
        }
        let corner = DVec2::new(space.low.x + 8.0, top);
        let table = side_tables::bore_table(layout, self.figures);
        table.draw(&mut sheet, Layer::Notes, corner);
        let text = [
            "Running dimensions are taken along the side from the nut line, true where the plates lie.".to_owned(),
            "x and y: where the bore's axis enters the side, from the centre line (treble +) and the nut line (crest +).".to_owned(),
            "Outlines with two dots: the machines' plates, for reference.".to_owned(),
            "Bore diameter, depth and ends: section C–C on sheet 1. Tolerances and further notes: sheet 1.".to_owned(),
        ];
        let corner = DVec2::new(space.high.x - NOTES, space.high.y - 6.0);
        let used = notes::column(&mut sheet, corner, NOTES - 4.0, &text);
        if let Some(table) = side_tables::pilot_table(layout, self.figures) {
            let below = corner - DVec2::Y * (used + 8.0);
            table.draw(&mut sheet, Layer::Notes, below);
        }
        sheet
    }

    /// Names the face at a side's view.
    fn face_name(&self, sheet: &mut Sheet, view: &View, side: Side) {
        let length = self.layout.sides.get(side).line.end_s;
        let out = match side {
            Side::Treble => 1.5,
            Side::Bass => -4.0,
        };
        let at = view.xy(length, 0.0) + DVec2::new(-2.0, out);
        clear_text(sheet, at, Anchor::End, Style::default(), "face");
    }

    fn block(&self, index: usize) -> Option<Sheet> {
        let layout = self.layout;
        let block = layout.blocks.get(index)?;
        let solid = self.solids.blocks.get(index)?;
        let size = DVec2::new(block.length + block.height, block.depth + block.height);
        let room = DVec2::new(
            390.0 - 30.0 - 30.0 - 16.0,
            277.0 - 30.0 - BLOCK_HEIGHT - 80.0,
        );
        let scale = Scale::fitting(size, room, 1.0);
        let title = block.title();
        let mut part: String = title.to_owned();
        if let Some(first) = part.get_mut(0..1) {
            first.make_ascii_uppercase();
        }
        let (mut sheet, space) = self.sheet(3 + index, &part, scale, "");
        let above = if self.figures.both { 44.0 } else { 28.0 };
        let corner = DVec2::new(space.low.x + 30.0, space.high.y - above);
        BlockViews {
            layout,
            block,
            figures: self.figures,
            scale,
            corner,
        }
        .draw(&mut sheet);
        self.title(
            &mut sheet,
            DVec2::new(space.low.x + 8.0, space.high.y - 8.0),
            &part,
        );
        let low = corner.y - (block.depth + block.height) * scale.factor - 30.0 - 40.0;
        let table = notes::block_tolerances(layout, block, self.figures);
        let above = space.low.y + BLOCK_HEIGHT + table.size().y + 4.0;
        let corner = DVec2::new(space.high.x - table.size().x - 4.0, above);
        table.draw(&mut sheet, Layer::Notes, corner);
        let text = notes::block(layout, block, &solid.measures, self.figures);
        let width = 390.0 - table.size().x - 30.0;
        let at = DVec2::new(space.low.x + 8.0, low);
        notes::column(&mut sheet, at, width.min(150.0), &text);
        Some(sheet)
    }

    fn title(&self, sheet: &mut Sheet, at: DVec2, text: &str) {
        let style = Style {
            text: 3.5,
            arrow: 3.5,
            weight: Weight::Strong,
        };
        clear_text(sheet, at - DVec2::Y * 3.5, Anchor::Start, style, text);
    }
}
