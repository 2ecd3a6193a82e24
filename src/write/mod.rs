//! Bytes out. No position is computed here.

pub mod entries;
pub mod html;
pub mod output;
pub mod report_json;
pub mod step;
pub mod stl;
