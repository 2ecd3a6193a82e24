//! The rig's papers: how it stands with the head in it and what to cut, then each board with its
//! measures, then what is read at the press. All positions come from the rig's layout; here they are only drawn.

mod boards;
mod stand;
mod words;

use glam::DVec2;

use super::dimension::{Linear, Style, figure, figure_in};
use super::heading;
use super::prose::Column;
use super::table::{Lean, Table};
use super::{Anchor, Fill, Item, Layer, LineKind, Path, Sheet, SheetOptions};
use crate::layout::{Layout, RigHole, RigLayout};
use crate::plane::{Piece, Region};
use crate::units::{Lengths, bare_inches, show_degrees, show_inches, show_mm};

/// Margin of the paper, mm.
const MARGIN: f64 = 11.0;
/// Height of running text, mm.
const TEXT: f64 = 2.6;
/// Height of what is read standing at the press, mm.
const AT_PRESS: f64 = 3.4;
/// Heights of the cutting list's text, mm, the first at which it fits across.
const TABLE: [f64; 4] = [2.5, 2.3, 2.0, 1.8];
/// Shares of their room that drawings take, the first that leaves room for the words.
const SHARES: [f64; 5] = [1.0, 0.75, 0.6, 0.45, 0.3];
/// Scales that a rig is drawn at, one to so much: those of ISO 5455 and two between (from memory: the
/// standard allows one where its own serve badly).
const SCALES: [f64; 11] = [
    1.0, 2.0, 2.5, 4.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0,
];

/// `bench/rig.pdf`: the rig in use with its cutting list, the boards, and a page for the
/// press: how it is used, with cautions. Empty where
/// the layout has no rig.
#[must_use]
pub fn rig_sheets(layout: &Layout, options: SheetOptions) -> Vec<Sheet> {
    let Some(rig) = RigLayout::new(layout) else {
        return Vec::new();
    };
    vec![
        fitted(|share| standing_page(layout, &rig, options, share)),
        fitted(|share| boards_page(layout, &rig, options, share)),
        press_page(layout, &rig, options),
    ]
}

/// The page with its drawings as large as leaves room for the words below them.
fn fitted(draw: impl Fn(f64) -> (Sheet, Column)) -> Sheet {
    let mut made = draw(SHARES[0]);
    for share in &SHARES[1..] {
        if made.1.top >= MARGIN {
            break;
        }
        made = draw(*share);
    }
    made.0
}

fn standing_page(
    layout: &Layout,
    rig: &RigLayout,
    options: SheetOptions,
    share: f64,
) -> (Sheet, Column) {
    let (mut sheet, mut column) = page(layout, options, "cutting list", 1);
    stand::draw(
        &mut sheet,
        &mut column,
        (layout, rig),
        options.lengths,
        share,
    );
    column.heading(&mut sheet, "Cutting list");
    let table = cutting_list(layout, rig, options.lengths, column.width);
    let corner = DVec2::new(column.left, column.top);
    let size = table.draw(&mut sheet, Layer::Notes, corner);
    column.space(size.y + 3.0);
    for line in words::making(layout, rig, options.lengths) {
        column.hung(&mut sheet, "–", 4.0, &line);
    }
    (sheet, column)
}

fn boards_page(
    layout: &Layout,
    rig: &RigLayout,
    options: SheetOptions,
    share: f64,
) -> (Sheet, Column) {
    let (mut sheet, mut column) = page(layout, options, "boards", 2);
    boards::draw(&mut sheet, &mut column, rig, options.lengths, share);
    (sheet, column)
}

/// What is read at the press, in larger type and on a page of its own.
fn press_page(layout: &Layout, rig: &RigLayout, options: SheetOptions) -> Sheet {
    let (mut sheet, mut column) = page(layout, options, "at the press", 3);
    column.height = AT_PRESS;
    column.space(4.0);
    column.heading(&mut sheet, "Setting up");
    let steps = words::using(layout, rig, options.lengths);
    column.steps(&mut sheet, 1, &steps);
    column.space(4.0);
    column.heading(&mut sheet, "Cautions");
    for line in words::cautions(rig) {
        column.hung(&mut sheet, "–", 5.0, &line);
    }
    sheet
}

