//! What the drawing says in words, and its table of tolerances.

use glam::DVec2;

use super::figure::{Figures, degrees};
use crate::check::{Report, Verdict};
use crate::input::{Lie, Side};
use crate::layout::{Block, BoreEnd, Layout, Serves};
use crate::paper::dimension::line_step;
use crate::paper::measure::{text_width, wrap};
use crate::paper::table::{Lean, Table};
use crate::paper::{Anchor, Layer, Sheet, Weight};
use crate::solid::brep::Measures;
use crate::standards::iso286;

/// Height of the notes' capitals, mm.
pub(super) const HEIGHT: f64 = 2.5;

/// Notes of the head.
pub(super) fn head(
    layout: &Layout,
    report: &Report,
    solid: &Measures,
    figures: Figures,
) -> Vec<String> {
    let head = &layout.design.head;
    let mut notes = vec![
        "Partial model: the head alone. The neck goes on beyond the nut line, y = 0 (left).".to_owned(),
        "Datums: nut line, centre line, front face. Running dimensions of the front view start at the nut line and run along the centre line; those of views A and B run along the side.".to_owned(),
        format!(
            "Arrive finished: {}, and both sides, flat and square to it. Back and crest may still be rough: no dimension starts from them. Face to playing surface: {}.",
            if layout.front_when_drilled() < 0.0 {
                "the core's front, still without its veneer"
            } else {
                "the front face"
            },
            degrees(head.angle)
        ),
    ];
    notes.push(veneers(layout, figures));
    if let Some(slots) = &layout.design.slots {
        if matches!(slots.lie, Lie::Cheek(_)) {
            notes.push(
                "Slots lie parallel to their sides; their ends are given on their mid-lines."
                    .to_owned(),
            );
        }
        if let Some(ramp) = slots.ramp {
            notes.push(format!(
                "Ramps: as wide as their slots, the floor falling {} from the face at their nut end until it meets the slot.",
                degrees(ramp.angle)
            ));
        }
        notes.push(if slots.corner_radius > 0.0 {
            format!(
                "Smallest cutter assumed: Ø{} or less, for inner corners {} in the slots.",
                figures.length(2.0 * slots.corner_radius),
                figures.radius(slots.corner_radius)
            )
        } else {
            "Smallest cutter assumed: none; the slots' corners are square and finished by chisel."
                .to_owned()
        });
    }
    if layout.bores().any(|bore| bore.end != BoreEnd::Blind) {
        notes.push("Bores are drilled to their full depth D, also where the model ends them at the middle of the head.".to_owned());
    }
    notes.push("Bores are square to the side they enter and parallel to the face, not square to the centre line.".to_owned());
    if head.edge_radius > 0.0 {
        notes.push(format!(
            "Edges of the sides are rounded {} later; not modelled.",
            figures.radius(head.edge_radius)
        ));
    }
    notes.push(checks(report));
    notes.push(volume(solid, "head.step"));
    notes
}

fn veneers(layout: &Layout, figures: Figures) -> String {
    let head = &layout.design.head;
    let layers: Vec<String> = [("face", head.face_veneer), ("back", head.back_veneer)]
        .into_iter()
        .filter(|(_, thickness)| *thickness > 0.0)
        .map(|(name, thickness)| format!("{name} {}", figures.length(thickness)))
        .collect();
    if layers.is_empty() {
        return "No veneers: the thickness is that of the wood.".to_owned();
    }
    let layers = layers.join(", ");
    if head.veneers_on {
        format!("Veneers are on when the head is drilled ({layers}; inside the thickness).")
    } else {
        let wood = layout.axis_below_face + layout.front_when_drilled();
        format!(
            "Veneers are glued on after drilling ({layers}). The model and every dimension are those of the finished head; on the bare core the bores' axis is {} below its face.",
            figures.length(wood)
        )
    }
}

fn checks(report: &Report) -> String {
    let cautions: Vec<&str> = report
        .findings
        .iter()
        .filter(|finding| finding.verdict == Verdict::Caution)
        .map(|finding| finding.code)
        .collect();
    if cautions.is_empty() {
        "Checks of the design: all clear.".to_owned()
    } else {
        format!(
            "Checks of the design: caution at {} (see report).",
            cautions.join(", ")
        )
    }
}

fn volume(solid: &Measures, file: &str) -> String {
    format!(
        "To check an imported {file}: volume {:.2} mm³, area {:.2} mm².",
        solid.volume, solid.area
    )
}

/// Notes of a guide block.
pub(super) fn block(
    layout: &Layout,
    block: &Block,
    solid: &Measures,
    figures: Figures,
) -> Vec<String> {
    let guide = &layout.design.guide;
    let serves = match block.serves {
        Serves::Both => {
            "Serves both sides: on the treble side the end x = 0 (left) lies towards the nut, on the bass side towards the crest."
        }
        Serves::Only(Side::Treble) => {
            "For the treble side only: the end x = 0 (left) lies towards the nut."
        }
        Serves::Only(Side::Bass) => {
            "For the bass side only: the end x = 0 (left) lies towards the crest."
        }
    };
    let mut notes = vec![
        serves.to_owned(),
        "Datums: the face on the upright, the foot, the end x = 0. These three arrive finished and square to one another.".to_owned(),
        "Holes are square to the foot and parallel to the face on the upright.".to_owned(),
    ];
    notes.push(match guide.bush_diameter {
        Some(_) => format!(
            "Press drill bushes for the bit {} into the holes.",
            figures.diameter(layout.design.bores.diameter)
        ),
        None => format!(
            "The holes guide the bit {} themselves.",
            figures.diameter(layout.design.bores.diameter)
        ),
    });
    if let Some((thick, between)) = block.shim_to_lay() {
        notes.push(format!(
            "At the press: shim of {} between {between}.",
            figures.length(thick)
        ));
    }
    notes.push("Ends and edges may be broken lightly; the foot's edges may not, where they meet the holes.".to_owned());
    notes.push(volume(solid, &format!("{}.step", block.file_stem())));
    notes
}

