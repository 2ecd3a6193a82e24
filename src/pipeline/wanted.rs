//! What a run of `make` is asked to write.

use crate::paper::Paper;
use crate::paper::marking::CheckBar;
use crate::write::output::SEAL;
use crate::write::step::Schema;

/// A folder a person, and the report that shows everything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Folder {
    /// `bench/`: papers for the maker.
    Bench,
    /// `print/`: files for the printer.
    Print,
    /// `shop/`: drawing, lists and exchange files for a workshop.
    Shop,
    /// `report.html`.
    Report,
}

impl Folder {
    /// All of them.
    pub const ALL: [Folder; 4] = [Folder::Bench, Folder::Print, Folder::Shop, Folder::Report];

    /// Every file that it may hold, by its name below the output folder.
    const fn names(self) -> &'static [&'static str] {
        match self {
            Folder::Bench => BENCH,
            Folder::Print => PRINT,
            Folder::Shop => SHOP,
            Folder::Report => &["report.html"],
        }
    }

    /// Whether a file's name below the output folder belongs here.
    fn holds(self, name: &str) -> bool {
        self.names().contains(&name)
    }
}

/// Every file that `bench/` may hold.
const BENCH: &[&str] = &[
    "bench/marking-sheet.pdf",
    "bench/marking-sheet.svg",
    "bench/setup-sheet.pdf",
    "bench/rig.pdf",
    "bench/rescue-sheet.pdf",
];

/// Every file that `print/` may hold.
const PRINT: &[&str] = &[
    "print/printed.3mf",
    "print/fit-gauge.3mf",
    "print/rig-wedge.3mf",
];

/// Every file that `shop/` may hold.
const SHOP: &[&str] = &[
    "shop/drawing.pdf",
    "shop/drawing.svg",
    "shop/drawing-2.svg",
    "shop/drawing-3.svg",
    "shop/drawing-4.svg",
    "shop/operations.pdf",
    "shop/bores.csv",
    "shop/head-face.dxf",
    "shop/head-treble-side.dxf",
    "shop/head-bass-side.dxf",
    "shop/guide-block.dxf",
    "shop/guide-block-treble.dxf",
    "shop/guide-block-bass.dxf",
    "shop/slot-template.dxf",
    "shop/assembly.step",
    "shop/rig.step",
];

/// What to write, and how.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// Which folders; the contract's own files are always written.
    pub folders: Vec<Folder>,
    /// Paper of the bench's sheets.
    pub paper: Paper,
    /// What the printed check bar measured, to correct a printer that scales.
    pub bar: Option<CheckBar>,
    /// Inches beside millimetres on the papers; `None`: for a file in inches.
    pub inches: Option<bool>,
    /// Schema of the STEP files in `shop/`.
    pub schema: Schema,
    /// Trial bar and light head with the printed parts.
    pub mock: bool,
    /// Length of holding stock beyond the nut line in the assembly, mm.
    pub neck_stub: Option<f64>,
    /// Room to move in `report.html`: every check is run some thousand times for it.
    pub room: bool,
}

impl Default for Wanted {
    fn default() -> Self {
        Wanted {
            folders: Folder::ALL.to_vec(),
            paper: Paper::default(),
            bar: None,
            inches: None,
            schema: Schema::default(),
            neck_stub: None,
            mock: false,
            room: false,
        }
    }
}

impl Wanted {
    /// The contract's own files and nothing more.
    #[must_use]
    pub fn nothing_more() -> Wanted {
        Wanted {
            folders: Vec::new(),
            ..Wanted::default()
        }
    }

    /// Names of all files that this run leaves alone.
    pub(super) fn left_out(&self) -> impl Iterator<Item = &'static str> {
        Folder::ALL
            .into_iter()
            .filter(|folder| !self.folders.contains(folder))
            .flat_map(|folder| folder.names().iter().copied())
    }

    /// Whether a file of this name is ours to remove where this run does not write it: the
    /// contract's own always, a folder's only where that folder is being written.
    #[must_use]
    pub fn owns(&self, name: &str) -> bool {
        let stem = name
            .strip_suffix(".step")
            .or_else(|| name.strip_suffix(".stl"));
        let contract = matches!(
            stem,
            Some("head" | "guide-block" | "guide-block-treble" | "guide-block-bass")
        );
        contract || name == SEAL || self.folders.iter().any(|folder| folder.holds(name))
    }
}
