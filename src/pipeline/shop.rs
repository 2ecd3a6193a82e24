//! `shop/`: what a workshop receives.

use super::{Failure, NamedFile, Work};
use crate::input::Side;
use crate::paper::flat;
use crate::write::dxf::dxf;

pub(super) fn files(work: &Work<'_>) -> Result<Vec<NamedFile>, Failure> {
    let mut files = Vec::new();
    flat_files(work, &mut files);
    Ok(files)
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
