//! Finds where a number of the parameter file meets a stop, to the last bit, and steps across. Where that
//! must be, and what the check must have measured, each case says by a formula of its own.

use barrelhead::check::Limit;

use super::bases::Sheet;
use super::contract::{NOISE, stop};
use super::fate::{Look, read};

/// One number that takes a design across a stop.
pub struct Case {
    /// Code of the check.
    pub code: &'static str,
    /// Words of the place where it stops.
    pub place: &'static str,
    /// Base design.
    pub base: &'static str,
    /// Keys set besides; `"-"` takes one out.
    pub with: &'static [(&'static str, &'static str)],
    /// The key that is moved.
    pub key: &'static str,
    /// Its value, with `{}` for the number.
    pub form: &'static str,
    /// A number at which nothing stops, and one at which this check does.
    pub range: [f64; 2],
    /// What the check measures at a number, worked out from the base by the contract.
    pub value: fn(f64) -> f64,
    /// A limit of this place, where it is not the one of the check.
    pub own_limit: Option<f64>,
    /// Whether the limit itself is missed already.
    pub strict: bool,
    /// Whether the program keeps the value to itself until it is missed: a limit of this place that the
    /// value of the check knows nothing of.
    pub silent: bool,
    /// Codes that are missed at the same number, however the design is chosen.
    pub beside: &'static [&'static str],
    /// How far the ladder goes to either side, in the check's unit.
    pub reach: f64,
}

/// A case by its code and place, base and keys besides, the number moved from where nothing stops to where
/// it does, and the value there.
pub const fn case(
    (code, place): (&'static str, &'static str),
    (base, with): (&'static str, &'static [(&'static str, &'static str)]),
    (key, form): (&'static str, &'static str),
    range: [f64; 2],
    value: fn(f64) -> f64,
) -> Case {
    Case {
        code,
        place,
        base,
        with,
        key,
        form,
        range,
        value,
        own_limit: None,
        strict: false,
        silent: false,
        beside: &[],
        reach: 1e-2,
    }
}

impl Case {
    /// Missed together with other checks.
    pub const fn beside(mut self, beside: &'static [&'static str]) -> Case {
        self.beside = beside;
        self
    }

    /// A shorter ladder, where another rule takes over close by.
    pub const fn reach(mut self, reach: f64) -> Case {
        self.reach = reach;
        self
    }

    /// With a limit of this place.
    pub const fn limit(mut self, limit: f64) -> Case {
        self.own_limit = Some(limit);
        self
    }

    /// Missed by a jump: the formula is of what makes it jump, and its limit is missed when reached.
    pub const fn jump(mut self) -> Case {
        self.strict = true;
        self.silent = true;
        self
    }

    /// With a limit of this place that says nothing until it is missed.
    pub const fn silent(mut self, limit: f64) -> Case {
        self.silent = true;
        self.limit(limit)
    }
}

/// What became of a case.
pub struct Outcome {
    pub at: f64,
    pub built: usize,
    pub stopped: usize,
    pub place: String,
}

/// The words of a place without side, number and copy: "bore to the face".
pub fn kind_of_place(at: &str) -> String {
    let particular = |word: &str| {
        let word = word.trim_end_matches(',');
        matches!(word, "printed" | "treble" | "bass") || word.parse::<f64>().is_ok()
    };
    let words: Vec<_> = at.split(' ').filter(|word| !particular(word)).collect();
    words.join(" ")
}

/// Steps past the limit, in the check's own unit: inside first. Down to what double precision still
/// tells apart at a hundred millimetres, and to either side of the noise.
const STEPS: [f64; 22] = [
    1e-2, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 2e-9, 0.9e-9, 1e-10, 1e-12, 0.0, -1e-12, -1e-10, -0.9e-9,
    -2e-9, -1e-8, -1e-7, -1e-6, -1e-5, -1e-4, -1e-3, -1e-2,
];

/// What rounding makes of a sum of some dozen numbers of a hundred millimetres, by two ways of adding.
const ROUNDING: f64 = 2e-11;

impl Case {
    fn sheet(&self) -> Sheet {
        Sheet::of(self.base).with(self.with)
    }

    /// The parameter file with the number.
    pub fn text(&self, number: f64) -> String {
        self.sheet().moved(self.key, self.form, number)
    }

    fn limit_and_kind(&self) -> Result<(f64, bool), String> {
        let (limit, strict) = stop(self.code).ok_or("the contract has no such stop")?;
        Ok((self.own_limit.unwrap_or(limit), strict || self.strict))
    }

    /// Margin of the formula's value to the limit.
    fn margin(&self, number: f64) -> Result<f64, String> {
        Ok((self.value)(number) - self.limit_and_kind()?.0)
    }

