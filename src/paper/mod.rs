//! Drawings and sheets in millimetres, from layout and report; no file format here.
//!
//! One drawing model feeds SVG, PDF, PNG and DXF: a [`Sheet`] of [`Item`]s, y upwards from the lower left
//! corner. Drawings come from exact lines and circles of the layout, never from facets.

pub mod card;
pub mod class_sheet;
pub mod cut;
pub mod dimension;
pub mod drawing;
pub mod face_plan;
pub mod flat;
pub mod font;
pub mod frame;
pub mod heading;
pub mod marking;
pub mod measure;
pub mod operations;
#[cfg(test)]
mod overlaps;
pub mod paper_size;
pub mod picture;
pub mod place;
pub mod prose;
pub mod rescue;
pub mod rig;
pub mod setup;
pub mod sheet;
pub mod sheet_options;
pub mod string_side;
pub mod table;
pub mod variants;

pub use paper_size::Paper;
pub use sheet::{Anchor, Fill, Item, Layer, LineKind, Path, Sheet, Text, Weight};
pub use sheet_options::SheetOptions;
