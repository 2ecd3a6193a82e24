//! Tables beyond the contract's: defaults, and a maker's own figures.

use barrelhead::input::{DiameterBasis, DrilledAlong, Side};

use super::{LEAST, design, good, near};

#[test]
fn keys_of_tolerances_and_template() {
    let d = design(LEAST);
    let t = &d.tolerances;
    assert_eq!(
        (t.pitch, t.bore_diameter, t.axis_below_face),
        (0.1, 0.1, 0.2)
    );
    assert_eq!(
        (t.squareness, t.bush_seat.name),
        (0.3_f64.to_radians(), "H7")
    );
    assert!(d.template.is_none());
    let slots = "[slots]\nwidth = 15\nrib = 14\nend_margin = [18, 18]\n";
    let d = design(&format!("{LEAST}{slots}"));
    let template = d.template.unwrap();
    assert_eq!((template.cutter, template.bush), (14.0, 14.0));
    let d = design(&format!("{LEAST}{slots}corner_radius = 1.5\n"));
    assert!((d.template.unwrap().cutter - 3.0).abs() < 1e-12);
    let d = design(&format!(
        "{LEAST}{slots}[template]\ncutter = '1/2 in'\nbush = 19\n[tolerances]\npitch = 0.05\nbore_diameter = '0.002 in'
         axis_below_face = 0.15\nsquareness = 0.2\nbush_seat = 'F7'"
    ));
    let template = d.template.unwrap();
    assert_eq!((template.cutter, template.bush), (12.7, 19.0));
    let t = &d.tolerances;
    assert_eq!(
        (t.pitch, t.bore_diameter, t.axis_below_face),
        (0.05, 0.0508, 0.15)
    );
    assert_eq!(
        (t.squareness, t.bush_seat.name),
        (0.2_f64.to_radians(), "F7")
    );
}

#[test]
fn drilling_has_defaults_and_takes_the_makers_own() {
    let d = design(LEAST).drilling;
    assert_eq!(
        (d.position, d.wander, d.growth, d.pitch),
        (0.1, 0.1, 0.05, 0.03)
    );
    assert!((d.squareness - 0.1_f64.to_radians()).abs() < 1e-15);
    let d = design(&format!(
        "{LEAST}[drilling]\nposition = '0.005 in'\nsquareness = 0\nwander = 0.2\ngrowth = 0\npitch = 0.01\n"
    ))
    .drilling;
    assert_eq!(
        (d.position, d.wander, d.growth, d.pitch),
        (0.127, 0.2, 0.0, 0.01)
    );
    assert!(d.squareness.abs() < 1e-15);
}

#[test]
fn a_bed_is_three_lengths_in_the_files_unit() {
    let text = std::fs::read_to_string("tests/good/example.toml").unwrap();
    let bed = |line: &str| {
        let text = text.replace("[print]\n", &format!("[print]\n{line}\n"));
        let design = barrelhead::input::read_str(&text, "a.toml".as_ref(), "tests/good".as_ref());
        design.unwrap().print.bed
    };
    assert_eq!(bed(""), None);
    assert_eq!(
        bed("bed = [220, \"8 in\", 250.5]"),
        Some([220.0, 203.2, 250.5])
    );
}

#[test]
fn the_rig_has_defaults_and_takes_its_own_measures() {
    let plain = design(LEAST).rig;
    near(plain.base, 18.0);
    near(plain.upright, 24.0);
    near(plain.packing, 12.0);
    assert_eq!(plain.fixing, "M5");
    let rig = design(&format!(
        "{LEAST}[rig]\nbase = '3/4 in'\nupright = 30\nfront = 100\nbehind = 70\nbeyond = 50\nrelief = 14\n\
         packing = 9\nwedge_thin_end = 2\nfixing = 'M6'"
    ))
    .rig;
    near(rig.base, 19.05);
    let [upright, front, behind] = [rig.upright, rig.front, rig.behind];
    for (got, wanted) in [(upright, 30.0), (front, 100.0), (behind, 70.0)] {
        near(got, wanted);
    }
    let [beyond, relief, packing] = [rig.beyond, rig.relief, rig.packing];
    for (got, wanted) in [(beyond, 50.0), (relief, 14.0), (packing, 9.0)] {
        near(got, wanted);
    }
    near(rig.wedge_thin_end, 2.0);
    assert_eq!(rig.fixing, "M6");
}

