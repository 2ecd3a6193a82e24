//! Places where a solid changes its kind: stepped across, with what must become of every step.

use barrelhead::solid::Solids;

use super::bases::Sheet;
use super::fate::{Look, Read, read};

/// What must become of a design.
#[derive(Clone, Copy)]
pub enum Fate {
    Built,
    /// Stopped by this check alone.
    Stopped(&'static str),
    /// Refused as input, in these words among others.
    Refused(&'static str),
}

impl Fate {
    const fn index(self) -> usize {
        match self {
            Fate::Built => 0,
            Fate::Stopped(_) => 1,
            Fate::Refused(_) => 2,
        }
    }
}

/// One number that takes a design across such a place.
pub struct Turn {
    pub name: &'static str,
    pub base: &'static str,
    pub with: &'static [(&'static str, &'static str)],
    /// The key that is moved, and its value with `{}` for the number.
    pub key: (&'static str, &'static str),
    /// The number at the place itself, by the contract.
    pub place: fn() -> f64,
    /// What becomes of the design so far from the place.
    pub fate: fn(f64) -> Fate,
    /// What must hold of the design at this number besides, where it is not refused.
    pub look: fn(&Read, f64) -> Result<(), String>,
    /// Whether a face vanishes within the kernel's merge distance already, so that the numbers of the design
    /// do not tell how many there are: then they are as many as at the place itself.
    pub merges: bool,
}

/// A turn that is built on both sides.
pub const fn turn(
    name: &'static str,
    (base, with): (&'static str, &'static [(&'static str, &'static str)]),
    key: (&'static str, &'static str),
    place: fn() -> f64,
) -> Turn {
    Turn {
        name,
        base,
        with,
        key,
        place,
        fate: |_| Fate::Built,
        look: |_, _| Ok(()),
        merges: false,
    }
}

impl Turn {
    /// With another fate.
    pub const fn fate(mut self, fate: fn(f64) -> Fate) -> Turn {
        self.fate = fate;
        self
    }

    /// With a face that vanishes within the kernel's merge distance.
    pub const fn merging(mut self) -> Turn {
        self.merges = true;
        self
    }

    /// With something to look at.
    pub const fn look(mut self, look: fn(&Read, f64) -> Result<(), String>) -> Turn {
        self.look = look;
        self
    }
}

/// Corners nearer than this are one to the topology kernel, mm.
const MERGE: f64 = 1e-6;

/// Steps to either side, mm: around rounding noise (1e-9), the kernel's merge distance (1e-6), the least
/// length a file may hold (1e-4).
const STEPS: [f64; 17] = [
    0.0, 1e-12, 1e-10, 0.9e-9, 1.1e-9, 1e-8, 1e-7, 0.9e-6, 1.1e-6, 2.2e-6, 1e-5, 0.9e-4, 1.1e-4,
    1e-3, 4e-3, 6e-3, 1e-2,
];

impl Turn {
    /// The parameter file with the number.
    pub fn text(&self, number: f64) -> String {
        let sheet = Sheet::of(self.base).with(self.with);
        sheet.moved(self.key.0, self.key.1, number)
    }

    fn read(&self, number: f64) -> Result<Read, String> {
        read(&self.text(number))
    }

    /// Steps across. Returns the place, and how many designs were built, stopped and refused.
    pub fn run(&self) -> Result<(f64, [usize; 3]), String> {
        let at = (self.place)();
        let mut fates = [0; 3];
        let mut faults = Vec::new();
        let up = STEPS.into_iter();
        let down = STEPS.into_iter().skip(1).map(|step| -step);
        for step in up.chain(down) {
            let fate = (self.fate)(step);
            let merged = self.merges && step != 0.0 && step.abs() < MERGE;
            match self.step(at + step, fate, merged.then_some(at)) {
                Ok(()) => fates[fate.index()] += 1,
                Err(what) => faults.push(format!("{} at {at:?} + {step:?}: {what}", self.name)),
            }
        }
        if faults.is_empty() {
            Ok((at, fates))
        } else {
            Err(faults.join("\n"))
        }
    }

    fn step(&self, number: f64, fate: Fate, merged: Option<f64>) -> Result<(), String> {
        let read = match (self.read(number), fate) {
            (Err(message), Fate::Refused(words)) if message.contains(words) => return Ok(()),
            (Err(message), _) => return Err(format!("refused: {message}")),
            (Ok(_), Fate::Refused(words)) => return Err(format!("not refused: {words}")),
            (Ok(read), _) => read,
        };
        (self.look)(&read, number)?;
        let stops = read.stops();
        match fate {
            Fate::Stopped(code) => {
                let alone = stops.len() == 1 && stops[0].code == code;
                let codes: Vec<_> = stops.iter().map(|stop| stop.code).collect();
                alone
                    .then_some(())
                    .ok_or(format!("stopped by {codes:?}, not {code}"))
            }
            _ => match stops.first() {
                Some(stop) => Err(format!("stopped by {} at {}", stop.code, stop.at)),
                None => self.build(&read, merged),
            },
        }
    }

    fn build(&self, read: &Read, merged: Option<f64>) -> Result<(), String> {
        let Some(place) = merged else {
            return read.build(Look::Whole).map(|_| ());
        };
        let faces = |solids: Solids| solids.head.brep.faces.len();
        let found = faces(read.build(Look::None)?);
        let wanted = faces(self.read(place)?.build(Look::Whole)?);
        let message = format!("{found} faces, {wanted} at the place itself");
        (found == wanted).then_some(()).ok_or(message)
    }
}
