//! `barrelhead start`: a parameter file to begin with, as a commented starter or from ten answers.

mod answer;
mod ask;
mod compose;
mod kinds;
mod questions;

use std::io::{self, IsTerminal as _};
use std::path::Path;

use crate::diagnostic::meant::{did_you_mean, nearest};
use crate::input::Unit;
use crate::pipeline::Failure;

use super::arguments::StartArguments;
use super::new_file::write_new;
use super::style::{Lengths, STRONG, clean, paint, typed};
use super::table::{Lean, Table};
use super::{Said, check, failure_text, status_of, verdicts};
use ask::Ended;
use kinds::Kind;

/// Lists the kinds, or writes a file that was not there before.
pub fn run(arguments: &StartArguments) -> Said {
    let Some(file) = arguments.file.as_deref().filter(|_| !arguments.list) else {
        return Said::done(list());
    };
    let kind = match kind(arguments, file) {
        Ok(kind) => kind,
        Err(message) => return Said::wrong(&message),
    };
    if let Err(message) = may_be_written(file) {
        return Said::wrong(&message);
    }
    if arguments.ask {
        return from_answers(arguments, kind, file);
    }
    match write_new(file, kind.text.as_bytes()) {
        Ok(()) => Said::done(next_steps(kind, file)).with_files(),
        Err(why) => Said::not_written(&why),
    }
}

fn list() -> String {
    let mut table = Table::new(&[("", Lean::Left), ("", Lean::Left)]);
    for kind in kinds::ALL {
        table.row(vec![paint(STRONG, kind.name), kind.about.to_owned()]);
    }
    format!(
        "Kinds of instrument:\n{}\nWrite one: barrelhead start DESIGN mine.toml\n",
        table.draw()
    )
}

fn kind(arguments: &StartArguments, file: &Path) -> Result<&'static Kind, String> {
    let Some(name) = &arguments.design else {
        // A lone word that names a kind was surely not meant as the file's name.
        if let Some(kind) = file.to_str().and_then(kinds::named) {
            let name = kind.name;
            return Err(format!(
                "`{name}` is a kind of instrument; name the file to write as well, such as: \
                 barrelhead start {name} mine.toml"
            ));
        }
        return Ok(kinds::usual());
    };
    kinds::named(name).ok_or_else(|| {
        let near = nearest(name, kinds::ALL.iter().map(|kind| kind.name));
        let hint = near.map_or_else(
            || ".".to_owned(),
            |near| format!("; {}", did_you_mean(near)),
        );
        format!(
            "there is no kind of instrument `{}`{hint} `barrelhead start --list` names them.",
            clean(name)
        )
    })
}

/// Told before ten questions are asked; [`write_new`] makes sure once more.
fn may_be_written(file: &Path) -> Result<(), String> {
    let shown = file.display();
    if file.symlink_metadata().is_ok() {
        return Err(format!(
            "{shown} is there already and is never written over; choose another name"
        ));
    }
    if file.file_name().is_none() {
        return Err(format!("{shown} is no name for a file"));
    }
    let parent = match file.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    if parent.is_dir() {
        Ok(())
    } else {
        Err(format!(
            "the folder {} is not there; make it first, or choose another place for {shown}",
            parent.display()
        ))
    }
}

fn next_steps(kind: &Kind, file: &Path) -> String {
    let shown = clean(&file.display().to_string());
    format!(
        "{} written: {}.\n\n\
         The lines lettered A to J must be measured on your own set and head; the numbers standing\n\
         there now are only of the right order. Then:\n{}",
        paint(STRONG, &shown),
        kind.about,
        to_type(file)
    )
}

/// The commands that come next, to be copied.
fn to_type(file: &Path) -> String {
    let typed = typed(file);
    format!("  barrelhead check {typed}\n  barrelhead make {typed}\n")
}

fn from_answers(arguments: &StartArguments, kind: &'static Kind, file: &Path) -> Said {
    let unit = match (arguments.inches, arguments.mm) {
        (true, _) => Some(Unit::Inch),
        (_, true) => Some(Unit::Mm),
        _ => None,
    };
    let stdin = io::stdin();
    // What a person types is echoed by a terminal; from a pipe the dialogue would run together.
    let echo = !stdin.is_terminal();
    let mut screen = anstream::stdout();
    let text = match ask::ask(kind, unit, &mut stdin.lock(), &mut screen, echo) {
        Ok(Ended::Answered(answers)) => compose::compose(kind, &answers),
        Ok(Ended::Quit) => {
            return Said::wrong("stopped before the last question; nothing was written");
        }
        Ok(Ended::NoMoreInput) => {
            return Said::wrong("the answers ended before the last question; nothing was written");
        }
        Err(error) => return Said::wrong(&format!("the answers cannot be read: {error}")),
    };
    if let Err(why) = write_new(file, text.as_bytes()) {
        return Said::not_written(&why);
    }
    first_check(file)
}

/// The checks of a file just written from answers. A stop is news about the design, not a fault of
/// `start`, which has done its work.
fn first_check(file: &Path) -> Said {
    let shown = clean(&file.display().to_string());
    match check::checked(file) {
        Ok((layout, report)) => {
            let lengths = Lengths {
                inches: layout.design.unit == Unit::Inch,
            };
            Said::done(format!(
                "\n{} written; the checks say {}\n{}\n\
                 Read the file through: what was not asked is marked there as assumed. Then:\n{}",
                paint(STRONG, &shown),
                verdicts::summary(&report),
                verdicts::listing(&report, lengths, false),
                to_type(file)
            ))
            .with_files()
        }
        Err(failure) => unreadable(file, failure),
    }
}

/// Our own file does not pass our own reader: the program's fault, so nothing is left behind.
fn unreadable(file: &Path, failure: Failure) -> Said {
    let _ = std::fs::remove_file(file);
    let failure = match failure {
        Failure::Input(mistakes) => {
            let first = mistakes.first().map(|mistake| mistake.message.clone());
            Failure::Internal(format!(
                "the answers made a file that cannot be read: {}",
                first.unwrap_or_default()
            ))
        }
        other => other,
    };
    Said {
        files: false,
        out: String::new(),
        err: failure_text(file, &failure),
        status: status_of(&failure),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_with_a_blank_is_quoted_in_the_commands_to_copy() {
        let said = next_steps(kinds::usual(), Path::new("uke ä.toml"));
        assert!(said.contains("barrelhead check 'uke ä.toml'\n"), "{said}");
        assert!(said.contains("barrelhead make 'uke ä.toml'\n"), "{said}");
    }

    #[test]
    fn never_writes_over() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a.toml");
        write_new(&file, b"mine").unwrap();
        assert!(
            may_be_written(&file)
                .unwrap_err()
                .contains("never written over")
        );
        assert!(write_new(&file, b"other").is_err());
        assert_eq!(std::fs::read_to_string(&file).unwrap(), "mine");
        let lost = folder.path().join("no/such/a.toml");
        assert!(may_be_written(&lost).unwrap_err().contains("is not there"));
    }
}
