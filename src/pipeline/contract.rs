//! The files the contract asks for: STEP and STL of every part, and `report.json`.

use super::{Failure, NamedFile, Work, internal};
use crate::solid::assembly::Role;
use crate::write::report_json::report_json;
use crate::write::shop_step::colour;
use crate::write::{step, stl};

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
            colour: colour(if index == 0 { Role::Head } else { Role::Block }),
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
