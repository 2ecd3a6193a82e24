//! Bytes out. No position is computed here.

pub mod csv;
pub mod dxf;
pub mod entries;
pub mod html;
pub mod markup;
pub mod output;
pub mod pdf;
pub mod png;
pub mod report_json;
pub mod shop_step;
pub mod step;
pub mod stl;
pub mod studies;
pub mod svg;
pub mod threemf;
pub mod variants_csv;
