//! Names every stage once, in order; the one place that touches the disk for a design.

use std::path::{Path, PathBuf};

use crate::check::{self, Report};
use crate::diagnostic::Diagnostic;
use crate::input::{self, Design};
use crate::layout::{Copy, Layout, faults};
use crate::solid::{self, Solids};
use crate::write::report_json::report_json;
use crate::write::{output, step, stl};

/// What `make` made.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// Positions of the finished head.
    pub layout: Layout,
    /// What the checks said.
    pub report: Report,
    /// Names of the files written, in the order they are listed to a person.
    pub files: Vec<PathBuf>,
    /// The folder they are in.
    pub folder: PathBuf,
}

/// Why nothing was made.
#[derive(Debug, Clone)]
pub enum Failure {
    /// Mistakes in the parameter file.
    Input(Vec<Diagnostic>),
    /// A check stopped the design.
    Stopped(Box<Layout>, Report),
    /// The command line or the file system does not allow it, in words.
    Usage(String),
    /// The program failed, in words.
    Internal(String),
}

/// Reads and checks a design. A stopped design is no failure here: its report says so.
///
/// # Errors
/// [`Failure::Input`] for mistakes in the file, or a file that cannot be read.
pub fn check(path: &Path) -> Result<(Layout, Report), Failure> {
    let (layout, report, _) = judged(path)?;
    Ok((layout, report))
}

/// Reads, checks and builds a design, and writes every file of it into `folder`.
///
/// # Errors
/// Every [`Failure`]; then nothing is written and files of an earlier run stay as they were.
pub fn make(path: &Path, folder: &Path) -> Result<Outcome, Failure> {
    let (layout, report, checked) = judged(path)?;
    let Some(checked) = checked else {
        return Err(Failure::Stopped(Box::new(layout), report));
    };
    let solids = solid::build(&checked).map_err(|fault| Failure::Internal(fault.to_string()))?;
    let files = contract_files(&layout, &report, &solids)?;
    let written =
        output::replace(folder, &files, is_contract_file).map_err(|error| match error {
            output::OutputError::Folder { .. } => Failure::Usage(error.to_string()),
            output::OutputError::File { .. } => Failure::Internal(error.to_string()),
        })?;
    Ok(Outcome {
        layout,
        report,
        files: written,
        folder: folder.to_path_buf(),
    })
}

type Judged = (Layout, Report, Option<check::Checked>);

fn judged(path: &Path) -> Result<Judged, Failure> {
    let design = input::read(path).map_err(Failure::Input)?;
    judge_design(&design, path)
}

/// Checks a design that was read already; `path` names it in messages.
///
/// # Errors
/// [`Failure::Input`] for faults that show only once positions are known.
pub fn judge_design(design: &Design, path: &Path) -> Result<Judged, Failure> {
    let finished = Layout::new(design, Copy::Finished);
    let printed = Layout::new(design, Copy::Printed);
    let mut found = faults(&finished);
    if found.is_empty() {
        found = faults(&printed);
    }
    if !found.is_empty() {
        let findings = found.into_iter().map(|fault| {
            let place = design.place_near(fault.key);
            Diagnostic {
                file: Some(place.map_or_else(|| path.to_path_buf(), |place| place.file.clone())),
                at: place.map(|place| (place.line, 1)),
                source_line: String::new(),
                span_len: 1,
                key: fault.key.to_owned(),
                message: fault.message,
                hint: Some(fault.hint),
            }
        });
        return Err(Failure::Input(findings.collect()));
    }
    let (report, checked) = check::judge(finished.clone(), printed);
    Ok((finished, report, checked))
}

/// Every file this contract knows, whether or not a given design writes it.
fn is_contract_file(name: &str) -> bool {
    let stem = name
        .strip_suffix(".step")
        .or_else(|| name.strip_suffix(".stl"));
    matches!(
        stem,
        Some("head" | "guide-block" | "guide-block-treble" | "guide-block-bass")
    ) || name == "report.json"
}

/// Colours of the parts: wood of the head, a cooler grey-green for the block.
const HEAD_COLOUR: [f64; 3] = [0.72, 0.52, 0.33];
const BLOCK_COLOUR: [f64; 3] = [0.45, 0.56, 0.52];

fn contract_files(
    layout: &Layout,
    report: &Report,
    solids: &Solids,
) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let internal = |error: &dyn std::fmt::Display| Failure::Internal(error.to_string());
    let design = &layout.design;
    let date = Some(design.job.date.as_str()).filter(|date| !date.is_empty());
    let mut files = Vec::new();
    for (index, part) in solids.parts().enumerate() {
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
    let mut json = serde_json::to_string_pretty(&report_json(layout, report, solids))
        .map_err(|error| internal(&error))?;
    json.push('\n');
    files.push(("report.json".to_owned(), json.into_bytes()));
    Ok(files)
}
