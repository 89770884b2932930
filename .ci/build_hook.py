"""What the build adds: the commit it is made from, and the module that the command ``fritline`` starts from."""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class Additions(BuildHookInterface):
    """Files of a wheel or of an sdist that are not in the repository under that name."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Add the files; ``version`` is "editable" for an installation that runs from the repository."""
        root = Path(self.root)
        if self.target_name == "wheel":
            key = "force_include_editable" if version == "editable" else "force_include"
            build_data.setdefault(key, {})[str(root / "outputs" / "launcher.py")] = "fritline.py"
        if version == "editable" or not (root / ".git").exists():  # an unpacked sdist carries the file already
            return
        git = ["git", "-C", str(root)]
        try:
            known = subprocess.run([*git, "rev-parse", "--short=10", "HEAD"], capture_output=True, text=True, check=True)
            state = subprocess.run(
                [*git, "status", "--porcelain", "--untracked-files=no", "--", "geometry", "outputs"],
                capture_output=True,
                text=True,
                check=True,
            )
        except (OSError, subprocess.SubprocessError):
            return  # no git: the wheel does not know its commit
        note = Path(tempfile.mkdtemp()) / "commit.txt"
        note.write_text(known.stdout.strip() + ("+" if state.stdout.strip() else "") + "\n", encoding="ascii")
        build_data.setdefault("force_include", {})[str(note)] = "outputs/commit.txt"
