"""The mark of a job: eight signs that every paper of a pane carries, so that a wrong paper is found by comparing one word.

Terms
-----
mark
    Eight letters and figures, four and four, of a hash over the shared tables and the pane as they were read: values in their own units,
    defaults included. Comments, order and spelling of the file, and the other panes of the vessel, change nothing in it.
"""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.job.model import Job
    from geometry.job.pane import Pane

SIGNS = "ACDEFGHJKMNPQRSTUVWXYZ2345679"
"""No 0 and O, 1, I and L, 8 and B: they are taken for one another on a print."""
LENGTH = 8


def mark_of(job: Job, pane: Pane) -> str:
    """The mark of one pane of a job, as ``K7PA-3MXD``."""
    told = {"shared": job.model_dump(mode="json", exclude={"panes"}), "pane": pane.model_dump(mode="json")}
    text = json.dumps(told, sort_keys=True, ensure_ascii=True, separators=(",", ":"))
    rest = int.from_bytes(hashlib.sha256(text.encode("ascii")).digest(), "big")
    signs = ""
    for _ in range(LENGTH):
        rest, place = divmod(rest, len(SIGNS))
        signs += SIGNS[place]
    return f"{signs[: LENGTH // 2]}-{signs[LENGTH // 2 :]}"


__all__ = ["SIGNS", "mark_of"]
