use super::*;
use crate::input::read_str;
use crate::support::demos::demo_file;

const TEXT: &str = include_str!("../../../params/sandpiper.toml");

fn read(text: &str) -> Numbers {
    let dir = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params"));
    match Numbers::read_str(text, Path::new("t.toml"), dir) {
        Ok(numbers) => numbers,
        Err(found) => panic!("{found:?}"),
    }
}

fn demos() -> Vec<(String, String)> {
    let with_text = |name: String| {
        let text = std::fs::read_to_string(demo_file(&name)).unwrap();
        (name, text)
    };
    crate::support::demos::demos()
        .into_iter()
        .map(with_text)
        .collect()
}

/// Numbers and lengths that stand as a value in a text: counted by the toml crate's own values,
/// not by our tree.
fn count(value: &toml::Value) -> usize {
    match value {
        toml::Value::String(text) => usize::from(parse_length(text).is_ok()),
        toml::Value::Integer(_) | toml::Value::Float(_) => 1,
        toml::Value::Array(items) => items.iter().map(count).sum(),
        toml::Value::Table(table) => table.values().map(count).sum(),
        _ => 0,
    }
}

#[test]
fn every_number_of_every_demo_is_listed_once_and_put_back_changes_nothing() {
    for (name, text) in demos() {
        let numbers = read(&text);
        let own = count(&text.parse::<toml::Table>().map(toml::Value::Table).unwrap());
        let here = |n: &&KeyedNumber| n.at.source == 0;
        assert_eq!(numbers.list().iter().filter(here).count(), own, "{name}");
        let keys: BTreeSet<&str> = numbers.list().iter().map(|n| n.key.as_str()).collect();
        assert_eq!(keys.len(), numbers.list().len(), "{name}");
        let plain = numbers.design();
        for number in numbers.list() {
            let same = numbers.with(&[(number, number.value)]).unwrap();
            assert_eq!(same, *plain, "{name} {}", number.key);
        }
    }
}

#[test]
fn a_number_replaced_reads_as_the_text_with_it_edited() {
    let numbers = read(TEXT);
    let (before, after) = ("thickness          = 20.4", "thickness = 21.7");
    assert!(TEXT.contains(before));
    let dir = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/params"));
    let edited = read_str(&TEXT.replace(before, after), Path::new("t.toml"), dir).unwrap();
    let number = numbers.get("head.thickness").unwrap();
    let put = numbers.with(&[(number, 21.7)]).unwrap();
    assert_eq!(put, edited);
    assert_ne!(put, *numbers.design());
    // What hangs on the clearance follows: barrel and clearance of 0.37.
    let numbers = read(include_str!("../../../params/dunlin.toml"));
    let number = numbers.get("bores.clearance").unwrap();
    let design = numbers.with(&[(number, 0.37)]).unwrap();
    assert!((design.bores.diameter - design.machines.barrel_diameter - 0.37).abs() < 1e-12);
}

#[test]
fn a_refusal_is_the_readers_own() {
    let numbers = read(TEXT);
    let number = numbers.get("head.thickness").unwrap();
    let found = numbers.with(&[(number, -1.0)]).unwrap_err();
    assert!(found[0].message.contains("above zero"), "{found:?}");
    for odd in [f64::NAN, f64::INFINITY, f64::MAX] {
        assert!(numbers.with(&[(number, odd)]).is_err(), "{odd}");
    }
}

#[test]
fn numbers_of_a_taken_table_are_there_unless_displaced() {
    let own = |n: &KeyedNumber| n.at.source == 0;
    let curlew = read(include_str!("../../../params/curlew.toml"));
    let width = curlew.get("machines.plate_width").unwrap();
    assert!(!own(width) && width.place.file.ends_with("three-and-four-35.toml"));
    // Without its strings: the set has seven barrels.
    let strings = TEXT.find("[strings]").unwrap();
    let next = TEXT[strings + 1..]
        .find("\n[")
        .map_or(TEXT.len(), |at| strings + 1 + at);
    let text = format!("{}{}", &TEXT[..strings], &TEXT[next..]);
    let displaced = read(&text.replace(
        "[machines]",
        "[machines]\nfrom = \"sets/three-and-four-35.toml\"",
    ));
    let width = displaced.get("machines.plate_width").unwrap();
    assert!(own(width) && width.place.file == Path::new("t.toml"));
    let bass = displaced.get("machines.bass.pitches[3]").unwrap();
    assert!(!own(bass));
    let moved = displaced.with(&[(bass, 34.0)]).unwrap();
    assert_eq!(moved.machines.pitches.bass, [35.0, 35.0, 34.0]);
}

