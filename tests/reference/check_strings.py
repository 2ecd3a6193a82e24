"""Holds the strings of report.json against the parameter file and against solids: every string as a cylinder, the
head with its slots and ramps but without bores, the barrels and their windings, measured by OpenCASCADE.

    python check_strings.py PARAMS.toml report.json

The touching point is found by halving the angle at which the run is square to the winding's radius. A distance is that
of the string's centre line to the solid, less its radius. The cylinder itself must come as near, except where one of
its ends is nearest: they are flat, where the string goes on round its barrel, so it may stay back by up to its radius.
"""

import json
import math
import sys
from pathlib import Path

from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

import contract_input
import occt_common as oc
from contract_design import Design
from occt_head import blank
from occt_slot import SlotTool
from reporting import Checks

SAME = 1e-9         # mm, of positions: short sums in double precision
# mm, of distances. OpenCASCADE finds the least distance to a rounded corner by iterating to some 1e-7.
NEAR = 1e-6


def cylinder(start, direction, radius, length):
    axis = gp_Ax2(gp_Pnt(*start), gp_Dir(*direction))
    return BRepPrimAPI_MakeCylinder(axis, radius, length).Shape()


def nearest(a, b):
    """The least distance, and a point of the first shape where it is met."""
    found = BRepExtrema_DistShapeShape(a, b)
    if not found.IsDone():
        raise RuntimeError("no distance was found")
    at = found.PointOnShape1(1)
    return found.Value(), (at.X(), at.Y(), at.Z())


def apart(a, b):
    return nearest(a, b)[0]


def along(start, direction, length):
    return tuple(p + length * d for p, d in zip(start, direction))


class Strung:
    """One string, from the tables of the parameter file."""

    def __init__(self, design, strings, index):
        p = design.parameters
        count = len(strings["barrels"])
        bass = sum(1 for b in design.bores if b.side == "bass")
        self.side = "bass" if index < bass else "treble"
        self.barrel = strings["barrels"][index]
        self.bore = next(b for b in design.bores if (b.side, b.number) == (self.side, self.barrel))
        self.diameter = strings["diameters"][index]
        self.over = strings["leaves"][index] == "over"
        walk = strings["turns"][index] * self.diameter
        self.turns = strings["turns"][index]
        hole = p["machines"]["string_hole"]
        self.leaves_at = hole - walk if strings["walk"][index] == "out" else hole + walk
        self.winding = sorted((hole, self.leaves_at))
        nut = p["nut"]
        if "strings" in nut:
            x = nut["strings"][index]
        else:
            x = nut["string_span"] * (index / (count - 1) - 0.5)
        self.nut = (x, 0.0, nut["string_height"])
        self.radius = self.diameter / 2
        self.barrel_radius = p["machines"]["barrel_diameter"] / 2
        self.touch = self.find_touch()
        run = [b - a for a, b in zip(self.nut, self.touch)]
        self.length = math.hypot(*run)
        self.direction = [c / self.length for c in run]

    def find_touch(self):
        axis = along(self.bore.entry, self.bore.direction, self.leaves_at)
        dx, dy, _ = self.bore.direction
        back = (dy, -dx) if dx > 0 else (-dy, dx)         # level, square to the axis
        if back[1] > 0:
            back = (-back[0], -back[1])                   # and towards the nut
        radius = self.barrel_radius + self.radius

        def at(angle):
            return (axis[0] + radius * math.cos(angle) * back[0], axis[1] + radius * math.cos(angle) * back[1],
                    axis[2] + radius * math.sin(angle))

        def square(angle):
            point = at(angle)
            return sum((n - p) * (p - a) for n, p, a in zip(self.nut, point, axis))

        # Facing the nut the run goes outward from the winding; on the far side it would go through it.
        facing = math.atan2(self.nut[2] - axis[2], sum((n - a) * b for n, a, b in zip(self.nut, axis, (*back, 0))))
        low, high = facing, facing + (math.pi if self.over else -math.pi)
        for _ in range(100):
            middle = (low + high) / 2
            if square(middle) > 0:
                low = middle
            else:
                high = middle
        return at(low)

    def line(self):
        return BRepBuilderAPI_MakeEdge(gp_Pnt(*self.nut), gp_Pnt(*self.touch)).Edge()

    def body(self):
        return cylinder(self.nut, self.direction, self.radius, self.length)


