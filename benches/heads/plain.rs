//! A plain head of any count of bores.

/// A plain head with this many bores a side, 24 mm apart: nothing in it but what is multiplied.
pub fn plain(bores: usize) -> String {
    let span = 24.0 * (bores as f64 - 1.0);
    format!(
        r#"
title = "{bores} bores a side"
head = {{ length = {length:.1}, width_at_nut_end = 63.0, width_at_crest_end = 66.0, thickness = 20.4, angle = 14.0 }}
nut = {{ string_span = 43.0, string_height = 4.2 }}
placement = {{ first_barrel = 57.0 }}
bores = {{ diameter = 10.5, beyond_barrel = 2.0 }}
slots = {{ width = 15.0, rib = 14.0, end_margin = [18.0, 18.0], ramp = {{ mouth = 19.0, angle = 24.0 }} }}
guide = {{ depth = 24.0, end_margin = 31.0, scribe = {{ width = 0.8, depth = 0.4 }} }}

[machines]
barrel_diameter = 10.0
barrel_length = 30.5
string_hole = 19.0
plate_width = 17.4
plate_thickness = 1.2
barrels = {bores}
over_outer_barrels = {over:.1}
overhang = [17.0, 18.5]
"#,
        length = span + 88.0,
        over = span + 10.0,
    )
}
