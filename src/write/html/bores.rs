//! The layout as a plan and as tables: bores, plates, rib.

use crate::check::Report;
use crate::input::{Lie, Point, Side};
use crate::layout::{Bore, BoreEnd, Layout};
use crate::paper::face_plan::face_plan;
use crate::units::{Lengths, plain};

use super::escape::text;
use super::inline_svg;
use super::rib_scale;
use super::strings;
use super::table::{Table, length, none, unit_note};

/// Plan, the tables for marking and for drilling, coordinates for programs and shops.
pub fn section(layout: &Layout, lengths: Lengths) -> String {
    let mut out = format!(
        "<p class=\"lead\">{}</p>\n<div class=\"beside\">\n",
        lead(layout, lengths)
    );
    out.push_str(&plan(layout));
    out.push_str("<div>\n");
    out.push_str(&marking(layout, lengths));
    out.push_str(&drilling(layout, lengths));
    out.push_str("</div>\n</div>\n");
    out.push_str(&strings::part(layout, lengths));
    out.push_str(&coordinates(layout, lengths));
    out
}

fn lead(layout: &Layout, lengths: Lengths) -> String {
    let bores = &layout.design.bores;
    let point = match bores.point {
        Point::Flat => "flat end".to_owned(),
        Point::Angle(angle) => format!(
            "{}° point",
            plain((angle.to_degrees() * 100.0).round() / 100.0)
        ),
    };
    let mouth = bores.counterbore.map_or(String::new(), |mouth| {
        format!(
            "; counterbored {}, {} deep",
            lengths.show(mouth.diameter),
            lengths.show(mouth.depth)
        )
    });
    let mut said = format!(
        "Every bore: {} diameter, {point}, axis {} below the face, square to its side{mouth}.",
        lengths.show(bores.diameter),
        lengths.show(layout.axis_below_face),
    );
    if layout.bores().any(|bore| bore.end == BoreEnd::Opens) {
        said.push_str(" “Opens”: the bore runs into the one opposite.");
    }
    if layout.bores().any(|bore| bore.end == BoreEnd::Web) {
        said.push_str(
            " “Web”: in the model the bore ends 0.25 mm short of the centre plane; the bit will \
             break through what is left.",
        );
    }
    for one in layout.deeper() {
        said.push_str(&format!(
            " {} goes {} deeper than asked: {}.",
            name(one.bore),
            lengths.show(one.by),
            one.why
        ));
    }
    text(&said)
}

fn plan(layout: &Layout) -> String {
    let (treble, bass) = (
        layout.sides.treble.bores.len(),
        layout.sides.bass.bores.len(),
    );
    let slots = if layout.design.slots.is_some() {
        "two string slots"
    } else {
        "no slots yet"
    };
    let what = format!(
        "Plan of the head's face, crest up: {treble} bores on the treble side, {bass} on the bass \
         side, {slots}, the strings and the plates. The tables give every figure."
    );
    format!(
        "<figure class=\"plan\">\n{}<figcaption>The face, crest up. Beside each bore its number and \
         its distance along the side from the nut line, mm. Dashed: bores inside the wood. \
         Dash-dotted: their axes. The thin line from each bore squares its centre across to the \
         centre line: on a tapered side the two part company.</figcaption>\n</figure>\n",
        inline_svg::inline_svg(&face_plan(layout), "plan", "The layout", &what)
    )
}

/// Row head of a bore.
fn name(bore: &Bore) -> String {
    let side = match bore.side {
        Side::Treble => "Treble",
        Side::Bass => "Bass",
    };
    format!("{side} {}", bore.number)
}

/// Where to mark.
fn marking(layout: &Layout, lengths: Lengths) -> String {
    let mut table = Table::new(
        &format!("Marking the bores ({})", unit_note(lengths)),
        &[
            "Bore",
            "Along the side, from the nut line",
            "From the bore before",
            "Squares across at",
        ],
    );
    for side in layout.each_side() {
        let mut before = None;
        for bore in &side.bores {
            let gap = before.replace(bore.s).map(|last: f64| bore.s - last);
            let cells = vec![
                length(bore.s, lengths),
                gap.map_or_else(|| none("first bore"), |gap| length(gap, lengths)),
                length(bore.squares_across_at(), lengths),
            ];
            table.row(name(bore), cells);
        }
    }
    table.draw()
}