    fn holds(&self, number: f64) -> Result<bool, String> {
        let read = read(&self.text(number)).map_err(|message| {
            format!("{} at {number:?}: refused as input: {message}", self.name())
        })?;
        Ok(read.stop_of(self.code).is_none())
    }

    pub fn name(&self) -> String {
        format!("{} ({}), {}", self.code, self.place, self.key)
    }

    /// The last number that holds and the first that does not: neighbouring doubles.
    pub fn crossing(&self) -> Result<[f64; 2], String> {
        let [mut inside, mut outside] = self.range;
        if !self.holds(inside)? || self.holds(outside)? {
            return Err(format!("{}: the range does not hold the stop", self.name()));
        }
        loop {
            let middle = f64::midpoint(inside, outside);
            if middle.to_bits() == inside.to_bits() || middle.to_bits() == outside.to_bits() {
                return Ok([inside, outside]);
            }
            if self.holds(middle)? {
                inside = middle;
            } else {
                outside = middle;
            }
        }
    }

    /// Steps across the stop. Returns the number at which it is, how many were built and stopped, and the
    /// place where it stops.
    pub fn run(&self) -> Result<Outcome, String> {
        let [inside, outside] = self.crossing()?;
        // Strict limits are missed at the limit already, give or take the noise.
        let (_, strict) = self.limit_and_kind()?;
        let at = if strict { NOISE } else { -NOISE };
        let kept = self.margin(inside)?;
        if (kept - at).abs() > ROUNDING || (self.margin(outside)? - at).abs() > ROUNDING {
            return Err(format!(
                "{}: stops between {inside:?} and {outside:?}, where {kept:e} is left to the limit",
                self.name()
            ));
        }
        let mut numbers = Vec::new();
        // Checks missed at the same number part in its very last bits.
        if self.beside.is_empty() {
            numbers.extend([(inside, true), (outside, false)]);
        }
        let step = (self.range[0] - inside).signum() * 1e-6;
        let slope = (self.margin(inside + step)? - kept) / step;
        for margin in STEPS.into_iter().filter(|step| step.abs() <= self.reach) {
            numbers.push((inside + (margin - kept) / slope, margin > at));
        }
        let (mut built, mut stopped) = (0, 0);
        // Once a case, since the judge works out advice for what it stops: no token to build from.
        let refused = read(&self.text(outside))?;
        let own = refused.stop_of(self.code);
        let place = own.map_or(String::new(), |stop| kind_of_place(&stop.at));
        if barrelhead::check::judge(refused.finished, refused.printed)
            .1
            .is_some()
        {
            return Err(format!("{}: a stopped design may be built", self.name()));
        }
        for (number, holds) in numbers {
            self.step(number, holds)
                .map_err(|what| format!("{} at {number:?}: {what}", self.name()))?;
            *(if holds { &mut built } else { &mut stopped }) += 1;
        }
        Ok(Outcome {
            at: inside,
            built,
            stopped,
            place,
        })
    }

    /// One design: built where it holds, stopped by this check alone at its place where not.
    fn step(&self, number: f64, holds: bool) -> Result<(), String> {
        let read = read(&self.text(number))?;
        let (value, margin) = ((self.value)(number), self.margin(number)?);
        let stops = read.stops();
        if holds {
            if let Some(stop) = stops.first() {
                let (code, at, margin) = (stop.code, &stop.at, stop.margin);
                return Err(format!("stopped by {code} at {at}, {margin:e}"));
            }
            let told = read.slack(self.code).map_or(f64::INFINITY, |s| s.to_stop);
            if !self.silent && (told - margin).abs() > ROUNDING {
                return Err(format!("{told:e} left to the limit, not {margin:e}"));
            }
            return read.build(Look::Whole).map(|_| ());
        }
        let codes: Vec<_> = stops.iter().map(|stop| stop.code).collect();
        let expected = |code: &&str| *code == self.code || self.beside.contains(code);
        if !codes.contains(&self.code) || !codes.iter().all(expected) {
            return Err(format!("stopped by {codes:?}"));
        }
        let Some(own) = stops.iter().find(|stop| stop.code == self.code) else {
            return Err("no stop of its own".to_owned());
        };
        if !own.at.contains(self.place) {
            return Err(format!("at {}", own.at));
        }
        // A jump's formula is not what the check measures.
        if self.silent && self.strict {
            return Ok(());
        }
        let limit = self.limit_and_kind()?.0;
        let told = match own.limit {
            Limit::Single(told) => told,
            Limit::Band { .. } => f64::NAN,
        };
        let off = (told - limit).abs().max((own.value - value).abs());
        if off.is_nan() || off > ROUNDING {
            let found = own.value;
            return Err(format!(
                "{found:?} against {told:?}, not {value:?} against {limit:?}"
            ));
        }
        Ok(())
    }
}
