"""Speed and memory as ratios of what the libraries alone need: ``python tests/benchmarks/ratios.py`` from the checkout.

Nothing here passes or fails; the table goes into DEVELOPERS.md.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "samples" / "sallow-wren.toml"


def best(action: Callable[[], object], times: int = 5) -> float:
    """Least time of several runs, s."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        action()
        found.append(time.perf_counter() - start)
    return min(found)


def process(*words: str) -> tuple[float, float]:
    """Time (s) and peak memory (MB) of a fresh process."""
    start = time.perf_counter()
    child = subprocess.Popen([sys.executable, *words], cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, _, usage = os.wait4(child.pid, 0)
    return time.perf_counter() - start, usage.ru_maxrss / 1024


def ezdxf_alone(count: int) -> None:
    """Build and write ``count`` lines with ezdxf and nothing else."""
    import ezdxf

    doc = ezdxf.new("R2013")
    space = doc.modelspace()
    for index in range(count):
        space.add_line((index, 0), (index, 10))
    doc.write(io.StringIO())


def main() -> None:
    """Measure and print the table."""
    import cadquery  # noqa: F401  what a warm process has loaded
    import ezdxf

    from geometry.detail.build import build_detail
    from geometry.job import read_job
    from outputs.drawing.detail_sheet import detail_sheet
    from outputs.files.dxf import dxf_bytes
    from outputs.files.svg import svg_bytes

    job = read_job(SAMPLE)
    pane = job.panes[0]
    sheet = detail_sheet(job, pane, build_detail(job, pane))
    doc = ezdxf.read(io.StringIO(dxf_bytes(sheet).decode()))
    count = sum(1 for _ in doc.entitydb.values())
    warm = best(lambda: (dxf_bytes(sheet), svg_bytes(sheet)))
    whole = best(lambda: detail_sheet(job, pane, build_detail(job, pane)))
    alone = best(lambda: ezdxf_alone(count))
    imports, bare = min(process("-c", "import cadquery, ezdxf") for _ in range(3))
    kernel, _ = min(process("-c", "import cadquery") for _ in range(3))
    with tempfile.TemporaryDirectory() as folder:
        command = ("-m", "outputs.command_line")
        vessel, peak = min(process(*command, "draw", str(SAMPLE), "-o", folder) for _ in range(2))
        bad = Path(folder) / "bad.toml"
        bad.write_text("[[pane]]\ncode = 1\n")
        helped, _ = min(process(*command, "--help") for _ in range(3))
        refused, _ = min(process(*command, "draw", str(bad)) for _ in range(3))
    print("| what | measured | against | ratio |")
    print("|---|---|---|---|")
    print(
        f"| DXF and SVG of one sheet, warm | {warm:.3f} s | ezdxf alone, {count} entities, {alone:.3f} s | {warm / alone:.1f} |"
    )
    print(f"| detail and sheet composed, then written, warm | {warm + whole:.3f} s | the same | {(warm + whole) / alone:.1f} |")
    print(
        f"| vessel of ten, cold | {vessel:.2f} s | imports {imports:.2f} s + ten warm panes {10 * (warm + whole):.2f} s | {vessel / (imports + 10 * (warm + whole)):.2f} |"
    )
    print(f"| peak memory, vessel of ten | {peak:.0f} MB | bare imports {bare:.0f} MB | {peak / bare:.2f} |")
    print(f"| help | {helped:.2f} s | import cadquery {kernel:.2f} s | {helped / kernel:.2f} |")
    print(f"| bad job | {refused:.2f} s | import cadquery {kernel:.2f} s | {refused / kernel:.2f} |")


if __name__ == "__main__":
    main()
