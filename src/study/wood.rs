//! What the wood does between two climates, beside the margins it eats, and what the head weighs.
//!
//! Movement is ΔD = D·C·ΔM with the coefficients of the design's wood, as a band where they are not
//! known as one. Along the grain wood hardly moves, so pitches and lengths along the head are left
//! alone. Veneers are left out: they are of other wood, and glued. No position changes; every figure
//! is of the design as it stands, taken at one end of the range and brought to the other.

use crate::check::{Limit, Report, Verdict};
use crate::input::{Climate, Cut, Wood};
use crate::layout::Layout;
use crate::standards::wood::{COEFFICIENTS_HOLD, DENSITY_VARIES, equilibrium_moisture, movement};
use crate::tolerance::NOISE;

mod words;

pub use words::{basis, brief, lines, name, weight_words};

/// What the wood does.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// The wood as the file gives it.
    pub wood: Wood,
    /// Moisture contents of the two climates, %, the drier first.
    pub moisture: [f64; 2],
    /// Both lie where the coefficients hold.
    pub within: bool,
    /// Dimensions that move.
    pub movements: Vec<Movement>,
    /// Margins that are eaten, in the order of the report.
    pub eaten: Vec<Eaten>,
}

/// A dimension of the head and how much it moves, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Movement {
    /// Which.
    pub what: &'static str,
    /// The wood across which it moves.
    pub across: f64,
    /// Least and greatest movement.
    pub by: [f64; 2],
}

/// A margin of a check that the wood takes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Eaten {
    /// The check.
    pub code: &'static str,
    /// Its title.
    pub title: &'static str,
    /// Its verdict as designed.
    pub verdict: Verdict,
    /// Margin as designed, mm.
    pub margin: f64,
    /// Least and greatest loss, mm.
    pub by: [f64; 2],
    /// Lost when it becomes drier; else when damper.
    pub drier: bool,
}

impl Eaten {
    /// A clear check that would no longer be clear at the worst.
    #[must_use]
    pub fn turns(&self) -> bool {
        self.verdict == Verdict::Clear && self.margin - self.by[1] < -NOISE
    }
}

/// Grams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weight {
    /// At the mean density; or at the maker's own.
    pub mean: f64,
    /// Lightest and heaviest of the species; `None` for a density of the maker's own.
    pub range: Option<[f64; 2]>,
}

/// Works it out; `None` without `[wood]`.
#[must_use]
pub fn study(layout: &Layout, report: &Report) -> Option<Study> {
    let wood = layout.design.wood.clone()?;
    let moisture = match wood.climate {
        Climate::Moisture(percent) => percent,
        Climate::Humidity { percent, celsius } => {
            percent.map(|humidity| equilibrium_moisture(humidity, celsius))
        }
    };
    let change = moisture[1] - moisture[0];
    let (thick, wide) = directions(&wood);
    let moves = |dimension: f64, coefficients: [f64; 2]| {
        coefficients.map(|coefficient| movement(dimension, coefficient, change))
    };
    let head = &layout.design.head;
    let veneers = head.face_veneer + head.back_veneer;
    let core = head.thickness.max(head.thickness_at_crest) - veneers;
    let mut movements = vec![Movement {
        what: if veneers > NOISE {
            "thickness without veneers"
        } else {
            "thickness"
        },
        across: core,
        by: moves(core, thick),
    }];
    let mut add = |what, across: f64, coefficients| {
        movements.push(Movement {
            what,
            across,
            by: moves(across, coefficients),
        });
    };
    let value = |code: &str| report.finding(code).map(|finding| finding.value);
    if let Some(cheek) = value("cheek") {
        add("cheek", cheek, wide);
    }
    let width = |halves: &crate::input::PerSide<f64>| halves.treble + halves.bass;
    let widest = width(&head.half_width_at_start).max(width(&head.half_width_at_end));
    let across_width = if veneers > NOISE {
        "greatest width, under veneers that do not follow"
    } else {
        "greatest width"
    };
    add(across_width, widest, wide);
    add(
        "bore, across the thickness alone (it turns oval)",
        layout.design.bores.diameter,
        thick,
    );

    let mut eaten = Vec::new();
    let a = layout.axis_below_face;
    let beside_axis = (a - head.face_veneer)
        .max(head.thickness.max(head.thickness_at_crest) - a - head.back_veneer);
    let between_sides = layout
        .bores()
        .map(|bore| 2.0 * bore.entry.x.abs())
        .fold(0.0, f64::max);
    let deepest = layout.bores().map(|bore| bore.depth).fold(0.0, f64::max);
    let barrel = layout.design.machines.barrel_length;
    // Of what the checks measure the veneers do not move; glued on later, they are not in it.
    let [over, under] = if head.veneers_on {
        [head.face_veneer, head.back_veneer]
    } else {
        [0.0, 0.0]
    };
    for finding in &report.findings {
        let (dimension, coefficients, drier) = match finding.code {
            // The bore's centre rides in the wood, the plate keeps its width.
            "plate-thickness" => (beside_axis, thick, true),
            "wood-over" => (finding.value - over, thick, true),
            "wood-under" => (finding.value - under, thick, true),
            "cheek" | "rib" => (finding.value, wide, true),
            "barrels-apart" => (between_sides, wide, true),
            "bore-depth" => (deepest, wide, true),
            // The barrel keeps its length, the slot's inner wall moves away from the side.
            "bearing" => (barrel - finding.value, wide, false),
            _ => continue,
        };
        let margin = match finding.limit {
            Limit::Single(_) => finding.margin,
            Limit::Band { low, .. } => finding.value - low,
        };
        if dimension.is_finite() && dimension > 0.0 && margin.is_finite() {
            eaten.push(Eaten {
                code: finding.code,
                title: finding.title,
                verdict: finding.verdict,
                margin,
                by: moves(dimension, coefficients),
                drier,
            });
        }
    }
    Some(Study {
        within: moisture[0] >= COEFFICIENTS_HOLD.0 && moisture[1] <= COEFFICIENTS_HOLD.1,
        wood,
        moisture,
        movements,
        eaten,
    })
}

