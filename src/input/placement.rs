//! `[placement]`: where the machines sit.

use super::design::{Across, Along, PerSide, Placement};
use super::field::{Choice, Field, Sign};
use super::joined;
use super::reader::Reader;
use super::words;

pub(crate) fn read(r: Reader<'_>) -> Option<Placement> {
    let along_word = r.word("along", &words::CENTRED);
    let first = r.length("first_barrel", Sign::AboveZero);
    let bass = bass(r);
    let along = match r.choose(joined::ALONG) {
        Choice::None => Some(Along::Centred),
        Choice::Of("along") => along_word.good().map(|_| Along::Centred),
        Choice::Of("first_barrel") => first.clone().good().zip(bass).map(|(treble, bass)| {
            Along::FirstBarrel(PerSide {
                treble,
                bass: bass.unwrap_or(treble),
            })
        }),
        Choice::Of(_) | Choice::Several => None,
    };
    if first == Field::Absent && r.has("bass") && bass.is_some_and(|bass| bass.is_some()) {
        r.clash(
            "bass",
            "`bass.first_barrel` goes only with `first_barrel`, the treble side's",
            "first_barrel for the treble side beside it",
        );
    }
    let depth_word = r.word("depth", &words::CENTRED);
    let below = r.length("axis_below_face", Sign::AboveZero);
    let depth = match r.choose(joined::ACROSS) {
        Choice::None => Some(Across::Centred),
        Choice::Of("depth") => depth_word.good().map(|_| Across::Centred),
        Choice::Of("axis_below_face") => below.good().map(Across::AxisBelowFace),
        Choice::Of(_) | Choice::Several => None,
    };
    Some(Placement {
        along: along?,
        depth: depth?,
    })
}

/// The bass side's first barrel; inner `None`: as the treble's.
#[allow(clippy::option_option)]
fn bass(r: Reader<'_>) -> Option<Option<f64>> {
    match r.table("bass") {
        Field::Absent => Some(None),
        Field::Bad => None,
        Field::Good(table) => Reader::new(r.context(), table, "placement.bass")
            .length("first_barrel", Sign::AboveZero)
            .optional(),
    }
}
