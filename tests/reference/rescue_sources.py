"""What a figure on the rescue sheet may be: old bores from the records of the parameter file, and from them where the plate
settles, what reaming frees it, how a plug lies, what wood is left.

Which bores are reamed or plugged, with which bit or dowel, and where the plate is laid is taken from `fit --json`; that the
plate is laid as well as can be is found out by scipy's optimisers, and every figure that follows is worked out here.
"""

import math
import re

import numpy as np

from check_settle import AGREE, discs, least_excess
from contract_input import INCH, length

FREE = 0.05       # mm all round a barrel that turns freely (README)


def old_bores(design, side):
    """Centre (along, across from the design's axis to the face), slope a mm of depth and diameter of every bore of a side."""
    factor = INCH if design.parameters.get("unit") == "in" else 1.0
    records = {r["number"]: r for r in design.parameters["drilled"] if r["side"] == side.name}
    found = []
    for number, (station, bore) in enumerate(zip(side.stations, (b for b in design.bores if b.side == side.name)), 1):
        record = records.get(number, {})
        value = {key: length(record[key], factor, key) for key in ("along", "below_face", "edges_from_previous", "diameter")
                 if key in record}
        pairs = {key: [length(edge, factor, key) for edge in record[key]] for key in ("edges_along", "edges_below_face")
                 if key in record}
        widths = [max(pair) - min(pair) for pair in pairs.values()]
        diameter = value.get("diameter", sum(widths) / len(widths) if widths else bore.diameter)
        along, below = value.get("along", station), value.get("below_face", design.axis_below_face)
        if "edges_along" in pairs:
            along = sum(pairs["edges_along"]) / 2
        if "edges_from_previous" in value:
            raise NotImplementedError("a bore measured from the one before it")
        if "edges_below_face" in pairs:
            below = sum(pairs["edges_below_face"]) / 2
        lean = [record.get(key, 0.0) for key in ("lean_along", "lean_across")]
        found.append({"centre": [along, design.axis_below_face - below], "diameter": diameter, "lean": lean,
                      "slope": [math.tan(math.radians(angle)) for angle in lean], "station": [station, 0.0]})
    return found


class Settling:
    """A plate laid on bores as the program lays it: how near it comes, and whether that is the best there is."""

    def __init__(self, checks, name, bores, barrel, held, told, reamed=False):
        self.reamed = reamed
        # A leaning bore is off its mouth by then where a counterbore lets go of the barrel.
        start, end = held
        at_start = [b | {"centre": np.array(b["centre"]) + start * np.array(b["slope"])} for b in bores]
        self.case = {"stations": [bore["station"] for bore in bores], "bores": at_start, "barrel": barrel, "grip": end - start}
        self.shift = np.array([told["shift_to_crest_mm"], told["shift_to_face_mm"]])
        self.turn = math.radians(told["turn_deg"])
        self.about = np.mean(self.case["stations"], axis=0) if bores else np.zeros(2)
        self.gap = told["gap_mm"]
        if bores:
            offsets, arms, clearances = discs(self.case)
            away = np.array(self.case["stations"]) - self.about
            reach = np.abs(away).max() or 1.0  # discs() gives the arms as shares of the longest
            moved = np.linalg.norm(offsets + self.shift + self.turn * reach * arms, axis=1)
            self.gap = (clearances - moved).min()
            checks.below(f"{name}: laid as well as can be", abs(self.gap + least_excess(self.case)), AGREE, "mm")

    def place(self, point):
        """Where a point of the plate comes to lie; the turn to the first order."""
        away = np.array(point) - self.about
        return np.array(point) + self.shift + self.turn * np.array([-away[1], away[0]])

    def words(self):
        """What the sheet says of where it lies: (figure, way) for along, across and turn, none below half a hundredth."""
        moves = [(self.shift[0], ("crest", "nut")), (self.shift[1], ("face", "back")), (math.degrees(self.turn), ("face", "back"))]
        return [(abs(value), ways[int(value < 0)]) if abs(value) >= 0.005 else None for value, ways in moves]


LENGTH = r"([\d.]+) mm(?: \(([\d.]+) in\))?"
PLACE = re.compile(rf"(?:shifted(?: {LENGTH} to the (crest|nut))?(?:(?: and)? {LENGTH} to the (face|back))?(?: and )?)?"
                   r"(?:turned ([\d.]+)°, its crest end to the (face|back))?|where the design has it")


LEFT = re.compile(rf"at least {LENGTH} is left all round|stands {LENGTH} into the wood|{LENGTH} is left round the tightest barrel"
                  rf"|{LENGTH} is wanted to turn freely")


def same(figure, inches, value):
    """Whether a length as printed, in one unit or both, is the value in mm."""
    return abs(float(figure) - value) <= 0.005 + 1e-6 and (
        inches is None or abs(float(inches) - value / INCH) <= 0.0005 + 1e-6)


