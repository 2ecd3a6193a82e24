//! The numeric tolerances, each with its reason. Workshop tolerances and limits are design
//! data and live with the checks, never here.

/// Rounding noise of our own sums, in mm. A limit counts as missed only by more than this, so
/// "4.00 needed, 4.00 present" holds. Double precision at 2000 mm resolves about 2e-13 mm; a
/// chain of some hundred operations stays far below 1e-9.
pub const NOISE: f64 = 1e-9;

/// Two points closer than this are one point to the topology kernel (truck's own constant, in
/// mm; it cannot be changed from outside). Also the tolerance within which the contract calls a
/// pair mirrored and two lists of block holes equal.
pub const MERGE: f64 = 1e-6;

/// Relative difference allowed between the closed form of a solid and the exact integral over
/// its faces: both are sums of some hundred terms in double precision.
pub const PROOF_RELATIVE: f64 = 1e-9;

/// Coarsest angular step of a mesh, in radians, whatever the chord: a general mesher's usual
/// angular deflection. Keeps small pilots round when the chord is generous.
pub const MESH_ANGLE: f64 = 0.5;

/// Semi-axes whose lengths differ by less than this share of the longer one belong to a circle:
/// what rounding leaves of two lengths that were computed from one radius. A bore one tenth of a
/// degree off square has axes that differ by 1.5e-6 of their length.
pub const CIRCLE_RELATIVE: f64 = 1e-12;

const _: () = assert!(NOISE < MERGE);

/// Coarsest chord a mesh is ever made with, in mm, however generous the file: the least wood the
/// checks allow is about a millimetre, and flats this close to the true walls cannot cut through it.
pub const MESH_CHORD: f64 = 0.2;

/// Down to this chord, in mm, a mesh is made finer by itself where the ring of a counterbore's floor is
/// narrower than the chord asked for: half the narrowest ring a file may hold, 0.0001 mm.
pub const FINEST_CHORD: f64 = 5e-5;

/// Share of its own terms below which the test of four points on one circle says nothing: rounding
/// of points a metre away moves a rim of a few millimetres by less, and what is decided on purpose
/// is some ten thousand times more.
pub const COCIRCULAR: f64 = 1e-11;

/// Coarsest step of an arc drawn as cubic curves, in radians (30 degrees): the curve leaves the
/// circle by at most 4e-7 of the radius, 0.0004 mm at a metre.
pub const CURVE_STEP: f64 = std::f64::consts::FRAC_PI_6;

/// A length divided by a step that comes this near a whole number, in steps, is that many steps: tenths
/// and thousandths have no exact double, and nobody types a millionth of a step.
pub const WHOLE_STEP: f64 = 1e-6;

/// Area, in mm², below which a triangle of a printer's file counts as having none: the finest
/// detail a file may hold is 0.0001 mm, and single precision steps by 0.000015 mm at 200 mm.
pub const FLAT_TRIANGLE: f64 = 2e-8;

/// Relative step of single precision, in which the printer's files hold their points (IEEE 754: 24
/// bits, so that rounding moves a number by at most this share of it).
pub const SINGLE_STEP: f64 = 6e-8;

/// How closely the best placing of a plate on its bores is found and proved, mm: a tenth of a
/// millionth of the finest clearance a maker has.
pub const SETTLED: f64 = 1e-9;
