"""Works out a design's positions by section 3 of the contract: stations, axes, depths, slots, ramps, pilots, blocks.

Nothing here knows OpenCASCADE; the numbers are plain floats in millimetres in the head's frame (section 1).
`Design(path)` is the design as drilled, `Design(path, printed=True)` the printed copy of 3.9.
"""

import math
import sys
from dataclasses import dataclass, field

import contract_input

NOISE = 1e-9          # rounding of our own sums
PAIR_REACH = 1.0      # axes closer than this at x = 0 are a pair (3.3)
MIRROR = 1e-6         # how well a pair must be mirrored to open (3.3)
WEB_HALF = 0.25       # half the web a pair keeps that is not quite mirrored (3.3)
WEB_SLACK = 0.005     # a bore may pass the web's plane by this much without being ended there (3.3)
POINT_GAP = 0.01      # printed points closer than this (3.9) ...
POINT_SHORTER = 0.05  # ... end this much shorter


@dataclass
class Side:
    """One side line: its sense in x (+1 treble, -1 bass), half widths, taper and the machines along it."""

    name: str
    sense: int
    y_start: float
    y_end: float
    half_start: float
    half_end: float
    pitches: list
    overhang: list
    stations: list = field(default_factory=list)

    def __post_init__(self):
        self.taper = math.atan((self.half_end - self.half_start) / (self.y_end - self.y_start))
        self.sin, self.cos, self.tan = math.sin(self.taper), math.cos(self.taper), math.tan(self.taper)

    def half_width(self, y):
        """Half width of the side line, prolonged, at y."""
        return self.half_start + (y - self.y_start) * self.tan

    @property
    def along(self):
        return (self.sense * self.sin, self.cos, 0.0)

    @property
    def inward(self):
        return (-self.sense * self.cos, self.sin, 0.0)

    def point(self, s, into=0.0, z=0.0):
        """The point at s along the side line and `into` the wood, square to the side."""
        y = s * self.cos
        half = self.half_width(y)
        return (self.sense * (half - into * self.cos), y + into * self.sin, z)


@dataclass
class Bore:
    side: str
    sense: int
    number: int
    entry: tuple
    direction: tuple
    sin: float              # sine of the side's taper
    cos: float
    diameter: float
    depth: float            # D; lengthened by the rim rule where that applies
    point_height: float
    ends: str = "blind"
    end_x: float = 0.0      # |x| of the end plane where `ends` is not blind
    partner: object = None
    asked: float = 0.0      # D as `beyond_barrel` or `beyond_centre` has it

    def __post_init__(self):
        self.asked = self.depth

    @property
    def to_centre(self):
        return abs(self.entry[0])

    @property
    def crossing_y(self):
        """y where the axis crosses x = 0."""
        return self.entry[1] + self.to_centre / self.cos * self.sin

    @property
    def reach(self):
        """How far across, in x, the bore comes from its entry: by its point or by the far side of its rim."""
        return max((self.depth + self.point_height) * self.cos,
                   self.depth * self.cos + self.diameter / 2 * abs(self.sin))

    @property
    def cylinder_is_cut(self):
        """Whether the end plane cuts the full diameter, rather than the point alone."""
        room = self.to_centre - self.end_x
        return self.ends != "blind" and self.depth * self.cos - self.diameter / 2 * abs(self.sin) >= room - NOISE

    @property
    def length_in_model(self):
        return (self.to_centre - self.end_x) / self.cos if self.cylinder_is_cut else self.depth

    def end_at(self, ends, end_x):
        """Ends the bore in a plane and lengthens D where that plane would cut through the rim."""
        self.ends, self.end_x = ends, end_x
        room = self.to_centre - end_x
        lean = self.diameter / 2 * abs(self.sin)
        if self.depth * self.cos + lean >= room - NOISE and self.depth * self.cos - lean < room:
            self.depth = (room + lean) / self.cos


@dataclass
class Slot:
    """A through slot with the ramp at its nut end. `origin` lies on the mid-line at the slot's extreme nut end,
    `along` is the slot's direction towards the crest, `across` points away from the slot's own side."""

    side: str
    origin: tuple
    along: tuple
    across: tuple
    length: float
    width: float
    radius: float
    ramp_mouth: float | None = None
    ramp_angle: float | None = None


@dataclass
class Block:
    name: str
    sides: list
    length: float
    depth: float
    height: float
    axis_height: float
    shim: float
    diameter: float
    holes: list             # x of every hole, rising
    scribe: tuple | None    # (width, depth)


