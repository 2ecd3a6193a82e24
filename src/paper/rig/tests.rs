use super::*;
use crate::input::sample::six_string;
use crate::input::{Design, PerSide, Side};
use crate::layout::Copy;
use crate::paper::Paper;
use crate::paper::overlaps::overlaps;
use crate::paper::place::extent;
use crate::support::demos::{demo_file, demos};

fn sheets(change: impl FnOnce(&mut Design), options: SheetOptions) -> (RigLayout, Vec<Sheet>) {
    let mut design = six_string();
    change(&mut design);
    let layout = Layout::new(&design, Copy::Finished);
    let rig = RigLayout::new(&layout).unwrap();
    (rig, rig_sheets(&layout, options))
}

fn texts(sheets: &[Sheet]) -> Vec<String> {
    let items = sheets.iter().flat_map(|sheet| &sheet.items);
    items
        .filter_map(|item| match item {
            Item::Text(text) => Some(text.text.clone()),
            _ => None,
        })
        .collect()
}

#[test]
fn everything_stays_on_the_paper_and_no_two_texts_meet() {
    let parallel = PerSide {
        treble: 31.5,
        bass: 31.5,
    };
    let mut designs: Vec<Design> = (0..5)
        .map(|case| {
            let mut design = six_string();
            match case {
                1 => design.head.half_width_at_end = parallel,
                2 => design.guide.axis_height = Some(9.0),
                3 => design.rig.beyond = 260.0,
                4 => design.head.veneers_on = false,
                _ => {}
            }
            design
        })
        .collect();
    for demo in demos() {
        designs.push(crate::input::read(&demo_file(&demo)).unwrap());
    }
    for design in &designs {
        let layout = Layout::new(design, Copy::Finished);
        for paper in [Paper::A4, Paper::Letter] {
            for inches in [false, true] {
                let options = SheetOptions {
                    paper,
                    lengths: Lengths { inches },
                };
                let sheets = rig_sheets(&layout, options);
                assert_eq!(sheets.len(), 3);
                for sheet in &sheets {
                    judge(sheet, &format!("{} {options:?}", design.title));
                }
            }
        }
    }
}

fn judge(sheet: &Sheet, what: &str) {
    let all = extent(sheet).unwrap();
    assert!(all.min.x >= 5.0 && all.min.y >= 5.0, "{what} {all:?}");
    assert!(all.max.x <= sheet.width - 5.0, "{what} {all:?}");
    assert!(all.max.y <= sheet.height - 5.0, "{what} {all:?}");
    assert_eq!(overlaps(sheet, 0.1), [""; 0], "{what}");
}

#[test]
fn every_measure_of_the_rig_is_on_the_paper() {
    let (rig, sheets) = sheets(|_| {}, SheetOptions::default());
    let found = texts(&sheets);
    let wedge = rig.wedge.unwrap();
    for mm in [
        rig.length(),
        rig.upright_height,
        rig.block_foot,
        rig.thickness[0],
        rig.thickness[1],
        rig.relief,
        rig.brace[0],
        rig.bearing[0] - rig.ends[0],
        rig.bearing[1] - rig.ends[0],
        rig.block_screws[0].x - rig.ends[0],
        rig.block_screws[0].across,
        rig.base_screws[0].x - rig.ends[0],
        wedge.length,
        wedge.thin,
        wedge.thick,
    ] {
        assert!(found.contains(&figure(mm)), "{mm}: {found:?}");
    }
    let all = found.join(" ");
    assert!(all.contains("Ø5.50 for M5") && all.contains("twice the taper"));
}

#[test]
fn both_units_stand_side_by_side() {
    let options = SheetOptions {
        lengths: Lengths { inches: true },
        ..SheetOptions::default()
    };
    let (rig, sheets) = sheets(|_| {}, options);
    let wanted = options.lengths.show(rig.block_foot);
    assert!(wanted.contains(" in)"));
    let all = texts(&sheets).join(" ");
    assert!(all.contains(&wanted));
    // On the boards too: ordinates, dimensions, holes, and both ends of the wedge.
    let wedge = rig.wedge.unwrap();
    for mm in [
        rig.block_screws[0].x - rig.ends[0],
        rig.block_screws[0].across,
        rig.relief,
        rig.thickness[1],
        wedge.width,
        wedge.thin,
        wedge.thick,
        rig.thread.medium,
    ] {
        let told = figure_in(mm, options.lengths);
        assert!(all.contains(&told), "{told}: {all}");
    }
    let ends = format!("{} to {}", figure(wedge.thin), show_mm(wedge.thick));
    assert!(all.contains(&format!("{ends} (0.118 to ")), "{all}");
}

