//! Ranges worked out by hand, and what a moved number moves.

use barrelhead::check::Verdict;
use barrelhead::input::{Across, Design, Lie, Side};
use barrelhead::layout::{Copy, Layout};
use barrelhead::study::suit::{Bound, Number, Suit, moved};

use super::{BESIDE, Verdicts, params, study};

fn bound(suit: &Suit, number: Number) -> &Bound {
    suit.bounds
        .iter()
        .find(|bound| bound.number == number)
        .expect("this bound")
}

/// Against arithmetic written out here; 1e-6 is ten times what the ends are found to.
#[test]
fn suit_agrees_with_longhand() {
    let suit = study(
        &params("sets/slim-35.toml"),
        Some(&params("necks/snipe.toml")),
    );
    let least = |number, no_stop: bool| {
        let bound = bound(&suit, number);
        let range = if no_stop { bound.no_stop } else { bound.clear };
        range.least.map(|end| (end.value, end.check))
    };
    let near = |found: Option<(f64, &str)>, value: f64, check: &str| {
        let (found, by) = found.expect("an end");
        assert!((found - value).abs() < 1e-6, "{found} for {value}");
        assert_eq!(by, check);
    };
    // The plate and 0.5 mm either side of it.
    near(
        least(Number::Thickness, false),
        16.0 + 1.0,
        "plate-thickness",
    );
    // The bore, 0.2 wider where it is printed, and 1 mm either side of it.
    near(
        least(Number::Thickness, true),
        10.5 + 0.2 + 2.0,
        "wood-over",
    );
    // 1.9 diameters of the bit.
    near(least(Number::BlockDepth, false), 1.9 * 10.5, "block-guided");
    assert_eq!(least(Number::BlockDepth, true), None);
    // The block is as high as the head: 2.5 and 1 mm of wood over and under the bush.
    let bush = bound(&suit, Number::Bush);
    let greatest = [bush.clear, bush.no_stop].map(|range| range.greatest.unwrap().value);
    assert!((greatest[0] - (18.6 - 5.0)).abs() < 1e-6);
    assert!((greatest[1] - (18.6 - 2.0)).abs() < 1e-6);
    // Mirrored barrels lean by the taper: their inner ends come nearest at the rims.
    let taper = (3.5_f64 / 178.0).atan();
    let meeting = 2.0 * (28.6 * taper.cos() + 5.0 * taper.sin());
    for number in [Number::WidthAtFirst, Number::WidthAtLast] {
        near(least(number, true), meeting, "barrels-apart");
        near(least(number, false), meeting + 1.0, "barrels-apart");
    }
    // 3 mm of the widest barrels in the rib.
    let plate = 16.5 + 70.0 + 16.5;
    let last_s = (178.0 / taper.cos()) / 2.0 - plate / 2.0 + 16.5 + 70.0;
    let half = 30.0 + last_s * taper.sin();
    near(
        least(Number::Rib, false),
        2.0 * (half - (28.6 - 3.0) * taper.cos()),
        "bearing",
    );
    // The middle of the holes: the mean of the first and the last.
    let hole = |s: f64| 30.0 + s * taper.sin() - 17.2 * taper.cos();
    let middle = f64::midpoint(hole(last_s - 70.0), hole(last_s));
    assert!((suit.slot_middle - middle).abs() < 1e-9);
}

/// Each number typed into the design by hand makes the design the study asked the checks about.
#[test]
fn suit_moves_only_the_number_it_speaks_of() {
    let suit = study(
        &params("sets/slim-35.toml"),
        Some(&params("necks/snipe.toml")),
    );
    let same = |number, value: f64, change: &dyn Fn(&mut Design)| {
        let mut by_hand = suit.design.clone();
        change(&mut by_hand);
        assert_eq!(moved(&suit, number, value).unwrap(), by_hand, "{number:?}");
    };
    same(Number::Thickness, 19.0, &|design| {
        design.head.thickness = 19.0;
        design.head.thickness_at_crest = 19.0;
        // By default the block is as high as the head.
        design.guide.height = 19.0;
    });
    same(Number::Rib, 13.0, &|design| {
        design.slots.as_mut().unwrap().lie = Lie::Rib(13.0);
    });
    same(Number::BlockDepth, 20.0, &|design| {
        design.guide.depth = 20.0
    });
    same(Number::Bush, 12.0, &|design| {
        design.guide.bush_diameter = Some(12.0);
    });
    // With the middle kept, a slot 2 mm narrower leaves 2 mm more rib.
    let wide = moved(&suit, Number::SlotWidth, 14.0).unwrap();
    let narrow = moved(&suit, Number::SlotWidth, 12.0).unwrap();
    let rib = |design: &Design| match design.slots.as_ref().unwrap().lie {
        Lie::Rib(rib) => rib,
        Lie::Cheek(_) => f64::NAN,
    };
    assert!((rib(&narrow) - rib(&wide) - 2.0).abs() < 1e-12);
    let place = moved(&suit, Number::FirstBarrel, 60.0).unwrap();
    let layout = Layout::new(&place, Copy::Finished);
    for side in Side::BOTH {
        assert!((layout.sides.get(side).bores[0].entry.y - 60.0).abs() < 1e-9);
    }
    assert_eq!(place.placement.depth, Across::Centred);
}

/// The width at the first barrels, tried on the whole head: both widths made smaller alike.
#[test]
fn suit_width_turns_the_whole_heads_check() {
    let suit = study(
        &params("sets/slim-35.toml"),
        Some(&params("necks/snipe.toml")),
    );
    let width = bound(&suit, Number::WidthAtFirst);
    let here = width.here.unwrap();
    // The same place along the side, or the centred plate would wander as the sides change.
    let whole = moved(
        &suit,
        Number::FirstBarrel,
        bound(&suit, Number::FirstBarrel).here.unwrap(),
    )
    .unwrap();
    for (range, most) in [
        (&width.no_stop, Verdict::Caution),
        (&width.clear, Verdict::Clear),
    ] {
        for (beside, holds) in [(BESIDE, true), (-BESIDE, false)] {
            let mut design = whole.clone();
            let outwards = (range.least.unwrap().value + beside - here) / 2.0;
            for half in [
                &mut design.head.half_width_at_start,
                &mut design.head.half_width_at_end,
            ] {
                half.treble += outwards;
                half.bass += outwards;
            }
            let found = Verdicts::of(&design).by("barrels-apart");
            assert_eq!(found <= most, holds);
        }
    }
}
