//! Exact solids of the head and its guide block, from a layout that passed its checks.
//!
//! Order of work: `builder` assembles faces from `head`, `slot_walls`, `bores` and `guide_block`;
//! `closed_form` says from the layout alone what must come out; `integrate` measures what did;
//! `mesh` divides it; `proof` lets nothing pass on which these disagree.

pub mod assembly;
mod bores;
pub mod brep;
mod builder;
pub mod closed_form;
mod curves;
mod guide_block;
mod head;
pub mod integrate;
mod kernel;
pub mod mesh;
pub mod mesh_data;
pub mod printed;
mod prism;
mod proof;
pub mod rig;
pub mod single;
mod slot_walls;
mod stand_in;

pub use proof::ProofFault;

use crate::check::Checked;
use crate::layout::{Block, Copy, Layout};
use brep::{Brep, Measures};
use closed_form::ClosedForm;
use mesh_data::Mesh;

/// A proved solid with its printed copy's mesh.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Stem of its files and name in the report: `head`, `guide-block`.
    pub stem: &'static str,
    /// Name for people, after the design's title.
    pub name: &'static str,
    /// The exact solid.
    pub brep: Brep,
    /// Its volume, area, centroid and extent.
    pub measures: Measures,
    /// Mesh of the printed copy.
    pub printed: Mesh,
}

/// Head and guide blocks of a design.
#[derive(Debug, Clone, PartialEq)]
pub struct Solids {
    /// The head.
    pub head: Part,
    /// One guide block that serves both sides, or the treble's and the bass's.
    pub blocks: Vec<Part>,
}

impl Solids {
    /// All parts, the head first.
    pub fn parts(&self) -> impl Iterator<Item = &Part> {
        std::iter::once(&self.head).chain(&self.blocks)
    }
}

/// Builds and proves every solid of a design that no check stopped.
///
/// # Errors
/// [`ProofFault`] where our own work fails its proof; the design is not to blame.
pub fn build(checked: &Checked) -> Result<Solids, ProofFault> {
    let (finished, printed) = (checked.finished(), checked.printed());
    let head = part(
        ("head", "head"),
        (head::head(finished), closed_form::head(finished)),
        (head::head(printed), closed_form::head(printed)),
        finished,
    )?;
    let blocks = finished
        .blocks
        .iter()
        .zip(&printed.blocks)
        .map(|(block, copy)| {
            part(
                (block.file_stem(), block.title()),
                block_solid(block),
                block_solid(copy),
                finished,
            )
        })
        .collect::<Result<_, _>>()?;
    Ok(Solids { head, blocks })
}

/// The exact solids of head and blocks without their proof, for timing the building alone; what is written
/// comes from [`build`].
#[must_use]
pub fn unproved(checked: &Checked) -> Vec<Brep> {
    solids_of(checked.finished())
}

/// The exact solids of the printed copies, of which [`build`] keeps only the meshes; without their proof.
#[must_use]
pub fn unproved_copies(checked: &Checked) -> Vec<Brep> {
    solids_of(checked.printed())
}

fn solids_of(layout: &Layout) -> Vec<Brep> {
    let blocks = layout.blocks.iter().map(guide_block::guide_block);
    std::iter::once(head::head(layout)).chain(blocks).collect()
}

fn block_solid(block: &Block) -> (Brep, ClosedForm) {
    (
        guide_block::guide_block(block),
        closed_form::guide_block(block),
    )
}

fn part(
    (stem, name): (&'static str, &'static str),
    finished: (Brep, ClosedForm),
    printed: (Brep, ClosedForm),
    layout: &Layout,
) -> Result<Part, ProofFault> {
    debug_assert_eq!(layout.copy, Copy::Finished);
    let chord = layout.design.print.chord;
    let measures = proof::prove_solid(stem, &finished.0, &finished.1)?;
    proof::prove_mesh(stem, &finished.0, &measures, chord)?;
    let copy = format!("{stem}, printed copy");
    let printed_measures = proof::prove_solid(&copy, &printed.0, &printed.1)?;
    let mesh = proof::prove_mesh(&copy, &printed.0, &printed_measures, chord)?;
    Ok(Part {
        stem,
        name,
        brep: finished.0,
        measures,
        printed: mesh,
    })
}

#[cfg(test)]
mod trial;
