//! Finds where a number of the parameter file meets a stop, to the last bit, and steps across.

use super::bases::Sheet;
use super::fate::read;

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
    /// Codes that are missed at the same number, however the design is chosen.
    pub beside: &'static [&'static str],
    /// How far the ladder goes to either side, in the check's unit; nothing where the stop is missed by
    /// a jump and no value lies between: then the number itself is stepped.
    pub reach: f64,
}

/// A case by its code and place, base and keys besides, and the number moved from where nothing stops to
/// where it does.
pub const fn case(
    (code, place): (&'static str, &'static str),
    (base, with): (&'static str, &'static [(&'static str, &'static str)]),
    (key, form): (&'static str, &'static str),
    range: [f64; 2],
) -> Case {
    Case {
        code,
        place,
        base,
        with,
        key,
        form,
        range,
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

    /// Missed by a jump.
    pub const fn jump(self) -> Case {
        self.reach(0.0)
    }
}

/// A limit is missed only by more than this, mm (contract, section 4).
const NOISE: f64 = 1e-9;

/// Steps past the limit, in the check's own unit: inside first. Down to what double precision still
/// tells apart at a hundred millimetres, and to either side of the noise.
const STEPS: [f64; 18] = [
    1e-2, 1e-4, 1e-6, 1e-8, 2e-9, 0.9e-9, 1e-10, 1e-12, 0.0, -1e-12, -1e-10, -0.9e-9, -2e-9, -1e-8,
    -1e-6, -1e-4, -1e-3, -1e-2,
];

impl Case {
    fn sheet(&self) -> Sheet {
        Sheet::of(self.base).with(self.with)
    }

    fn text(&self, number: f64) -> String {
        self.sheet().moved(self.key, self.form, number)
    }

    /// The check's least margin to its stop over both copies; absent means that nothing is there to
    /// be missed.
    fn margin(&self, number: f64) -> Result<f64, String> {
        let read = read(&self.text(number)).map_err(|message| {
            format!("{} at {number:?}: refused as input: {message}", self.name())
        })?;
        Ok(read.slack(self.code).map_or(f64::INFINITY, |s| s.to_stop))
    }

    fn holds(&self, number: f64) -> Result<bool, String> {
        let read = read(&self.text(number)).map_err(|message| {
            format!("{} at {number:?}: refused as input: {message}", self.name())
        })?;
        Ok(read.stops().iter().all(|stop| stop.code != self.code))
    }

    pub fn name(&self) -> String {
        format!("{} ({}), {}", self.code, self.place, self.key)
    }

    /// The last number that holds and the first that does not: neighbouring doubles.
    fn crossing(&self) -> Result<[f64; 2], String> {
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

    /// Steps across the stop. Returns the number at which it is, with how many were built and stopped.
    pub fn run(&self) -> Result<(f64, usize, usize), String> {
        let [inside, outside] = self.crossing()?;
        let mut numbers = Vec::new();
        // Checks missed at the same number part in its very last bits.
        if self.beside.is_empty() {
            numbers.extend([(inside, true), (outside, false)]);
        }
        if self.reach > 0.0 {
            let [kept, missed] = [self.margin(inside)?, self.margin(outside)?];
            // Strict limits are missed at the limit already, give or take the noise.
            let strict = kept > 0.0;
            let at = if strict { NOISE } else { -NOISE };
            // Two neighbouring numbers are up to 1e-12 apart in what follows from them.
            if (kept - at).abs() > 1e-11 || (missed > at && missed - at > 1e-12) {
                return Err(format!(
                    "{}: the stop comes between margins {kept:e} and {missed:e}",
                    self.name()
                ));
            }
            let step = (self.range[0] - inside).signum() * 1e-4;
            let slope = (self.margin(inside + step)? - kept) / step;
            for margin in STEPS.into_iter().filter(|step| step.abs() <= self.reach) {
                let holds = if strict {
                    margin > NOISE
                } else {
                    margin > -NOISE
                };
                numbers.push((inside + (margin - kept) / slope, holds));
            }
        } else {
            let away = (self.range[0] - inside).signum();
            for step in [1e-12, 1e-10, 1e-9, 1e-8, 1e-6, 1e-4] {
                numbers.push((inside + away * step, true));
                numbers.push((outside - away * step, false));
            }
        }
        let (mut built, mut stopped) = (0, 0);
        // Once a case, since the judge works out advice for what it stops: no token to build from.
        let refused = read(&self.text(outside))?;
        if barrelhead::check::judge(refused.finished, refused.printed)
            .1
            .is_some()
        {
            return Err(format!("{}: a stopped design may be built", self.name()));
        }
        for (number, holds) in numbers {
            self.step(number, holds)?;
            *(if holds { &mut built } else { &mut stopped }) += 1;
        }
        Ok((inside, built, stopped))
    }

    /// One design: built where it holds, stopped by this check alone at its place where not.
    fn step(&self, number: f64, holds: bool) -> Result<(), String> {
        let told = |what: String| format!("{} at {number:?}: {what}", self.name());
        let read = read(&self.text(number)).map_err(told)?;
        let stops = read.stops();
        if holds {
            if let Some(stop) = stops.first() {
                let (code, at, margin) = (stop.code, &stop.at, stop.margin);
                return Err(told(format!("stopped by {code} at {at}, {margin:e}")));
            }
            return read.build().map(|_| ()).map_err(told);
        }
        let codes: Vec<_> = stops.iter().map(|stop| stop.code).collect();
        let expected = |code: &&str| *code == self.code || self.beside.contains(code);
        if !codes.contains(&self.code) || !codes.iter().all(expected) {
            return Err(told(format!("stopped by {codes:?}")));
        }
        let own = stops.iter().find(|stop| stop.code == self.code);
        match own {
            Some(stop) if !stop.at.contains(self.place) => Err(told(format!("at {}", stop.at))),
            _ => Ok(()),
        }
    }
}
