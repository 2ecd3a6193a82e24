//! The rib window as a sentence and a scale.

use crate::check::RibWindow;
use crate::units::{Lengths, number};

use super::escape::text;

/// Drawing units: width, and the ends of the scale within it.
const WIDTH: f64 = 320.0;
const LEFT: f64 = 50.0;
const RIGHT: f64 = 270.0;

/// The window, beside the rib as it is.
pub fn draw(window: RibWindow, rib: Option<f64>, lengths: Lengths) -> String {
    let range = if !window.is_open() {
        format!(
            "None: the barrels want at least {} to bear 3 mm, the innermost strings at most {}.",
            lengths.show(window.least),
            lengths.show(window.greatest)
        )
    } else if window.greatest.is_finite() {
        format!(
            "From {}, for 3 mm of bearing in every bore, to {}, so that every string clears it by \
             0.5 mm.",
            lengths.show(window.least),
            lengths.show(window.greatest)
        )
    } else {
        format!(
            "From {}, for 3 mm of bearing in every bore; no string limits it.",
            lengths.show(window.least)
        )
    };
    let now = rib.map_or(String::new(), |rib| {
        format!(" The rib is {}.", lengths.show(rib))
    });
    format!(
        "<h3>Rib window</h3>\n<p class=\"rib-window\">{}{}</p>\n{}",
        text(&range),
        text(&now),
        scale(window, rib)
    )
}

/// Both limits and the rib on one line; nothing to draw where no string limits the rib.
fn scale(window: RibWindow, rib: Option<f64>) -> String {
    if !window.greatest.is_finite() {
        return String::new();
    }
    let rib_at = rib.unwrap_or(window.least);
    let low = window.least.min(window.greatest).min(rib_at);
    let high = window.least.max(window.greatest).max(rib_at);
    let span = (high - low).max(1e-6);
    let at = |mm: f64| LEFT + (mm - low) / span * (RIGHT - LEFT);
    let (least, greatest) = (at(window.least), at(window.greatest));
    let (from, to) = (least.min(greatest), least.max(greatest));
    let open = if window.is_open() { "open" } else { "none" };
    let (first, last) = if window.is_open() {
        (window.least, window.greatest)
    } else {
        (window.greatest, window.least)
    };
    let mut out = format!(
        "<svg class=\"rib {open}\" viewBox=\"0 0 {WIDTH} 48\" role=\"img\" \
         xmlns=\"http://www.w3.org/2000/svg\"><title>Rib window: {} to {} mm</title>\
         <line class=\"track\" x1=\"{:.1}\" y1=\"24\" x2=\"{:.1}\" y2=\"24\"/>\
         <rect class=\"band\" x=\"{from:.1}\" y=\"19\" width=\"{:.1}\" height=\"10\"/>\
         <path class=\"end\" d=\"M{from:.1} 16v16M{to:.1} 16v16\"/>\
         <text x=\"{:.1}\" y=\"28\" text-anchor=\"end\">{}</text>\
         <text x=\"{:.1}\" y=\"28\">{}</text>",
        number(window.least),
        number(window.greatest),
        LEFT - 2.0,
        RIGHT + 2.0,
        to - from,
        from - 5.0,
        number(first),
        to + 5.0,
        number(last),
    );
    if let Some(rib) = rib {
        let x = at(rib);
        out.push_str(&format!(
            "<path class=\"now\" d=\"M{x:.1} 33l-5 9h10z\"/><path class=\"end\" d=\"M{x:.1} 15v18\"/>\
             <text x=\"{x:.1}\" y=\"11\" text-anchor=\"middle\">rib {}</text>",
            number(rib)
        ));
    }
    out.push_str("</svg>\n");
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_window_says_what_it_is() {
        let mm = Lengths { inches: false };
        let window = |least, greatest| RibWindow { least, greatest };
        let open = draw(window(11.0, 16.5), Some(14.0), mm);
        assert!(open.contains("From 11.00 mm") && open.contains("to 16.50 mm"));
        assert!(open.contains("The rib is 14.00 mm.") && open.contains("rib 14.00"));
        let none = draw(window(17.0, 16.5), Some(14.0), mm);
        assert!(
            none.contains("None: the barrels want at least 17.00 mm"),
            "{none}"
        );
        let free = draw(window(5.0, f64::INFINITY), None, mm);
        assert!(
            free.contains("no string limits it") && !free.contains("<svg"),
            "{free}"
        );
    }
}
