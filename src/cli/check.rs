//! `barrelhead check`.

use std::path::Path;

use serde_json::json;

use crate::check::{Report, Verdict};
use crate::input::{Lie, Unit};
use crate::layout::Layout;
use crate::pipeline::{self, Failure};

use super::arguments::CheckArguments;
use super::style::{Lengths, STRONG, clean, paint};
use super::{Said, Status, beside, failure_text, json, status_of, verdicts};

/// Checks every file, prints what was found and gives the highest status of all.
pub fn run(arguments: &CheckArguments) -> Said {
    let mut said = Said::done("");
    let mut designs = Vec::new();
    let mut worst = Verdict::Clear;
    for (index, path) in arguments.files.iter().enumerate() {
        let (status, value) = match checked(path) {
            Err(failure) => {
                if !arguments.json {
                    said.err.push_str(&failure_text(path, &failure));
                }
                (status_of(&failure), json::failed(path, &failure))
            }
            Ok((layout, report)) => {
                if !arguments.json {
                    let lengths = Lengths {
                        inches: arguments.inches || layout.design.unit == Unit::Inch,
                    };
                    if index > 0 {
                        said.out.push('\n');
                    }
                    said.out.push_str(&format!(
                        "{} ({}): {}\n",
                        paint(STRONG, &clean(&layout.design.title)),
                        clean(&path.display().to_string()),
                        verdicts::summary(&report)
                    ));
                    said.out
                        .push_str(&verdicts::listing(&report, lengths, arguments.all));
                    if let Some(window) = report.rib_window {
                        said.out
                            .push_str(&verdicts::rib_window(window, rib(&layout), lengths));
                    }
                    said.out
                        .push_str(&verdicts::remarks(&layout.design, lengths));
                    said.out.push_str(&beside::drilled(&layout));
                    said.out
                        .push_str(&verdicts::doubts(&layout.design, lengths));
                    said.out
                        .push_str(&beside::readings(&layout, &report, lengths, arguments.all));
                    said.out
                        .push_str(&beside::seasons(&layout, &report, lengths, arguments.all));
                }
                worst = worst.max(report.verdict());
                let status = match report.verdict() {
                    Verdict::Stop => Status::Stopped,
                    Verdict::Caution | Verdict::Clear => Status::Done,
                };
                (status, json::checked(path, &layout, &report))
            }
        };
        said.status = said.status.max(status);
        designs.push(value);
    }
    if arguments.json {
        let value = json!({ "designs": designs, "exit_status": said.status as u8 });
        said.out = json::text(&value);
    } else if worst > Verdict::Clear {
        said.out
            .push_str("\nWhat a check means and what to change: barrelhead explain CODE\n");
    }
    said
}

/// A stopped design was checked all the same.
pub fn checked(path: &Path) -> Result<(Layout, Report), Failure> {
    match pipeline::check(path) {
        Err(Failure::Stopped(layout, report)) => Ok((*layout, report)),
        other => other,
    }
}

/// The rib of a design that has one.
pub fn rib(layout: &Layout) -> Option<f64> {
    match layout.design.slots.as_ref()?.lie {
        Lie::Rib(rib) => Some(rib),
        Lie::Cheek(_) => None,
    }
}
