//! Bare numbers in a file in inches that are most likely millimetres. The contract lets them pass, so
//! they are remarked upon and not refused.

/// What is usual of a length, mm. Common practice of slotted heads, wide enough for all of them.
const USUAL: [(&str, f64, f64); 11] = [
    ("head.length", 60.0, 260.0),
    ("head.width_at_nut_end", 30.0, 120.0),
    ("head.width_at_crest_end", 30.0, 120.0),
    ("head.thickness", 10.0, 30.0),
    ("nut.string_span", 20.0, 80.0),
    ("machines.barrel_diameter", 4.0, 14.0),
    ("machines.barrel_length", 10.0, 50.0),
    ("machines.string_hole", 5.0, 40.0),
    ("machines.plate_width", 8.0, 30.0),
    ("slots.width", 6.0, 25.0),
    ("slots.rib", 6.0, 30.0),
];

/// So many times the most that is usual is no head for an instrument (our assumption).
const FAR: f64 = 3.0;

/// A bare number far beyond what is usual.
#[derive(Debug, Clone, PartialEq)]
pub struct Outsized {
    /// Its key, dotted.
    pub key: &'static str,
    /// As typed, inches.
    pub typed: f64,
    /// In millimetres it would be usual.
    pub usual_in_mm: bool,
}

impl Outsized {
    /// A number typed in inches, where it is one.
    pub(crate) fn of(key: &str, typed: f64, mm: f64) -> Option<Outsized> {
        let (key, least, most) = *USUAL.iter().find(|(name, _, _)| *name == key)?;
        (mm > FAR * most).then_some(Outsized {
            key,
            typed,
            usual_in_mm: (least..=most).contains(&typed),
        })
    }
}
