//! The typeface of every drawing: one narrow sans-serif in two weights, carried in the program.
//!
//! Letters stand side by side by their own widths, without kerning and without shaping, so only
//! scripts that need neither are set. What the typeface cannot set comes out as [`STAND_IN`], the
//! same in every format and in every measure of width.

use std::sync::OnceLock;

use ttf_parser::{Face, GlyphId, OutlineBuilder};

use super::Weight;

/// What stands for a character that cannot be set.
pub const STAND_IN: char = '\u{25AF}';

/// A weight of the typeface, its measures in the font's own units.
pub struct Typeface {
    face: Face<'static>,
    /// The whole font file.
    pub data: &'static [u8],
    /// Height of capitals.
    pub capitals: f64,
    /// Units in an em.
    pub em: f64,
    /// The letters of the first characters: nearly all that is ever set, looked up once.
    common: Vec<Option<Letter>>,
}

/// Characters kept at hand: Latin with its marks, Greek, Cyrillic.
const COMMON: u32 = 0x500;

/// One letter of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Letter {
    /// The character set.
    pub character: char,
    /// Its number in the font.
    pub glyph: u16,
    /// Width, font units.
    pub advance: u16,
}

impl Typeface {
    /// The typeface in a weight; `None` only if the font in the program could not be read.
    #[must_use]
    pub fn of(weight: Weight) -> Option<&'static Typeface> {
        static PLAIN: OnceLock<Option<Typeface>> = OnceLock::new();
        static STRONG: OnceLock<Option<Typeface>> = OnceLock::new();
        match weight {
            Weight::Plain => PLAIN.get_or_init(|| read(dejavu::sans_condensed::regular())),
            Weight::Strong => STRONG.get_or_init(|| read(dejavu::sans_condensed::bold())),
        }
        .as_ref()
    }

    /// The parsed font.
    #[must_use]
    pub fn face(&self) -> &Face<'static> {
        &self.face
    }

    /// The letters a text is set with, stand-ins in place.
    pub fn letters<'a>(&'a self, text: &'a str) -> impl Iterator<Item = Letter> + 'a {
        text.chars()
            .filter(|&character| !is_unseen(character))
            .map(|character| {
                self.letter(character)
                    .or_else(|| self.letter(STAND_IN))
                    .unwrap_or(Letter {
                        character: STAND_IN,
                        glyph: 0,
                        advance: self.face.units_per_em(),
                    })
            })
    }

    fn letter(&self, character: char) -> Option<Letter> {
        match self.common.get(character as usize) {
            Some(letter) => *letter,
            None => self.look_up(character),
        }
    }

    fn look_up(&self, character: char) -> Option<Letter> {
        let character = if is_space(character) { ' ' } else { character };
        if needs_shaping(character) || character.is_control() {
            return None;
        }
        let glyph = self.face.glyph_index(form(character))?;
        Some(Letter {
            character,
            glyph: glyph.0,
            advance: self.face.glyph_hor_advance(glyph)?,
        })
    }

    /// Draws a letter's outline, in font units, y upwards.
    pub fn outline(&self, letter: Letter, into: &mut dyn OutlineBuilder) {
        let _ = self.face.outline_glyph(GlyphId(letter.glyph), into);
    }

    /// The lowest point of a letter, font units, below zero where it reaches below the base line; `None` for
    /// a blank.
    #[must_use]
    pub fn lowest(&self, letter: Letter) -> Option<f64> {
        let bounds = self.face.glyph_bounding_box(GlyphId(letter.glyph))?;
        Some(f64::from(bounds.y_min))
    }

    /// Size of the em, mm, for capitals `height` mm high.
    #[must_use]
    pub fn size(&self, height: f64) -> f64 {
        height * self.em / self.capitals
    }
}

fn read(data: &'static [u8]) -> Option<Typeface> {
    let face = Face::parse(data, 0).ok()?;
    let from_table = face.capital_height().map(f64::from);
    let of_h = || {
        let glyph = face.glyph_index('H')?;
        face.glyph_bounding_box(glyph).map(|b| f64::from(b.y_max))
    };
    let capitals = from_table.or_else(of_h).filter(|&height| height > 0.0)?;
    let em = f64::from(face.units_per_em());
    let mut typeface = Typeface {
        face,
        data,
        capitals,
        em,
        common: Vec::new(),
    };
    // Every number below is a character: surrogates lie far above.
    typeface.common = (0..COMMON)
        .map(|number| typeface.look_up(char::from_u32(number)?))
        .collect();
    Some(typeface)
}