/// An empty page with its title, and the column below it.
fn page(layout: &Layout, options: SheetOptions, title: &str, number: usize) -> (Sheet, Column) {
    let (width, height) = options.paper.sides();
    let name = &layout.design.title;
    let mut sheet = Sheet::new(format!("Rig: {name}"), width, height);
    let mut column = Column {
        left: MARGIN,
        width: width - 2.0 * MARGIN,
        top: height - MARGIN,
        height: TEXT,
    };
    let heading = heading::fitted("Rig for ", name, &format!(": {title}"), column.width - 26.0);
    let line = column.top - heading::HEIGHT;
    let at = DVec2::new(column.left, line);
    sheet.strong(Layer::Notes, at, heading::HEIGHT, Anchor::Start, heading);
    let at = DVec2::new(column.left + column.width, line);
    let page = format!("page {number} of 3");
    sheet.text(Layer::Notes, at, TEXT, Anchor::End, page);
    column.space(9.0);
    (sheet, column)
}

/// What to cut, in the order of work, as large as the width allows.
fn cutting_list(layout: &Layout, rig: &RigLayout, lengths: Lengths, width: f64) -> Table {
    let rows = cutting_rows(layout, rig, lengths);
    let mut made = cutting_table(&rows, TABLE[0]);
    for height in &TABLE[1..] {
        if made.size().x <= width {
            break;
        }
        made = cutting_table(&rows, *height);
    }
    made
}

fn cutting_table(rows: &[[String; 7]], height: f64) -> Table {
    let columns = [
        ("Part", Lean::Left),
        ("Pieces", Lean::Right),
        ("Long", Lean::Right),
        ("Wide", Lean::Right),
        ("Thick", Lean::Right),
        ("Holes", Lean::Left),
        ("What", Lean::Left),
    ];
    let mut table = Table::new(height, &columns).strong(0);
    for row in rows {
        table.row(row.iter().cloned());
    }
    table
}

/// Two packings no more than this apart are made as one, the thinner, mm: no plane works truer, and
/// the wedge or a strip of card takes it up (our assumption).
const SAME_PACKING: f64 = 0.05;

/// Thickness of the packing where one piece serves either side up.
fn one_packing(rig: &RigLayout) -> Option<f64> {
    let (treble, bass) = (rig.stances.treble.packing, rig.stances.bass.packing);
    ((treble - bass).abs() <= SAME_PACKING).then_some(treble.min(bass))
}

/// Part, pieces, length, width, thickness, holes, what it is.
fn cutting_rows(layout: &Layout, rig: &RigLayout, lengths: Lengths) -> Vec<[String; 7]> {
    let mut rows: Vec<[String; 7]> = Vec::new();
    let mut row = |part: &str, pieces: &str, sizes: [f64; 3], holes: String, what: &str| {
        let [long, wide, thick] = sizes.map(|mm| lengths.show(mm));
        let (part, pieces, what) = (part.to_owned(), pieces.to_owned(), what.to_owned());
        rows.push([part, pieces, long, wide, thick, holes, what]);
    };
    let none = || "none".to_owned();
    let [base, upright] = rig.thickness;
    let deep = rig.base_z[1] - rig.base_z[0];
    let holes = holes_in(&rig.base_screws, lengths);
    row("Base", "1", [rig.length(), deep, base], holes, "flat board");
    let tall = [rig.length(), rig.upright_height, upright];
    let holes = holes_in(&rig.block_screws, lengths);
    row("Upright", "1", tall, holes, "flat board");
    let [height, leg, thick] = rig.brace;
    let sizes = [height, leg, thick];
    row("Brace", "2", sizes, none(), "right-angled triangles");
    let width = rig.support_width(layout);
    let [treble, bass] = [&rig.stances.treble, &rig.stances.bass];
    let under = |stance: &crate::layout::Stance| {
        [stance.support[1] - stance.support[0], width, stance.packing]
    };
    if let Some(both) = one_packing(rig) {
        let [long, wide, _] = under(treble);
        row("Packing", "1", [long, wide, both], none(), "either side up");
    } else {
        row("Packing", "1", under(treble), none(), "treble side up");
        row("Packing", "1", under(bass), none(), "bass side up");
    }
    if let Some(wedge) = rig.wedge {
        rows.push([
            "Wedge".to_owned(),
            "1".to_owned(),
            lengths.show(wedge.length),
            lengths.show(wedge.width),
            from_to([wedge.thin, wedge.thick], lengths),
            none(),
            format!("{}, printed or planed", show_degrees(wedge.angle)),
        ]);
    }
    rows
}

