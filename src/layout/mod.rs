//! The only truth about positions: outline, stations, bores, slots, ramps, pilots, guide block,
//! strings, plates. Everything downstream reads from here and computes no position again.
//!
//! Frame (contract, section 1): origin where nut line, centre line and front face meet; +y to the
//! crest, +x to the treble side, +z out of the front face. Millimetres and radians.
