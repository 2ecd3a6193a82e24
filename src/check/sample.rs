//! Designs for tests, built in code.

use std::collections::BTreeMap;

use crate::input::*;

/// The contract's example: a six-string classical, without counterbore, screws or bushes.
pub(super) fn sandpiper() -> Design {
    Design {
        title: "Sandpiper".to_owned(),
        unit: Unit::Mm,
        job: Job::default(),
        head: Head {
            length: 196.0,
            side_start: 0.0,
            side_end: 184.0,
            half_width_at_start: both(31.5),
            half_width_at_end: both(35.5),
            shoulder_width: None,
            thickness: 20.4,
            thickness_at_crest: 20.4,
            face_veneer: 2.4,
            back_veneer: 0.6,
            veneers_on: true,
            angle: 14.0_f64.to_radians(),
            crest: Crest::Arch,
            edge_radius: 0.0,
        },
        nut: Nut {
            strings: spread(43.0, 6),
            string_height: 4.2,
        },
        machines: Machines {
            barrel_diameter: 10.0,
            barrel_length: 30.5,
            string_hole: 19.0,
            plate_width: 17.4,
            plate_thickness: 1.2,
            axis_offset: 0.0,
            pitches: PerSide {
                treble: vec![35.0, 35.0],
                bass: vec![35.0, 35.0],
            },
            overhang: both([17.0, 18.5]),
            screws: None,
        },
        placement: Placement {
            along: Along::Centred,
            depth: Across::Centred,
        },
        bores: Bores {
            diameter: 10.5,
            depth: BoreDepth::BeyondBarrel(2.0),
            point: Point::Angle(118.0_f64.to_radians()),
            counterbore: None,
        },
        slots: Some(Slots {
            width: 15.0,
            lie: Lie::Rib(14.0),
            end_margin: [18.0, 18.0],
            corner_radius: 7.5,
            ramp: Some(Ramp {
                mouth: 19.0,
                angle: 24.0_f64.to_radians(),
            }),
        }),
        guide: Guide {
            depth: 24.0,
            height: 20.4,
            axis_height: None,
            end_margin: 31.0,
            bore_diameter: 10.5,
            bush_diameter: None,
            scribe: Some(Scribe {
                width: 0.8,
                depth: 0.4,
            }),
        },
        press: Some(Press {
            travel: 80.0,
            daylight: None,
            bit_length: None,
            flute_length: None,
        }),
        print: Print {
            head_allowance: 0.2,
            block_allowance: 0.2,
            bush_allowance: 0.0,
            chord: 0.02,
        },
        limits: BTreeMap::new(),
        places: BTreeMap::new(),
        files: Vec::new(),
    }
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
