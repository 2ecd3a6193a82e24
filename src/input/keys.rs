//! Every key of the parameter file: what it is, and a sample for hints. Unknown keys are
//! recognised against this list, and nothing reads a key that is not in it.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::design::Unit;
use crate::diagnostic::meant::nearest_or_part;
use crate::units::{MM_PER_INCH, plain};

/// A key of the parameter file.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Key {
    /// Dotted path of its table; empty for the top of the file.
    pub table: &'static str,
    pub name: &'static str,
    /// A sample value, lengths in mm.
    pub sample: &'static str,
    /// Numbers in the sample are lengths.
    pub lengths: bool,
    /// What it is, to stand after a colon.
    pub what: &'static str,
}

impl Key {
    /// The sample in a file's unit.
    pub fn sample_in(&self, unit: Unit) -> String {
        if unit == Unit::Mm || !self.lengths {
            return self.sample.to_owned();
        }
        let mut out = String::new();
        let mut number = String::new();
        for c in self.sample.chars().chain(['\n']) {
            if c.is_ascii_digit() || c == '.' {
                number.push(c);
                continue;
            }
            if let Ok(mm) = number.parse::<f64>() {
                out.push_str(&plain((mm / MM_PER_INCH * 1000.0).round() / 1000.0));
            }
            number.clear();
            out.push(c);
        }
        out.trim_end().to_owned()
    }
}

/// The entry of a key.
pub(crate) fn key(table: &str, name: &str) -> Option<&'static Key> {
    // Asked for with every key of every file that is tried: a list gone through takes a tenth of that.
    static BY_NAME: LazyLock<HashMap<(&str, &str), &Key>> = LazyLock::new(|| {
        let named = |key: &'static Key| ((key.table, key.name), key);
        KEYS.iter().map(named).collect()
    });
    BY_NAME.get(&(table, name)).copied()
}

/// The names of a table's keys, in the order of the starter file.
pub(crate) fn names(table: &str) -> impl Iterator<Item = &'static str> {
    KEYS.iter()
        .filter(move |key| key.table == table)
        .map(|key| key.name)
}

/// The key of a table that an unknown name was meant to be.
pub(crate) fn meant(table: &str, name: &str) -> Option<&'static str> {
    nearest_or_part(name, || names(table))
}

/// A sample with its unit, fit for any file, of a key that takes lengths in whatever table it stands.
pub(crate) fn sample_of_lengths(name: &str) -> Option<String> {
    let mut named = KEYS.iter().filter(|key| key.name == name).peekable();
    let sample = named.peek()?.sample;
    if !named.all(|key| key.lengths) {
        return None;
    }
    let quoted = |number: &str| {
        let number = number.trim();
        number
            .parse::<f64>()
            .is_ok()
            .then(|| format!("\"{number} mm\""))
    };
    let Some(list) = sample.strip_prefix('[').and_then(|s| s.strip_suffix(']')) else {
        return quoted(sample);
    };
    let all: Vec<String> = list.split(',').map(quoted).collect::<Option<_>>()?;
    Some(format!("[{}]", all.join(", ")))
}

/// What a key takes, as its sample tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Takes {
    /// One length.
    Length,
    /// Two lengths.
    Pair,
    /// Some lengths.
    Lengths,
    /// One number without a unit or some, such as degrees or counts.
    Bare,
    /// A text or a word.
    Text,
}

impl Key {
    fn takes(&self) -> Option<Takes> {
        let numbers = self.sample.split(',').count();
        let inner = self.sample.trim_start_matches(['[', '-']);
        let number = inner.starts_with(|c: char| c.is_ascii_digit());
        match (self.lengths, self.sample.starts_with('['), number) {
            (true, false, true) => Some(Takes::Length),
            (true, true, true) if numbers == 2 && !OPEN_LISTS.contains(&self.name) => {
                Some(Takes::Pair)
            }
            (true, true, true) if !self.sample.starts_with("[[") => Some(Takes::Lengths),
            (false, _, true) => Some(Takes::Bare),
            (false, _, _) if self.sample.starts_with('"') => Some(Takes::Text),
            _ => None,
        }
    }
}

