//! Bytes out. No position is computed here.

pub mod dxf;
pub mod entries;
pub mod output;
pub mod pdf;
pub mod png;
pub mod report_json;
pub mod step;
pub mod stl;
pub mod svg;
