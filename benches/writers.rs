//! Every file that `make` writes, one entry each, of the same design: `cargo bench --bench writers`.
//! A paper's entry has its drawing in it; solids are there already. Entries are held against the files of a
//! real run, so that a new file is not left untimed.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a bench stops at the first surprise"
)]

mod heads {
    pub mod checked;
    pub mod step_text;
}
#[path = "../tests/support"]
mod support {
    pub mod project;
}

use std::collections::BTreeSet;
use std::fs;
use std::hint::black_box;

use barrelhead::check;
use barrelhead::input::{self, Side};
use barrelhead::paper::drawing::{DrawingOptions, drawing_sheets};
use barrelhead::paper::marking::{MarkingOptions, marking_sheets, marking_whole};
use barrelhead::paper::operations::operation_cards;
use barrelhead::paper::rescue::rescue_sheets;
use barrelhead::paper::rig::rig_sheets;
use barrelhead::paper::setup::setup_sheets;
use barrelhead::paper::sheet_options::SheetOptions;
use barrelhead::paper::{Paper, Sheet, flat};
use barrelhead::pipeline::{self, Wanted};
use barrelhead::solid;
use barrelhead::solid::printed::{PrintOptions, fit_gauges, printed_parts, rig_wedge};
use barrelhead::solid::rig::rig_solids;
use barrelhead::units::Lengths;
use barrelhead::write::html::{Options, report_html};
use barrelhead::write::report_json::report_json;
use barrelhead::write::shop_step::{assembly_step, rig_step};
use barrelhead::write::step::Schema;
use barrelhead::write::threemf::{About, threemf};
use barrelhead::write::{csv, dxf, pdf, stl, svg};
use criterion::{Criterion, criterion_group, criterion_main};
use heads::checked::checked as checked_head;
use heads::step_text::step_text;
use support::project::root;

fn writers(criterion: &mut Criterion) {
    let demo = |file| input::read(&root().join(file)).expect("a demo reads");
    let design = demo("params/sandpiper.toml");
    let (report, checked) = check::run(&design);
    let checked = checked.expect("a demo passes");
    let layout = checked.finished();
    let solids = solid::build(&checked).expect("sound solids");
    let options = SheetOptions {
        lengths: Lengths { inches: false },
        paper: Paper::A4,
    };
    let mut entries = BTreeSet::new();
    let mut bench = |name: &str, write: &dyn Fn() -> usize| {
        entries.insert(name.to_owned());
        criterion.bench_function(name, |bencher| bencher.iter(|| black_box(write())));
    };
    // No sheets make no PDF: an entry that times nothing ends the bench.
    let paper = |sheets: &[Sheet]| pdf::pdf(sheets).unwrap().len();

    for part in solids.parts() {
        bench(&format!("{}.step", part.stem), &|| step_text(part).len());
        bench(&format!("{}.stl", part.stem), &|| {
            stl::stl_file(&part.printed).unwrap().len()
        });
    }
    bench("report.json", &|| {
        let value = report_json(layout, &report, &solids);
        serde_json::to_string_pretty(&value).unwrap().len()
    });
    bench("report.html", &|| {
        report_html(layout, &report, &solids, &[], Options::default()).len()
    });

    let marking = MarkingOptions {
        paper: Paper::A4,
        bar: None,
    };
    bench("bench/marking-sheet.pdf", &|| {
        paper(&marking_sheets(layout, &report, &marking))
    });
    bench("bench/marking-sheet.svg", &|| {
        svg::svg(&marking_whole(layout, &report)).len()
    });
    bench("bench/setup-sheet.pdf", &|| {
        paper(&setup_sheets(layout, &report, options))
    });
    bench("bench/rig.pdf", &|| paper(&rig_sheets(layout, options)));

    // The one file that this demo has no need of.
    let plover = checked_head(&demo("params/plover.toml"));
    bench(RESCUE, &|| {
        paper(&rescue_sheets(plover.finished(), options))
    });

    let drawing = || drawing_sheets(layout, &report, &solids, &DrawingOptions::default());
    bench("shop/drawing.pdf", &|| paper(&drawing()));
    bench(DRAWINGS, &|| {
        drawing().iter().map(|sheet| svg::svg(sheet).len()).sum()
    });
    bench("shop/operations.pdf", &|| {
        paper(&operation_cards(layout, &report, options))
    });
    bench("shop/bores.csv", &|| csv::bore_list(layout).len());
    bench("shop/head-face.dxf", &|| {
        dxf::dxf(&flat::head_face(layout)).len()
    });
    for side in Side::BOTH {
        bench(&format!("shop/head-{}-side.dxf", side.name()), &|| {
            dxf::dxf(&flat::head_side(layout, side)).len()
        });
    }
    for block in &layout.blocks {
        bench(&format!("shop/{}.dxf", block.file_stem()), &|| {
            dxf::dxf(&flat::guide_block(block)).len()
        });
    }
    let template = design.template.as_ref().expect("a demo with a template");
    bench("shop/slot-template.dxf", &|| {
        let drawn = flat::slot_template(layout, template).expect("a head with slots");
        dxf::dxf(&drawn.items).len()
    });
    bench("shop/assembly.step", &|| {
        assembly_step(layout, &solids, Schema::default(), None)
            .unwrap()
            .len()
    });
    bench("shop/rig.step", &|| {
        rig_solids(layout).unwrap().map_or(0, |rig| {
            rig_step(layout, &solids, &rig, Schema::default())
                .unwrap()
                .len()
        })
    });

    let about = About {
        title: &design.title,
        description: "",
        date: None,
    };
    bench("print/printed.3mf", &|| {
        let parts = printed_parts(&checked, &solids, PrintOptions { mock: false }).unwrap();
        threemf(&parts, &about).unwrap().len()
    });
    bench("print/fit-gauge.3mf", &|| {
        threemf(&fit_gauges(&checked).unwrap(), &about)
            .unwrap()
            .len()
    });
    let wedge = rig_wedge(layout).unwrap().expect("a head on a rig");
    bench("print/rig-wedge.3mf", &|| {
        threemf(std::slice::from_ref(&wedge), &about).unwrap().len()
    });
    entries.remove(RESCUE);
    assert_eq!(entries, files_of_a_run(), "an entry a file of the run");
}

/// An entry for a file that this demo has no need of, and one for several files.
const RESCUE: &str = "bench/rescue-sheet.pdf of plover";
const DRAWINGS: &str = "shop/drawing.svg and its other sheets";

/// The files that `make` writes of the same design, the drawing's sheets as one.
fn files_of_a_run() -> BTreeSet<String> {
    let place = tempfile::tempdir().unwrap();
    let wanted = Wanted::default();
    pipeline::make(&root().join("params/sandpiper.toml"), place.path(), &wanted)
        .expect("a demo is made");
    let list = |folder: &str| {
        let entries = fs::read_dir(place.path().join(folder)).expect("a folder of the run");
        let files = entries.map(|entry| entry.expect("an entry"));
        let files = files.filter(|entry| entry.path().is_file());
        let names = files.map(|file| file.file_name().to_string_lossy().into_owned());
        names.collect::<Vec<_>>()
    };
    let mut files = BTreeSet::new();
    for folder in ["", "bench/", "print/", "shop/"] {
        for name in list(folder) {
            let drawing = name.starts_with("drawing") && name.ends_with(".svg");
            files.insert(if drawing {
                DRAWINGS.to_owned()
            } else {
                format!("{folder}{name}")
            });
        }
    }
    files
}

criterion_group!(benches, writers);
criterion_main!(benches);
