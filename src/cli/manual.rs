//! Manual pages and completions, from the definitions that the help comes from.

use std::fs::File;
use std::io::{ErrorKind, Read as _};
use std::path::{Path, PathBuf};

use clap::{Command, CommandFactory as _};

use super::Said;
use super::arguments::{Arguments, CompletionsArguments, ManualArguments};
use super::style::clean;
use crate::diagnostic::meant::{did_you_mean, nearest};
use crate::write::output;

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
                || {
                    let list = names().collect::<Vec<_>>().join(", ");
                    format!("the commands are {list}")
                },
                did_you_mean,
            );
            Said::wrong(&format!("there is no command {}; {hint}", clean(wanted)))
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
    let page = String::from_utf8_lossy(&page);
    Ok(with_values(command, &page).into_bytes())
}

const SYNOPSIS: &str = "\n.SH SYNOPSIS\n";

/// The same page; its synopsis, which comes with the options' names alone, says what they take.
fn with_values(command: &Command, page: &str) -> String {
    let parts = page.split_once(SYNOPSIS);
    let Some((before, (line, after))) =
        parts.and_then(|(before, rest)| Some((before, rest.split_once('\n')?)))
    else {
        return page.to_owned();
    };
    let mut line = line.to_owned();
    for option in command.get_opts() {
        if let (Some(long), Some(values)) = (option.get_long(), option.get_value_names()) {
            let name = format!(r"\fB\-\-{}\fR", long.replace('-', r"\-"));
            let value = values.join(" ");
            line = line.replace(&format!("{name}]"), &format!(r"{name} \fI{value}\fR]"));
        }
    }
    format!("{before}{SYNOPSIS}{line}\n{after}")
}

fn written(command: &Command) -> Said {
    match roff(command) {
        Ok(page) => Said::done(String::from_utf8_lossy(&page)),
        Err(error) => failed(&error),
    }
}

/// Writes all pages or none. Those of an earlier run are replaced, so that they can be renewed with the
/// program; a file of the same name that is no page of ours stays, and nothing is written.
fn all_pages(program: &Command, folder: &Path) -> Said {
    if !folder.is_dir() {
        return Said::wrong(&format!(
            "the folder {} is not there; make it first, or name another",
            folder.display()
        ));
    }
    let mut pages = Vec::new();
    for command in std::iter::once(program).chain(program.get_subcommands()) {
        let name = file_name(command);
        let file = folder.join(&name);
        if !may_be_replaced(&file) {
            return Said::wrong(&format!(
                "{} is there already and is no page of barrelhead's; move it away, or name another folder. Nothing \
                 was written",
                file.display()
            ));
        }
        match roff(command) {
            Ok(page) => pages.push((name, page)),
            Err(error) => return failed(&error),
        }
    }
    let shown = |file: &PathBuf| format!("{}\n", clean(&file.display().to_string()));
    match output::replace(folder, &pages, |_| false) {
        Ok(written) => Said::done(written.iter().map(shown).collect::<String>()).with_files(),
        Err(error) => Said::not_put(&error),
    }
}

/// Whether nothing is there, or a page that says near its beginning that it is of this program. What
/// cannot be read, or is no file, is none.
fn may_be_replaced(file: &Path) -> bool {
    match file.symlink_metadata() {
        Err(error) => error.kind() == ErrorKind::NotFound,
        Ok(there) if there.is_file() => {
            let mut begins = Vec::new();
            let read = File::open(file).and_then(|page| page.take(1024).read_to_end(&mut begins));
            read.is_ok()
                && begins
                    .split(|byte| *byte == b'\n')
                    .any(|line| line.starts_with(b".TH barrelhead"))
        }
        Ok(_) => false,
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_synopsis_says_what_each_option_takes() {
        let program = program();
        for command in program.get_subcommands() {
            let page = String::from_utf8(roff(command).unwrap()).unwrap();
            let (_, rest) = page.split_once(SYNOPSIS).unwrap();
            let line = rest.lines().next().unwrap().replace('\\', "");
            for option in command.get_opts() {
                let long = option.get_long().unwrap();
                let value = option.get_value_names().unwrap().join(" ");
                let wanted = format!("[fB--{long}fR fI{value}fR]");
                assert!(line.contains(&wanted), "{wanted} in {line}");
            }
        }
    }
}
