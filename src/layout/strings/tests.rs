//! One design's strings in longhand trigonometry; the laws of the mirror and of small strings; the
//! distances against sampling.

use glam::DVec3;

use crate::input::sample::{self, six_string};
use crate::input::{Design, read_str};
use crate::layout::{Copy, Layout};

use super::Near;

/// The six-string sample with `[strings]`: basses 1.09, 0.89, 0.74, trebles 1.02, 0.82, 0.71, three
/// turns; outer strings walk out, the others in.
fn strung() -> Design {
    let mut design = six_string();
    design.strings = sample::strung(&design);
    if let Some(strings) = &mut design.strings {
        strings.outwards = vec![true, false, false, false, false, true];
    }
    design
}

fn layout(design: &Design) -> Layout {
    Layout::new(design, Copy::Finished)
}

fn close(got: f64, wanted: f64, what: &str) {
    // Both sides are short sums in double precision.
    assert!((got - wanted).abs() < 1e-9, "{what}: {got} is not {wanted}");
}

#[test]
fn the_first_treble_string_in_longhand() {
    // String 6: x = 21.5 at the nut, 4.2 over the face, to treble barrel 1.
    let layout = layout(&strung());
    let string = &layout.strings[5];
    let wound = string.strung.as_ref().unwrap();
    // The side rises 4 in 184; the plate, 17 + 70 + 18.5 long, is centred on it.
    let slant = 184.0_f64.hypot(4.0);
    let (sin, cos) = (4.0 / slant, 184.0 / slant);
    let s = slant / 2.0 - 105.5 / 2.0 + 17.0;
    let entry = [31.5 + s * sin, s * cos];
    // Out from the hole, 19.0 from the plate, by three turns of 0.71.
    let depth: f64 = 19.0 - 3.0 * 0.71;
    close(wound.leaves_at, depth, "leaves at");
    close(wound.winding[0], depth - 0.355, "winding from");
    close(wound.winding[1], 19.355, "winding to");
    let axis = [entry[0] - depth * cos, entry[1] + depth * sin];
    // Square to the axis (−cos, sin), towards the nut: (−sin, −cos).
    let out = [21.5 - axis[0], -axis[1]];
    let level = -out[0] * sin - out[1] * cos;
    let up = 4.2 + 10.2;
    // Centre line of the winding: radius 5 + 0.355.
    let apart = (5.355 / level.hypot(up)).acos();
    let angle = (up / level).atan() + apart;
    let touch = [
        axis[0] - 5.355 * angle.cos() * sin,
        axis[1] - 5.355 * angle.cos() * cos,
        -10.2 + 5.355 * angle.sin(),
    ];
    for (got, wanted) in string.at_barrel.to_array().into_iter().zip(touch) {
        close(got, wanted, "touches");
    }
    // The run is square to the radius there.
    let radius = string.at_barrel - DVec3::new(axis[0], axis[1], -10.2);
    close(
        (string.run().to - string.run().from).dot(radius),
        0.0,
        "tangent",
    );
    let (dx, dy, fall) = (touch[0] - 21.5, touch[1], 4.2 - touch[2]);
    close(
        string.run().length(),
        (dx * dx + dy * dy + fall * fall).sqrt(),
        "length",
    );
    close(string.side_pull, (dx.abs() / dy).atan(), "side pull");
    close(
        string.nut_break,
        14.0_f64.to_radians() + (fall / dy).atan(),
        "break",
    );
    let face = string.at_face.unwrap();
    close(face.x, 21.5 + dx * 4.2 / fall, "face x");
    close(face.y, dy * 4.2 / fall, "face y");

    // Distances. The slot: rib 14, so walls at 7 and 22; its end 18 before the first axis on the
    // mid-line x = 14.5; the mouth another 19 before that.
    let near = layout.string_to_wood(string);
    let distance = |to: Near| near.iter().find(|c| c.to == to).unwrap().distance;
    let tan = 4.0 / 184.0;
    let mouth = entry[1] + (entry[0] - 14.5) * tan - 18.0 - 19.0;
    // To the mouth's edge, a line across at z = 0: in side view, square to the run.
    let off = ((4.2 * dy - mouth * fall) / dy.hypot(fall)) - 0.355;
    close(distance(Near::Mouth), off, "mouth");
    // To the outer wall's edge, a line along at x = 22, z = 0: in the view from the nut the run goes
    // from (21.5, 4.2) past the edge; least at the foot of the edge on it.
    let edge = (((22.0 - 21.5) * fall + (0.0 - 4.2) * dx) / dx.hypot(fall)).abs();
    close(distance(Near::OuterWall), edge - 0.355, "outer wall");
    // To the ramp's floor: parallel planes seen from the side would meet; at the slot's end the
    // floor is 19·tan 24° deep, at the mouth 0. The run is nearest at one end of the floor.
    let steep = 24.0_f64.to_radians();
    let run_at = |y: f64| 4.2 - fall / dy * y;
    let above = |y: f64| (run_at(y) + (y - mouth) * steep.tan()) * steep.cos();
    // The floor is steeper than the run, so the string parts from it: nearest the mouth's edge.
    assert!(above(mouth + 1.0) > above(mouth));
    close(distance(Near::RampFloor), off, "floor");
}

