//! The blocks and objects of a DXF file: a model with all the drawing in it, a paper left empty.

use glam::DVec2;

use super::tables::{Handles, fixed};
use super::tags::Tags;

/// The two blocks every file has, both without entities of their own.
pub fn blocks(handles: &mut Handles) -> Tags {
    let mut t = Tags::default();
    t.section("BLOCKS");
    for (record, name) in [
        (fixed::MODEL, "*Model_Space"),
        (fixed::PAPER, "*Paper_Space"),
    ] {
        let on_paper = record == fixed::PAPER;
        let mut space = |t: &mut Tags, kind: &str, class: &str| {
            t.text(0, kind)
                .handle(5, handles.take())
                .handle(330, record);
            t.text(100, "AcDbEntity");
            if on_paper {
                t.int(67, 1);
            }
            t.text(8, "0").text(100, class);
        };
        space(&mut t, "BLOCK", "AcDbBlockBegin");
        t.text(2, name).int(70, 0).point(10, DVec2::ZERO);
        t.text(3, name).text(1, "");
        space(&mut t, "ENDBLK", "AcDbBlockEnd");
    }
    t.end_section();
    t
}

/// The dictionaries and the two layouts.
pub fn objects(lower: DVec2, upper: DVec2) -> Tags {
    let mut t = Tags::default();
    t.section("OBJECTS");
    dictionary(
        &mut t,
        fixed::ROOT,
        0,
        &[
            ("ACAD_GROUP", fixed::GROUPS),
            ("ACAD_LAYOUT", fixed::LAYOUTS),
        ],
    );
    dictionary(&mut t, fixed::GROUPS, fixed::ROOT, &[]);
    dictionary(
        &mut t,
        fixed::LAYOUTS,
        fixed::ROOT,
        &[
            ("Layout1", fixed::PAPER_LAYOUT),
            ("Model", fixed::MODEL_LAYOUT),
        ],
    );
    layout(
        &mut t,
        "Model",
        fixed::MODEL_LAYOUT,
        fixed::MODEL,
        (lower, upper),
    );
    let none = (DVec2::ZERO, DVec2::ZERO);
    layout(&mut t, "Layout1", fixed::PAPER_LAYOUT, fixed::PAPER, none);
    t.end_section();
    t
}

fn dictionary(t: &mut Tags, handle: u32, owner: u32, entries: &[(&str, u32)]) {
    t.text(0, "DICTIONARY").handle(5, handle).handle(330, owner);
    t.text(100, "AcDbDictionary").int(281, 1);
    for &(name, entry) in entries {
        t.text(3, name).handle(350, entry);
    }
}

fn layout(t: &mut Tags, name: &str, handle: u32, record: u32, extent: (DVec2, DVec2)) {
    let model = record == fixed::MODEL;
    t.text(0, "LAYOUT")
        .handle(5, handle)
        .handle(330, fixed::LAYOUTS);
    t.text(100, "AcDbPlotSettings")
        .text(1, "")
        .text(2, "")
        .text(4, "")
        .text(6, "");
    // Margins, paper and origin are left to whoever prints.
    for code in 40..=49 {
        t.real(code, 0.0);
    }
    t.real(140, 0.0)
        .real(141, 0.0)
        .real(142, 1.0)
        .real(143, 1.0);
    // Paper in millimetres; the model is marked as such.
    t.int(70, if model { 1024 } else { 0 })
        .int(72, 1)
        .int(73, 0)
        .int(74, 5);
    t.text(7, "")
        .int(75, 16)
        .real(147, 1.0)
        .real(148, 0.0)
        .real(149, 0.0);
    t.text(100, "AcDbLayout").text(1, name).int(70, 1);
    t.int(71, i64::from(!model));
    t.flat(10, DVec2::ZERO)
        .flat(11, DVec2::ZERO)
        .point(12, DVec2::ZERO);
    t.point(14, extent.0).point(15, extent.1).real(146, 0.0);
    t.point(13, DVec2::ZERO)
        .point(16, DVec2::X)
        .point(17, DVec2::Y);
    t.int(76, 0).handle(330, record);
}
