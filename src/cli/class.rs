//! `barrelhead class`.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use crate::check::{Report, Verdict};
use crate::input::has_head;
use crate::layout::Layout;
use crate::paper::class_sheet::class_sheets;
use crate::pipeline::Failure;
use crate::study::class::{Head, class};
use crate::write::output;
use crate::write::pdf::pdf;

use super::arguments::ClassArguments;
use super::check::checked;
use super::style::{STRONG, clean, number, of, paint};
use super::table::{Lean, Table};
use super::{Said, Status, failure_text, json, status_of};

/// Checks every head of a folder, prints a line each and writes one sheet for all.
pub fn run(arguments: &ClassArguments) -> Said {
    let folder = &arguments.folder;
    let files = match files(folder) {
        Ok(files) => files,
        Err(message) => return Said::wrong(&message),
    };
    let (files, left_out): (Vec<PathBuf>, Vec<PathBuf>) =
        files.into_iter().partition(|file| has_head(file));
    if files.is_empty() {
        return Said::wrong(&format!(
            "{} holds no parameter file with a table [head]; name a folder with one file a head, ending in .toml",
            folder.display()
        ));
    }
    let mut said = Said::done("");
    let mut good: Vec<(PathBuf, Layout, Report)> = Vec::new();
    let mut bad: Vec<(PathBuf, Failure)> = Vec::new();
    for file in files {
        match checked(&file) {
            Ok((layout, report)) => {
                if report.verdict() == Verdict::Stop {
                    said.status = said.status.max(Status::Stopped);
                }
                good.push((file, layout, report));
            }
            Err(failure) => {
                said.status = said.status.max(status_of(&failure));
                bad.push((file, failure));
            }
        }
    }
    let heads = class(&good);
    let title = folder_name(folder);
    let out = arguments
        .out
        .clone()
        .unwrap_or_else(|| Path::new("output").join(format!("{title}-class")));
    let sheet = if heads.is_empty() {
        None
    } else {
        let sheets = class_sheets(&title, &heads, bad.len(), arguments.paper.paper());
        let bytes = match pdf(&sheets) {
            Ok(bytes) => bytes,
            Err(error) => return Said::failed(&error.to_string()),
        };
        match output::replace(&out, &[("class.pdf".to_owned(), bytes)], |_| false) {
            Ok(written) => written.into_iter().next(),
            Err(error) => return Said::not_put(&error),
        }
    };
    if arguments.json {
        said.out = json::text(&value(
            &heads,
            &bad,
            &left_out,
            sheet.as_deref(),
            said.status,
        ));
        return said;
    }
    for (file, failure) in &bad {
        said.err.push_str(&failure_text(file, failure));
    }
    said.out = screen(&title, &heads, &bad, &left_out);
    if let Some(sheet) = sheet {
        said.out
            .push_str(&format!("{}\n", clean(&sheet.display().to_string())));
    }
    said
}

fn folder_name(folder: &Path) -> String {
    let real = std::fs::canonicalize(folder).unwrap_or_else(|_| folder.to_path_buf());
    real.file_name().map_or_else(
        || "class".to_owned(),
        |name| name.to_string_lossy().into_owned(),
    )
}

/// The folder's own .toml files, by name.
fn files(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let listed = std::fs::read_dir(folder).map_err(|error| {
        format!(
            "the folder {} cannot be read: {error}; name a folder with one file a head",
            folder.display()
        )
    })?;
    let mut files: Vec<PathBuf> = listed
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml") && path.is_file())
        .collect();
    files.sort();
    Ok(files)
}

fn screen(title: &str, heads: &[Head], bad: &[(PathBuf, Failure)], left_out: &[PathBuf]) -> String {
    let mut out = format!(
        "{}: {} heads\n",
        paint(STRONG, &clean(title)),
        heads.len() + bad.len()
    );
    let mut table = Table::new(&[
        ("file", Lean::Left),
        ("title", Lean::Left),
        ("verdict", Lean::Left),
        ("stop at, mm", Lean::Right),
        ("shim, mm", Lean::Right),
        ("worst check", Lean::Left),
        ("", Lean::Left),
    ]);
    for head in heads {
        let shims: Vec<String> = head.shims.iter().map(|shim| number(*shim)).collect();
        table.row(vec![
            clean(&file_name(&head.file)),
            clean(&head.title),
            paint(of(head.verdict), head.verdict.name()),
            number(head.deepest_stop()),
            shims.join(", "),
            head.worst
                .as_ref()
                .map_or(String::new(), |worst| worst.code.to_owned()),
            differences(head).to_owned(),
        ]);
    }
    for (file, _) in bad {
        table.row(vec![
            clean(&file_name(file)),
            String::new(),
            "not read".to_owned(),
        ]);
    }
    out.push_str(&table.draw());
    if !left_out.is_empty() {
        let names: Vec<String> = left_out
            .iter()
            .map(|file| clean(&file_name(file)))
            .collect();
        out.push_str(&format!(
            "Without a table [head], left out: {}\n",
            names.join(", ")
        ));
    }
    out.push_str(
        "Stop: from the block's top to the tip of the bit at full depth. Shim above zero: between block and\n\
         upright; below zero: between head and upright.\n",
    );
    out
}

/// What sets a head apart from the first one.
fn differences(head: &Head) -> &'static str {
    match (head.same_set, head.same_block) {
        (true, true) => "",
        (false, true) => "another set",
        (true, false) => "another block",
        (false, false) => "another set and block",
    }
}

fn file_name(path: &Path) -> String {
    path.file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

fn value(
    heads: &[Head],
    bad: &[(PathBuf, Failure)],
    left_out: &[PathBuf],
    sheet: Option<&Path>,
    status: Status,
) -> Value {
    let names = |files: &[PathBuf]| -> Vec<String> {
        files
            .iter()
            .map(|file| file.display().to_string())
            .collect()
    };
    let list: Vec<Value> = heads
        .iter()
        .map(|head| {
            let stops: Vec<Value> = head
                .stops
                .iter()
                .map(crate::write::entries::stop_entry)
                .collect();
            json!({
                "file": head.file.display().to_string(),
                "title": head.title,
                "verdict": head.verdict.name(),
                "worst": head.worst.as_ref().map(crate::write::entries::check_entry),
                "stops": head.counts.0,
                "cautions": head.counts.1,
                "deepest_stop_mm": head.deepest_stop(),
                "depth_stops": stops,
                "shims_mm": head.shims,
                "same_set_as_first": head.same_set,
                "same_block_as_first": head.same_block,
            })
        })
        .collect();
    let mistakes: Vec<Value> = bad
        .iter()
        .map(|(file, failure)| json::failed(file, failure))
        .collect();
    json!({
        "heads": list,
        "not_read": mistakes,
        "left_out": names(left_out),
        "sheet": sheet.map(|sheet| sheet.display().to_string()),
        "exit_status": status as u8,
    })
}
