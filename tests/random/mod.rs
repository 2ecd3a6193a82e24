//! Random designs over the whole parameter file, valid or nearly so, as keys and values that can
//! be written out in millimetres or inches, in any order, or mirrored.

#![allow(dead_code, reason = "each test file uses a part of it")]
#![allow(
    clippy::float_cmp,
    reason = "numbers that were typed are compared as typed"
)]
#![allow(clippy::panic, reason = "a test stops at the first surprise")]

pub mod bored;
pub mod draw;
pub mod facts;
pub mod features;
pub mod integral;
pub mod look;
mod near;
pub mod refusals;
pub mod shelf;
pub mod shell;
pub mod stops;
mod tables;
pub mod tally;

pub use draw::design;

use std::fmt::{Display, Formatter, Write};
use std::fs;
use std::path::Path;

/// A whole number that a run may be given by the environment; one that is mistyped is not passed over.
pub fn number(variable: &str) -> Option<u64> {
    let text = std::env::var(variable).ok()?;
    let number = text.parse();
    Some(number.unwrap_or_else(|_| panic!("{variable}={text}: a whole number is wanted")))
}

/// The seed asked for, or one that the clock gives.
pub fn seed() -> u64 {
    let clock = || {
        std::time::UNIX_EPOCH
            .elapsed()
            .map_or(0, |now| now.as_nanos() as u64)
    };
    number("BARRELHEAD_SEED").unwrap_or_else(clock)
}

/// SplitMix64 (Steele, Lea and Flood 2014): small, and the same on every machine.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From `low` to `high`, in steps of 0.05: numbers a person would type.
    pub fn length(&mut self, low: f64, high: f64) -> f64 {
        (self.between(low, high) * 20.0).round() / 20.0
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn whole(&mut self, low: u64, high: u64) -> u64 {
        low + self.bits() % (high - low + 1)
    }

    /// True once in `n`.
    pub fn once_in(&mut self, n: u64) -> bool {
        self.bits().is_multiple_of(n)
    }
}

/// A value of the parameter file.
#[derive(Clone, Debug)]
pub enum Value {
    Length(f64),
    Lengths(Vec<f64>),
    Points(Vec<[f64; 2]>),
    Number(f64),
    Count(usize),
    Word(&'static str),
    /// A length as text, with its own unit in every file.
    Text(String),
    Truth(bool),
}

/// A design as dotted keys and their values.
#[derive(Clone, Debug, Default)]
pub struct Sheet {
    pub keys: Vec<(String, Value)>,
    /// Files it takes tables from.
    pub shelf: Vec<shelf::Shelf>,
}

/// The texts of a parameter file and of those it takes tables from, by name.
pub struct Draft {
    pub text: String,
    pub beside: Vec<(String, String)>,
}

impl Draft {
    /// Writes the files to a folder.
    pub fn write(&self, folder: &Path, name: &str) -> std::io::Result<()> {
        fs::create_dir_all(folder)?;
        fs::write(folder.join(name), &self.text)?;
        let beside = self.beside.iter();
        beside
            .map(|(name, text)| fs::write(folder.join(name), text))
            .collect()
    }
}

impl Display for Draft {
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text)?;
        let mut beside = self.beside.iter();
        beside.try_for_each(|(name, text)| write!(f, "\nIn {name}:\n{text}"))
    }
}

impl Sheet {
    pub fn set(&mut self, key: &str, value: Value) {
        match self.keys.iter_mut().find(|(own, _)| own == key) {
            Some((_, old)) => *old = value,
            None => self.keys.push((key.to_owned(), value)),
        }
    }

    pub fn length(&mut self, key: &str, value: f64) {
        self.set(key, Value::Length(value));
    }

    pub fn get(&self, key: &str) -> Option<&Value> {
        self.keys
            .iter()
            .find(|(own, _)| own == key)
            .map(|(_, value)| value)
    }

    pub fn take(&mut self, key: &str) -> Option<Value> {
        let at = self.keys.iter().position(|(own, _)| own == key)?;
        Some(self.keys.remove(at).1)
    }

    /// The file's text, lengths bare millimetres.
    pub fn millimetres(&self) -> Draft {
        self.draft(false)
    }

    /// The file's text, lengths bare inches.
    pub fn inches(&self) -> Draft {
        self.draft(true)
    }

    fn draft(&self, inches: bool) -> Draft {
        let mut text = format!("title = \"Random\"\n{}", text_of(&self.keys, inches));
        for shelf in &self.shelf {
            let (table, file) = (shelf.table, shelf.file());
            let _ = writeln!(text, "{table}.from = \"{file}\"");
        }
        let beside = self.shelf.iter().map(|shelf| {
            let keys: Vec<_> = shelf.keys.iter().chain(&shelf.decoys).cloned().collect();
            (shelf.file(), text_of(&keys, shelf.inches))
        });
        Draft {
            text,
            beside: beside.collect(),
        }
    }

    /// The same design with its keys in another order.
    pub fn shuffled(&self, dice: &mut Dice) -> Sheet {
        let mut keys = self.keys.clone();
        for i in (1..keys.len()).rev() {
            let j = dice.whole(0, i as u64) as usize;
            keys.swap(i, j);
        }
        Sheet {
            keys,
            shelf: self.shelf.clone(),
        }
    }

    /// The design seen in a mirror: treble and bass change places.
    pub fn mirrored(&self) -> Sheet {
        let mut sheet = self.clone();
        for (treble, bass) in [
            ("head.width_at_nut_end", "head.bass.width_at_nut_end"),
            ("head.width_at_crest_end", "head.bass.width_at_crest_end"),
            ("machines.pitches", "machines.bass.pitches"),
            ("machines.barrels", "machines.bass.barrels"),
            (
                "machines.over_outer_barrels",
                "machines.bass.over_outer_barrels",
            ),
            ("machines.overhang", "machines.bass.overhang"),
            ("placement.first_barrel", "placement.bass.first_barrel"),
        ] {
            if let (Some(one), Some(other)) = (self.get(treble), self.get(bass)) {
                sheet.set(treble, other.clone());
                sheet.set(bass, one.clone());
            }
        }
        if let Some(Value::Lengths(strings)) = self.get("nut.strings") {
            sheet.set(
                "nut.strings",
                Value::Lengths(strings.iter().rev().map(|x| -x).collect()),
            );
        }
        sheet
    }
}

/// Keys and values as a parameter file has them.
fn text_of(keys: &[(String, Value)], inches: bool) -> String {
    let (mm_per_unit, unit) = if inches { (25.4, "in") } else { (1.0, "mm") };
    let mut text = format!("unit = \"{unit}\"\n");
    let number = |v: f64| format!("{:?}", v);
    for (key, value) in keys {
        let written = match value {
            Value::Length(v) => number(v / mm_per_unit),
            Value::Lengths(list) => {
                let list: Vec<String> = list.iter().map(|v| number(v / mm_per_unit)).collect();
                format!("[{}]", list.join(", "))
            }
            Value::Points(list) => {
                let list: Vec<String> = list
                    .iter()
                    .map(|[a, b]| {
                        format!("[{}, {}]", number(a / mm_per_unit), number(b / mm_per_unit))
                    })
                    .collect();
                format!("[{}]", list.join(", "))
            }
            Value::Number(v) => number(*v),
            Value::Count(count) => count.to_string(),
            Value::Word(word) => format!("\"{word}\""),
            Value::Text(text) => format!("\"{text}\""),
            Value::Truth(truth) => truth.to_string(),
        };
        let _ = writeln!(text, "{key} = {written}");
    }
    text
}