def tables(path, count):
    """[strings] with lengths in millimetres and one entry a string."""
    raw = contract_input.read_tables(Path(path).resolve())["strings"]
    factor = 25.4 if contract_input.load(path).get("unit", "mm") == "in" else 1.0
    values = {}
    for key in ("diameters", "barrels", "leaves", "turns", "walk"):
        value = raw[key] if key in raw else "over"
        values[key] = list(value) if isinstance(value, list) else [value] * count
    values["diameters"] = [contract_input.length(v, factor, "diameters") for v in values["diameters"]]
    return values


def check_distance(checks, name, told, string, solid):
    """Whether the cylinder was held to the same distance."""
    centre, at = nearest(string.line(), solid)
    # A centre line inside the solid is at no distance from it.
    checks.below(f"{name} centre line", abs(told + string.radius - centre), NEAR, "mm")
    back = apart(string.body(), solid) - max(told, 0.0)
    ends = min(math.dist(at, string.nut), math.dist(at, string.touch))
    if ends < string.radius:
        checks.truth(f"{name} cylinder, nearest at its end", -NEAR <= back <= string.radius, f"{back:.3g} mm behind")
        return False
    checks.below(f"{name} cylinder", abs(back), NEAR, "mm")
    return True


def check(params, report_path, checks):
    design = Design(params)
    told = json.loads(Path(report_path).read_text(encoding="utf-8"))["strings"]
    table = tables(params, len(design.bores))
    strings = [Strung(design, table, i) for i in range(len(design.bores))]
    wood = blank(design)
    thickest = max(design.thickness, design.thickness_at_crest, design.thickness_at(1.2 * design.length))
    for slot in design.slots:
        wood = oc.cut(wood, SlotTool(slot, thickest).solid(), f"{slot.side} slot and ramp")
    close = 0
    for number, (string, got) in enumerate(zip(strings, told), 1):
        name = f"string {number}"
        checks.equal(f"{name} barrel", (got["side"], got["barrel"]), (string.side, string.barrel))
        checks.below(f"{name} nut", math.dist(got["at_nut"], string.nut), SAME, "mm")
        checks.below(f"{name} touches", math.dist(got["at_barrel"], string.touch), SAME, "mm")
        checks.below(f"{name} length", abs(got["length_behind_nut"] - string.length), SAME, "mm")
        least = min(near["distance"] for near in got["to_wood"])
        close += check_distance(checks, f"{name} to the wood", least, string, wood)
        others = [other for other in strings if other is not string]
        bare = {n["to"]: n["distance"] for n in got["to_barrels"]}
        across = {n["to"]: n["distance"] for n in got["to_strings"]}
        for other in others:
            place = f"{other.side} barrel {other.barrel}"
            entry, direction = other.bore.entry, other.bore.direction
            barrel = cylinder(entry, direction, other.barrel_radius, design.parameters["machines"]["barrel_length"])
            close += check_distance(checks, f"{name} to {place}", bare[place], string, barrel)
            if other.turns > 0:
                low, high = other.winding
                start = along(entry, direction, low - other.radius)
                wound = cylinder(start, direction, other.barrel_radius + other.diameter, high - low + other.diameter)
                place = f"the winding on {place}"
                close += check_distance(checks, f"{name} to {place}", bare[place], string, wound)
            far = strings.index(other) + 1
            gap = apart(string.line(), other.line()) - string.radius - other.radius
            checks.below(f"{name} to string {far}", abs(across[f"string {far}"] - gap), NEAR, "mm")
        checks.equal(f"{name} windings told", sum("winding" in to for to in bare), sum(o.turns > 0 for o in others))
    checks.truth("cylinders held to the distance itself", close > 20, f"{close} of them")


def main():
    if len(sys.argv) != 3:
        print(__doc__)
        return 2
    checks = Checks(f"{Path(sys.argv[1]).stem}: ")
    check(sys.argv[1], sys.argv[2], checks)
    return checks.finish()


if __name__ == "__main__":
    sys.exit(main())
