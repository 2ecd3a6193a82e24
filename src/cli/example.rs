//! A plain six-string design and a finding, for the tests of this folder.

use std::collections::BTreeMap;

use crate::check::{Basis, Finding, Limit, Verdict};
use crate::input::{
    Across, Along, BoreDepth, Bores, Crest, Design, Guide, Head, Job, Lie, Machines, Nut, PerSide,
    Place, Placement, Point, Print, Ramp, Slots, Unit,
};

/// Six strings, three barrels a side, millimetres.
pub fn six_string() -> Design {
    let both = |value: f64| PerSide {
        treble: value,
        bass: value,
    };
    Design {
        title: "Six".into(),
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
            angle: 14f64.to_radians(),
            crest: Crest::Arch,
            edge_radius: 0.0,
        },
        nut: Nut {
            strings: vec![-21.5, -12.9, -4.3, 4.3, 12.9, 21.5],
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
            overhang: PerSide {
                treble: [17.0, 18.5],
                bass: [17.0, 18.5],
            },
            screws: None,
        },
        placement: Placement {
            along: Along::Centred,
            depth: Across::Centred,
        },
        bores: Bores {
            diameter: 10.5,
            depth: BoreDepth::BeyondBarrel(2.0),
            point: Point::Angle(118f64.to_radians()),
            counterbore: None,
        },
        slots: Some(Slots {
            width: 15.0,
            lie: Lie::Rib(14.0),
            end_margin: [18.0, 18.0],
            corner_radius: 7.5,
            ramp: Some(Ramp {
                mouth: 19.0,
                angle: 24f64.to_radians(),
            }),
        }),
        guide: Guide {
            depth: 24.0,
            height: 20.4,
            axis_height: None,
            end_margin: 31.0,
            bore_diameter: 10.5,
            bush_diameter: None,
            scribe: None,
        },
        press: None,
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

/// A finding in millimetres; a margin below zero makes it a caution with advice.
pub fn finding(code: &'static str, value: f64, limit: Limit, margin: f64) -> Finding {
    Finding {
        code,
        title: "Some title",
        verdict: if margin < 0.0 {
            Verdict::Caution
        } else {
            Verdict::Clear
        },
        value,
        limit,
        margin,
        unit: "mm",
        basis: Basis::Assumed,
        at: "treble bore 2".into(),
        advice: (margin < 0.0).then(|| "make it thicker by 0.50 mm".into()),
        place: Some(Place {
            file: "a.toml".into(),
            line: 7,
        }),
    }
}
