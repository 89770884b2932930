"""What is proven, in public: ``python tests/published/proven.py`` runs the outside checks and writes the page and its data.

``--check`` writes nothing and says (exit 1) where the page or the data are no longer true. Words after the options choose the
files of tests that are run; left out: all of them.

Terms
-----
outside check
    A test of this folder that calls the calculation itself and compares what comes out with a value from outside.
deviation
    The greatest relative distance between both over those checks, percent, beyond half a unit of the last digit of the outside value.
    A temperature is compared in kelvins; an outside value that is nothing but the rounding of a zero counts as 0.
whole pane
    A check that reads a finding of a sample pane; it calls no calculation by itself and is counted apart.
"""

from __future__ import annotations

import contextlib
import io
import json
import sys
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

import pytest

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
if str(ROOT) not in sys.path:
    sys.path.insert(0, str(ROOT))

from count import KINDS, NO_CHECKS  # noqa: E402  beside this file

from geometry.rules.register import CALCULATIONS, RULES  # noqa: E402  the checkout may not be installed
from outputs.record.proven_part import DATA, HEADINGS, PLATE, proofs, rows, said_of  # noqa: E402
from outputs.record.words import PROVEN, TO_DECIDE  # noqa: E402

Scalar: Any = type(pytest.approx(1.0))
"""What ``pytest.approx`` makes of a number; its place in pytest changes between versions."""
PAGE = HERE / "README.md"
ZERO = {"°C": 273.15}
"""Where a scale has its 0, by the unit of a result."""
NOTHING = 1e-12
"""What rounding leaves of a sum that comes to nothing."""


def deviation(actual: float, expected: Any, zero: float = 0.0) -> float:
    """Relative distance beyond half a unit of the last digit of the outside value; 0 where that value is 0.

    ``zero`` is where the scale of both has its 0: 273.15 for degrees Celsius.

    >>> deviation(0.0583, 0.06), round(deviation(10.2, 10.0), 4), deviation(-1e-15, 2e-16), round(deviation(0.2, 0.4, 273.15), 5)
    (0.0, 0.015, 0.0, 0.00055)
    """
    if abs(float(expected)) < NOTHING:
        return 0.0
    places = Decimal(repr(float(expected))).as_tuple().exponent
    rounding = 0.5 * 10.0 ** int(places)
    return max(0.0, abs(actual - float(expected)) - rounding) / abs(float(expected) + zero)


