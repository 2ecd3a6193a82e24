//! Looks at the solids of a design and their printed copies: what the design says of them must hold.

use barrelhead::check::Checked;
use barrelhead::input::PerSide;
use barrelhead::layout::{Block, Layout};
use barrelhead::solid::brep::{Brep, Measures};
use barrelhead::solid::closed_form::{self, ClosedForm};
use barrelhead::solid::mesh_data::Mesh;
use barrelhead::solid::{Part, Solids, mesh, unproved_copies};
use barrelhead::tolerance::MESH_CHORD;
use glam::DVec3;

use super::bored::Hole;
use super::integral::{Measured, measured};
use super::shell;
use super::{bored, facts};

/// What a solid must be by the design.
struct Facts {
    passages: usize,
    faces: usize,
    closed: ClosedForm,
    holes: Vec<Hole>,
}

impl Facts {
    fn of_head(layout: &Layout) -> Facts {
        Facts {
            passages: facts::passages(layout),
            faces: facts::faces(&layout.design, layout),
            closed: closed_form::head(layout),
            holes: bored::holes_of_head(layout),
        }
    }

    fn of_block(block: &Block) -> Facts {
        Facts {
            passages: block.holes.len(),
            faces: facts::block_faces(block),
            closed: closed_form::guide_block(block),
            holes: bored::holes_of_block(block),
        }
    }

    fn of(layout: &Layout) -> Vec<Facts> {
        let blocks = layout.blocks.iter().map(Facts::of_block);
        std::iter::once(Facts::of_head(layout))
            .chain(blocks)
            .collect()
    }
}

/// Looks at head, blocks and their printed copies from the outside.
pub fn look_at(solids: &Solids, checked: &Checked) -> Result<(), String> {
    let (finished, printed) = (checked.finished(), checked.printed());
    let design = &finished.design;
    let PerSide { treble, bass } = &design.machines.pitches;
    let boxes = [
        facts::box_of_head(&design.head),
        facts::box_of_block(&design.guide, treble),
        // From the crest end; one block that serves both sides never comes this far.
        facts::box_of_block(&design.guide, bass),
    ];
    let (own, copies) = (Facts::of(finished), Facts::of(printed));
    let made = unproved_copies(checked);
    let blocks = if one_block_serves(treble, bass) { 1 } else { 2 };
    let counts = [own.len(), copies.len(), made.len(), solids.parts().count()];
    if counts != [1 + blocks; 4] {
        return Err(format!("{counts:?} solids, by the design {}", 1 + blocks));
    }
    for (index, part) in solids.parts().enumerate() {
        let chord = design.print.chord;
        let look = || {
            look_at_part(part, &own[index], boxes[index], chord)?;
            look_at_copy(part, &made[index], &copies[index], chord)
                .map_err(|fault| format!("printed: {fault}"))
        };
        look().map_err(|fault| format!("{}: {fault}", part.stem))?;
    }
    Ok(())
}

/// Whether the holes lie alike, counted from the nut on one side and from the crest on the other.
fn one_block_serves(treble: &[f64], bass: &[f64]) -> bool {
    let mut apart = 0.0;
    let mut alike = treble.len() == bass.len();
    for (one, other) in treble.iter().zip(bass.iter().rev()) {
        apart += one - other;
        alike &= f64::abs(apart) <= 1e-6;
    }
    alike
}

fn look_at_part(part: &Part, facts: &Facts, extent: [DVec3; 2], chord: f64) -> Result<(), String> {
    let own = look_at_faces(&part.brep, facts)?;
    as_told(&part.measures, &own)?;
    shell::box_is([part.measures.min, part.measures.max], extent)?;
    // The arch of a crest reaches the box between vertices.
    shell::fills_its_box(&part.brep.vertices, &part.measures, f64::INFINITY)?;
    let exact = mesh::mesh(&part.brep, chord).map_err(|fault| fault.to_string())?;
    look_at_mesh(part, &exact, facts, &own, chord)
}

/// The printed copy: outline, thickness and block do not grow, so its box is the finished one's.
fn look_at_copy(part: &Part, made: &Brep, facts: &Facts, chord: f64) -> Result<(), String> {
    let own = look_at_faces(made, facts)?;
    let (min, max) = made.extent();
    shell::box_is([min, max], [part.measures.min, part.measures.max])?;
    look_at_mesh(part, &part.printed, facts, &own, chord)
}

fn equal(what: &str, found: usize, wanted: usize) -> Result<(), String> {
    let message = format!("{found} {what}, by the design {wanted}");
    (found == wanted).then_some(()).ok_or(message)
}

/// Relative difference between a closed form, or what the report says, and the integral over the faces: sums
/// of some hundred terms differ by rounding alone.
const SAME: f64 = 1e-9;

fn close(what: &str, told: f64, found: f64, scale: f64) -> Result<(), String> {
    let off = (told - found).abs() / scale;
    if off <= SAME {
        return Ok(());
    }
    Err(format!("{what} {told}, over the faces {found}"))
}

/// What a solid is by its own faces, once it is as the design has it.
fn look_at_faces(brep: &Brep, facts: &Facts) -> Result<Measured, String> {
    equal("passages", shell::genus_of_brep(brep)?, facts.passages)?;
    equal("faces", brep.faces.len(), facts.faces)?;
    let (found, closed) = (measured(brep), &facts.closed);
    close(
        "volume",
        closed.body.volume,
        found.volume,
        closed.body.volume,
    )?;
    close("area", closed.area, found.area, closed.area)?;
    bored::holes_are_drilled(brep, &facts.holes)?;
    Ok(found)
}

/// The measures that go into the report.
fn as_told(told: &Measures, found: &Measured) -> Result<(), String> {
    close("volume told", told.volume, found.volume, found.volume)?;
    close("area told", told.area, found.area, found.area)?;
    let size = told.max.distance(told.min);
    (0..3).try_for_each(|axis| {
        let (told, found) = (told.centroid[axis], found.centroid[axis]);
        close("centroid told", told, found, size)
    })
}

/// What of a solid's volume its mesh may miss or add: a facet lies within the chord of its surface, and planes
/// are met exactly.
pub fn mesh_bound(own: &Measured, chord: f64) -> f64 {
    own.curved * chord.min(MESH_CHORD) + SAME * own.volume
}

fn look_at_mesh(
    part: &Part,
    mesh: &Mesh,
    facts: &Facts,
    own: &Measured,
    chord: f64,
) -> Result<(), String> {
    let fault = |what: String| format!("mesh: {what}");
    let found = shell::genus_of_mesh(mesh).map_err(fault)?;
    equal("passages", found, facts.passages)?;
    let volume = shell::volume_of_mesh(mesh);
    let off = (volume - own.volume).abs();
    if off.is_nan() || off > mesh_bound(own, chord) {
        return Err(fault(format!("volume {volume}, not {}", own.volume)));
    }
    // An arch's facets end short of the box.
    shell::fills_its_box(&mesh.points, &part.measures, chord).map_err(fault)?;
    bored::holes_are_free(mesh, &facts.holes, chord.min(MESH_CHORD)).map_err(fault)
}
