//! The design: what the parameter file means. Every length is in millimetres, every angle in
//! radians, every default filled in, every "or" decided. Only `input` makes one, so code that
//! holds a `Design` need not ask again whether a number is finite or above zero.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::drilled::Drilled;
use super::drilling::Drilling;
use super::outsized::Outsized;
use super::readings::Measurements;
pub use super::sides::{PerSide, Place, Side, Unit};
use super::source::Sources;
use super::strings::Strings;
use super::template::Template;
use super::tolerances::Tolerances;
use super::wood::Wood;
use crate::diagnostic::Diagnostic;
use crate::units::Lengths;

impl Design {
    /// How lengths are shown on screen and papers: as asked for, else inches too for a file in inches.
    /// What is to be typed into the file stays in the file's own unit.
    #[must_use]
    pub fn lengths(&self) -> Lengths {
        Lengths {
            inches: self.inches.unwrap_or(self.unit == Unit::Inch),
        }
    }
}

pub use head::{
    Across, Along, BoreDepth, Bores, Counterbore, Crest, Head, Lie, Nut, Placement, Point, Ramp,
    Slots,
};
pub use machines::{Machines, Screws};
pub use workshop::{Guide, Job, Press, Print, Rig, Scribe};

mod head;
mod machines;
mod workshop;

/// Where keys were set, by key path; shared by all designs that are tried with other values there.
pub type Places = Arc<BTreeMap<String, Place>>;

/// A whole validated design.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// Title; the file's stem by default.
    pub title: String,
    /// Unit of the parameter file.
    pub unit: Unit,
    /// Inches beside the millimetres, or millimetres alone, where a person asked for either.
    pub inches: Option<bool>,
    /// Text for title blocks and the shop.
    pub job: Job,
    /// The head.
    pub head: Head,
    /// The nut and its strings.
    pub nut: Nut,
    /// The tuning machines.
    pub machines: Machines,
    /// Where the machines sit.
    pub placement: Placement,
    /// The barrel bores.
    pub bores: Bores,
    /// String slots; `None` for a head drilled but not yet slotted.
    pub slots: Option<Slots>,
    /// The strings from nut to barrel; `None`: the contract's plain paths.
    pub strings: Option<Strings>,
    /// The guide block.
    pub guide: Guide,
    /// The drill press, if described.
    pub press: Option<Press>,
    /// Allowances and chord of the printed copies.
    pub print: Print,
    /// Tolerances stated on the drawing.
    pub tolerances: Tolerances,
    /// How far drilling and plates scatter, for `fit`.
    pub drilling: Drilling,
    /// Bores as they are in the wood, treble first, each side from the nut; only those recorded.
    pub drilled: Vec<Drilled>,
    /// Bit and guide of the routing template; `None` for a head without slots.
    pub template: Option<Template>,
    /// The rig at the drill press.
    pub rig: Rig,
    /// What the head is made of, and the climates it will live between.
    pub wood: Option<Wood>,
    /// The maker's own caution limits, by check code.
    pub limits: BTreeMap<String, OwnLimit>,
    /// Bare numbers in inches that are most likely millimetres.
    pub outsized: Vec<Outsized>,
    /// Lengths that were measured more than once.
    pub measurements: Measurements,
    /// Key path (`"slots.rib"`, `"machines.bass.pitches"`) to the place that set it; shared, since a
    /// design is copied many times to be changed and judged.
    pub places: Places,
    /// The files read, the parameter file first.
    pub files: Vec<PathBuf>,
    /// Their texts, for faults that show only later.
    pub(crate) sources: Sources,
}

impl Design {
    /// The place that set `key`, or else the nearest table or key it belongs to that the file
    /// holds.
    #[must_use]
    pub fn place_near(&self, key: &str) -> Option<&Place> {
        let mut key = key;
        loop {
            if let Some(place) = self.places.get(key) {
                return Some(place);
            }
            key = key.rsplit_once('.')?.0;
        }
    }

    /// A fault found after reading, at `place` or where `key` stands, with the line as it was read;
    /// `file` names the design where neither is known.
    #[must_use]
    pub fn fault(
        &self,
        file: &Path,
        place: Option<&Place>,
        key: &str,
        message: String,
        hint: String,
    ) -> Diagnostic {
        let found = place.or_else(|| self.place_near(key)).and_then(|place| {
            let source = self
                .sources
                .0
                .iter()
                .find(|source| source.path == place.file);
            source.map(|source| (source, place.line))
        });
        let Some((source, line)) = found else {
            let whole = Diagnostic::whole(Some(file.to_path_buf()), message, Some(hint));
            return Diagnostic {
                key: key.to_owned(),
                ..whole
            };
        };
        source.diagnostic(&source.behind_equals(line), key, message, Some(hint))
    }
}

/// A maker's own caution limit: lengths in mm, degrees and ratios bare.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OwnLimit {
    /// One-sided.
    Single(f64),
    /// Two-sided.
    Band {
        /// Lower limit.
        low: f64,
        /// Upper limit.
        high: f64,
    },
}