class Witness:
    """Notes for every test which calculations it calls itself, and how far off its comparisons are."""

    def __init__(self) -> None:
        self.checks: dict[str, Counter[str]] = {}
        self.deviation: dict[str, float] = {}
        self.whole: Counter[str] = Counter()
        self._names: dict[CodeType, str] = {
            rule.__code__: f"{rule.__module__.rsplit('.', 1)[-1]}.{rule.__name__}" for rule in RULES
        }
        self._called: dict[str, list[float]] = {}  # name: what came out
        self._zeros = {each.name: ZERO.get(each.unit, 0.0) for each in CALCULATIONS}
        self._compared: list[tuple[float, Any]] = []  # what came out, what was expected

    def _profile(self, frame: FrameType, event: str, arg: Any) -> None:
        if event != "return" or frame.f_back is None or Path(frame.f_back.f_code.co_filename).parent != HERE:
            return
        if (name := self._names.get(frame.f_code)) is not None:
            came = arg if isinstance(arg, tuple) else (arg,)
            self._called.setdefault(name, []).extend(float(each) for each in came if isinstance(each, (int, float)))

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_call(self, item: pytest.Item) -> Iterator[None]:
        """Run one test under watch."""
        self._called, self._compared = {}, []
        before, plain = sys.getprofile(), Scalar.__eq__

        def compared(expected: Any, actual: Any) -> bool:
            same: bool = plain(expected, actual)
            with contextlib.suppress(TypeError, ValueError, OverflowError):
                if same:
                    float(expected.expected)
                    self._compared.append((float(actual), expected.expected))
            return same

        Scalar.__eq__ = compared
        sys.setprofile(self._profile)
        try:
            return (yield)
        finally:
            sys.setprofile(before)
            Scalar.__eq__ = plain
            if item.path.name.startswith("test_plate"):
                self._called.setdefault(PLATE, [])  # its results are worked out once for several tests
            self._note(next((mark.name for mark in item.iter_markers() if mark.name in KINDS), ""))

    def _note(self, kind: str) -> None:
        """A comparison belongs to the calculation that gave the figure, or to all that gave none that was compared."""
        if not kind:
            return
        if not self._called:
            self.whole[kind] += 1
        came = {name: set(values) for name, values in self._called.items()}
        owned = [value for value, _ in self._compared if any(value in values for values in came.values())]
        for name, values in came.items():
            zero = self._zeros.get(name, 0.0)
            own = [deviation(value, each, zero) for value, each in self._compared if value in values]
            loose = [deviation(value, each, zero) for value, each in self._compared if value not in owned]
            self.checks.setdefault(name, Counter())[kind] += 1
            self.deviation[name] = max((self.deviation.get(name, 0.0), *(own or loose)))

    def data(self) -> dict[str, Any]:
        """The witness's notes in the order of the register, the plate last."""
        names = [*self._names.values(), PLATE]
        return {
            "calculations": {
                name: {
                    "checks": {kind: self.checks[name][kind] for kind in KINDS if self.checks[name][kind]},
                    "deviation": float(f"{100 * self.deviation[name]:.2g}"),
                }
                for name in names
                if name in self.checks
            },
            "whole": {kind: self.whole[kind] for kind in KINDS if self.whole[kind]},
        }


def page(data: dict[str, Any]) -> str:
    """The page in Markdown: the table of topics, every calculation, what the engineer must still decide."""
    known = proofs(data)
    parts = ["# What is proven\n", f"Written by `python {Path(__file__).relative_to(ROOT).as_posix()}`; do not edit.\n", *PROVEN]
    parts += ["\n## By topic\n", _table(HEADINGS, rows(known)), "\n## Every calculation\n"]
    head = ("calculation", "formula", "outside checks", "largest deviation, %", "status", "source")
    parts.append(_table(head, [(p.title, p.formula, said_of(p.checks), p.largest, p.status, p.source) for p in known]))
    parts.append(f"\nBesides these, {sum(data['whole'].values())} checks read findings and sizes of whole panes.\n")
    parts += ["\n## What the engineer must still decide\n", *(f"- {line}" for line in TO_DECIDE)]
    return "\n".join(parts) + "\n"


def _table(head: tuple[str, ...], lines: list[tuple[str, ...]]) -> str:
    cells = [head, tuple("---" for _ in head), *lines]
    return "\n".join("| " + " | ".join(cell.replace("|", "\\|") for cell in line) + " |" for line in cells)


def main(*words: str) -> int:
    """Run the checks; write page and data, or compare them with ``--check``."""
    files = [word for word in words if word != "--check"] or [
        str(path) for path in sorted(HERE.glob("test_*.py")) if path.name not in NO_CHECKS
    ]
    witness, said = Witness(), io.StringIO()
    with contextlib.redirect_stdout(said):
        code = pytest.main(["-q", "-n0", "-p", "no:cacheprovider", *files], plugins=[witness])
    if code != pytest.ExitCode.OK:
        print(said.getvalue(), file=sys.stderr)
        return 2
    data = witness.data()
    if "--check" not in words:
        DATA.write_text(json.dumps(data, indent=1) + "\n", encoding="utf-8")
        PAGE.write_text(page(data), encoding="utf-8")
        return 0
    kept = json.loads(DATA.read_text(encoding="utf-8"))["calculations"]
    wrong = [name for name, each in data["calculations"].items() if kept.get(name) != each]
    for name in wrong:
        print(f"{name}: {kept.get(name)} in {DATA.name}, {data['calculations'][name]} found", file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