#[test]
fn thin_strings_without_turns_run_as_the_contract_has_them() {
    let plain = layout(&six_string());
    let mut design = strung();
    if let Some(strings) = &mut design.strings {
        strings.diameters = vec![1e-9; 6];
        strings.turns = vec![0.0; 6];
    }
    let thin = layout(&design);
    for (plain, thin) in plain.strings.iter().zip(&thin.strings) {
        assert_eq!((plain.side, plain.barrel), (thin.side, thin.barrel));
        // All that is left is that a falling string touches the barrel past its top: by the angle φ
        // of its fall, 5·sin φ further from the nut and 5·(1 − cos φ) lower.
        let run = thin.at_barrel - thin.run().from;
        let fall = (-run.z).atan2(run.truncate().length());
        let between = thin.at_barrel - plain.at_barrel;
        assert!((between.y - 5.0 * fall.sin()).abs() < 0.02, "{between}");
        assert!(
            (between.z + 5.0 * (1.0 - fall.cos())).abs() < 0.002,
            "{between}"
        );
        assert!((plain.nut_break - thin.nut_break).to_degrees().abs() < 0.2);
        assert!((plain.side_pull - thin.side_pull).to_degrees().abs() < 0.2);
    }
}

#[test]
fn a_string_under_its_barrel_leaves_from_the_back() {
    let mut design = strung();
    if let Some(strings) = &mut design.strings {
        strings.over[5] = false;
    }
    let (over, under) = (layout(&strung()), layout(&design));
    assert!(over.strings[5].at_barrel.z > -10.2 && under.strings[5].at_barrel.z < -10.2);
    assert!(under.strings[5].nut_break > over.strings[5].nut_break);
    assert_eq!(over.strings[4], under.strings[4]);
}

#[test]
fn mirrored_strings_have_mirrored_paths_and_equal_distances() {
    let mut design = strung();
    if let Some(strings) = &mut design.strings {
        strings.diameters = vec![1.1, 0.9, 0.7, 0.7, 0.9, 1.1];
    }
    let layout = layout(&design);
    for (bass, treble) in layout.strings.iter().zip(layout.strings.iter().rev()) {
        let mirrored = bass.at_barrel * DVec3::new(-1.0, 1.0, 1.0);
        assert!(mirrored.distance(treble.at_barrel) < 1e-9);
        let all = |string| {
            let mut list = layout.string_to_wood(string);
            list.extend(layout.string_to_barrels(string));
            list.extend(layout.string_to_strings(string));
            let mut list: Vec<f64> = list.iter().map(|c| c.distance).collect();
            list.sort_by(f64::total_cmp);
            list
        };
        let (a, b) = (all(bass), all(treble));
        assert!(a.len() == b.len() && a.len() > 10);
        for (a, b) in a.iter().zip(&b) {
            close(*a, *b, "mirrored distance");
        }
    }
}