/// Tolerances of the head.
pub(super) fn head_tolerances(layout: &Layout, figures: Figures) -> Table {
    let t = &layout.design.tolerances;
    let mut table = Table::new(
        HEIGHT,
        &[("Tolerance", Lean::Left), ("allowed", Lean::Left)],
    );
    if layout.sides_with_pitches() > 0 {
        table.row([
            "pitch of neighbouring bores, along the side".to_owned(),
            format!("±{}", figures.length(t.pitch)),
        ]);
    }
    table.row([
        "bore diameter".to_owned(),
        format!("+{} / 0", figures.length(t.bore_diameter)),
    ]);
    table.row([
        "bore axis below the face".to_owned(),
        format!("±{}", figures.length(t.axis_below_face)),
    ]);
    table.row([
        "bore square to its side".to_owned(),
        format!("±{}", degrees(t.squareness)),
    ]);
    table
}

/// Tolerances of a block.
pub(super) fn block_tolerances(layout: &Layout, block: &Block, figures: Figures) -> Table {
    let t = &layout.design.tolerances;
    let guide = &layout.design.guide;
    let mut table = Table::new(
        HEIGHT,
        &[("Tolerance", Lean::Left), ("allowed", Lean::Left)],
    );
    if block.holes.len() > 1 {
        table.row([
            "pitch of neighbouring holes".to_owned(),
            format!("±{}", figures.length(t.pitch)),
        ]);
    }
    table.row([
        "hole axis from the face on the upright".to_owned(),
        format!("±{}", figures.length(t.axis_below_face)),
    ]);
    if guide.bush_diameter.is_none() {
        table.row([
            "hole diameter".to_owned(),
            format!("+{} / 0", figures.length(t.bore_diameter)),
        ]);
    }
    table.row([
        "hole square to the foot".to_owned(),
        format!("±{}", degrees(t.squareness)),
    ]);
    if let Some(bush) = guide.bush_diameter {
        let class = t.bush_seat.name;
        let limits = t.bush_seat.deviations_at(bush).map_or_else(
            || format!("{class}, see {}", iso286::DESIGNATION),
            |(lower, upper)| format!("{class}: {} / {}", signed(lower), signed(upper)),
        );
        let name = format!(
            "bush seat {} ({})",
            figures.diameter(bush),
            iso286::DESIGNATION
        );
        table.row([name, limits]);
    }
    table
}

/// A deviation in mm to a thousandth: `+0.018`, `0`.
fn signed(mm: f64) -> String {
    if mm.abs() < 5e-4 {
        "0".to_owned()
    } else {
        format!("{mm:+.3}")
    }
}

/// Prints numbered notes in a column whose upper left corner and width are given; returns the height used.
pub(super) fn column(sheet: &mut Sheet, corner: DVec2, width: f64, notes: &[String]) -> f64 {
    let step = line_step(HEIGHT);
    let indent = text_width("10  ", HEIGHT, Weight::Plain);
    sheet.strong(
        Layer::Notes,
        corner - DVec2::Y * HEIGHT,
        HEIGHT,
        Anchor::Start,
        "Notes",
    );
    let mut y = HEIGHT + step * 1.2;
    for (index, text) in notes.iter().enumerate() {
        let at = corner - DVec2::Y * y;
        sheet.text(
            Layer::Notes,
            at,
            HEIGHT,
            Anchor::Start,
            format!("{}", index + 1),
        );
        for line in wrap(text, HEIGHT, Weight::Plain, width - indent) {
            let at = corner + DVec2::new(indent, -y);
            sheet.text(Layer::Notes, at, HEIGHT, Anchor::Start, line);
            y += step;
        }
        y += step * 0.25;
    }
    y - step
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;
    use crate::paper::Item;

    #[test]
    fn a_head_of_one_barrel_a_side_has_no_pitch_to_hold() {
        let mut design = six_string();
        let rows = |design: &crate::input::Design| {
            let layout = Layout::new(design, Copy::Finished);
            let figures = Figures { both: false };
            let mut sheet = Sheet::new("tolerances", 200.0, 200.0);
            let tables = [
                head_tolerances(&layout, figures),
                block_tolerances(&layout, &layout.blocks[0], figures),
            ];
            for table in tables {
                table.draw(&mut sheet, Layer::Notes, DVec2::ZERO);
            }
            let texts = sheet.items.iter().filter_map(|item| match item {
                Item::Text(text) => Some(text.text.as_str()),
                _ => None,
            });
            let pitch = texts.filter(|text| text.contains("pitch of neighbouring"));
            pitch.count()
        };
        assert_eq!(rows(&design), 2);
        design.machines.pitches.bass.clear();
        assert_eq!(rows(&design), 2);
        design.machines.pitches.treble.clear();
        assert_eq!(rows(&design), 0);
    }
}
