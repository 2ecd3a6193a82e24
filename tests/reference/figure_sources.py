"""What a figure on a sheet may be: lengths and angles worked out from the parameter file by section 3 of the contract,
and the figures of report.json. Every entry has a name, so that a test can say which figure stands where.

Nothing here reads a sheet, and nothing here is taken from the program's own code.
"""

import math
from statistics import stdev

from scipy.stats import t as student

CALIPERS = 0.03       # mm either way, equally likely within
# Figures of the rig that README states as defaults of [rig], mm; clearance hole for M5 by ISO 273, medium.
RIG = {"base": 18.0, "upright": 24.0, "front": 90.0, "behind": 80.0, "beyond": 60.0, "relief": 12.0, "packing": 12.0,
       "wedge thin end": 3.0, "screw hole": 5.5}
NUT_RELIEF = 2.0      # the upright's full face ends this much before the nut line
SCREW_WOOD = 3.0      # kept round every screw hole
SCREWS_APART = 90.0   # at most, along the upright
# Shop tolerances that README states as defaults of [tolerances]: mm, and degrees for squareness.
TOLERANCES = {"tolerance of pitch": 0.1, "tolerance of diameter": 0.1, "tolerance of axis": 0.2, "squareness": 0.3}
# ISO 286-2: upper limit of H7, mm, by nominal sizes up to and including the one given.
H7 = ((3.0, 0.010), (6.0, 0.012), (10.0, 0.015), (18.0, 0.018), (30.0, 0.021))


def stations(design):
    """Of every bore: s on its side, y and x of its entry, and the drilled depth."""
    found = {}
    for side in design.sides:
        for i, s in enumerate(side.stations):
            x, y, _ = side.point(s)
            name = f"{side.name} bore {i + 1}"
            found |= {f"{name} s": s, f"{name} y": y, f"{name} x": x}
        found[f"{side.name} side's end s"] = side.y_end / side.cos
        if side.y_start:
            found[f"{side.name} side's start s"] = side.y_start / side.cos
    return found


def bores(design):
    """Diameters, depths, points, pilots, counterbores, and the one depth of the axis."""
    found = {"axis below the face": design.axis_below_face}
    for bore in design.bores:
        name = f"{bore.side} bore {bore.number}"
        found |= {f"{name} diameter": bore.diameter, f"{name} depth": bore.depth, f"{name} point": bore.point_height}
    screws = design.parameters["machines"].get("screws")
    if screws:
        found |= {"pilot diameter": screws["pilot"], "pilot depth": screws["depth"]}
        for side in design.sides:
            for i, (along, across) in enumerate(screws["points"]):
                found[f"{side.name} pilot {i + 1} s"] = side.stations[0] + along
                found[f"{side.name} pilot {i + 1} below the face"] = design.axis_below_face - across
    if design.counterbore:
        found |= {"counterbore diameter": design.counterbore[0], "counterbore depth": design.counterbore[1]}
    point = design.parameters["bores"]["point"]
    return found if point == "flat" else found | {"point angle": point}


def deeper(design):
    """By how much the deepest bore of a side goes deeper than its depth rule asks for (section 3.3)."""
    found = {}
    for side in design.sides:
        bores = [bore for bore in design.bores if bore.side == side.name]
        deepest = max(bores, key=lambda bore: bore.depth)
        if deepest.depth - deepest.asked > 1e-9:
            found[f"{side.name} side deeper by"] = deepest.depth - deepest.asked
    return found


def readings(design):
    """Mean of the barrel's diameter and its ± by JCGM 100: standard error, and calipers up to CALIPERS off (README),
    widened by Student's t for the effective degrees of freedom to what k = 2 covers."""
    diameter = design.parameters["machines"]["barrel_diameter"]
    values = getattr(diameter, "readings", None)
    if not values:
        return {}
    error, calipers = stdev(values) / math.sqrt(len(values)), CALIPERS / math.sqrt(3)
    both = math.hypot(error, calipers)
    degrees = (len(values) - 1) * (both / error) ** 4
    factor = student.ppf((1 + math.erf(math.sqrt(2))) / 2, degrees)
    return {"mean of the barrel's readings": float(diameter), "± of the barrel's readings": factor * both}


def tapers(design):
    """Angles, degrees: either side to the centre line, and the wedge of both."""
    found = {f"taper of the {side.name} side": math.degrees(side.taper) for side in design.sides}
    return found | {"wedge": sum(found.values())}


