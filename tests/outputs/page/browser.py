"""Which Chromium the tests open pages and print records in, if any stands here."""

from __future__ import annotations

import shutil
from pathlib import Path


def chromium() -> str | None:
    """The program's path; None where there is none, or only one that is packed as a snap, which does not see the tests' folders."""
    found = shutil.which("chromium") or shutil.which("google-chrome")
    return None if found is None or "snap" in (*Path(found).parts, Path(found).resolve().name) else found
