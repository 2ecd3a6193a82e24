//! Manual pages and completions, from the definitions that the help comes from.

use std::path::{Path, PathBuf};

use clap::{Command, CommandFactory as _};

use super::Said;
use super::arguments::{Arguments, CompletionsArguments, ManualArguments};
use super::new_file::write_new;
use super::style::clean;
use crate::input::nearest::nearest;

/// The program's definitions, with every help text in its place.
fn program() -> Command {
    let mut program = Arguments::command();
    program.build();
    program
}

/// `barrelhead manual`.
pub fn page(arguments: &ManualArguments) -> Said {
    let program = program();
    if let Some(folder) = &arguments.out {
        return all_pages(&program, folder);
    }
    let Some(wanted) = &arguments.command else {
        return written(&program);
    };
    let names = || program.get_subcommands().map(Command::get_name);
    match program
        .get_subcommands()
        .find(|known| known.get_name() == wanted)
    {
        Some(command) => written(command),
        None => {
            let hint = nearest(wanted, names()).map_or_else(
                || names().collect::<Vec<_>>().join(", "),
                |near| format!("did you mean {near}?"),
            );
            Said::wrong(&format!("there is no command {}: {hint}", clean(wanted)))
        }
    }
}

/// Name of a page's file: `barrelhead-make.1`.
fn file_name(command: &Command) -> String {
    let name = command.get_display_name().unwrap_or(command.get_name());
    format!("{name}.1")
}

fn roff(command: &Command) -> std::io::Result<Vec<u8>> {
    let mut page = Vec::new();
    clap_mangen::Man::new(command.clone()).render(&mut page)?;
    Ok(page)
}

fn written(command: &Command) -> Said {
    match roff(command) {
        Ok(page) => Said::done(String::from_utf8_lossy(&page)),
        Err(error) => failed(&error),
    }
}

fn all_pages(program: &Command, folder: &Path) -> Said {
    let mut written: Vec<PathBuf> = Vec::new();
    for command in std::iter::once(program).chain(program.get_subcommands()) {
        let file = folder.join(file_name(command));
        let outcome = roff(command)
            .map_err(|error| failed(&error))
            .and_then(|page| write_new(&file, &page).map_err(|why| Said::not_written(&why)));
        if let Err(said) = outcome {
            // All pages or none.
            for page in written {
                let _ = std::fs::remove_file(page);
            }
            return said;
        }
        written.push(file);
    }
    let shown = |file: &PathBuf| format!("{}\n", clean(&file.display().to_string()));
    Said::done(written.iter().map(shown).collect::<String>())
}

fn failed(error: &std::io::Error) -> Said {
    Said::failed(&format!("the page could not be made: {error}"))
}

/// `barrelhead completions`.
pub fn completions(arguments: &CompletionsArguments) -> Said {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut program(), "barrelhead", &mut script);
    Said::done(String::from_utf8_lossy(&script))
}