/// Sampling knows nothing of edges and feet: the wood is a yes or no at a point, and the least
/// distance is found by growing a ball.
#[test]
fn distances_to_wood_agree_with_a_raster_of_the_wood() {
    for (angle, mouth, height) in [(24.0_f64, 19.0, 4.2), (10.0, 12.0, 3.0), (35.0, 6.0, 6.0)] {
        let mut design = strung();
        design.nut.string_height = height;
        if let Some(ramp) = design.slots.as_mut().and_then(|slots| slots.ramp.as_mut()) {
            ramp.angle = angle.to_radians();
            ramp.mouth = mouth;
        }
        let layout = layout(&design);
        let slot = layout.sides.treble.slot.as_ref().unwrap();
        let opening = slot.opening();
        let region = slot.region();
        let in_wood = |p: DVec3| {
            let plan = p.truncate();
            let (tau, _) = slot.coordinates(plan);
            let floor = -(tau + mouth) * angle.to_radians().tan();
            p.z <= 0.0 && (!opening.contains(plan) || (!region.contains(plan) && p.z <= floor))
        };
        // A point of the wood every 0.2 mm round the slot's nut half.
        let mut wood = Vec::new();
        for i in 0..200 {
            for j in 0..100 {
                for k in 0..70 {
                    let p = DVec3::new(
                        4.0 + 0.2 * f64::from(j),
                        15.0 + 0.2 * f64::from(i),
                        -0.2 * f64::from(k),
                    );
                    if in_wood(p) {
                        wood.push(p);
                    }
                }
            }
        }
        for string in &layout.strings[3..] {
            let told = layout
                .string_to_wood(string)
                .iter()
                .map(|c| c.distance)
                .fold(f64::INFINITY, f64::min);
            let radius = string.strung.as_ref().unwrap().radius();
            let run = string.run();
            let along = run.to - run.from;
            let sampled = wood
                .iter()
                .map(|p| {
                    let share =
                        ((*p - run.from).dot(along) / along.length_squared()).clamp(0.0, 1.0);
                    p.distance(run.at(share))
                })
                .fold(f64::INFINITY, f64::min)
                - radius;
            // The samples lie in the wood, so they are never nearer; the nearest point of the wood
            // has a sample within its cell's diagonal, 0.35 mm.
            assert!(
                told <= sampled + 1e-9 && sampled - told < 0.35,
                "string {} at {angle}: {told} against {sampled}",
                string.number
            );
        }
    }
}

#[test]
fn inches_and_millimetres_give_the_same_strings() {
    let text = |unit: &str, scale: f64| {
        let list = |all: &[f64]| {
            let shown: Vec<String> = all.iter().map(|v| format!("{:?}", v / scale)).collect();
            format!("[{}]", shown.join(", "))
        };
        let one = |value: f64| format!("{:?}", value / scale);
        format!(
            "unit = \"{unit}\"\n\
             head = {{ length = {}, width_at_nut_end = {}, width_at_crest_end = {}, thickness = {}, angle = 12.0 }}\n\
             nut = {{ string_span = {}, string_height = {} }}\n\
             machines = {{ barrel_diameter = {}, barrel_length = {}, string_hole = {}, plate_width = {}, \
             plate_thickness = {}, pitches = {}, overhang = {} }}\n\
             placement = {{ first_barrel = {} }}\n\
             bores = {{ diameter = {}, beyond_barrel = {} }}\n\
             slots = {{ width = {}, cheek = {}, end_margin = {}, ramp = {{ mouth = {}, angle = 25.0 }} }}\n\
             strings = {{ diameters = {}, turns = [3, 2, 4, 3], walk = [\"out\", \"in\", \"in\", \"out\"] }}\n\
             guide = {{ depth = {}, end_margin = {} }}\n",
            one(180.0),
            one(60.0),
            one(66.0),
            one(20.0),
            one(40.0),
            one(4.0),
            one(10.0),
            one(29.0),
            one(19.0),
            one(17.0),
            one(1.2),
            list(&[35.0]),
            list(&[16.0, 16.0]),
            one(56.0),
            one(10.5),
            one(2.0),
            one(15.0),
            one(10.0),
            list(&[18.0, 18.0]),
            one(17.0),
            list(&[1.0, 0.8, 1.1, 0.9]),
            one(24.0),
            one(30.0),
        )
    };
    let made = |unit, scale| {
        let text = text(unit, scale);
        layout(&read_str(&text, "units.toml".as_ref(), ".".as_ref()).unwrap())
    };
    let (mm, inch) = (made("mm", 1.0), made("in", 25.4));
    assert_eq!(mm.strings.len(), 4);
    for (mm_string, inch_string) in mm.strings.iter().zip(&inch.strings) {
        assert!(mm_string.at_barrel.distance(inch_string.at_barrel) < 1e-9);
        let pairs = [
            (
                mm.string_to_wood(mm_string),
                inch.string_to_wood(inch_string),
            ),
            (
                mm.string_to_barrels(mm_string),
                inch.string_to_barrels(inch_string),
            ),
            (
                mm.string_to_strings(mm_string),
                inch.string_to_strings(inch_string),
            ),
        ];
        for (a, b) in pairs {
            assert!(!a.is_empty() && a.len() == b.len());
            for (a, b) in a.iter().zip(&b) {
                assert_eq!(a.to, b.to);
                close(a.distance, b.distance, "distance");
            }
        }
    }
}
