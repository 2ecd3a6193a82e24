//! A list of assumed values: what each is, on what it rests, and the text that a file would give them by.

use crate::units::plain;

/// On what an assumed value rests.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AssumedBasis {
    /// Common practice of the trade.
    CommonPractice,
    /// Our assumption.
    OurAssumption,
}

impl AssumedBasis {
    /// Words of the output.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            AssumedBasis::CommonPractice => "common practice",
            AssumedBasis::OurAssumption => "our assumption",
        }
    }
}

/// An assumed value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AssumedValue {
    /// A length, mm.
    Length(f64),
    /// Two lengths, mm.
    Pair([f64; 2]),
    /// An angle, degrees.
    Degrees(f64),
    /// A word.
    Word(&'static str),
}

/// One assumed value.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumed {
    /// Its key in the parameter file.
    pub key: &'static str,
    /// The value.
    pub value: AssumedValue,
    /// On what it rests.
    pub basis: AssumedBasis,
    /// How it was come by.
    pub why: &'static str,
}

/// Gathers what is assumed.
pub(super) struct Gathered {
    pub list: Vec<Assumed>,
}

impl Gathered {
    pub fn add(
        &mut self,
        key: &'static str,
        value: AssumedValue,
        basis: AssumedBasis,
        why: &'static str,
    ) {
        self.list.push(Assumed {
            key,
            value,
            basis,
            why,
        });
    }

    pub fn length(&mut self, key: &'static str, mm: f64, basis: AssumedBasis, why: &'static str) {
        self.add(key, AssumedValue::Length(tenth(mm)), basis, why);
    }
}

/// To a tenth of a millimetre: nobody assumes finer.
pub(super) fn tenth(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}

/// The assumed values as a parameter file in millimetres.
pub(crate) fn text(list: &[Assumed]) -> String {
    let mut out = String::new();
    for assumed in list {
        let value = match assumed.value {
            AssumedValue::Length(value) | AssumedValue::Degrees(value) => plain(value),
            AssumedValue::Pair([one, other]) => format!("[{}, {}]", plain(one), plain(other)),
            AssumedValue::Word(word) => format!("\"{word}\""),
        };
        out.push_str(&format!("{} = {value}\n", assumed.key));
    }
    out
}
