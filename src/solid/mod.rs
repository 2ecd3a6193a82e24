//! Exact solids of the head and its guide block, from a layout that passed its checks.

pub mod brep;
pub mod mesh_data;