/// No length of the rig's papers stands in one unit alone: so many inches as millimetres with decimals.
#[test]
fn no_measure_of_the_rig_lacks_its_inches() {
    let options = SheetOptions {
        lengths: Lengths { inches: true },
        ..SheetOptions::default()
    };
    let (_, sheets) = sheets(|_| {}, options);
    let all = texts(&sheets).join(" ");
    let decimals = |count: usize| {
        let words = all.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '°'));
        let each = words
            .filter(|word| !word.contains('°'))
            .map(|word| word.trim_end_matches('.'));
        each.filter(|word| {
            word.split_once('.')
                .is_some_and(|(_, tail)| tail.len() == count)
        })
        .count()
    };
    assert!(decimals(2) > 40);
    assert_eq!(decimals(2), decimals(3), "{all}");
}

/// The number a text starts with.
fn leading(text: &str) -> f64 {
    text.split_whitespace().next().unwrap().parse().unwrap()
}

/// The cutting list's row of a part, as it stands on the sheet, from left to right.
fn row_on_sheet(sheet: &Sheet, part: &str) -> Vec<String> {
    let texts = sheet.items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text),
        _ => None,
    });
    let all: Vec<_> = texts.collect();
    let name = all.iter().find(|text| text.text == part).unwrap();
    let mut row: Vec<_> = all
        .iter()
        .filter(|text| (text.at.y - name.at.y).abs() < 1e-9)
        .collect();
    row.sort_by(|a, b| a.at.x.total_cmp(&b.at.x));
    row.iter().map(|text| text.text.clone()).collect()
}

#[test]
fn the_cutting_list_is_the_layout_s_to_a_hundredth() {
    let (rig, sheets) = sheets(|_| {}, SheetOptions::default());
    let layout = Layout::new(&six_string(), Copy::Finished);
    let wedge = rig.wedge.unwrap();
    let stance = &rig.stances.treble;
    let deep = rig.base_z[1] - rig.base_z[0];
    let width = rig.support_width(&layout);
    let long = stance.support[1] - stance.support[0];
    for (part, pieces, sizes) in [
        ("Base", "1", [rig.length(), deep, rig.thickness[0]]),
        (
            "Upright",
            "1",
            [rig.length(), rig.upright_height, rig.thickness[1]],
        ),
        ("Brace", "2", rig.brace),
        ("Packing", "1", [long, width, stance.packing]),
        ("Wedge", "1", [wedge.length, wedge.width, wedge.thin]),
    ] {
        let row = row_on_sheet(&sheets[0], part);
        assert_eq!(row.len(), 7, "{row:?}");
        assert_eq!(row[1], pieces);
        for (text, mm) in row[2..5].iter().zip(sizes) {
            assert!(
                (leading(text) - mm).abs() <= 0.005 + 1e-9,
                "{part}: {text}, {mm}"
            );
        }
        let holes = match part {
            "Base" => &rig.base_screws[..],
            "Upright" => &rig.block_screws[..],
            _ => &[],
        };
        if holes.is_empty() {
            assert_eq!(row[5], "none");
        } else {
            let count = format!("{} × Ø", holes.len());
            let diameter: f64 = row[5].strip_prefix(&count).unwrap().parse().unwrap();
            assert!((diameter - holes[0].diameter).abs() <= 0.005 + 1e-9);
        }
    }
    let thick = row_on_sheet(&sheets[0], "Wedge")[4].clone();
    let thick = thick.split_once(" to ").unwrap().1;
    assert!((leading(thick) - wedge.thick).abs() <= 0.005 + 1e-9);
}

#[test]
fn the_sheet_used_at_the_press_cautions_of_what_the_rig_has() {
    let (rig, made) = sheets(|_| {}, SheetOptions::default());
    let all = texts(&made[2..]).join(" ");
    for caution in words::cautions(&rig) {
        assert!(all.contains(&caution), "{caution}");
    }
    assert!(all.contains("wedge is still tight") && all.contains("block's screws"));

    // No wedge under parallel sides, no screws in a block too shallow for them.
    let bare = |design: &mut Design| {
        design.head.half_width_at_end = PerSide {
            treble: 31.5,
            bass: 31.5,
        };
        design.guide.depth = 8.0;
    };
    let (rig, made) = sheets(bare, SheetOptions::default());
    assert!(rig.wedge.is_none() && rig.block_screws.is_empty());
    let all = texts(&made[2..]).join(" ");
    assert!(all.contains("packing is still tight"));
    assert!(!all.contains("wedge is still tight") && !all.contains("block's screws"));
}

