//! The example that uses every table of the contract: every value and every place.

use barrelhead::input::{
    Across, Along, BoreDepth, Crest, Lie, OwnLimit, PerSide, Point, Ramp, Scribe, Unit, read,
};

use super::{good, near};

#[test]
fn the_example_with_every_table() {
    let d = read(&good("example.toml")).unwrap();
    assert_eq!((d.title.as_str(), d.unit), ("Sandpiper", Unit::Mm));
    let job = [
        &d.job.number,
        &d.job.revision,
        &d.job.date,
        &d.job.material,
        &d.job.quantity,
        &d.job.contact,
        &d.job.owner,
        &d.job.creator,
        &d.job.approver,
    ];
    assert_eq!(
        job,
        [
            "07",
            "B",
            "2026-03-14",
            "Spanish cedar, quarter-sawn",
            "1",
            "",
            "the workshop",
            "bench 2",
            ""
        ]
    );
    let h = &d.head;
    for (value, typed) in [
        (h.length, 196.0),
        (h.side_start, 0.0),
        (h.side_end, 184.0),
        (h.half_width_at_start.treble, 31.5),
        (h.half_width_at_start.bass, 31.5),
        (h.half_width_at_end.treble, 35.5),
        (h.half_width_at_end.bass, 35.5),
        (h.thickness, 20.4),
        (h.thickness_at_crest, 20.4),
        (h.face_veneer, 2.4),
        (h.back_veneer, 0.6),
        (h.angle, 14f64.to_radians()),
        (h.edge_radius, 0.0),
        (d.nut.string_height, 4.2),
    ] {
        near(value, typed);
    }
    assert!(h.veneers_on && h.crest == Crest::Arch && h.shoulder_width.is_none());
    for (x, typed) in d
        .nut
        .strings
        .iter()
        .zip([-21.5, -12.9, -4.3, 4.3, 12.9, 21.5])
    {
        near(*x, typed);
    }
    let m = &d.machines;
    assert_eq!(
        (m.barrel_diameter, m.barrel_length, m.string_hole),
        (10.0, 30.5, 19.0)
    );
    assert_eq!(
        (m.plate_width, m.plate_thickness, m.axis_offset),
        (17.4, 1.2, 0.0)
    );
    assert_eq!(
        m.pitches,
        PerSide {
            treble: vec![35.0, 35.0],
            bass: vec![35.0, 35.0]
        }
    );
    assert_eq!(
        m.overhang,
        PerSide {
            treble: [17.0, 18.5],
            bass: [17.0, 18.5]
        }
    );
    let screws = m.screws.as_ref().unwrap();
    assert_eq!(screws.points, [[-11.0, 0.0], [81.0, 0.0]]);
    assert_eq!((screws.pilot, screws.depth), (1.6, 7.0));
    assert_eq!(
        (d.placement.along, d.placement.depth),
        (Along::Centred, Across::Centred)
    );
    assert_eq!(
        (d.bores.diameter, d.bores.depth),
        (10.5, BoreDepth::BeyondBarrel(2.0))
    );
    assert_eq!(
        (d.bores.point, d.bores.counterbore),
        (Point::Angle(118f64.to_radians()), None)
    );
    let s = d.slots.as_ref().unwrap();
    assert_eq!(
        (s.width, s.lie, s.end_margin, s.corner_radius),
        (15.0, Lie::Rib(14.0), [18.0, 18.0], 7.5)
    );
    assert_eq!(
        s.ramp,
        Some(Ramp {
            mouth: 19.0,
            angle: 24f64.to_radians()
        })
    );
    let g = &d.guide;
    assert_eq!(
        (g.depth, g.height, g.axis_height, g.end_margin),
        (24.0, 20.4, None, 31.0)
    );
    assert_eq!((g.bore_diameter, g.bush_diameter), (10.5, None));
    assert_eq!(
        g.scribe,
        Some(Scribe {
            width: 0.8,
            depth: 0.4
        })
    );
    let p = d.press.as_ref().unwrap();
    assert_eq!(
        (p.travel, p.daylight, p.bit_length, p.flute_length),
        (80.0, Some(330.0), Some(133.0), Some(87.0))
    );
    let p = &d.print;
    assert_eq!(
        (
            p.head_allowance,
            p.block_allowance,
            p.bush_allowance,
            p.chord
        ),
        (0.2, 0.2, 0.0, 0.02)
    );
    assert_eq!(d.limits.len(), 2);
    assert_eq!(d.limits["bearing"], OwnLimit::Single(2.5));
    assert_eq!(
        d.limits["clearance"],
        OwnLimit::Band {
            low: 0.3,
            high: 0.7
        }
    );
    assert_eq!(d.files, [good("example.toml")]);
}

#[test]
fn every_place_is_the_line_that_set_it() {
    let path = good("example.toml");
    let text = std::fs::read_to_string(&path).unwrap();
    let d = read(&path).unwrap();
    for (key, place) in d.places.iter() {
        let line = text.lines().nth(place.line - 1).unwrap();
        let name = key.rsplit('.').next().unwrap();
        assert!(line.contains(name), "{key} at line {}: {line}", place.line);
        assert_eq!(place.file, path);
    }
    for key in [
        "title",
        "unit",
        "job.contact",
        "job.owner",
        "head.thickness_at_crest",
        "machines.screws.points",
        "slots.ramp.angle",
        "guide.scribe.depth",
        "print.chord",
        "limits.clearance.low",
        "press.flute_length",
    ] {
        assert!(d.places.contains_key(key), "{key}");
    }
}
