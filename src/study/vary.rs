//! Variants: one or two numbers of the file run over ranges, every variant checked.

use rayon::prelude::*;

use super::trial::{Grade, Refusal, judged};
use crate::check::{Finding, Verdict};
use crate::diagnostic::meant::{did_you_mean, nearest_or_last};
use crate::input::{KeyedNumber, NumberKind, Numbers, Unit};
use crate::tolerance::WHOLE_STEP;
use crate::units::{parse_length, plain};

/// Most variants checked at once: a few seconds' work, and more than a map can show (our assumption).
pub const MOST: usize = 10_000;
/// Most variants made at once: each writes some forty files (our assumption).
pub const MOST_MADE: usize = 100;
/// Most numbers varied together: a map has two directions.
pub const MOST_AXES: usize = 2;

/// One number and the values it takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// The number.
    pub number: KeyedNumber,
    /// Its values, mm, degrees or bare, from the first to the last typed.
    pub values: Vec<f64>,
}

/// One variant.
#[derive(Debug, Clone)]
pub struct Variant {
    /// A value for each axis.
    pub values: Vec<f64>,
    /// What the checks found, worst first, or why the file is refused.
    pub found: Result<Vec<Finding>, Refusal>,
}

impl Variant {
    /// Its grade.
    #[must_use]
    pub fn grade(&self) -> Grade {
        match &self.found {
            Err(_) => Grade::Refused,
            Ok(list) => list
                .first()
                .map_or(Grade::Clear, |worst| worst.verdict.into()),
        }
    }

    /// The check that decides its grade; where all are clear, the one with least to spare.
    #[must_use]
    pub fn worst(&self) -> Option<&Finding> {
        self.found.as_ref().ok()?.first()
    }
}

impl Axis {
    /// Reads `KEY=from..to:step`; the values in the unit of the file that the number stands in, or with
    /// their own.
    ///
    /// # Errors
    /// A message for the command line that says what to type.
    pub fn parse(text: &str, numbers: &Numbers) -> Result<Axis, String> {
        let form = format!(
            "type KEY=from..to:step, such as slots.rib={}",
            match numbers.design().unit {
                Unit::Mm => "10..16:0.5",
                Unit::Inch => "0.4..0.6:0.02",
            }
        );
        let Some((key, range)) = text.split_once('=') else {
            return Err(format!("`{text}` names no range; {form}"));
        };
        let key = key.trim();
        let number = find(key, numbers)?;
        if range.contains(',') {
            return Err(format!(
                "`{range}` has commas where decimal points belong; type {key}={}",
                range.replace(',', ".")
            ));
        }
        let parts = range
            .split_once("..")
            .and_then(|(from, rest)| Some((from, rest.rsplit_once(':')?)));
        let Some((from, (to, step))) = parts else {
            return Err(format!("`{range}` is no range; {form}"));
        };
        let value = |what: &str, typed: &str| {
            value(number, typed)
                .map_err(|why| format!("{what} of `{key}`, `{typed}`, {why}; {form}"))
        };
        let (from, to) = (value("the beginning", from)?, value("the end", to)?);
        let step = value("the step", step)?;
        if step <= 0.0 || to < from {
            return Err(format!(
                "`{range}` does not run upwards: the end must not be below the beginning, and the step \
                 must be above 0; {form}"
            ));
        }
        let count = ((to - from) / step + WHOLE_STEP).floor();
        #[allow(clippy::cast_precision_loss)]
        if count >= MOST as f64 {
            return Err(format!(
                "`{range}` makes more than {MOST} variants; type a step of {} or more",
                plain(typed(number, coarser((to - from) / (MOST as f64 - 1.0))))
            ));
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let count = count as u32 + 1;
        let values = (0..count)
            // To a millionth: 10 + 7 * 0.1 is meant to be 10.7.
            .map(|index| ((from + f64::from(index) * step) * 1e6).round() / 1e6)
            .collect();
        Ok(Axis {
            number: number.clone(),
            values,
        })
    }
}

/// A number's value as typed in its file's unit.
#[must_use]
pub fn typed(number: &KeyedNumber, value: f64) -> f64 {
    match number.kind {
        NumberKind::Length => ((value / number.unit.millimetres()) * 1e6).round() / 1e6,
        _ => value,
    }
}

/// Next above with two significant digits.
fn coarser(step: f64) -> f64 {
    let unit = 10.0_f64.powf(step.abs().log10().floor() - 1.0);
    (step / unit).ceil() * unit
}

fn value(number: &KeyedNumber, text: &str) -> Result<f64, String> {
    let text = text.trim();
    let value = match text.parse::<f64>() {
        Ok(value) if number.kind == NumberKind::Length => value * number.unit.millimetres(),
        Ok(value) => value,
        Err(_) if number.kind == NumberKind::Length => {
            parse_length(text).map_err(|error| error.to_string())?
        }
        Err(_) => return Err("is not a number".to_owned()),
    };
    if value.is_finite() {
        Ok(value)
    } else {
        Err("is not a number to work with".to_owned())
    }
}

/// The number of a key.
///
/// # Errors
/// What to type instead.
pub fn find<'n>(key: &str, numbers: &'n Numbers) -> Result<&'n KeyedNumber, String> {
    if let Some(number) = numbers.get(key) {
        return Ok(number);
    }
    let within: Vec<&str> = numbers
        .list()
        .iter()
        .map(|number| number.key.as_str())
        .filter(|name| {
            let rest = name.strip_prefix(key);
            rest.is_some_and(|rest| rest.starts_with(['[', '.']))
        })
        .collect();
    if !within.is_empty() {
        return Err(format!(
            "`{key}` holds more than one number; type one of {}",
            within.join(", ")
        ));
    }
    let names = || numbers.list().iter().map(|number| number.key.as_str());
    Err(match nearest_or_last(key, names) {
        Some(near) => format!("the file has no number `{key}`; {}", did_you_mean(near)),
        None => format!(
            "the file has no number `{key}`; write it into the file first, or type a key that stands in it, \
             such as {}",
            names().next().unwrap_or("head.length")
        ),
    })
}

