//! Parts for a printer, beside the contract's own STL copies: the guide block standing on its foot,
//! trial bar and mock head, and the fit gauge. Each is an exact body proved like every other one
//! (closed form against integral, mesh closed and within its chord), then settled in the single
//! precision of the printer's files and judged again.
//!
//! Every part stands in a frame of its own: the bed is z = 0, the part lies in x, y, z ≥ 0.

mod bed;
mod block;
mod cut;
mod foot;
mod gauge;
mod mock_head;
mod pieces;
#[cfg(test)]
mod tests;
mod trial_bar;
mod upright;
mod upright_brep;
mod upright_form;
mod wedge;

use glam::DVec3;

use super::mesh_data::Mesh;
use super::proof::{self, ProofFault};
use super::{Solids, kernel, single};
use crate::check::Checked;
use crate::layout::{Layout, Serves};
use crate::tolerance::{NOISE, PROOF_RELATIVE, SINGLE_STEP};

pub use foot::NOTCH_RULE;
pub use gauge::{GAUGE_RULE, GAUGE_STEP};
use upright::Upright;
pub use wedge::rig_wedge;

/// What to print.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PrintOptions {
    /// Also the trial bars and a light head.
    pub mock: bool,
}

/// One object of a printer's file.
#[derive(Debug, Clone, PartialEq)]
pub struct PrintPart {
    /// Name for people: `guide block`, `trial bar, treble`, `mock head, piece 1 of 2`.
    pub name: String,
    /// Part number, without blanks: `guide-block`, `mock-head-1`.
    pub number: String,
    /// Mesh in single precision, mm, standing on z = 0.
    pub mesh: Mesh,
    /// Extent, mm; the part lies between zero and this.
    pub size: DVec3,
    /// Volume of the exact body, mm³; of a piece of the mock head, that of its mesh.
    pub volume: f64,
    /// Area of the mesh, mm².
    pub area: f64,
    /// Angle about z at which it lies on the bed, radians.
    pub turn: f64,
    /// What a person should know: where it was parted, what does not fit, what is left out.
    pub notes: Vec<String>,
}

/// Thickness of shells, share of the inside that is filled, and mm³ laid a second, by which
/// [`PrintPart::plastic`] and [`PrintPart::minutes`] reckon (our assumption: two lines and four
/// layers, a sparse filling, an unhurried printer).
const SHELL: f64 = 0.8;
const FILLING: f64 = 0.15;
const RATE: f64 = 4.0;

impl PrintPart {
    /// Plastic it takes, mm³, for shells of 0.8 mm and a filling of 15 % (our assumption).
    #[must_use]
    pub fn plastic(&self) -> f64 {
        let shell = (self.area * SHELL).min(self.volume);
        shell + FILLING * (self.volume - shell)
    }

    /// Minutes it takes at 4 mm³ a second (our assumption).
    #[must_use]
    pub fn minutes(&self) -> f64 {
        self.plastic() / RATE / 60.0
    }

    /// The box it takes up on the bed as it is turned, mm.
    #[must_use]
    pub fn on_bed(&self) -> DVec3 {
        bed::turned_size(self.size, self.turn)
    }
}

/// The guide blocks for printing, and with `mock` the trial bars and the light head.
///
/// # Errors
/// [`ProofFault`] where our own work fails its proof; the design is not to blame.
pub fn printed_parts(
    checked: &Checked,
    solids: &Solids,
    options: PrintOptions,
) -> Result<Vec<PrintPart>, ProofFault> {
    let layout = checked.printed();
    let mut parts = Vec::new();
    for own in &layout.blocks {
        let (body, notes) = block::block(own);
        parts.extend(upright_parts(
            layout,
            own.title(),
            own.file_stem(),
            &body,
            &notes,
        )?);
    }
    if options.mock {
        for side in layout.each_side() {
            // Where one block serves both sides, their bores fall alike, and one bar tells enough.
            let one_tells = layout.blocks.iter().any(|own| own.serves == Serves::Both);
            if one_tells && side.side == crate::input::Side::Bass {
                continue;
            }
            let (body, notes) = trial_bar::trial_bar(side);
            let name = format!("trial bar, {}", side.side.name());
            let number = format!("trial-bar-{}", side.side.name());
            parts.extend(upright_parts(layout, &name, &number, &body, &notes)?);
        }
        parts.extend(mock_head(layout, solids)?);
    }
    Ok(parts)
}

