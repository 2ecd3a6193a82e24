//! `shop/`: what a workshop receives.

use rayon::prelude::*;

use super::bench::printed;
use super::together::{Task, task};
use super::{Failure, NamedFile, Work, internal};
use crate::input::Side;
use crate::paper::drawing::{DrawingOptions, drawing_sheets};
use crate::paper::flat;
use crate::paper::operations::operation_cards;
use crate::solid::rig::rig_solids;
use crate::write::csv::bore_list;
use crate::write::dxf::dxf;
use crate::write::shop_step::{assembly_step, rig_step};
use crate::write::svg::svg;

/// A task for each kind of file.
pub(super) fn tasks<'a>(work: &'a Work<'a>) -> Vec<Task<'a>> {
    vec![
        task(move || papers(work)),
        task(move || Ok(flat_files(work))),
        task(move || solids(work)),
    ]
}

/// What a person should know of the files.
pub(super) fn notes(work: &Work<'_>) -> Vec<String> {
    flat::template_notes(work.layout)
        .iter()
        .map(|note| format!("slot template: {note}"))
        .collect()
}

/// Drawing, cards and list for people; then the drawing's sheets for programs.
fn papers(work: &Work<'_>) -> Result<Vec<NamedFile>, Failure> {
    let (layout, report) = (work.layout, work.report);
    let options = DrawingOptions {
        units_both: layout.design.lengths().inches,
    };
    let drawing = drawing_sheets(layout, report, work.solids, &options);
    let ((sheets, cards), drawn) = rayon::join(
        || {
            rayon::join(
                || printed("shop/drawing.pdf", &drawing),
                || {
                    let options = work.sheet_options(work.wanted.paper);
                    let cards = operation_cards(layout, report, options);
                    printed("shop/operations.pdf", &cards)
                },
            )
        },
        || drawing.par_iter().map(svg).collect::<Vec<_>>(),
    );
    let mut files = sheets?;
    files.extend(cards?);
    files.push(("shop/bores.csv".to_owned(), bore_list(layout)));
    for (index, text) in drawn.into_iter().enumerate() {
        // One SVG a sheet; the first has the plain name.
        let name = match index {
            0 => "shop/drawing.svg".to_owned(),
            more => format!("shop/drawing-{}.svg", more + 1),
        };
        files.push((name, text.into_bytes()));
    }
    Ok(files)
}

/// The assembly and, where there is one, the rig.
fn solids(work: &Work<'_>) -> Result<Vec<NamedFile>, Failure> {
    let (layout, solids, wanted) = (work.layout, work.solids, work.wanted);
    let assembly = assembly_step(layout, solids, wanted.schema, wanted.neck_stub)
        .map_err(|error| internal(&error))?;
    let mut files = vec![("shop/assembly.step".to_owned(), assembly)];
    if let Some(rig) = rig_solids(layout).map_err(|error| internal(&error))? {
        let text =
            rig_step(layout, solids, &rig, wanted.schema).map_err(|error| internal(&error))?;
        files.push(("shop/rig.step".to_owned(), text));
    }
    Ok(files)
}

/// The DXF files.
fn flat_files(work: &Work<'_>) -> Vec<NamedFile> {
    let mut files = Vec::new();
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
        && drawn.steers()
    {
        add("slot-template".to_owned(), &drawn.items);
    }
    files
}