#[test]
fn records_of_bores_in_every_way_they_can_be_measured() {
    let text = format!(
        "{LEAST}
[[drilled]]
side = \"treble\"
number = 2
edges_from_previous = [24.5, \"1-3/8 in\"]
edges_below_face = [4.6, 15.1]

[[drilled]]
side = \"bass\"
number = 2

[[drilled]]
side = \"treble\"
number = 1
along = 40.2
below_face = 9.8
lean_along = 0.5
lean_across = -0.25
diameter = 10.6
"
    );
    let drilled = design(&text).drilled;
    let [first, second, third] = drilled.as_slice() else {
        panic!("{drilled:?}");
    };
    assert_eq!((first.side, first.number), (Side::Treble, 1));
    assert_eq!(first.along, DrilledAlong::FromNutLine(40.2));
    assert_eq!((first.below_face, first.diameter), (Some(9.8), Some(10.6)));
    near(first.lean_along, 0.5_f64.to_radians());
    near(first.lean_across, -0.25_f64.to_radians());
    let DrilledAlong::FromPrevious(centre) = second.along else {
        panic!("{second:?}");
    };
    // 1-3/8 in = 34.925 mm.
    near(centre, (24.5 + 34.925) / 2.0);
    near(second.below_face.unwrap(), 9.85);
    near(second.diameter.unwrap(), (34.925 - 24.5 + 10.5) / 2.0);
    assert_eq!(
        (third.side, third.along),
        (Side::Bass, DrilledAlong::AsDesigned)
    );
    assert_eq!((third.below_face, third.diameter), (None, None));
}

#[test]
fn strings_are_given_or_taken_as_is_usual() {
    assert!(design(LEAST).strings.is_none());
    let six = std::fs::read_to_string(good("example.toml")).unwrap();
    let strung = |table: &str| design(&format!("{six}\n{table}")).strings.unwrap();
    let usual = strung("[strings]");
    assert_eq!(usual.diameters, [1.09, 0.89, 0.74, 1.02, 0.82, 0.71]);
    assert_eq!(usual.diameter_basis, DiameterBasis::FromMemory);
    let on = |numbers: [usize; 6]| -> Vec<(Side, usize)> {
        let sides = [Side::Bass, Side::Treble];
        numbers
            .into_iter()
            .enumerate()
            .map(|(i, n)| (sides[i / 3], n))
            .collect()
    };
    assert_eq!(usual.barrels, on([1, 2, 3, 3, 2, 1]));
    assert_eq!(usual.turns, [3.0; 6]);
    assert_eq!((usual.over, usual.outwards), (vec![true; 6], vec![true; 6]));
    let own = strung(
        "[strings]\ndiameters = \"0.04 in\"\nbarrels = [2, 1, 3, 1, 2, 3]\nturns = [3, 3, 3, 4, 4, 4.5]\n\
         leaves = [\"over\", \"over\", \"under\", \"over\", \"over\", \"over\"]\nwalk = \"in\"",
    );
    for diameter in &own.diameters {
        near(*diameter, 1.016);
    }
    assert_eq!(own.diameter_basis, DiameterBasis::Given);
    assert_eq!(own.barrels, on([2, 1, 3, 1, 2, 3]));
    assert_eq!(own.turns, [3.0, 3.0, 3.0, 4.0, 4.0, 4.5]);
    assert_eq!(own.over, [true, true, false, true, true, true]);
    assert_eq!(own.outwards, [false; 6]);
    // Thin posts carry steel; how many strings decides the rest.
    let posts = six.replace("barrel_diameter = 10.0", "barrel_diameter = 6.35");
    let steel = design(&format!("{posts}\n[strings]")).strings.unwrap();
    assert_eq!(
        (steel.diameters[0], steel.diameter_basis),
        (1.37, DiameterBasis::CommonPractice)
    );
    let one = design(&format!("{LEAST}\n[strings]")).strings.unwrap();
    assert_eq!(one.diameter_basis, DiameterBasis::Assumed);
}
