//! Lengths measured more than once, and the wood: from the file to what the program says and writes.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test stops at the first surprise"
)]

mod support {
    pub mod program;
}

use std::path::{Path, PathBuf};
use std::process::Output;

use barrelhead::input::{Climate, Cut, Design, read, read_again, read_str};
use serde_json::Value;
use support::program::run;

fn params(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("params")
        .join(format!("{name}.toml"))
}

fn text(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

/// A six-string head; `unit` and what stands in `[machines]` for barrel and pitches.
fn design(top: &str, machines: &str) -> Design {
    let text = format!(
        r#"{top}
head = {{ length = "196 mm", width_at_nut_end = "63 mm", width_at_crest_end = "71 mm", side_end = "184 mm", thickness = "20.4 mm", angle = 14.0, crest = "arch" }}
nut = {{ string_span = "43 mm", string_height = "4.2 mm" }}
placement = {{ along = "centred" }}
bores = {{ diameter = "10.5 mm", beyond_barrel = "2 mm" }}
guide = {{ depth = "24 mm", end_margin = "31 mm" }}
[machines]
barrel_length = "30.5 mm"
string_hole = "19 mm"
plate_width = "17.4 mm"
plate_thickness = "1.2 mm"
overhang = ["17 mm", {{ repeats = ["18.5 mm", "18.52 mm"] }}]
{machines}
"#
    );
    read_str(&text, "a.toml".as_ref(), ".".as_ref()).unwrap()
}

/// Rounding of a mean of a few lengths.
const CLOSE: f64 = 1e-12;

#[test]
fn readings_give_their_mean_wherever_a_length_is_measured() {
    let read = design(
        "",
        "barrel_diameter = { repeats = [10.01, 9.99, 10.03] }\n\
         pitches = [{ over = [45.02, 45.0] }, { between = [24.98, 25.0, \"25.02 mm\"] }, { repeats = [35.0, 35.1] }, 34.9]\n\
         [machines.bass]\npitches = [35.0, 35.0, 35.0]",
    );
    assert!((read.machines.barrel_diameter - 10.01).abs() < CLOSE);
    for (pitch, wanted) in read
        .machines
        .pitches
        .treble
        .iter()
        .zip([35.0, 35.01, 35.05, 34.9])
    {
        assert!((pitch - wanted).abs() < CLOSE, "{pitch} {wanted}");
    }
    assert!((read.machines.overhang.treble[1] - 18.51).abs() < CLOSE);
    let keys: Vec<&str> = read
        .measurements
        .readings
        .iter()
        .map(|r| r.key.as_str())
        .collect();
    assert_eq!(
        keys,
        [
            "machines.overhang[2]",
            "machines.barrel_diameter",
            "machines.pitches[1].over",
            "machines.pitches[2].between",
            "machines.pitches[3]",
        ]
    );
    assert_eq!(
        read.measurements.readings[1].place.as_ref().unwrap().line,
        13
    );
    assert_eq!(read.measurements.diameter_of_pairs, None);
}

#[test]
fn an_inch_file_reads_its_readings_in_inches() {
    let mm = design(
        "",
        "barrel_diameter = { repeats = [10.16, 10.414] }\npitches = [{ over = 45.72, between = 25.4 }]",
    );
    let inch = design(
        "unit = \"in\"",
        "barrel_diameter = { repeats = [0.4, 0.41] }\npitches = [{ over = 1.8, between = 1.0 }]",
    );
    assert!((mm.machines.barrel_diameter - inch.machines.barrel_diameter).abs() < CLOSE);
    assert!((mm.machines.pitches.treble[0] - inch.machines.pitches.treble[0]).abs() < CLOSE);
    assert!((mm.machines.pitches.treble[0] - 35.56).abs() < CLOSE);
}

#[test]
fn over_and_between_of_several_pairs_give_one_diameter() {
    let read = design(
        "",
        "pitches = [{ over = 45.0, between = 25.0 }, { over = 45.04, between = 25.0 }, { over = 45.0 }]",
    );
    // 10.00 and 10.02.
    assert!((read.machines.barrel_diameter - 10.01).abs() < CLOSE);
    assert!((read.machines.pitches.treble[1] - 35.02).abs() < CLOSE);
    assert!((read.machines.pitches.treble[2] - 34.99).abs() < CLOSE);
}

#[test]
fn read_again_without_a_move_is_the_same_and_with_one_moves_all_that_follows() {
    let one = design(
        "",
        "pitches = [{ over = [45.0, 45.02], between = [25.0, 25.0] }]",
    );
    assert_eq!(read_again(&one, &[].into()).unwrap(), one);
    let moved = read_again(&one, &[("machines.pitches[1].over".to_owned(), 0.1)].into()).unwrap();
    assert!((moved.machines.barrel_diameter - one.machines.barrel_diameter - 0.05).abs() < CLOSE);
    assert!(
        (moved.machines.pitches.treble[0] - one.machines.pitches.treble[0] - 0.05).abs() < CLOSE
    );
}

#[test]
fn readings_of_a_set_in_its_own_file_are_read_again_without_it() {
    let folder = tempfile::tempdir().unwrap();
    let snipe = std::fs::read_to_string(params("snipe")).unwrap();
    let set = std::fs::read_to_string(params("sets/slim-35")).unwrap();
    std::fs::create_dir(folder.path().join("sets")).unwrap();
    let file = folder.path().join("sets/slim-35.toml");
    std::fs::write(&file, set).unwrap();
    let main = folder.path().join("snipe.toml");
    std::fs::write(&main, snipe).unwrap();
    let design = read(&main).unwrap();
    let [readings, _] = design.measurements.readings.as_slice() else {
        panic!("{:?}", design.measurements.readings)
    };
    assert!(
        readings
            .place
            .as_ref()
            .unwrap()
            .file
            .ends_with("slim-35.toml")
    );
    std::fs::remove_file(file).unwrap();
    let moved = read_again(
        &design,
        &[("machines.barrel_diameter".to_owned(), 0.02)].into(),
    )
    .unwrap();
    assert!((moved.machines.barrel_diameter - 10.02).abs() < CLOSE);
}

#[test]
fn wood_is_read() {
    let read = design(
        "wood = { species = \"Mahogany\", humidity = [60, 40], cut = \"flat-sawn\", density = 550 }",
        "barrel_diameter = 10.0\npitches = [35.0]",
    );
    let wood = read.wood.unwrap();
    assert_eq!(wood.species.unwrap().name, "mahogany");
    assert_eq!(
        (wood.radial, wood.tangential),
        ([0.00102, 0.00172], [0.00141, 0.00238])
    );
    assert_eq!((wood.cut, wood.density), (Some(Cut::FlatSawn), Some(550.0)));
    assert_eq!(
        wood.climate,
        Climate::Humidity {
            percent: [40.0, 60.0],
            celsius: 21.1
        }
    );
}

#[test]
fn the_screen_tells_readings_and_wood() {
    let folder = tempfile::tempdir().unwrap();
    let (readings, wood) = (params("snipe"), params("sandpiper"));
    let output = run(
        folder.path(),
        &[
            "check",
            "--all",
            readings.to_str().unwrap(),
            wood.to_str().unwrap(),
        ],
    );
    let said = text(&output);
    for words in [
        "Measured    machines.barrel_diameter 10.0",
        "standard error",
        "No verdict changes within these uncertainties.",
        "Wood        Spanish cedar, quarter-sawn, 40 to 60 % humidity",
        "averages",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert!(
        said.lines().all(|line| line.chars().count() <= 100),
        "{said}"
    );
    // In short without --all: the ± but not how it comes about.
    let short = text(&run(folder.path(), &["check", readings.to_str().unwrap()]));
    assert!(
        short.contains("Measured") && !short.contains("Student"),
        "{short}"
    );
}

#[test]
fn report_json_and_page_hold_what_the_screen_says() {
    let folder = tempfile::tempdir().unwrap();
    for (name, has, lacks) in [
        ("snipe", "measured", "wood"),
        ("sandpiper", "wood", "measured"),
    ] {
        let file = params(name);
        let out = folder.path().join(name);
        let output = run(
            folder.path(),
            &[
                "make",
                "--quiet",
                "--only",
                "report",
                "--out",
                out.to_str().unwrap(),
                file.to_str().unwrap(),
            ],
        );
        assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        let json: Value =
            serde_json::from_slice(&std::fs::read(out.join("report.json")).unwrap()).unwrap();
        assert!(json[has].is_object() && json[lacks].is_null(), "{name}");
        let page = std::fs::read_to_string(out.join("report.html")).unwrap();
        assert!(page.contains(&format!("<section id=\"{has}\"")), "{name}");
        assert!(
            !page.contains(&format!("id=\"{lacks}\"")) && !page.contains(&format!("#{lacks}\"")),
            "{name}"
        );
        // `check --json` says the same as report.json, but for the weight that needs the solids.
        let checked: Value = serde_json::from_str(&text(&run(
            folder.path(),
            &["check", "--json", file.to_str().unwrap()],
        )))
        .unwrap();
        let checked = &checked["designs"][0][has];
        if name == "snipe" {
            assert_eq!(checked, &json[has]);
            let length = &json[has]["lengths"][0];
            let (u, k) = (
                length["standard_uncertainty"].as_f64().unwrap(),
                length["factor"].as_f64().unwrap(),
            );
            assert!((length["expanded_uncertainty"].as_f64().unwrap() - u * k).abs() < CLOSE);
        } else {
            assert_eq!(checked["margins"], json[has]["margins"]);
            let grams = json[has]["head_weight_g"]["mean"].as_f64().unwrap();
            let volume = json["solids"]["head"]["volume_mm3"].as_f64().unwrap();
            // 470 kg/m³ are 0.00047 g/mm³; the product of two doubles.
            assert!((grams - volume * 0.00047).abs() < 1e-9 * grams);
            assert!(checked["head_weight_g"].is_null());
        }
    }
}

/// One reading of four is off: it is named, with what so few can tell.
#[test]
fn a_reading_that_disagrees_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let text_of = std::fs::read_to_string(params("dunlin")).unwrap();
    let line = text_of
        .lines()
        .find(|line| line.trim_start().starts_with("plate_width"))
        .unwrap();
    let width: f64 = line
        .split_once('=')
        .unwrap()
        .1
        .split('#')
        .next()
        .unwrap()
        .trim()
        .parse()
        .unwrap();
    let new = format!(
        "plate_width = {{ repeats = [{width}, {width}, {}, {width}] }}",
        width + 0.2
    );
    let file = folder.path().join("dunlin.toml");
    std::fs::write(&file, text_of.replacen(line, &new, 1)).unwrap();
    let said = text(&run(folder.path(), &["check", file.to_str().unwrap()]));
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("reading 3, ") && said.contains("disagrees with the others"),
        "{said}"
    );
    assert!(said.contains("only a hint"), "{said}");
}
