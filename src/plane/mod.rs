//! Plane geometry: straight pieces and circular arcs, the closed regions they bound, distances
//! between them and their moments. Millimetres and radians; no tolerance decides anything here
//! but [`NOISE`](crate::tolerance::NOISE) in the incidence tests.

pub mod distance;
pub mod moments;
mod piece;
mod placed;
mod region;

pub use piece::{Bounds, Piece, arc_through};
pub use region::Region;
