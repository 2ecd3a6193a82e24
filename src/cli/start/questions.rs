//! When an answer to one of the ten questions cannot be right. What is asked, and by which letter,
//! stands with the input ([`measured`](crate::input::measured)).

use crate::input::Unit;
use crate::input::measured::asked;

use super::answer::show;
use super::kinds::Kind;

/// Clearance and wood that even a stopped design must have around a bore, mm: bore over barrel
/// and two skins of 1 mm.
const LEAST_AROUND_BARREL: f64 = 2.2;
/// Gap between neighbouring barrels below which the bores would all but touch, mm.
const LEAST_GAP: f64 = 1.2;

/// What may be wrong with an answer, given those before it (A first): why it cannot
/// be right, in the unit of the dialogue.
pub fn objection(kind: &Kind, letter: char, mm: f64, before: &[f64], unit: Unit) -> Option<String> {
    let (least, most) = asked()
        .iter()
        .find(|question| question.letter == letter)?
        .range?;
    if mm <= 0.0 {
        return Some("a length must be above zero.".into());
    }
    if mm < least || mm > most {
        return Some(format!(
            "{} is outside what such a part can be, {} to {}; is the unit right?",
            show(mm, unit),
            show(least, unit),
            show(most, unit)
        ));
    }
    let of = |letter: char| before.get(letter as usize - 'A' as usize).copied();
    match letter {
        'B' if mm <= of('A')? => Some(format!(
            "a barrel longer than it is thick was expected; A is {}.",
            show(of('A')?, unit)
        )),
        'C' if mm >= of('B')? => Some(format!(
            "the hole must be nearer the plate than the barrel's end; B is {}.",
            show(of('B')?, unit)
        )),
        'D' => over_outer_barrels(kind, mm, of('A')?, unit),
        'F' if mm < of('D')? => Some(format!(
            "the plate cannot be shorter than over its outer barrels; D is {}.",
            show(of('D')?, unit)
        )),
        'G' if mm < of('A')? + LEAST_AROUND_BARREL => Some(format!(
            "a barrel of {} leaves no wood over its bore in a head that thin.",
            show(of('A')?, unit)
        )),
        'I' => barrels_meet(mm, of('H')?, of('B')?, unit),
        'J' => side_too_short(kind, mm, before, unit),
        _ => None,
    }
}

/// What is worth saying of an answer that may be right all the same.
pub fn remark(letter: char, mm: f64, before: &[f64], unit: Unit) -> Option<String> {
    let of = |letter: char| before.get(letter as usize - 'A' as usize).copied();
    match letter {
        'G' if mm < of('E')? => Some(format!(
            "The plate is wider than the head is thick (E is {}): its edge will stand over.",
            show(of('E')?, unit)
        )),
        'I' if mm < of('H')? => {
            Some("This head narrows towards the crest; that is possible, but rare.".into())
        }
        _ => None,
    }
}

fn over_outer_barrels(kind: &Kind, mm: f64, barrel: f64, unit: Unit) -> Option<String> {
    let gaps = f64::from(kind.treble.saturating_sub(1)).max(1.0);
    let pitch = (mm - barrel) / gaps;
    (pitch < barrel + LEAST_GAP).then(|| {
        format!(
            "{} barrels of {} would all but touch within {}; measured over the outside of both?",
            kind.treble,
            show(barrel, unit),
            show(mm, unit)
        )
    })
}

fn barrels_meet(crest: f64, nut: f64, barrel: f64, unit: Unit) -> Option<String> {
    let widest_half = nut.max(crest) / 2.0;
    if barrel >= widest_half {
        return Some(format!(
            "the barrels (B, {}) of the two sides would meet in the middle: half the head is {} at most.",
            show(barrel, unit),
            show(widest_half, unit)
        ));
    }
    // No head flares by more than this; likelier one of the two widths was read wrongly.
    ((crest - nut).abs() > nut / 2.0)
        .then(|| format!("that is a great deal of taper; H is {}.", show(nut, unit)))
}

fn side_too_short(kind: &Kind, mm: f64, before: &[f64], unit: Unit) -> Option<String> {
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
        format!("{which} {} of straight side.", show(longest, unit))
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
        let letters: String = asked().iter().map(|question| question.letter).collect();
        assert_eq!(letters, "ABCDEFGHIJ");
        for (index, question) in asked().iter().enumerate() {
            let objection = objection(
                kinds::usual(),
                question.letter,
                GOOD[index],
                &GOOD[..index],
                Unit::Mm,
            );
            assert_eq!(objection, None, "{}", question.letter);
        }
    }

    #[test]
    fn what_cannot_be_right_is_told_with_the_earlier_number() {
        let says = |letter: char, mm: f64, word: &str| {
            let before = &GOOD[..letter as usize - 'A' as usize];
            let text = objection(kinds::usual(), letter, mm, before, Unit::Mm).unwrap_or_default();
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
        let text = objection(kinds::usual(), 'I', 60.0, &narrow, Unit::Mm).unwrap();
        assert!(text.contains("meet in the middle"), "{text}");
    }

    #[test]
    fn the_longer_bass_plate_counts() {
        let seven = kinds::named("seven-string").unwrap();
        let text = objection(seven, 'J', 120.0, &GOOD[..9], Unit::Mm).unwrap();
        assert!(text.contains("140.50 mm"), "{text}");
    }
}
