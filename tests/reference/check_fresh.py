"""Random designs, each held against OpenCASCADE's own solids and distances.

    python check_fresh.py FOLDER

FOLDER holds one folder a design, with `design.toml` and what `make` wrote of it; with `printed/` if its printed copies are to be
compared too, with `stopped.json` in place of solids if checks stopped it and only its least wood is measured. One line a design,
the worst figures at the end; exit status 1 if anything failed. A design at which OpenCASCADE contradicts itself is "broke", with
its own two figures. Two processes share the work.
"""

import itertools
import json
import multiprocessing
import sys
import time
import traceback
from pathlib import Path

from OCP.BOPAlgo import BOPAlgo_PaveFiller
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepClass3d import BRepClass3d_SolidClassifier
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.gp import gp_Pnt
from OCP.TopAbs import TopAbs_IN

import check_layout
import least_wood
import occt_common as oc
import occt_head
import step_file
from contract_design import Design
from reporting import Checks, relative

PROCESSES = 2
SAME_NUMBER = 1e-8      # relative, volumes
# Symmetric difference over volume: nothing at all is left of two equal solids, their faces being found to be the same; two
# different ones leave at least a sliver, and one of this size is 2e-4 mm3 of a head of 200 000.
SAME_SOLID = 1e-9
SAME_ACCOUNT = 1e-8     # relative, of that comparison: sums of volumes that are each good to SAME_NUMBER
SAME_WOOD = 1e-6        # mm
# A point so far inside two solids, mm, is the middle of a ball of 0.004 mm3 that they share.
WELL_INSIDE = 0.1
GRID = 6                # points looked at along each edge of the box around both
CODES = ("wood-over", "wood-under", "web", "cheek", "rib", "bearing")


class Breakdown(Exception):
    """OpenCASCADE's own figures contradict one another, whatever ours are."""


class Quiet(Checks):
    """Keeps what failed and the worst figure of every name, and prints nothing."""

    def __init__(self, prefix):
        super().__init__(prefix)
        self.worst = {}

    def record(self, name, holds, figure):
        self.count += 1
        if not holds:
            self.failures.append(f"{self.prefix}{name}: {figure}")
        return holds

    def figure(self, name, value, limit, unit=""):
        self.worst[name] = max(self.worst.get(name, 0.0), value)
        return self.below(name, value, limit, unit)


def differences(a, b):
    """Volumes of a cut b, b cut a and what they share, from one intersection of the two."""
    filler = BOPAlgo_PaveFiller()
    filler.SetArguments(oc.shape_list([a, b]))
    filler.Perform()
    shapes = (BRepAlgoAPI_Cut(a, b, filler, True).Shape(), BRepAlgoAPI_Cut(a, b, filler, False).Shape(),
              BRepAlgoAPI_Common(a, b, filler).Shape())
    return [oc.volume(shape) for shape in shapes]


def depth_inside(solid, point):
    """How far inside a solid a point lies, mm; nothing where it does not lie inside."""
    if BRepClass3d_SolidClassifier(solid, point, oc.SAME_POINT).State() != TopAbs_IN:
        return 0.0
    nearest = BRepExtrema_DistShapeShape(BRepBuilderAPI_MakeVertex(point).Vertex(), oc.shells(solid)[0])
    return nearest.Value()


def inside_both(a, b):
    """A point well inside both solids and how far, or None: a grid in the box around the first is looked at, no boolean."""
    low, high = oc.bounding_box(a)
    steps = range(1, GRID + 1)
    for i, j, k in itertools.product(steps, steps, steps):
        at = [f + (t - f) * n / (GRID + 1) for f, t, n in zip(low, high, (i, j, k))]
        depth = min(depth_inside(solid, gp_Pnt(*at)) for solid in (a, b))
        if depth > WELL_INSIDE:
            return at, depth
    return None


def reference(design, part, told):
    """OpenCASCADE's own solid and its volume: by one boolean, or tool by tool where that one has gone wrong. `told` is the
    volume of the solid that is judged.

    Neither sees the solid that is judged. Where the one does not give its volume, and the other takes away another volume
    than it shares with its tool, or both differ from one another as well, the reference is no judge.
    """
    quick = occt_head.build_at_once(design, part)
    size = oc.volume(quick)
    sound = len(oc.solids(quick)) == 1 and oc.is_valid(quick)
    if sound and relative(size, told) <= SAME_NUMBER:
        return oc.solids(quick)[0], size
    try:
        slow = occt_head.build(design, part)
    except (oc.ToolTookNothing, ValueError) as fault:
        raise Breakdown(f"{part}: {size:.6f} mm3 at once, told {told:.6f}; tool by tool: {fault}") from fault
    slow_size = oc.volume(slow)
    if relative(slow_size, told) > SAME_NUMBER and relative(slow_size, size) > SAME_NUMBER:
        raise Breakdown(f"{part}: {size:.6f} mm3 at once, {slow_size:.6f} mm3 tool by tool, told {told:.6f}")
    return slow, slow_size


