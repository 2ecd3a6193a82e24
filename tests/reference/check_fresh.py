"""Random designs, each held against OpenCASCADE's own solids and distances.

    python check_fresh.py FOLDER

FOLDER holds one folder a design, with `design.toml` and what `make` wrote of it. One line a design and part, the worst figures
at the end; exit status 1 if anything failed. Two processes share the work.
"""

import json
import multiprocessing
import sys
import time
import traceback
from pathlib import Path

from OCP.BOPAlgo import BOPAlgo_PaveFiller
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut

import check_layout
import least_wood
import occt_common as oc
import occt_head
import step_file
from contract_design import Design
from reporting import Checks, relative

PROCESSES = 2
SAME_NUMBER = 1e-8      # relative, volumes
SAME_SOLID = 1e-6       # symmetric difference over volume
SAME_WOOD = 1e-6        # mm
CODES = ("wood-over", "wood-under", "web", "cheek", "rib", "bearing")


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


def reference(design, part, told):
    """OpenCASCADE's own solid and its volume: by one boolean, or tool by tool where that one has gone wrong."""
    quick = occt_head.build_at_once(design, part)
    size = oc.volume(quick)
    if len(oc.solids(quick)) == 1 and oc.is_valid(quick) and relative(size, told) <= SAME_NUMBER:
        return oc.solids(quick)[0], size
    slow = occt_head.build(design, part)
    return slow, oc.volume(slow)


def check_part(checks, design, part, step, told):
    document = step_file.read_document(step)
    found = [s for shape in document.shapes for s in oc.solids(shape)]
    if not checks.equal("solids", len(found), 1):
        return
    solid, told = found[0], told["volume_mm3"]
    checks.truth("valid by BRepCheck", oc.is_valid(solid))
    oc.project_anew(solid)
    checks.truth("valid with its ellipses drawn anew", oc.is_valid(solid))
    size = oc.volume(solid)
    checks.figure("volume against report.json", relative(size, told), SAME_NUMBER)
    own, own_size = reference(design, part, told)
    checks.figure("volume against the reference", relative(size, own_size), SAME_NUMBER)
    less, more, shared = differences(solid, own)
    checks.figure("symmetric difference to the reference", (abs(less) + abs(more)) / own_size, SAME_SOLID)
    # A boolean that breaks down returns an argument whole or nothing at all: then the pieces no longer add up.
    account = max(abs(size - less - shared), abs(own_size - more - shared)) / own_size
    checks.figure("account of that comparison", account, SAME_SOLID)


def check_wood(checks, design, report):
    told = {c["code"]: c["value"] for c in report["checks"] if c["code"] in CODES}
    found = least_wood.measure(design)
    checks.equal("checks of least wood", sorted(told), sorted(found))
    for code in found.keys() & told.keys():
        checks.figure(code, abs(found[code] - told[code]), SAME_WOOD, "mm")


def check_design(folder):
    """Line to print, failures and worst figures of one design."""
    since = time.monotonic()
    checks = Quiet(f"{folder.name}: ")
    bores = 0
    try:
        design = Design(folder / "design.toml")
        bores = len(design.bores)
        report = json.loads((folder / "report.json").read_text(encoding="utf-8"))
        check_layout.check(folder / "design.toml", folder / "report.json", checks)
        for part in design.parts():
            checks.prefix = f"{folder.name}/{part}: "
            check_part(checks, design, part, folder / f"{part}.step", report["solids"][part])
        checks.prefix = f"{folder.name}: "
        check_wood(checks, design, report)
    except Exception as error:
        traceback.print_exc()
        checks.record("design", False, f"broke off: {type(error).__name__}: {error}")
    head = "FAIL" if checks.failures else "ok  "
    return (f"{head}  {folder.name}: {bores} bores, {checks.count} checks, {time.monotonic() - since:.2f} s",
            checks.failures, checks.worst, checks.count)


def main():
    # The most bores first, so that no long one is left to the end.
    folders = sorted((f.parent for f in Path(sys.argv[1]).glob("*/design.toml")),
                     key=lambda f: (-(f / "head.step").stat().st_size, f.name))
    failures, worst, agreed, count, since = [], {}, 0, 0, time.monotonic()
    with multiprocessing.Pool(PROCESSES) as pool:
        for line, failed, figures, checked in pool.imap_unordered(check_design, folders):
            print(line, flush=True)
            failures += failed
            agreed += not failed
            count += checked
            for name, value in figures.items():
                worst[name] = max(worst.get(name, 0.0), value)
    for text in failures:
        print("  failed: " + text)
    for name, value in worst.items():
        print(f"worst {name}: {value:.2g}")
    print(f"{agreed} of {len(folders)} designs agree, {count} checks, {time.monotonic() - since:.1f} s")
    return 1 if failures or not folders else 0


if __name__ == "__main__":
    sys.exit(main())
