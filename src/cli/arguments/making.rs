//! What `make` takes: where to write, what, on which paper, in which units.

use std::ffi::OsStr;
use std::path::PathBuf;

use clap::builder::{EnumValueParser, PossibleValue, TypedValueParser};
use clap::{Arg, Args, Command, ValueEnum};

use crate::input::defaults::LONGEST;
use crate::paper::Paper;
use crate::paper::marking::CheckBar;
use crate::pipeline::{Folder, Wanted};
use crate::units::parse_length;
use crate::write::step::Schema;

/// `make`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead make mine.toml                   writes to output/mine/
  barrelhead make mine.toml --out heads/mine  writes there, also to a new folder
  barrelhead make mine.toml --watch           anew at every save, until Ctrl-C
  barrelhead make mine.toml --quiet           prints the file names only
  barrelhead make mine.toml --json            for a program to read

--json prints one object: { \"title\", \"verdict\", \"folder\", \"files\", \"depth_stops\", \"bores\", \
\"checks\", \"rib_window\", \"shim_mm\", \"earlier_files\" }, in millimetres and degrees; bores and \
checks as in report.json. With --only, files in the other folders stay as they are; a warning, and \
\"earlier_files\", name those that this design would not give now.
A design that a check stops is not built: nothing is written, earlier files stay as they were.")]
pub struct MakeArguments {
    /// Parameter file
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Make anew whenever FILE, or a file it takes `from`, is saved; Ctrl-C ends it
    #[arg(long, conflicts_with = "json")]
    pub watch: bool,
    /// Folder to write to [default: output/<file's name without .toml>]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Limit what is written: bench, print, shop, report, with commas between; the solids and
    /// report.json always are
    #[arg(long, value_name = "WHAT", value_delimiter = ',', value_parser = OnlyParser)]
    pub only: Vec<Only>,
    /// Paper of the bench's sheets and of the shop's operation cards
    #[arg(long, value_name = "SIZE", value_enum, default_value_t = BenchPaper::A4)]
    pub paper: BenchPaper,
    /// What the printed 100 mm check bar measured, to correct a printer that scales
    #[arg(long, value_name = "MM", value_parser = check_bar)]
    pub bar: Option<CheckBar>,
    /// Units on the screen, the papers and report.html: mm, or both [default: both for a file in inches]
    #[arg(long, value_name = "UNITS", value_enum)]
    pub units: Option<Units>,
    /// The same as --units both
    #[arg(long, conflicts_with = "units")]
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

/// Reads one of `--only`: blanks around it, as after the comma of a list, are no part of the word.
#[derive(Debug, Clone, Copy)]
struct OnlyParser;

impl TypedValueParser for OnlyParser {
    type Value = Only;

    fn parse_ref(
        &self,
        command: &Command,
        argument: Option<&Arg>,
        typed: &OsStr,
    ) -> Result<Only, clap::Error> {
        let word = typed.to_str().map_or(typed, |text| text.trim().as_ref());
        EnumValueParser::<Only>::new().parse_ref(command, argument, word)
    }

    fn possible_values(&self) -> Option<Box<dyn Iterator<Item = PossibleValue> + '_>> {
        let words = Only::value_variants().iter();
        Some(Box::new(words.filter_map(ValueEnum::to_possible_value)))
    }
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
    let mm = typed(
        text,
        "type what the bar measures in millimetres, such as 99.6",
    )?;
    CheckBar::measured(mm).map_err(|error| error.to_string())
}

fn schema(text: &str) -> Result<Schema, String> {
    Schema::of_word(text).ok_or_else(|| "type ap242 or ap214".to_owned())
}

/// A length within reason.
fn length(text: &str) -> Result<f64, String> {
    let wanted =
        format!("type a length above zero, at most {LONGEST} mm, such as 60 or \"2-3/8 in\"");
    let mm = typed(text, &wanted)?;
    if mm > 0.0 && mm <= LONGEST {
        Ok(mm)
    } else {
        Err(wanted)
    }
}

/// Millimetres, or a length with its unit; else what is wrong and what to type: the same mended where
/// that can be told, or what is `wanted`.
fn typed(text: &str, wanted: &str) -> Result<f64, String> {
    let text = text.trim();
    let bare = |text: &str| text.parse::<f64>().ok().filter(|mm| mm.is_finite());
    if let Some(mm) = bare(text) {
        return Ok(mm);
    }
    let mended = text.replace(',', ".");
    if mended != text && bare(&mended).is_some() {
        return Err(format!(
            "it has a comma where a decimal point belongs; type {mended}"
        ));
    }
    parse_length(text).map_err(|error| {
        if text.starts_with(|c: char| c.is_ascii_digit()) {
            format!("it {error}; type {}", error.hint)
        } else {
            format!("it {error}; {wanted}")
        }
    })
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

impl MakeArguments {
    /// Whether inches stand beside millimetres; `None`: the file's unit tells.
    fn asked_inches(&self) -> Option<bool> {
        if self.inches {
            return Some(true);
        }
        self.units.map(|units| units == Units::Both)
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
            inches: self.asked_inches(),
            schema: self.step,
            neck_stub: self.neck_stub,
            mock: self.mock,
            room: self.room,
        }
    }
}
