//! The codes of the checks (contract, section 4) as far as `[limits]` needs them: which take one
//! limit and which two, and whether a limit is a length or a bare number.

/// What a check's limit is measured in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitUnit {
    /// A length, in the file's unit or as text.
    Length,
    /// Degrees, a bare number.
    Degrees,
    /// A ratio, a bare number.
    Ratio,
}

/// A check as `[limits]` knows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CheckCode {
    /// The code, such as `bearing`.
    pub code: &'static str,
    /// Takes `{ low = , high = }`.
    pub two_sided: bool,
    /// What the limit is measured in.
    pub unit: LimitUnit,
}

const fn one(code: &'static str) -> CheckCode {
    CheckCode {
        code,
        two_sided: false,
        unit: LimitUnit::Length,
    }
}

/// Every check that `[limits]` may name, in the order of the table of limits.
pub const KNOWN_CHECK_CODES: [CheckCode; 40] = [
    one("wood-over"),
    one("wood-under"),
    one("web"),
    one("cheek"),
    one("rib"),
    one("end-wood"),
    one("slot-end"),
    one("bearing"),
    one("rim"),
    one("edges"),
    one("counterbore"),
    one("bore-depth"),
    CheckCode {
        code: "clearance",
        two_sided: true,
        unit: LimitUnit::Length,
    },
    one("barrels-apart"),
    one("far-wood"),
    one("pair-offset"),
    one("plate-thickness"),
    one("plate-even"),
    one("plate-side"),
    one("edge-radius"),
    one("hole-in-slot"),
    one("string-face"),
    one("string-edge"),
    CheckCode {
        code: "side-pull",
        two_sided: false,
        unit: LimitUnit::Degrees,
    },
    CheckCode {
        code: "nut-break",
        two_sided: true,
        unit: LimitUnit::Degrees,
    },
    one("ramp-depth"),
    one("screw-slot"),
    one("screw-bore"),
    one("block-wood"),
    CheckCode {
        code: "block-guided",
        two_sided: false,
        unit: LimitUnit::Ratio,
    },
    one("block-bore"),
    one("block-axis"),
    one("press-travel"),
    one("press-flutes"),
    one("press-daylight"),
    one("bit-size"),
    one("string-wood"),
    one("string-barrel"),
    one("string-neighbour"),
    one("winding-wall"),
];

/// The entry of a code.
#[must_use]
pub fn check_code(code: &str) -> Option<&'static CheckCode> {
    KNOWN_CHECK_CODES.iter().find(|known| known.code == code)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_unique_and_well_formed() {
        for (i, known) in KNOWN_CHECK_CODES.iter().enumerate() {
            assert!(
                known
                    .code
                    .bytes()
                    .all(|b| b.is_ascii_lowercase() || b == b'-')
            );
            assert!(
                KNOWN_CHECK_CODES[..i]
                    .iter()
                    .all(|other| other.code != known.code)
            );
        }
        assert_eq!(KNOWN_CHECK_CODES.iter().filter(|c| c.two_sided).count(), 2);
        assert!(check_code("").is_none());
    }
}
