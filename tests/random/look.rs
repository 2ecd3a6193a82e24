//! Looks at the solids of a design and their printed copies: what the design says of them must hold.

use barrelhead::check::Checked;
use barrelhead::solid::closed_form::{self, ClosedForm};
use barrelhead::solid::{Part, Solids, integrate, mesh};
use barrelhead::tolerance::MESH_CHORD;

use super::facts;
use super::shell::{self, Hole};

/// Looks at head, blocks and their printed copies from the outside.
pub fn look_at(solids: &Solids, checked: &Checked) -> Result<(), String> {
    let (finished, printed) = (checked.finished(), checked.printed());
    let design = &finished.design;
    look_at_part(
        &solids.head,
        facts::passages(finished),
        facts::faces(design, finished),
        &closed_form::head(finished),
        &shell::holes_of_head(finished),
        (
            facts::passages(printed),
            &closed_form::head(printed),
            &shell::holes_of_head(printed),
        ),
        design.print.chord,
    )?;
    for (part, (block, copy)) in solids
        .blocks
        .iter()
        .zip(finished.blocks.iter().zip(&printed.blocks))
    {
        look_at_part(
            part,
            block.holes.len(),
            facts::block_faces(block),
            &closed_form::guide_block(block),
            &shell::holes_of_block(block),
            (
                copy.holes.len(),
                &closed_form::guide_block(copy),
                &shell::holes_of_block(copy),
            ),
            design.print.chord,
        )?;
    }
    Ok(())
}

type PrintedFacts<'a> = (usize, &'a ClosedForm, &'a [Hole]);

fn look_at_part(
    part: &Part,
    passages: usize,
    faces: usize,
    closed: &ClosedForm,
    holes: &[Hole],
    (printed_passages, printed_closed, printed_holes): PrintedFacts<'_>,
    chord: f64,
) -> Result<(), String> {
    let fault = |what: String| format!("{}: {what}", part.stem);
    let equal = |what: &str, found: usize, wanted: usize| {
        let message = format!("{}: {found} {what}, by the design {wanted}", part.stem);
        (found == wanted).then_some(()).ok_or(message)
    };
    equal(
        "passages",
        shell::genus_of_brep(&part.brep).map_err(fault)?,
        passages,
    )?;
    equal("faces", part.brep.faces.len(), faces)?;
    // Exact integration over the faces against the closed form: sums differ by rounding alone.
    let over_faces = integrate::measure(&part.brep);
    let off = (over_faces.volume - closed.body.volume).abs() / closed.body.volume;
    if off.is_nan() || off > 1e-9 {
        return Err(fault(format!("volume {off:.1e} off")));
    }
    shell::holes_are_drilled(&part.brep, holes).map_err(fault)?;
    // The arch of a crest reaches the box between vertices.
    shell::fills_its_box(&part.brep.vertices, &part.measures, f64::INFINITY).map_err(fault)?;
    let exact = mesh::mesh(&part.brep, chord).map_err(|fault| fault.to_string())?;
    for (name, mesh, passages, closed, holes) in [
        ("mesh", &exact, passages, closed, holes),
        (
            "printed",
            &part.printed,
            printed_passages,
            printed_closed,
            printed_holes,
        ),
    ] {
        let fault = |what: String| fault(format!("{name}: {what}"));
        let found = shell::genus_of_mesh(mesh).map_err(fault)?;
        equal("passages", found, passages)?;
        // A facet lies within the chord of its surface, so no more than that times the whole area
        // of the boundary is missing or too much.
        let volume = shell::volume_of_mesh(mesh);
        let bound = closed.area * chord.min(MESH_CHORD) + 1e-9 * closed.body.volume;
        if (volume - closed.body.volume).abs() > bound {
            return Err(fault(format!(
                "volume {volume}, not {}",
                closed.body.volume
            )));
        }
        // Outline, thickness and block do not grow when printed; an arch's facets end short of it.
        shell::fills_its_box(&mesh.points, &part.measures, chord).map_err(fault)?;
        shell::holes_are_free(mesh, holes).map_err(fault)?;
    }
    Ok(())
}
