//! Every default and bound of the parameter file, with its basis. Lengths in mm whatever the
//! file's unit; angles in degrees, as typed. The contract is the contract's section 2.

use crate::tolerance::MERGE;

/// `head.side_start`: the sides are straight from the nut line (contract).
pub const SIDE_START: f64 = 0.0;
/// `head.face_veneer`, `head.back_veneer`: none (contract).
pub const VENEER: f64 = 0.0;
/// `head.veneers_on`: drilled with its veneers (contract).
pub const VENEERS_ON: bool = true;
/// `head.edge_radius`: edges left sharp (contract).
pub const EDGE_RADIUS: f64 = 0.0;
/// `machines.axis_offset`: barrels in the plate's middle (contract).
pub const AXIS_OFFSET: f64 = 0.0;
/// `bores.point`: included angle of a general-purpose twist drill's point (contract; common practice).
pub const POINT_DEGREES: f64 = 118.0;
/// `slots.corner_radius` as a share of the width: half-round ends, as a router bit leaves them (contract).
pub const CORNER_SHARE: f64 = 0.5;
/// `print.head_allowance`: printed holes come out small (contract; our assumption).
pub const HEAD_ALLOWANCE: f64 = 0.2;
/// `print.block_allowance`: as for the head (contract; our assumption).
pub const BLOCK_ALLOWANCE: f64 = 0.2;
/// `print.bush_allowance`: bushes are pressed in (contract; our assumption).
pub const BUSH_ALLOWANCE: f64 = 0.0;
/// `print.chord`: facets no printer can show (contract; our assumption).
pub const CHORD: f64 = 0.02;
/// `rig.base`: a common thickness of plywood (our assumption).
pub const RIG_BASE: f64 = 18.0;
/// `rig.upright`: two layers of 12 mm plywood, stiff enough to stay flat (our assumption).
pub const RIG_UPRIGHT: f64 = 24.0;
/// `rig.front`: room for the head's thickness and a clamp (our assumption).
pub const RIG_FRONT: f64 = 90.0;
/// `rig.behind`: room for the braces (our assumption).
pub const RIG_BEHIND: f64 = 80.0;
/// `rig.beyond`: bearing past both nut lines, and room for a clamp on the table (our assumption).
pub const RIG_BEYOND: f64 = 60.0;
/// `rig.relief`: fingerboard and nut stand well under this above the head's face (our assumption).
pub const RIG_RELIEF: f64 = 12.0;
/// `rig.packing`: one board of common plywood (our assumption).
pub const RIG_PACKING: f64 = 12.0;
/// `rig.wedge_thin_end`: still stiff when printed (our assumption).
pub const RIG_WEDGE_THIN_END: f64 = 3.0;
/// `rig.fixing`: thread of the rig's screws (our assumption).
pub const RIG_FIXING: &str = "M5";

