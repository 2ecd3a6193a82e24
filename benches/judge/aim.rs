//! Whether a stage keeps to its aim. A machine that does other work now and then must raise no false alarm,
//! and a stage that grows must not hide behind one: heads are timed in rounds, each head once a round, so
//! that those compared were timed within moments of one another; the median of the rounds' factors counts;
//! and a stage that is past its aim is measured again before it is said to be. Where one head's own times
//! differ too much from round to round, no time is to be believed, and nothing is said.

/// A bore of the dearest head costs at most so many times a bore of the cheapest.
pub const AIM: f64 = 2.0;
/// Times a stage is measured, at most.
pub const TRIES: usize = 3;
/// The median of a head's times is at most so many times its least on a machine that lets one measure.
const STEADY: f64 = 1.3;

/// What came of a stage.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The least median of all tries.
    pub factor: f64,
    /// How often it was measured.
    pub tries: usize,
    /// The least cost of each head.
    pub costs: Vec<f64>,
    /// How far the median of a head's times is from its least, of the head where that is most.
    pub unrest: f64,
}

impl Judged {
    /// Whether the aim is kept. A factor that is no number is none.
    pub fn within(&self) -> bool {
        self.factor <= AIM
    }

    /// Whether the aim is missed, and the times are to be believed.
    pub fn past(&self) -> bool {
        !self.within() && self.unrest <= STEADY
    }

    /// For the end of a row.
    pub fn words(&self) -> String {
        if !self.within() && !self.past() {
            return "not judged: the machine is too busy to measure".to_owned();
        }
        let side = if self.within() { "within" } else { "past" };
        let again = if self.tries > 1 {
            format!(", measured {} times", self.tries)
        } else {
            String::new()
        };
        format!("{side} the aim of {AIM}{again}")
    }
}

/// Measures a stage, again where it is past its aim. `rounds` gives the costs of all heads, round by round.
pub fn judge(mut rounds: impl FnMut() -> Vec<Vec<f64>>) -> Judged {
    let mut judged = Judged {
        factor: f64::INFINITY,
        tries: 0,
        costs: Vec::new(),
        unrest: 1.0,
    };
    let mut all: Vec<Vec<f64>> = Vec::new();
    while !judged.within() && judged.tries < TRIES {
        let rounds = rounds();
        judged.tries += 1;
        judged.factor = judged
            .factor
            .min(median(rounds.iter().map(|costs| spread(costs)).collect()));
        for costs in rounds {
            all.resize(costs.len(), Vec::new());
            for (times, cost) in all.iter_mut().zip(costs) {
                times.push(cost);
            }
        }
    }
    for times in all {
        let least = times.iter().copied().fold(f64::INFINITY, f64::min);
        judged.costs.push(least);
        judged.unrest = judged.unrest.max(median(times) / least);
    }
    judged
}

/// How far the dearest is from the cheapest; without end where a cost is missing.
fn spread(costs: &[f64]) -> f64 {
    if costs.is_empty() || costs.iter().any(|cost| !cost.is_finite()) {
        return f64::INFINITY;
    }
    let dearest = costs.iter().copied().fold(0.0, f64::max);
    dearest / costs.iter().copied().fold(f64::INFINITY, f64::min)
}

/// The middle one, of an even number the upper of the two in the middle.
fn median(mut list: Vec<f64>) -> f64 {
    list.sort_by(f64::total_cmp);
    list.get(list.len() / 2).copied().unwrap_or(f64::INFINITY)
}
