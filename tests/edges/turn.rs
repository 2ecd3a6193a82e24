//! Places where a solid changes its kind without any stop: stepped across, built on both sides.

use barrelhead::layout::BoreEnd;

use super::bases::Sheet;
use super::fate::{Read, read};

/// Where a solid changes.
pub enum Where {
    /// At this number.
    At(f64),
    /// Where this of the design changes between the two numbers; found to the last bit.
    Changes([f64; 2], fn(&Read) -> bool),
}

/// One number that takes a design across such a place.
pub struct Turn {
    pub name: &'static str,
    pub base: &'static str,
    pub with: &'static [(&'static str, &'static str)],
    /// The key that is moved, and its value with `{}` for the number.
    pub key: (&'static str, &'static str),
    pub place: Where,
    /// Checks that stop the design close by: where one does, that is as it should be.
    pub stops: &'static [&'static str],
    /// Whether the reader refuses numbers to one side.
    pub bounded: bool,
    /// How the first treble bore ends a hundredth below and above.
    pub ends: Option<[BoreEnd; 2]>,
}

/// A turn without stops near it.
pub const fn turn(
    name: &'static str,
    (base, with): (&'static str, &'static [(&'static str, &'static str)]),
    key: (&'static str, &'static str),
    place: Where,
) -> Turn {
    Turn {
        name,
        base,
        with,
        key,
        place,
        stops: &[],
        bounded: false,
        ends: None,
    }
}

impl Turn {
    pub const fn near(mut self, stops: &'static [&'static str]) -> Turn {
        self.stops = stops;
        self
    }

    pub const fn bounded(mut self) -> Turn {
        self.bounded = true;
        self
    }

    pub const fn ends(mut self, below: BoreEnd, above: BoreEnd) -> Turn {
        self.ends = Some([below, above]);
        self
    }
}

/// Steps to either side, mm: around rounding noise (1e-9), the kernel's merge distance (1e-6), the least
/// length a file may hold (1e-4).
const STEPS: [f64; 17] = [
    0.0, 1e-12, 1e-10, 0.9e-9, 1.1e-9, 1e-8, 1e-7, 0.9e-6, 1.1e-6, 2.2e-6, 1e-5, 0.9e-4, 1.1e-4,
    1e-3, 4e-3, 6e-3, 1e-2,
];

impl Turn {
    fn read(&self, number: f64) -> Result<Read, String> {
        let sheet = Sheet::of(self.base).with(self.with);
        read(&sheet.moved(self.key.0, self.key.1, number))
    }

    fn at(&self) -> Result<f64, String> {
        let ([mut low, mut high], changed) = match self.place {
            Where::At(number) => return Ok(number),
            Where::Changes(range, changed) => (range, changed),
        };
        let first = changed(&self.read(low)?);
        if changed(&self.read(high)?) == first {
            return Err("nothing changes between the two numbers".to_owned());
        }
        loop {
            let middle = f64::midpoint(low, high);
            if middle <= low || middle >= high {
                return Ok(low);
            }
            if changed(&self.read(middle)?) == first {
                low = middle;
            } else {
                high = middle;
            }
        }
    }

    /// Steps across. Returns the place, and how many designs were built, stopped and refused.
    pub fn run(&self) -> Result<(f64, [usize; 3]), String> {
        let at = self.at().map_err(|what| format!("{}: {what}", self.name))?;
        let mut fates = [0; 3];
        let mut faults = Vec::new();
        for step in STEPS {
            for number in [at - step, at + step] {
                match self.step(number) {
                    Ok(fate) => fates[fate] += 1,
                    Err(what) => faults.push(format!("{} at {number:?}: {what}", self.name)),
                }
            }
        }
        let far = STEPS[STEPS.len() - 1];
        for (number, end) in [at - far, at + far]
            .into_iter()
            .zip(self.ends.unwrap_or([BoreEnd::Blind; 2]))
        {
            if self.ends.is_some() {
                let found = self.read(number)?.finished.sides.treble.bores[0].end;
                if found != end {
                    faults.push(format!("{} at {number:?}: ends {found:?}", self.name));
                }
            }
        }
        if fates[0] < STEPS.len() / 4 {
            faults.push(format!("{}: {fates:?} built, stopped, refused", self.name));
        }
        if faults.is_empty() {
            Ok((at, fates))
        } else {
            Err(faults.join("\n"))
        }
    }

    fn step(&self, number: f64) -> Result<usize, String> {
        let read = match self.read(number) {
            Err(_) if self.bounded => return Ok(2),
            read => read?,
        };
        let stops = read.stops();
        if stops.is_empty() {
            return read.build().map(|_| 0);
        }
        match stops.iter().find(|stop| !self.stops.contains(&stop.code)) {
            Some(stop) => Err(format!("stopped by {} at {}", stop.code, stop.at)),
            None => Ok(1),
        }
    }
}