/// No length is greater, mm (contract).
pub const LONGEST: f64 = 2000.0;
/// A length that is not zero is at least this, mm: below a hundred times the kernel's own merge
/// distance two corners would fall together (our assumption).
pub const SHORTEST: f64 = 1e-4;
const _: () = assert!(SHORTEST > 99.0 * MERGE);
/// Most barrels a side; no instrument comes near (our assumption).
pub const MOST_BARRELS: usize = 64;
/// Most screw points a side (our assumption).
pub const MOST_SCREWS: usize = 4 * MOST_BARRELS;
/// Least rise of an arched crest, mm (contract).
pub const LEAST_ARCH: f64 = 0.1;
/// `machines.plate_length` may differ this much from overhangs and pitches, mm (contract).
pub const PLATE_LENGTH_SLACK: f64 = 0.2;
/// Range of `bores.point`, degrees: from the first to below the second (contract).
pub const POINT_RANGE: (f64, f64) = (60.0, 180.0);
/// `head.angle` is below this, degrees: at a right angle no string would cross the nut (our assumption).
pub const ANGLE_BELOW: f64 = 90.0;
/// `slots.ramp.angle` is below this, degrees (contract).
pub const RAMP_BELOW: f64 = 80.0;
/// Most files in a chain of `from` (our assumption).
pub const LONGEST_CHAIN: usize = 8;
/// `tolerances.pitch`, mm either way: a few tenths bind a plate (common practice).
pub const PITCH_TOLERANCE: f64 = 0.1;
/// `tolerances.bore_diameter`, mm above nominal: half of what a clearance of 0.2 to 0.6 can give away
/// (our assumption).
pub const BORE_TOLERANCE: f64 = 0.1;
/// `tolerances.axis_below_face`, mm either way: the plate still looks even (common practice).
pub const AXIS_TOLERANCE: f64 = 0.2;
/// `tolerances.squareness`, degrees either way: a barrel with 0.2 to 0.3 mm of clearance over 30 mm leans
/// 0.4 to 0.6 degrees before it binds (common practice).
pub const SQUARENESS_DEGREES: f64 = 0.3;
/// `tolerances.squareness` is below this, degrees: no barrel runs in a bore so far off (our assumption).
pub const SQUARENESS_BELOW: f64 = 5.0;
/// `tolerances.bush_seat`: the seat makers of press-in drill bushes ask for (common practice).
pub const BUSH_SEAT: &str = "H7";
/// Diameters of straight router bits to be had anywhere, mm (from memory of the trade).
pub const STRAIGHT_BITS: [f64; 7] = [4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0];
/// `drilling.position`, mm, standard deviation each way: a bit guided by a block that is set to a mark
/// (our assumption).
pub const DRILLING_POSITION: f64 = 0.1;
/// `drilling.squareness`, degrees, standard deviation each way: a third of the tolerance on the drawing
/// (our assumption).
pub const DRILLING_SQUARENESS: f64 = 0.1;
/// `drilling.wander`, mm by the barrel's end, standard deviation each way: a twist drill follows the grain
/// (our assumption).
pub const DRILLING_WANDER: f64 = 0.1;
/// `drilling.growth`, mm: a twist drill cuts a little over its own diameter (common practice; the figure
/// is our assumption).
pub const DRILLING_GROWTH: f64 = 0.05;
/// `drilling.pitch`, mm, standard deviation: barrels of a plate of average make (our assumption).
pub const DRILLING_PITCH: f64 = 0.03;
/// `drilled.lean_along`, `drilled.lean_across` are nearer zero than this, degrees: no bit that is led by
/// anything strays so far (our assumption).
pub const DRILLED_LEAN_BELOW: f64 = 10.0;
/// Readings of one bore's diameter may differ by so much, mm: calipers in a bore of soft wood (our
/// assumption).
pub const DRILLED_READINGS_AGREE: f64 = 0.3;
/// `strings.diameters` of a nylon six at normal tension, bass to treble, mm, each give or take 0.05
/// (from memory of the trade).
pub const NYLON_SIX: [f64; 6] = [1.09, 0.89, 0.74, 1.02, 0.82, 0.71];
/// `strings.diameters` of a light steel six, bass to treble, mm (common practice).
pub const STEEL_SIX: [f64; 6] = [1.37, 1.07, 0.81, 0.64, 0.41, 0.30];
/// `strings.diameters` of a light steel twelve, in courses with the octave nearer the bass side, mm (from
/// memory of the trade).
pub const STEEL_TWELVE: [f64; 12] = [
    0.69, 1.37, 0.46, 1.07, 0.30, 0.81, 0.20, 0.64, 0.41, 0.41, 0.30, 0.30,
];
/// `strings.diameters` of any other instrument: the thickest of the nylon six, since thick strings take
/// the most room, mm (our assumption).
pub const OTHER_STRINGS: f64 = 1.09;
/// Barrels thinner than this are posts for steel strings, mm (our assumption).
pub const THIN_POST: f64 = 8.0;
/// `strings.turns`: three, as wound strings get and nylon at least (common practice).
pub const TURNS: f64 = 3.0;
/// `strings.turns` is at most this; no barrel takes more in one layer (our assumption).
pub const MOST_TURNS: f64 = 20.0;
/// `strings.walk`: turns walk out to the side, as the outer strings' do (common practice); the others' as
/// well, for it keeps them off the rib's edge (our assumption).
pub const OUTWARDS: bool = true;
/// Readings of one length may differ by this, mm, and [`SPREAD_SHARE`] of it more, before one of them
/// must be a slip: calipers in practised hands repeat to a few hundredths (our assumption).
pub const SPREAD_LEAST: f64 = 0.5;
/// See [`SPREAD_LEAST`]: long lengths are taken with a rule (our assumption).
pub const SPREAD_SHARE: f64 = 0.01;
/// Most readings of one length (our assumption).
pub const MOST_READINGS: usize = 200;
/// How far calipers may be off, mm either way, whatever they repeat to, taken as equally likely within:
/// 0.02 to 0.05 is what workshops reckon with (common practice); the figure is our assumption.
pub const CALIPERS_OFF: f64 = 0.03;
/// Step of a caliper's figures, mm: readings that differ by less than it do not disagree (our
/// assumption).
pub const CALIPERS_STEP: f64 = 0.01;
/// `wood.temperature`, °C: a heated room, 70 °F (our assumption).
pub const TEMPERATURE: f64 = 21.1;
/// Range of `wood.temperature`, °C: where people and instruments live (our assumption).
pub const TEMPERATURE_RANGE: (f64, f64) = (0.0, 50.0);
/// Range of `wood.humidity`, %: beyond it the fitted curve of moisture is steep and unsure (our
/// assumption).
pub const HUMIDITY_RANGE: (f64, f64) = (5.0, 95.0);
/// Range of `wood.moisture`, %: from dry to where shrinking begins (Wood Handbook: about 30).
pub const MOISTURE_RANGE: (f64, f64) = (0.0, 30.0);
