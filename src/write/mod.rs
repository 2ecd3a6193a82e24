//! Bytes out. No position is computed here.

pub mod entries;
pub mod output;
pub mod report_json;
pub mod shop_step;
pub mod step;
pub mod stl;
