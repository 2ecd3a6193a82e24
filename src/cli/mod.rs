//! What a person types and reads. Nothing here works out a position or a verdict.

mod arguments;
mod beside;
mod card;
mod check;
mod class;
mod drilled;
#[cfg(test)]
pub(crate) mod example;
mod explain;
mod fit;
mod json;
mod make;
mod manual;
mod new_file;
mod progress;
mod read_numbers;
mod room;
mod sheet;
mod side_tables;
mod start;
mod style;
mod suit;
mod table;
mod vary;
mod verdicts;
mod watch;

use std::ffi::OsString;
use std::io::Write as _;
use std::path::Path;

use clap::Parser as _;

use crate::diagnostic::render;
use crate::pipeline::Failure;
use crate::write::output::{OutputError, reason};

use arguments::{Arguments, Command};
use new_file::NotWritten;

/// Exit status of a command, as the contract's section 5 has it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[repr(u8)]
pub enum Status {
    /// Done; cautions allowed.
    Done = 0,
    /// A check stopped the design.
    Stopped = 1,
    /// Input or command line wrong.
    Wrong = 2,
    /// The program failed.
    Failed = 3,
}

impl From<Status> for std::process::ExitCode {
    fn from(status: Status) -> Self {
        std::process::ExitCode::from(status as u8)
    }
}

/// Runs one command line, the program's name first, and says how it ended.
#[must_use]
pub fn run(line: impl IntoIterator<Item = OsString>) -> Status {
    let arguments = match Arguments::try_parse_from(line) {
        Ok(arguments) => arguments,
        Err(error) => {
            // Help and version come this way too, and are no fault.
            let status = if error.use_stderr() {
                Status::Wrong
            } else {
                Status::Done
            };
            return match error.print() {
                Ok(()) => status,
                Err(failed) => broken_output(&failed),
            };
        }
    };
    let said = match arguments.command {
        Command::Start(arguments) => start::run(&arguments),
        Command::Check(arguments) => check::run(&arguments),
        Command::Make(arguments) if arguments.watch => watch::run(&arguments),
        Command::Make(arguments) => make::run(&arguments),
        Command::Explain(arguments) => explain::run(&arguments),
        Command::Fit(arguments) => fit::run(&arguments),
        Command::Card(arguments) => card::run(&arguments),
        Command::Suit(arguments) => suit::run(&arguments),
        Command::Room(arguments) => room::run(&arguments),
        Command::Vary(arguments) => vary::run(&arguments),
        Command::Class(arguments) => class::run(&arguments),
        Command::Schema(arguments) => Said::done(json::text(&crate::input::schema(arguments.part))),
        Command::Manual(arguments) => manual::page(&arguments),
        Command::Completions(arguments) => manual::completions(&arguments),
    };
    said.print()
}

/// What a command has to say, and how it ended. Text may carry terminal styles: they are taken
/// out where the reader is no terminal.
#[derive(Debug)]
struct Said {
    out: String,
    err: String,
    status: Status,
    /// Files were written, whole and in their places: whether this can be printed changes nothing.
    files: bool,
}

impl Said {
    /// Everything went well.
    fn done(out: impl Into<String>) -> Said {
        Said {
            out: out.into(),
            err: String::new(),
            status: Status::Done,
            files: false,
        }
    }

    /// The command line or a file system matter is wrong.
    fn wrong(message: &str) -> Said {
        Said {
            out: String::new(),
            err: style::error(message),
            status: Status::Wrong,
            files: false,
        }
    }

    /// The program could not do its work.
    fn failed(message: &str) -> Said {
        Said {
            status: Status::Failed,
            ..Said::wrong(message)
        }
    }

    /// Files were not put in their folder: wrong is the folder asked for, else the disk failed.
    fn not_put(error: &OutputError) -> Said {
        if error.blames_the_place() {
            Said::wrong(&error.to_string())
        } else {
            Said::failed(&error.to_string())
        }
    }

    /// A new file was not written.
    fn not_written(why: &NotWritten) -> Said {
        match why {
            NotWritten::ThePlace(message) => Said::wrong(message),
            NotWritten::TheDisk(message) => Said::failed(message),
        }
    }

    fn write(&self) -> std::io::Result<()> {
        anstream::stdout().write_all(self.out.as_bytes())?;
        anstream::stdout().flush()?;
        anstream::stderr().write_all(self.err.as_bytes())
    }

    /// The same, of files that were written.
    fn with_files(self) -> Said {
        Said {
            files: true,
            ..self
        }
    }

    /// Prints it. Where that fails the command has failed, unless its work was to write files: a status
    /// of 3 would say that there are none.
    fn print(self) -> Status {
        match self.write() {
            Ok(()) => self.status,
            Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => self.status,
            Err(error) if self.files => {
                let words = format!(
                    "the files were written and are whole, but their list cannot be printed: {}",
                    reason(&error)
                );
                let _ = anstream::stderr().write_all(style::error(&words).as_bytes());
                self.status
            }
            Err(error) => broken_output(&error),
        }
    }
}

fn broken_output(error: &std::io::Error) -> Status {
    if error.kind() == std::io::ErrorKind::BrokenPipe {
        return Status::Done;
    }
    // Nothing more can be done if this cannot be written either.
    let _ = writeln!(
        std::io::stderr(),
        "error: output cannot be written: {}",
        reason(error)
    );
    Status::Failed
}

/// Exit status of a failure.
fn status_of(failure: &Failure) -> Status {
    match failure {
        Failure::Stopped(..) => Status::Stopped,
        Failure::NotPut(error) if error.blames_the_place() => Status::Wrong,
        Failure::NotPut(_) => Status::Failed,
        Failure::Input(_) => Status::Wrong,
        Failure::Internal(_) => Status::Failed,
    }
}

/// A failure other than a stop, for a person.
fn failure_text(path: &Path, failure: &Failure) -> String {
    match failure {
        Failure::Input(mistakes) => render::render(mistakes),
        // Neither the place nor the disk is the program's fault.
        Failure::NotPut(error) => style::error(&error.to_string()),
        Failure::Internal(message) => style::error(&format!(
            "{}: the program failed, nothing was written: {message}",
            path.display()
        )),
        Failure::Stopped(..) => style::error(&format!(
            "{}: a check stopped the design; nothing was written",
            path.display()
        )),
    }
}
