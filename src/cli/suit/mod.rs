//! `barrelhead suit`.

mod entry;
mod shown;

use std::path::Path;

use serde_json::json;

use crate::check::Report;
use crate::input::read_partial;
use crate::pipeline::{self, Failure};
use crate::study::suit::{Suit, suit};

use super::arguments::SuitArguments;
use super::style::{clean, shorten};
use super::{Said, failure_text, json, status_of};

/// Columns of a set's name.
const NAME: usize = 12;

/// One set with what the checks say of it as it stands.
struct Asked {
    suit: Suit,
    report: Report,
    name: String,
}

impl Asked {
    /// Whether its file is in inches, so that they are shown without being asked for.
    fn in_inches(&self) -> bool {
        self.suit.design.lengths().inches
    }
}

/// Works out every set and prints them side by side.
pub fn run(arguments: &SuitArguments) -> Said {
    let mut said = Said::done("");
    let mut asked = Vec::new();
    let mut values = Vec::new();
    for path in &arguments.sets {
        match ask(path, arguments.neck.as_deref()) {
            Ok(one) => {
                values.push(entry::entry(path, &one));
                asked.push(one);
            }
            Err(failure) => {
                if !arguments.json {
                    let text = failure_text(path, &failure);
                    // Mistakes of the neck are those of every set.
                    if !said.err.contains(&text) {
                        said.err.push_str(&text);
                    }
                }
                said.status = said.status.max(status_of(&failure));
                values.push(json::failed(path, &failure));
            }
        }
    }
    if arguments.json {
        let value = json!({ "sets": values, "exit_status": said.status as u8 });
        said.out = json::text(&value);
    } else if !asked.is_empty() {
        let inches = arguments.inches || asked.iter().any(Asked::in_inches);
        said.out = shown::text(&asked, inches);
    }
    said
}

fn ask(path: &Path, neck: Option<&Path>) -> Result<Asked, Failure> {
    let (design, assumed) = read_partial(path, neck).map_err(Failure::Input)?;
    let name = shorten(&clean(&design.title), NAME);
    let suit = suit(design, assumed);
    let (_, report, _) = pipeline::judge_design(&suit.design, path)?;
    Ok(Asked { suit, report, name })
}
