"""Runs every check over the output folders of several designs.

    python run_all.py OUTDIR PARAMS.toml...

For PARAMS.toml the folder OUTDIR/<file stem>/ must hold head.step, head.stl, the block's or blocks' STEP and STL, and
report.json. One line a check, with the figure reached; all failures again at the end; exit status 1 if there is any.
"""

import sys
import time
import traceback
from pathlib import Path

import check_layout
import check_step
import check_stl
from contract_design import Design
from reporting import Checks

BLOCKS = ("guide-block", "guide-block-treble", "guide-block-bass")


def attempt(checks, name, call):
    """A check that breaks off has failed; the others still run."""
    try:
        call()
    except Exception as error:
        traceback.print_exc()
        checks.record(name, False, f"broke off: {type(error).__name__}: {error}")


def check_folder(checks, folder, params):
    stem = Path(params).stem
    checks.prefix = f"{stem}: "
    parts = Design(params).parts()
    wanted = [f"{part}.{kind}" for part in parts for kind in ("step", "stl")] + ["report.json"]
    missing = [name for name in wanted if not (folder / name).is_file()]
    checks.truth("files are there", not missing, ", ".join(missing) or f"{len(wanted)} files")
    stale = [f"{b}.{kind}" for b in BLOCKS if b not in parts for kind in ("step", "stl") if (folder / f"{b}.{kind}").exists()]
    checks.truth("no block of another kind", not stale, ", ".join(stale) or "none")
    report = folder / "report.json"
    if not report.is_file():
        return
    checks.prefix = f"{stem}/report.json "
    attempt(checks, "layout", lambda: check_layout.check(params, report, checks))
    for part in parts:
        for kind, call in (("step", lambda f: check_step.check(f, params, part, report, checks)),
                           ("stl", lambda f: check_stl.check(f, params, part, checks))):
            file = folder / f"{part}.{kind}"
            if file.is_file():
                checks.prefix = f"{stem}/{file.name} "
                attempt(checks, kind, lambda: call(file))


def main():
    if len(sys.argv) < 3:
        print(__doc__)
        return 2
    out, checks, started = Path(sys.argv[1]), Checks(), time.monotonic()
    for params in sys.argv[2:]:
        since = time.monotonic()
        attempt(checks, "folder", lambda: check_folder(checks, out / Path(params).stem, params))
        print(f"      {Path(params).stem}: {time.monotonic() - since:.1f} s")
    print(f"      all: {time.monotonic() - started:.1f} s")
    return checks.finish()


if __name__ == "__main__":
    sys.exit(main())
