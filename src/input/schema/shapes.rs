//! What the value of a key looks like: signs, words, lists.

use serde_json::{Value, json};

use crate::input::defaults;
use crate::input::keys::Key;
use crate::input::read_readings::MEASURABLE;
use crate::input::words;
use crate::standards::iso273::THREADS;
use crate::standards::iso286::HOLES;
use crate::standards::wood::SPECIES;
use crate::units::plain;

/// A length as text: a decimal in either unit, or a fraction or mixed number of inches.
const LENGTH_TEXT: &str = "^\\s*[-+]?\\s*(?:(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)\\s*(?:mm|in)\
    |(?:[0-9]+(?:\\s*-\\s*|\\s+))?[0-9]+\\s*/\\s*[0-9]+\\s*in)\\s*$";

/// Lengths of either sign (contract, section 2).
const ANY_SIGN: [&str; 6] = [
    "machines.axis_offset",
    "machines.screws.points",
    "nut.strings",
    "print.head_allowance",
    "print.block_allowance",
    "print.bush_allowance",
];

/// Lengths that may be zero (contract, section 2).
const MAY_BE_ZERO: [&str; 16] = [
    "head.face_veneer",
    "head.back_veneer",
    "head.edge_radius",
    "head.side_start",
    "nut.string_height",
    "machines.overhang",
    "machines.bass.overhang",
    "bores.beyond_barrel",
    "bores.beyond_centre",
    "slots.end_margin",
    "slots.corner_radius",
    "slots.ramp.mouth",
    "drilling.position",
    "drilling.wander",
    "drilling.growth",
    "drilling.pitch",
];

/// Definitions that the shapes refer to.
pub(super) fn definitions() -> Value {
    let length = |least: Value| {
        let mut number = json!({ "type": "number", "maximum": defaults::LONGEST });
        if let (Some(number), Some(least)) = (number.as_object_mut(), least.as_object()) {
            number.extend(least.clone());
        }
        json!({ "anyOf": [number, { "type": "string", "pattern": LENGTH_TEXT }] })
    };
    let readings = |one: &str| {
        json!({
            "anyOf": [
                { "$ref": format!("#/$defs/{one}") },
                {
                    "type": "object",
                    "properties": { "repeats": {
                        "type": "array",
                        "items": { "$ref": format!("#/$defs/{one}") },
                        "minItems": 2,
                        "maxItems": defaults::MOST_READINGS,
                    } },
                    "required": ["repeats"],
                    "additionalProperties": false,
                },
            ]
        })
    };
    json!({
        "any length": length(json!({})),
        "length": length(json!({ "exclusiveMinimum": 0 })),
        "length or zero": length(json!({ "minimum": 0 })),
        "measured any length": readings("any length"),
        "measured length": readings("length"),
        "measured length or zero": readings("length or zero"),
        "pitch": {
            "anyOf": [
                { "$ref": "#/$defs/measured length" },
                {
                    "type": "object",
                    "properties": {
                        "over": { "$ref": "#/$defs/readings" },
                        "between": { "$ref": "#/$defs/readings" },
                    },
                    "minProperties": 1,
                    "additionalProperties": false,
                },
            ]
        },
        "readings": {
            "anyOf": [
                { "$ref": "#/$defs/length" },
                {
                    "type": "array",
                    "items": { "$ref": "#/$defs/length" },
                    "minItems": 2,
                    "maxItems": defaults::MOST_READINGS,
                },
            ]
        },
    })
}

