//! The parts of an assembly and where the file says they stand, by the words of ISO 10303-43 and
//! -44 alone: the transformation takes its first item, which belongs to the first representation of
//! its relationship, onto its second, which belongs to the second.

use super::audit::Solid;
use super::meaning::{Found, reference, references, text, typed};
use super::parse::{File, Value};
use super::properties::{compare, stated_of};
use glam::{DMat3, DVec3};
use std::collections::{BTreeMap, BTreeSet};

/// A part in its place.
#[derive(Debug, Clone)]
pub struct Placed {
    /// Name of the occurrence.
    pub name: String,
    /// Name of the part's product.
    pub product: String,
    /// Index of its solid in the audit.
    pub solid: usize,
    /// The part's point p stands at `turn · p + shift`.
    pub turn: DMat3,
    pub shift: DVec3,
}

impl Placed {
    pub fn point(&self, p: DVec3) -> DVec3 {
        self.turn * p + self.shift
    }
}

/// Definition → (name of its product, its shape).
struct Definitions {
    names: BTreeMap<u64, String>,
    shapes: BTreeMap<u64, u64>,
    representations: BTreeMap<u64, u64>,
}

impl Definitions {
    fn new(file: &File) -> Found<Definitions> {
        let mut names = BTreeMap::new();
        for id in file.all("PRODUCT_DEFINITION") {
            let values = file.record(id, "PRODUCT_DEFINITION", 4)?;
            let formation =
                file.record(reference(&values[2])?, "PRODUCT_DEFINITION_FORMATION", 3)?;
            let product = file.record(reference(&formation[2])?, "PRODUCT", 4)?;
            names.insert(id, text(&product[1])?);
        }
        let mut shapes = BTreeMap::new();
        for id in file.all("PRODUCT_DEFINITION_SHAPE") {
            let values = file.record(id, "PRODUCT_DEFINITION_SHAPE", 3)?;
            shapes.insert(reference(&values[2])?, id);
        }
        let mut representations = BTreeMap::new();
        for id in file.all("SHAPE_DEFINITION_REPRESENTATION") {
            let values = file.record(id, "SHAPE_DEFINITION_REPRESENTATION", 2)?;
            representations.insert(reference(&values[0])?, reference(&values[1])?);
        }
        Ok(Definitions {
            names,
            shapes,
            representations,
        })
    }

    fn representation(&self, definition: u64) -> Found<u64> {
        let shape = self.shapes.get(&definition).ok_or("a part has no shape")?;
        let found = self.representations.get(shape);
        found
            .copied()
            .ok_or_else(|| format!("#{definition} has no representation"))
    }
}

