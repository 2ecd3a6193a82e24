"""Reads a parameter file into plain millimetres and degrees: section 2 of the contract, and nothing else.

Returned is a dict of tables whose lengths are floats in millimetres. Every `from` is followed with the unit of the file
it names, keys joined by "or" displace one another, and every default that does not need geometry is filled in.
The reading is strict about what it does not know: a key missing from KEYS is an error, so a misspelt test input
cannot pass unnoticed.
"""

import math
import re
import tomllib
from pathlib import Path
from statistics import fmean

INCH = 25.4

# Kind of every key: L length, LL list of lengths, PP list of length pairs, N bare number, I integer,
# B boolean, T text, ANY left alone, and a dict for a table. A tuple lists texts allowed instead of a length.
KEYS = {
    "title": "T",
    "unit": "T",
    "job": {k: "T" for k in (
        "number", "revision", "date", "material", "quantity", "contact", "owner", "creator", "approver",
    )},
    "head": {
        "from": "T", "length": "L", "side_start": "L", "side_end": "L", "width_at_nut_end": "L",
        "width_at_crest_end": "L", "shoulder_width": "L", "thickness": "L", "thickness_at_crest": "L",
        "face_veneer": "L", "back_veneer": "L", "veneers_on": "B", "angle": "N", "crest": "T", "edge_radius": "L",
        "bass": {"width_at_nut_end": "L", "width_at_crest_end": "L"},
    },
    "nut": {"from": "T", "string_span": "L", "strings": "LL", "string_height": "L"},
    "machines": {
        "from": "T", "barrel_diameter": "L", "barrel_length": "L", "string_hole": "L", "plate_width": "L",
        "plate_thickness": "L", "axis_offset": "L", "pitches": "LL", "barrels": "I", "over_outer_barrels": "L",
        "overhang": "LL", "plate_length": "L",
        "screws": {"points": "PP", "pilot": "L", "depth": "L"},
        "bass": {"pitches": "LL", "barrels": "I", "over_outer_barrels": "L", "overhang": "LL"},
    },
    "placement": {
        "from": "T", "along": "T", "first_barrel": "L", "depth": "T", "axis_below_face": "L",
        "bass": {"first_barrel": "L"},
    },
    "bores": {
        "from": "T", "diameter": "L", "clearance": "L", "beyond_barrel": "L", "beyond_centre": "L",
        "point": "POINT", "counterbore": {"diameter": "L", "depth": "L"},
    },
    "slots": {
        "from": "T", "width": "L", "rib": "L", "cheek": "L", "end_margin": "LL", "corner_radius": "L",
        "ramp": {"mouth": "L", "angle": "N"},
    },
    "guide": {
        "from": "T", "depth": "L", "height": "L", "axis_height": "L", "end_margin": "L", "bore_diameter": "L",
        "bush_diameter": "L", "scribe": {"width": "L", "depth": "L"},
    },
    "press": {k: "L" for k in ("travel", "daylight", "bit_length", "flute_length")} | {"from": "T"},
    "print": {k: "L" for k in ("head_allowance", "block_allowance", "bush_allowance", "chord")} | {"from": "T", "bed": "LL"},
    "limits": "ANY",
    # An addition to the contract, which no solid depends on.
    "strings": {"diameters": "ANY", "barrels": "ANY", "leaves": "ANY", "turns": "ANY", "walk": "ANY"},
    # Additions to the contract that move nothing.
    "wood": "ANY",
    "drilling": "ANY",
    "drilled": "ANY",
}

REQUIRED_TABLES = ("head", "nut", "machines", "placement", "bores", "guide")

# Alternatives joined by "or" in the contract; a key of one displaces, from a named file, every key of the others.
ALTERNATIVES = {
    "nut": [[{"string_span"}, {"strings"}]],
    "machines": [[{"pitches"}, {"barrels", "over_outer_barrels"}]],
    "placement": [[{"along"}, {"first_barrel", "bass"}], [{"depth"}, {"axis_below_face"}]],
    "bores": [[{"diameter"}, {"clearance"}], [{"beyond_barrel"}, {"beyond_centre"}]],
    "slots": [[{"rib"}, {"cheek"}]],
}

TEXT_LENGTH = re.compile(
    r"\s*(?P<sign>[+-]?)(?:(?P<whole>\d+)(?:-|\s+))?(?P<num>\d+)/(?P<den>\d+)\s*in\s*"
    r"|\s*(?P<decimal>[+-]?\d+(?:\.\d*)?|[+-]?\.\d+)\s*(?P<unit>mm|in)\s*"
)


class InputError(Exception):
    """The parameter file does not say something the contract allows."""


class Mean(float):
    """The mean of readings, mm, which it keeps."""

    def __new__(cls, readings):
        mean = super().__new__(cls, fmean(readings))
        mean.readings = readings
        return mean