def compare(checks, design, part, solid, size):
    """A solid against the reference; both volumes are known by now."""
    own, own_size = reference(design, part, size)
    checks.figure("volume against the reference", relative(size, own_size), SAME_NUMBER)
    less, more, shared = differences(solid, own)
    # A boolean that breaks down returns an argument whole or nothing at all: then the pieces no longer add up.
    account = max(abs(size - less - shared), abs(own_size - more - shared)) / own_size
    if account > SAME_ACCOUNT and relative(size, own_size) <= SAME_NUMBER:
        raise Breakdown(f"{part}: of {size:.6f} mm3 {less:.6f} are left and {shared:.6f} shared, which do not add up")
    # Or both arguments whole and nothing shared, which does add up: but then no point lies inside both.
    found = inside_both(solid, own) if shared == 0.0 else None
    if found:
        (x, y, z), depth = found
        raise Breakdown(f"{part}: nothing of {size:.6f} mm3 is shared, yet ({x:.2f}, {y:.2f}, {z:.2f}) lies {depth:.2f} mm inside both")
    checks.figure("account of that comparison", account, SAME_ACCOUNT)
    checks.figure("symmetric difference to the reference", (abs(less) + abs(more)) / own_size, SAME_SOLID)


def check_part(checks, design, part, step, told):
    document = step_file.read_document(step)
    found = [s for shape in document.shapes for s in oc.solids(shape)]
    if not checks.equal("solids", len(found), 1):
        return
    solid, told = found[0], told["volume_mm3"]
    # A solid that is not valid has no volume to speak of.
    if not checks.truth("valid by BRepCheck", oc.is_valid(solid)):
        return
    oc.project_anew(solid)
    checks.truth("valid with its ellipses drawn anew", oc.is_valid(solid))
    size = oc.volume(solid)
    checks.figure("volume against report.json", relative(size, told), SAME_NUMBER)
    compare(checks, design, part, solid, size)


def check_stopped(checks, folder):
    """Least wood of a design that checks stopped, as far as there is any: how much could be measured, and what could not."""
    told = json.loads((folder / "stopped.json").read_text(encoding="utf-8"))
    measured, missed = 0, []
    for printed in (False, True):
        rows = [row for row in told if row["where"].startswith("printed ") == printed]
        if not rows:
            continue
        found = least_wood.measures(Design(folder / "design.toml", printed))
        for row in rows:
            code, value = row["code"], row["value"]
            if not checks.truth(f"{code} has something to measure", code in found):
                continue
            try:
                distance = found[code]()
            except ValueError as reason:
                missed.append(f"{code}, {reason}")
                continue
            measured += 1
            # Between surfaces that cross there is no distance; only `bearing` has a sign.
            wanted = value if code == "bearing" else max(value, 0.0)
            checks.figure("stopped, " + code, abs(distance - wanted), SAME_WOOD, "mm")
    return measured, missed


def check_wood(checks, design, report):
    told = {c["code"]: c["value"] for c in report["checks"] if c["code"] in CODES}
    found = least_wood.measure(design)
    checks.equal("checks of least wood", sorted(told), sorted(found))
    for code in found.keys() & told.keys():
        checks.figure(code, abs(found[code] - told[code]), SAME_WOOD, "mm")


def check_design(folder):
    """Line to print, failures, worst figures, checks and least distances of one stopped design, or of one that was made."""
    since = time.monotonic()
    checks = Quiet(f"{folder.name}: ")
    head, bores, measured, missed = "ok   ", 0, 0, []
    try:
        design = Design(folder / "design.toml")
        bores = len(design.bores)
        if (folder / "stopped.json").exists():
            measured, missed = check_stopped(checks, folder)
        else:
            report = json.loads((folder / "report.json").read_text(encoding="utf-8"))
            check_layout.check(folder / "design.toml", folder / "report.json", checks)
            check_wood(checks, design, report)
            for part in design.parts():
                checks.prefix = f"{folder.name}/{part}: "
                check_part(checks, design, part, folder / f"{part}.step", report["solids"][part])
            if (folder / "printed").is_dir():
                copy = Design(folder / "design.toml", printed=True)
                told = json.loads((folder / "printed" / "told.json").read_text(encoding="utf-8"))
                checks.equal("printed copies", sorted(told), sorted(copy.parts()))
                for part in copy.parts():
                    checks.prefix = f"{folder.name}/printed {part}: "
                    check_part(checks, copy, part, folder / "printed" / f"{part}.step", told[part])
    except Breakdown as proof:
        head = "broke"
        missed.append(f"{checks.prefix}{proof}")
    except Exception as error:
        traceback.print_exc()
        checks.record("design", False, f"broke off: {type(error).__name__}: {error}")
    if checks.failures:
        head = "FAIL "
    line = f"{head} {folder.name}: {bores} bores, {checks.count} checks, {time.monotonic() - since:.2f} s"
    return "; ".join([line, *missed]), checks.failures, checks.worst, checks.count, measured


def main():
    # The most bores first, so that no long one is left to the end.
    def size(folder):
        step = folder / "head.step"
        return step.stat().st_size if step.exists() else 0

    folders = sorted((f.parent for f in Path(sys.argv[1]).glob("*/design.toml")), key=lambda f: (-size(f), f.name))
    failures, worst, agreed, count, measured, since = [], {}, 0, 0, 0, time.monotonic()
    with multiprocessing.Pool(PROCESSES) as pool:
        for line, failed, figures, checked, least in pool.imap_unordered(check_design, folders):
            print(line, flush=True)
            failures += failed
            agreed += line.startswith("ok")
            count += checked
            measured += least
            for name, value in figures.items():
                worst[name] = max(worst.get(name, 0.0), value)
    for text in failures:
        print("  failed: " + text)
    for name, value in worst.items():
        print(f"worst {name}: {value:.2g}")
    print(f"measured {measured} least distances of stopped designs")
    print(f"{agreed} of {len(folders)} designs agree, {count} checks, {time.monotonic() - since:.1f} s")
    return 1 if failures or not folders else 0


if __name__ == "__main__":
    sys.exit(main())
