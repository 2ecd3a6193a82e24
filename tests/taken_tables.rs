//! Tables taken `from` another file: whose keys count, in whose unit, and from where paths start.

// Clippy lets test functions unwrap, but not their helpers.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::path::{Path, PathBuf};

use barrelhead::diagnostic::Diagnostic;
use barrelhead::input::{Design, PerSide, Unit, read, read_str};

const BEFORE: &str = "
[head]
length = 100
width_at_nut_end = 60
width_at_crest_end = 64
thickness = 20
angle = 12
[nut]
string_span = 40
string_height = 4
[placement]
[bores]
diameter = 10.5
beyond_barrel = 2
";
const GUIDE: &str = "[guide]\ndepth = 24\nend_margin = 30\n";
const SET: &str = "[machines]
barrel_diameter = 10
barrel_length = 30
string_hole = 19
plate_width = 17
plate_thickness = 1.2
pitches = [35, 35]
overhang = [15, 16]
";

/// A shop's folder: the design in `jobs`, sets in `sets`, blocks in `blocks`.
struct Shop(tempfile::TempDir);

impl Shop {
    fn new(files: &[(&str, &str)]) -> Self {
        let shop = Shop(tempfile::tempdir().unwrap());
        for (name, text) in files {
            let path = shop.path(name);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, text).unwrap();
        }
        shop
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn read(&self, machines: &str, guide: &str) -> Result<Design, Vec<Diagnostic>> {
        std::fs::create_dir_all(self.path("jobs")).unwrap();
        std::fs::write(
            self.path("jobs/a.toml"),
            format!("{BEFORE}{machines}\n{guide}"),
        )
        .unwrap();
        read(&self.path("jobs/a.toml"))
    }
}

fn near(a: &[f64], b: &[f64]) {
    assert_eq!(a.len(), b.len(), "{a:?} against {b:?}");
    assert!(
        a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-12),
        "{a:?} against {b:?}"
    );
}

#[test]
fn a_whole_set_from_a_file_that_holds_nothing_else() {
    let shop = Shop::new(&[("sets/plain.toml", SET)]);
    let d = shop
        .read("[machines]\nfrom = '../sets/plain.toml'", GUIDE)
        .unwrap();
    let here = read_str(
        &format!("{BEFORE}{SET}{GUIDE}"),
        Path::new("x.toml"),
        Path::new(""),
    )
    .unwrap();
    assert_eq!(d.machines, here.machines);
    assert_eq!(
        d.files,
        [
            shop.path("jobs/a.toml"),
            shop.path("jobs/../sets/plain.toml")
        ]
    );
    let place = &d.places["machines.plate_width"];
    assert_eq!(
        (place.file.as_path(), place.line),
        (d.files[1].as_path(), 5)
    );
    assert_eq!(d.places["machines.from"].file, d.files[0]);
}

#[test]
fn each_file_keeps_its_own_unit() {
    let inches = "unit = 'in'\n[machines]\nbarrel_diameter = 0.25\nbarrel_length = '1-1/8 in'\nstring_hole = 0.72
plate_width = '14 mm'\nplate_thickness = 0.05\npitches = [1.375]\noverhang = [0.65, 0.65]\n";
    let shop = Shop::new(&[("sets/inch.toml", inches)]);
    let d = shop
        .read(
            "[machines]\nfrom = '../sets/inch.toml'\noverhang = [16, 17]",
            GUIDE,
        )
        .unwrap();
    assert_eq!(d.unit, Unit::Mm);
    near(
        &[d.machines.barrel_diameter, d.machines.barrel_length],
        &[6.35, 28.575],
    );
    near(
        &[d.machines.plate_width, d.machines.pitches.treble[0]],
        &[14.0, 34.925],
    );
    near(&d.machines.overhang.treble, &[16.0, 17.0]);
}

#[test]
fn a_key_here_displaces_the_same_key_and_those_joined_to_it() {
    let even = SET.replace("pitches = [35, 35]", "barrels = 3\nover_outer_barrels = 80");
    let shop = Shop::new(&[("sets/plain.toml", SET), ("sets/even.toml", &even)]);
    let pitches = |machines: &str| shop.read(machines, GUIDE).unwrap().machines.pitches.treble;
    let from = |set: &str, keys: &str| {
        pitches(&format!("[machines]\nfrom = '../sets/{set}.toml'\n{keys}"))
    };
    near(&from("even", ""), &[35.0, 35.0]);
    near(&from("plain", "pitches = [30]"), &[30.0]);
    near(&from("even", "pitches = [30]"), &[30.0]);
    near(
        &from("plain", "barrels = 2\nover_outer_barrels = 44"),
        &[34.0],
    );
    // Keys that go together do not displace one another.
    near(&from("even", "barrels = 2"), &[70.0]);
    near(&from("even", "over_outer_barrels = 82"), &[36.0, 36.0]);
    // Half of a pair here displaces `pitches` there, and the other half is then wanting.
    let refused = shop
        .read(
            "[machines]\nfrom = '../sets/plain.toml'\nbarrels = 2",
            GUIDE,
        )
        .unwrap_err();
    assert_eq!(refused.len(), 1);
    assert!(
        refused[0].message.contains("lacks `over_outer_barrels`"),
        "{:?}",
        refused[0]
    );
    let d = shop
        .read(
            "[machines]\nfrom = '../sets/plain.toml'\nplate_width = 16",
            GUIDE,
        )
        .unwrap();
    assert_eq!(
        (d.machines.plate_width, d.machines.barrel_length),
        (16.0, 30.0)
    );
    assert_eq!(
        d.places["machines.plate_width"].file,
        shop.path("jobs/a.toml")
    );
}

