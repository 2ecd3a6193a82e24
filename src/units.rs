//! Lengths and angles at the rim of the program: reading what a maker types, printing what a
//! maker reads. Inside, everything is millimetres and radians; this is the only 25.4.

/// Millimetres in an inch, exact by definition (international inch, 1959).
pub const MM_PER_INCH: f64 = 25.4;
