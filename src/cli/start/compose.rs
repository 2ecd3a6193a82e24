//! A parameter file from ten answers. What was not asked is derived or assumed here, and the file
//! says which; it is the maker's to change, and the checks then judge it.

use crate::input::Unit;
use crate::tolerance::WHOLE_STEP;
use crate::units::{self, SixtyFourths, on_step};

use super::answer::Answers;
use super::kinds::Kind;

const TEMPLATE: &str = include_str!("starters/answered.toml");

/// Ramp angle that every starter uses, degrees.
const RAMP_ANGLE: f64 = 24.0;

/// Numbers that follow from the answers, mm.
#[derive(Debug, Clone, PartialEq)]
struct Derived {
    pitch: f64,
    overhang: f64,
    first_barrel: f64,
    bore: f64,
    length: f64,
    rib: f64,
    slot_width: f64,
    end_margin: f64,
    mouth: Option<f64>,
    block_depth: f64,
    block_margin: f64,
}

/// The whole file.
pub fn compose(kind: &Kind, answers: &Answers) -> String {
    let derived = derive(kind, answers);
    let length = |mm: f64| answers.unit.typed(mm);
    let mut text = TEMPLATE.to_owned();
    for letter in 'A'..='J' {
        text = text.replace(&format!("{{{letter}}}"), &answers.typed(letter));
    }
    let ramp = derived.mouth.map_or_else(
        || "# no room for a ramp before the first barrel".to_owned(),
        |mouth| {
            format!(
                "ramp       = {{ mouth = {}, angle = {RAMP_ANGLE:.1} }}",
                length(mouth)
            )
        },
    );
    let bore = match answers.unit {
        Unit::Mm => units::plain(derived.bore),
        Unit::Inch => format!("\"{}\"", units::show_sixty_fourths(derived.bore)),
    };
    for (name, value) in [
        ("kind", kind.about.to_owned()),
        ("unit", answers.unit.name().to_owned()),
        ("length", length(derived.length)),
        ("angle", format!("{:.1}", kind.angle)),
        ("span", length(kind.string_span)),
        ("height", length(kind.string_height)),
        ("plate_thickness", length(1.2)),
        ("barrels", kind.treble.to_string()),
        ("overhang", length(derived.overhang)),
        ("bass", bass(kind, answers, &derived)),
        ("placement", placement(kind, &derived, answers.unit)),
        ("bore", bore),
        (
            "over_the_barrel",
            match answers.unit {
                Unit::Mm => "about half a millimetre".to_owned(),
                Unit::Inch => "about 1/64 in".to_owned(),
            },
        ),
        ("veneer", length(2.4)),
        ("travel", length(80.0)),
        ("beyond", length(2.0)),
        ("slot", length(derived.slot_width)),
        ("rib", length(derived.rib)),
        ("margin", length(derived.end_margin)),
        ("ramp", ramp),
        ("block_depth", length(derived.block_depth)),
        ("block_margin", length(derived.block_margin)),
        (
            "scribe",
            format!("width = {}, depth = {}", length(0.8), length(0.4)),
        ),
    ] {
        text = text.replace(&format!("{{{name}}}"), &value);
    }
    align_comments(&text)
}

/// Comments behind a value begin in one column, where the value leaves room.
fn align_comments(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        match line.split_once("  #") {
            Some((value, comment)) if !line.starts_with('#') => {
                out.push_str(&format!("{:<40} #{comment}\n", value.trim_end()));
            }
            _ => {
                out.push_str(line);
                out.push('\n');
            }
        }
    }
    out
}

/// A length that is not rounded, because the barrels of both sides must face one another exactly.
fn exact(mm: f64, unit: Unit) -> String {
    let value = mm / unit.millimetres();
    units::plain((value * 1e9).round() / 1e9)
}

/// Up to the next half millimetre.
fn half_up(mm: f64) -> f64 {
    on_step(mm, 0.5, true, WHOLE_STEP)
}

/// Down to the next half millimetre.
fn half_down(mm: f64) -> f64 {
    on_step(mm, 0.5, false, WHOLE_STEP)
}

