//! Why a random design may be refused as input: rules of the contract's sections 2 and 3, nothing else.

/// Words of each message that a drawn design can meet, with the contract's rule.
const RULES: &[(&str, &str)] = &[
    (
        "`corner_radius` must not be more than half the slot's width",
        "2, [slots]: 0 to width/2",
    ),
    (
        "more than half the width there",
        "2, [head]: length - side_end at most half the width there",
    ),
    (
        "must rise at least",
        "2, [head]: length - side_end at least 0.1 mm",
    ),
    (
        "with a flat crest the sides end at the crest",
        "2, [head]: flat, side_end = length",
    ),
    // Sides of a long head that run together before they end.
    (
        "`width_at_crest_end` must be above zero",
        "2: above zero for every length that may not be zero",
    ),
    ("longer than 2000 mm", "2: no length above 2000 mm"),
    ("must be wider than the bore", COUNTERBORE),
    ("must be shallower than the bore", COUNTERBORE),
    // The same, where it shows only once positions are known.
    ("mm wide, the bore", COUNTERBORE),
    ("mm deep, but", COUNTERBORE),
];

const COUNTERBORE: &str = "3.8: a counterbore is wider than the bore and shallower than D";

/// The rule that a message stands for; the message itself where there is none.
pub fn rule(message: &str) -> Result<&'static str, String> {
    RULES
        .iter()
        .find(|(words, _)| message.contains(words))
        .map(|(_, rule)| *rule)
        .ok_or_else(|| format!("refused as input, by no rule of the contract: {message}"))
}
