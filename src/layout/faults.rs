//! Faults of the input that only show once positions are known.

use super::{Layout, drilled_faults};
use crate::input::Place;
use crate::input::defaults::SHORTEST;
use crate::tolerance::NOISE;

/// One such fault, with the key it hangs on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayoutFault {
    /// Dotted key.
    pub key: &'static str,
    /// What is wrong.
    pub message: String,
    /// What to write instead.
    pub hint: String,
    /// Where it stands; `None`: where the key stands.
    pub place: Option<Place>,
}

/// Faults of a layout that no check speaks of: a counterbore must be wider than the bore and
/// shallower than D; a bore that is recorded must be able to be there.
#[must_use]
pub fn faults(layout: &Layout) -> Vec<LayoutFault> {
    let mut found = of_counterbores(layout);
    found.extend(drilled_faults::of_records(layout));
    found
}

fn of_counterbores(layout: &Layout) -> Vec<LayoutFault> {
    let shallowest = layout
        .bores()
        .filter_map(|bore| bore.counterbore.map(|mouth| (bore, mouth)))
        .min_by(|(a, _), (b, _)| a.depth.total_cmp(&b.depth));
    let Some((bore, mouth)) = shallowest else {
        return Vec::new();
    };
    let show = |mm| layout.design.lengths().show(mm);
    // A ring or a length below the shortest of all counts as none.
    let least = SHORTEST - NOISE;
    let mut found = Vec::new();
    if bore.depth - mouth.depth < least {
        found.push(LayoutFault {
            key: "bores.counterbore.depth",
            message: format!(
                "the counterbore goes {} deep, but {} bore {} only {}",
                show(mouth.depth),
                bore.side.name(),
                bore.number,
                show(bore.depth)
            ),
            hint: format!("a depth below {}, or a deeper bore", show(bore.depth)),
            place: None,
        });
    }
    if mouth.diameter - bore.diameter < 2.0 * least {
        found.push(LayoutFault {
            key: "bores.counterbore.diameter",
            message: format!(
                "the counterbore is {} wide, the bore {}",
                show(mouth.diameter),
                show(bore.diameter)
            ),
            hint: format!(
                "a diameter above {}, or no counterbore",
                show(bore.diameter)
            ),
            place: None,
        });
    }
    found
}
