//! Whether a plate's barrels go into the bores and turn freely: one plate on one set of bores,
//! the worst case by formula, and the chance by trials.

mod advice;
mod barrier;
mod settle;
mod trials;

pub use advice::{
    Asked, BITS_ABOVE, BITS_BELOW, Bit, SideFit, WANTED, WORST, WorstCase, fit, plate, scatter,
};
pub use settle::{DrilledBore, End, Settled, settle};
pub use trials::{Chance, Plate, Scatter, Seat, chances};

#[cfg(test)]
mod tests;
