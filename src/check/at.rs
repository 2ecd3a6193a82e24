//! Where a measurement was taken, in words that are put together only where somebody reads them: the
//! checks are asked thousands of times for their numbers alone.

use std::fmt;

use crate::input::Side;
use crate::layout::{Bore, Near, Pilot, StringPath};

/// One part of the words.
#[derive(Debug, Clone, Copy)]
pub(super) enum Word {
    /// As it stands.
    Text(&'static str),
    Number(usize),
    /// "treble bore 2".
    Bore(Side, usize),
    /// "bass screw pilot 1".
    Pilot(Side, usize),
    /// "bass barrel 1".
    Barrel(Side, usize),
    /// "string 1 (bass barrel 1)".
    String(usize, Side, usize),
    /// What a string comes near to.
    Near(Near),
}

impl fmt::Display for Word {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Word::Text(text) => f.write_str(text),
            Word::Number(number) => write!(f, "{number}"),
            Word::Bore(side, number) => write!(f, "{} bore {number}", side.name()),
            Word::Pilot(side, number) => write!(f, "{} screw pilot {number}", side.name()),
            Word::Barrel(side, number) => write!(f, "{} barrel {number}", side.name()),
            Word::String(number, side, barrel) => {
                write!(f, "string {number} ({} barrel {barrel})", side.name())
            }
            Word::Near(near) => f.write_str(&near.words()),
        }
    }
}

impl From<&'static str> for Word {
    fn from(text: &'static str) -> Word {
        Word::Text(text)
    }
}

impl From<usize> for Word {
    fn from(number: usize) -> Word {
        Word::Number(number)
    }
}

impl From<Side> for Word {
    fn from(side: Side) -> Word {
        Word::Text(side.name())
    }
}

impl From<&Bore> for Word {
    fn from(bore: &Bore) -> Word {
        Word::Bore(bore.side, bore.number)
    }
}

impl From<&Pilot> for Word {
    fn from(pilot: &Pilot) -> Word {
        Word::Pilot(pilot.side, pilot.number)
    }
}

impl From<&StringPath> for Word {
    fn from(string: &StringPath) -> Word {
        Word::String(string.number, string.side, string.barrel)
    }
}

impl From<Near> for Word {
    fn from(near: Near) -> Word {
        Word::Near(near)
    }
}

/// The longest place has so many parts.
const PARTS: usize = 6;

/// Several parts, one after another.
#[derive(Debug, Clone, Copy)]
pub(super) struct Words {
    parts: [Word; PARTS],
    count: usize,
}

impl Words {
    /// Some parts.
    pub fn of<const N: usize>(parts: [Word; N]) -> Words {
        const { assert!(N <= PARTS, "too many parts") };
        let mut words = Words {
            parts: [Word::Text(""); PARTS],
            count: N,
        };
        for (own, part) in words.parts.iter_mut().zip(parts) {
            *own = part;
        }
        words
    }

    /// With one more part at the end.
    pub fn and(mut self, word: impl Into<Word>) -> Words {
        debug_assert!(self.count < PARTS, "{self}: too many parts");
        if let Some(part) = self.parts.get_mut(self.count) {
            *part = word.into();
            self.count += 1;
        }
        self
    }

    /// With all parts of others at the end.
    pub fn and_all(self, others: Words) -> Words {
        let others = others.parts.into_iter().take(others.count);
        others.fold(self, Words::and)
    }
}

impl<W: Into<Word>> From<W> for Words {
    fn from(word: W) -> Words {
        Words::of([word.into()])
    }
}

impl fmt::Display for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.parts
            .iter()
            .take(self.count)
            .try_for_each(|part| write!(f, "{part}"))
    }
}

/// Where a measurement was taken.
#[derive(Debug, Clone)]
pub(super) enum At {
    /// In parts.
    Words(Words),
    /// The stock size nearest to a bore of this diameter.
    NearestBit(f64),
    /// Where two bodies run past each other, by so much, mm: a distance of nothing does not tell.
    Overlap(Words, f64),
    /// At a surface of the finished head, with what there is to the core's before its veneer is on, mm.
    OverCore(Words, f64),
    /// In a text of its own.
    Text(String),
}

impl fmt::Display for At {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            At::Words(words) | At::Overlap(words, _) | At::OverCore(words, _) => {
                write!(f, "{words}")
            }
            At::NearestBit(bore) => {
                let size = crate::standards::nearest_stock(*bore);
                write!(f, "nearest is {} ({:.3} mm)", size.name, size.diameter)
            }
            At::Text(text) => f.write_str(text),
        }
    }
}

impl From<Words> for At {
    fn from(words: Words) -> At {
        At::Words(words)
    }
}

impl From<String> for At {
    fn from(text: String) -> At {
        At::Text(text)
    }
}

impl<W: Into<Word>> From<W> for At {
    fn from(word: W) -> At {
        At::Words(word.into().into())
    }
}

/// Words from parts: `words!(bore, " to the nut line")`.
macro_rules! words {
    ($($part:expr),+ $(,)?) => {
        $crate::check::at::Words::of([$($crate::check::at::Word::from($part)),+])
    };
}
pub(super) use words;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_are_said_one_after_another() {
        let first = words!("counterbore of ", Word::Bore(Side::Bass, 2));
        let both = words!("from ").and_all(first).and(" to ").and(3_usize);
        assert_eq!(both.to_string(), "from counterbore of bass bore 2 to 3");
        let long = Word::String(1, Side::Treble, 2);
        let near = Near::Winding(Side::Treble, 1);
        assert_eq!(
            words!(long, " to ", near).to_string(),
            "string 1 (treble barrel 2) to the winding on treble barrel 1"
        );
        let bit = At::NearestBit(10.49);
        assert_eq!(bit.to_string(), "nearest is letter Z (10.490 mm)");
    }
}