fn derive(kind: &Kind, answers: &Answers) -> Derived {
    let of = |letter| answers.mm(letter);
    let (barrel, barrel_length, hole, over) = (of('A'), of('B'), of('C'), of('D'));
    let (plate, thickness, nut, crest, side) = (of('F'), of('G'), of('H'), of('I'), of('J'));
    let pitch = (over - barrel) / f64::from(kind.treble.saturating_sub(1)).max(1.0);
    let overhang = (plate - (over - barrel)) / 2.0;
    let span = pitch * f64::from(kind.most_barrels().saturating_sub(1));
    let taper = ((crest - nut) / 2.0 / side).atan();
    let (sin, cos) = taper.sin_cos();
    // The stations of both sides are the longer plate's. Centred, or, where the sides differ and
    // the plate is long, nearer the crest: the outer strings pull less to the side there.
    let before = if kind.bass == kind.treble { 0.5 } else { 0.66 };
    let first_s = (side / cos - (2.0 * overhang + span)) * before + overhang;
    let half_at = |s: f64| nut / 2.0 + s * sin;
    let stations = [half_at(first_s), half_at(first_s + span)];
    let (narrow, wide) = (stations[0].min(stations[1]), stations[0].max(stations[1]));
    let bore = match answers.unit {
        Unit::Mm => ((barrel + 0.45) * 10.0).round() / 10.0,
        Unit::Inch => SixtyFourths::nearest(barrel + 0.4).mm(),
    };
    // Three millimetres of every barrel's end in the rib, and a little over; never less than 7.
    let rib = half_up((2.0 * (wide - (barrel_length - 3.0) * cos) + 0.6).max(7.0));
    // The slot's middle under the string holes, as far as 8 mm of cheek allow.
    let holes = (narrow + wide) / 2.0 - hole * cos;
    let most = narrow - 20.0 * sin.abs() - rib / 2.0 - 8.4;
    let slot_width = half_down((2.0 * (holes - rib / 2.0)).clamp(8.0, 20.0).min(most)).max(6.0);
    let end_margin = half_up(slot_width / 2.0 + bore / 2.0 + 4.0);
    let before_slot = first_s * cos - end_margin;
    let deepest = (thickness - 4.0) / RAMP_ANGLE.to_radians().tan() - slot_width / 2.0;
    let mouth = half_down((before_slot - 6.0).min(deepest).min(kind.mouth));
    Derived {
        pitch,
        overhang,
        first_barrel: (first_s * cos * 2.0).round() / 2.0,
        bore,
        length: side + (side * 0.06).round().clamp(4.0, 14.0),
        rib,
        slot_width,
        end_margin,
        mouth: (mouth >= 3.0).then_some(mouth),
        block_depth: (2.2 * bore).ceil().max(18.0),
        block_margin: 28.0,
    }
}

/// The bass set where it differs from the treble one.
fn bass(kind: &Kind, answers: &Answers, derived: &Derived) -> String {
    if kind.bass == kind.treble {
        return "# The bass set is taken as the mirror image of this one.\n".into();
    }
    let over = derived.pitch * f64::from(kind.bass.saturating_sub(1)) + answers.mm('A');
    let overhang = answers.unit.typed(derived.overhang);
    format!(
        "\n[machines.bass]              # assumed: the same pitch and overhangs as the treble set; measure it\n\
         barrels            = {}\n\
         over_outer_barrels = {}\n\
         overhang           = [{overhang}, {overhang}]\n",
        kind.bass,
        exact(over, answers.unit)
    )
}

