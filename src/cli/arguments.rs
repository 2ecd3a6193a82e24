//! The command line as typed, and every help text.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::paper::Paper;
use crate::paper::marking::CheckBar;
use crate::pipeline::{Folder, Wanted};
use crate::units::parse_length;
use crate::write::step::Schema;

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
  barrelhead make mine.toml               check, then write solids and report to output/mine/
  barrelhead explain bearing              what a check means and what to change
  barrelhead manual make | man -l -       the page of a command

Exit status: 0 done (cautions allowed), 1 a check stopped the design, 2 mistake in the file or on
the command line, 3 the program failed. Colour appears on a terminal only; NO_COLOR=1 turns it off.",
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

/// `schema`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead schema > barrelhead.schema.json          for parameter files
  barrelhead schema --part > set.schema.json          for files of machines or a block alone

An editor that takes JSON Schema for TOML then shows what each key means, offers those there are, and
marks what cannot be read. It sees the form of a file only: what the numbers mean, `check` says.")]
pub struct SchemaArguments {
    /// For a file that holds only some of the tables, such as one that `from` names
    #[arg(long)]
    pub part: bool,
}

/// `manual`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead manual > barrelhead.1            the page of the program
  barrelhead manual make | man -l -           the page of one command, read at once
  barrelhead manual --out man1                every page into a folder")]
