//! Random designs over the whole parameter file, valid or nearly so, as keys and values that can
//! be written out in millimetres or inches, in any order, or mirrored.

#![allow(dead_code, reason = "each test file uses a part of it")]

use std::fmt::Write;

/// SplitMix64 (Steele, Lea and Flood 2014): small, and the same on every machine.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From `low` to `high`, in steps of 0.05: numbers a person would type.
    pub fn length(&mut self, low: f64, high: f64) -> f64 {
        (self.between(low, high) * 20.0).round() / 20.0
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn whole(&mut self, low: u64, high: u64) -> u64 {
        low + self.bits() % (high - low + 1)
    }

    /// True once in `n`.
    pub fn once_in(&mut self, n: u64) -> bool {
        self.bits().is_multiple_of(n)
    }
}

/// A value of the parameter file.
#[derive(Clone, Debug)]
pub enum Value {
    Length(f64),
    Lengths(Vec<f64>),
    Points(Vec<[f64; 2]>),
    Number(f64),
    Word(&'static str),
    Truth(bool),
}

/// A design as dotted keys and their values.
#[derive(Clone, Debug, Default)]
pub struct Sheet {
    pub keys: Vec<(String, Value)>,
}

impl Sheet {
    pub fn set(&mut self, key: &str, value: Value) {
        match self.keys.iter_mut().find(|(own, _)| own == key) {
            Some((_, old)) => *old = value,
            None => self.keys.push((key.to_owned(), value)),
        }
    }

    pub fn length(&mut self, key: &str, value: f64) {
        self.set(key, Value::Length(value));
    }

    pub fn get(&self, key: &str) -> Option<&Value> {
        self.keys
            .iter()
            .find(|(own, _)| own == key)
            .map(|(_, value)| value)
    }

    pub fn take(&mut self, key: &str) -> Option<Value> {
        let at = self.keys.iter().position(|(own, _)| own == key)?;
        Some(self.keys.remove(at).1)
    }

    /// The file's text, lengths bare millimetres.
    pub fn millimetres(&self) -> String {
        self.text(1.0, "mm")
    }

    /// The file's text, lengths bare inches.
    pub fn inches(&self) -> String {
        self.text(25.4, "in")
    }

    fn text(&self, mm_per_unit: f64, unit: &str) -> String {
        let mut text = format!("title = \"Random\"\nunit = \"{unit}\"\n");
        let number = |v: f64| format!("{:?}", v);
        for (key, value) in &self.keys {
            let written = match value {
                Value::Length(v) => number(v / mm_per_unit),
                Value::Lengths(list) => {
                    let list: Vec<String> = list.iter().map(|v| number(v / mm_per_unit)).collect();
                    format!("[{}]", list.join(", "))
                }
                Value::Points(list) => {
                    let list: Vec<String> = list
                        .iter()
                        .map(|[a, b]| {
                            format!("[{}, {}]", number(a / mm_per_unit), number(b / mm_per_unit))
                        })
                        .collect();
                    format!("[{}]", list.join(", "))
                }
                Value::Number(v) => number(*v),
                Value::Word(word) => format!("\"{word}\""),
                Value::Truth(truth) => truth.to_string(),
            };
            let _ = writeln!(text, "{key} = {written}");
        }
        text
    }

    /// The same design with its keys in another order.
    pub fn shuffled(&self, dice: &mut Dice) -> Sheet {
        let mut keys = self.keys.clone();
        for i in (1..keys.len()).rev() {
            let j = dice.whole(0, i as u64) as usize;
            keys.swap(i, j);
        }
        Sheet { keys }
    }