fn placement(kind: &Kind, derived: &Derived, unit: Unit) -> String {
    if kind.bass == kind.treble {
        "along = \"centred\"            # assumed: the plate centred on the straight side".into()
    } else {
        format!(
            "first_barrel = {}    # assumed: both sides' first barrels level",
            unit.typed(derived.first_barrel)
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::start::answer::{Answer, read};
    use crate::cli::start::kinds;

    fn answers(typed: [&str; 10], unit: Unit) -> Answers {
        let lengths: Vec<Answer> = typed.iter().map(|text| read(text, unit).unwrap()).collect();
        Answers { unit, lengths }
    }

    fn classical() -> Answers {
        let typed = [
            "10", "30.5", "19", "80", "17.4", "105.5", "20.4", "63", "71", "184",
        ];
        answers(typed, Unit::Mm)
    }

    #[test]
    fn a_classical_set_gives_classical_numbers() {
        let derived = derive(kinds::usual(), &classical());
        assert!((derived.pitch - 35.0).abs() < 1e-12);
        // By hand: 105.5 - 70 = 35.5, half of it at either end.
        assert!((derived.overhang - 17.75).abs() < 1e-12);
        assert!((derived.bore - 10.5).abs() < 1e-12 || (derived.bore - 10.4).abs() < 1e-12);
        assert!(derived.rib >= 7.0 && derived.rib < 20.0, "{derived:?}");
        assert!(
            derived.slot_width > 10.0 && derived.slot_width < 18.0,
            "{derived:?}"
        );
        assert!(derived.mouth.is_some());
    }

    #[test]
    fn the_file_is_toml_and_holds_what_was_typed() {
        let text = compose(kinds::usual(), &classical());
        assert!(!text.contains('{') || text.contains("ramp"), "{text}");
        let table: toml::Table = text.parse().unwrap();
        assert_eq!(table["head"]["width_at_nut_end"].as_integer(), Some(63));
        assert_eq!(
            table["machines"]["over_outer_barrels"].as_integer(),
            Some(80)
        );
        assert!(table["machines"].get("bass").is_none());
        let left: Vec<&str> = text.lines().filter(|line| has_gap(line)).collect();
        assert!(left.is_empty(), "{left:?}");
    }

    /// A placeholder left standing: a brace with a word directly inside.
    fn has_gap(line: &str) -> bool {
        line.split('{').skip(1).any(|rest| {
            rest.split('}')
                .next()
                .is_some_and(|word| !word.contains(' '))
        })
    }

    #[test]
    fn unequal_sides_and_inches() {
        let seven = kinds::named("seven-string").unwrap();
        let text = compose(seven, &classical());
        let table: toml::Table = text.parse().unwrap();
        assert_eq!(table["machines"]["bass"]["barrels"].as_integer(), Some(4));
        assert_eq!(
            table["machines"]["bass"]["over_outer_barrels"].as_integer(),
            Some(115)
        );
        assert!(table["placement"].get("first_barrel").is_some());
        let steel = kinds::named("steel-string").unwrap();
        let typed = [
            "1/4", "1-1/8", "0.72", "3", "0.56", "4.05", "11/16", "2.25", "2.5", "6-5/8",
        ];
        let text = compose(steel, &answers(typed, Unit::Inch));
        let table: toml::Table = text.parse().unwrap();
        assert_eq!(table["unit"].as_str(), Some("in"));
        assert_eq!(table["bores"]["diameter"].as_str(), Some("17/64 in"));
        assert_eq!(table["head"]["thickness"].as_str(), Some("11/16 in"));
        for kind in [seven, steel] {
            let text = compose(kind, &answers(typed, Unit::Inch));
            assert!(
                !text.contains(" mm") && !text.contains("millimetre"),
                "{text}"
            );
            let table: toml::Table = text.parse().unwrap();
            // Three barrels of 1/4 in within 3 in are 1-3/8 in apart; the fourth is one pitch on.
            let over = table["machines"].get("bass");
            let over = over.map(|bass| bass["over_outer_barrels"].as_float().unwrap());
            assert!(over.is_none_or(|over| (over - (0.25 + 3.0 * 1.375)).abs() < 1e-9));
        }
    }

    #[test]
    fn odd_answers_still_make_a_readable_file() {
        let typed = ["3", "10", "3", "15", "5", "20", "8", "25", "25", "40"];
        for kind in kinds::ALL {
            for unit in [Unit::Mm, Unit::Inch] {
                let mut odd = answers(typed, Unit::Mm);
                odd.unit = unit;
                let text = compose(kind, &odd);
                assert!(text.parse::<toml::Table>().is_ok(), "{text}");
            }
        }
    }
}
