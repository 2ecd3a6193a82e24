//! Making the variants, a folder each.

use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;
use serde_json::json;

use crate::input::Numbers;
use crate::pipeline::{self, Failure, Folder, Wanted};
use crate::study::trial::Grade;
use crate::study::vary::{Axis, Variant, changes, typed};
use crate::units::plain;
use crate::write::output;

use super::super::style::{clean, error};
use super::super::{Said, failure_text, json, status_of, verdicts};
use super::{LIST, MAP};

/// So many folders are named in a note; more are counted.
const NAMED: usize = 5;

/// What all variants have in common.
pub(super) struct Making<'a> {
    pub path: &'a Path,
    pub numbers: &'a Numbers,
    pub axes: &'a [Axis],
    pub out: &'a Path,
}

impl Making<'_> {
    /// Makes every variant that no check stops. The names of the folders made come with the outcome, as
    /// those are there where a later one fails; what can be seen to be in the way is looked for first.
    pub fn all(
        &self,
        variants: &[Variant],
        tick: &(dyn Fn() + Sync),
    ) -> (Vec<Option<String>>, Result<(), Failure>) {
        let count = variants.len();
        let names: Vec<Option<String>> = variants
            .iter()
            .enumerate()
            .map(|(index, variant)| {
                let good = variant.grade() < Grade::Stop;
                good.then(|| folder_name(index, count, self.axes, variant))
            })
            .collect();
        if let Err(failure) = self.probe(&names) {
            return (vec![None; count], Err(failure));
        }
        let over = AtomicBool::new(false);
        let results: Vec<Result<Option<String>, Failure>> = variants
            .par_iter()
            .zip(names)
            .map(|(variant, name)| {
                let (Some(name), false) = (name, over.load(Ordering::Relaxed)) else {
                    return Ok(None);
                };
                let result = self.one(variant, &name);
                if result.is_err() {
                    over.store(true, Ordering::Relaxed);
                }
                tick();
                result.map(|()| Some(name))
            })
            .collect();
        let mut outcome = Ok(());
        let mut made = Vec::with_capacity(count);
        for result in results {
            made.push(result.unwrap_or_else(|failure| {
                // The first, as others may follow from it.
                if outcome.is_ok() {
                    outcome = Err(failure);
                }
                None
            }));
        }
        (made, outcome)
    }

    /// Asks all places before anything is made.
    fn probe(&self, names: &[Option<String>]) -> Result<(), Failure> {
        let own = [LIST, MAP].map(|name| (name.to_owned(), Vec::new()));
        output::probe(self.out, &own)
            .and_then(|()| {
                names
                    .iter()
                    .flatten()
                    .try_for_each(|name| output::probe(&self.out.join(name), &[]))
            })
            .map_err(|error| Failure::NotPut(error.into()))
    }

    fn one(&self, variant: &Variant, name: &str) -> Result<(), Failure> {
        let design = self
            .numbers
            .with(&changes(self.axes, &variant.values))
            .map_err(Failure::Input)?;
        let wanted = Wanted {
            folders: Folder::ALL.to_vec(),
            ..Wanted::default()
        };
        pipeline::make_design(&design, self.path, &self.out.join(name), &wanted)?;
        Ok(())
    }
}

/// What is said where a variant, or the list of them, could not be written: which are there all the same.
pub(super) fn failed(
    path: &Path,
    failure: &Failure,
    folders: &[Option<String>],
    out: &Path,
    as_json: bool,
) -> Said {
    let made: Vec<&str> = folders.iter().flatten().map(String::as_str).collect();
    let mut said = Said::done("");
    said.status = status_of(failure);
    if as_json {
        let mut value = json::failed(path, failure);
        if let (Some(map), false) = (value.as_object_mut(), made.is_empty()) {
            if let Failure::NotPut(error) = failure {
                map.insert("failure".to_owned(), json!(error.why()));
            }
            map.insert("made".to_owned(), json!(made));
        }
        said.out = json::text(&value);
        return said;
    }
    if made.is_empty() {
        said.err = failure_text(path, failure);
        return said;
    }
    said.err = match failure {
        Failure::NotPut(why) => error(&why.why()),
        Failure::Internal(message) => error(&format!("the program failed: {message}")),
        Failure::Input(_) | Failure::Stopped(..) => failure_text(path, failure),
    };
    let list = named(&made);
    let earlier = if [LIST, MAP].iter().any(|name| out.join(name).is_file()) {
        " What an earlier run left of those stays as it was."
    } else {
        ""
    };
    said.err.push_str(&verdicts::note(&format!(
        "Made before that, each whole in its folder: {list}. The other variants, {LIST} and {MAP} were not \
         written.{earlier}"
    )));
    said
}

/// The first few folders by name, the rest counted.
pub(super) fn named(folders: &[&str]) -> String {
    let names: Vec<String> = folders.iter().take(NAMED).map(|name| clean(name)).collect();
    let mut list = names.join(", ");
    if folders.len() > NAMED {
        list.push_str(&format!(" and {} more", folders.len() - NAMED));
    }
    list
}

/// `007-slots.rib-12.5`: sorts by number, says what it is.
fn folder_name(index: usize, count: usize, axes: &[Axis], variant: &Variant) -> String {
    let digits = count.to_string().len();
    let mut name = format!("{:0digits$}", index + 1);
    for (axis, value) in axes.iter().zip(&variant.values) {
        let key: String = axis
            .number
            .key
            .chars()
            .filter_map(|c| match c {
                '[' => Some('-'),
                c if c.is_ascii_alphanumeric() || matches!(c, '.' | '_' | '-') => Some(c),
                _ => None,
            })
            .collect();
        name.push_str(&format!("-{key}-{}", plain(typed(&axis.number, *value))));
    }
    name
}
