//! The ten numbers that cannot be guessed, lettered A to J in the order one measures them: first
//! the set of machines with calipers, then the head. Each knows when an answer cannot be right.

use super::kinds::Kind;
use crate::units::show_mm;

/// One question.
#[derive(Debug)]
pub struct Question {
    /// A to J.
    pub letter: char,
    /// What is measured.
    pub name: &'static str,
    /// How.
    pub how: &'static str,
    /// Least and greatest answer that can be right, mm.
    pub range: (f64, f64),
}

/// A to J.
pub const ALL: &[Question] = &[
    Question {
        letter: 'A',
        name: "Barrel diameter",
        how: "Calipers across one bare barrel of the treble set, the post if it is a thin one.",
        range: (3.0, 20.0),
    },
    Question {
        letter: 'B',
        name: "Barrel length",
        how: "From the underside of the plate, where it lies on the wood, to the barrel's free end.",
        range: (10.0, 80.0),
    },
    Question {
        letter: 'C',
        name: "String hole",
        how: "From the underside of the plate to the middle of the string hole.",
        range: (3.0, 75.0),
    },
    Question {
        letter: 'D',
        name: "Over the outer barrels",
        how: "Outside to outside over the first and the last barrel of the treble plate.",
        range: (15.0, 400.0),
    },
    Question {
        letter: 'E',
        name: "Plate width",
        how: "Across the plate at its widest, the way the head's thickness runs.",
        range: (5.0, 60.0),
    },
    Question {
        letter: 'F',
        name: "Plate length",
        how: "The treble plate from end to end, ornament included.",
        range: (20.0, 500.0),
    },
    Question {
        letter: 'G',
        name: "Head thickness",
        how: "Finished, veneers included.",
        range: (8.0, 45.0),
    },
    Question {
        letter: 'H',
        name: "Width at the nut",
        how: "Across the trued sides of the head, at the nut line.",
        range: (25.0, 150.0),
    },
    Question {
        letter: 'I',
        name: "Width at the crest end",
        how: "Across the sides again, where their straight part ends.",
        range: (25.0, 170.0),
    },
    Question {
        letter: 'J',
        name: "Length of the straight sides",
        how: "Along the centre line, from the nut line to where the straight sides end.",
        range: (40.0, 450.0),
    },
];

/// Clearance and wood that even a stopped design must have around a bore, mm: bore over barrel
/// and two skins of 1 mm.
const LEAST_AROUND_BARREL: f64 = 2.2;
/// Gap between neighbouring barrels below which the bores would all but touch, mm.
const LEAST_GAP: f64 = 1.2;

/// What may be wrong with an answer, given those before it (A first): why it cannot be right.
pub fn objection(kind: &Kind, letter: char, mm: f64, before: &[f64]) -> Option<String> {
    let (least, most) = ALL.iter().find(|question| question.letter == letter)?.range;
    if mm <= 0.0 {
        return Some("a length must be above zero.".into());
    }
    if mm < least || mm > most {
        return Some(format!(
            "{} is outside what such a part can be, {} to {}; is the unit right?",
            show_mm(mm),
            show_mm(least),
            show_mm(most)
        ));
    }
    let of = |letter: char| before.get(letter as usize - 'A' as usize).copied();
    match letter {
        'B' if mm <= of('A')? => Some(format!(
            "a barrel longer than it is thick was expected; A is {}.",
            show_mm(of('A')?)
        )),
        'C' if mm >= of('B')? => Some(format!(
            "the hole must be nearer the plate than the barrel's end; B is {}.",
            show_mm(of('B')?)
        )),
        'D' => over_outer_barrels(kind, mm, of('A')?),
        'F' if mm < of('D')? => Some(format!(
            "the plate cannot be shorter than over its outer barrels; D is {}.",
            show_mm(of('D')?)
        )),
        'G' if mm < of('A')? + LEAST_AROUND_BARREL => Some(format!(
            "a barrel of {} leaves no wood over its bore in a head that thin.",
            show_mm(of('A')?)
        )),
        'I' => barrels_meet(mm, of('H')?, of('B')?),
        'J' => side_too_short(kind, mm, before),
        _ => None,
    }
}

