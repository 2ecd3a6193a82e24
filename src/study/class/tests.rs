use super::*;
use crate::input::Design;
use crate::input::sample::six_string;

fn of(change: impl Fn(&mut Design)) -> (PathBuf, Layout, Report) {
    let mut design = six_string();
    change(&mut design);
    let layout = Layout::new(&design, crate::layout::Copy::Finished);
    let (report, _) = crate::check::run(&design);
    (PathBuf::from("x.toml"), layout, report)
}

fn thicker(by: f64) -> impl Fn(&mut Design) {
    move |design| {
        design.head.thickness += by;
        design.head.thickness_at_crest += by;
    }
}

fn wider_pitch(design: &mut Design) {
    design.machines.pitches.treble[0] += 0.5;
    design.machines.pitches.bass[0] += 0.5;
}

fn shown(class: &Class) -> Vec<(usize, Vec<usize>)> {
    let blocks = class.blocks.iter();
    blocks
        .map(|shared| (shared.made_for, shared.heads.clone()))
        .collect()
}

/// Bushes alike outside, made for two bits: neither guides the other's.
#[test]
fn bushes_for_another_bit_are_another_block() {
    let bushed = |bit: f64| {
        move |design: &mut Design| {
            design.bores.diameter = bit;
            design.guide.bore_diameter = bit;
            design.guide.bush_diameter = Some(15.0);
        }
    };
    let class = class(&[of(bushed(10.5)), of(bushed(10.3)), of(bushed(10.5))]);
    assert_eq!(shown(&class), [(0, vec![0, 2]), (1, vec![1])]);
}

/// 80.1 over three barrels of 9.9 are pitches of 35.1 but for the last bit.
#[test]
fn a_set_measured_another_way_is_the_same_set() {
    let pitch = |pitch: f64| {
        move |design: &mut Design| {
            design.machines.pitches = crate::input::PerSide::from_fn(|_| vec![pitch; 2]);
        }
    };
    let class = class(&[of(pitch(35.1)), of(pitch((80.1 - 9.9) / 2.0))]);
    assert_eq!(class.sets(), 1);
    assert_eq!(self::class(&[of(pitch(35.1)), of(pitch(35.2))]).sets(), 2);
}

#[test]
fn every_head_is_compared_with_every_other() {
    let found = class(&[
        of(wider_pitch),
        of(|_| ()),
        of(thicker(1.0)),
        of(wider_pitch),
        of(|d| d.guide.depth += 1.0),
        of(thicker(1.0)),
    ]);
    // Two heads of thickness 1.0 more need no shim under a block of theirs, one would.
    assert_eq!(
        shown(&found),
        [(0, vec![0, 3]), (2, vec![1, 2, 5]), (4, vec![4])]
    );
    let of_each: Vec<_> = found.heads.iter().map(|h| (h.set, h.block)).collect();
    let wanted = [(0, 0), (1, 1), (1, 1), (0, 0), (1, 2), (1, 1)];
    assert_eq!(of_each, wanted.map(|(set, block)| (set, Some(block))));
    assert_eq!(found.sets(), 2);
    // The axis lies in the middle of the thickness: half a millimetre lower on the thinner head.
    let shims: Vec<f64> = found.heads.iter().map(|head| head.shims[0]).collect();
    for (shim, wanted) in shims.iter().zip([0.0, -0.5, 0.0, 0.0, 0.0, 0.0]) {
        assert!((shim - wanted).abs() < 1e-9, "{shims:?}");
    }
}

#[test]
fn a_block_from_the_shelf_keeps_its_own_shim() {
    let found = class(&[
        of(|d| d.guide.axis_height = Some(9.0)),
        of(|d| {
            d.guide.axis_height = Some(9.0);
            thicker(1.0)(d);
        }),
    ]);
    assert_eq!(shown(&found), [(0, vec![0, 1])]);
    let wanted = six_string().head.thickness / 2.0 - 9.0;
    assert!((found.heads[0].shims[0] - wanted).abs() < 1e-9);
    assert!((found.heads[1].shims[0] - wanted - 0.5).abs() < 1e-9);
}

/// A block from the shelf, 1.2 mm too low for its own head, is not made where a thinner head's serves both.
#[test]
fn a_fault_of_its_own_block_does_not_hold_where_another_drills_the_head() {
    let low = |design: &mut Design| design.guide.axis_height = Some(9.0);
    let alone = class(&[of(low)]);
    assert_eq!(alone.heads[0].worst.as_ref().unwrap().code, "block-axis");
    assert_eq!(alone.heads[0].verdict, Verdict::Caution);
    let found = class(&[of(|_| ()), of(low)]);
    assert_eq!(shown(&found), [(0, vec![0, 1])]);
    let head = &found.heads[1];
    assert!(!is_felt(head.shims[0]));
    assert!(
        head.worst
            .as_ref()
            .is_none_or(|worst| worst.code != "block-axis")
    );
    assert_eq!(head.counts.1, found.heads[0].counts.1);
    assert_eq!(head.verdict, found.heads[0].verdict);
    // With a shim under the other block it holds.
    let found = class(&[
        of(|_| ()),
        of(|_| ()),
        of(|design| {
            thicker(1.0)(design);
            low(design);
        }),
    ]);
    assert!(is_felt(found.heads[2].shims[0]));
    assert_eq!(found.heads[2].worst.as_ref().unwrap().code, "block-axis");
}

#[test]
fn no_block_is_that_of_a_stopped_head() {
    let stopped = |design: &mut Design| {
        thicker(1.0)(design);
        if let Some(slots) = &mut design.slots {
            slots.lie = crate::input::Lie::Rib(1.0);
        }
    };
    let heads = [of(stopped), of(stopped), of(|_| ())];
    assert_eq!(heads[0].2.verdict(), Verdict::Stop);
    let found = class(&heads);
    assert_eq!(shown(&found), [(2, vec![2])]);
    let head = &found.heads[0];
    assert_eq!((head.block, head.deepest_stop()), (None, None));
    assert!(head.shims.is_empty() && head.stops.is_empty());
    assert_eq!(found.heads[2].block, Some(0));
    assert_eq!(class(&heads[..2]).blocks, []);
}

#[test]
fn the_stop_is_the_deeper_side() {
    let found = class(&[of(|d| d.head.half_width_at_end.bass += 3.0)]);
    let head = &found.heads[0];
    let all = head.stops.iter().map(|stop| stop.figure);
    let deepest = head.deepest_stop().unwrap();
    assert!(all.into_iter().all(|figure| figure <= deepest));
}

#[test]
fn blocks_have_names() {
    let names: Vec<String> = [0, 25, 26].map(block_name).into();
    assert_eq!(names, ["A", "Z", "27"]);
}
