//! What `--json` prints: the shapes the help texts promise.

use std::path::Path;

use serde_json::{Value, json};

use crate::check::Report;
use crate::diagnostic::Diagnostic;
use crate::diagnostic::render::harmless;
use crate::layout::Layout;
use crate::pipeline::{Failure, Outcome};
use crate::write::{entries, studies};

/// The checks of a report: the contract's keys, and beside them advice, file and line.
pub fn checks(report: &Report) -> Value {
    report
        .findings
        .iter()
        .map(|finding| {
            let mut entry = entries::check_entry(finding);
            entry.insert("advice".into(), json!(finding.advice));
            let place = finding.place.as_ref();
            entry.insert(
                "file".into(),
                json!(place.map(|p| p.file.display().to_string())),
            );
            entry.insert("line".into(), json!(place.map(|p| p.line)));
            Value::Object(entry)
        })
        .collect()
}

/// One design that was checked.
pub fn checked(path: &Path, layout: &Layout, report: &Report) -> Value {
    json!({
        "file": path.display().to_string(),
        "title": layout.design.title,
        "verdict": report.verdict().name(),
        "checks": checks(report),
        "rib_window": entries::rib_window(report.rib_window),
        "measured": studies::measured_entry(layout, report),
        "wood": studies::wood_entry(layout, report, None),
    })
}

/// One design that could not be read, checked or built.
pub fn failed(path: &Path, failure: &Failure) -> Value {
    let file = path.display().to_string();
    match failure {
        Failure::Input(mistakes) => {
            let mistakes: Vec<Value> = mistakes.iter().map(mistake).collect();
            json!({ "file": file, "mistakes": mistakes })
        }
        Failure::Stopped(layout, report) => checked(path, layout, report),
        Failure::NotPut(error) => json!({ "file": file, "failure": error.to_string() }),
        Failure::Internal(message) => json!({ "file": file, "failure": message }),
    }
}

fn mistake(diagnostic: &Diagnostic) -> Value {
    json!({
        "file": diagnostic.file.as_ref().map(|file| file.display().to_string()),
        "line": diagnostic.at.map(|(line, _)| line),
        "column": diagnostic.at.map(|(_, column)| column),
        "key": diagnostic.key,
        "text": diagnostic.source_line,
        "message": diagnostic.message,
        "hint": diagnostic.hint,
    })
}

/// What `make` made.
pub fn made(outcome: &Outcome) -> Value {
    let layout = &outcome.layout;
    let stops: Vec<Value> = layout.stops().iter().map(entries::stop_entry).collect();
    let shims: Vec<Value> = layout
        .blocks
        .iter()
        .map(|block| json!(block.shim))
        .collect();
    json!({
        "title": layout.design.title,
        "verdict": outcome.report.verdict().name(),
        "folder": outcome.folder.display().to_string(),
        "files": outcome.files.iter().map(|file| file.display().to_string()).collect::<Vec<_>>(),
        "depth_stops": stops,
        "bores": layout.bores().map(entries::bore_entry).collect::<Vec<_>>(),
        "checks": checks(&outcome.report),
        "rib_window": entries::rib_window(outcome.report.rib_window),
        "measured": studies::measured_entry(layout, &outcome.report),
        "wood": studies::wood_entry(layout, &outcome.report, None),
        "shim_mm": shims.first(),
        "earlier_files": outcome.earlier,
    })
}

/// A value as text, on lines of its own, ended. What would steer a terminal is written as an escape,
/// which is the same to whoever reads the JSON.
pub fn text(value: &Value) -> String {
    // The alternate form cannot fail: every key is a text.
    let plain = format!("{value:#}\n");
    let mut out = String::with_capacity(plain.len());
    for c in plain.chars() {
        // Such characters stand in texts only, never between them, and all fit four digits.
        if c != '\n' && harmless(c) != c {
            out.push_str(&format!("\\u{:04x}", u32::from(c)));
        } else {
            out.push(c);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_would_steer_a_terminal_is_escaped_and_reads_back() {
        let odd = "a\u{9b}31m\u{202e}b\u{7f}\t\n\u{1b}é鷸";
        let value = json!({ "title": odd });
        let shown = text(&value);
        assert!(
            shown.contains("a\\u009b31m\\u202eb\\u007f\\t\\n\\u001bé鷸"),
            "{shown}"
        );
        assert_eq!(serde_json::from_str::<Value>(&shown).unwrap(), value);
    }
}
