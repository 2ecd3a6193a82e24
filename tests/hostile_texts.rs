//! Free texts that look like markup, formulas, escapes and commands, in every key that takes a text, in
//! every file that is written. Parsers that are not ours read the files: the text arrives as it was typed,
//! and nothing but the text is there that would not be there with a plain word.

#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod support {
    pub mod has_poppler;
    pub mod poppler;
    pub mod process;
    pub mod project;
    pub mod reference;
}

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use serde_json::Value;
use support::has_poppler::has_poppler;
use support::poppler::poppler;
use support::process::run;
use support::project::root;
use support::reference::{python, script};
use tempfile::{TempDir, tempdir};

/// Every key that takes any text, but the date, whose form is checked.
const KEYS: [&str; 8] = [
    "number", "revision", "material", "quantity", "contact", "owner", "creator", "approver",
];

/// The first is plain: the others are compared with it.
const TEXTS: [(&str, &str); 8] = [
    ("plain", "word"),
    ("markup", "<script>x()</script>"),
    ("entity", "&lt;i&amp;\"'>&#0;"),
    ("cdata", "]]><!--x--><![CDATA["),
    ("formula", "=1+2"),
    ("part21", "a'b''\\X2\\0041\\X0\\;#1"),
    ("letters", "é θ 鷸 🪶 \u{202e}x\u{2066}"),
    (
        "control",
        "a\u{0}\u{1b}[2J\r\nEOF\u{7f}\u{9b}\u{85}\u{2028}\u{ffff}\t0\r\nb",
    ),
];

/// A text as a TOML string.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out + "\""
}

/// Makes the small demo with one text for its title and for every key of `[job]`.
fn made(folder: &Path, name: &str, title: &str, job: impl Fn(&str) -> String) -> PathBuf {
    let demo = fs::read_to_string(root().join("params/dunlin.toml")).expect("the demo");
    let (_, rest) = demo.split_once("[head]").expect("its tables");
    let lines: String = KEYS
        .iter()
        .map(|key| format!("{key} = {}\n", quoted(&job(key))))
        .collect();
    let text = format!("title = {}\n[job]\n{lines}[head]{rest}", quoted(title));
    let file = folder.join(format!("{name}.toml"));
    fs::write(&file, text).expect("a file");
    run(
        Command::new(env!("CARGO_BIN_EXE_barrelhead"))
            .args(["make", "--mock"])
            .arg(&file)
            .current_dir(folder),
        name,
    );
    folder.join("output").join(name)
}

fn folder() -> TempDir {
    tempdir().expect("a temporary folder")
}

fn texts(found: &Value) -> Vec<&str> {
    let list = found["texts"].as_array().expect("texts");
    list.iter().filter_map(Value::as_str).collect()
}

/// A text with a space for every character that cannot stand in some format, and for what formats put
/// there instead: the replacement character, or the pictures of control characters.
fn visible(text: &str) -> String {
    let stands_in = |c: char| matches!(c, '\u{fffd}' | '\u{ffff}' | '\u{2400}'..='\u{2421}');
    text.chars()
        .map(|c| {
            if c.is_control() || c.is_whitespace() || stands_in(c) {
                ' '
            } else {
                c
            }
        })
        .collect()
}

/// The folders made from every text, once for all tests.
fn all_made() -> &'static [PathBuf] {
    static MADE: OnceLock<Vec<PathBuf>> = OnceLock::new();
    MADE.get_or_init(|| {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("hostile-texts");
        fs::create_dir_all(&folder).expect("a folder");
        TEXTS
            .iter()
            .map(|(name, text)| made(&folder, name, text, |_| (*text).to_owned()))
            .collect()
    })
}

#[test]
fn every_text_arrives_and_is_only_a_text() {
    let folders = all_made();
    let read = run(script("read_texts.py").args(folders), "reading the files");
    let all: Vec<Value> = serde_json::from_slice(&read.stdout).expect("JSON");
    assert_eq!(all.len(), TEXTS.len());
    let plain = all.first().and_then(Value::as_object).expect("files");
    assert!(plain.len() >= 15, "only {} files were read", plain.len());
    for ((name, text), (found, made)) in TEXTS.iter().zip(all.iter().zip(folders)) {
        let report = fs::read_to_string(made.join("report.json")).expect("the report");
        let report: Value = serde_json::from_str(&report).expect("JSON");
        assert_eq!(report["title"], *text);
        for (file, was) in plain {
            let place = format!("{name}: {file}");
            let is = &found[file];
            assert_eq!(is["scripts"], 0, "{place}");
            assert_eq!(is["kinds"], was["kinds"], "{place}");
            let kind = file.rsplit('.').next().unwrap_or_default();
            if kind == "dxf" {
                // Only geometry: the drawing carries the texts.
                continue;
            }
            let mut wanted = visible(text);
            if kind == "csv" && *name == "formula" {
                wanted.insert(0, '\'');
            }
            let arrived = texts(is)
                .iter()
                .any(|found| visible(found).contains(&wanted));
            assert!(
                arrived,
                "{place}: {wanted:?} is not in {:?}",
                texts(is).iter().take(20).collect::<Vec<_>>()
            );
        }
    }
}

