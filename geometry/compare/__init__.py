"""One outline held against another: the pane in its recess."""

from __future__ import annotations
