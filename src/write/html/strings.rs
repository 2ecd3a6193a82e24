//! The strings: side views, and a table of angles and of what each string comes nearest to. Only with
//! `[strings]`.

use crate::input::{DiameterBasis, Side};
use crate::layout::{Clearance, Layout};
use crate::paper::string_side::string_side;
use crate::units::{Lengths, show_degrees};

use super::escape::text;
use super::inline_svg;
use super::table::{Table, length, none, unit_note};

/// Heading, both side views and the table; empty without `[strings]`.
pub fn part(layout: &Layout, lengths: Lengths) -> String {
    let Some(strings) = &layout.design.strings else {
        return String::new();
    };
    let mut out = "<h3>Strings</h3>\n".to_owned();
    out.push_str(&format!(
        "<p>From the nut to where each string touches its winding, which is one layer of turns side \
         by side. Diameters: {}. The plan above shows the same lines from the front.</p>\n",
        text(match strings.diameter_basis {
            DiameterBasis::Given => "as the file gives them",
            other => other.name(),
        })
    ));
    for side in Side::BOTH {
        out.push_str(&view(layout, side));
    }
    out.push_str(&table(layout, lengths));
    out
}

fn view(layout: &Layout, side: Side) -> String {
    let Some(sheet) = string_side(layout, side) else {
        return String::new();
    };
    let title = format!("Strings of the {} side, seen along the bores", side.name());
    let what = format!(
        "The head cut along the {} slot, nut to the left: the strings run from the nut over the ramp \
         to their barrels.",
        side.name()
    );
    let id = format!("strings-{}", side.name());
    format!(
        "<figure class=\"strings\">\n{}<figcaption>{}</figcaption>\n</figure>\n",
        inline_svg::inline_svg(&sheet, &id, &title, &what),
        text(&title)
    )
}

fn table(layout: &Layout, lengths: Lengths) -> String {
    let mut table = Table::new(
        &format!(
            "Strings, bass to treble: distances from surface to surface, below zero where they \
             overlap ({})",
            unit_note(lengths)
        ),
        &[
            "String",
            "Barrel",
            "Diameter",
            "Behind the nut",
            "Sideways",
            "Break",
            "To wood",
            "To barrels",
            "To strings",
        ],
    );
    let nearest = |near: Vec<Clearance>| match Clearance::least(&near) {
        Some(near) => format!(
            "{} <span class=\"to\">to {}</span>",
            length(near.distance, lengths),
            text(&near.to.words())
        ),
        None => none("nothing to come near to"),
    };
    for string in &layout.strings {
        let wound = string.strung.as_ref();
        let cells = vec![
            format!("{} {}", string.side.name(), string.barrel),
            wound.map_or_else(
                || none("not given"),
                |wound| length(wound.diameter, lengths),
            ),
            length(string.run().length(), lengths),
            text(&show_degrees(string.side_pull)),
            text(&show_degrees(string.nut_break)),
            nearest(layout.string_to_wood(string)),
            nearest(layout.string_to_barrels(string)),
            nearest(layout.string_to_strings(string)),
        ];
        table.row(string.number.to_string(), cells);
    }
    table.draw()
}
