//! The command line as typed, and every help text.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

mod around;
mod making;
mod studies;

pub use around::{CompletionsArguments, ManualArguments, SchemaArguments};
pub use making::{BenchPaper, MakeArguments};
pub use studies::{ClassArguments, FitArguments, RoomArguments, SuitArguments, VaryArguments};

/// Options of the whole program.
#[derive(Debug, Parser)]
#[command(
    name = "barrelhead",
    version,
    long_version = env!("BARRELHEAD_VERSION"),
    about = "Lays out, checks and models a slotted head and the guide block that drills it.",
    long_about = "From one file of measurements, barrelhead works out where the barrels of geared \
tuning machines are bored into a slotted head, says what will not work before wood is cut, and \
makes exact solids of the head and of the guide block that drills it.",
    after_help = "Examples:
  barrelhead start six-string mine.toml   write a starter file with comments
  barrelhead start --ask mine.toml        answer ten questions instead
  barrelhead check mine.toml              see what the checks say
  barrelhead make mine.toml               check, then write to output/mine/
  barrelhead explain bearing              what a check means and what to change
  barrelhead manual make | man -l -       the page of a command

Exit status: 0 done (cautions allowed), 1 a check stopped the design, 2 mistake in the file or on \
the command line or with the folder, 3 the program failed or the disk is full. Colour appears on a \
terminal only; NO_COLOR=1 turns it off.",
    max_term_width = 100,
    disable_help_subcommand = true,
    subcommand_required = true,
    arg_required_else_help = true
)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a parameter file to start from
    Start(StartArguments),
    /// Check designs and print the verdicts, worst first
    Check(CheckArguments),
    /// Check a design, then build and write its solids and report
    Make(MakeArguments),
    /// Say what a check means and what to change
    Explain(ExplainArguments),
    /// Say how likely the machines go into their bores, and which bit to take
    Fit(FitArguments),
    /// Write a card to measure by, with letters and boxes
    Card(CardArguments),
    /// Say what head a set of machines wants, for one set or several side by side
    Suit(SuitArguments),
    /// Say how far each number may go before a check speaks up
    Room(RoomArguments),
    /// Check one or two numbers over a range, as a list and a map
    Vary(VaryArguments),
    /// Check all heads of a folder for a teaching day
    Class(ClassArguments),
    /// Print a JSON Schema of the parameter file, for editors
    Schema(SchemaArguments),
    /// Print the manual page of the program or of a command
    Manual(ManualArguments),
    /// Print a script that completes commands and options as you type
    Completions(CompletionsArguments),
}

/// `start`.
#[derive(Debug, Args)]
#[command(
    allow_missing_positional = true,
    after_help = "Examples:
  barrelhead start --list                    the kinds of instrument
  barrelhead start seven-string mine.toml    a starter file with comments
  barrelhead start --ask mine.toml           ten questions, as one measures
  barrelhead start --ask ukulele mine.toml   the same for another kind
  barrelhead start --ask --inches mine.toml  a bare number then means inches

Nothing is ever written over: if FILE is there already, choose another name. Answers may carry their \
unit: 10.5 mm, 0.413 in, 13/32 in, 1-3/8 in. `back` goes one question back, `quit` writes nothing."
)]
pub struct StartArguments {
    /// Kind of instrument, from --list [default: six-string]
    #[arg(value_name = "DESIGN")]
    pub design: Option<String>,
    /// The file to write; its folder must be there, the file must not
    #[arg(value_name = "FILE", required_unless_present = "list")]
    pub file: Option<PathBuf>,
    /// List the kinds of instrument and write nothing
    #[arg(long, conflicts_with_all = ["design", "file", "ask"])]
    pub list: bool,
    /// Ask for the ten numbers that cannot be guessed, then run the checks
    #[arg(long)]
    pub ask: bool,
    /// With --ask: bare numbers are inches, and the file is written in inches
    #[arg(long, requires = "ask", conflicts_with = "mm")]
    pub inches: bool,
    /// With --ask: bare numbers are millimetres, and the file is written in them
    #[arg(long, requires = "ask")]
    pub mm: bool,
}

/// `check`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead check mine.toml         what is not clear in full, the rest counted
  barrelhead check --all mine.toml   every check in full
  barrelhead check params/*.toml     several designs, one after the other
  barrelhead check --json mine.toml  for a program to read

--json prints one object: { \"designs\": [ ... ], \"exit_status\" }, each design either \
{ \"file\", \"title\", \"verdict\", \"checks\", \"rib_window\" } or { \"file\", \"mistakes\" } or \
{ \"file\", \"failure\" }. A check has code, title, verdict, value, limit, margin, unit, basis and \
where, as in report.json, and advice, file and line. Always millimetres and degrees, never colour.
Exit status: the highest of all files; 1 where a check stops a design.")]
pub struct CheckArguments {
    /// Parameter files
    #[arg(value_name = "FILE", required = true)]
    pub files: Vec<PathBuf>,
    /// Show the clear checks in full as well
    #[arg(long)]
    pub all: bool,
    /// Inches beside millimetres, also for a file in millimetres
    #[arg(long)]
    pub inches: bool,
    /// Print JSON instead of text
    #[arg(long, conflicts_with_all = ["all", "inches"])]
    pub json: bool,
}

/// `card`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead card                                measuring-card.pdf here
  barrelhead card --paper letter --out card.pdf  letter paper, another name

One page with a drawn set of machines and a drawn head, every number lettered in the order one \
measures, boxes to write in, and each number's key in the file. Nothing is ever written over.")]
pub struct CardArguments {
    /// Paper
    #[arg(long, value_name = "SIZE", value_enum, default_value_t = BenchPaper::A4)]
    pub paper: BenchPaper,
    /// File to write
    #[arg(long, value_name = "FILE", default_value = "measuring-card.pdf")]
    pub out: PathBuf,
}

/// `explain`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead explain              every check with its title
  barrelhead explain wood-over    one check: why it matters, what to change
  barrelhead explain --json       for a program to read

--json prints { \"checks\": [ { \"code\", \"title\", \"measured\", \"why\", \"change\", \
\"limits\" } ] }, with one entry where CODE is given.")]
pub struct ExplainArguments {
    /// Code of a check, as printed with its verdict
    #[arg(value_name = "CODE")]
    pub code: Option<String>,
    /// Print JSON instead of text
    #[arg(long)]
    pub json: bool,
}

#[cfg(test)]
mod tests;
