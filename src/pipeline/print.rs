//! `print/`: files for the printer.

use super::{Failure, NamedFile, Work, internal};
use crate::solid::printed::{
    GAUGE_RULE, NOTCH_RULE, PrintOptions, fit_gauges, printed_parts, rig_wedge,
};
use crate::write::threemf::{About, threemf};

/// The files, and what a person should know of the parts in them.
pub(super) fn files(work: &Work<'_>) -> Result<(Vec<NamedFile>, Vec<String>), Failure> {
    let design = &work.layout.design;
    let date = Some(design.job.date.as_str()).filter(|date| !date.is_empty());
    let options = PrintOptions {
        mock: work.wanted.mock,
    };
    let parts = printed_parts(work.checked, work.solids, options).map_err(|e| internal(&e))?;
    let gauges = fit_gauges(work.checked).map_err(|e| internal(&e))?;
    let wedge = rig_wedge(work.layout).map_err(|e| internal(&e))?;
    let about = |description| About {
        title: &design.title,
        description,
        date,
    };
    let printed = threemf(&parts, &about(NOTCH_RULE)).map_err(|e| internal(&e))?;
    let gauge = threemf(&gauges, &about(GAUGE_RULE)).map_err(|e| internal(&e))?;
    let notes = parts
        .iter()
        .chain(&wedge)
        .flat_map(|part| {
            part.notes
                .iter()
                .map(move |note| format!("{}: {note}", part.name))
        })
        .collect();
    let mut files = vec![
        ("print/printed.3mf".to_owned(), printed),
        ("print/fit-gauge.3mf".to_owned(), gauge),
    ];
    if let Some(wedge) = &wedge {
        let text = "Lies under the head on the rig, its thick end as bench/rig.pdf says.";
        let bytes = threemf(std::slice::from_ref(wedge), &about(text)).map_err(|e| internal(&e))?;
        files.push(("print/rig-wedge.3mf".to_owned(), bytes));
    }
    Ok((files, notes))
}
