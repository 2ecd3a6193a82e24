//! `barrelhead class`.

use std::path::{Path, PathBuf};

use crate::check::{Report, Verdict};
use crate::input::has_head;
use crate::layout::Layout;
use crate::paper::class_sheet::class_sheets;
use crate::pipeline::Failure;
use crate::study::class::{Class, Shared, block_name, class, is_felt};
use crate::write::output;
use crate::write::pdf::pdf;

use super::arguments::ClassArguments;
use super::check::checked;
use super::style::{STRONG, clean, fill, of, paint};
use super::table::{Lean, Table};
use super::{Said, Status, failure_text, json, status_of};
use entry::value;
use files::files;

mod entry;
mod files;

/// The sheet's file.
const SHEET: &str = "class.pdf";

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
    let class = class(&good);
    let title = folder_name(folder);
    let out = arguments
        .out
        .clone()
        .unwrap_or_else(|| Path::new("output").join(format!("{title}-class")));
    let not_read: Vec<String> = bad.iter().map(|(file, _)| file_name(file)).collect();
    let sheet = if class.heads.is_empty() {
        None
    } else {
        let sheets = class_sheets(&title, &class, &not_read, arguments.paper.paper());
        let bytes = match pdf(&sheets) {
            Ok(bytes) => bytes,
            Err(error) => return Said::failed(&error.to_string()),
        };
        match output::replace(&out, &[(SHEET.to_owned(), bytes)], |_| false) {
            Ok(written) => written.into_iter().next(),
            Err(error) => return Said::not_put(&error),
        }
    };
    said.files = sheet.is_some();
    if arguments.json {
        said.out = json::text(&value(
            &class,
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
    said.out = screen(&title, &class, &bad, &left_out);
    if !bad.is_empty() {
        let what = if sheet.is_some() {
            not_whole(&not_read)
        } else {
            no_sheet(&out)
        };
        said.out.push_str(&what);
    }
    if let Some(sheet) = sheet {
        said.out
            .push_str(&format!("{}\n", clean(&sheet.display().to_string())));
    }
    said
}

/// Said beside the list, so that nobody takes the sheet for the class.
fn not_whole(not_read: &[String]) -> String {
    let names: Vec<String> = not_read.iter().map(|name| clean(name)).collect();
    let text = format!(
        "The sheet is not whole: {} could not be read and {} missing from it: {}. Sets, blocks and shims are \
         reckoned without {}.",
        counted(names.len(), "head"),
        if names.len() == 1 { "is" } else { "are" },
        names.join(", "),
        if names.len() == 1 { "it" } else { "them" },
    );
    fill(&text, 0)
}

/// Said where no head could be read.
fn no_sheet(out: &Path) -> String {
    let older = out.join(SHEET);
    let earlier = if older.is_file() {
        format!(
            " {} is of an earlier run: it stays as it was.",
            clean(&older.display().to_string())
        )
    } else {
        String::new()
    };
    fill(
        &format!("No head could be read, so there is no sheet.{earlier}"),
        0,
    )
}

fn folder_name(folder: &Path) -> String {
    let real = std::fs::canonicalize(folder).unwrap_or_else(|_| folder.to_path_buf());
    real.file_name().map_or_else(
        || "class".to_owned(),
        |name| name.to_string_lossy().into_owned(),
    )
}

fn screen(title: &str, class: &Class, bad: &[(PathBuf, Failure)], left_out: &[PathBuf]) -> String {
    let not_read = match bad.len() {
        0 => String::new(),
        count => format!(", {} that could not be read", counted(count, "file")),
    };
    let mut out = format!(
        "{}: {}{not_read}, {}, {}\n",
        paint(STRONG, &clean(title)),
        counted(class.heads.len(), "head"),
        counted(class.sets(), "set"),
        counted(class.blocks.len(), "block")
    );
    let [shim, stop] = if class.lengths.inches {
        ["shim, mm (in)", "stop at, mm (in)"]
    } else {
        ["shim, mm", "stop at, mm"]
    };
    let mut table = Table::new(&[
        ("file", Lean::Left),
        ("title", Lean::Left),
        ("verdict", Lean::Left),
        ("block", Lean::Left),
        (shim, Lean::Right),
        (stop, Lean::Right),
        ("set", Lean::Right),
        ("worst check", Lean::Left),
    ]);
    for head in &class.heads {
        let shims: Vec<String> = head.shims.iter().map(|shim| class.figure(*shim)).collect();
        table.row(vec![
            clean(&file_name(&head.file)),
            clean(&head.title),
            paint(of(head.verdict), head.verdict.name()),
            head.block.map_or_else(String::new, block_name),
            shims.join(", "),
            head.deepest_stop()
                .map_or_else(String::new, |mm| class.figure(mm)),
            (head.set + 1).to_string(),
            head.worst
                .as_ref()
                .map_or(String::new(), |worst| worst.code.to_owned()),
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
    for (index, shared) in class.blocks.iter().enumerate() {
        out.push_str(&block_line(class, index, shared));
    }
    for head in &class.heads {
        for line in &head.repair {
            let text = format!(
                "{}: {line} See `barrelhead fit`.",
                clean(&file_name(&head.file))
            );
            out.push_str(&fill(&text, 0));
        }
    }
    out.push_str(
        "Stop: from the block's top to the tip of the bit at full depth. Shim above zero: between block and\n\
         upright; below zero: between head and upright.\n",
    );
    out
}

fn counted(count: usize, what: &str) -> String {
    let more = if count == 1 { "" } else { "s" };
    format!("{count} {what}{more}")
}

/// Whose block it is, and what it drills.
fn block_line(class: &Class, index: usize, shared: &Shared) -> String {
    let letter = block_name(index);
    let own = class.heads.get(shared.made_for);
    let name = own.map_or_else(String::new, |head| clean(&file_name(&head.file)));
    let heads = shared
        .heads
        .iter()
        .filter_map(|head| class.heads.get(*head));
    let shimmed = heads.filter(|head| head.shims.iter().any(|shim| is_felt(*shim)));
    let shims = match shimmed.count() {
        0 => String::new(),
        count => format!(", {count} of them with a shim"),
    };
    format!(
        "Block {letter}: the guide block of {name}; drills {}{shims}\n",
        counted(shared.heads.len(), "head")
    )
}

fn file_name(path: &Path) -> String {
    path.file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}