/// The fit gauge for the barrels, and one for the bushes where the block takes bushes.
///
/// # Errors
/// As [`printed_parts`].
pub fn fit_gauges(checked: &Checked) -> Result<Vec<PrintPart>, ProofFault> {
    let layout = checked.printed();
    let barrel = layout.design.machines.barrel_diameter;
    let mut wanted = vec![("fit gauge, barrel", "fit-gauge-barrel", barrel)];
    if let Some(bush) = layout.design.guide.bush_diameter {
        wanted.push(("fit gauge, bush", "fit-gauge-bush", bush));
    }
    let mut parts = Vec::new();
    for (name, number, diameter) in wanted {
        let body = gauge::gauge(diameter);
        parts.extend(upright_parts(layout, name, number, &body, &[])?);
    }
    Ok(parts)
}

/// Proves a body, parted where the bed asks for it.
fn upright_parts(
    layout: &Layout,
    name: &str,
    number: &str,
    body: &Upright,
    notes: &[String],
) -> Result<Vec<PrintPart>, ProofFault> {
    let bed = layout.design.print.bed;
    let fits =
        |length: f64| bed::turn_to_fit(DVec3::new(length, body.size.y, body.size.z), bed).is_some();
    let mut notes = notes.to_vec();
    let mut bodies = vec![body.clone()];
    if !fits(body.size.x) {
        match bed::cuts(body.size.x, &pieces::taken(body), fits) {
            Some(cuts) => {
                bodies = pieces::pieces(body, &cuts);
                let doweled = bodies.iter().any(|piece| !piece.dowels.is_empty());
                notes.push(joint_note(bodies.len(), doweled));
            }
            None => notes.push(too_large(bed)),
        }
    }
    let count = bodies.len();
    let chord = layout.design.print.chord;
    let mut parts = Vec::new();
    for (index, body) in bodies.iter().enumerate() {
        let (name, number) = numbered(name, number, index, count);
        let brep = upright_brep::brep(body);
        let measures = proof::prove_solid(&name, &brep, &upright_form::closed_form(body))?;
        let mesh = proof::prove_mesh(&name, &brep, &measures, chord)?;
        // Only the first piece carries the notes of the whole.
        let notes = if index == 0 {
            notes.clone()
        } else {
            Vec::new()
        };
        parts.push(finish(
            name,
            number,
            &mesh,
            Some(measures.volume),
            bed,
            notes,
        )?);
    }
    Ok(parts)
}

/// The light head, face down.
fn mock_head(layout: &Layout, solids: &Solids) -> Result<Vec<PrintPart>, ProofFault> {
    let bed = layout.design.print.bed;
    let fault = |what: String| ProofFault::Mesh {
        solid: "mock head".to_owned(),
        what,
    };
    let (pieces, fits) = mock_head::pieces(layout, &solids.head.printed, bed).map_err(fault)?;
    let count = pieces.len();
    let mut notes = Vec::new();
    if !fits {
        notes.push(too_large(bed));
    } else if count > 1 {
        notes.push(format!(
            "longer than the bed: parted between the bores into {count} pieces with plain butt \
             joints; ease the joints' lower edges, then glue the pieces face down on a flat plate"
        ));
    }
    // Together the pieces hold what the head holds.
    let volumes = pieces
        .iter()
        .map(kernel::judge_mesh)
        .collect::<Result<Vec<f64>, String>>()
        .map_err(fault)?;
    let whole = kernel::judge_mesh(&solids.head.printed).map_err(fault)?;
    let together: f64 = volumes.iter().sum();
    if (together - whole).abs() > PROOF_RELATIVE * whole {
        return Err(ProofFault::MeshVolume {
            solid: "mock head".to_owned(),
            mesh: together,
            closed: whole,
            bound: PROOF_RELATIVE * whole,
        });
    }
    pieces
        .iter()
        .zip(volumes)
        .enumerate()
        .map(|(index, (piece, volume))| {
            let (name, number) = numbered("mock head", "mock-head", index, count);
            let notes = if index == 0 {
                notes.clone()
            } else {
                Vec::new()
            };
            let down = mock_head::face_down(piece);
            finish(name, number, &down, Some(volume), bed, notes)
        })
        .collect()
}