/// Whether so many variants are too many, with what to type.
///
/// # Errors
/// A message for the command line.
pub fn bound(axes: &[Axis], made: bool) -> Result<usize, String> {
    let count = axes.iter().map(|axis| axis.values.len()).product::<usize>();
    let (most, doing) = if made {
        (MOST_MADE, "made")
    } else {
        (MOST, "checked")
    };
    if count <= most {
        return Ok(count);
    }
    #[allow(clippy::cast_precision_loss)]
    let factor = (count as f64 / most as f64).powf(1.0 / axes.len().max(1) as f64) * 1.05;
    let wider: Vec<String> = axes
        .iter()
        .filter_map(|axis| {
            let (first, second) = (axis.values.first()?, axis.values.get(1)?);
            let last = axis.values.last()?;
            let shown = |value: f64| plain(typed(&axis.number, value));
            let step = coarser((second - first) * factor);
            Some(format!(
                "{}={}..{}:{}",
                axis.number.key,
                shown(*first),
                shown(*last),
                shown(step)
            ))
        })
        .collect();
    Err(format!(
        "that is {count} variants, and at most {most} are {doing} at once; type longer steps: {}",
        wider.join(" ")
    ))
}

/// Checks every variant, on every core; the last axis runs fastest. `done` hears of each.
#[must_use]
pub fn vary(numbers: &Numbers, axes: &[Axis], done: &(dyn Fn() + Sync)) -> Vec<Variant> {
    let mut list: Vec<Vec<f64>> = vec![Vec::new()];
    for axis in axes {
        list = list
            .iter()
            .flat_map(|before| {
                axis.values.iter().map(move |value| {
                    let mut values = before.clone();
                    values.push(*value);
                    values
                })
            })
            .collect();
    }
    list.into_par_iter()
        .map(|values| {
            let found = judged(numbers.with(&changes(axes, &values)));
            done();
            Variant { values, found }
        })
        .collect()
}

/// What [`Numbers::with`] takes for one variant.
#[must_use]
pub fn changes<'a>(axes: &'a [Axis], values: &[f64]) -> Vec<(&'a KeyedNumber, f64)> {
    let numbers = axes.iter().map(|axis| &axis.number);
    numbers.zip(values.iter().copied()).collect()
}

/// One letter for each check that decides a variant which is not clear, the most frequent first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Legend {
    /// Codes, in the order of their letters.
    pub codes: Vec<&'static str>,
}

