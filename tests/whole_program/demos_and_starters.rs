//! Every demo and every starter, checked and made.

use std::collections::BTreeSet;
use std::fs;

use super::{folder, has_cautions_only, json, path};
use crate::support::demos::{demo_file, demos};
use crate::support::program::run;
use crate::support::said::{err, out, status};

/// Each demo with the cautions its comments announce.
const DEMOS: [(&str, &[&str]); 8] = [
    ("sandpiper", &[]),
    ("curlew", &["side-pull"]),
    ("godwit", &["side-pull"]),
    ("dunlin", &[]),
    ("turnstone", &["block-wood"]),
    ("whimbrel", &["side-pull"]),
    ("plover", &[]),
    ("snipe", &[]),
];

const STARTERS: [(&str, &[&str]); 6] = [
    ("six-string", &[]),
    ("seven-string", &["side-pull"]),
    ("ten-string", &["side-pull"]),
    ("ukulele", &[]),
    ("steel-string", &[]),
    ("twelve-string", &["side-pull"]),
];

#[test]
fn every_demo_has_only_the_cautions_it_announces() {
    let listed: BTreeSet<String> = DEMOS.iter().map(|(name, _)| (*name).to_owned()).collect();
    let there: BTreeSet<String> = demos().into_iter().collect();
    assert_eq!(listed, there, "every demo has its row");
    let folder = folder();
    for (name, cautions) in DEMOS {
        let file = demo_file(name);
        let said = run(folder.path(), &["check", "--json", path(&file)]);
        assert_eq!(status(&said), 0, "{name}: {}", err(&said));
        has_cautions_only(&json(&said)["designs"][0], cautions, name);
        let comments = fs::read_to_string(&file).expect("the demo");
        for code in cautions {
            assert!(
                comments.contains(&format!("Caution meant: `{code}`")),
                "{name}"
            );
        }
    }
}

#[test]
fn every_starter_checks_with_only_the_cautions_it_announces() {
    let folder = folder();
    for (name, cautions) in STARTERS {
        let file = format!("{name}.toml");
        assert_eq!(status(&run(folder.path(), &["start", name, &file])), 0);
        let said = run(folder.path(), &["check", "--json", &file]);
        assert_eq!(status(&said), 0, "{name}: {}", out(&said));
        has_cautions_only(&json(&said)["designs"][0], cautions, name);
        let text = fs::read_to_string(folder.path().join(&file)).expect("the starter");
        for code in cautions {
            assert!(text.contains(&format!("`{code}`")), "{name}: {code}");
        }
    }
}

#[test]
fn make_prints_one_screen_and_writes_the_contracts_files() {
    let folder = folder();
    for (name, cautions) in DEMOS {
        let said = run(folder.path(), &["make", path(&demo_file(name))]);
        assert_eq!(status(&said), 0, "{name}: {}", err(&said));
        let text = out(&said);
        assert!(!text.contains('\u{1b}'));
        assert!(text.lines().count() <= 45, "{name}: {text}");
        for line in text.lines() {
            assert!(line.chars().count() <= 100, "{name}: {line}");
        }
        for word in ["Depth stop", "Rib window", "eye protection", "head.step"] {
            assert!(text.contains(word), "{name}: {word}: {text}");
        }
        for code in cautions {
            assert!(text.contains(code), "{name}: {code}");
        }
        let made = folder.path().join("output").join(name);
        let blocks: &[&str] = if name == "curlew" {
            &["guide-block-treble", "guide-block-bass"]
        } else {
            &["guide-block"]
        };
        let mut files = vec![
            "head.step".to_owned(),
            "head.stl".into(),
            "report.json".into(),
        ];
        for block in blocks {
            files.push(format!("{block}.step"));
            files.push(format!("{block}.stl"));
        }
        for file in files {
            let size = fs::metadata(made.join(&file))
                .map(|data| data.len())
                .unwrap_or(0);
            assert!(size > 500, "{name}: {file} has {size} bytes");
        }
    }
}

#[test]
fn the_stop_figure_of_the_main_demo() {
    // By hand: block 24 + bore 32.5 + point 5.25/tan 59 = 3.1545; together 59.65.
    let folder = folder();
    let said = run(
        folder.path(),
        &["make", "--json", path(&demo_file("sandpiper"))],
    );
    assert_eq!(status(&said), 0, "{}", err(&said));
    let stops = json(&said)["depth_stops"].clone();
    let figure = stops[0]["from_block_top"].as_f64().expect("a figure");
    assert!((figure - (24.0 + 32.5 + 5.25 / 59f64.to_radians().tan())).abs() < 1e-9);
    assert_eq!(stops[0]["sides"], "both");
}