def slots(design):
    """Slots and ramps: ends of mid-lines, mouths, corners, the ramp's depth at the slot's end."""
    found = {}
    for slot in design.slots:
        (x, y), (ux, uy), (vx, vy) = slot.origin, slot.along, slot.across
        end = (x + slot.length * ux, y + slot.length * uy)
        found |= {f"{slot.side} slot's nut end x": x, f"{slot.side} slot's nut end y": y,
                  f"{slot.side} slot's crest end x": end[0], f"{slot.side} slot's crest end y": end[1]}
        found |= {"slot width": slot.width, "slot corner": slot.radius, "smallest cutter": 2 * slot.radius}
        if slot.ramp_mouth is not None:
            mouth, half = slot.ramp_mouth, slot.width / 2
            for k, way in (("inner", 1), ("outer", -1)):
                found[f"{slot.side} ramp's {k} x"] = x - mouth * ux + way * half * vx
                found[f"{slot.side} ramp's {k} y"] = y - mouth * uy + way * half * vy
            found[f"{slot.side} ramp's mouth y"] = y - mouth * uy
            found["ramp's depth"] = mouth * math.tan(math.radians(slot.ramp_angle))
            found["ramp angle"] = slot.ramp_angle
    table = design.parameters.get("slots", {})
    return found | {k: table[k] for k in ("rib", "cheek") if k in table}


def arch(design):
    """Centre (x, y) and radius of the crest's arc through both side ends and (0, length)."""
    (ax, ay), (bx, by), (cx, cy) = [side.point(side.y_end / side.cos)[:2] for side in design.sides] + [(0.0, design.length)]
    d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    a, b, c = ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy
    x = (a * (by - cy) + b * (cy - ay) + c * (ay - by)) / d
    y = (a * (cx - bx) + b * (ax - cx) + c * (bx - ax)) / d
    return x, y, math.hypot(ax - x, ay - y)


def outline(design):
    """Corners of the head, its widths and lengths."""
    head = design.parameters["head"]
    found = {"length": design.length, "thickness": design.thickness, "thickness at the crest": design.thickness_at_crest,
             "head angle": head["angle"], "face veneer": head["face_veneer"], "back veneer": head["back_veneer"]}
    for side in design.sides:
        for name, s in (("start", side.y_start / side.cos), ("end", side.y_end / side.cos), ("nut line", 0.0)):
            x, y, _ = side.point(s)
            found |= {f"{side.name} {name} x": x, f"{side.name} {name} y": y}
    for name in ("start", "end", "nut line"):
        found[f"width at the side's {name}"] = sum(abs(found[f"{side.name} {name} x"]) for side in design.sides)
    if "shoulder_width" in head:
        found |= {"shoulder width": head["shoulder_width"], "half of it": head["shoulder_width"] / 2}
    if design.arch:
        x, y, radius = arch(design)
        found |= {"arch centre x": x, "arch centre y": y, "arch radius": radius}
    return found


def block(block):
    """One guide block."""
    found = {"block length": block.length, "block depth": block.depth, "block height": block.height,
             "block's axis": block.axis_height, "shim": block.shim, "hole diameter": block.diameter}
    found |= {f"hole {i + 1}": x for i, x in enumerate(block.holes)}
    if block.scribe:
        found |= {"groove width": block.scribe[0], "groove depth": block.scribe[1]}
    return found


def seat(block):
    """Upper limit of the bush's seat by H7."""
    return {"bush seat": next(limit for size, limit in H7 if block.diameter <= size + 1e-9)}


def daylight_on_rig(design, press):
    """What the rig makes of the check `press-daylight`: its height in the place of head and block on the bare table."""
    if "press-daylight value" not in press:
        return {}
    widths = outline(design)
    bare = max(widths[f"width at the side's {name}"] for name in ("start", "end", "nut line"))
    top = RIG["base"] + Rig(design).top
    takes = press["press-daylight value"] - bare - design.blocks[0].depth + top
    return {"block's top over the table": top, "daylight on the rig": takes,
            "daylight left on the rig": press["press-daylight limit"] - takes}