/// All parts of a file's one assembly; none for a file of one part.
pub fn placed(file: &File, solids: &[(u64, Solid)]) -> Found<Vec<Placed>> {
    let usages = file.all("NEXT_ASSEMBLY_USAGE_OCCURRENCE");
    if usages.is_empty() {
        return Ok(Vec::new());
    }
    let known = Definitions::new(file)?;
    let mut by_shape = BTreeMap::new();
    for id in file.all("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION") {
        let values = file.record(id, "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION", 2)?;
        if by_shape
            .insert(reference(&values[1])?, reference(&values[0])?)
            .is_some()
        {
            return Err("two places for one occurrence".to_owned());
        }
    }
    let (mut out, mut parents, mut ids) = (Vec::new(), BTreeSet::new(), BTreeSet::new());
    for usage in usages {
        let values = file.record(usage, "NEXT_ASSEMBLY_USAGE_OCCURRENCE", 6)?;
        let (parent, child) = (reference(&values[3])?, reference(&values[4])?);
        parents.insert(parent);
        if !ids.insert(text(&values[0])?) {
            return Err(format!("#{usage} has the id of another occurrence"));
        }
        let shape = known
            .shapes
            .get(&usage)
            .ok_or("an occurrence has no shape")?;
        let relation = by_shape.get(shape).ok_or("an occurrence has no place")?;
        let ends = file.record(*relation, "REPRESENTATION_RELATIONSHIP", 4)?;
        file.record(*relation, "SHAPE_REPRESENTATION_RELATIONSHIP", 0)?;
        let (own, whole) = (known.representation(child)?, known.representation(parent)?);
        if [reference(&ends[2])?, reference(&ends[3])?] != [own, whole] {
            return Err(format!(
                "#{relation} does not run from the part to the whole"
            ));
        }
        let with = "REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION";
        let move_id = reference(&file.record(*relation, with, 1)?[0])?;
        let items = file.record(move_id, "ITEM_DEFINED_TRANSFORMATION", 4)?;
        let (from, to) = (reference(&items[2])?, reference(&items[3])?);
        let part = file.record(own, "ADVANCED_BREP_SHAPE_REPRESENTATION", 3)?;
        let group = file.record(whole, "SHAPE_REPRESENTATION", 3)?;
        let part_items = references(&part[1])?;
        if !part_items.contains(&from) || !references(&group[1])?.contains(&to) {
            return Err(format!("#{move_id} names axes of another representation"));
        }
        let [from, to] = [file.placement(from)?, file.placement(to)?];
        let turn = DMat3::from_cols(to[1], to[2], to[3])
            * DMat3::from_cols(from[1], from[2], from[3]).transpose();
        let solid = solids.iter().position(|(id, _)| part_items.contains(id));
        out.push(Placed {
            name: text(&values[1])?,
            product: known.names.get(&child).cloned().unwrap_or_default(),
            solid: solid.ok_or_else(|| format!("#{own} holds no solid"))?,
            turn,
            shift: to[0] - turn * from[0],
        });
    }
    let [parent] = parents.iter().copied().collect::<Vec<_>>()[..] else {
        return Err(format!("{} assemblies", parents.len()));
    };
    of_the_whole(file, known.shapes[&parent], &out, solids)?;
    Ok(out)
}

/// The assembly's own properties against the parts in their places.
fn of_the_whole(file: &File, shape: u64, parts: &[Placed], solids: &[(u64, Solid)]) -> Found<()> {
    let context = file.only("GEOMETRIC_REPRESENTATION_CONTEXT")?;
    let (mut volume, mut area, mut moment) = (0.0, 0.0, DVec3::ZERO);
    for part in parts {
        let solid = &solids[part.solid].1;
        volume += solid.volume;
        area += solid.area;
        moment += part.point(solid.centroid) * solid.volume;
    }
    let found = stated_of(file, shape, context, "geometric validation property")?;
    compare(file, &found, volume, area, moment / volume)?;
    let found = stated_of(file, shape, context, "assembly validation property")?;
    let item = found.get("number of children").ok_or("no count of parts")?;
    let values = file.record(*item, "VALUE_REPRESENTATION_ITEM", 2)?;
    if text(&values[0])? != "number of children" {
        return Err(format!("#{item} is misnamed"));
    }
    let count = typed(&values[1], "COUNT_MEASURE")?;
    if (count - parts.len() as f64).abs() > 0.0 {
        return Err(format!(
            "{count} parts are stated, {} are there",
            parts.len()
        ));
    }
    Ok(())
}

/// The application protocol of the header, `"AP242"` or `"AP214"`, and the protocol definition that
/// goes with it.
pub fn schema(file: &File, header: &[Value]) -> Found<&'static str> {
    let known = [
        (
            "AP242",
            "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 4 1 4 }",
            "ap242_managed_model_based_3d_engineering",
        ),
        (
            "AP214",
            "AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }",
            "automotive_design",
        ),
    ];
    let named = |text: &str| vec![Value::List(vec![Value::Text(text.to_owned())])];
    let (short, _, protocol) = known
        .into_iter()
        .find(|(_, full, _)| header == named(full))
        .ok_or_else(|| format!("schema is {header:?}"))?;
    let definition = file.only("APPLICATION_PROTOCOL_DEFINITION")?;
    let values = file.record(definition, "APPLICATION_PROTOCOL_DEFINITION", 4)?;
    if text(&values[1])? != protocol {
        return Err(format!("{short} is defined as {:?}", values[1]));
    }
    Ok(short)
}
