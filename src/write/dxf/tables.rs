//! The header and tables of a DXF file: units, line types, layers.

use std::collections::BTreeSet;

use glam::DVec2;

use crate::paper::{Layer, LineKind};

use super::tags::Tags;

/// Handles of the objects every file has. Entities follow from [`FIRST_FREE`].
pub mod fixed {
    /// Root dictionary.
    pub const ROOT: u32 = 0x0C;
    /// Dictionary of groups.
    pub const GROUPS: u32 = 0x0D;
    /// Dictionary of layouts.
    pub const LAYOUTS: u32 = 0x0E;
    /// Layout of the model.
    pub const MODEL_LAYOUT: u32 = 0x10;
    /// Layout of the (empty) paper.
    pub const PAPER_LAYOUT: u32 = 0x11;
    /// Block record of the model.
    pub const MODEL: u32 = 0x14;
    /// Block record of the paper.
    pub const PAPER: u32 = 0x15;
    /// Tables, in the order they are written.
    pub const TABLES: u32 = 0x01;
    /// First handle for anything else.
    pub const FIRST_FREE: u32 = 0x20;
}

/// Gives out handles.
#[derive(Debug)]
pub struct Handles(u32);

impl Handles {
    /// From the first free one.
    pub const fn new() -> Self {
        Handles(fixed::FIRST_FREE)
    }

    /// The next.
    pub fn take(&mut self) -> u32 {
        self.0 += 1;
        self.0 - 1
    }

    /// One more than any given out.
    pub const fn seed(&self) -> u32 {
        self.0
    }
}

/// A layer's name.
pub const fn layer_name(layer: Layer) -> &'static str {
    match layer {
        Layer::Outline => "OUTLINE",
        Layer::Bores => "BORES",
        Layer::Counterbores => "COUNTERBORES",
        Layer::Slots => "SLOTS",
        Layer::Ramps => "RAMPS",
        Layer::Pilots => "PILOTS",
        Layer::Marks => "MARKS",
        Layer::Axes => "AXES",
        Layer::Strings => "STRINGS",
        Layer::Dimensions => "DIMENSIONS",
        Layer::Notes => "NOTES",
        Layer::Frame => "FRAME",
        Layer::CheckBar => "CHECK-BAR",
        Layer::Adjacent => "ADJACENT",
    }
}

/// Index of a layer's colour: features told apart, helps in grey.
const fn layer_color(layer: Layer) -> i64 {
    match layer {
        Layer::Bores => 1,
        Layer::Counterbores => 2,
        Layer::Slots => 5,
        Layer::Ramps => 4,
        Layer::Pilots => 6,
        Layer::Marks => 3,
        Layer::Axes | Layer::Strings | Layer::Adjacent => 8,
        Layer::Outline | Layer::Dimensions | Layer::Notes | Layer::Frame | Layer::CheckBar => 7,
    }
}

/// Name of the line type for a line kind.
pub const fn line_type(line: LineKind) -> &'static str {
    match line {
        LineKind::Wide | LineKind::Narrow => "CONTINUOUS",
        LineKind::Hidden => "HIDDEN",
        LineKind::Axis => "CENTER",
        LineKind::Adjacent => "PHANTOM",
        LineKind::Dotted => "DOT",
    }
}

/// The header: version, millimetres, extent, and the first handle not in use.
pub fn header(lower: DVec2, upper: DVec2, seed: u32) -> Tags {
    let mut t = Tags::default();
    t.section("HEADER");
    t.variable("$ACADVER").text(1, "AC1015");
    t.variable("$DWGCODEPAGE").text(3, "ANSI_1252");
    t.variable("$INSBASE").point(10, DVec2::ZERO);
    t.variable("$EXTMIN").point(10, lower);
    t.variable("$EXTMAX").point(10, upper);
    t.variable("$LTSCALE").real(40, 1.0);
    t.variable("$LUNITS").int(70, 2);
    t.variable("$INSUNITS").int(70, 4);
    t.variable("$MEASUREMENT").int(70, 1);
    t.variable("$HANDSEED").handle(5, seed);
    t.end_section();
    t.section("CLASSES").end_section();
    t
}

