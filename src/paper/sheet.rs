//! The drawing model.

use glam::DVec2;

use crate::plane::{Piece, Region};

/// How a line is drawn, after ISO 128-2: patterns in line widths (dashed 12-3; long-dashed dotted
/// 24-3-0.5-3; long-dashed double-dotted 24-3-0.5-3-0.5-3: confirmed through a public library's
/// line types); uses and widths from memory, wide to narrow 2:1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LineKind {
    /// 01.2 continuous wide: visible edges, outlines.
    Wide,
    /// 01.1 continuous narrow: dimension, extension and leader lines, hatching, frames of tables.
    Narrow,
    /// 02.1 dashed narrow: hidden edges.
    Hidden,
    /// 04.1 long-dashed dotted narrow: centre lines and axes.
    Axis,
    /// 05.1 long-dashed double-dotted narrow: adjacent parts, later cuts.
    Adjacent,
    /// 07 dotted narrow, its dots drawn long enough for an office printer (our choice): what is
    /// shown on a pattern but not to be transferred.
    Dotted,
}

impl LineKind {
    /// Line width, mm.
    #[must_use]
    pub const fn width(self) -> f64 {
        match self {
            LineKind::Wide => 0.5,
            _ => 0.25,
        }
    }

    /// Dashes and gaps in line widths; empty for a continuous line.
    #[must_use]
    pub const fn pattern(self) -> &'static [f64] {
        match self {
            LineKind::Wide | LineKind::Narrow => &[],
            LineKind::Hidden => &[12.0, 3.0],
            LineKind::Axis => &[24.0, 3.0, 0.5, 3.0],
            LineKind::Adjacent => &[24.0, 3.0, 0.5, 3.0, 0.5, 3.0],
            LineKind::Dotted => &[2.0, 3.5],
        }
    }
}

/// What an item is for: a layer a purpose in DXF, a class in SVG.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Layer {
    /// Outlines of the workpiece.
    Outline,
    /// Bores as circles or in section.
    Bores,
    /// Wider mouths of bores.
    Counterbores,
    /// Slots.
    Slots,
    /// Ramps.
    Ramps,
    /// Screw pilots.
    Pilots,
    /// Marks scribed or drawn by the maker.
    Marks,
    /// Axes and centre lines.
    Axes,
    /// Strings.
    Strings,
    /// Dimensions with their text.
    Dimensions,
    /// Notes, titles, tables.
    Notes,
    /// Frame and title block.
    Frame,
    /// Check bars.
    CheckBar,
    /// Adjacent parts: plates, machines, upright, table.
    Adjacent,
}

/// How a closed path is filled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fill {
    /// Not at all.
    None,
    /// A grey, 0 black to 1 white; legible on a black-and-white printer.
    Grey(f64),
}

/// Weight of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// Normal.
    Plain,
    /// Bold.
    Strong,
}

/// Which point of a text its place is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Left end of the base line.
    Start,
    /// Middle of the base line.
    Middle,
    /// Right end of the base line.
    End,
}

impl Anchor {
    /// Where a text of this width begins, mm along its base line from its place.
    #[must_use]
    pub fn start(self, width: f64) -> f64 {
        match self {
            Anchor::Start => 0.0,
            Anchor::Middle => -width / 2.0,
            Anchor::End => -width,
        }
    }
}

/// A path of straight pieces and circular arcs, each beginning where the one before ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// Purpose.
    pub layer: Layer,
    /// Line kind; `None` for a fill without a line.
    pub line: Option<LineKind>,
    /// Pieces.
    pub pieces: Vec<Piece>,
    /// Whether the last piece ends where the first begins.
    pub closed: bool,
    /// Fill.
    pub fill: Fill,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Purpose.
    pub layer: Layer,
    /// Place of its anchor.
    pub at: DVec2,
    /// Height of capitals, mm (ISO 3098 series 2.5, 3.5, 5, 7: from memory).
    pub height: f64,
    /// Anchor.
    pub anchor: Anchor,
    /// Turn of the base line, radians, anticlockwise.
    pub turn: f64,
    /// Weight.
    pub weight: Weight,
    /// The text, one line.
    pub text: String,
}

/// One thing on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// Lines and arcs.
    Path(Path),
    /// Text.
    Text(Text),
    /// A full circle, kept whole so that DXF writes a CIRCLE.
    Circle {
        /// Purpose.
        layer: Layer,
        /// Line kind.
        line: LineKind,
        /// Centre.
        center: DVec2,
        /// Radius, mm.
        radius: f64,
        /// Fill.
        fill: Fill,
    },
}

/// A sheet of paper, or a drawing without one (DXF).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    /// What it is, for titles of windows and files.
    pub title: String,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Items, in drawing order.
    pub items: Vec<Item>,
}

impl Sheet {
    /// An empty sheet.
    #[must_use]
    pub fn new(title: impl Into<String>, width: f64, height: f64) -> Sheet {
        Sheet {
            title: title.into(),
            width,
            height,
            items: Vec::new(),
        }
    }

    /// A straight line.
    pub fn line(&mut self, layer: Layer, line: LineKind, a: DVec2, b: DVec2) {
        self.path(layer, line, vec![Piece::Line { a, b }], false);
    }

    /// A path.
    pub fn path(&mut self, layer: Layer, line: LineKind, pieces: Vec<Piece>, closed: bool) {
        self.items.push(Item::Path(Path {
            layer,
            line: Some(line),
            pieces,
            closed,
            fill: Fill::None,
        }));
    }

    /// The boundary of a region.
    pub fn region(&mut self, layer: Layer, line: LineKind, region: &Region) {
        self.path(layer, line, region.boundary.clone(), true);
    }

    /// A closed area with a fill and, where asked for, a line round it.
    pub fn area(&mut self, layer: Layer, line: Option<LineKind>, region: &Region, fill: Fill) {
        let pieces = region.boundary.clone();
        self.items.push(Item::Path(Path {
            layer,
            line,
            pieces,
            closed: true,
            fill,
        }));
    }

    /// A circle.
    pub fn circle(&mut self, layer: Layer, line: LineKind, center: DVec2, radius: f64) {
        self.items.push(Item::Circle {
            layer,
            line,
            center,
            radius,
            fill: Fill::None,
        });
    }

    /// A plain text that reads from the left.
    pub fn text(
        &mut self,
        layer: Layer,
        at: DVec2,
        height: f64,
        anchor: Anchor,
        text: impl Into<String>,
    ) {
        self.items.push(Item::Text(Text {
            layer,
            at,
            height,
            anchor,
            turn: 0.0,
            weight: Weight::Plain,
            text: text.into(),
        }));
    }

    /// A bold text that reads from the left.
    pub fn strong(
        &mut self,
        layer: Layer,
        at: DVec2,
        height: f64,
        anchor: Anchor,
        text: impl Into<String>,
    ) {
        self.items.push(Item::Text(Text {
            layer,
            at,
            height,
            anchor,
            turn: 0.0,
            weight: Weight::Strong,
            text: text.into(),
        }));
    }
}