impl Legend {
    /// The legend of a list of variants.
    #[must_use]
    pub fn of(variants: &[Variant]) -> Legend {
        let mut counts: Vec<(&'static str, usize)> = Vec::new();
        for worst in variants.iter().filter_map(Variant::worst) {
            if worst.verdict == Verdict::Clear {
                continue;
            }
            match counts.iter_mut().find(|(code, _)| *code == worst.code) {
                Some((_, count)) => *count += 1,
                None => counts.push((worst.code, 1)),
            }
        }
        counts.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(b.0)));
        Legend {
            codes: counts.into_iter().map(|(code, _)| code).collect(),
        }
    }

    /// The letter of a check, A first; `?` beyond Z.
    #[must_use]
    pub fn letter(&self, code: &str) -> char {
        let index = self.codes.iter().position(|own| *own == code);
        index
            .and_then(|index| ('A'..='Z').nth(index))
            .unwrap_or('?')
    }

    /// The mark of a variant: `.` clear, a small letter caution, a capital stop, `#` refused.
    #[must_use]
    pub fn mark(&self, variant: &Variant) -> char {
        match (variant.grade(), variant.worst()) {
            (Grade::Refused, _) => '#',
            (Grade::Caution, Some(worst)) => self.letter(worst.code).to_ascii_lowercase(),
            (Grade::Stop, Some(worst)) => self.letter(worst.code),
            _ => '.',
        }
    }
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;

    fn demo(name: &str) -> Numbers {
        let dir = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params"));
        Numbers::read(&dir.join(name)).unwrap()
    }

    #[test]
    fn ranges_hold_both_ends_and_take_units() {
        let numbers = demo("sandpiper.toml");
        let axis = Axis::parse("slots.rib=12..13:0.1", &numbers).unwrap();
        assert_eq!(axis.values.len(), 11);
        assert_eq!((axis.values[7], axis.values[10]), (12.7, 13.0));
        let axis = Axis::parse("slots.rib=1/2 in..13 mm:0.1 mm", &numbers).unwrap();
        assert_eq!(axis.values, [12.7, 12.8, 12.9, 13.0]);
        // A bare number is in the unit of its file.
        let inches = demo("turnstone.toml");
        let axis = Axis::parse("slots.rib=0.5..0.6:0.05", &inches).unwrap();
        assert_eq!(axis.values, [12.7, 13.97, 15.24]);
    }

    #[test]
    fn every_refusal_says_what_to_type() {
        let numbers = demo("sandpiper.toml");
        for (text, said) in [
            ("slots.rib", "KEY=from..to:step"),
            ("slots.rib=12", "KEY=from..to:step"),
            ("slots.rib=12..14", "KEY=from..to:step"),
            ("slots.rib=14..12:1", "upwards"),
            ("slots.rib=12..14:0", "above 0"),
            ("slots.rib=12..14:x", "the step"),
            ("slots.rib=nan..14:1", "the beginning"),
            ("slots.ribb=12..14:1", "did you mean `slots.rib`?"),
            ("rib=12..14:1", "`slots.rib`"),
            (
                "slots.end_margin=12..14:1",
                "slots.end_margin[1], slots.end_margin[2]",
            ),
            ("slots.rib=0..2000:0.0001", "a step of 0.21 or more"),
        ] {
            let error = Axis::parse(text, &numbers).unwrap_err();
            assert!(error.contains(said), "{text}: {error}");
        }
        // Decimal commas, and what to type in their place; the example is in the file's unit.
        let inches = demo("turnstone.toml");
        let error = Axis::parse("slots.rib=0,35..0,6:0,025", &inches).unwrap_err();
        let (said, typed) = error.split_once("; type ").unwrap();
        assert!(
            said.ends_with("has commas where decimal points belong"),
            "{error}"
        );
        assert_eq!(typed, "slots.rib=0.35..0.6:0.025");
        assert!(Axis::parse(typed, &inches).is_ok());
        let error = Axis::parse("slots.rib=0.5", &inches).unwrap_err();
        let (_, sample) = error.split_once("such as ").unwrap();
        assert!(Axis::parse(sample, &inches).is_ok());
        assert!(sample.contains("=0.4.."), "{error}");
    }

    #[test]
    fn too_many_are_told_a_step_that_is_taken() {
        let numbers = demo("sandpiper.toml");
        let parse = |text: &str| Axis::parse(text, &numbers).unwrap();
        let axes = [
            parse("slots.rib=10..16:0.01"),
            parse("slots.width=12..16:0.01"),
        ];
        let error = bound(&axes, false).unwrap_err();
        let (_, typed) = error.split_once("longer steps: ").unwrap();
        let again: Vec<Axis> = typed.split(' ').map(parse).collect();
        assert!(bound(&again, false).is_ok(), "{error}");
        assert!(bound(&again, true).is_err());
    }

    #[test]
    fn the_last_axis_runs_fastest_and_letters_follow_frequency() {
        let numbers = demo("sandpiper.toml");
        let parse = |text: &str| Axis::parse(text, &numbers).unwrap();
        let axes = [
            parse("slots.rib=2..22:4"),
            parse("head.thickness=-1..20:10.5"),
        ];
        let list = vary(&numbers, &axes, &|| {});
        assert_eq!(list.len(), 18);
        assert_eq!(list[1].values, [2.0, 9.5]);
        assert_eq!(list[0].grade(), Grade::Refused);
        let legend = Legend::of(&list);
        assert_eq!(legend.mark(&list[0]), '#');
        assert_eq!(legend.letter(legend.codes[0]), 'A');
        for variant in &list {
            let capital = legend.mark(variant).is_ascii_uppercase();
            assert_eq!(capital, variant.grade() == Grade::Stop);
        }
    }
}
