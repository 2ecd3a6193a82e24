//! Laws of the mesher, each with the change that would break it unseen.

mod accepted;
mod chords;
mod exactness;
mod plane_faces;
mod regions;
mod rods;
mod shapes;
mod strips;
