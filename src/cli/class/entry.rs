//! What `class --json` prints.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use crate::pipeline::Failure;
use crate::study::class::{Class, Head, block_name};

use super::super::{Status, json};

/// The class; a head that a check stops has null where one that is drilled has block, shims and depth
/// stops; a head that could not be read is in `not_read`, and missing everywhere else.
pub(super) fn value(
    class: &Class,
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
    let list: Vec<Value> = class
        .heads
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
                "drilled_needs_repair": head.repair,
                "stops": head.counts.0,
                "cautions": head.counts.1,
                "deepest_stop_mm": head.deepest_stop(),
                "depth_stops": head.block.map(|_| stops),
                "set": head.set + 1,
                "block": head.block.map(block_name),
                "shims_mm": head.block.map(|_| &head.shims),
            })
        })
        .collect();
    let file = |index: &usize| {
        let head: Option<&Head> = class.heads.get(*index);
        head.map(|head| head.file.display().to_string())
    };
    let blocks: Vec<Value> = class
        .blocks
        .iter()
        .enumerate()
        .map(|(index, shared)| {
            json!({
                "name": block_name(index),
                "made_for": file(&shared.made_for),
                "heads": shared.heads.iter().map(file).collect::<Vec<_>>(),
            })
        })
        .collect();
    let mistakes: Vec<Value> = bad
        .iter()
        .map(|(file, failure)| json::failed(file, failure))
        .collect();
    json!({
        "heads": list,
        "blocks": blocks,
        "not_read": mistakes,
        "left_out": names(left_out),
        "sheet": sheet.map(|sheet| sheet.display().to_string()),
        "exit_status": status as u8,
    })
}