    /// The design seen in a mirror: treble and bass change places.
    pub fn mirrored(&self) -> Sheet {
        let mut sheet = self.clone();
        for (treble, bass) in [
            ("head.width_at_nut_end", "head.bass.width_at_nut_end"),
            ("head.width_at_crest_end", "head.bass.width_at_crest_end"),
            ("machines.pitches", "machines.bass.pitches"),
            ("machines.overhang", "machines.bass.overhang"),
            ("placement.first_barrel", "placement.bass.first_barrel"),
        ] {
            if let (Some(one), Some(other)) = (self.get(treble), self.get(bass)) {
                sheet.set(treble, other.clone());
                sheet.set(bass, one.clone());
            }
        }
        if let Some(Value::Lengths(strings)) = self.get("nut.strings") {
            sheet.set(
                "nut.strings",
                Value::Lengths(strings.iter().rev().map(|x| -x).collect()),
            );
        }
        sheet
    }
}

/// A random design.
pub fn design(dice: &mut Dice) -> Sheet {
    let mut sheet = Sheet::default();
    let barrel = dice.length(6.0, 10.5);
    let bore = barrel + dice.length(0.2, 0.6);
    let barrel_length = dice.length(22.0, 38.0);
    let rib_slots = !dice.once_in(3);
    let rib = dice.length(8.0, 20.0);
    let bearing = dice.between(1.0, (rib / 2.0 - 1.2).clamp(1.5, 6.0));
    let slot = dice.length(10.0, (barrel_length - bearing - 8.5).clamp(10.5, 18.0));
    let cheek = (barrel_length - bearing - slot).max(2.0);
    let count = dice.whole(1, 6) as usize;
    let count = if dice.once_in(60) { 40 } else { count };
    let other = if dice.once_in(4) {
        dice.whole(1, 6) as usize
    } else {
        count
    };
    let pitch = dice.length(bore + 1.2, 40.0);
    let gaps = |n: usize, dice: &mut Dice| -> Vec<f64> {
        let uneven = dice.once_in(4);
        (1..n)
            .map(|_| {
                if uneven {
                    pitch + dice.length(0.0, 4.0)
                } else {
                    pitch
                }
            })
            .collect()
    };
    let (treble, bass) = (gaps(count, dice), gaps(other, dice));
    let bass = if other == count && !dice.once_in(5) {
        treble.clone()
    } else {
        bass
    };
    let longest = treble.iter().sum::<f64>().max(bass.iter().sum());
    let (nut_overhang, crest_overhang) = (dice.length(11.0, 20.0), dice.length(11.0, 24.0));
    let first = dice.length(40.0, 64.0);
    let side_end = first + longest + crest_overhang + dice.length(6.0, 30.0);
    if side_end > 1700.0 {
        return design(dice);
    }

    // Half widths that put the first barrels where they bear in the rib.
    let taper: f64 = if dice.once_in(6) {
        0.0
    } else {
        dice.between(-0.015, 0.05)
    };
    let reach = if rib_slots {
        rib / 2.0 + slot + cheek
    } else {
        cheek + slot + rib / 2.0
    };
    let at_first = reach + dice.between(0.0, 0.6);
    let (at_nut, at_crest) = (
        at_first - taper * first,
        at_first + taper * (side_end - first),
    );
    let hundredth = |v: f64| (v * 100.0).round() / 100.0;
    sheet.length("head.width_at_nut_end", hundredth(2.0 * at_nut));
    sheet.length("head.width_at_crest_end", hundredth(2.0 * at_crest));
    let untrue = dice.once_in(3);
    if untrue {
        let step = if dice.once_in(2) { 0.4 } else { 3.0 };
        sheet.length(
            "head.bass.width_at_nut_end",
            hundredth(2.0 * at_nut + dice.between(-step, step)),
        );
        sheet.length(
            "head.bass.width_at_crest_end",
            hundredth(2.0 * at_crest + dice.between(-step, step)),
        );
    }
    sheet.length("head.side_end", side_end);
    if dice.once_in(3) {
        sheet.length("head.length", side_end);
    } else {
        let rise = dice
            .between(0.2, at_nut.min(at_crest).min(30.0) - 2.0)
            .max(0.2);
        sheet.length("head.length", hundredth(side_end + rise));
        sheet.set("head.crest", Value::Word("arch"));
    }
    if dice.once_in(4) {
        let start = dice.length(3.0, 14.0);
        sheet.length("head.side_start", start);
        if !dice.once_in(3) {
            sheet.length(
                "head.shoulder_width",
                hundredth(2.0 * at_nut + dice.between(-12.0, 10.0)),
            );
        }
    }
    let thickness = bore + dice.length(4.0, 12.0);
    sheet.length("head.thickness", thickness);
    if dice.once_in(3) {
        sheet.length(
            "head.thickness_at_crest",
            thickness + dice.length(-2.0, 2.0),
        );
    }
    if dice.once_in(3) {
        sheet.length("head.face_veneer", 0.6);
        sheet.set("head.veneers_on", Value::Truth(dice.once_in(2)));
    }
    sheet.set("head.angle", Value::Number(dice.between(0.0, 18.0).round()));

    let strings = count + other;
    let span = dice.between(20.0, 60.0);
    let step = if strings > 1 {
        span / (strings - 1) as f64
    } else {
        0.0
    };
    let places = (0..strings).map(|i| step * i as f64 - span / 2.0).collect();
    sheet.set("nut.strings", Value::Lengths(places));
    sheet.length("nut.string_height", dice.length(2.0, 7.0));

    sheet.length("machines.barrel_diameter", barrel);
    sheet.length("machines.barrel_length", barrel_length);
    sheet.length("machines.string_hole", hundredth(cheek + slot / 2.0));
    sheet.length("machines.plate_width", dice.length(12.0, thickness + 1.0));
    sheet.length("machines.plate_thickness", 1.2);
    sheet.set("machines.pitches", Value::Lengths(treble.clone()));
    sheet.set(
        "machines.overhang",
        Value::Lengths(vec![nut_overhang, crest_overhang]),
    );
    sheet.set("machines.bass.pitches", Value::Lengths(bass.clone()));
    sheet.set(
        "machines.bass.overhang",
        Value::Lengths(vec![nut_overhang, crest_overhang]),
    );
    if dice.once_in(4) {
        let depth = dice.length(3.0, (cheek - 1.0).max(3.5));
        let along = -(bore / 2.0 + dice.length(2.0, 4.0));
        let across = dice.length(-1.5, 1.5);
        sheet.set(
            "machines.screws.points",
            Value::Points(vec![[along, across]]),
        );
        sheet.length("machines.screws.pilot", 1.6);
        sheet.length("machines.screws.depth", depth);
    }
    sheet.length("placement.first_barrel", first);
    let shift = if untrue && dice.once_in(2) {
        dice.length(-0.6, 0.6)
    } else {
        0.0
    };
    sheet.length("placement.bass.first_barrel", first + shift);
    sheet.length(
        "placement.axis_below_face",
        hundredth(thickness / 2.0 + dice.between(-0.7, 0.7)),
    );

    sheet.length("bores.diameter", bore);
    if dice.once_in(3) {
        sheet.length("bores.beyond_centre", dice.length(0.5, 4.0));
    } else {
        sheet.length("bores.beyond_barrel", dice.length(0.0, 4.0));
    }
    match dice.whole(0, 3) {
        0 => sheet.set("bores.point", Value::Word("flat")),
        1 => sheet.set(
            "bores.point",
            Value::Number(dice.between(60.0, 179.0).round()),
        ),
        _ => {}
    }
    if dice.once_in(4) {
        let wide = bore + dice.length(0.5, 3.0);
        sheet.length("bores.counterbore.diameter", wide);
        sheet.length(
            "bores.counterbore.depth",
            dice.length(1.0, (cheek - 1.5).max(1.5)),
        );
    }

    if !dice.once_in(9) {
        sheet.length("slots.width", slot);
        if rib_slots {
            sheet.length("slots.rib", rib);
        } else {
            sheet.length("slots.cheek", hundredth(cheek));
        }
        let radius = match dice.whole(0, 3) {
            0 => 0.0,
            1 => hundredth(dice.between(0.1, slot / 2.0)),
            _ => slot / 2.0,
        };
        sheet.length("slots.corner_radius", radius);
        let margin = bore / 2.0 + radius + 1.0;
        let margins = vec![
            margin + dice.length(0.0, 8.0),
            margin + dice.length(0.0, 8.0),
        ];
        let ramp_room = first - margins[0] - 6.0;
        sheet.set("slots.end_margin", Value::Lengths(margins));
        if !dice.once_in(3) && ramp_room > 1.0 {
            let mouth = if dice.once_in(6) {
                0.0
            } else {
                dice.length(0.05, ramp_room.min(25.0))
            };
            sheet.length("slots.ramp.mouth", mouth);
            let most = (thickness - 2.0)
                .atan2(mouth + radius + 0.1)
                .to_degrees()
                .min(70.0);
            sheet.set(
                "slots.ramp.angle",
                Value::Number(hundredth(dice.between(2.0, most.max(3.0)))),
            );
        }
    }

    sheet.length("guide.depth", dice.length(12.0, 30.0));
    sheet.length("guide.end_margin", dice.length(bore / 2.0 + 6.0, 34.0));
    if dice.once_in(3) {
        sheet.length("guide.bush_diameter", bore + dice.length(2.0, 3.5));
    }
    if dice.once_in(2) {
        sheet.length("guide.scribe.width", 0.8);
        sheet.length("guide.scribe.depth", 0.4);
    }
    if dice.once_in(4) {
        let height = thickness + dice.length(0.0, 6.0);
        sheet.length("guide.height", height);
        sheet.length("guide.axis_height", hundredth(height / 2.0));
    }
    sheet
}
