"""Every module says in ``__all__`` what is public of it, and says it rightly."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
MODULES = sorted(path for room in ("geometry", "outputs") for path in (ROOT / room).rglob("*.py"))


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_a_module_names_what_is_public_of_it(path: Path):
    """Each name once; every public function and class is among them, and each of them is there (a package names its modules)."""
    body = ast.parse(path.read_text(encoding="utf-8")).body
    listed = [
        ast.literal_eval(node.value)
        for node in body
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__"
    ]
    assert len(listed) == 1
    names = listed[0]
    assert len(set(names)) == len(names)
    made = {node.name for node in body if isinstance(node, (ast.FunctionDef, ast.ClassDef))}
    assert {name for name in made if not name.startswith("_")} <= set(names)
    there = made | {
        name.id for node in body for name in ast.walk(node) if isinstance(name, ast.Name) and isinstance(name.ctx, ast.Store)
    }
    there |= {
        alias.asname or alias.name
        for node in ast.walk(ast.Module(body, []))
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    if path.name == "__init__.py":
        there |= {each.stem for each in path.parent.iterdir()}
    assert set(names) <= there
    assert not [name for name in names if name.startswith("_")]
