//! What the studies take: `suit`, `room`, `vary`, `class`, `fit`.

use std::path::PathBuf;

use clap::Args;

use super::BenchPaper;

/// `suit`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead suit sets/plain-35.toml                one set, the rest assumed
  barrelhead suit --neck neck.toml sets/*.toml      several sets for one neck
  barrelhead suit --neck mine.toml sets/other.toml  another set in a design
  barrelhead suit --json sets/plain-35.toml         for a program to read

A SET needs only [machines]; whatever else it gives is used. The neck's FILE needs one key of [head] \
or [nut] at least and may hold any other; its machines and title are left aside. What no file gives is \
assumed: those values are marked * and listed with their basis. One number at a time is moved, the \
others stay as they are: \"clear\" is where no check that its range counts says caution, \"no stop\" \
where none says stop. Checks that a range does not count, and that can say more within it than now, \
are named below the table; the widths count barrels-apart alone.

--json prints one object: { \"sets\": [ ... ], \"exit_status\" }, each set { \"file\", \"title\", \"bounds\", \
\"no_bound\", \"slot_middle\", \"rib_window\", \"bit\", \"blocks\", \"assumed\", \"verdict\", \"checks\" } or { \"file\", \
\"mistakes\" }. A bound has name, here, assumed, checks (those it counts), left_out (those it does not \
count, and that say more somewhere in its ranges than now), and clear and no_stop, each { \"least\", \
\"greatest\", \"never\", \"open\" }; an end has value and check. no_bound are checks that are not clear \
now and that no bound counts. Always millimetres and degrees.
Exit status: 0 also where a check would stop a set; 2 where a file has mistakes.")]
pub struct SuitArguments {
    /// Files with [machines]; a whole parameter file will do
    #[arg(value_name = "SET", required = true)]
    pub sets: Vec<PathBuf>,
    /// File with what is known of the neck, for every set; its own machines are left aside
    #[arg(long, value_name = "FILE")]
    pub neck: Option<PathBuf>,
    /// The tables in inches too, also for files in millimetres
    #[arg(long)]
    pub inches: bool,
    /// Print JSON instead of text
    #[arg(long, conflicts_with = "inches")]
    pub json: bool,
}

/// `room`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead room mine.toml                      every number of the file
  barrelhead room mine.toml slots.rib            one number, or several
  barrelhead room --json mine.toml               for a program to read

Each number is moved alone, 20 mm or 20 degrees either way or until something stops it, and \
every check is run anew. Ends are found to 0.01 and rounded inwards. Between two steps of 0.23 a \
check could still speak up and fall silent again; that is looked for wherever its margin, at \
three times the slope seen (at least 1.5 a millimetre), could be used up. What lasts less than \
0.002 mm may be passed over, and so may a rule of the file that refuses only between two steps.
A design that a check stops is told instead what a single number can do about it: the nearest values \
to either side at which nothing stops, both ends where something stops again beyond.

--json prints { \"file\", \"title\", \"stopped\", \"numbers\", \"exit_status\" }. A number has key, unit, \
value, file, line, searched (from, to), no_stop and no_worse, each with low and high { \"at\", \
\"by\" }, the nearest_without_stop (below, above), without_stop (the same with both ends: { \"low\", \
\"high\", \"goes_on\" }, the last where nothing stops as far as was looked) and changes { \"at\", \"code\", \
\"below\", \"above\" }.
`by` is a check, or the key and message of a rule of the file, or null where nothing was found.
Exit status: 1 where a check stops the design as it is.")]
pub struct RoomArguments {
    /// Parameter file
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Keys, such as slots.rib or slots.end_margin[1], the first of a list [default: every number]
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
  barrelhead vary mine.toml slots.rib=10..16:0.25           one number
  barrelhead vary mine.toml slots.rib=10..16:1 slots.width=13..17:1
                                                            two, as a map
  barrelhead vary mine.toml head.thickness=19..22:1 --make  everything made too

Bare numbers are in the unit of the file that the number stands in; lengths may carry their own: \
10 mm, 3/8 in. At most 10000 variants are checked at once and 100 made. Writes variants.csv and \
variants.svg to output/<file's name>-variants/; with --make a folder a variant beside them.

Where --make ends half-way, on a disk that is full say, the variants that are finished stay, each whole \
in its folder, and are named; of the others, the list and the map nothing is written. \
Folders that an earlier run made and this one did not stay too, and are named.

--json prints { \"file\", \"title\", \"axes\", \"variants\", \"files\", \"earlier\" }; a variant has values, \
verdict, worst, refused and folder; earlier are folders of earlier runs. Half-way it prints { \"file\", \
\"failure\", \"made\" }.
Exit status: 0 also where a check stops variants; 3 where the disk is full.")]
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
  barrelhead class heads                  a line for each head, and one sheet
  barrelhead class heads --paper letter   the sheet on letter paper
  barrelhead class heads --json           for a program to read

Every .toml file of the folder with a table [head] is a head. Every head is compared with every \
other: heads whose bores lie alike, with blocks of one length and depth, share a guide block, with \
a shim for another thickness. It is the block of the head that spares most shims, and has a \
letter; sets of machines have numbers. Writes class.pdf to output/<folder's name>-class/.

A head that cannot be read, be it an empty file, is reported and the rest goes on: the sheet is written \
all the same, names the heads that are missing from it, and says on every page that it is not whole. A \
head that a check stops is listed, marked stop, without block, shim and depth stop: none is made for it. \
Where no head can be read there is no sheet.

--json prints { \"heads\", \"blocks\", \"not_read\", \"left_out\", \"sheet\", \"exit_status\" }; sheet is null \
where there is none, and not whole where not_read holds anything.
Exit status: 0 all heads can be drilled, 1 a check stops a head, 2 a head could not be read, whether \
or not another is stopped.")]
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

/// `fit`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  barrelhead fit mine.toml                    chance and lean, bit by bit
  barrelhead fit --trials 1000000 mine.toml   the same with a smaller error
  barrelhead fit --json mine.toml             for a program to read

A head that is drilled already is described by [[drilled]] records, one for each bore that is not as \
designed: then the first thing said is whether the plate goes in, and what to ream or plug if not. \
A bore looser than the check `clearance` allows, or open to a face, is plugged even where it does go in. \
How far your drilling scatters is read from [drilling]; what is not given there is assumed, and said.
The errors drawn are the same in every run, on any machine.

--json prints { \"file\", \"title\", \"trials\", \"seed\", \"wanted\", \"drilling\", \"sides\", \
\"as_drilled\", \"exit_status\" }; a side \
has side, barrels, barrel_diameter_mm, grip_mm, worst_cases, block_play_mm, bits, advised, \
advised_metric and advised_inch. Always millimetres and degrees. Exit status: 0 whatever the chance; `check` gives the verdicts.")]
pub struct FitArguments {
    /// Parameter file
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Heads to try
    #[arg(long, value_name = "N", default_value_t = 200_000,
          value_parser = trials)]
    pub trials: u64,
    /// Inches beside millimetres, also for a file in millimetres
    #[arg(long)]
    pub inches: bool,
    /// Print JSON instead of text
    #[arg(long, conflicts_with = "inches")]
    pub json: bool,
}

/// Fewer say nothing of a share in a hundred; more take minutes.
fn trials(text: &str) -> Result<u64, String> {
    let typed = text.trim().parse().ok();
    typed
        .filter(|trials| (1_000..=100_000_000).contains(trials))
        .ok_or_else(|| "type a whole number from 1000 to 100000000".to_owned())
}
