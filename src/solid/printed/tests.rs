//! Trial prints: every kind of part, whole and parted, proved.

use super::*;
use crate::check;
use crate::input::Design;
use crate::input::sample::six_string;
use crate::solid;
use glam::DVec2;

/// Every part of a design, mock included, and its gauges.
fn parts(design: &Design) -> Vec<PrintPart> {
    let (report, checked) = check::run(design);
    let checked = checked.unwrap_or_else(|| panic!("{report:?}"));
    let solids = solid::build(&checked).unwrap();
    let mut parts = printed_parts(&checked, &solids, PrintOptions { mock: true }).unwrap();
    parts.extend(fit_gauges(&checked).unwrap());
    parts
}

fn with(change: impl FnOnce(&mut Design)) -> Vec<PrintPart> {
    let mut design = six_string();
    change(&mut design);
    parts(&design)
}

fn numbers(parts: &[PrintPart]) -> Vec<&str> {
    parts.iter().map(|part| part.number.as_str()).collect()
}

#[test]
fn the_plain_design_prints() {
    let parts = with(|_| {});
    assert_eq!(
        numbers(&parts),
        [
            "guide-block",
            "trial-bar-treble",
            "mock-head",
            "fit-gauge-barrel"
        ]
    );
    for part in &parts {
        println!(
            "{}: {:.1} mm, {:.1} cm3, plastic {:.1} cm3, {:.0} min, {} triangles, {:?}",
            part.name,
            part.size,
            part.volume / 1000.0,
            part.plastic() / 1000.0,
            part.minutes(),
            part.mesh.triangles.len(),
            part.notes
        );
        assert!(part.notes.is_empty(), "{:?}", part.notes);
    }
    // Block: 2·31 + 70 long, as high as the head is thick, as deep as asked.
    assert!(parts[0].size.distance(DVec3::new(132.0, 20.4, 24.0)) < 1e-4);
    // Bar: as long as the plate.
    assert!((parts[1].size.x - 105.5).abs() < 1e-4);
}

#[test]
fn a_groove_deeper_and_one_shallower_than_the_chamfer() {
    for (width, depth) in [(0.4, 0.2), (1.0, 0.45), (1.0, 0.5), (3.0, 2.5)] {
        with(|design| {
            design.guide.height = 24.0;
            design.guide.scribe = Some(crate::input::Scribe { width, depth });
        });
    }
}

#[test]
fn the_nut_end_has_one_notch_for_treble_and_two_for_bass() {
    use super::upright::Wall;
    let count = |body: &Upright, wall: Wall| body.grooves_of(wall).len();
    let layout = |change: &dyn Fn(&mut Design)| {
        let mut design = six_string();
        change(&mut design);
        Layout::new(&design, crate::layout::Copy::Printed)
    };
    // Near is x = 0: the nut on the treble side, the crest on the bass side.
    let both = block::block(&layout(&|_| {}).blocks[0]).0;
    assert_eq!((count(&both, Wall::Near), count(&both, Wall::Far)), (1, 2));
    let apart = layout(&|design| design.machines.pitches.bass = vec![30.0, 40.0]);
    let [treble, bass] = [0, 1].map(|i| block::block(&apart.blocks[i]).0);
    assert_eq!(
        (count(&treble, Wall::Near), count(&treble, Wall::Far)),
        (1, 0)
    );
    assert_eq!((count(&bass, Wall::Near), count(&bass, Wall::Far)), (0, 2));
    // Next to the upright, which is the back.
    for notch in both
        .grooves_of(Wall::Near)
        .iter()
        .chain(&both.grooves_of(Wall::Far))
    {
        assert!(both.on_wall(notch.wall, notch.at, 0.0).y > both.size.y / 2.0);
    }
    // The bars agree with the blocks.
    let [bar, other] = [&apart.sides.treble, &apart.sides.bass].map(|s| trial_bar::trial_bar(s).0);
    assert_eq!((count(&bar, Wall::Near), count(&other, Wall::Far)), (1, 2));
    let first = |body: &Upright| body.holes[0].center.x;
    assert!(first(&bar) < bar.size.x / 2.0 && first(&other) > other.size.x / 2.0);
}

#[test]
fn a_short_bed_parts_block_bar_and_head() {
    let parts = with(|design| design.print.bed = Some([100.0, 80.0, 60.0]));
    let numbers = numbers(&parts);
    for wanted in [
        "guide-block-1",
        "guide-block-2",
        "trial-bar-treble",
        "mock-head-1",
        "mock-head-3",
    ] {
        assert!(numbers.contains(&wanted), "{numbers:?}");
    }
    let block: f64 = parts[..2].iter().map(|part| part.size.x).sum();
    assert!((block - 132.0).abs() < 1e-4);
    assert!(
        parts[0].notes[0].contains("dowels of 4 mm"),
        "{:?}",
        parts[0].notes
    );
    let parts = with(|design| design.print.bed = Some([30.0, 30.0, 60.0]));
    assert!(
        parts[0].notes[0].contains("written whole"),
        "{:?}",
        parts[0].notes
    );
}

/// A joint between close holes leaves half their wood on either piece: foot and rims there must
/// chamfer less than on the whole block. Seven barrels 1.83 mm apart on a bed of 110 mm once failed
/// their proof.
#[test]
fn pieces_parted_between_close_holes_keep_wood_round_their_rims() {
    use super::upright::{Run, Upright, UprightHole};
    let hole = |x: f64| UprightHole {
        center: DVec2::new(x, 10.0),
        radius: 5.6,
        run: Run::Through { rim: 0.5 },
        mouth: None,
    };
    let mut body = Upright {
        size: DVec3::new(93.0, 20.0, 24.0),
        chamfer: 0.0,
        grooves: Vec::new(),
        holes: (0..5).map(|i| hole(20.0 + 13.03 * f64::from(i))).collect(),
        dowels: Vec::new(),
    };
    foot::chamfer_foot(&mut body);
    let [cut] = bed::cuts(body.size.x, &pieces::taken(&body), |length| length < 60.0).unwrap()[..]
    else {
        panic!("one cut parts it")
    };
    for piece in pieces::pieces(&body, &[cut]) {
        let at_joint = piece
            .holes
            .iter()
            .map(|hole| hole.center.x.min(piece.size.x - hole.center.x) - hole.radius);
        let least = at_joint.fold(f64::INFINITY, f64::min);
        assert!(
            least < 1.0 && 2.0 * piece.chamfer < least,
            "{least} {}",
            piece.chamfer
        );
        let brep = upright_brep::brep(&piece);
        proof::prove_solid("piece", &brep, &upright_form::closed_form(&piece)).unwrap();
    }
}