/// The shape of one key's value.
pub(super) fn shape(path: &str, key: &Key) -> Value {
    if key.lengths {
        return of_lengths(path, key.sample);
    }
    let of_words = |words: &[&str]| json!({ "enum": words });
    let whole = |most: usize| json!({ "type": "integer", "minimum": 1, "maximum": most });
    // One for every string, or one for all.
    let each = |one: Value| json!({ "anyOf": [one, { "type": "array", "items": one }] });
    let range =
        |(low, high): (f64, f64)| json!({ "type": "number", "minimum": low, "maximum": high });
    let two =
        |range: Value| json!({ "type": "array", "items": range, "minItems": 2, "maxItems": 2 });
    match path {
        "unit" => of_words(&words::UNIT),
        "head.crest" => of_words(&words::CREST),
        "placement.along" | "placement.depth" => of_words(&words::CENTRED),
        "head.angle" => json!({
            "type": "number", "minimum": 0, "exclusiveMaximum": defaults::ANGLE_BELOW
        }),
        "slots.ramp.angle" => json!({
            "type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": defaults::RAMP_BELOW
        }),
        "bores.point" => json!({ "anyOf": [
            {
                "type": "number",
                "minimum": defaults::POINT_RANGE.0,
                "exclusiveMaximum": defaults::POINT_RANGE.1,
            },
            { "const": words::FLAT },
        ] }),
        "machines.barrels" | "machines.bass.barrels" | "drilled.number" => {
            whole(defaults::MOST_BARRELS)
        }
        "strings.barrels" => json!({ "type": "array", "items": whole(defaults::MOST_BARRELS) }),
        "strings.leaves" => each(of_words(&words::LEAVES)),
        "strings.walk" => each(of_words(&words::WALK)),
        "strings.turns" => each(range((0.0, defaults::MOST_TURNS))),
        "drilled.side" => of_words(&words::SIDE),
        "drilled.lean_along" | "drilled.lean_across" => json!({
            "type": "number",
            "exclusiveMinimum": -defaults::DRILLED_LEAN_BELOW,
            "exclusiveMaximum": defaults::DRILLED_LEAN_BELOW,
        }),
        "tolerances.squareness" => json!({
            "type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": defaults::SQUARENESS_BELOW
        }),
        "drilling.squareness" => json!({
            "type": "number", "minimum": 0, "exclusiveMaximum": defaults::SQUARENESS_BELOW
        }),
        "tolerances.bush_seat" => {
            json!({ "enum": HOLES.iter().map(|class| class.name).collect::<Vec<_>>() })
        }
        "rig.fixing" => of_words(THREADS),
        "wood.species" => species(),
        "wood.cut" => of_words(&words::CUT),
        "wood.humidity" => two(range(defaults::HUMIDITY_RANGE)),
        "wood.moisture" => two(range(defaults::MOISTURE_RANGE)),
        "wood.temperature" => range(defaults::TEMPERATURE_RANGE),
        "wood.radial" | "wood.tangential" | "wood.density" => {
            json!({ "type": "number", "exclusiveMinimum": 0 })
        }
        "head.veneers_on" => json!({ "type": "boolean" }),
        _ => json!({ "type": "string" }),
    }
}

/// The woods by the names to type; the reader also takes other capitals, blanks round them and the
/// botanical names.
fn species() -> Value {
    let names: Vec<&str> = SPECIES.iter().map(|wood| wood.name).collect();
    let either_case = |name: &str| -> String {
        let letter = |c: char| match c {
            'a'..='z' | 'A'..='Z' => {
                format!("[{}{}]", c.to_ascii_uppercase(), c.to_ascii_lowercase())
            }
            _ => c.to_string(),
        };
        name.chars().map(letter).collect()
    };
    let any: Vec<String> = SPECIES
        .iter()
        .flat_map(|wood| [wood.name, wood.botanical])
        .map(either_case)
        .collect();
    let pattern = format!("^\\s*(?:{})\\s*$", any.join("|"));
    json!({ "anyOf": [{ "enum": names }, { "type": "string", "pattern": pattern }] })
}