/// What is worth saying of an answer that may be right all the same.
pub fn remark(letter: char, mm: f64, before: &[f64]) -> Option<String> {
    let of = |letter: char| before.get(letter as usize - 'A' as usize).copied();
    match letter {
        'G' if mm < of('E')? => Some(format!(
            "The plate is wider than the head is thick (E is {}): its edge will stand over.",
            show_mm(of('E')?)
        )),
        'I' if mm < of('H')? => {
            Some("This head narrows towards the crest; that is possible, but rare.".into())
        }
        _ => None,
    }
}

fn over_outer_barrels(kind: &Kind, mm: f64, barrel: f64) -> Option<String> {
    let gaps = f64::from(kind.treble.saturating_sub(1)).max(1.0);
    let pitch = (mm - barrel) / gaps;
    (pitch < barrel + LEAST_GAP).then(|| {
        format!(
            "{} barrels of {} would all but touch within {}; measured over the outside of both?",
            kind.treble,
            show_mm(barrel),
            show_mm(mm)
        )
    })
}

fn barrels_meet(crest: f64, nut: f64, barrel: f64) -> Option<String> {
    let widest_half = nut.max(crest) / 2.0;
    if barrel >= widest_half {
        return Some(format!(
            "the barrels (B, {}) of the two sides would meet in the middle: half the head is {} at most.",
            show_mm(barrel),
            show_mm(widest_half)
        ));
    }
    // No head flares by more than this; likelier one of the two widths was read wrongly.
    ((crest - nut).abs() > nut / 2.0)
        .then(|| format!("that is a great deal of taper; H is {}.", show_mm(nut)))
}

fn side_too_short(kind: &Kind, mm: f64, before: &[f64]) -> Option<String> {
    let of = |letter: char| before.get(letter as usize - 'A' as usize).copied();
    let (barrel, over, plate) = (of('A')?, of('D')?, of('F')?);
    let gaps = f64::from(kind.treble.saturating_sub(1)).max(1.0);
    let more = f64::from(kind.most_barrels().saturating_sub(kind.treble));
    let longest = plate + more * (over - barrel) / gaps;
    (mm < longest).then(|| {
        let which = if more > 0.0 {
            "the bass plate, one barrel longer than the treble one, needs"
        } else {
            "the plate (F) needs"
        };
        format!("{which} {} of straight side.", show_mm(longest))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::start::kinds;

    /// A to J of a six-string head that works.
    const GOOD: [f64; 10] = [10.0, 30.5, 19.0, 80.0, 17.4, 105.5, 20.4, 63.0, 71.0, 184.0];

    #[test]
    fn letters_run_from_a_to_j_and_good_answers_pass() {
        let letters: String = ALL.iter().map(|question| question.letter).collect();
        assert_eq!(letters, "ABCDEFGHIJ");
        for (index, question) in ALL.iter().enumerate() {
            let objection = objection(kinds::usual(), question.letter, GOOD[index], &GOOD[..index]);
            assert_eq!(objection, None, "{}", question.letter);
        }
    }

    #[test]
    fn what_cannot_be_right_is_told_with_the_earlier_number() {
        let says = |letter: char, mm: f64, word: &str| {
            let before = &GOOD[..letter as usize - 'A' as usize];
            let text = objection(kinds::usual(), letter, mm, before).unwrap_or_default();
            assert!(text.contains(word), "{letter} {mm}: {text}");
        };
        says('A', -10.0, "above zero");
        says('A', 0.0, "above zero");
        says('A', 254.0, "unit");
        says('B', 10.0, "A is 10.00 mm");
        says('C', 31.0, "B is 30.50 mm");
        says('D', 30.0, "all but touch");
        says('F', 79.0, "D is 80.00 mm");
        says('G', 12.0, "no wood");
        says('J', 100.0, "105.50 mm");
        let narrow = [10.0, 30.5, 19.0, 80.0, 17.4, 105.5, 20.4, 55.0];
        let text = objection(kinds::usual(), 'I', 60.0, &narrow).unwrap();
        assert!(text.contains("meet in the middle"), "{text}");
    }

    #[test]
    fn the_longer_bass_plate_counts() {
        let seven = kinds::named("seven-string").unwrap();
        let text = objection(seven, 'J', 120.0, &GOOD[..9]).unwrap();
        assert!(text.contains("140.50 mm"), "{text}");
    }
}
