//! What is measured on a set of machines and on a head, lettered in the order one measures. The
//! dialogue of `start` and the measuring card both take their letters and names from here.
//!
//! A to J cannot be guessed and are asked for: first the set of machines with calipers, then the
//! head. The rest have defaults, or starting values that a maker improves on while the head and the
//! set still lie there. The letter O is left out, for it is read as nought.

/// One thing to measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// A to Z without O.
    pub letter: char,
    /// What is measured.
    pub name: &'static str,
    /// How.
    pub how: &'static str,
    /// The key of the parameter file that takes it, with its table.
    pub key: &'static str,
    /// Least and greatest answer that can be right, mm; only where `start --ask` asks.
    pub range: Option<(f64, f64)>,
}

/// How many are asked for: A to J.
const ASKED: usize = 10;

/// Those that `start --ask` asks for.
#[must_use]
pub fn asked() -> &'static [Measured] {
    ALL.split_at(ASKED).0
}

/// Those that follow.
#[must_use]
pub fn further() -> &'static [Measured] {
    ALL.split_at(ASKED).1
}

/// All, in order.
pub const ALL: &[Measured] = &[
    Measured {
        letter: 'A',
        name: "Barrel diameter",
        how: "Calipers across one bare barrel of the treble set, the post if it is a thin one.",
        key: "machines.barrel_diameter",
        range: Some((3.0, 20.0)),
    },
    Measured {
        letter: 'B',
        name: "Barrel length",
        how: "From the underside of the plate, where it lies on the wood, to the barrel's free end.",
        key: "machines.barrel_length",
        range: Some((10.0, 80.0)),
    },
    Measured {
        letter: 'C',
        name: "String hole",
        how: "From the underside of the plate to the middle of the string hole.",
        key: "machines.string_hole",
        range: Some((3.0, 75.0)),
    },
    Measured {
        letter: 'D',
        name: "Over the outer barrels",
        how: "Outside to outside over the first and the last barrel of the treble plate.",
        key: "machines.over_outer_barrels",
        range: Some((15.0, 400.0)),
    },
    Measured {
        letter: 'E',
        name: "Plate width",
        how: "Across the plate at its widest, the way the head's thickness runs.",
        key: "machines.plate_width",
        range: Some((5.0, 60.0)),
    },
    Measured {
        letter: 'F',
        name: "Plate length",
        how: "The treble plate from end to end, ornament included.",
        key: "machines.plate_length",
        range: Some((20.0, 500.0)),
    },
    Measured {
        letter: 'G',
        name: "Head thickness",
        how: "Finished, veneers included.",
        key: "head.thickness",
        range: Some((8.0, 45.0)),
    },
    Measured {
        letter: 'H',
        name: "Width at the nut",
        how: "Across the trued sides of the head, at the nut line.",
        key: "head.width_at_nut_end",
        range: Some((25.0, 150.0)),
    },
    Measured {
        letter: 'I',
        name: "Width at the crest end",
        how: "Across the sides again, where their straight part ends.",
        key: "head.width_at_crest_end",
        range: Some((25.0, 170.0)),
    },
    Measured {
        letter: 'J',
        name: "Length of the straight sides",
        how: "Along the centre line, from the nut line to where the straight sides end.",
        key: "head.side_end",
        range: Some((40.0, 450.0)),
    },
    Measured {
        letter: 'K',
        name: "Length of the head",
        how: "Along the centre line, from the nut line to the top of the crest.",
        key: "head.length",
        range: None,
    },
    Measured {
        letter: 'L',
        name: "Outer strings at the nut",
        how: "Centre to centre of the two outer strings.",
        key: "nut.string_span",
        range: None,
    },
    Measured {
        letter: 'M',
        name: "String over the face",
        how: "At the nut line, from the plane of the head's face up to the string.",
        key: "nut.string_height",
        range: None,
    },
    Measured {
        letter: 'N',
        name: "Head angle, degrees",
        how: "Between the head's face and the playing surface.",
        key: "head.angle",
        range: None,
    },
    Measured {
        letter: 'P',
        name: "Face veneer",
        how: "All layers on the face together; inside G.",
        key: "head.face_veneer",
        range: None,
    },
    Measured {
        letter: 'Q',
        name: "Back veneer",
        how: "All layers on the back together; inside G.",
        key: "head.back_veneer",
        range: None,
    },
    Measured {
        letter: 'R',
        name: "Overhang at the nut end",
        how: "From the first barrel's centre to the plate's end: its edge to the end, and half of A.",
        key: "machines.overhang",
        range: None,
    },
    Measured {
        letter: 'S',
        name: "Overhang at the crest end",
        how: "From the last barrel's centre to the plate's other end, the same way.",
        key: "machines.overhang",
        range: None,
    },
    Measured {
        letter: 'T',
        name: "Axis off the middle",
        how: "Barrel's centre from the plate's mid-width, + towards the face of the head.",
        key: "machines.axis_offset",
        range: None,
    },
    Measured {
        letter: 'U',
        name: "Plate thickness",
        how: "The plate alone.",
        key: "machines.plate_thickness",
        range: None,
    },
    Measured {
        letter: 'V',
        name: "Screw places",
        how: "Each from the first barrel's centre: along, + to the crest; across, + to the face.",
        key: "machines.screws",
        range: None,
    },
    Measured {
        letter: 'W',
        name: "Each gap, where uneven",
        how: "Centre to centre of neighbours, nut end first; takes the place of D.",
        key: "machines.pitches",
        range: None,
    },
    Measured {
        letter: 'X',
        name: "Thickness at the crest",
        how: "Only where the head is not evenly thick; G is then taken at the nut line.",
        key: "head.thickness_at_crest",
        range: None,
    },
    Measured {
        letter: 'Y',
        name: "Start of the straight sides",
        how: "Only where shoulders come first: along the centre line from the nut line.",
        key: "head.side_start",
        range: None,
    },
    Measured {
        letter: 'Z',
        name: "Width at the nut line",
        how: "Only with shoulders; H is then taken where the straight sides start.",
        key: "head.shoulder_width",
        range: None,
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::keys::key;

    #[test]
    fn letters_run_on_without_o() {
        let letters: String = ALL.iter().map(|measured| measured.letter).collect();
        assert_eq!(letters, "ABCDEFGHIJKLMNPQRSTUVWXYZ");
        assert!(asked().iter().all(|measured| measured.range.is_some()));
        assert!(further().iter().all(|measured| measured.range.is_none()));
        assert_eq!(asked().last().map(|measured| measured.letter), Some('J'));
    }

    #[test]
    fn every_key_is_one_of_the_file() {
        for measured in ALL {
            let (table, name) = measured.key.split_once('.').unwrap();
            assert!(key(table, name).is_some(), "{}", measured.key);
        }
    }
}
