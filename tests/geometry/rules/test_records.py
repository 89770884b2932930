"""The register: every rule has a record, and the records say what a sheet needs."""

import importlib
import inspect
import pkgutil
import re

import pytest

import geometry.rules
from geometry.rules.calculation import Status, has_record, record_of
from geometry.rules.register import CALCULATIONS, RULES

MODULES = [module.name for module in pkgutil.iter_modules(geometry.rules.__path__)]


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda calculation: calculation.name)
def test_record_is_complete(calculation):
    assert calculation.title and calculation.formula and calculation.source
    assert isinstance(calculation.status, Status)
    assert not re.search(r"\b[CMPS]-?\d{1,2}\b(?!\d)", calculation.formula)


def test_names_are_one_of_a_kind():
    names = [calculation.name for calculation in CALCULATIONS]
    assert len(names) == len(set(names)) == len(RULES)


def test_titles_are_one_of_a_kind():
    titles = [calculation.title for calculation in CALCULATIONS]
    assert sorted({title for title in titles if titles.count(title) > 1}) == []


def test_every_recorded_rule_is_keyword_only_and_documented():
    for rule in RULES:
        assert rule.__doc__, rule
        for parameter in inspect.signature(rule).parameters.values():
            positional = parameter.kind is parameter.POSITIONAL_OR_KEYWORD
            assert not positional or rule.__name__ == "glass_thickness", (rule, parameter)


def test_no_rule_has_a_default_of_its_own():
    """A value of the trade stands as a default in the job file's tables alone; a rule may only be told that something is not there."""
    own = [
        (rule.__name__, name, parameter.default)
        for rule in RULES
        for name, parameter in inspect.signature(rule).parameters.items()
        if parameter.default not in (parameter.empty, None, False, True, 0, (), (0.0, 0.0))
        or (type(parameter.default) in (int, float) and parameter.default != 0)
    ]
    assert own == []


def test_no_rule_is_forgotten():
    """Every function with a record is in the register, wherever it is written."""
    for name in MODULES:
        module = importlib.import_module(f"geometry.rules.{name}")
        for thing in vars(module).values():
            if has_record(thing) and thing.__module__ == module.__name__:
                assert thing in RULES, thing


def test_a_function_without_a_record_says_so():
    with pytest.raises(LookupError, match="test_a_function"):
        record_of(test_a_function_without_a_record_says_so)


def test_rules_import_no_heavy_library():
    import subprocess
    import sys

    code = "import sys, geometry.rules.register, geometry.sizing.section_sizes; print([m for m in ('numpy', 'scipy', 'shapely', 'cadquery') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
