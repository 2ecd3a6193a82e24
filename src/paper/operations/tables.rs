//! A card's features as tables.

use glam::{DVec2, DVec3};

use super::super::prose::Column;
use super::super::table::{Lean, Table};
use super::super::{Layer, Sheet, Weight};
use crate::input::{Point, Side};
use crate::layout::{DrilledHole, Operation, OutlinePart};
use crate::units::{Lengths, number, show_degrees, show_inches};

/// Height of a table's text, mm.
const TEXT: f64 = 2.1;

/// Most rows of one table: what a sheet's height takes.
const MOST_ROWS: usize = 30;

/// A table under a line that says what it holds.
pub(super) struct Titled {
    title: String,
    table: Table,
}

/// Draws a table at the column's top.
pub(super) fn place(sheet: &mut Sheet, column: &mut Column, titled: &Titled) {
    column.paragraph(sheet, Weight::Strong, &titled.title);
    let corner = DVec2::new(column.left, column.top + 0.5);
    let size = titled.table.draw(sheet, Layer::Notes, corner);
    column.space(size.y + 2.5);
}

/// The tables of a clamping, in millimetres, or in inches where `lengths` asks for them.
pub(super) fn features(operation: &Operation, lengths: Lengths) -> Vec<Titled> {
    let unit = if lengths.inches { "in" } else { "mm" };
    let figure = |mm: f64| {
        if lengths.inches {
            show_inches(mm).trim_end_matches(" in").to_owned()
        } else {
            number(mm)
        }
    };
    let mut list = Vec::new();
    for some in operation.holes.chunks(MOST_ROWS) {
        list.push(holes(some, unit, &figure));
    }
    if !operation.slots.is_empty() {
        list.push(slots(operation, unit, &figure));
    }
    if !operation.ramps.is_empty() {
        list.push(ramps(operation, unit, &figure));
    }
    if !operation.edges.is_empty() {
        list.push(outline(operation, unit, &figure));
    }
    list
}

type Figure<'a> = &'a dyn Fn(f64) -> String;

fn holes(holes: &[DrilledHole], unit: &str, figure: Figure<'_>) -> Titled {
    let mut table = Table::new(
        TEXT,
        &[
            ("hole", Lean::Left),
            ("no.", Lean::Right),
            ("x", Lean::Right),
            ("y", Lean::Right),
            ("diameter", Lean::Right),
            ("depth", Lean::Right),
            ("point", Lean::Right),
            ("its length", Lean::Right),
            ("end", Lean::Left),
        ],
    );
    for hole in holes {
        let [point, length] = match hole.point {
            Point::Flat => ["flat".to_owned(), String::new()],
            Point::Angle(angle) => [show_degrees(angle), figure(hole.point_height)],
        };
        table.row([
            hole.kind.name().to_owned(),
            hole.number.to_string(),
            figure(hole.at.x),
            figure(hole.at.y),
            figure(hole.diameter),
            figure(hole.depth),
            point,
            length,
            hole.end.name().to_owned(),
        ]);
    }
    Titled {
        title: format!("Holes, {unit}; z = 0; numbered from the nut"),
        table,
    }
}

/// x and y of a point.
fn xy(at: DVec3, figure: Figure<'_>) -> [String; 2] {
    [figure(at.x), figure(at.y)]
}

fn slots(operation: &Operation, unit: &str, figure: Figure<'_>) -> Titled {
    let mut table = Table::new(
        TEXT,
        &[
            ("slot", Lean::Left),
            ("nut end x", Lean::Right),
            ("y", Lean::Right),
            ("crest end x", Lean::Right),
            ("y", Lean::Right),
            ("width", Lean::Right),
            ("corner r", Lean::Right),
        ],
    );
    for slot in &operation.slots {
        let ends = [xy(slot.nut_end, figure), xy(slot.crest_end, figure)];
        table.row(
            [slot.side.name().to_owned()]
                .into_iter()
                .chain(ends.into_iter().flatten())
                .chain([figure(slot.width), figure(slot.corner_radius)]),
        );
    }
    Titled {
        title: format!("Slots, {unit}: ends of the mid-line, right through"),
        table,
    }
}

fn ramps(operation: &Operation, unit: &str, figure: Figure<'_>) -> Titled {
    let mut table = Table::new(
        TEXT,
        &[
            ("ramp", Lean::Left),
            ("mouth x", Lean::Right),
            ("y", Lean::Right),
            ("to x", Lean::Right),
            ("y", Lean::Right),
            ("angle", Lean::Right),
            ("z at slot's end", Lean::Right),
        ],
    );
    for ramp in &operation.ramps {
        let [inner, outer] = ramp.mouth.map(|end| xy(end, figure));
        table.row(
            [ramp.side.name().to_owned()]
                .into_iter()
                .chain(inner)
                .chain(outer)
                .chain([show_degrees(ramp.angle), figure(ramp.floor.z)]),
        );
    }
    Titled {
        title: format!("Ramps, {unit}: mouth line at z = 0, floor falling to the slot"),
        table,
    }
}

fn outline(operation: &Operation, unit: &str, figure: Figure<'_>) -> Titled {
    let mut table = Table::new(
        TEXT,
        &[
            ("outline", Lean::Left),
            ("from x", Lean::Right),
            ("y", Lean::Right),
            ("to x", Lean::Right),
            ("y", Lean::Right),
            ("arc about x, y", Lean::Right),
            ("radius", Lean::Right),
        ],
    );
    for edge in &operation.edges {
        let part = match edge.part {
            OutlinePart::Nut => "nut line",
            OutlinePart::Shoulder(Side::Treble) => "treble shoulder",
            OutlinePart::Shoulder(Side::Bass) => "bass shoulder",
            OutlinePart::Side(Side::Treble) => "treble side",
            OutlinePart::Side(Side::Bass) => "bass side",
            OutlinePart::Crest => "crest",
        };
        let (center, radius) = match edge.arc {
            Some((center, radius)) => {
                let [x, y] = xy(center, figure);
                (format!("{x}, {y}"), figure(radius))
            }
            None => (String::new(), String::new()),
        };
        table.row(
            [part.to_owned()]
                .into_iter()
                .chain(xy(edge.from, figure))
                .chain(xy(edge.to, figure))
                .chain([center, radius]),
        );
    }
    Titled {
        title: format!("Outline, {unit}: anticlockwise, down the whole thickness"),
        table,
    }
}
