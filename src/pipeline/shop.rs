//! `shop/`: what a workshop receives.

use super::{Failure, NamedFile, Work, internal};
use crate::input::Side;
use crate::paper::drawing::{DrawingOptions, drawing_sheets};
use crate::paper::flat;
use crate::paper::operations::operation_cards;
use crate::solid::rig::rig_solids;
use crate::write::csv::bore_list;
use crate::write::dxf::dxf;
use crate::write::pdf::pdf;
use crate::write::shop_step::{assembly_step, rig_step};
use crate::write::svg::svg;

/// The files, and what a person should know of them.
pub(super) fn files(work: &Work<'_>) -> Result<(Vec<NamedFile>, Vec<String>), Failure> {
    let (layout, solids, wanted) = (work.layout, work.solids, work.wanted);
    let cards = operation_cards(layout, work.report, work.sheet_options(wanted.paper));
    let options = DrawingOptions {
        units_both: work.wanted.both_units,
    };
    let drawing = drawing_sheets(layout, work.report, solids, &options);
    let mut files = vec![
        (
            "shop/drawing.pdf".to_owned(),
            pdf(&drawing).map_err(|error| internal(&error))?,
        ),
        (
            "shop/operations.pdf".to_owned(),
            pdf(&cards).map_err(|error| internal(&error))?,
        ),
        ("shop/bores.csv".to_owned(), bore_list(layout)),
    ];
    for (index, sheet) in drawing.iter().enumerate() {
        // One SVG a sheet; the first has the plain name.
        let name = match index {
            0 => "shop/drawing.svg".to_owned(),
            more => format!("shop/drawing-{}.svg", more + 1),
        };
        files.push((name, svg(sheet).into_bytes()));
    }
    flat_files(work, &mut files);
    let assembly = assembly_step(layout, solids, wanted.schema, wanted.neck_stub)
        .map_err(|error| internal(&error))?;
    files.push(("shop/assembly.step".to_owned(), assembly));
    if let Some(rig) = rig_solids(layout).map_err(|error| internal(&error))? {
        let text =
            rig_step(layout, solids, &rig, wanted.schema).map_err(|error| internal(&error))?;
        files.push(("shop/rig.step".to_owned(), text));
    }
    let notes = flat::corners_note(layout)
        .map(|note| format!("slot template: {note}"))
        .into_iter()
        .collect();
    Ok((files, notes))
}

/// The DXF files.
fn flat_files(work: &Work<'_>, files: &mut Vec<NamedFile>) {
    let layout = work.layout;
    let mut add = |name: String, items: &[crate::paper::Item]| {
        files.push((format!("shop/{name}.dxf"), dxf(items).into_bytes()));
    };
    add("head-face".to_owned(), &flat::head_face(layout));
    for side in Side::BOTH {
        add(
            format!("head-{}-side", side.name()),
            &flat::head_side(layout, side),
        );
    }
    for block in &layout.blocks {
        add(block.file_stem().to_owned(), &flat::guide_block(block));
    }
    if let Some(template) = &layout.design.template
        && let Some(drawn) = flat::slot_template(layout, template)
    {
        add("slot-template".to_owned(), &drawn.items);
    }
}