/// The text as it is set: unseen characters left out, line ends and tabs as spaces, stand-ins for
/// what the typeface has not.
#[must_use]
pub fn legible(text: &str, weight: Weight) -> String {
    match Typeface::of(weight) {
        Some(face) => face.letters(text).map(|letter| letter.character).collect(),
        None => text
            .chars()
            .filter(|c| c.is_ascii_graphic() || *c == ' ')
            .collect(),
    }
}

/// The character whose form is drawn. The typeface's own diameter sign is as low as a small letter;
/// ISO 3098 has it as high as the figures (from memory), and so is its sign of the empty set.
const fn form(character: char) -> char {
    match character {
        '\u{2300}' => '\u{2205}',
        other => other,
    }
}

/// Line ends, tabs and the like, set as a space.
fn is_space(character: char) -> bool {
    matches!(
        character,
        '\t' | '\n' | '\r' | '\u{0B}' | '\u{0C}' | '\u{85}' | '\u{2028}' | '\u{2029}'
    )
}

/// Characters that have no form of their own: joiners, marks of direction, choices of form.
fn is_unseen(character: char) -> bool {
    matches!(
        character,
        '\u{AD}'
            | '\u{061C}'
            | '\u{200B}'..='\u{200F}'
            | '\u{202A}'..='\u{202E}'
            | '\u{2060}'..='\u{206F}'
            | '\u{FE00}'..='\u{FE0F}'
            | '\u{FEFF}'
            | '\u{E0000}'..='\u{E0FFF}'
    )
}

/// Scripts written from the right or whose letters change with their neighbours: Hebrew, Arabic
/// and on to Myanmar; Ethiopic and Georgian do neither but lie beyond.
fn needs_shaping(character: char) -> bool {
    matches!(
        character,
        '\u{0590}'..='\u{109F}' | '\u{1780}'..='\u{18AF}' | '\u{FB1D}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFE}'
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_weights_set_the_scripts_of_europe() {
        for weight in [Weight::Plain, Weight::Strong] {
            let text = "Ağaç Țiță Łódź Ёлка Ύψος ⌀10.5 ±0.05° × – “a” → ≤ ½ ′ ▯";
            assert_eq!(legible(text, weight), text);
        }
    }

    #[test]
    fn what_cannot_be_set_is_seen_to_be_missing() {
        assert_eq!(legible("a🎸b", Weight::Plain), "a▯b");
        assert_eq!(legible("عود", Weight::Plain), "▯▯▯");
        assert_eq!(legible("琴\u{7}x", Weight::Strong), "▯▯x");
        assert_eq!(legible("one\ntwo\tthree", Weight::Plain), "one two three");
        assert_eq!(
            legible("soft\u{AD}hy\u{200D}phen\u{FE0F}", Weight::Plain),
            "softhyphen"
        );
    }

    #[test]
    fn the_diameter_sign_is_as_high_as_the_figures() {
        for weight in [Weight::Plain, Weight::Strong] {
            let face = Typeface::of(weight).unwrap();
            let high = |text: &str| {
                let letter = face.letters(text).next().unwrap();
                let bounds = face
                    .face()
                    .glyph_bounding_box(GlyphId(letter.glyph))
                    .unwrap();
                f64::from(bounds.y_max) / face.capitals
            };
            assert!((high("⌀") - high("8")).abs() < 0.05, "{}", high("⌀"));
            assert_eq!(legible("⌀", weight), "⌀");
        }
    }

    #[test]
    fn capitals_are_as_high_as_asked() {
        let face = Typeface::of(Weight::Plain).unwrap();
        let h = face.face().glyph_index('H').unwrap();
        let high = f64::from(face.face().glyph_bounding_box(h).unwrap().y_max);
        let got = high / face.em * face.size(3.5);
        assert!((got - 3.5).abs() < 0.01, "{got}");
    }
}