/// A list as a spreadsheet that parts cells at commas reads it, as one that parts them at semicolons does,
/// and as one that takes both.
const LISTS: &str = r#"
import csv, json, re, sys
def read(path):
    text = open(path, newline="", encoding="utf-8").read()
    lines = text.split("\r\n")[:-1]
    both = [re.findall(r'(?:^|[;,])("(?:[^"]|"")*"|[^;,]*)', line) for line in lines]
    return [list(csv.reader(lines, strict=True)), list(csv.reader(lines, delimiter=";")), both]
print(json.dumps([read(f + "/shop/bores.csv") for f in sys.argv[1:]]))
"#;

/// No cell begins a formula, in every way that spreadsheets know; numbers below zero stay numbers.
/// Read by the csv module of Python.
#[test]
fn no_cell_of_a_list_runs() {
    let folder = folder();
    let begins = [
        "=1",
        "+1",
        "-1",
        "@SUM(1)",
        "\t=1",
        "\r=1",
        "\n=1",
        " =1",
        "＝1",
        "\u{a0}=1",
        "\"=1\"",
        "x,=1",
        "x\",\"=1",
        "x;=1",
        ";=1",
        "x; \t-1;y;＋1",
        "x;\"=1\"",
        "x\";\"=1",
        "x\",\";@a",
    ];
    let folders: Vec<PathBuf> = begins
        .iter()
        .enumerate()
        .map(|(at, text)| {
            made(folder.path(), &format!("d{at}"), text, |_| {
                (*text).to_owned()
            })
        })
        .collect();
    let read = run(
        Command::new(python()).args(["-c", LISTS]).args(&folders),
        "reading lists",
    );
    let lists: Vec<[Vec<Vec<String>>; 3]> = serde_json::from_slice(&read.stdout).expect("JSON");
    let (mut below_zero, mut parted) = (0, 0);
    for ([list, at_semicolons, at_both], typed) in lists.iter().zip(begins) {
        let width = list.first().expect("headings").len();
        for row in list {
            assert_eq!(row.len(), width, "{typed:?}: {row:?}");
            for cell in row {
                below_zero += usize::from(cell.parse::<f64>().is_ok() && cell.starts_with('-'));
                assert!(!cell.contains(['\t', '\r', '\n']), "{cell:?}");
            }
        }
        for row in at_both {
            assert_eq!(row.len(), width, "{typed:?}: {row:?}");
        }
        parted += at_semicolons.iter().filter(|row| row.len() > 1).count();
        for cell in [list, at_semicolons, at_both]
            .into_iter()
            .flatten()
            .flatten()
        {
            let number = cell.parse::<f64>().is_ok();
            let runs = cell
                .trim_start()
                .starts_with(['=', '+', '-', '@', '＝', '＋']);
            assert!(number || !runs, "{typed:?}: {cell:?}");
        }
        // The text itself arrives, but for the apostrophes.
        let title = &list[1][width - 2];
        let left = typed.replace(['\t', '\r', '\n'], " ");
        assert_eq!(title.replace('\'', ""), left, "{typed:?} became {title:?}");
    }
    assert!(below_zero > 0, "no number below zero was there to look at");
    assert!(parted > 0, "no row was parted at a semicolon");
}

/// PDFs through poppler: they open, and the texts stand there as letters.
#[test]
fn sheets_say_what_was_typed() {
    if !has_poppler() {
        return;
    }
    for ((name, text), made) in TEXTS.iter().zip(all_made()) {
        for file in [
            "bench/setup-sheet.pdf",
            "shop/operations.pdf",
            "shop/drawing.pdf",
            "bench/marking-sheet.pdf",
            "bench/rig.pdf",
        ] {
            let path = made.join(file);
            poppler("pdfinfo", &[], &path);
            let out = Command::new("pdftotext")
                .arg(&path)
                .arg("-")
                .output()
                .expect("pdftotext");
            let said = String::from_utf8_lossy(&out.stderr).into_owned();
            assert!(
                out.status.success() && said.is_empty(),
                "{name} {file}: {said}"
            );
            let squeezed = |text: &str| text.split_whitespace().collect::<String>();
            let printed = squeezed(&String::from_utf8(out.stdout).expect("UTF-8"));
            let plain = !matches!(*name, "letters" | "control");
            assert!(
                !plain || printed.contains(&squeezed(text)),
                "{name} {file}: {printed}"
            );
        }
    }
}
