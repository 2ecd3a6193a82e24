//! The files written with the page, and what to mind before drilling.

use super::escape::{address, text};
use super::table::Table;
use crate::layout::Layout;
use crate::paper::flat::template_notes;

/// Every file with what it is for.
pub fn section(files: &[String], layout: &Layout) -> String {
    let mut table =
        Table::new("Files written with this page", &["File", "What it is for"]).of_words();
    for name in files {
        let link = format!("<a href=\"{}\">{}</a>", address(name), text(name));
        let notes = if name.contains("slot-template") {
            template_notes(layout)
        } else {
            Vec::new()
        };
        let notes: String = notes.iter().map(|note| format!(" Note: {note}.")).collect();
        table.row(
            link,
            vec![text(&format!("{}{notes}", purpose(name, layout)))],
        );
    }
    format!("{}{}", table.draw(), withheld(files, layout))
}

/// Why the slot template is not among the shop's files, where it is withheld.
fn withheld(files: &[String], layout: &Layout) -> String {
    let of_shop = |name: &String| name.starts_with("shop/");
    let template = |name: &String| name.contains("slot-template");
    if !files.iter().any(of_shop) || files.iter().any(template) {
        return String::new();
    }
    let notes = template_notes(layout);
    notes
        .iter()
        .map(|note| format!("<p>Slot template: {}.</p>\n", text(note)))
        .collect()
}

/// What a file is for, by its name, or at least by its kind.
fn purpose(name: &str, layout: &Layout) -> &'static str {
    let name = name.replace('\\', "/");
    let (stem, kind) = name.rsplit_once('.').unwrap_or((&name, ""));
    match (stem, kind) {
        ("head", "step") => "The finished head as an exact solid: for a shop, or to model on.",
        ("head", "stl") => {
            "The head as a mesh, for printing a trial copy; its bores carry the printing allowance."
        }
        ("guide-block", "step") => "The guide block as an exact solid; it serves both sides.",
        ("guide-block-treble", "step") => "The treble side's guide block as an exact solid.",
        ("guide-block-bass", "step") => "The bass side's guide block as an exact solid.",
        ("guide-block" | "guide-block-treble" | "guide-block-bass", "stl") => {
            "The same as a mesh, for printing; its holes carry the printing allowance."
        }
        ("report", "json") => "These figures at full precision, for programs.",
        ("report", "html") => "This page.",
        ("bench/marking-sheet", _) => {
            "True-size paper to mark out face and sides; measure its check bar before use."
        }
        ("bench/setup-sheet", _) => "The job at the press: order of work, holes, depth stops.",
        ("bench/rig", _) => "Cutting list and drawing of the rig that holds head and block.",
        ("shop/drawing" | "shop/drawing-2" | "shop/drawing-3" | "shop/drawing-4", _) => {
            "Dimensioned drawing of head and guide block."
        }
        ("shop/operations", _) => "A card for each clamping: origin, axes and features in them.",
        ("shop/bores", _) => "The bores as a list for spreadsheets and programs.",
        ("shop/head-face", _) => {
            let mut slots = layout.each_side().filter_map(|side| side.slot.as_ref());
            match layout.design.slots {
                None => "The face: its outline, for a router or cutter.",
                Some(_) if slots.any(|slot| slot.ramp_region().is_some()) => {
                    "The face: outline, slots, ramps, for a router or cutter."
                }
                Some(_) => "The face: outline and slots, for a router or cutter.",
            }
        }
        ("shop/head-treble-side", _) => "The treble side with its bores as circles.",
        ("shop/head-bass-side", _) => "The bass side with its bores as circles.",
        ("shop/guide-block" | "shop/guide-block-treble" | "shop/guide-block-bass", "dxf") => {
            "The guide block with its holes, seen along them from its foot."
        }
        ("shop/slot-template", _) => {
            "Routing template for the slots, offset for the bush or bearing."
        }
        ("shop/assembly", _) => {
            "Head, guide block and machines in place; the machines are stand-ins, not to be made."
        }
        ("shop/rig", _) => "The rig as solids.",
        ("print/printed", _) => "What there is to print, in one file with units and named parts.",
        ("print/fit-gauge", _) => {
            "A short coupon of bores at rising clearances, to find the printer's own allowance."
        }
        ("print/rig-wedge", _) => "The wedge that lies under a tapered head on the rig.",
        (_, "pdf" | "svg" | "png") => "A sheet to print or to read.",
        (_, "dxf") => "Outlines in millimetres for a cutter.",
        (_, "step") => "An exact solid.",
        (_, "stl" | "3mf") => "A mesh for printing.",
        (_, "csv" | "json") => "Figures for programs.",
        _ => "Part of this design.",
    }
}

/// Cautions for people.
pub fn people() -> String {
    let cautions = [
        "Wear eye protection, and a dust mask where the wood calls for it.",
        "Clamp head and block; never hold them by hand.",
        "No gloves, no loose sleeves; tie long hair back.",
        "Take the chuck key out before the machine starts.",
        "Stop the machine before you measure, clear chips or move the work.",
        "Lower the bit into the guide hole while it stands still, then start; drill in pecks.",
        "Try the whole setup on scrap first.",
    ];
    let list: String = cautions
        .iter()
        .map(|caution| format!("<li>{}</li>\n", text(caution)))
        .collect();
    format!(
        "<ul class=\"cautions\">\n{list}</ul>\n<p>The machine's manual, the rules of your workshop \
         and country and trained practice come before anything said here. This is work for \
         practised hands. The checks measure distances, not strength, and know nothing of cracked \
         or short-grained wood, of a bit that wanders or of a table out of square.</p>\n"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    #[test]
    fn a_template_that_is_withheld_is_said_where_the_shops_files_are_listed() {
        let mut design = six_string();
        let list = |design: &crate::input::Design, name: &str| {
            let layout = Layout::new(design, Copy::Finished);
            section(&[name.to_owned()], &layout)
        };
        design.template = Some(crate::input::Template {
            cutter: 12.0,
            bush: 40.0,
        });
        let said = "Slot template: not written";
        assert!(list(&design, "shop/bores.csv").contains(said));
        assert!(!list(&design, "head.step").contains(said));
        design.template = Some(crate::input::Template {
            cutter: 12.0,
            bush: 16.0,
        });
        assert!(!list(&design, "shop/bores.csv").contains(said));
    }

    #[test]
    fn the_face_is_said_to_hold_what_it_holds() {
        let of = |change: fn(&mut crate::input::Design)| {
            let mut design = six_string();
            change(&mut design);
            let layout = Layout::new(&design, Copy::Finished);
            purpose("shop/head-face.dxf", &layout)
        };
        assert!(of(|_| {}).contains("outline, slots, ramps,"));
        let plain = of(|design| design.slots.as_mut().unwrap().ramp = None);
        assert!(plain.contains("outline and slots,"));
        assert!(of(|design| design.slots = None).contains("its outline,"));
    }

    #[test]
    fn every_file_is_named_and_linked_with_its_purpose() {
        let files = ["head.step", "bench/marking-sheet.pdf", "odd <name>.xyz"].map(String::from);
        let layout = Layout::new(&six_string(), Copy::Finished);
        let list = section(&files, &layout);
        assert!(
            list.contains("<a href=\"head.step\">head.step</a>"),
            "{list}"
        );
        assert!(list.contains("check bar"), "{list}");
        assert!(
            list.contains("href=\"odd%20%3Cname%3E.xyz\">odd &lt;name&gt;.xyz"),
            "{list}"
        );
    }
}
