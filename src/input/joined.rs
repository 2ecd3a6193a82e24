//! Keys joined by "or" (contract, section 2): of each set a table takes one alternative. The readers
//! choose by these, `from` and partial files displace by them, and the schema is made from them.

/// Alternatives: each one key, or several that go together.
pub(crate) type Alternatives = &'static [&'static [&'static str]];

/// The alternatives of one thing that a table says.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Joined {
    pub table: &'static str,
    pub ways: Alternatives,
    /// One of them must be given.
    pub needed: bool,
}

const fn one_of(table: &'static str, ways: Alternatives) -> Joined {
    Joined {
        table,
        ways,
        needed: true,
    }
}

const fn at_most_one(table: &'static str, ways: Alternatives) -> Joined {
    Joined {
        table,
        ways,
        needed: false,
    }
}

/// The strings' places at the nut.
pub(crate) const STRINGS: Joined = one_of("nut", &[&["string_span"], &["strings"]]);
/// The barrels of a plate.
pub(crate) const BARRELS: Joined = one_of(
    "machines",
    &[&["pitches"], &["barrels", "over_outer_barrels"]],
);
/// The same of the bass side; else the mirror of the treble.
pub(crate) const BASS_BARRELS: Joined = at_most_one("machines.bass", BARRELS.ways);
/// Where the plate sits along the side.
pub(crate) const ALONG: Joined = at_most_one("placement", &[&["along"], &["first_barrel"]]);
/// Where it sits across the thickness.
pub(crate) const ACROSS: Joined = at_most_one("placement", &[&["depth"], &["axis_below_face"]]);
/// The bore.
pub(crate) const BORE: Joined = one_of("bores", &[&["diameter"], &["clearance"]]);
/// How deep it goes.
pub(crate) const BORE_DEPTH: Joined = one_of("bores", &[&["beyond_barrel"], &["beyond_centre"]]);
/// How the slots lie.
pub(crate) const LIE: Joined = one_of("slots", &[&["rib"], &["cheek"]]);
/// Where a drilled bore is along the side.
pub(crate) const DRILLED_ALONG: Joined = at_most_one(
    "drilled",
    &[&["along"], &["edges_along"], &["edges_from_previous"]],
);
/// Where it is below the face.
pub(crate) const DRILLED_BELOW: Joined =
    at_most_one("drilled", &[&["below_face"], &["edges_below_face"]]);
/// Between what the wood will live.
pub(crate) const CLIMATE: Joined = one_of("wood", &[&["humidity"], &["moisture"]]);

/// All of them.
pub(crate) const JOINED: [Joined; 11] = [
    STRINGS,
    BARRELS,
    BASS_BARRELS,
    ALONG,
    ACROSS,
    BORE,
    BORE_DEPTH,
    LIE,
    DRILLED_ALONG,
    DRILLED_BELOW,
    CLIMATE,
];

/// A key that means something only beside another of its table, and that other: where the other is
/// displaced, by one of its alternatives or by itself given anew, it goes as well.
const BESIDE: [(&str, &str, &str); 1] = [("placement", "bass", "first_barrel")];

/// Keys of a table that go only with this one.
pub(crate) fn beside(table: &str, key: &str) -> impl Iterator<Item = &'static str> {
    BESIDE
        .into_iter()
        .filter(move |(own, _, other)| *own == table && *other == key)
        .map(|(_, beside, _)| beside)
}

/// Those of a table.
pub(crate) fn of(table: &str) -> impl Iterator<Item = Joined> {
    JOINED
        .into_iter()
        .filter(move |joined| joined.table == table)
}