def length(value, factor, where):
    """One length in millimetres: a number in the file's unit, text carrying its own, or readings, whose mean counts."""
    if isinstance(value, dict) and set(value) == {"repeats"}:
        return Mean([length(item, factor, where) for item in value["repeats"]])
    if isinstance(value, bool):
        raise InputError(f"{where}: a length, not a truth value")
    if isinstance(value, (int, float)):
        result = value * factor
    else:
        match = TEXT_LENGTH.fullmatch(value)
        if not match:
            raise InputError(f"{where}: cannot read the length {value!r}")
        if match["decimal"]:
            result = float(match["decimal"]) * (INCH if match["unit"] == "in" else 1.0)
        else:
            if int(match["den"]) == 0:
                raise InputError(f"{where}: divided by zero in {value!r}")
            inches = int(match["whole"] or 0) + int(match["num"]) / int(match["den"])
            result = (-inches if match["sign"] == "-" else inches) * INCH
    if not math.isfinite(result) or abs(result) > 2000.0:
        raise InputError(f"{where}: {value!r} is no length up to 2000 mm")
    return result


def convert(value, kind, factor, where):
    """`value` with every length inside it turned into millimetres."""
    if kind == "ANY":
        return value
    if isinstance(kind, dict):
        if not isinstance(value, dict):
            raise InputError(f"{where}: a table is expected")
        for key in value:
            if key not in kind:
                raise InputError(f"{where}.{key}: unknown key")
        return {key: convert(item, kind[key], factor, f"{where}.{key}") for key, item in value.items()}
    if kind == "L":
        return length(value, factor, where)
    if kind == "LL":
        return [length(item, factor, where) for item in value]
    if kind == "PP":
        return [[length(item, factor, where) for item in pair] for pair in value]
    if kind == "POINT":
        return value if value == "flat" else float(value)
    if kind == "N":
        return float(value)
    if kind == "I":
        return int(value)
    return value


def read_tables(path):
    """All tables of one file in millimetres, `from` not yet followed; also the raw unit and title."""
    raw = tomllib.loads(Path(path).read_text(encoding="utf-8"))
    unit = raw.get("unit", "mm")
    if unit not in ("mm", "in"):
        raise InputError(f"{path}: unit {unit!r}")
    return convert(raw, KEYS, INCH if unit == "in" else 1.0, Path(path).name)


def follow(path, name, table, seen):
    """`table` with what its `from` file adds to it."""
    table = dict(table)
    source = table.pop("from", None)
    if source is None:
        return table
    other_path = (Path(path).parent / source).resolve()
    if other_path in seen:
        raise InputError(f"{path}: [{name}] from goes round in a circle")
    other = read_tables(other_path)
    if name not in other:
        raise InputError(f"{other_path.name}: has no [{name}]")
    base = follow(other_path, name, other[name], seen | {other_path})
    for group in ALTERNATIVES.get(name, []):
        for here in group:
            if here & table.keys():
                for there in group:
                    if there is not here:
                        for key in there:
                            base.pop(key, None)
    return base | table


def load(path):
    """The complete parameters of a design, with the defaults that need no geometry."""
    path = Path(path).resolve()
    tables = read_tables(path)
    result = {}
    for name, table in tables.items():
        result[name] = follow(path, name, table, {path}) if isinstance(table, dict) and name != "limits" else table
    for name in REQUIRED_TABLES:
        if name not in result:
            raise InputError(f"{path.name}: [{name}] is missing")
    result.setdefault("title", path.stem)

    head = result["head"]
    head.setdefault("side_start", 0.0)
    head.setdefault("side_end", head["length"])
    head.setdefault("thickness_at_crest", head["thickness"])
    head.setdefault("face_veneer", 0.0)
    head.setdefault("back_veneer", 0.0)
    head.setdefault("veneers_on", True)
    head.setdefault("crest", "flat")

    machines = result["machines"]
    machines.setdefault("axis_offset", 0.0)
    machines["pitches"] = pitches_of(machines, machines)
    bass = dict(machines.get("bass", {}))
    if bass.keys() & {"pitches", "barrels", "over_outer_barrels"}:
        bass["pitches"] = pitches_of(bass, machines)
    else:
        bass["pitches"] = machines["pitches"]
    bass.setdefault("overhang", machines["overhang"])
    machines["bass"] = bass

    bores = result["bores"]
    if "clearance" in bores:
        bores["diameter"] = machines["barrel_diameter"] + bores["clearance"]
    bores.setdefault("point", 118.0)

    slots = result.get("slots")
    if slots is not None:
        slots.setdefault("corner_radius", slots["width"] / 2.0)

    guide = result["guide"]
    guide.setdefault("height", head["thickness"])
    guide.setdefault("bore_diameter", bores["diameter"])

    result.setdefault("print", {})
    for key, value in (("head_allowance", 0.2), ("block_allowance", 0.2), ("bush_allowance", 0.0), ("chord", 0.02)):
        result["print"].setdefault(key, value)
    return result


def pitches_of(table, machines):
    """The gaps between barrels, given outright or by the span over the outer barrels."""
    if "pitches" in table:
        return list(table["pitches"])
    barrels = table["barrels"]
    if barrels == 1:
        return []
    pitch = (table["over_outer_barrels"] - machines["barrel_diameter"]) / (barrels - 1)
    return [pitch] * (barrels - 1)