/// Both ends of what changes along a part: `3.00 to 7.76 mm (0.118 to 0.306 in)`.
fn from_to([a, b]: [f64; 2], lengths: Lengths) -> String {
    let metric = format!("{} to {}", figure(a), show_mm(b));
    if lengths.inches {
        format!("{metric} ({} to {})", bare_inches(a), show_inches(b))
    } else {
        metric
    }
}

/// How many holes of what diameter.
fn holes_in(holes: &[RigHole], lengths: Lengths) -> String {
    holes.first().map_or_else(
        || "none".to_owned(),
        |hole| format!("{} × Ø{}", holes.len(), figure_in(hole.diameter, lengths)),
    )
}

/// How a view is laid on the paper: a point of the view's own plane, in mm of the rig, to the sheet.
#[derive(Debug, Clone, Copy)]
struct View {
    /// Where the view's own (0, 0) lies.
    origin: DVec2,
    /// One to so much.
    scale: f64,
    /// How its dimensions are written.
    lengths: Lengths,
}

impl View {
    fn at(&self, x: f64, y: f64) -> DVec2 {
        self.origin + DVec2::new(x, y) / self.scale
    }

    fn polygon(&self, corners: &[(f64, f64)]) -> Region {
        let corners: Vec<DVec2> = corners.iter().map(|&(x, y)| self.at(x, y)).collect();
        Region::polygon(&corners)
    }

    fn rectangle(&self, [x0, x1]: [f64; 2], [y0, y1]: [f64; 2]) -> Region {
        self.polygon(&[(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    }

    /// A dimension across, its line at height `y` of the paper.
    fn across(&self, sheet: &mut Sheet, a: DVec2, b: DVec2, y: f64, mm: f64) {
        Linear::level(a, b, y, figure_in(mm, self.lengths)).draw(sheet, Style::default());
    }

    /// A dimension up, its line at `x` of the paper.
    fn upwards(&self, sheet: &mut Sheet, a: DVec2, b: DVec2, x: f64, mm: f64) {
        Linear::upright(a, b, x, figure_in(mm, self.lengths)).draw(sheet, Style::default());
    }

    /// Two crossed axes over a round hole, and the hole.
    fn hole(&self, sheet: &mut Sheet, line: LineKind, x: f64, y: f64, diameter: f64) {
        let (center, radius) = (self.at(x, y), diameter / 2.0 / self.scale);
        sheet.circle(Layer::Bores, line, center, radius);
        let reach = radius + 1.2;
        for arm in [DVec2::X * reach, DVec2::Y * reach] {
            sheet.line(Layer::Axes, LineKind::Narrow, center - arm, center + arm);
        }
    }
}

/// The largest scale at which `size`, mm, fits into `room`.
fn scale_for(size: DVec2, room: DVec2) -> f64 {
    let fits = |scale: &f64| (size / *scale).cmple(room).all();
    SCALES.into_iter().find(fits).unwrap_or(1000.0)
}

/// A scale in words.
fn scale_words(scale: f64) -> String {
    format!("scale 1:{scale}")
}

/// A filled area with a wide outline.
fn board(sheet: &mut Sheet, region: &Region, grey: f64) {
    sheet.area(
        Layer::Outline,
        Some(LineKind::Wide),
        region,
        Fill::Grey(grey),
    );
}

/// The items of a path that is only filled or only drawn.
fn outline(sheet: &mut Sheet, layer: Layer, line: LineKind, pieces: Vec<Piece>, grey: Option<f64>) {
    sheet.items.push(Item::Path(Path {
        layer,
        line: Some(line),
        pieces,
        closed: true,
        fill: grey.map_or(Fill::None, Fill::Grey),
    }));
}

#[cfg(test)]
mod tests;