/// All tables.
pub fn tables(layers: &BTreeSet<Layer>, middle: DVec2, height: f64, handles: &mut Handles) -> Tags {
    let mut t = Tags::default();
    t.section("TABLES");

    let mut table = fixed::TABLES;
    let mut open = |t: &mut Tags, name: &str, count: usize| {
        let handle = table;
        table += 1;
        t.text(0, "TABLE").text(2, name).handle(5, handle);
        t.handle(330, 0).text(100, "AcDbSymbolTable");
        t.int(70, i64::try_from(count).unwrap_or(0));
        handle
    };
    let mut entry = |t: &mut Tags, kind: &str, class: &str, owner: u32| {
        // Dimension styles alone keep their handle under another code.
        let code = if kind == "DIMSTYLE" { 105 } else { 5 };
        t.text(0, kind)
            .handle(code, handles.take())
            .handle(330, owner);
        t.text(100, "AcDbSymbolTableRecord").text(100, class);
    };

    let owner = open(&mut t, "VPORT", 1);
    entry(&mut t, "VPORT", "AcDbViewportTableRecord", owner);
    view(&mut t, middle, height);
    t.text(0, "ENDTAB");

    let kinds = [
        LineKind::Hidden,
        LineKind::Axis,
        LineKind::Adjacent,
        LineKind::Dotted,
    ];
    let owner = open(&mut t, "LTYPE", kinds.len() + 3);
    for name in ["BYBLOCK", "BYLAYER", "CONTINUOUS"] {
        entry(&mut t, "LTYPE", "AcDbLinetypeTableRecord", owner);
        t.text(2, name).int(70, 0).text(3, "").int(72, 65);
        t.int(73, 0).real(40, 0.0);
    }
    for kind in kinds {
        entry(&mut t, "LTYPE", "AcDbLinetypeTableRecord", owner);
        pattern(&mut t, kind);
    }
    t.text(0, "ENDTAB");

    let owner = open(&mut t, "LAYER", layers.len() + 1);
    let ours = layers
        .iter()
        .map(|&layer| (layer_name(layer), layer_color(layer)));
    for (name, color) in std::iter::once(("0", 7)).chain(ours) {
        entry(&mut t, "LAYER", "AcDbLayerTableRecord", owner);
        t.text(2, name)
            .int(70, 0)
            .int(62, color)
            .text(6, "CONTINUOUS");
    }
    t.text(0, "ENDTAB");

    let owner = open(&mut t, "STYLE", 1);
    entry(&mut t, "STYLE", "AcDbTextStyleTableRecord", owner);
    t.text(2, "STANDARD")
        .int(70, 0)
        .real(40, 0.0)
        .real(41, 1.0)
        .real(50, 0.0);
    t.int(71, 0).real(42, 2.5).text(3, "txt").text(4, "");
    t.text(0, "ENDTAB");

    for empty in ["VIEW", "UCS"] {
        open(&mut t, empty, 0);
        t.text(0, "ENDTAB");
    }

    let owner = open(&mut t, "APPID", 1);
    entry(&mut t, "APPID", "AcDbRegAppTableRecord", owner);
    t.text(2, "ACAD").int(70, 0);
    t.text(0, "ENDTAB");

    let owner = open(&mut t, "DIMSTYLE", 1);
    t.text(100, "AcDbDimStyleTable").int(71, 0);
    entry(&mut t, "DIMSTYLE", "AcDbDimStyleTableRecord", owner);
    t.text(2, "STANDARD").int(70, 0);
    t.text(0, "ENDTAB");

    let owner = open(&mut t, "BLOCK_RECORD", 2);
    let spaces = [
        (fixed::MODEL, "*Model_Space", fixed::MODEL_LAYOUT),
        (fixed::PAPER, "*Paper_Space", fixed::PAPER_LAYOUT),
    ];
    for (handle, name, layout) in spaces {
        t.text(0, "BLOCK_RECORD")
            .handle(5, handle)
            .handle(330, owner);
        t.text(100, "AcDbSymbolTableRecord");
        t.text(100, "AcDbBlockTableRecord").text(2, name);
        t.handle(340, layout);
    }
    t.text(0, "ENDTAB");
    t.end_section();
    t
}

/// A line type's pattern in millimetres: dashes above nought, gaps below.
fn pattern(t: &mut Tags, kind: LineKind) {
    let lengths: Vec<f64> = kind
        .pattern()
        .iter()
        .map(|&part| part * kind.width())
        .collect();
    let words = match kind {
        LineKind::Hidden => "dashed",
        LineKind::Axis => "long-dashed dotted",
        LineKind::Dotted => "dotted",
        _ => "long-dashed double-dotted",
    };
    t.text(2, line_type(kind))
        .int(70, 0)
        .text(3, words)
        .int(72, 65);
    t.int(73, i64::try_from(lengths.len()).unwrap_or(0));
    t.real(40, lengths.iter().sum());
    for (index, &length) in lengths.iter().enumerate() {
        t.real(49, if index % 2 == 0 { length } else { -length });
        t.int(74, 0);
    }
}

/// What the reader's window shows at first.
fn view(t: &mut Tags, middle: DVec2, height: f64) {
    t.text(2, "*ACTIVE").int(70, 0);
    t.flat(10, DVec2::ZERO)
        .flat(11, DVec2::ONE)
        .flat(12, middle);
    t.flat(13, DVec2::ZERO).flat(14, DVec2::ONE * 10.0);
    t.flat(15, DVec2::ONE * 10.0);
    t.real(16, 0.0).real(26, 0.0).real(36, 1.0);
    t.real(17, 0.0).real(27, 0.0).real(37, 0.0);
    t.real(40, height).real(41, 1.5).real(42, 50.0);
    t.real(43, 0.0).real(44, 0.0).real(50, 0.0).real(51, 0.0);
    t.int(71, 0).int(72, 100).int(73, 1).int(74, 3);
    t.int(75, 0).int(76, 0).int(77, 0).int(78, 0);
}
