//! What-if: questions that lie beyond one set of numbers. Each study is a function of designs,
//! layouts and reports; none touches the disk.

pub mod class;
pub mod room;
pub mod trial;
pub mod vary;
