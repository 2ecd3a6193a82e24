//! Drawings and sheets in millimetres, from layout and report; no file format here.
//!
//! One drawing model feeds SVG, PDF, PNG and DXF: a [`Sheet`] of [`Item`]s, y upwards from the lower left
//! corner. Drawings come from exact lines and circles of the layout, never from facets.

pub mod card;
pub mod cut;
pub mod dimension;
pub mod drawing;
pub mod flat;
pub mod font;
pub mod frame;
pub mod marking;
pub mod measure;
pub mod paper_size;
pub mod place;
pub mod sheet;
pub mod table;

pub use paper_size::Paper;
pub use sheet::{Anchor, Fill, Item, Layer, LineKind, Path, Sheet, Text, Weight};
