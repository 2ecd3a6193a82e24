//! Exact solids of the head and its guide block, from a layout that passed its checks.

mod bores;
pub mod brep;
mod builder;
pub mod closed_form;
mod curves;
mod guide_block;
mod head;
pub mod integrate;
mod kernel;
pub mod mesh;
pub mod mesh_data;
mod proof;
mod slot_walls;

pub use proof::ProofFault;

#[cfg(test)]
mod trial;
