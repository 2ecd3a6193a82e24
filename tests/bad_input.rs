//! Wrong parameter files: every file of `tests/bad` carries the findings it must draw, and must
//! draw no others.
//!
//! A finding stands at the end of its line as `#~ error: part of the message`, if need be followed by
//! `#~ hint: part of the hint`. Where a comment cannot stand, a line above all reads
//! `#~ expect LINE: part of the message`, or `#~ expect file:` for a finding that belongs to the
//! whole file. `#~ with: other.toml` adds the findings marked in a file that is taken `from`.

// Clippy lets test functions unwrap, but not their helpers.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::path::{Path, PathBuf};

use barrelhead::diagnostic::Diagnostic;
use barrelhead::diagnostic::render::render;
use barrelhead::input::{LARGEST_FILE, read, read_str};

/// A finding that a file says it must draw.
#[derive(Debug, Clone)]
struct Expected {
    file: PathBuf,
    /// 1-based; `None` for the whole file.
    line: Option<usize>,
    message: String,
    hint: Option<String>,
}

impl Expected {
    fn fits(&self, found: &Diagnostic) -> bool {
        let hint = self.hint.as_ref();
        found.file.as_deref() == Some(&self.file)
            && found.at.map(|at| at.0) == self.line
            && found.message.contains(&self.message)
            && hint.is_none_or(|hint| found.hint.as_ref().is_some_and(|said| said.contains(hint)))
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad")
}

fn expected(file: &Path) -> Vec<Expected> {
    let text = std::fs::read_to_string(file).unwrap();
    let mut all: Vec<Expected> = Vec::new();
    for (index, line) in text.lines().enumerate() {
        for mark in line.split("#~").skip(1).map(str::trim) {
            let finding = |line, message: &str| Expected {
                file: file.to_path_buf(),
                line,
                message: message.trim().to_owned(),
                hint: None,
            };
            if let Some(message) = mark.strip_prefix("error:") {
                all.push(finding(Some(index + 1), message));
            } else if let Some(hint) = mark.strip_prefix("hint:") {
                all.last_mut().unwrap().hint = Some(hint.trim().to_owned());
            } else if let Some(other) = mark.strip_prefix("with:") {
                all.extend(expected(&folder().join(other.trim())));
            } else {
                let (place, message) = mark
                    .strip_prefix("expect ")
                    .unwrap()
                    .split_once(':')
                    .unwrap();
                let line = (place != "file").then(|| place.parse().unwrap());
                all.push(finding(line, message));
            }
        }
    }
    all
}

/// What is wrong with the findings of one file; empty when they are as it says.
fn compare(file: &Path) -> String {
    let mut wanted = expected(file);
    let found = match read(file) {
        Ok(_) => return format!("{}: accepted\n", file.display()),
        Err(found) => found,
    };
    let mut report = String::new();
    if wanted.is_empty() {
        report.push_str("  says nothing of what it expects\n");
    }
    for diagnostic in &found {
        let at = wanted.iter().position(|wanted| wanted.fits(diagnostic));
        if let Some(at) = at {
            wanted.remove(at);
        } else {
            report.push_str(&format!(
                "  not expected: {:?} {} | {:?}\n",
                diagnostic.at, diagnostic.message, diagnostic.hint
            ));
        }
        if let Some((line, column)) = diagnostic.at {
            // The source line is marked where it really stands.
            let named = std::fs::read_to_string(diagnostic.file.as_ref().unwrap()).unwrap();
            let text = named.lines().nth(line - 1).unwrap_or_default();
            if text != diagnostic.source_line || column > text.chars().count() + 1 {
                report.push_str(&format!(
                    "  line {line}, column {column} is not in the file\n"
                ));
            }
        }
    }
    for missed in wanted {
        report.push_str(&format!(
            "  not found: {:?} {} | {:?}\n",
            missed.line, missed.message, missed.hint
        ));
    }
    if report.is_empty() {
        report
    } else {
        format!("{}:\n{report}", file.display())
    }
}

#[test]
fn every_wrong_file_draws_exactly_its_findings() {
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    assert!(files.len() >= 60, "only {} files", files.len());
    let report: String = files.iter().map(|file| compare(file)).collect();
    assert!(report.is_empty(), "\n{report}");
}

#[test]
fn findings_stand_in_file_order_and_draw_as_text() {
    let findings = read(&folder().join("wrong-types.toml")).unwrap_err();
    let lines: Vec<_> = findings.iter().filter_map(|f| f.at).collect();
    assert!(lines.len() > 8 && lines.is_sorted(), "{lines:?}");
    let drawn = anstream::adapter::strip_str(&render(&findings)).to_string();
    assert!(drawn.contains("write instead: \"2026-03-14\""), "{drawn}");
    assert!(
        drawn.ends_with(&format!("{} mistakes\n", findings.len())),
        "{drawn}"
    );
}

/// Reads bytes as a file; the only finding, its message and line.
fn bytes(bytes: &[u8]) -> (String, Option<usize>, String) {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("odd.toml");
    std::fs::write(&path, bytes).unwrap();
    only(&read(&path).unwrap_err())
}

fn only(findings: &[Diagnostic]) -> (String, Option<usize>, String) {
    assert_eq!(findings.len(), 1, "{findings:#?}");
    let f = &findings[0];
    (
        f.message.clone(),
        f.at.map(|at| at.0),
        f.hint.clone().unwrap_or_default(),
    )
}

#[test]
fn files_that_are_no_text() {
    let (message, line, hint) = bytes(b"[head]\nlength = 196.0 # l\xe4nge\n");
    assert!(
        message.contains("not UTF-8") && message.contains("0xE4"),
        "{message}"
    );
    assert_eq!(line, Some(2));
    assert!(hint.contains("UTF-8"));
    let (message, _, _) = bytes(&[0xff, 0xfe, b'[', 0, b'h', 0]);
    assert!(message.contains("UTF-16"), "{message}");
    let (message, line, _) = bytes(b"[head]\nlength = 1\0\n");
    assert!(message.contains("control character"), "{message}");
    assert_eq!(line, Some(2));
}

#[test]
fn files_that_cannot_be_had() {
    let dir = tempfile::tempdir().unwrap();
    let (message, line, _) = only(&read(dir.path()).unwrap_err());
    assert!(message.contains("is a folder"), "{message}");
    assert_eq!(line, None);
    let (message, _, _) = only(&read(&dir.path().join("none.toml")).unwrap_err());
    assert!(message.contains("does not exist"), "{message}");
    let (message, _, _) = only(&read(Path::new("")).unwrap_err());
    assert!(message.contains("does not exist"), "{message}");
    let (message, _, _) = only(&read(Path::new("a\0b")).unwrap_err());
    assert!(message.contains("cannot be read"), "{message}");
}

#[test]
fn files_too_large() {
    let fits = "#".repeat(usize::try_from(LARGEST_FILE).unwrap());
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("large.toml");
    std::fs::write(&path, &fits).unwrap();
    assert!(
        read(&path)
            .unwrap_err()
            .iter()
            .all(|f| f.message.contains("is empty"))
    );
    let (message, _, _) = bytes(format!("{fits}#").as_bytes());
    assert!(message.contains("larger than 1 MiB"), "{message}");
}

#[test]
fn an_empty_file_is_one_mistake_and_a_title_alone_lacks_each_required_table() {
    for text in ["", "\u{feff}", "\r\n\r\n", "# only a comment"] {
        let findings = read_str(text, Path::new("empty.toml"), Path::new("")).unwrap_err();
        let (message, line, hint) = only(&findings);
        assert!(message.contains("is empty"), "{message}");
        assert_eq!(line, None);
        assert!(hint.contains("barrelhead start"), "{hint}");
    }
    let title = "title = \"Dunlin\"\n";
    let findings = read_str(title, Path::new("title.toml"), Path::new("")).unwrap_err();
    let said: Vec<_> = findings.iter().map(|f| f.message.as_str()).collect();
    assert_eq!(said.len(), 6, "{said:?}");
    for table in ["head", "nut", "machines", "placement", "bores", "guide"] {
        let missing = format!("[{table}] is missing");
        assert!(said.iter().any(|said| said.contains(&missing)), "{said:?}");
    }
}

#[test]
fn nesting_without_end() {
    for text in ["[", "{a=", "a.", "[[", "\"", "'''", "[a.", "a=[\n", "{"] {
        let deep = format!("x = {}", text.repeat(60_000));
        assert!(read_str(&deep, Path::new("deep.toml"), Path::new("")).is_err());
        assert!(read_str(&text.repeat(60_000), Path::new("deep.toml"), Path::new("")).is_err());
    }
}

#[test]
fn a_byte_order_mark_and_windows_line_ends_do_not_move_the_marker() {
    let text = std::fs::read_to_string(folder().join("signs.toml")).unwrap();
    let plain = read_str(&text, Path::new("signs.toml"), Path::new("")).unwrap_err();
    let odd = format!("\u{feff}{}", text.replace('\n', "\r\n"));
    let odd = read_str(&odd, Path::new("signs.toml"), Path::new("")).unwrap_err();
    assert_eq!(plain, odd);
}

#[test]
fn thousands_of_mistakes_are_cut_short() {
    let mut text = "[head]\n".to_owned();
    for i in 0..20_000 {
        text.push_str(&format!("key{i} = {i}\n"));
    }
    let findings = read_str(&text, Path::new("many.toml"), Path::new("")).unwrap_err();
    assert!(findings.len() <= 200);
    assert!(
        findings
            .last()
            .unwrap()
            .message
            .contains("more mistakes are not shown")
    );
    let findings = read_str(
        &"x = 1\n".repeat(20_000),
        Path::new("many.toml"),
        Path::new(""),
    )
    .unwrap_err();
    assert!(findings.len() <= 200);
}

#[test]
fn a_line_of_nothing_but_mistakes_costs_little() {
    let long = format!("[nut]\nstrings = [{}]\n", "'x',".repeat(250_000));
    let findings = read_str(&long, Path::new("long.toml"), Path::new("")).unwrap_err();
    assert!(findings.len() <= 200);
    assert!(findings.iter().map(|f| f.source_line.len()).sum::<usize>() < 1 << 20);
}