pub struct ManualArguments {
    /// The command whose page is wanted; without it the program's own
    #[arg(value_name = "COMMAND", conflicts_with = "out")]
    pub command: Option<String>,
    /// Write all pages into this folder; it must be there, and pages that are there already stay
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// `completions`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead completions bash > ~/.local/share/bash-completion/completions/barrelhead
  barrelhead completions zsh > ~/.zfunc/_barrelhead
  barrelhead completions fish > ~/.config/fish/completions/barrelhead.fish")]
pub struct CompletionsArguments {
    /// The shell
    #[arg(value_name = "SHELL", value_enum)]
    pub shell: clap_complete::Shell,
}

/// `start`.
#[derive(Debug, Args)]
#[command(
    allow_missing_positional = true,
    after_help = "Examples:
  barrelhead start --list                       the kinds of instrument to choose from
  barrelhead start seven-string mine.toml       a starter file with comments
  barrelhead start --ask mine.toml              ten questions, in the order one measures
  barrelhead start --ask ukulele mine.toml      the same for another kind
  barrelhead start --ask --inches mine.toml     a bare number then means inches

Nothing is ever written over: if FILE is there already, choose another name. Answers may carry their
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

/// `suit`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead suit sets/plain-35.toml                      one set; everything else is assumed
  barrelhead suit --neck neck.toml sets/*.toml            several sets for one neck, side by side
  barrelhead suit --neck mine.toml sets/other.toml        another set in a design that is there
  barrelhead suit --json sets/plain-35.toml               for a program to read

A SET needs only [machines]; whatever else it gives is used. What no file gives is assumed: those
values are marked * and listed with their basis. One number at a time is moved, the others stay as they
are: \"clear\" is where no check that it decides says caution, \"no stop\" where none says stop.

--json prints one object: { \"sets\": [ ... ], \"exit_status\" }, each set { \"file\", \"title\", \"bounds\",
\"slot_middle\", \"rib_window\", \"bit\", \"blocks\", \"assumed\", \"verdict\", \"checks\" } or { \"file\",
\"mistakes\" }. A bound has name, here, assumed, checks, and clear and no_stop, each { \"least\",
\"greatest\", \"never\", \"open\" }; an end has value and check. Always millimetres and degrees.
Exit status: 0 also where a check would stop a set; 2 where a file has mistakes.")]
pub struct SuitArguments {
    /// Files with [machines]; a whole parameter file will do
    #[arg(value_name = "SET", required = true)]
    pub sets: Vec<PathBuf>,
    /// File with what is known of the neck, for every set; its own machines are left aside
    #[arg(long, value_name = "FILE")]
    pub neck: Option<PathBuf>,
    /// Inches instead of millimetres
    #[arg(long)]
    pub inches: bool,
    /// Print JSON instead of text
    #[arg(long, conflicts_with = "inches")]
    pub json: bool,
}

/// `check`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead check mine.toml              what is not clear, in full; the rest counted
  barrelhead check --all mine.toml        every check in full
  barrelhead check params/*.toml          several designs, one after the other
  barrelhead check --json mine.toml       for a program to read

--json prints one object: { \"designs\": [ ... ], \"exit_status\" }, each design either
{ \"file\", \"title\", \"verdict\", \"checks\", \"rib_window\" } or { \"file\", \"mistakes\" } or
{ \"file\", \"failure\" }. A check has code, title, verdict, value, limit, margin, unit, basis and
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

/// `make`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead make mine.toml                   writes to output/mine/ below the current folder
  barrelhead make mine.toml --out heads/mine  writes there; the folder is made if need be
  barrelhead make mine.toml --quiet           prints the file names only
  barrelhead make mine.toml --json            for a program to read

--json prints one object: { \"title\", \"verdict\", \"folder\", \"files\", \"depth_stops\", \"bores\",
\"checks\", \"rib_window\", \"shim_mm\" }, in millimetres and degrees; bores and checks as in
report.json.
A design that a check stops is not built: nothing is written, earlier files stay as they were.")]
pub struct MakeArguments {
    /// Parameter file
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Folder to write to [default: output/<file's name without .toml>]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Limit what is written: bench, print, shop, report, with commas between; the solids and
    /// report.json always are
    #[arg(long, value_name = "WHAT", value_delimiter = ',', value_enum)]
    pub only: Vec<Only>,
    /// Paper of the bench's sheets and of the shop's operation cards
    #[arg(long, value_name = "SIZE", value_enum, default_value_t = BenchPaper::A4)]
    pub paper: BenchPaper,
    /// What the printed 100 mm check bar measured, to correct a printer that scales
    #[arg(long, value_name = "MM", value_parser = check_bar)]
    pub bar: Option<CheckBar>,
    /// Units on the screen and on the shop's papers: mm, or both
    #[arg(long, value_name = "UNITS", value_enum)]
    pub units: Option<Units>,
    /// The same as --units both
    #[arg(long)]
    pub inches: bool,
    /// Add a trial bar and a light head to print/printed.3mf
    #[arg(long)]
    pub mock: bool,
    /// Add to report.html how far each number may go (see barrelhead room)
    #[arg(long)]
    pub room: bool,
    /// Schema of the assembly's STEP file: ap242, or ap214 for older readers
    #[arg(long, value_name = "SCHEMA", value_parser = schema, default_value = "ap242")]
    pub step: Schema,
    /// Add holding stock of this length beyond the nut line, at the head's angle, to the assembly
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub neck_stub: Option<f64>,
    /// Print only the names of the files written
    #[arg(long, short, conflicts_with = "json")]
    pub quiet: bool,
    /// Print JSON instead of text
    #[arg(long)]
    pub json: bool,
}

/// What `--only` names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Only {
    /// bench/: marking sheet, setup sheet, rig
    Bench,
    /// print/: files for the printer
    Print,
    /// shop/: drawing, operations, bore list, DXF, assembly
    Shop,
    /// report.html
    Report,
}

/// Paper that a home printer takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum BenchPaper {
    /// 210 by 297 mm
    A4,
    /// 8.5 by 11 in
    Letter,
}

/// Units of screen and papers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// Millimetres alone
    Mm,
    /// Inches beside them
    Both,
}

fn check_bar(text: &str) -> Result<CheckBar, String> {
    let mm = text.trim().parse::<f64>().unwrap_or(f64::NAN);
    CheckBar::measured(mm).map_err(|error| error.to_string())
}

fn schema(text: &str) -> Result<Schema, String> {
    Schema::of_word(text).ok_or_else(|| "type ap242 or ap214".to_owned())
}

/// A length with its unit, or millimetres.
fn length(text: &str) -> Result<f64, String> {
    let mm = match text.trim().parse::<f64>() {
        Ok(mm) => mm,
        Err(_) => parse_length(text).map_err(|error| error.to_string())?,
    };
    if mm > 0.0 && mm <= 2000.0 {
        Ok(mm)
    } else {
        Err("type a length above zero, at most 2000 mm, such as 60 or \"2-3/8 in\"".to_owned())
    }
}

impl BenchPaper {
    /// The paper itself.
    #[must_use]
    pub const fn paper(self) -> Paper {
        match self {
            BenchPaper::A4 => Paper::A4,
            BenchPaper::Letter => Paper::Letter,
        }
    }
}

/// `card`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead card                                 measuring-card.pdf in this folder
  barrelhead card --paper letter --out card.pdf   on letter paper, under another name

One page with a drawn set of machines and a drawn head, every number lettered in the order one
measures, boxes to write in, and each number's key in the file. Nothing is ever written over.")]
pub struct CardArguments {
    /// Paper
    #[arg(long, value_name = "SIZE", value_enum, default_value_t = BenchPaper::A4)]
    pub paper: BenchPaper,
    /// File to write
    #[arg(long, value_name = "FILE", default_value = "measuring-card.pdf")]
    pub out: PathBuf,
}

/// `room`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead room mine.toml                      every number of the file
  barrelhead room mine.toml slots.rib            one number, or several
  barrelhead room --json mine.toml               for a program to read

Each number is moved alone, 20 mm or 20 degrees either way or until something stops it, and
every check is run anew. Ends are found to 0.01 and rounded inwards. Between two steps of 0.23 a
check could still speak up and fall silent again; that is looked for wherever its margin, at
three times the slope seen (at least 1.5 a millimetre), could be used up. What lasts less than
0.002 mm may be passed over, and so may a rule of the file that refuses only between two steps.
A design that a check stops is told instead what a single number can do about it.

--json prints { \"file\", \"title\", \"stopped\", \"numbers\", \"exit_status\" }. A number has key, unit,
value, file, line, searched (from, to), no_stop and no_worse, each with low and high { \"at\",
\"by\" }, the nearest_without_stop (below, above) and changes { \"at\", \"code\", \"below\", \"above\" }.
`by` is a check, or the key and message of a rule of the file, or null where nothing was found.
Exit status: 1 where a check stops the design as it is.")]
pub struct RoomArguments {
    /// Parameter file
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Keys, such as slots.rib or slots.end_margin[0] [default: every number]
    #[arg(value_name = "KEY")]
    pub keys: Vec<String>,
    /// Lengths in inches, also for a file in millimetres
    #[arg(long)]
    pub inches: bool,
    /// Print JSON instead of text
    #[arg(long, conflicts_with = "inches")]
    pub json: bool,
}

/// `vary`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead vary mine.toml slots.rib=10..16:0.25                        one number
  barrelhead vary mine.toml slots.rib=10..16:0.5 slots.width=13..17:0.5  two, as a map
  barrelhead vary mine.toml head.thickness=19..22:1 --make               and everything made

Bare numbers are in the unit of the file that the number stands in; lengths may carry their own:
10 mm, 3/8 in. At most 10000 variants are checked at once and 100 made. Writes variants.csv and
variants.svg to output/<file's name>-variants/; with --make a folder a variant beside them.

--json prints { \"file\", \"title\", \"axes\", \"variants\", \"files\" }; a variant has values, verdict,
worst, refused and folder.")]
pub struct VaryArguments {
    /// Parameter file
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// One or two numbers with their ranges
    #[arg(value_name = "KEY=from..to:step", required = true)]
    pub ranges: Vec<String>,
    /// Make every variant that no check stops
    #[arg(long)]
    pub make: bool,
    /// Folder to write to [default: output/<file's name without .toml>-variants]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Print JSON instead of text
    #[arg(long)]
    pub json: bool,
}

/// `class`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead class heads                  a line for each head in the folder, and one sheet
  barrelhead class heads --paper letter   the sheet on letter paper
  barrelhead class heads --json           for a program to read

Every .toml file of the folder with a table [head] is a head; set and block are compared with
those of the first. A file with mistakes is reported, the rest goes on. Writes class.pdf to
output/<folder's name>-class/.

--json prints { \"heads\", \"not_read\", \"left_out\", \"sheet\", \"exit_status\" }.
Exit status: the highest of all files; 1 where a check stops a head.")]
pub struct ClassArguments {
    /// Folder with one parameter file a head
    #[arg(value_name = "FOLDER")]
    pub folder: PathBuf,
    /// Folder to write to [default: output/<folder's name>-class]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Paper
    #[arg(long, value_name = "SIZE", value_enum, default_value_t = BenchPaper::A4)]
    pub paper: BenchPaper,
    /// Print JSON instead of text
    #[arg(long)]
    pub json: bool,
}

impl MakeArguments {
    /// Whether inches stand beside millimetres.
    #[must_use]
    pub fn both_units(&self) -> bool {
        self.inches || self.units == Some(Units::Both)
    }

    /// What is to be written.
    #[must_use]
    pub fn wanted(&self) -> Wanted {
        let folder = |only: &Only| match only {
            Only::Bench => Folder::Bench,
            Only::Print => Folder::Print,
            Only::Shop => Folder::Shop,
            Only::Report => Folder::Report,
        };
        let folders = if self.only.is_empty() {
            Folder::ALL.to_vec()
        } else {
            Folder::ALL
                .into_iter()
                .filter(|own| self.only.iter().any(|only| folder(only) == *own))
                .collect()
        };
        Wanted {
            folders,
            paper: self.paper.paper(),
            bar: self.bar,
            both_units: self.both_units(),
            schema: self.step,
            neck_stub: self.neck_stub,
            mock: self.mock,
            room: self.room,
        }
    }
}

/// `fit`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead fit mine.toml                    chance and lean for your bore and the bits around it
  barrelhead fit --trials 1000000 mine.toml   the same with a smaller standard error
  barrelhead fit --json mine.toml             for a program to read

A head that is drilled already is described by [[drilled]] records, one for each bore that is not as
designed: then the first thing said is whether the plate goes in, and what to ream or plug if not.
How far your drilling scatters is read from [drilling]; what is not given there is assumed, and said.
The errors drawn are the same in every run, on any machine.

--json prints { \"file\", \"title\", \"trials\", \"seed\", \"wanted\", \"drilling\", \"sides\",
\"as_drilled\", \"exit_status\" }; a side
has side, barrels, barrel_diameter_mm, grip_mm, worst_cases, block_play_mm, bits, advised,
advised_metric and advised_inch. Always millimetres and degrees. Exit status: 0 whatever the chance; `check` gives the verdicts.")]
pub struct FitArguments {
    /// Parameter file
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Heads to try
    #[arg(long, value_name = "N", default_value_t = 200_000,
          value_parser = clap::value_parser!(u64).range(1_000..=100_000_000))]
    pub trials: u64,
    /// Inches beside millimetres, also for a file in millimetres
    #[arg(long)]
    pub inches: bool,
    /// Print JSON instead of text
    #[arg(long, conflicts_with = "inches")]
    pub json: bool,
}

/// `explain`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead explain              every check with its title
  barrelhead explain wood-over    one check: why it matters, what to change
  barrelhead explain --json       for a program to read

--json prints { \"checks\": [ { \"code\", \"title\", \"measured\", \"why\", \"change\",
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
