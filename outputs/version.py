"""Which Fritline this is: number and date of the release, and the commit where it is known.

Terms
-----
release
    Number and date stand here and nowhere else; both go into every file that is written. A date is that of the release, never that
    of the run: the same input gives the same bytes.
commit
    Which state of the sources this is: from the build, from the installer's own note of where it fetched them, or from the
    repository that they stand in. It is printed by ``fritline --version`` only. In a file it would make two equal drawings differ.
"""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

VERSION = "0.6.0"
DATE = "2026-11-27"
PROGRAM = f"Fritline {VERSION} ({DATE})"
"""How the program names itself on record and sheets."""

IDENTITY = {"name": "fritline", "version": VERSION, "date": DATE}
"""The same for a machine."""

COMMIT_FILE = "commit.txt"
"""File of this package that the build writes: the commit it was made from."""


def commit() -> str:
    """The commit of these sources, ten signs, with ``+`` where they were changed since; empty where nothing tells it."""
    package = Path(__file__).resolve().parent
    return _of_build(package) or _of_installer() or _of_repository(package.parent)


def _of_build(package: Path) -> str:
    try:
        return (package / COMMIT_FILE).read_text("ascii").strip()
    except (OSError, UnicodeDecodeError):
        return ""


def _of_installer() -> str:
    """The commit that the installer noted (``direct_url.json``, as the packaging standards give it)."""
    from importlib.metadata import PackageNotFoundError, distribution

    try:
        noted = json.loads(distribution("fritline").read_text("direct_url.json") or "{}")
        return str(noted["vcs_info"]["commit_id"])[:10]
    except (PackageNotFoundError, OSError, ValueError, KeyError, TypeError):
        return ""


def _of_repository(root: Path) -> str:
    """The commit of the repository whose top is ``root``; a repository further up is another project's."""
    if not (root / ".git").exists() or not (root / "pyproject.toml").exists():
        return ""
    known = _git(root, "rev-parse", "--short=10", "HEAD")
    changed = known and _git(root, "status", "--porcelain", "--untracked-files=no", "--", "geometry", "outputs")
    return f"{known}+" if changed else known


def _git(root: Path, *words: str) -> str:
    try:
        answer = subprocess.run(["git", "-C", str(root), *words], capture_output=True, text=True, timeout=5, check=True)
    except (OSError, ValueError, subprocess.SubprocessError):
        return ""  # no git here, or it does not trust the folder
    return answer.stdout.strip()


__all__ = ["DATE", "IDENTITY", "PROGRAM", "VERSION", "commit"]