class Design:
    def __init__(self, path, printed=False):
        self.parameters = p = contract_input.load(path)
        self.title = p["title"]
        self.printed = printed
        self.chord = p["print"]["chord"]
        head = p["head"]
        self.length = head["length"]
        self.thickness, self.thickness_at_crest = head["thickness"], head["thickness_at_crest"]
        self.arch = head["crest"] == "arch"
        self.sides = [self.make_side("treble", 1), self.make_side("bass", -1)]
        self.axis_below_face = self.work_out_axis()
        self.bores = [bore for side in self.sides for bore in self.make_bores(side)]
        self.counterbore = None
        if "counterbore" in p["bores"]:
            wide = p["bores"]["counterbore"]
            self.counterbore = (wide["diameter"] + self.head_allowance, wide["depth"])
        self.end_pairs()
        self.slots = [self.make_slot(side) for side in self.sides] if "slots" in p else []
        self.pilots = [pilot for side in self.sides for pilot in self.make_pilots(side)]
        self.blocks = self.make_blocks()

    @property
    def head_allowance(self):
        return self.parameters["print"]["head_allowance"] if self.printed else 0.0

    def thickness_at(self, y):
        return self.thickness + (self.thickness_at_crest - self.thickness) * y / self.length

    def make_side(self, name, sense):
        p, head = self.parameters, self.parameters["head"]
        widths = head["bass"] if name == "bass" and "bass" in head else head
        machines = p["machines"]["bass"] if name == "bass" else p["machines"]
        side = Side(name, sense, head["side_start"], head["side_end"], widths["width_at_nut_end"] / 2,
                    widths["width_at_crest_end"] / 2, machines["pitches"], machines["overhang"])
        place = p["placement"]
        if "first_barrel" in place:
            first = place["first_barrel"]
            if name == "bass" and "bass" in place:
                first = place["bass"]["first_barrel"]
            s = first / side.cos
        else:
            middle = (side.y_start + side.y_end) / 2 / side.cos
            s = middle - (sum(side.overhang) + sum(side.pitches)) / 2 + side.overhang[0]
        side.stations = [s]
        for pitch in side.pitches:
            side.stations.append(side.stations[-1] + pitch)
        return side

    def work_out_axis(self):
        """a of 3.2: one figure for both sides, decided at the middle of the treble plate."""
        place = self.parameters["placement"]
        if "axis_below_face" in place:
            return place["axis_below_face"]
        side = self.sides[0]
        plate = sum(side.overhang) + sum(side.pitches)
        middle = side.stations[0] - side.overhang[0] + plate / 2
        return self.thickness_at(middle * side.cos) / 2 - self.parameters["machines"]["axis_offset"]

    def make_bores(self, side):
        bores, machines = self.parameters["bores"], self.parameters["machines"]
        diameter = bores["diameter"] + self.head_allowance
        height = 0.0 if bores["point"] == "flat" else diameter / 2 / math.tan(math.radians(bores["point"]) / 2)
        entries = [side.point(s, z=-self.axis_below_face) for s in side.stations]
        if "beyond_centre" in bores:
            depth = max(abs(e[0]) for e in entries) / side.cos + bores["beyond_centre"]
        else:
            depth = machines["barrel_length"] + bores["beyond_barrel"]
        return [Bore(side.name, side.sense, i + 1, e, side.inward, side.sin, side.cos, diameter, depth, height)
                for i, e in enumerate(entries)]

    def end_pairs(self):
        """3.3: pairs open into one another, keep a web, or stay blind; 3.9 for points that all but touch."""
        for one in (b for b in self.bores if b.sense > 0):
            for two in (b for b in self.bores if b.sense < 0):
                if abs(one.crossing_y - two.crossing_y) >= PAIR_REACH:
                    continue
                one.partner, two.partner = two, one
                mirror = (-1, 1, 1)
                mirrored = all(
                    abs(a * m - b) <= MIRROR
                    for pair in ((one.entry, two.entry), (one.direction, two.direction))
                    for a, b, m in zip(*pair, mirror)
                )
                if mirrored:
                    gap = one.to_centre - one.reach + two.to_centre - two.reach
                    # A flat end has no point to be parted.
                    if self.printed and one.point_height > 0.0 and abs(gap) < POINT_GAP:
                        one.depth -= POINT_SHORTER
                        two.depth -= POINT_SHORTER
                    elif any(b.reach >= b.to_centre - NOISE for b in (one, two)):
                        for bore in (one, two):
                            bore.end_at("opens", 0.0)
                else:
                    for bore in (one, two):
                        if bore.reach > bore.to_centre - WEB_HALF + WEB_SLACK:
                            bore.end_at("web", WEB_HALF)

    def make_slot(self, side):
        p = self.parameters["slots"]
        width, (nut_margin, crest_margin) = p["width"], p["end_margin"]
        first, last = side.stations[0], side.stations[-1]
        if "rib" in p:
            x = p["rib"] / 2 + width / 2
            crossings = []
            for s in (first, last):
                entry = side.point(s)
                crossings.append(entry[1] + (abs(entry[0]) - x) * side.tan)
            origin = (side.sense * x, crossings[0] - nut_margin)
            along, across = (0.0, 1.0), (-float(side.sense), 0.0)
            length = crossings[1] - crossings[0] + nut_margin + crest_margin
        else:
            origin = side.point(first - nut_margin, into=p["cheek"] + width / 2)[:2]
            along, across = side.along[:2], side.inward[:2]
            length = last - first + nut_margin + crest_margin
        ramp = p.get("ramp")
        return Slot(side.name, origin, along, across, length, width, p["corner_radius"],
                    ramp["mouth"] if ramp else None, ramp["angle"] if ramp else None)

    def make_pilots(self, side):
        """3.7: (point on the side, direction, diameter, depth) of every screw's pilot."""
        screws = self.parameters["machines"].get("screws")
        if not screws:
            return []
        return [(side.point(side.stations[0] + along, z=-self.axis_below_face + across), side.inward,
                 screws["pilot"] + self.head_allowance, screws["depth"]) for along, across in screws["points"]]

    def make_blocks(self):
        p, guide, head = self.parameters, self.parameters["guide"], self.parameters["head"]
        height_of_axis = self.axis_below_face - (0.0 if head["veneers_on"] else head["face_veneer"])
        axis = guide.get("axis_height", height_of_axis)
        bushed = "bush_diameter" in guide
        diameter = guide["bush_diameter"] if bushed else guide["bore_diameter"]
        if self.printed:
            diameter += p["print"]["bush_allowance" if bushed else "block_allowance"]
        scribe = guide.get("scribe")
        treble, bass = self.sides[0].pitches, self.sides[1].pitches[::-1]
        one = len(treble) == len(bass) and all(abs(a - b) <= 1e-6 for a, b in zip(treble, bass))
        wanted = [("guide-block", ["treble", "bass"], treble)] if one else [
            ("guide-block-treble", ["treble"], treble), ("guide-block-bass", ["bass"], bass)]
        blocks = []
        for name, sides, pitches in wanted:
            holes = [guide["end_margin"]]
            for pitch in pitches:
                holes.append(holes[-1] + pitch)
            blocks.append(Block(name, sides, 2 * guide["end_margin"] + sum(pitches), guide["depth"], guide["height"],
                                axis, height_of_axis - axis, diameter, holes,
                                (scribe["width"], scribe["depth"]) if scribe else None))
        return blocks

    def parts(self):
        """Names of the solids, as the output files and report.json name them."""
        return ["head"] + [block.name for block in self.blocks]

    def block(self, name):
        return next(block for block in self.blocks if block.name == name)


def describe(path):
    """Prints the numbers of a design, for a look by eye."""
    for printed in (False, True):
        design = Design(path, printed)
        print(design.title, "(printed)" if printed else "")
        print(f"  a = {design.axis_below_face:.6f}")
        for b in design.bores:
            print(f"  {b.side:6} {b.number} entry ({b.entry[0]:.6f}, {b.entry[1]:.6f}, {b.entry[2]:.6f}) d {b.diameter:.4f}"
                  f" D {b.depth:.6f} point {b.point_height:.4f} {b.ends} in model {b.length_in_model:.6f}")
        for block in design.blocks:
            print(f"  {block.name}: {block.length:.4f} x {block.depth:.4f} x {block.height:.4f} axis {block.axis_height:.4f}"
                  f" shim {block.shim:.4f} holes {block.diameter:.4f} at {[round(x, 4) for x in block.holes]}")


if __name__ == "__main__":
    for argument in sys.argv[1:]:
        describe(argument)