/// What the keys of this name take, in whatever table they stand; none where they differ.
pub(crate) fn takes(name: &str) -> Option<Takes> {
    let mut named = KEYS.iter().filter(|key| key.name == name).map(Key::takes);
    let first = named.next()?;
    named.all(|other| other == first).then_some(first)?
}

/// Whether in some table a key of this name takes that.
pub(crate) fn may_take(name: &str, what: Takes) -> bool {
    KEYS.iter()
        .any(|key| key.name == name && key.takes() == Some(what))
}

/// Keys that take as many lengths as there are, though their sample holds two.
const OPEN_LISTS: [&str; 1] = ["pitches"];

/// The table that does have a key of this name; a table's own key before a table of that name.
pub(crate) fn table_having(name: &str) -> Option<&'static str> {
    let having = || {
        KEYS.iter()
            .filter(move |key| key.name == name && name != "from" && name != "bass")
            .map(|key| key.table)
    };
    having()
        .find(|table| !table.is_empty())
        .or_else(|| having().next())
}

const fn length(
    table: &'static str,
    name: &'static str,
    sample: &'static str,
    what: &'static str,
) -> Key {
    Key {
        table,
        name,
        sample,
        lengths: true,
        what,
    }
}

const fn other(
    table: &'static str,
    name: &'static str,
    sample: &'static str,
    what: &'static str,
) -> Key {
    Key {
        table,
        name,
        sample,
        lengths: false,
        what,
    }
}