fn of_lengths(path: &str, sample: &str) -> Value {
    let sign = if ANY_SIGN.contains(&path) {
        "any length"
    } else if MAY_BE_ZERO.contains(&path) {
        "length or zero"
    } else {
        "length"
    };
    let table = path.split('.').next().unwrap_or_default();
    let one = if path.ends_with(".pitches") {
        "pitch".to_owned()
    } else if MEASURABLE.contains(&table) && path != "machines.screws.points" {
        format!("measured {sign}")
    } else {
        sign.to_owned()
    };
    let one = json!({ "$ref": format!("#/$defs/{one}") });
    let list = |count: Option<usize>| {
        let mut list = json!({ "type": "array", "items": one });
        if let (Some(list), Some(count)) = (list.as_object_mut(), count) {
            list.insert("minItems".to_owned(), count.into());
            list.insert("maxItems".to_owned(), count.into());
        }
        list
    };
    match path {
        "machines.screws.points" => json!({
            "type": "array", "items": list(Some(2)), "maxItems": defaults::MOST_SCREWS
        }),
        "strings.diameters" => json!({ "anyOf": [one, list(None)] }),
        "nut.strings" => list(None),
        "machines.pitches" | "machines.bass.pitches" => json!({
            "type": "array", "items": one, "maxItems": defaults::MOST_BARRELS - 1
        }),
        "print.bed" => list(Some(3)),
        _ if sample.starts_with('[') => list(Some(2)),
        _ => one,
    }
}

/// The default of a key where it is one number or word.
pub(super) fn default(path: &str) -> Option<String> {
    let mm = |value: f64| Some(format!("{} mm", plain(value)));
    let degrees = |value: f64| Some(format!("{} degrees", plain(value)));
    match path {
        "unit" => Some(format!("\"{}\"", words::MM)),
        "title" => Some("the file's name".to_owned()),
        "head.side_start" => mm(defaults::SIDE_START),
        "head.side_end" => Some("the head's length".to_owned()),
        "head.thickness_at_crest" => Some("the thickness".to_owned()),
        "head.face_veneer" | "head.back_veneer" => mm(defaults::VENEER),
        "head.veneers_on" => Some(defaults::VENEERS_ON.to_string()),
        "head.edge_radius" => mm(defaults::EDGE_RADIUS),
        "head.crest" => Some(format!("\"{}\"", words::FLAT)),
        "machines.axis_offset" => mm(defaults::AXIS_OFFSET),
        "placement.along" | "placement.depth" => Some("\"centred\"".to_owned()),
        "bores.point" => degrees(defaults::POINT_DEGREES),
        "slots.corner_radius" => Some("half the slot's width".to_owned()),
        "guide.height" => Some("the head's thickness".to_owned()),
        "guide.bore_diameter" => Some("the bores' diameter".to_owned()),
        "print.head_allowance" => mm(defaults::HEAD_ALLOWANCE),
        "print.block_allowance" => mm(defaults::BLOCK_ALLOWANCE),
        "print.bush_allowance" => mm(defaults::BUSH_ALLOWANCE),
        "print.chord" => mm(defaults::CHORD),
        "tolerances.pitch" => mm(defaults::PITCH_TOLERANCE),
        "tolerances.bore_diameter" => mm(defaults::BORE_TOLERANCE),
        "tolerances.axis_below_face" => mm(defaults::AXIS_TOLERANCE),
        "tolerances.squareness" => degrees(defaults::SQUARENESS_DEGREES),
        "tolerances.bush_seat" => Some(format!("\"{}\"", defaults::BUSH_SEAT)),
        "drilling.position" => mm(defaults::DRILLING_POSITION),
        "drilling.squareness" => degrees(defaults::DRILLING_SQUARENESS),
        "drilling.wander" => mm(defaults::DRILLING_WANDER),
        "drilling.growth" => mm(defaults::DRILLING_GROWTH),
        "drilling.pitch" => mm(defaults::DRILLING_PITCH),
        "rig.base" => mm(defaults::RIG_BASE),
        "rig.upright" => mm(defaults::RIG_UPRIGHT),
        "rig.front" => mm(defaults::RIG_FRONT),
        "rig.behind" => mm(defaults::RIG_BEHIND),
        "rig.beyond" => mm(defaults::RIG_BEYOND),
        "rig.relief" => mm(defaults::RIG_RELIEF),
        "rig.packing" => mm(defaults::RIG_PACKING),
        "rig.wedge_thin_end" => mm(defaults::RIG_WEDGE_THIN_END),
        "rig.fixing" => Some(format!("\"{}\"", defaults::RIG_FIXING)),
        "strings.turns" => Some(plain(defaults::TURNS)),
        "wood.temperature" => Some(format!("{} °C", plain(defaults::TEMPERATURE))),
        _ => None,
    }
}
