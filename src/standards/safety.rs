//! Publications on working safely at a drill press and with wood, named on the setup sheet.
//!
//! How they were read: those marked confirmed were seen named on the body's own pages; the others
//! are named from memory. Only their names and subjects are used here, none of their text.

use super::Mark;

/// A publication.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Publication {
    /// Who publishes it.
    pub body: &'static str,
    /// Its number or name.
    pub name: &'static str,
    /// What it is about.
    pub about: &'static str,
    /// How it was read.
    pub mark: Mark,
}

const fn row(
    body: &'static str,
    name: &'static str,
    about: &'static str,
    mark: Mark,
) -> Publication {
    Publication {
        body,
        name,
        about,
        mark,
    }
}

/// The publications.
pub const PUBLICATIONS: [Publication; 9] = [
    row(
        "OSHA",
        "29 CFR 1910.212(a)(1), (a)(3)",
        "machine guarding; applies to drill presses",
        Mark::Confirmed,
    ),
    row(
        "OSHA",
        "29 CFR 1910.213",
        "woodworking machinery",
        Mark::Confirmed,
    ),
    row(
        "OSHA",
        "3080 (2002)",
        "guards, eye protection",
        Mark::Confirmed,
    ),
    row(
        "OSHA",
        "3170",
        "shields at drill presses, clamping, no gloves",
        Mark::Confirmed,
    ),
    row("OSHA", "3157", "boring machines", Mark::FromMemory),
    row(
        "HSE",
        "web page on wood dust",
        "limits for wood dust in the air",
        Mark::Confirmed,
    ),
    row(
        "HSE",
        "WIS23 (rev 3)",
        "extracting wood dust, masks",
        Mark::Confirmed,
    ),
    row("HSE", "L114", "woodworking machines", Mark::FromMemory),
    row(
        "HSE",
        "COSHH 2002, Sch 2A, reg 9",
        "testing dust extraction",
        Mark::Confirmed,
    ),
];

/// The publications of one body in a line: name and subject of each, and which are from memory.
#[must_use]
pub fn of_body(body: &str) -> String {
    let each = PUBLICATIONS
        .iter()
        .filter(|publication| publication.body == body)
        .map(|publication| {
            let mark = match publication.mark {
                Mark::FromMemory => ", from memory",
                Mark::Confirmed | Mark::Computed => "",
            };
            format!("{} ({}{mark})", publication.name, publication.about)
        });
    format!("{body}: {}", each.collect::<Vec<_>>().join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_from_memory_says_so() {
        let hse = of_body("HSE");
        assert!(
            hse.contains("L114 (woodworking machines, from memory)"),
            "{hse}"
        );
        assert!(hse.contains("WIS23 (rev 3) (extracting"), "{hse}");
        let named = of_body("OSHA").matches(';').count() + hse.matches(';').count();
        // One subject holds a semicolon of its own.
        assert_eq!(named, PUBLICATIONS.len() - 2 + 1);
    }
}
