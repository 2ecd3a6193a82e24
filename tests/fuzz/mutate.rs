//! Changes parameter files the way people and editors do, line by line: a number another size, a key of
//! another table, a line twice, half a table from another file. Bytes strewn about seldom leave a file
//! that reads; these mostly do, and so get as far as the checks and the builder.

#![allow(
    clippy::indexing_slicing,
    reason = "indices are drawn below the length of what they index"
)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// SplitMix64 (Steele, Lea, Flood: Fast splittable pseudorandom number generators, 2014).
pub struct Dice(u64);

impl Dice {
    /// The same throws for the same seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn throw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `end`, which is above zero.
    fn below(&mut self, end: usize) -> usize {
        usize::try_from(self.throw() % u64::try_from(end.max(1)).unwrap_or(1)).unwrap_or(0)
    }

    fn of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }
}

/// What to mutate with: lines, keys and values of the files that are there.
pub struct Stock {
    /// Each table of each file: its header and the lines under it.
    tables: Vec<Vec<String>>,
    /// Every line `key = value`.
    lines: Vec<String>,
    keys: Vec<String>,
    values: Vec<String>,
}

/// Values that stand for their kind: none, the smallest, the largest, another unit, another type.
const VALUES: [&str; 38] = [
    "0",
    "-0.0",
    "1",
    "-1",
    "2",
    "7",
    "64",
    "1e-12",
    "1e-6",
    "0.00004",
    "0.005",
    "0.01",
    "0.1",
    "0.5",
    "1.5",
    "3",
    "6",
    "9.525",
    "10",
    "14",
    "21",
    "35",
    "70",
    "180",
    "1000",
    "1e9",
    "1e308",
    "nan",
    "inf",
    "true",
    "false",
    "\"\"",
    "\"3/8 in\"",
    "\"0.25 in\"",
    "\"12 mm\"",
    "[]",
    "[35, 35]",
    "{}",
];

/// Factors that a number is tried with.
const FACTORS: [f64; 14] = [
    -1.0, 0.0, 0.1, 0.5, 0.9, 0.99, 0.9999, 1.0001, 1.01, 1.1, 1.5, 2.0, 10.0, 25.4,
];

impl Stock {
    /// Of every parameter file in these folders, in order of their names.
    pub fn of(folders: &[PathBuf]) -> Self {
        let mut files: Vec<PathBuf> = folders.iter().flat_map(|f| parameter_files(f)).collect();
        files.sort();
        let (mut tables, mut lines) = (Vec::new(), BTreeSet::new());
        let (mut keys, mut values) = (BTreeSet::new(), BTreeSet::new());
        values.extend(VALUES.map(str::to_owned));
        for text in files
            .iter()
            .filter_map(|file| fs::read_to_string(file).ok())
        {
            let mut table: Vec<String> = Vec::new();
            for line in text.lines().map(bare).filter(|line| !line.is_empty()) {
                if line.starts_with('[') && !table.is_empty() {
                    tables.push(std::mem::take(&mut table));
                }
                table.push(line.to_owned());
                if let Some((key, value)) = line.split_once('=') {
                    lines.insert(line.to_owned());
                    keys.insert(key.trim().to_owned());
                    values.insert(value.trim().to_owned());
                }
            }
            // An empty file has none.
            if !table.is_empty() {
                tables.push(table);
            }
        }
        let list = |set: BTreeSet<String>| set.into_iter().collect();
        Self {
            tables,
            lines: list(lines),
            keys: list(keys),
            values: list(values),
        }
    }

    /// Whether there is anything to mutate with.
    pub fn is_empty(&self) -> bool {
        self.tables.is_empty() || self.lines.is_empty()
    }

    /// The text with one to four changes.
    pub fn mutate(&self, text: &str, dice: &mut Dice) -> String {
        let mut lines: Vec<String> = text.split('\n').map(str::to_owned).collect();
        for _ in 0..=dice.below(4) {
            self.change(&mut lines, dice);
        }
        lines.join("\n")
    }

    fn change(&self, lines: &mut Vec<String>, dice: &mut Dice) {
        // Never empty: a text has one line, if only an empty one.
        let at = place(lines, dice);
        match dice.below(12) {
            0..=2 => lines[at] = scaled(&lines[at], dice),
            3 | 4 => lines[at] = with_value(&lines[at], dice.of::<String>(&self.values)),
            5 => lines[at] = with_key(&lines[at], dice.of::<String>(&self.keys)),
            6 => lines.insert(at, dice.of(&self.lines).clone()),
            7 => lines[at] = dice.of(&self.lines).clone(),
            8 => {
                if lines.len() > 1 {
                    lines.remove(at);
                }
            }
            9 => {
                let other = place(lines, dice);
                lines.swap(at, other);
            }
            10 => lines.extend(dice.of(&self.tables).iter().cloned()),
            _ => self.exchange(lines, dice),
        }
    }

    /// A table of another file in the place of the one with its name, or at the end.
    fn exchange(&self, lines: &mut Vec<String>, dice: &mut Dice) {
        let table = dice.of(&self.tables);
        let header = table.first().map_or("", String::as_str);
        let start = lines.iter().position(|line| bare(line) == header);
        let start = start.unwrap_or(lines.len());
        let length = lines.iter().skip(start + 1);
        let length = length.take_while(|line| !line.starts_with('[')).count();
        let end = (start + 1 + length).min(lines.len());
        lines.splice(start..end, table.iter().cloned());
    }
}

/// Every parameter file in a folder and below it.
pub fn parameter_files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten();
    entries
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .flat_map(|path| {
            if path.is_dir() {
                parameter_files(&path)
            } else {
                vec![path]
            }
        })
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .collect()
}

/// A line without its comment, roughly: a hash in a text is seldom.
fn bare(line: &str) -> &str {
    line.split('#').next().unwrap_or("").trim()
}

/// Where a line stands, one that assigns something if the first throws find one.
fn place(lines: &[String], dice: &mut Dice) -> usize {
    let mut at = 0;
    for _ in 0..4 {
        at = dice.below(lines.len());
        if lines[at].contains('=') {
            break;
        }
    }
    at
}

fn with_value(line: &str, value: &str) -> String {
    let (key, _) = line.split_once('=').unwrap_or(("length ", ""));
    format!("{key}= {value}")
}

fn with_key(line: &str, key: &str) -> String {
    let (_, value) = line.split_once('=').unwrap_or(("", " 1"));
    format!("{key} ={value}")
}

/// One of the numbers of a line, another size.
fn scaled(line: &str, dice: &mut Dice) -> String {
    let is_part = |c: char| c.is_ascii_digit() || c == '.';
    let mut spans: Vec<(usize, usize)> = Vec::new();
    for (at, c) in line.char_indices().filter(|(_, c)| is_part(*c)) {
        match spans.last_mut() {
            Some((_, end)) if *end == at => *end = at + c.len_utf8(),
            _ => spans.push((at, at + c.len_utf8())),
        }
    }
    if spans.is_empty() {
        return line.to_owned();
    }
    let (start, end) = *dice.of(&spans);
    let Ok(number) = line[start..end].parse::<f64>() else {
        return line.to_owned();
    };
    let factor = *dice.of(&FACTORS);
    // As many digits as a person would write, or all of them.
    let number = match dice.below(2) {
        0 => format!("{:.2}", number * factor),
        _ => format!("{}", number * factor),
    };
    format!("{}{number}{}", &line[..start], &line[end..])
}