class Rig:
    """The rig in its own frame: x along it from the block's end, heights above the base."""

    def __init__(self, design):
        self.design = design
        stances = {side.name: self.stance(side) for side in design.sides}
        self.deepest = max(depth for stance in stances.values() for _, depth in stance["outline"])
        treble, bass = stances["treble"], stances["bass"]
        self.angle = sum(side.taper for side in design.sides)
        self.thin = RIG["wedge thin end"] if abs(self.angle) > 1e-6 else 0.0
        self.foot = self.deepest + self.thin + RIG["packing"]
        self.top = self.foot + design.blocks[0].depth
        self.bearing = (max(treble["nut"]) + NUT_RELIEF, min(bass["nut"]) - NUT_RELIEF)
        self.ends = (min(min(treble["nut"]) - RIG["beyond"], min(x for x, _ in bass["outline"])),
                     max(max(bass["nut"]) + RIG["beyond"], max(x for x, _ in treble["outline"])))
        self.length = self.ends[1] - self.ends[0]
        self.wedge = min(abs(s["lower"][1][0] - s["lower"][0][0]) for s in stances.values())
        self.thick = self.thin + self.wedge * math.tan(abs(self.angle))
        self.packings = [self.foot - self.thin - max(depth for _, depth in s["lower"]) for s in stances.values()]

    def stance(self, side):
        """Outline, nut line and lower side with `side` up: (x along the rig, depth below the upper side)."""
        block = next(b for b in self.design.blocks if side.name in b.sides)
        towards_crest = side.name == "treble"
        origin = side.point(side.stations[0 if towards_crest else -1])
        sense = 1 if towards_crest else -1
        margin = block.holes[0]

        def place(point):
            delta = [point[i] - origin[i] for i in range(2)]
            along = sense * (delta[0] * side.along[0] + delta[1] * side.along[1]) + margin
            return along, delta[0] * side.inward[0] + delta[1] * side.inward[1]

        corners, lower, nut = [], None, []
        for one in self.design.sides:
            ends = [one.point(y / one.cos) for y in (one.y_start, one.y_end)]
            shoulder = self.design.parameters["head"].get("shoulder_width")
            at_nut = (one.sense * shoulder / 2, 0.0) if shoulder and one.y_start else one.point(0.0)
            corners += ends + [at_nut]
            nut.append(place(at_nut)[0])
            if one is not side:
                lower = [place(end) for end in ends]
        if self.design.arch:
            x, y, radius = arch(self.design)
            steps = 40_000  # the chord lies less than 1e-6 mm off an arc of any head's size
            start, end = [math.atan2(c[1] - y, c[0] - x) for c in (corners[1], corners[4])]
            corners += [(x + radius * math.cos(start + (end - start) * i / steps),
                         y + radius * math.sin(start + (end - start) * i / steps)) for i in range(steps + 1)]
        else:
            corners.append((0.0, self.design.length))
        return {"outline": [place(c) for c in corners], "nut": nut, "lower": lower}

    def screws(self):
        """x of the screws into the block: the middles of its first and last stretch of wood with room enough."""
        hole, found = RIG["screw hole"], []
        if self.design.blocks[0].depth < hole + 2 * SCREW_WOOD:
            return found
        for block in self.design.blocks:
            edges = [0.0]
            for x in block.holes:
                edges += [x - block.diameter / 2, x + block.diameter / 2]
            edges.append(block.length)
            free = [(max(a, self.bearing[0]), min(b, self.bearing[1])) for a, b in zip(edges[::2], edges[1::2])]
            free = [(a + b) / 2 for a, b in free if b - a >= hole + 2 * SCREW_WOOD]
            for x in sorted({free[0], free[-1]} if free else set()):
                if all(abs(x - other) >= hole + SCREW_WOOD for other in found):
                    found.append(x)
        return sorted(found)

    def figures(self):
        start, (left, right) = self.ends[0], self.bearing
        count = max(2, math.ceil((right - left) / SCREWS_APART))
        width = min(self.design.thickness, self.design.thickness_at_crest)
        found = dict(RIG) | {
            "rig's length": self.length, "base's width": RIG["front"] + RIG["behind"] + RIG["upright"],
            "block's foot": self.foot, "upright's height": self.top, "block's end": -start,
            "bearing from": left - start, "bearing to": right - start, "brace height": self.foot * 2 / 3,
            "brace thickness": min(RIG["base"], self.length / 6), "brace 1": self.length / 4,
            "brace 2": self.length * 3 / 4, "behind the upright's face": RIG["behind"] + RIG["upright"],
            "middle of the braces": RIG["behind"] / 2, "middle of the upright": RIG["behind"] + RIG["upright"] / 2,
            "upright's screws' height": self.foot + self.design.blocks[0].depth / 2, "supports' width": width,
            "wedge length": self.wedge, "wedge thick end": self.thick, "block's top over the table": RIG["base"] + self.top,
            "lift for ten millimetres": 10 * math.tan(abs(self.angle)), "nothing": 0.0}
        found |= {f"screw {i + 1}": x - start for i, x in enumerate(self.screws())}
        found |= {f"foot screw {i + 1}": left - start + (right - left) * (i + 0.5) / count for i in range(count)}
        found |= {f"packing {i + 1}": height for i, height in enumerate(self.packings)}
        return found
