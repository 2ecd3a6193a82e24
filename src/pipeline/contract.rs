//! The files the contract asks for: STEP and STL of every part, and `report.json`.

use super::together::{Task, task};
use super::{Failure, NamedFile, Work, internal};
use crate::solid::Part;
use crate::solid::assembly::Role;
use crate::write::output::SEAL;
use crate::write::report_json::report_json;
use crate::write::shop_step::colour;
use crate::write::{step, stl};

/// A task for the two files of each part, the last one for the report.
pub(super) fn tasks<'a>(work: &'a Work<'a>) -> Vec<Task<'a>> {
    let parts = work.solids.parts().enumerate();
    let mut tasks: Vec<Task<'a>> = parts
        .map(|(index, part)| {
            let role = if index == 0 { Role::Head } else { Role::Block };
            task(move || solid(work, part, role))
        })
        .collect();
    tasks.push(task(move || report(work)));
    tasks
}

fn solid(work: &Work<'_>, part: &Part, role: Role) -> Result<Vec<NamedFile>, Failure> {
    let design = &work.layout.design;
    let date = Some(design.job.date.as_str()).filter(|date| !date.is_empty());
    let name = format!("{} {}", design.title, part.name);
    let step_name = format!("{}.step", part.stem);
    let step_part = step::Part {
        name: &name,
        brep: &part.brep,
        measures: &part.measures,
        colour: colour(role),
    };
    let header = step::Header {
        file_name: &step_name,
        description: &name,
        date,
    };
    let text = step::step_file(&step_part, &header).map_err(|error| internal(&error))?;
    let mesh = stl::stl_file(&part.printed).map_err(|error| internal(&error))?;
    Ok(vec![
        (step_name, text.into_bytes()),
        (format!("{}.stl", part.stem), mesh),
    ])
}

fn report(work: &Work<'_>) -> Result<Vec<NamedFile>, Failure> {
    let mut json =
        serde_json::to_string_pretty(&report_json(work.layout, work.report, work.solids))
            .map_err(|error| internal(&error))?;
    json.push('\n');
    Ok(vec![(SEAL.to_owned(), json.into_bytes())])
}
