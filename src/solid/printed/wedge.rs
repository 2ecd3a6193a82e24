//! The rig's wedge as a printed part, lying on its flat side.

use super::{PrintPart, bed, finish};
use crate::layout::Layout;
use crate::solid::proof::ProofFault;
use crate::solid::rig::rig_solids;

/// A wedge thinner than this at its thin end is planed, not printed, mm: two layers of an ordinary
/// printer (our assumption).
const LEAST: f64 = 0.4;

/// The wedge of both sides' tapers; `None` for a head that needs none, or one too thin to print.
///
/// # Errors
/// [`ProofFault`] where our own work fails its proof; the design is not to blame.
pub fn rig_wedge(layout: &Layout) -> Result<Option<PrintPart>, ProofFault> {
    if layout.design.rig.wedge_thin_end < LEAST {
        return Ok(None);
    }
    let Some(wedge) = rig_solids(layout)?.and_then(|rig| rig.wedge) else {
        return Ok(None);
    };
    let (size, bed) = (wedge.part.measures.max, layout.design.print.bed);
    let mut notes = Vec::new();
    if bed::turn_to_fit(size, bed).is_none() {
        notes.push(
            "does not fit the bed; it is written whole: plane it from wood instead".to_owned(),
        );
    }
    let volume = Some(wedge.part.measures.volume);
    finish(
        "rig wedge".to_owned(),
        "rig-wedge".to_owned(),
        &wedge.mesh,
        volume,
        bed,
        notes,
    )
    .map(Some)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::sample::six_string;
    use crate::layout::Copy;

    #[test]
    fn the_wedge_lies_flat_and_keeps_its_size() {
        let layout = Layout::new(&six_string(), Copy::Finished);
        let part = rig_wedge(&layout).unwrap().unwrap();
        let wedge = crate::layout::RigLayout::new(&layout)
            .unwrap()
            .wedge
            .unwrap();
        let size = [wedge.length, wedge.width, wedge.thick];
        for (found, wanted) in part.size.to_array().into_iter().zip(size) {
            assert!((found - wanted).abs() < 1e-4, "{found} {wanted}");
        }
        assert!(part.notes.is_empty());
        let by_hand = (wedge.thin + wedge.thick) / 2.0 * wedge.length * wedge.width;
        assert!((part.volume / by_hand - 1.0).abs() < 1e-9);
    }

    #[test]
    fn wedges_of_every_size_settle_or_are_left_out() {
        for thin in [1e-4, 0.39, 0.4, 3.0, 2000.0] {
            let mut design = six_string();
            design.rig.wedge_thin_end = thin;
            design.print.bed = Some([180.0, 180.0, 150.0]);
            let layout = Layout::new(&design, Copy::Finished);
            let part = rig_wedge(&layout).unwrap();
            assert_eq!(part.is_some(), thin >= LEAST);
            let told = part.map(|part| !part.notes.is_empty());
            assert!(told.is_none_or(|told| told == (thin > 150.0)), "{thin}");
        }
    }
}
