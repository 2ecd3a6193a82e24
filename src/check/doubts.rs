//! Remarks on numbers that were most likely mistyped. They are no checks: nothing is measured against
//! wood, and no verdict changes.

use crate::input::Design;
use crate::units::{Lengths, plain, show_mm};

/// A sentence for each, in the order of the file's tables.
#[must_use]
pub fn doubts(design: &Design, lengths: Lengths) -> Vec<String> {
    let mut out: Vec<String> = design
        .outsized
        .iter()
        .map(|number| {
            let typed = plain(number.typed);
            let mm = show_mm(number.typed * crate::units::MM_PER_INCH);
            let what = if number.usual_in_mm {
                format!("write \"{typed} mm\" if millimetres are meant")
            } else {
                "look at it again".to_owned()
            };
            format!(
                "{} is {typed} in ({mm}), far more than is usual (common practice); {what}",
                number.key
            )
        })
        .collect();
    let machines = &design.machines;
    let mut swapped = |[(a, long), (b, short)]: [(&str, f64); 2], why: &str| {
        if long > short {
            out.push(format!(
                "machines.{a}, {}, is more than machines.{b}, {}: {why}; measure both again, they may be swapped",
                lengths.show(long),
                lengths.show(short)
            ));
        }
    };
    swapped(
        [
            ("string_hole", machines.string_hole),
            ("barrel_length", machines.barrel_length),
        ],
        "the string hole would lie beyond the barrel's end",
    );
    swapped(
        [
            ("barrel_diameter", machines.barrel_diameter),
            ("plate_width", machines.plate_width),
        ],
        "the plate would be narrower than its barrels",
    );
    swapped(
        [
            ("plate_thickness", machines.plate_thickness),
            ("plate_width", machines.plate_width),
        ],
        "the plate would be thicker than it is wide",
    );
    out
}

#[cfg(test)]
mod tests {
    use std::path::Path;

    use super::*;
    use crate::input::read_str;
    use crate::input::sample::six_string;

    const MM: Lengths = Lengths { inches: false };

    #[test]
    fn swapped_readings_of_the_machines_are_remarked_upon() {
        assert!(doubts(&six_string(), MM).is_empty());
        let mut design = six_string();
        design.machines.string_hole = design.machines.barrel_length + 0.1;
        let said = doubts(&design, MM).join("|");
        assert!(said.contains("machines.string_hole, 30.60 mm, is more than machines.barrel_length, 30.50 mm: the string hole would lie beyond"), "{said}");
        let mut design = six_string();
        design.machines.plate_width = 1.0;
        let said = doubts(&design, MM);
        assert_eq!(said.len(), 2, "{said:?}");
        assert!(said[0].contains("narrower than its barrels"), "{said:?}");
        assert!(said[1].contains("thicker than it is wide"), "{said:?}");
        design.machines.plate_width = design.machines.barrel_diameter;
        assert!(doubts(&design, MM).is_empty());
    }

    #[test]
    fn bare_inches_that_read_as_millimetres_are_remarked_upon() {
        let path = Path::new(concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/params/turnstone.toml"
        ));
        let text = std::fs::read_to_string(path).unwrap();
        let said = |change: &dyn Fn(&str) -> Option<String>| {
            let lines = text
                .lines()
                .map(|line| change(line).unwrap_or_else(|| line.to_owned()));
            let text = lines.collect::<Vec<_>>().join("\n");
            let dir = path.parent().unwrap();
            doubts(&read_str(&text, path, dir).unwrap(), MM)
        };
        assert!(said(&|_| None).is_empty());
        let with = |key: &str, typed: &str| {
            said(&|line| {
                let own = line.split('=').next().unwrap_or_default().trim() == key;
                own.then(|| format!("{key} = {typed}"))
            })
        };
        let span = with("string_span", "28");
        assert_eq!(
            span,
            [
                "nut.string_span is 28 in (711.20 mm), far more than is usual (common practice); \
              write \"28 mm\" if millimetres are meant"
            ]
        );
        // With its unit it is meant so, and 63 is no thickness in either unit.
        assert!(with("string_span", "\"28 in\"").is_empty());
        let thick = with("thickness", "63");
        assert!(
            thick
                .join("")
                .contains("head.thickness is 63 in (1600.20 mm)"),
            "{thick:?}"
        );
        assert!(thick.join("").ends_with("look at it again"), "{thick:?}");
    }
}
