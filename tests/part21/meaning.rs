//! Typed access to instances: what every other part of the audit asks of the file.

use super::parse::{File, Record, Value};
use glam::DVec3;

/// A finding or a value; findings are plain sentences.
pub type Found<T> = Result<T, String>;

impl File {
    /// The record of an instance that has the entity type, and the count of attributes.
    pub fn record(&self, name: u64, keyword: &str, count: usize) -> Found<&[Value]> {
        let records = self
            .instances
            .get(&name)
            .ok_or_else(|| format!("#{name} is not there"))?;
        let (_, values) = records
            .iter()
            .find(|(k, _)| k == keyword)
            .ok_or_else(|| format!("#{name} is no {keyword}"))?;
        if values.len() != count {
            return Err(format!("#{name} {keyword} has {} attributes", values.len()));
        }
        Ok(values)
    }

    /// Entity type of a simple instance.
    pub fn keyword(&self, name: u64) -> &str {
        match self.instances.get(&name).map(Vec::as_slice) {
            Some([(keyword, _)]) => keyword,
            _ => "",
        }
    }

    /// All instances of an entity type, in order of their names.
    pub fn all(&self, keyword: &str) -> Vec<u64> {
        let has = |records: &[Record]| records.iter().any(|(k, _)| k == keyword);
        self.instances
            .iter()
            .filter(|(_, records)| has(records))
            .map(|(name, _)| *name)
            .collect()
    }

    /// The only instance of an entity type.
    pub fn only(&self, keyword: &str) -> Found<u64> {
        match self.all(keyword).as_slice() {
            [name] => Ok(*name),
            found => Err(format!("{} instances of {keyword}", found.len())),
        }
    }

    /// Coordinates of a CARTESIAN_POINT.
    pub fn point(&self, name: u64) -> Found<DVec3> {
        triple(&self.record(name, "CARTESIAN_POINT", 2)?[1])
    }

    /// A DIRECTION, which must be of length 1.
    pub fn direction(&self, name: u64) -> Found<DVec3> {
        let along = triple(&self.record(name, "DIRECTION", 2)?[1])?;
        if (along.length() - 1.0).abs() > 1e-12 {
            return Err(format!("#{name} is not of length 1"));
        }
        Ok(along)
    }

    /// Origin, x, y and z of an AXIS2_PLACEMENT_3D.
    pub fn placement(&self, name: u64) -> Found<[DVec3; 4]> {
        let values = self.record(name, "AXIS2_PLACEMENT_3D", 4)?;
        let z = self.direction(reference(&values[2])?)?;
        let x = self.direction(reference(&values[3])?)?;
        if x.dot(z).abs() > 1e-12 {
            return Err(format!("#{name} has axes that are not square"));
        }
        Ok([self.point(reference(&values[1])?)?, x, z.cross(x), z])
    }
}

pub fn reference(value: &Value) -> Found<u64> {
    match value {
        Value::Ref(name) => Ok(*name),
        other => Err(format!("{other:?} is no reference")),
    }
}

pub fn references(value: &Value) -> Found<Vec<u64>> {
    match value {
        Value::List(items) => items.iter().map(reference).collect(),
        other => Err(format!("{other:?} is no list")),
    }
}

pub fn real(value: &Value) -> Found<f64> {
    match value {
        Value::Real(number) => Ok(*number),
        other => Err(format!("{other:?} is no real")),
    }
}

/// A real behind the name of its type.
pub fn typed(value: &Value, keyword: &str) -> Found<f64> {
    match value {
        Value::Typed(name, values) if name == keyword && values.len() == 1 => real(&values[0]),
        other => Err(format!("{other:?} is no {keyword}")),
    }
}

pub fn flag(value: &Value) -> Found<bool> {
    match value {
        Value::Enum(name) if name == "T" => Ok(true),
        Value::Enum(name) if name == "F" => Ok(false),
        other => Err(format!("{other:?} is no flag")),
    }
}

pub fn text(value: &Value) -> Found<String> {
    match value {
        Value::Text(text) => Ok(text.clone()),
        other => Err(format!("{other:?} is no text")),
    }
}

/// Every instance named in a value, however deep.
pub fn named(value: &Value, out: &mut Vec<u64>) {
    match value {
        Value::Ref(name) => out.push(*name),
        Value::List(items) | Value::Typed(_, items) => {
            for item in items {
                named(item, out);
            }
        }
        _ => {}
    }
}

fn triple(value: &Value) -> Found<DVec3> {
    match value {
        Value::List(items) if items.len() == 3 => Ok(DVec3::new(
            real(&items[0])?,
            real(&items[1])?,
            real(&items[2])?,
        )),
        other => Err(format!("{other:?} is no triple")),
    }
}
