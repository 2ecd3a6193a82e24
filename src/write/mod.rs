//! Bytes out. No position is computed here.

pub mod entries;
pub mod output;
pub mod report_json;
pub mod step;
pub mod stl;
pub mod threemf;