def check_places(checks, name, text, settlings):
    """Every place of the plate that the text tells, in its order, against where it was settled, and what that leaves round a
    barrel; the text without them."""
    told = [m for m in PLACE.finditer(text) if m.group(0)]
    checks.equal(f"{name}: places of the plate", len(told), len(settlings))
    for match, settling in zip(told, settlings):
        along, along_inch, to, across, across_inch, up, turn, end = match.groups()
        found = [(along, along_inch, to), (across, across_inch, up), (turn, None, end)]
        holds = all(wanted is None if figure is None else wanted and same(figure, inches, wanted[0]) and way == wanted[1]
                    for (figure, inches, way), wanted in zip(found, settling.words()))
        checks.truth(f"{name}: {match.group(0)}", holds, str(settling.words()))
    left = [[part for part in match.groups() if part] for match in LEFT.finditer(text)]
    wanted = [abs(settlings[0].gap)] + ([FREE] if 0 <= settlings[0].gap < FREE - AGREE else [])
    wanted += [settling.gap for settling in settlings if settling.reamed]
    holds = len(left) == len(wanted) and all(same(*(parts + [None])[:2], value) for parts, value in zip(left, wanted))
    checks.truth(f"{name}: left round the barrels", holds, f"{left} for {wanted}")
    return LEFT.sub("", PLACE.sub("", text))


def covered(design, side, settling, centre, radius):
    """How far the settled plate reaches past a circle on the side."""
    machines = design.parameters["machines"]
    along, across = centre[0] - settling.shift[0], centre[1] - settling.shift[1]
    across -= settling.turn * (along - settling.about[0]) - machines["axis_offset"]
    ends = min(along - side.stations[0] + side.overhang[0], side.stations[-1] + side.overhang[1] - along)
    return min(ends, machines["plate_width"] / 2 - abs(across)) - radius


def overlap(apart, old, new):
    """Width along the line of the centres that two circles share, and their common area as a share of the new one's."""
    width = min(old + new - apart, 2 * min(old, new))
    if width <= 0:
        return width, 0.0
    xs = np.linspace(max(-old, apart - new), min(old, apart + new), 20_001)
    half = np.minimum(np.sqrt(np.maximum(old**2 - xs**2, 0)), np.sqrt(np.maximum(new**2 - (xs - apart) ** 2, 0)))
    return width, 2 * np.trapezoid(half, xs) / (math.pi * new**2)


def wood(design, name, bores, holes, told, clear_too):
    """Wood left around holes {number: (centre, diameter)}: over, under and between worked out here, where the back is parallel
    to the face; the rest, and the limits, as `fit` and the checks have them."""
    found = {}
    at = {i + 1: (np.array(b["centre"]), b["diameter"]) for i, b in enumerate(bores)} | holes
    webs = [np.linalg.norm(at[n][0] - at[m][0]) - (at[n][1] + at[m][1]) / 2 for n in holes for m in (n - 1, n + 1) if m in at]
    below = [(design.axis_below_face - centre[1], diameter / 2) for centre, diameter in at.values()]
    own = {"web": min(webs, default=math.inf), "wood-over": min(b - r for b, r in below)}
    if design.thickness == design.thickness_at_crest:
        own["wood-under"] = min(design.thickness - b - r for b, r in below)
    for left in told:
        if clear_too or left["verdict"] != "clear":
            found[f"{name} {left['code']}"] = own.get(left["code"], left["value"])
            found[f"{name} {left['code']} limit"] = left["limit"]
    return found


