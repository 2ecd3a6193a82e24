//! Designs for tests, built in code.

use crate::input::sample::six_string;
use crate::input::*;

/// The six-string sample on a press of 80 mm travel.
pub(super) fn sandpiper() -> Design {
    let mut design = six_string();
    design.press = Some(Press {
        travel: 80.0,
        daylight: None,
        bit_length: None,
        flute_length: None,
    });
    // Findings of these tests point at no file.
    design.places = std::sync::Arc::default();
    design
}

/// The same for both sides.
pub(super) fn both<T: Clone>(value: T) -> PerSide<T> {
    PerSide {
        treble: value.clone(),
        bass: value,
    }
}

/// `count` strings evenly over `span`.
pub(super) fn spread(span: f64, count: usize) -> Vec<f64> {
    (0..count)
        .map(|i| span * (i as f64 / (count as f64 - 1.0) - 0.5))
        .collect()
}

/// Seven strings, four machines on the bass side: three mirrored pairs and one bass bore alone.
pub(super) fn curlew() -> Design {
    let mut d = sandpiper();
    d.title = "Curlew".to_owned();
    head(&mut d, 216.0, 202.0, [66.0, 73.0], 21.0, [2.6, 0.0], 13.0);
    nut(&mut d, 51.0, 7, 6.0);
    machines(&mut d, [10.0, 32.5, 20.0], [18.0, 1.3], [17.0, 18.5]);
    d.machines.pitches.bass = vec![35.0; 3];
    d.placement.along = Along::FirstBarrel(both(58.0));
    bores(&mut d, 10.5, 2.5);
    slots(&mut d, 16.0, 13.0, 18.0, 14.0);
    guide(&mut d, 24.0, 28.0);
    d
}

/// Ten strings, five machines a side.
pub(super) fn godwit() -> Design {
    let mut d = sandpiper();
    d.title = "Godwit".to_owned();
    head(&mut d, 252.0, 238.0, [78.0, 82.0], 21.4, [2.6, 0.0], 12.0);
    nut(&mut d, 64.0, 10, 6.5);
    machines(&mut d, [10.0, 36.0, 21.0], [18.0, 1.3], [17.0, 17.0]);
    d.machines.pitches = both(vec![35.0; 4]);
    d.placement.along = Along::FirstBarrel(both(64.0));
    bores(&mut d, 10.5, 2.0);
    slots(&mut d, 18.0, 20.0, 18.0, 16.0);
    guide(&mut d, 24.0, 28.0);
    d
}

/// A slotted ukulele, two machines a side, flat bit, small press.
pub(super) fn dunlin() -> Design {
    let mut d = sandpiper();
    d.title = "Dunlin".to_owned();
    head(&mut d, 122.0, 112.0, [47.0, 53.0], 16.0, [0.0, 0.0], 12.0);
    nut(&mut d, 28.0, 4, 3.5);
    machines(&mut d, [8.0, 23.5, 14.0], [13.6, 1.0], [12.0, 12.0]);
    d.machines.pitches = both(vec![30.0]);
    bores(&mut d, 8.4, 2.5);
    d.bores.point = Point::Flat;
    slots(&mut d, 11.0, 10.0, 13.0, 13.0);
    guide(&mut d, 18.0, 25.0);
    d.guide.scribe = None;
    press(&mut d, 50.0);
    d
}

/// A slotted steel-string with thin posts, in inches, the block bushed.
pub(super) fn turnstone() -> Design {
    let inch = crate::units::MM_PER_INCH;
    let mut d = sandpiper();
    d.title = "Turnstone".to_owned();
    d.unit = Unit::Inch;
    head(
        &mut d,
        7.0 * inch,
        6.625 * inch,
        [2.25 * inch, 2.5 * inch],
        11.0 / 16.0 * inch,
        [0.0, 0.0],
        15.0,
    );
    nut(&mut d, 1.4375 * inch, 6, 0.15 * inch);
    machines(
        &mut d,
        [0.25 * inch, 1.125 * inch, 0.72 * inch],
        [0.56 * inch, 0.05 * inch],
        [0.65 * inch, 0.65 * inch],
    );
    d.machines.pitches = both(vec![1.375 * inch; 2]);
    d.placement.along = Along::FirstBarrel(both(2.0 * inch));
    bores(&mut d, 17.0 / 64.0 * inch, 0.125 * inch);
    slots(
        &mut d,
        0.5 * inch,
        7.0 / 16.0 * inch,
        0.6 * inch,
        0.75 * inch,
    );
    guide(&mut d, 0.75 * inch, 1.25 * inch);
    d.guide.bush_diameter = Some(0.5 * inch);
    d.guide.scribe = Some(Scribe {
        width: 0.03 * inch,
        depth: 0.015 * inch,
    });
    press(&mut d, 2.5 * inch);
    d
}

/// Twelve strings, six thin posts a side.
pub(super) fn whimbrel() -> Design {
    let mut d = sandpiper();
    d.title = "Whimbrel".to_owned();
    head(&mut d, 240.0, 226.0, [60.0, 66.0], 17.4, [1.6, 0.0], 14.0);
    nut(&mut d, 40.0, 12, 5.0);
    machines(&mut d, [6.35, 29.5, 18.5], [14.0, 1.2], [16.0, 16.0]);
    d.machines.pitches = both(vec![24.5; 5]);
    d.placement.along = Along::FirstBarrel(both(52.0));
    bores(&mut d, 6.8, 3.0);
    slots(&mut d, 14.0, 12.0, 15.0, 18.0);
    guide(&mut d, 20.0, 25.0);
    d
}

fn head(
    d: &mut Design,
    length: f64,
    side_end: f64,
    widths: [f64; 2],
    thickness: f64,
    veneers: [f64; 2],
    angle: f64,
) {
    d.head.length = length;
    d.head.side_end = side_end;
    d.head.half_width_at_start = both(widths[0] / 2.0);
    d.head.half_width_at_end = both(widths[1] / 2.0);
    d.head.thickness = thickness;
    d.head.thickness_at_crest = thickness;
    [d.head.face_veneer, d.head.back_veneer] = veneers;
    d.head.angle = angle.to_radians();
    d.guide.height = thickness;
}

fn nut(d: &mut Design, span: f64, count: usize, height: f64) {
    d.nut = Nut {
        strings: spread(span, count),
        string_height: height,
    };
}

/// Barrel diameter, length and string hole; plate width and thickness; overhangs.
fn machines(d: &mut Design, barrel: [f64; 3], plate: [f64; 2], overhang: [f64; 2]) {
    let m = &mut d.machines;
    [m.barrel_diameter, m.barrel_length, m.string_hole] = barrel;
    [m.plate_width, m.plate_thickness] = plate;
    m.overhang = both(overhang);
}

fn bores(d: &mut Design, diameter: f64, beyond: f64) {
    d.bores.diameter = diameter;
    d.bores.depth = BoreDepth::BeyondBarrel(beyond);
    d.guide.bore_diameter = diameter;
}

fn slots(d: &mut Design, width: f64, rib: f64, margin: f64, mouth: f64) {
    d.slots = Some(Slots {
        width,
        lie: Lie::Rib(rib),
        end_margin: [margin; 2],
        corner_radius: width / 2.0,
        ramp: Some(Ramp {
            mouth,
            angle: 24.0_f64.to_radians(),
        }),
    });
}

fn guide(d: &mut Design, depth: f64, end_margin: f64) {
    d.guide.depth = depth;
    d.guide.end_margin = end_margin;
}

fn press(d: &mut Design, travel: f64) {
    if let Some(press) = &mut d.press {
        press.travel = travel;
    }
}