fn numbered(name: &str, number: &str, index: usize, count: usize) -> (String, String) {
    if count == 1 {
        return (name.to_owned(), number.to_owned());
    }
    (
        format!("{name}, piece {} of {count}", index + 1),
        format!("{number}-{}", index + 1),
    )
}

fn joint_note(count: usize, doweled: bool) -> String {
    let joint = if doweled {
        format!(
            "with holes for dowels of {:.0} mm in the joints",
            pieces::DOWEL
        )
    } else {
        "with plain butt joints, as the wood between the holes is too thin for dowels".to_owned()
    };
    format!(
        "longer than the bed: parted between its holes into {count} pieces {joint}; glue them along \
         a straight edge and check the pitch across every joint"
    )
}

fn too_large(bed: Option<[f64; 3]>) -> String {
    let [x, y, z] = bed.unwrap_or_default();
    format!(
        "does not fit the bed of {x:.0} by {y:.0} mm, {z:.0} mm high, and cannot be parted between \
         its holes so that it would; it is written whole"
    )
}

/// Settles a proved mesh in single precision and proves that this moved nothing that matters.
fn finish(
    name: String,
    number: String,
    mesh: &Mesh,
    volume: Option<f64>,
    bed: Option<[f64; 3]>,
    notes: Vec<String>,
) -> Result<PrintPart, ProofFault> {
    let fault = |what: String| ProofFault::Mesh {
        solid: name.clone(),
        what,
    };
    let before = kernel::judge_mesh(mesh).map_err(fault)?;
    let settled = single::settle(&grounded(mesh)).map_err(fault)?;
    let after = kernel::judge_mesh(&settled).map_err(fault)?;
    let (low, high) = mock_head::extent(&settled);
    let area = area(&settled);
    // No corner moved farther than a step of single precision at this distance.
    let bound = area * high.max_element() * SINGLE_STEP + single::NEAR * single::NEAR * area;
    if (after - before).abs() > bound || low.min_element() < 0.0 {
        return Err(ProofFault::MeshVolume {
            solid: name,
            mesh: after,
            closed: before,
            bound,
        });
    }
    Ok(PrintPart {
        turn: bed::turn_to_fit(high, bed).unwrap_or_default(),
        name,
        number,
        size: high,
        volume: volume.unwrap_or(before),
        area,
        mesh: settled,
        notes,
    })
}

/// Coordinates that only rounding keeps from zero are zero, so that the part stands flat.
fn grounded(mesh: &Mesh) -> Mesh {
    let ground = |c: f64| if c.abs() < NOISE { 0.0 } else { c };
    Mesh {
        points: mesh
            .points
            .iter()
            .map(|point| DVec3::from_array(point.to_array().map(ground)))
            .collect(),
        triangles: mesh.triangles.clone(),
    }
}

fn area(mesh: &Mesh) -> f64 {
    mesh.triangles
        .iter()
        .map(|corners| {
            let [a, b, c] = corners.map(|id| mesh.points[id]);
            (b - a).cross(c - a).length() / 2.0
        })
        .sum()
}
