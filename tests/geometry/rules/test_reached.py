"""Every recorded rule is reached by the program: what nobody calls is no rule of the program."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

from geometry.rules.register import RULES

ROOT = Path(__file__).parents[3]
Function = tuple[str, str]  # dotted module, name


def modules() -> dict[str, ast.Module]:
    """Every module of the program but the register, which lists all rules whether or not they are used."""
    paths = [path for room in ("geometry", "outputs") for path in sorted((ROOT / room).rglob("*.py"))]
    named = {".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): path for path in paths}
    return {name: ast.parse(path.read_text()) for name, path in named.items() if name != "geometry.rules.register"}


def named_in(code: ast.AST, module: str, imported: dict[str, str]) -> Iterator[Function]:
    """What a piece of code names: functions of its own module, imported ones, and those of imported modules."""
    for node in ast.walk(code):
        if isinstance(node, ast.Name):
            where, _, name = imported.get(node.id, f"{module}.{node.id}").rpartition(".")
            yield where, name
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id in imported:
            yield imported[node.value.id], node.attr


def reached(program: dict[str, ast.Module]) -> set[Function]:
    """Every function of the rules that code outside of the rules, or what it reaches of them, names."""
    imports = {
        name: {
            each.asname or each.name: f"{node.module}.{each.name}"
            for node in ast.walk(tree)
            if isinstance(node, ast.ImportFrom)
            for each in node.names
        }
        for name, tree in program.items()
    }
    rules = {
        (name, node.name): node
        for name, tree in program.items()
        if name.startswith("geometry.rules.")
        for node in tree.body
        if isinstance(node, ast.FunctionDef)
    }
    waiting = [
        found
        for name, tree in program.items()
        if not name.startswith("geometry.rules.")
        for found in named_in(tree, name, imports[name])
    ]
    known: set[Function] = set()
    while waiting:
        one = waiting.pop()
        if one in rules and one not in known:
            known.add(one)
            for part in rules[one].body:
                waiting += named_in(part, one[0], imports[one[0]])
    return known


def test_no_rule_is_out_of_reach():
    known = reached(modules())
    assert sorted({(rule.__module__, rule.__name__) for rule in RULES} - known) == []


def test_a_rule_that_nobody_calls_is_seen():
    program = {
        "geometry.rules.a": ast.parse("def used(): return helper()\ndef helper(): return 1\ndef idle(): return used()"),
        "geometry.sizing.b": ast.parse("from geometry.rules import a\nx = a.used()"),
    }
    assert reached(program) == {("geometry.rules.a", "used"), ("geometry.rules.a", "helper")}
