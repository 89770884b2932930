"""Whole runs of the command in fresh processes: ten panes, help, a bad job, memory."""

from __future__ import annotations

import time

import pytest

from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes


def finished_seconds(run):
    """Processor time of the process itself, not of the one that waits for it."""
    return run().seconds


@pytest.fixture(scope="module")
def imports(process):
    def run():
        return process("-c", "import cadquery, ezdxf")

    return run


@pytest.fixture(scope="module")
def kernel(process):
    def run():
        return process("-c", "import cadquery")

    return run


def test_ten_panes_cold(benchmark, command, imports, panes, sample, tmp_path, row, unseen):
    """Imports and ten warm panes (detail, findings, sheet, both files) are what must be paid; more than that is waste."""
    from geometry.detail.build import build_detail
    from geometry.findings.check import check_pane
    from outputs.sheets.contents import Contents
    from outputs.sheets.detail_sheet import detail_of

    def warm():
        spent = 0.0
        for number in range(len(panes)):
            job, pane = unseen(sample, number)
            start = time.process_time()
            detail = build_detail(job, pane)
            sheet = detail_of(Contents(job, pane, detail, check_pane(job, pane, detail)))
            dxf_bytes(sheet), svg_bytes(sheet)
            spent += time.process_time() - start
        return spent

    warm()
    ten = min(warm() for _ in range(3))
    found, bare = [], []
    benchmark.pedantic(
        lambda: found.append(command("draw", str(sample), "-o", str(tmp_path))),
        setup=lambda: bare.append(imports()),
        rounds=3,
        iterations=1,
    )
    assert len(list(tmp_path.glob("*.dxf"))) == len(panes) == 10
    least = min(run.seconds for run in bare)
    row(
        "vessel of ten, cold",
        min(run.seconds for run in found),
        f"imports {least:.2f} s + ten warm panes {ten:.2f} s",
        least + ten,
        target=1.2,
    )
    row(
        "peak memory, vessel of ten",
        min(run.memory for run in found),
        "import cadquery, ezdxf",
        min(run.memory for run in bare),
        unit="MB",
        target=1.3,
    )


def test_help(compare, command, kernel):
    compare("help", lambda: command("--help", codes=(0,)), "import cadquery", kernel, target=0.3, seconds=finished_seconds)


@pytest.mark.parametrize("words", ["draw", "check"])
def test_a_bad_job(compare, command, kernel, tmp_path, words):
    bad = tmp_path / "bad.toml"
    bad.write_text("[[pane]]\ncode = 1\n")
    known = ("--help",) if words == "draw" else (words, "--help")
    try:
        command(*known, codes=(0,))
    except AssertionError:
        pytest.skip(f"there is no command {words} yet")
    compare(
        f"bad job to {words}",
        lambda: command(words, str(bad), codes=(2,)),
        "import cadquery",
        kernel,
        target=0.3,
        seconds=finished_seconds,
    )


@pytest.mark.parametrize("options", [(), ("--no-plate",)], ids=["with the plate", "without the plate"])
def test_checking_ten_panes(benchmark, command, imports, sample, row, options):
    """``fritline check`` of the whole vessel next to the imports it needs; the plate bends every pane on its bead."""
    try:
        command("check", *options, "--help", codes=(0,))
    except AssertionError:
        pytest.skip(f"there is no command check {' '.join(options)} yet")
    found, bare = [], []
    benchmark.pedantic(
        lambda: found.append(command("check", *options, str(sample))),
        setup=lambda: bare.append(imports()),
        rounds=2,
        iterations=1,
    )
    name = "check of ten panes, " + ("without the plate" if options else "with the plate")
    row(name, min(run.seconds for run in found), "import cadquery, ezdxf", min(run.seconds for run in bare))
    row(
        f"peak memory, {name}",
        min(run.memory for run in found),
        "import cadquery, ezdxf",
        min(run.memory for run in bare),
        unit="MB",
    )
