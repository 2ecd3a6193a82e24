//! Variants as comma-separated values: the numbers that were varied, the verdict, the check that decides
//! it, and the margin of every check.

use super::csv::{line, number, text};
use crate::study::vary::{Axis, Variant};

/// The list. `folders` has the folder of each variant that was made.
#[must_use]
pub fn variants_csv(axes: &[Axis], variants: &[Variant], folders: &[Option<String>]) -> Vec<u8> {
    let mut codes: Vec<&'static str> = Vec::new();
    for finding in variants
        .iter()
        .flat_map(|variant| variant.found.iter().flatten())
    {
        if !codes.contains(&finding.code) {
            codes.push(finding.code);
        }
    }
    codes.sort_unstable();
    let made = folders.iter().any(Option::is_some);
    let mut heading: Vec<String> = axes
        .iter()
        .map(|axis| {
            let unit = match axis.number.kind {
                crate::input::NumberKind::Length => " mm",
                crate::input::NumberKind::Degrees => " deg",
                _ => "",
            };
            text(&format!("{}{unit}", axis.number.key))
        })
        .collect();
    heading.extend(["verdict", "worst_check", "where", "why_refused"].map(text));
    if made {
        heading.push(text("folder"));
    }
    heading.extend(codes.iter().map(|code| text(&format!("margin {code}"))));
    let mut out = line(heading);
    for (index, variant) in variants.iter().enumerate() {
        let mut cells: Vec<String> = variant.values.iter().map(|value| number(*value)).collect();
        let worst = variant.worst();
        cells.push(text(variant.grade().name()));
        cells.push(worst.map_or(String::new(), |worst| text(worst.code)));
        cells.push(worst.map_or(String::new(), |worst| text(&worst.at)));
        let refused = variant.found.as_ref().err();
        cells.push(refused.map_or(String::new(), |refusal| text(&refusal.message)));
        if made {
            let folder = folders.get(index).and_then(Option::as_deref);
            cells.push(text(folder.unwrap_or_default()));
        }
        for code in &codes {
            let found = variant
                .found
                .iter()
                .flatten()
                .find(|finding| finding.code == *code);
            let margin = found
                .map(|finding| finding.margin)
                .filter(|margin| margin.is_finite());
            cells.push(margin.map_or(String::new(), number));
        }
        out.push_str(&line(cells));
    }
    out.into_bytes()
}
