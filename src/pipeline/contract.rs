//! The files the contract asks for: STEP and STL of every part, and `report.json`.

use super::{Failure, NamedFile, Work, internal};
use crate::write::report_json::report_json;
use crate::write::{step, stl};

/// Colours of the parts: wood of the head, a cooler grey-green for the block.
const HEAD_COLOUR: [f64; 3] = [0.72, 0.52, 0.33];
const BLOCK_COLOUR: [f64; 3] = [0.45, 0.56, 0.52];

pub(super) fn files(work: &Work<'_>) -> Result<Vec<NamedFile>, Failure> {
    let design = &work.layout.design;
    let date = Some(design.job.date.as_str()).filter(|date| !date.is_empty());
    let mut files = Vec::new();
    for (index, part) in work.solids.parts().enumerate() {
        let name = format!("{} {}", design.title, part.name);
        let step_name = format!("{}.step", part.stem);
        let step_part = step::Part {
            name: &name,
            brep: &part.brep,
            measures: &part.measures,
            colour: if index == 0 {
                HEAD_COLOUR
            } else {
                BLOCK_COLOUR
            },
        };
        let header = step::Header {
            file_name: &step_name,
            description: &name,
            date,
        };
        let text = step::step_file(&step_part, &header).map_err(|error| internal(&error))?;
        files.push((step_name, text.into_bytes()));
        let mesh = stl::stl_file(&part.printed).map_err(|error| internal(&error))?;
        files.push((format!("{}.stl", part.stem), mesh));
    }
    let mut json =
        serde_json::to_string_pretty(&report_json(work.layout, work.report, work.solids))
            .map_err(|error| internal(&error))?;
    json.push('\n');
    files.push(("report.json".to_owned(), json.into_bytes()));
    Ok(files)
}
