//! Set, neck and assumptions, one over another.

use std::fs;
use std::path::{Path, PathBuf};

use barrelhead::input::{Along, PerSide, read_partial};
use barrelhead::pipeline::judge_design;
use tempfile::tempdir;

use super::{params, study};

fn written(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    fs::write(&path, text).unwrap();
    path
}

#[test]
fn suit_takes_the_sets_own_keys_before_the_necks_and_both_before_assumptions() {
    let folder = tempdir().unwrap();
    let write = |name: &str, text: &str| written(folder.path(), name, text);
    let set = fs::read_to_string(params("sets/slim-35.toml")).unwrap();
    let set = write(
        "set.toml",
        &format!("{set}\n[bores]\nclearance = 0.3\n[head]\nthickness = 21\n"),
    );
    let neck = write(
        "neck.toml",
        "title = 'Other'\nunit = 'in'\n[machines]\nfrom = 'nowhere.toml'\n[bores]\ndiameter = 0.5\n\
         [head]\nthickness = 0.5\nwidth_at_nut_end = 2.5\n[slots]\nwidth = 0.5\n",
    );
    let suit = study(&set, Some(&neck));
    let design = &suit.design;
    assert_eq!(design.title, "set");
    assert!((design.bores.diameter - 10.3).abs() < 1e-12);
    assert!((design.head.thickness - 21.0).abs() < 1e-12);
    assert!((design.head.half_width_at_start.treble - 31.75).abs() < 1e-12);
    assert!((design.machines.barrel_length - 28.6).abs() < 1e-12);
    let slots = design.slots.as_ref().unwrap();
    assert!((slots.width - 12.7).abs() < 1e-12);
    assert!(
        slots.ramp.is_none(),
        "slots described without a ramp have none"
    );
    let assumed: Vec<&str> = suit.assumed.iter().map(|assumed| assumed.key).collect();
    for key in ["head.thickness", "head.width_at_nut_end", "slots.width"] {
        assert!(!assumed.contains(&key), "{key}");
    }
    for key in ["head.length", "slots.rib", "nut.string_span"] {
        assert!(assumed.contains(&key), "{key}");
    }
}

/// The bass side's first barrel goes only with the treble side's: where the set's own word displaces that one,
/// it goes as well, and is not reported as if its file had left the other out.
#[test]
fn suit_drops_the_necks_bass_first_barrel_with_its_first_barrel() {
    let folder = tempdir().unwrap();
    let write = |name: &str, text: &str| written(folder.path(), name, text);
    let set = fs::read_to_string(params("sets/slim-35.toml")).unwrap();
    let centred = write(
        "centred.toml",
        &format!("{set}\n[placement]\nalong = 'centred'\n"),
    );
    let silent = write("silent.toml", &set);
    let neck = write(
        "neck.toml",
        "[head]\nthickness = 18.6\n[placement]\nfirst_barrel = 55\nbass.first_barrel = 56\n",
    );
    assert_eq!(
        study(&centred, Some(&neck)).design.placement.along,
        Along::Centred
    );
    let both = Along::FirstBarrel(PerSide {
        treble: 55.0,
        bass: 56.0,
    });
    assert_eq!(study(&silent, Some(&neck)).design.placement.along, both);
    // So it is where the set has a first barrel of its own: it is both sides', as in any file.
    let own = write(
        "own.toml",
        &format!("{set}\n[placement]\nfirst_barrel = 57\n"),
    );
    let both = Along::FirstBarrel(PerSide {
        treble: 57.0,
        bass: 57.0,
    });
    assert_eq!(study(&own, Some(&neck)).design.placement.along, both);
    // The set's own, without the treble side's, is the set's own mistake.
    let text = format!("{set}\n[placement]\nalong = 'centred'\nbass.first_barrel = 56\n");
    let wrong = write("wrong.toml", &text);
    let found = read_partial(&wrong, Some(&neck)).unwrap_err();
    assert_eq!(found.len(), 1);
    assert!(found[0].message.contains("goes only with `first_barrel`"));
}

/// The block that a set's file takes `from` another is the set's own: it lies over the neck's, key by key.
#[test]
fn a_block_that_the_set_takes_from_a_file_lies_over_the_necks() {
    let folder = tempdir().unwrap();
    let write = |name: &str, text: &str| written(folder.path(), name, text);
    let set = fs::read_to_string(params("sets/slim-35.toml")).unwrap();
    write("block.toml", "[guide]\ndepth = 30\nend_margin = 28\n");
    let taken = write(
        "taken.toml",
        &format!("{set}\n[guide]\nfrom = 'block.toml'\n"),
    );
    let typed = write(
        "typed.toml",
        &format!("{set}\n[guide]\ndepth = 30\nend_margin = 28\n"),
    );
    write("shelf.toml", "[guide]\ndepth = 19\nheight = 22\n");
    let neck = "[head]\nthickness = 18.6\n[guide]\n";
    let neck = write(
        "neck.toml",
        &format!("{neck}from = 'shelf.toml'\nend_margin = 40\n"),
    );
    for set in [&taken, &typed] {
        let guide = study(set, Some(&neck)).design.guide;
        let found = [guide.depth, guide.end_margin, guide.height];
        let wanted = [30.0, 28.0, 22.0];
        let same = found.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-12);
        assert!(same, "{}: {found:?}", set.display());
    }
}

/// Whatever set is asked about, what is assumed for it makes a design that can be read.
#[test]
fn suit_assumes_what_can_be_read_for_sets_of_every_size() {
    let folder = tempdir().unwrap();
    let file = folder.path().join("set.toml");
    for (diameter, length, hole, width, pitches) in [
        (3.0, 10.0, 6.0, 6.0, "[12]"),
        (10.0, 5.0, 3.0, 17.0, "[35, 35]"),
        (6.35, 29.5, 18.5, 14.0, "[24.5, 24.5, 24.5, 24.5, 24.5]"),
        (10.0, 30.0, 19.0, 17.0, "[]"),
        (20.0, 80.0, 75.0, 60.0, "[60, 60, 60, 60]"),
    ] {
        let set = format!(
            "[machines]\nbarrel_diameter = {diameter}\nbarrel_length = {length}\n\
             string_hole = {hole}\nplate_width = {width}\nplate_thickness = 1\n\
             pitches = {pitches}\noverhang = [15, 15]\n"
        );
        // Also with a head of which only one number is known.
        for known in [
            "",
            "length = 220",
            "side_end = 180",
            "crest = 'flat'",
            "width_at_crest_end = 70",
        ] {
            fs::write(&file, format!("{set}[head]\n{known}\n")).unwrap();
            let suit = study(&file, None);
            assert!(judge_design(&suit.design, &file).is_ok(), "{set}{known}");
            let key = known.split(' ').next().unwrap_or_default();
            let key = format!("head.{key}");
            assert!(suit.assumed.iter().all(|assumed| assumed.key != key));
        }
    }
}