def rescue(checks, design, side, told):
    """The bores of one side; every figure of its sheet but those of the table and of the plate's places, and the names of
    those it must show; where the plate is said to lie, in the order of the sheet."""
    machines = design.parameters["machines"]
    barrel = float(machines["barrel_diameter"])
    held = (design.counterbore[1] if design.counterbore else 0.0, machines["barrel_length"])
    grip = held[1] - held[0]
    bores, name = old_bores(design, side), f"rescue of the {side.name} side"
    found, must = {"most clearance": told["most_clearance_mm"]}, []
    as_it_is = Settling(checks, name, bores, barrel, held, told["settled"])
    settlings = [as_it_is]
    if told["sits"] != "not at all":
        width, axis = machines["plate_width"] / 2, design.axis_below_face + machines["axis_offset"]
        ends = [as_it_is.place((s, 0.0))[1] for s in (side.stations[0] - side.overhang[0], side.stations[-1] + side.overhang[1])]
        found |= {"room to the face": axis - width - max(ends), "room to the back": design.thickness - axis - width + min(ends)}
        must += ["room to the face", "room to the back"]
    for key in ("reaming", "reaming_too_loose"):
        reaming = told.get(key)
        if reaming:
            bit = reaming["bit"]["diameter_mm"]
            wide = [b | {"diameter": bit} if i + 1 in reaming["numbers"] else b for i, b in enumerate(bores)]
            settled = Settling(checks, f"{name}, {key}", wide, barrel, held, reaming["settled"], reamed=True)
            checks.truth(f"{name}: {key} frees it", settled.gap >= FREE - AGREE, str(settled.gap))
            circles = [(np.array(b["centre"]), b["diameter"] / 2) for i, b in enumerate(wide) if i + 1 in reaming["numbers"]]
            if key == "reaming":
                settlings.append(settled)
            found |= {f"{key} bit": bit, f"{key} clearance": bit - barrel,
                                             f"{key} lean": math.degrees(math.atan2(bit - barrel, grip)),
                                             f"{key} covered": min(covered(design, side, settled, *one) for one in circles)}
            if key == "reaming" and told["remedy"] == "ream":
                deep = {f"depth of bore {b.number}": b.depth for b in design.bores
                        if b.side == side.name and b.number in reaming["numbers"]}
                found |= deep
                must += list(deep)
            must += [f"{key} clearance"] + ([f"{key} {what}" for what in ("lean", "covered")] if key == "reaming" else [])
            found |= wood(design, key, bores, {n: (np.array(bores[n - 1]["centre"]), bit) for n in reaming["numbers"]},
                          reaming["wood"], clear_too=False)
    plugged = {plug["number"] for plug in told["plugs"]}
    if plugged:
        kept = [bore for i, bore in enumerate(bores) if i + 1 not in plugged]
        settled = Settling(checks, f"{name}, plugged", kept, barrel, held, told["plugged"])
        settlings.append(settled)
    if told["plugs"] and design.counterbore:
        mouth = {"counterbore diameter": design.counterbore[0], "counterbore depth": design.counterbore[1]}
        found |= mouth
        must += list(mouth) if told["remedy"] == "plug" else []
    for plug in told["plugs"]:
        number, size, new_diameter = plug["number"], plug["plug"]["diameter_mm"], design.parameters["bores"]["diameter"]
        bore, key = bores[number - 1], f"plug {number}"
        new, old = settled.place(bore["station"]), np.array(bore["centre"])
        centre = new if plug["centred_on"] == "new" else old
        width, share = overlap(np.linalg.norm(new - old), bore["diameter"] / 2, new_diameter / 2)
        checks.below(f"{name}: {key}, shared area", abs(share - plug["overlap"]["share"]), 1e-4)
        found |= {f"{key} size": size, f"{key} new along": new[0], f"{key} new below": design.axis_below_face - new[1],
                  f"{key} new diameter": new_diameter, f"{key} overlap": width, f"{key} along": centre[0],
                  f"{key} below": design.axis_below_face - centre[1],
                  f"{key} ring": abs((size - new_diameter) / 2 - np.linalg.norm(centre - new)),
                  f"{key} covered": covered(design, side, settled, centre, size / 2)}
        if told["remedy"] == "plug":
            drilled = [b for b in design.bores if b.side == side.name]
            deepest = max(b.depth for b in drilled) + max(b.point_height for b in drilled)
            found |= {f"{key} length": next(b.depth for b in drilled if b.number == number),
                      "depth stop": design.blocks[0].depth + deepest}
            must += [f"{key} length", "depth stop"]
        around = wood(design, key, bores, {number: (centre, size)}, plug["wood"], clear_too=True)
        found |= around
        must += [f"{key} {what}" for what in ("overlap", "covered")] + list(around)
        must += [f"{key} ring"]     # what stays of the plug, or how far the new bore runs past it
        must += [f"{key} {what}" for what in ("new along", "new below", "along", "below") if told["remedy"] == "plug"]
    single = told.get("single_machines")
    if single:
        centres = [np.array(bore["centre"]) for bore in bores]
        apart = [np.linalg.norm(a - b) for a, b in zip(centres, centres[1:])]
        found |= {"longest plate": min(apart)} if apart else {}
        found |= {f"single {i} bit": one["bit"]["diameter_mm"] for i, one in enumerate(single["ream"])}
        must += ["longest plate"] if apart and single["spares_the_wood"] else []
    return bores, found, must, settlings


def becomes(told, own, number, inches):
    """Figures of the table's last column, (value, half of the last digit): what a bore becomes, where it changes. `inches`: of the
    line of inches under the bore's own, which repeats lengths alone."""
    factor, half = (1 / INCH, 0.0005) if inches else (1.0, 0.005)
    reaming, remedy = told.get("reaming"), told["remedy"]
    if remedy == "ream" and number in reaming["numbers"] and not inches:
        # The bit goes by its name: a figure only where that has a decimal.
        return [(float(value), 1e-9) for value in re.findall(r"\d+\.\d+", reaming["bit"]["name"])]
    if remedy == "plug" and any(plug["number"] == number for plug in told["plugs"]):
        key = f"plug {number}"
        return [(own[f"{key} {what}"] * factor, half) for what in ("new diameter", "new along")]
    return []
