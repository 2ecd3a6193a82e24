//! A reader of STEP text for tests, written against ISO 10303-21 and 10303-42 and sharing nothing
//! with the writer. It takes every orientation flag as the file states it and heals nothing.

#![allow(dead_code, unused_imports, reason = "each test file uses a part of it")]

mod audit;
mod curves;
mod integrate;
mod meaning;
mod parse;
mod placed;
mod properties;
mod shell;
mod surfaces;

pub use audit::{Audit, Solid, audit};
pub use placed::Placed;
pub use surfaces::{Kind, Surface};