/// All keys.
#[rustfmt::skip] // one key a line reads as the table it is
pub(crate) const KEYS: &[Key] = &[
    other("", "title", "\"Sandpiper\"", "the design's name"),
    other("", "unit", "\"mm\"", "the unit of bare numbers"),
    other("", "job", "{ number = \"07\" }", "texts for title blocks"),
    other("", "head", "[head]", "the head's outline and thickness"),
    other("", "nut", "[nut]", "the strings at the nut"),
    other("", "machines", "[machines]", "the tuning machines as measured"),
    other("", "placement", "[placement]", "where the machines sit"),
    other("", "bores", "[bores]", "the barrel bores"),
    other("", "slots", "[slots]", "the string slots"),
    other("", "strings", "[strings]", "the strings from nut to barrel"),
    other("", "guide", "[guide]", "the drilling guide block"),
    other("", "press", "[press]", "the drill press"),
    other("", "print", "[print]", "allowances of printed copies"),
    other("", "tolerances", "[tolerances]", "how true the shop must work"),
    other("", "drilling", "[drilling]", "how far drilling and plates scatter"),
    other("", "drilled", "[[drilled]]", "a bore as it is in the wood"),
    other("", "template", "[template]", "the router bit and its guide"),
    other("", "wood", "[wood]", "the wood, and the climates it will live between"),
    other("", "rig", "[rig]", "the rig at the drill press"),
    other("", "limits", "[limits]", "your own caution limits"),
    other("job", "number", "\"07\"", "the job's number"),
    other("job", "revision", "\"B\"", "the revision"),
    other("job", "date", "\"2026-03-14\"", "the date"),
    other("job", "material", "\"Spanish cedar\"", "the material"),
    other("job", "quantity", "\"1\"", "how many"),
    other("job", "contact", "\"bench 2\"", "whom to ask"),
    other("job", "owner", "\"the workshop\"", "who owns the drawing"),
    other("job", "creator", "\"bench 2\"", "who made the drawing"),
    other("job", "approver", "\"bench 1\"", "who approved it"),
    length("head", "length", "196.0", "from the nut line to the crest, on the centre line"),
    length("head", "side_start", "0.0", "y at which the straight sides begin"),
    length("head", "side_end", "184.0", "y at which the straight sides end"),
    length("head", "width_at_nut_end", "63.0", "the width where the straight sides begin"),
    length("head", "width_at_crest_end", "71.0", "the width where the straight sides end"),
    length("head", "shoulder_width", "52.0", "the width at the nut line"),
    length("head", "thickness", "20.4", "the finished thickness at the nut line, veneers included"),
    length("head", "thickness_at_crest", "20.4", "the finished thickness at the crest"),
    length("head", "face_veneer", "2.4", "the face veneer, inside the thickness"),
    length("head", "back_veneer", "0.6", "the back veneer, inside the thickness"),
    other("head", "veneers_on", "true", "whether the veneers are on when the head is drilled"),
    other("head", "angle", "14.0", "the angle of the head's face to the playing surface, degrees"),
    other("head", "crest", "\"arch\"", "the shape of the crest"),
    length("head", "edge_radius", "2.0", "the rounding given to the side's edges later"),
    other("head", "bass", "[head.bass]", "the bass side's own widths"),
    length("head.bass", "width_at_nut_end", "63.0", "twice the bass side's half width where the straight side begins"),
    length("head.bass", "width_at_crest_end", "71.0", "twice the bass side's half width where the straight side ends"),
    length("nut", "string_span", "43.0", "centre to centre of the outer strings"),
    length("nut", "strings", "[-21.5, -12.9, -4.3, 4.3, 12.9, 21.5]", "every string's x, bass to treble"),
    length("nut", "string_height", "4.2", "the strings above the plane of the head's face, at the nut line"),
    length("machines", "barrel_diameter", "10.0", "the barrel's diameter"),
    length("machines", "barrel_length", "30.5", "from the underside of the plate to the barrel's end"),
    length("machines", "string_hole", "19.0", "from the underside of the plate to the centre of the string hole"),
    length("machines", "plate_width", "17.4", "the plate's width across the thickness of the head"),
    length("machines", "plate_thickness", "1.2", "the plate's thickness"),
    length("machines", "axis_offset", "0.0", "the barrel's axis from the plate's mid-width"),
    length("machines", "pitches", "[35.0, 35.0]", "the gaps between neighbouring barrels, nut end first"),
    other("machines", "barrels", "3", "the number of barrels on a plate"),
    length("machines", "over_outer_barrels", "80.0", "the length over the outer barrels"),
    length("machines", "overhang", "[17.0, 18.5]", "from the outer barrel's centre to the plate's end: nut end, crest end"),
    length("machines", "plate_length", "105.5", "the plate's length, as a cross-check"),
    length("machines", "screws", "{ points = [[-11.0, 0.0], [81.0, 0.0]], pilot = 1.6, depth = 7.0 }", "the screw pilots"),
    other("machines", "from", "\"sets/plain-35.toml\"", "the file that describes the set"),
    other("machines", "bass", "[machines.bass]", "the bass side's own plate"),
    length("machines.screws", "points", "[[-11.0, 0.0], [81.0, 0.0]]", "each screw from the first barrel's axis: along, across"),
    length("machines.screws", "pilot", "1.6", "the pilot's diameter"),
    length("machines.screws", "depth", "7.0", "the pilot's depth"),
    length("machines.bass", "pitches", "[35.0, 35.0]", "the gaps between neighbouring barrels, nut end first"),
    other("machines.bass", "barrels", "3", "the number of barrels on the bass plate"),
    length("machines.bass", "over_outer_barrels", "80.0", "the length over the outer barrels"),
    length("machines.bass", "overhang", "[17.0, 18.5]", "from the outer barrel's centre to the plate's end: nut end, crest end"),
    other("placement", "along", "\"centred\"", "where the plate sits along the side"),
    length("placement", "first_barrel", "57.0", "y of the first bore's centre on the side line"),
    other("placement", "bass", "{ first_barrel = 57.0 }", "the bass side's own first_barrel"),
    other("placement", "depth", "\"centred\"", "where the plate sits across the thickness"),
    length("placement", "axis_below_face", "10.2", "the bore's axis below the face"),
    length("placement.bass", "first_barrel", "57.0", "y of the bass side's first bore"),
    length("bores", "diameter", "10.5", "the bore's diameter"),
    length("bores", "clearance", "0.5", "added to the barrel's diameter"),
    length("bores", "beyond_barrel", "2.0", "how much deeper than the barrel's end the full diameter goes"),
    length("bores", "beyond_centre", "2.0", "how far past the centre line the full diameter goes"),
    other("bores", "point", "118", "the included angle of the bit's point, degrees, or \"flat\""),
    length("bores", "counterbore", "{ diameter = 13.0, depth = 4.0 }", "a wider mouth at the side"),
    length("bores.counterbore", "diameter", "13.0", "the counterbore's diameter"),
    length("bores.counterbore", "depth", "4.0", "the counterbore's depth"),
    length("slots", "width", "15.0", "the slot's width"),
    length("slots", "rib", "14.0", "the wood between the slots"),
    length("slots", "cheek", "11.0", "the wood between side and slot"),
    length("slots", "end_margin", "[18.0, 18.0]", "from the outer bore's axis to the slot's end: nut end, crest end"),
    length("slots", "corner_radius", "7.5", "the radius of the slot's corners in plan"),
    other("slots", "ramp", "{ mouth = 19.0, angle = 24.0 }", "the ramp at the slot's nut end"),
    length("slots.ramp", "mouth", "19.0", "how far nearer the nut than the slot's end the ramp begins"),
    other("slots.ramp", "angle", "24.0", "how steeply the ramp falls below the face, degrees"),
    length("strings", "diameters", "[1.09, 0.89, 0.74, 1.02, 0.82, 0.71]", "every string's diameter, bass to treble"),
    other("strings", "barrels", "[1, 2, 3, 3, 2, 1]", "the number, from the nut, of each string's barrel on its side, bass to treble"),
    other("strings", "leaves", "\"over\"", "on which side of the barrel the string leaves: the face's or the back's"),
    other("strings", "turns", "3", "the turns on the barrel"),
    other("strings", "walk", "\"out\"", "where the turns walk from the string hole: out to the side or in to the rib"),
    length("guide", "depth", "24.0", "the block along the bores"),
    length("guide", "height", "20.4", "the block away from the upright"),
    length("guide", "axis_height", "10.2", "the holes' axis above the upright"),
    length("guide", "end_margin", "31.0", "from the outer bore's centre to the block's end"),
    length("guide", "bore_diameter", "10.5", "the bore that guides the bit"),
    length("guide", "bush_diameter", "15.0", "the outside diameter of pressed-in bushes"),
    length("guide", "scribe", "{ width = 0.8, depth = 0.4 }", "the scribe grooves"),
    other("guide", "from", "\"blocks/hornbeam-35.toml\"", "the file that describes the block"),
    length("guide.scribe", "width", "0.8", "the groove's width at the surface"),
    length("guide.scribe", "depth", "0.4", "the groove's depth"),
    length("press", "travel", "80.0", "the quill's travel"),
    length("press", "daylight", "330.0", "the largest opening between chuck and table"),
    length("press", "bit_length", "133.0", "the bit's whole length"),
    length("press", "flute_length", "87.0", "the length of the bit's flutes"),
    length("print", "head_allowance", "0.2", "added to the diameter of the head's bores"),
    length("print", "block_allowance", "0.2", "added to the block's guide holes"),
    length("print", "bush_allowance", "0.0", "added to bush holes instead"),
    length("print", "bed", "[220.0, 220.0, 250.0]", "what the printer can hold: its bed both ways, and the height"),
    length("print", "chord", "0.02", "the largest distance between a facet and the true surface"),
    length("tolerances", "pitch", "0.1", "how far neighbouring bores may be from their pitch, either way"),
    length("tolerances", "bore_diameter", "0.1", "how much wider than nominal a bore may be"),
    length("tolerances", "axis_below_face", "0.2", "how far a bore's axis may be from its depth below the face, either way"),
    other("tolerances", "squareness", "0.3", "how far a bore may be from square to its side, degrees"),
    other("tolerances", "bush_seat", "\"H7\"", "the hole class of the bushes' seats in the block"),
    other("drilled", "side", "\"treble\"", "the side the bore enters"),
    other("drilled", "number", "2", "the bore's number, counted from the nut"),
    length("drilled", "along", "92.4", "the bore's centre from the nut line, along the side"),
    length("drilled", "edges_along", "[87.25, 97.55]", "from the nut line along the side to the bore's near and far edge"),
    length("drilled", "edges_from_previous", "[24.7, 35.0]", "from the facing edge of the bore before it to the near and the far edge"),
    length("drilled", "below_face", "10.2", "the bore's centre below the face"),
    length("drilled", "edges_below_face", "[5.05, 15.35]", "from the face to the bore's near and far edge"),
    other("drilled", "lean_along", "0.5", "how far the bore leans along the side, degrees"),
    other("drilled", "lean_across", "0.5", "how far the bore leans across the thickness, degrees"),
    length("drilled", "diameter", "10.3", "the bore's diameter as it is"),
    length("drilling", "position", "0.1", "how far a bore's centre scatters at the side, standard deviation each way"),
    other("drilling", "squareness", "0.1", "how far the rig leans from square, standard deviation each way, degrees"),
    length("drilling", "wander", "0.1", "how far the bit has drifted by the barrel's end, standard deviation each way"),
    length("drilling", "growth", "0.05", "how much wider than its bit a bore comes out on average"),
    length("drilling", "pitch", "0.03", "how far a barrel is from its place on the plate, standard deviation"),
    length("template", "cutter", "12.0", "the diameter of the router bit"),
    length("template", "bush", "16.0", "the outside diameter of the guide bush or bearing"),
    length("rig", "base", "18.0", "the thickness of the base"),
    length("rig", "upright", "24.0", "the thickness of the upright"),
    length("rig", "front", "90.0", "the base in front of the upright's face"),
    length("rig", "behind", "80.0", "the base behind the upright, where the braces stand"),
    length("rig", "beyond", "60.0", "how far base and upright go on beyond the nut line"),
    length("rig", "relief", "12.0", "how deep the upright is cut back beyond the nut line"),
    length("rig", "packing", "12.0", "the room for packing under the wedge"),
    length("rig", "wedge_thin_end", "3.0", "the height of the wedge's thin end"),
    other("wood", "species", "\"Spanish cedar\"", "the wood the head is made of"),
    other("wood", "radial", "0.00144", "your own radial coefficient, a share for 1 % of moisture content"),
    other("wood", "tangential", "0.00219", "your own tangential coefficient, a share for 1 % of moisture content"),
    other("wood", "density", "470", "your own density at 12 % of moisture content, kg/m³"),
    other("wood", "cut", "\"quarter-sawn\"", "how the head is sawn"),
    other("wood", "humidity", "[40, 60]", "the two relative humidities it will live between, %"),
    other("wood", "moisture", "[7, 11]", "the two moisture contents it will live between, %"),
    other("wood", "temperature", "21", "of the air, degrees Celsius"),
    other("rig", "fixing", "\"M5\"", "the thread of the rig's screws"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn samples_follow_the_unit() {
        let pitches = key("machines", "pitches").unwrap();
        assert_eq!(pitches.sample_in(Unit::Mm), "[35.0, 35.0]");
        assert_eq!(pitches.sample_in(Unit::Inch), "[1.378, 1.378]");
        assert_eq!(key("head", "angle").unwrap().sample_in(Unit::Inch), "14.0");
    }

    #[test]
    fn what_a_key_takes_is_known_by_its_name_alone() {
        for (name, what) in [
            ("thickness", Some(Takes::Length)),
            ("overhang", Some(Takes::Pair)),
            ("edges_along", Some(Takes::Pair)),
            ("pitches", Some(Takes::Lengths)),
            ("angle", Some(Takes::Bare)),
            ("humidity", Some(Takes::Bare)),
            ("unit", Some(Takes::Text)),
            // A word in one table, a length in another.
            ("depth", None),
            ("screws", None),
            ("points", None),
            ("nothing", None),
        ] {
            assert_eq!(takes(name), what, "{name}");
        }
    }

    #[test]
    fn no_key_stands_twice_and_every_table_is_named() {
        for (i, key) in KEYS.iter().enumerate() {
            assert!(
                KEYS[..i]
                    .iter()
                    .all(|k| (k.table, k.name) != (key.table, key.name))
            );
            let (outer, name) = key.table.rsplit_once('.').unwrap_or(("", key.table));
            assert!(
                key.table.is_empty() || super::key(outer, name).is_some(),
                "{}",
                key.table
            );
        }
    }
}
