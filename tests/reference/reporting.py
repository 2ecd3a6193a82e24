"""How every check of this folder reports: one line each, with the figure reached."""

import math


class Checks:
    """Collects outcomes; `prefix` names the file they belong to."""

    def __init__(self, prefix=""):
        self.prefix = prefix
        self.count = 0
        self.failures = []

    def record(self, name, holds, figure):
        self.count += 1
        text = f"{self.prefix}{name}: {figure}"
        if not holds:
            self.failures.append(text)
        print(("ok    " if holds else "FAIL  ") + text, flush=True)
        return holds

    def below(self, name, value, limit, unit=""):
        """Holds where value <= limit; a value that is no number fails."""
        return self.record(name, value <= limit, f"{value:.3g} of {limit:.3g} {unit}".rstrip())

    def equal(self, name, got, wanted):
        return self.record(name, got == wanted, repr(got) if got == wanted else f"{got!r} instead of {wanted!r}")

    def truth(self, name, holds, figure=""):
        return self.record(name, bool(holds), figure or ("yes" if holds else "no"))

    def finish(self):
        """Prints the failures again, all of them, and gives the exit status."""
        print(f"{self.count} checks, {len(self.failures)} failed")
        for text in self.failures:
            print("  failed: " + text)
        return 1 if self.failures or not self.count else 0


def relative(a, b):
    return abs(a - b) / max(abs(a), abs(b), 1e-300)


def distance(a, b):
    return math.dist(a, b)
