//! Kinds of instrument to start from: a commented starter each, and what `--ask` assumes for it.

use crate::input::Unit;

/// One kind.
#[derive(Debug)]
pub struct Kind {
    /// Name on the command line.
    pub name: &'static str,
    /// A line for the list.
    pub about: &'static str,
    /// The starter file.
    pub text: &'static str,
    /// Barrels on the treble side.
    pub treble: u32,
    /// Barrels on the bass side.
    pub bass: u32,
    /// Unit offered first by `--ask`.
    pub unit: Unit,
    /// Assumed centre to centre of the outer strings at the nut, mm.
    pub string_span: f64,
    /// Assumed string height over the face at the nut, mm.
    pub string_height: f64,
    /// Assumed head angle, degrees.
    pub angle: f64,
    /// Longest ramp mouth, mm.
    pub mouth: f64,
}

impl Kind {
    /// Barrels of the side that has more.
    pub fn most_barrels(&self) -> u32 {
        self.treble.max(self.bass)
    }
}

/// All kinds, the usual one first.
pub const ALL: &[Kind] = &[
    Kind {
        name: "six-string",
        about: "classical guitar, three machines a side",
        text: include_str!("starters/six-string.toml"),
        treble: 3,
        bass: 3,
        unit: Unit::Mm,
        string_span: 43.0,
        string_height: 4.5,
        angle: 14.0,
        mouth: 18.0,
    },
    Kind {
        name: "seven-string",
        about: "three machines on the treble side, four on the bass",
        text: include_str!("starters/seven-string.toml"),
        treble: 3,
        bass: 4,
        unit: Unit::Mm,
        string_span: 51.0,
        string_height: 6.0,
        angle: 13.0,
        mouth: 14.0,
    },
    Kind {
        name: "ten-string",
        about: "five machines a side on a long head",
        text: include_str!("starters/ten-string.toml"),
        treble: 5,
        bass: 5,
        unit: Unit::Mm,
        string_span: 64.0,
        string_height: 6.5,
        angle: 12.0,
        mouth: 16.0,
    },
    Kind {
        name: "ukulele",
        about: "slotted head with two machines a side",
        text: include_str!("starters/ukulele.toml"),
        treble: 2,
        bass: 2,
        unit: Unit::Mm,
        string_span: 28.0,
        string_height: 3.5,
        angle: 12.0,
        mouth: 13.0,
    },
    Kind {
        name: "steel-string",
        about: "six steel strings on thin posts, in inches",
        text: include_str!("starters/steel-string.toml"),
        treble: 3,
        bass: 3,
        unit: Unit::Inch,
        string_span: 35.5,
        string_height: 3.8,
        angle: 15.0,
        mouth: 19.0,
    },
    Kind {
        name: "twelve-string",
        about: "six thin posts a side",
        text: include_str!("starters/twelve-string.toml"),
        treble: 6,
        bass: 6,
        unit: Unit::Mm,
        string_span: 40.0,
        string_height: 5.0,
        angle: 14.0,
        mouth: 18.0,
    },
];

/// The kind of that name.
pub fn named(name: &str) -> Option<&'static Kind> {
    ALL.iter().find(|kind| kind.name == name)
}

/// The kind where none is named.
pub fn usual() -> &'static Kind {
    &ALL[0]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_starter_is_toml_and_letters_what_must_be_measured() {
        for kind in ALL {
            let table: toml::Table = kind.text.parse().unwrap();
            for needed in ["head", "nut", "machines", "placement", "bores", "guide"] {
                assert!(table.contains_key(needed), "{}: {needed}", kind.name);
            }
            assert!(kind.text.contains("cannot be guessed"), "{}", kind.name);
            for letter in 'A'..='J' {
                assert!(
                    kind.text.contains(&format!("# {letter} ")),
                    "{}: {letter}",
                    kind.name
                );
            }
            assert!(kind.text.is_ascii(), "{}", kind.name);
        }
    }
}