/// How deep to drill, and what the barrel then does.
fn drilling(layout: &Layout, lengths: Lengths) -> String {
    let barrel = layout.design.machines.barrel_length;
    let slotted = layout.bores().any(|bore| bore.slot.is_some());
    let mut head = vec!["Bore", "Full depth D", "Point beyond D", "Ends"];
    if slotted {
        head.extend(["Meets the slot at", "Leaves it at", "Barrel in the rib"]);
    }
    let mut table = Table::new(
        &format!(
            "Depths along each bore from the side ({})",
            unit_note(lengths)
        ),
        &head,
    );
    for bore in layout.bores() {
        let mut cells = vec![
            length(bore.depth, lengths),
            length(bore.point_height, lengths),
            bore.end.name().to_owned(),
        ];
        if slotted {
            match bore.slot {
                Some(slot) => cells.extend([
                    length(slot.outer, lengths),
                    length(slot.inner, lengths),
                    length(barrel - slot.inner, lengths),
                ]),
                None => cells.extend((0..3).map(|_| none("no slot"))),
            }
        }
        table.row(name(bore), cells);
    }
    table.draw()
}

/// The head's frame, for whoever models it anew.
fn coordinates(layout: &Layout, lengths: Lengths) -> String {
    let mut table = Table::new(
        &format!("Bores in the head's frame ({})", unit_note(lengths)),
        &[
            "Bore",
            "x",
            "y",
            "z",
            "Direction x",
            "Direction y",
            "Full diameter in the model",
            "Taken past the centre plane, at most",
        ],
    );
    for bore in layout.bores() {
        let mut cells: Vec<String> = bore
            .entry
            .to_array()
            .iter()
            .map(|mm| length(*mm, lengths))
            .collect();
        for part in [bore.direction.x, bore.direction.y] {
            cells.push(format!("{:.6}", part + 0.0));
        }
        cells.push(length(bore.length_in_model, lengths));
        cells.push(length(bore.beyond_end_plane, lengths));
        table.row(name(bore), cells);
    }
    format!(
        "<details class=\"more\">\n<summary>Coordinates of the bores</summary>\n\
         <p>Origin where nut line, centre line and face meet; y to the crest, x to the treble side, \
         z out of the face. x, y, z: centre of the bore's mouth on the side. The direction is a unit \
         vector into the wood; its z is 0.</p>\n{}</details>\n",
        table.draw()
    )
}

/// Plates and the wood round them; the rib.
pub fn plates(layout: &Layout, report: &Report, lengths: Lengths) -> String {
    let mut table = Table::new(
        &format!(
            "Plates: along the side from the nut line, and the wood round them ({})",
            unit_note(lengths)
        ),
        &[
            "Side",
            "Begins at",
            "Ends at",
            "Straight side before it",
            "Straight side after it",
            "Edge to face",
            "Edge to back, nut end",
            "Edge to back, middle",
            "Edge to back, crest end",
        ],
    );
    for side in layout.each_side() {
        let plate = &side.plate;
        let [nut, middle, crest] = plate.to_back;
        let figures = [
            plate.start_s,
            plate.end_s,
            plate.to_side_start,
            plate.to_side_end,
            plate.to_face,
            nut,
            middle,
            crest,
        ];
        let cells = figures.iter().map(|mm| length(*mm, lengths)).collect();
        let name = match side.side {
            Side::Treble => "Treble",
            Side::Bass => "Bass",
        };
        table.row(name.to_owned(), cells);
    }
    let [treble, bass] =
        [&layout.sides.treble, &layout.sides.bass].map(|side| lengths.show(side.plate.length));
    let long = if treble == bass {
        format!("Each plate is {treble} long")
    } else {
        format!("The plates are {treble} long on the treble side, {bass} on the bass side")
    };
    let mut out = format!(
        "<p class=\"lead\">{long}, and {} wide.</p>\n{}",
        lengths.show(layout.sides.treble.plate.width),
        table.draw()
    );
    if let Some(window) = report.rib_window {
        let rib = match layout.design.slots.as_ref().map(|slots| slots.lie) {
            Some(Lie::Rib(rib)) => Some(rib),
            _ => None,
        };
        out.push_str(&rib_scale::draw(window, rib, lengths));
    }
    out
}
