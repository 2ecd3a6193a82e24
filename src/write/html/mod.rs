//! `report.html`: the whole design on one page that opens from disk, needs no network and no
//! script, and prints. Well-formed as XML too, so that programs may read it.

mod block;
mod bores;
mod checks;
mod escape;
mod files;
mod gauge;
mod inline_svg;
mod overview;
mod picture_png;
mod pictures;
mod rib_scale;
mod room;
mod solids;
mod strings;
mod studies;
mod table;

use crate::check::Report;
use crate::layout::Layout;
use crate::solid::Solids;
use crate::study::room::Room;
use crate::units::Lengths;

use escape::text;

/// How the page is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options {
    /// Inches beside the millimetres even where the design is in millimetres.
    pub inches: bool,
}

/// Style sheet: free of `<` and `&`, which would have to be escaped for XML but not for HTML.
const STYLE: &str = include_str!("report.css");

/// Anchor of the section that is there only where it was asked for.
const ROOM: &str = "room";

/// The sections in reading order: anchor and heading.
const SECTIONS: [(&str, &str); 11] = [
    ("pictures", "Pictures"),
    ("checks", "Checks, tightest first"),
    (ROOM, "Room to move"),
    ("measured", "Measured by readings"),
    ("wood", "Wood and its seasons"),
    ("layout", "Layout and bores"),
    ("plates", "Plates and rib"),
    ("block", "Guide block and depth stop"),
    ("solids", "Solids"),
    ("files", "Files"),
    ("people", "Before you drill"),
];

/// The page. `files` are the names of everything written with it, relative to its own folder, in the
/// order they are to be listed; figures are those of `report.json` to the printed digit.
#[must_use]
pub fn report_html(
    layout: &Layout,
    report: &Report,
    solids: &Solids,
    files: &[String],
    options: Options,
) -> String {
    report_html_with_room(layout, report, solids, files, options, &[])
}

/// What of a page is of the design alone: without the list of files beside it and without the pictures
/// that `--room` adds.
#[must_use]
pub fn of_the_design(page: &str) -> String {
    let cut = |page: &str, from: &str, to: &str| {
        let (before, rest) = page.split_once(from)?;
        let (_, after) = rest.split_once(to)?;
        Some(format!("{before}{after}"))
    };
    let mut left = page.to_owned();
    for anchor in [ROOM, "files"] {
        for (from, to) in [
            (format!("<li><a href=\"#{anchor}\">"), "</li>\n"),
            (format!("<section id=\"{anchor}\""), "</section>\n"),
        ] {
            left = cut(&left, &from, to).unwrap_or(left);
        }
    }
    left
}

/// The page with a picture of how far each number may go; without it where `rooms` is empty.
#[must_use]
pub fn report_html_with_room(
    layout: &Layout,
    report: &Report,
    solids: &Solids,
    files: &[String],
    options: Options,
    rooms: &[Room],
) -> String {
    let lengths = Lengths {
        inches: options.inches || layout.design.lengths().inches,
    };
    let title = text(&layout.design.title);
    let mut page = format!(
        "<!DOCTYPE html>\n\
         <html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\" xml:lang=\"en\">\n\
         <head>\n\
         <meta charset=\"utf-8\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
         <meta name=\"color-scheme\" content=\"light dark\"/>\n\
         <title>{title}: report</title>\n\
         <style>\n{STYLE}</style>\n\
         </head>\n\
         <body>\n\
         <a class=\"skip\" href=\"#checks\">Skip to the checks</a>\n"
    );
    page.push_str(&overview::header(layout, report, lengths));
    let body = |anchor: &str| match anchor {
        "pictures" => pictures::section(layout, solids),
        "checks" => checks::section(&layout.design, report, lengths),
        ROOM if rooms.is_empty() => String::new(),
        ROOM => room::section(rooms, lengths),
        "measured" => studies::readings(layout, report, lengths),
        "wood" => studies::seasons(layout, report, solids),
        "layout" => bores::section(layout, lengths),
        "plates" => bores::plates(layout, report, lengths),
        "block" => block::section(layout, lengths),
        "solids" => solids::section(solids, lengths),
        "files" => files::section(files, layout),
        _ => files::people(),
    };
    // A design without readings, or without its wood, has no such section, nor a room not asked for.
    let sections: Vec<(&str, &str, String)> = SECTIONS
        .iter()
        .map(|(anchor, heading)| (*anchor, *heading, body(anchor)))
        .filter(|(_, _, body)| !body.is_empty())
        .collect();
    page.push_str("<nav aria-label=\"Sections\">\n<ul>\n");
    for (anchor, heading, _) in &sections {
        page.push_str(&format!(
            "<li><a href=\"#{anchor}\">{}</a></li>\n",
            text(heading)
        ));
    }
    page.push_str("</ul>\n</nav>\n<main>\n");
    for (anchor, heading, body) in &sections {
        page.push_str(&format!(
            "<section id=\"{anchor}\" aria-labelledby=\"{anchor}-heading\">\n\
             <h2 id=\"{anchor}-heading\">{}</h2>\n{body}</section>\n",
            text(heading)
        ));
    }
    page.push_str("</main>\n");
    page.push_str(&overview::footer(layout));
    page.push_str("</body>\n</html>\n");
    page
}