#[test]
fn a_bass_table_displaces_whole() {
    let set = format!("{SET}[machines.bass]\npitches = [30, 31, 32]\noverhang = [11, 12]\n");
    let shop = Shop::new(&[("sets/odd.toml", &set)]);
    let d = shop
        .read("[machines]\nfrom = '../sets/odd.toml'", GUIDE)
        .unwrap();
    assert_eq!(
        d.machines.overhang,
        PerSide {
            treble: [15.0, 16.0],
            bass: [11.0, 12.0]
        }
    );
    assert_eq!(d.nut.strings.len(), 7);
    let d = shop
        .read(
            "[machines]\nfrom = '../sets/odd.toml'\nbass = { pitches = [33] }",
            GUIDE,
        )
        .unwrap();
    assert_eq!(
        d.machines.pitches,
        PerSide {
            treble: vec![35.0, 35.0],
            bass: vec![33.0]
        }
    );
    // The overhang of the displaced table is gone with it: the bass mirrors the treble.
    assert_eq!(
        d.machines.overhang,
        PerSide {
            treble: [15.0, 16.0],
            bass: [15.0, 16.0]
        }
    );
    let d = shop.read("[machines]\nfrom = '../sets/odd.toml'\nscrews = { points = [[1, 2]], pilot = 2, depth = 5 }", GUIDE);
    assert_eq!(d.unwrap().machines.screws.unwrap().points, [[1.0, 2.0]]);
}

#[test]
fn a_block_from_the_shelf() {
    let block = "[guide]\ndepth = 22\nheight = 21\naxis_height = 10\nend_margin = 29\nscribe = { width = 1, depth = 0.5 }\n";
    let shop = Shop::new(&[("blocks/b.toml", block), ("sets/plain.toml", SET)]);
    let d = shop
        .read(SET, "[guide]\nfrom = '../blocks/b.toml'\nheight = 25\n")
        .unwrap();
    assert_eq!(
        (d.guide.depth, d.guide.height, d.guide.axis_height),
        (22.0, 25.0, Some(10.0))
    );
    assert_eq!((d.guide.end_margin, d.guide.bore_diameter), (29.0, 10.5));
    // Both tables from one file, which is then read once.
    let both = format!("{SET}{block}");
    std::fs::write(shop.path("sets/plain.toml"), both).unwrap();
    let d = shop
        .read(
            "[machines]\nfrom = '../sets/plain.toml'",
            "[guide]\nfrom = '../sets/plain.toml'\n",
        )
        .unwrap();
    assert_eq!((d.guide.depth, d.files.len()), (22.0, 2));
}

#[test]
fn a_chain_of_files_each_path_from_its_own_file() {
    let first = "unit = 'in'\n[machines]\nfrom = 'deep/base.toml'\nplate_width = 0.7\n";
    let shop = Shop::new(&[("sets/first.toml", first), ("sets/deep/base.toml", SET)]);
    let d = shop
        .read(
            "[machines]\nfrom = '../sets/first.toml'\npitches = [36]",
            GUIDE,
        )
        .unwrap();
    near(
        &[d.machines.plate_width, d.machines.barrel_diameter],
        &[17.78, 10.0],
    );
    near(&d.machines.pitches.treble, &[36.0]);
    assert_eq!(d.files.len(), 3);
}

#[test]
fn a_chain_without_end_is_cut() {
    let links: Vec<(String, String)> = (0..20)
        .map(|i| {
            (
                format!("sets/{i}.toml"),
                format!("[machines]\nfrom = '{}.toml'\n", i + 1),
            )
        })
        .collect();
    let links: Vec<(&str, &str)> = links
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    let shop = Shop::new(&links);
    let refused = shop
        .read("[machines]\nfrom = '../sets/0.toml'", GUIDE)
        .unwrap_err();
    assert_eq!(refused.len(), 1, "{refused:#?}");
    assert!(
        refused[0].message.contains("in a row"),
        "{}",
        refused[0].message
    );
}

#[test]
fn a_full_design_may_serve_as_a_set() {
    let shop = Shop::new(&[("jobs/b.toml", &format!("{BEFORE}{SET}{GUIDE}"))]);
    let d = shop
        .read(
            "[machines]\nfrom = 'b.toml'",
            "[guide]\nfrom = './b.toml'\n",
        )
        .unwrap();
    assert_eq!((d.machines.plate_width, d.guide.depth), (17.0, 24.0));
}

#[test]
fn bytes_that_are_no_text_in_a_set() {
    let shop = Shop::new(&[("sets/x", "")]);
    std::fs::write(shop.path("sets/latin.toml"), b"[machines]\n# l\xe4nge\n").unwrap();
    let refused = shop
        .read("[machines]\nfrom = '../sets/latin.toml'", GUIDE)
        .unwrap_err();
    assert_eq!(refused.len(), 1);
    assert_eq!(refused[0].file, Some(shop.path("jobs/../sets/latin.toml")));
    assert_eq!(refused[0].at.unwrap().0, 2);
}