/// Coefficients that act across the thickness and across the width. Sawn on the quarter, the rings
/// stand square to the face: across the thickness one goes along them, tangentially.
fn directions(wood: &Wood) -> ([f64; 2], [f64; 2]) {
    match wood.cut {
        Some(Cut::QuarterSawn) => (wood.tangential, wood.radial),
        Some(Cut::FlatSawn) => (wood.radial, wood.tangential),
        None => {
            let low = wood.radial[0].min(wood.tangential[0]);
            let high = wood.radial[1].max(wood.tangential[1]);
            ([low, high], [low, high])
        }
    }
}

/// What the head weighs, from its volume in mm³; `None` without a density. The block is of other wood.
#[must_use]
pub fn weight(wood: &Wood, volume: f64) -> Option<Weight> {
    let grams = |density: f64| volume / 1e6 * density;
    if let Some(own) = wood.density {
        return Some(Weight {
            mean: grams(own),
            range: None,
        });
    }
    let species = wood.species?;
    let (mean, _) = species.density?;
    let varies = 2.0 * DENSITY_VARIES * mean;
    let (low, high) = species
        .density_range
        .unwrap_or((mean - varies, mean + varies));
    Some(Weight {
        mean: grams(mean),
        range: Some([grams(low), grams(high)]),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check;
    use crate::input::sample::six_string;
    use crate::input::{Design, read_str};
    use crate::layout::Copy;

    fn wood(lines: &str) -> Wood {
        let design = std::fs::read_to_string("params/dunlin.toml").unwrap();
        // The first table's header closes what stands at the top of the file.
        let text = design.replacen("[head]", &format!("[wood]\n{lines}\n[head]"), 1);
        read_str(&text, "a.toml".as_ref(), "params".as_ref())
            .unwrap()
            .wood
            .unwrap()
    }

    fn studied(design: &Design) -> Study {
        let layout = Layout::new(design, Copy::Finished);
        let (report, _) = check::run(design);
        study(&layout, &report).unwrap()
    }

    /// 15 mm of mahogany sawn on the quarter, 40 to 60 %: 3.27 % of moisture, 0.069 to 0.117 mm, worked
    /// out apart from this code.
    #[test]
    fn mahogany_head_as_worked_out_apart() {
        let mut design = six_string();
        design.head.face_veneer = 0.0;
        design.head.back_veneer = 0.0;
        (design.head.thickness, design.head.thickness_at_crest) = (15.0, 15.0);
        design.wood = Some(wood(
            "species = \"mahogany\"\ncut = \"quarter-sawn\"\nhumidity = [60, 40]",
        ));
        let study = studied(&design);
        assert!((study.moisture[1] - study.moisture[0] - 3.27).abs() < 0.01);
        let thickness = &study.movements[0];
        assert!((thickness.by[0] - 0.069).abs() < 0.0005, "{thickness:?}");
        assert!((thickness.by[1] - 0.117).abs() < 0.0005, "{thickness:?}");
        assert!(study.within);
    }

    #[test]
    fn the_cut_decides_which_way_moves_more() {
        let mut design = six_string();
        let thickness = |design: &Design| studied(design).movements[0].by;
        let with = |cut: &str| {
            wood(&format!(
                "species = \"sugar maple\"\n{cut}\nmoisture = [6, 12]"
            ))
        };
        design.wood = Some(with("cut = \"quarter-sawn\""));
        let quarter = thickness(&design);
        design.wood = Some(with("cut = \"flat-sawn\""));
        let flat = thickness(&design);
        design.wood = Some(with(""));
        let unknown = thickness(&design);
        // 17.4 mm of core, 6 %: .00353 and .00165.
        assert!((quarter[1] - 17.4 * 0.00353 * 6.0).abs() < 1e-12);
        assert!((flat[1] - 17.4 * 0.00165 * 6.0).abs() < 1e-12);
        assert!((unknown[0] - flat[0]).abs() < 1e-12 && (unknown[1] - quarter[1]).abs() < 1e-12);
    }

    /// Each margin longhand, for 1 % of moisture and coefficients of one hundredth and one thousandth.
    #[test]
    fn margins_longhand() {
        let mut design = six_string();
        design.wood = Some(wood(
            "radial = 0.001\ntangential = 0.01\ncut = \"quarter-sawn\"\nmoisture = [8, 9]",
        ));
        let study = studied(&design);
        let by = |code: &str| {
            study
                .eaten
                .iter()
                .find(|eaten| eaten.code == code)
                .unwrap()
                .by[0]
        };
        // Axis 10.2 under the face, 20.4 thick: 10.2 − 0.6 of core below it is more than 10.2 − 2.4.
        assert!((by("plate-thickness") - 0.096).abs() < 1e-12);
        // Bore 10.5: 10.2 − 5.25 = 4.95, of which 2.4 over it and 0.6 under it are veneers, which stay.
        assert!((by("wood-over") - 0.0255).abs() < 1e-12);
        assert!((by("wood-under") - 0.0435).abs() < 1e-12);
        assert!((by("rib") - 0.014).abs() < 1e-12);
        assert!((by("bore-depth") - 0.0325).abs() < 1e-12);
        assert!(!study.eaten.iter().any(Eaten::turns));
        let bearing = study
            .eaten
            .iter()
            .find(|eaten| eaten.code == "bearing")
            .unwrap();
        assert!(!bearing.drier && bearing.by[0] > 0.02 && bearing.by[0] < 0.0305);
    }

    /// Veneers glued on later are not in what the check measures: the core over the bore moves, as much as with them.
    #[test]
    fn the_core_moves_alike_whenever_the_veneers_are_glued_on() {
        let over = |veneers_on: bool| {
            let mut design = six_string();
            design.head.veneers_on = veneers_on;
            design.wood = Some(wood(
                "radial = 0.001\ntangential = 0.01\ncut = \"quarter-sawn\"\nmoisture = [8, 9]",
            ));
            let study = studied(&design);
            ["wood-over", "wood-under"].map(|code| {
                study
                    .eaten
                    .iter()
                    .find(|eaten| eaten.code == code)
                    .unwrap()
                    .by[0]
            })
        };
        let (on, off) = (over(true), over(false));
        assert!((on[0] - off[0]).abs() < 1e-12 && (on[1] - off[1]).abs() < 1e-12);
    }

    #[test]
    fn a_margin_smaller_than_the_movement_turns() {
        let mut design = six_string();
        design.machines.plate_width = 19.3; // 0.55 either side of 20.4: 0.05 to spare
        design.wood = Some(wood(
            "species = \"sugar maple\"\ncut = \"quarter-sawn\"\nmoisture = [6, 14]",
        ));
        let turns = |design: &Design| {
            let study = studied(design);
            let found = study
                .eaten
                .iter()
                .find(|eaten| eaten.code == "plate-thickness");
            found.unwrap().turns()
        };
        assert!(turns(&design));
        design.machines.plate_width = 17.4;
        assert!(!turns(&design));
    }

    #[test]
    fn positions_do_not_hang_on_the_wood() {
        let plain = six_string();
        let mut wooden = six_string();
        wooden.wood = Some(wood("species = \"mahogany\"\nhumidity = [40, 60]"));
        let (a, b) = (
            Layout::new(&plain, Copy::Finished),
            Layout::new(&wooden, Copy::Finished),
        );
        assert_eq!(
            (a.sides, a.blocks, a.outline),
            (b.sides, b.blocks, b.outline)
        );
        assert_eq!(check::run(&plain).0, check::run(&wooden).0);
    }
}