#[test]
fn kinds_and_units() {
    let inches = "unit = \"in\"\n[head]\nangle = 14\n[nut]\nstrings = [-1, \"3 mm\"]\n[machines]\nbarrels = 3\n\
            [bores]\npoint = 118\n[tolerances]\nsquareness = 0.3\n[limits]\nweb = 0.1\nside-pull = 9\n\
            nut-break = { low = 8, high = 25 }\nblock-guided = 2\n";
    let context = Context::default();
    let number = context.add(Source::new("t".into(), "".into(), inches), None);
    let sheets = context.sheets();
    let design = read(TEXT).design().clone();
    let list = listed(&sheets, number, &design);
    let of = |key: &str| {
        let number = list.iter().find(|n| n.key == key).unwrap();
        (number.kind, number.value)
    };
    assert_eq!(of("head.angle"), (NumberKind::Degrees, 14.0));
    assert_eq!(of("bores.point"), (NumberKind::Degrees, 118.0));
    assert_eq!(of("tolerances.squareness"), (NumberKind::Degrees, 0.3));
    assert_eq!(of("nut.strings[1]"), (NumberKind::Length, -25.4));
    assert_eq!(of("nut.strings[2]"), (NumberKind::Length, 3.0));
    assert_eq!(of("limits.web"), (NumberKind::Length, 0.1 * 25.4));
    assert_eq!(of("limits.side-pull"), (NumberKind::Degrees, 9.0));
    assert_eq!(of("limits.nut-break.high"), (NumberKind::Degrees, 25.0));
    assert_eq!(of("limits.block-guided"), (NumberKind::Bare, 2.0));
    // A count shows itself by taking no part of one.
    let godwit = read(include_str!("../../../params/godwit.toml"));
    assert_eq!(
        godwit.get("machines.barrels").unwrap().kind,
        NumberKind::Count
    );
    let counts = godwit.list().iter().filter(|n| n.kind == NumberKind::Count);
    assert_eq!(counts.count(), 1);
}

/// A reading moved is read, with all its laws, as the text with it edited, readings and all; also
/// one of those typed with their unit in a file of the other unit.
#[test]
fn a_reading_replaced_keeps_the_readings() {
    let given = |third: &str| {
        let readings = format!("{{ repeats = [\"0.41 in\", \"0.411 in\", {third}] }}");
        TEXT.replace(
            "barrel_diameter = 10.0",
            &format!("barrel_diameter = {readings}"),
        )
    };
    let numbers = read(&given("\"0.409 in\""));
    let number = numbers.get("machines.barrel_diameter.repeats[3]").unwrap();
    let changed = numbers.with(&[(number, 0.412 * 25.4)]).unwrap();
    let edited = read(&given("\"0.412 in\"")).design().clone();
    assert_eq!(changed, edited);
    assert_eq!(changed.measurements.readings.len(), 1);
}

/// Readings are named alike where they are listed and where one of them is moved: places in a list
/// count from 1.
#[test]
fn readings_and_their_numbers_have_the_same_keys() {
    let text = TEXT
        .replace(
            "pitches         = [35.0, 35.0]",
            "pitches = [35.0, { over = [45.02, 45.00], between = [25.01, 24.98] }]",
        )
        .replace(
            "overhang        = [17.0, 18.5]",
            "overhang = [17.0, { repeats = [18.5, 18.52] }]",
        );
    let numbers = read(&text);
    let readings = &numbers.design().measurements.readings;
    assert_eq!(readings.len(), 3);
    for reading in readings {
        let first = [
            format!("{}[1]", reading.key),
            format!("{}.repeats[1]", reading.key),
        ];
        let found = first.iter().find_map(|key| numbers.get(key));
        let found = found.unwrap_or_else(|| panic!("{} is no number's key", reading.key));
        assert_eq!(found.value, reading.values[0], "{}", reading.key);
    }
}