/// Sides that differ by some hundredths of a millimetre in the packing they want get one piece; by a
/// tenth and more, a piece each, with its side named.
#[test]
fn packings_that_no_plane_tells_apart_are_one() {
    let of = |more: f64| {
        let change = |design: &mut Design| design.head.half_width_at_end.bass += more;
        let (rig, sheets) = sheets(change, SheetOptions::default());
        let packings = [rig.stances.treble.packing, rig.stances.bass.packing];
        let said = texts(&sheets);
        let has = |words: &str| said.iter().any(|text| text == words);
        let named = [has("treble side up"), has("bass side up")];
        (packings, has("either side up"), named)
    };
    let (same, either, named) = of(0.0);
    assert!((same[0] - same[1]).abs() < 1e-9 && either && named == [false; 2]);
    // 2 mm more taper on one side tilt the corner under the wedge by some hundredths.
    let (close, either, named) = of(2.0);
    let apart = (close[0] - close[1]).abs();
    assert!(apart > 0.001 && apart <= 0.05, "{apart}");
    assert!(either && named == [false; 2], "{close:?}");
    let (far, either, named) = of(12.0);
    let apart = (far[0] - far[1]).abs();
    assert!(apart > 0.05, "{apart}");
    assert!(!either && named == [true; 2], "{far:?}");
}

/// What page 3 orders for a head whose half is so wide at the nut end and at the crest end.
fn ordered(treble: f64, bass: f64) -> String {
    let change = |design: &mut Design| {
        design.head.half_width_at_end = PerSide { treble, bass };
    };
    let (_, made) = sheets(change, SheetOptions::default());
    texts(&made[2..]).join(" ")
}

#[test]
fn for_the_bass_side_only_what_there_is_is_turned() {
    let all = ordered(31.5, 31.5);
    assert!(all.contains("no wedge. Add card"), "{all}");
    assert!(all.contains("turn the head end for end"), "{all}");
    assert!(ordered(35.5, 36.0).contains("(the tapers of both sides together)"));
    assert!(ordered(35.5, 35.5).contains("turn head and wedge end for end"));
    // Too steep for a loose wedge: the shaped packing is turned with the head.
    let all = ordered(65.0, 65.0);
    assert!(all.contains("shape the packing"), "{all}");
    assert!(all.contains("turn head and packing end for end"), "{all}");
}

#[test]
fn a_shim_behind_the_block_is_in_before_the_block_is_fixed() {
    let all = |axis_height: f64| {
        let change = |design: &mut Design| design.guide.axis_height = Some(axis_height);
        let (_, made) = sheets(change, SheetOptions::default());
        [&made[..1], &made[2..]].map(|pages| texts(pages).join(" "))
    };
    let [making, using] = all(9.0);
    let wanted = "Set the block on the upright, a shim of 1.20 mm between the two over the full";
    assert!(making.contains(wanted), "{making}");
    assert!(
        using.contains("the shim of 1.20 mm, over the full length: it goes in before"),
        "{using}"
    );
    let [making, using] = all(11.0);
    assert!(!making.contains("shim"), "{making}");
    assert!(
        using.contains("Put a shim of 0.80 mm between the head's face"),
        "{using}"
    );
}

/// With fewer barrels on the bass side its nut line, and the upright's full thickness with it, ends behind the treble
/// side's block.
#[test]
fn the_leader_to_the_full_upright_ends_where_it_is_seen() {
    for pitches in [vec![], vec![35.0], vec![35.0, 35.0]] {
        let change = |design: &mut Design| {
            design.placement.along = crate::input::Along::FirstBarrel(PerSide {
                treble: 54.0,
                bass: 54.0,
            });
            design.machines.pitches.bass = pitches.clone();
        };
        let options = SheetOptions {
            lengths: Lengths { inches: true },
            ..SheetOptions::default()
        };
        let (rig, made) = sheets(change, options);
        let mut design = six_string();
        change(&mut design);
        let layout = Layout::new(&design, Copy::Finished);
        let block = layout.standing(Side::Treble).unwrap().block.length;
        let x = super::stand::full_upright(&rig, block, 1.0).unwrap();
        assert!(
            x > rig.bearing[0] && x < rig.bearing[1],
            "{x} {:?}",
            rig.bearing
        );
        assert!(x < 0.0 || x > block, "{x} {block}");
        assert!(super::stand::full_upright(&rig, block, 1000.0).is_none());
        assert!(texts(&made[..1]).iter().any(|text| text == "upright, full"));
        assert_eq!(overlaps(&made[0], 0.01), Vec::<String>::new());
    }
}
