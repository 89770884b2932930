"""Which program made a file: one version and date on every file, the commit on the command line; a foreign package in the way."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
import zipfile
from importlib import metadata
from pathlib import Path

import ezdxf
import pytest

from outputs import version
from outputs.command_line import main

SHEET = ("--sheet", "detail", "--format", "dxf", "--format", "svg", "--no-plate")  # the sheet that is drawn soonest

ROOT = Path(__file__).resolve().parents[2]
LEAST = ROOT / "samples" / "minimal.toml"


def command(*words: str, cwd: Path = ROOT, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *words], cwd=cwd, env={**os.environ, **environment}, capture_output=True, text=True, timeout=100
    )


def test_the_version_names_the_commit_of_the_repository():
    run = command("-m", "outputs", "--version")
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout.startswith(f"fritline {version.VERSION} ({version.DATE}")
    if (ROOT / ".git").exists() and shutil.which("git"):
        git = ["git", "-C", str(ROOT), "rev-parse", "HEAD"]
        known = subprocess.run(git, capture_output=True, text=True).stdout.strip()
        told = re.search(r", commit ([0-9a-f]{10})\+?\)", run.stdout)
        assert not known or (told is not None and known.startswith(told[1]))


def test_without_git_the_version_stands_alone(tmp_path):
    run = command("-m", "outputs", "--version", PATH=str(tmp_path))
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout == f"fritline {version.VERSION} ({version.DATE})\n"


def test_the_repository_of_another_project_is_not_asked(tmp_path):
    """Installed in a virtual environment that lies inside somebody's repository."""
    (tmp_path / ".git").mkdir()
    assert version._of_repository(tmp_path / "lib") == ""
    assert version._of_repository(tmp_path) == ""  # no pyproject.toml of ours there


@pytest.mark.parametrize(
    ("noted", "told"),
    [
        ('{"url": "https://example.org/x", "vcs_info": {"vcs": "git", "commit_id": "0123456789abcdef0123"}}', "0123456789"),
        ('{"url": "file:///somewhere", "dir_info": {}}', ""),
        ('{"vcs_info": {}}', ""),
        ("[]", ""),
        ("no JSON", ""),
        (None, ""),
    ],
)
def test_the_installers_note_is_read(monkeypatch, noted, told):
    """direct_url.json as the packaging standards describe it; a damaged one is no fault of the user's."""

    class Installed:
        def read_text(self, name: str) -> str | None:
            assert name == "direct_url.json"
            return noted

    monkeypatch.setattr(metadata, "distribution", lambda _name: Installed())
    assert version._of_installer() == told


def test_every_file_names_program_and_date_and_no_commit(tmp_path):
    for words in (
        ["draw", *SHEET, str(LEAST), "-o", str(tmp_path)],
        ["check", str(LEAST), "--no-plate", "--record", str(tmp_path)],
    ):
        with pytest.raises(SystemExit) as leaving:
            main(words)
        assert leaving.value.code == 0
    tree = ElementTree.parse(tmp_path / "P1-detail.svg")
    assert tree.findtext("{http://www.w3.org/2000/svg}metadata") == version.PROGRAM
    assert ezdxf.readfile(tmp_path / "P1-detail.dxf").header.custom_vars.get("Program") == version.PROGRAM
    for name in ("P1-record", "records"):
        assert json.loads((tmp_path / f"{name}.json").read_bytes())["program"] == version.IDENTITY
        assert f"{version.PROGRAM}. A calculated aid" in (tmp_path / f"{name}.html").read_text("utf-8")
    commit = version.commit().rstrip("+")
    for path in tmp_path.iterdir():
        assert not commit or commit.encode() not in path.read_bytes()


# ---------------------------------------------------------------- another package in the way


@pytest.mark.parametrize("kind", ["package", "module"])
def test_another_geometry_in_the_way_is_one_sentence(tmp_path, kind):
    place = tmp_path / "geometry" if kind == "package" else tmp_path / "geometry.py"
    if kind == "package":
        place.mkdir()
        (place / "__init__.py").write_text("raise RuntimeError('not ours')\n")
    else:
        place.write_text("raise RuntimeError('not ours')\n")
    script = f"import sys; sys.path.append({str(ROOT)!r}); from outputs.command_line import main; main(['check', 'none.toml'])"
    run = command("-c", script, cwd=tmp_path, PYTHONPATH=str(tmp_path))
    assert (run.returncode, run.stdout) == (2, "")
    assert run.stderr.startswith(
        f"fritline: another package named geometry stands in the way: found {place}; allowed: none before"
    )
    assert run.stderr.count("\n") == 1


def test_another_outputs_in_the_way_is_one_sentence(tmp_path):
    (tmp_path / "outputs").mkdir()
    (tmp_path / "outputs" / "__init__.py").write_text("")
    # -S: without the finder of an installation that runs from its sources, which would help out
    run = command("-S", str(ROOT / "outputs" / "launcher.py"), "--help", cwd=tmp_path, PYTHONPATH=str(tmp_path))
    assert (run.returncode, run.stdout) == (2, "")
    assert run.stderr.startswith(
        f"fritline: another package named outputs stands in the way: found {tmp_path / 'outputs'}; allowed"
    )
    assert run.stderr.count("\n") == 1


# ---------------------------------------------------------------- what is built


@pytest.fixture(scope="module")
def built(tmp_path_factory) -> Path:
    """Wheel and sdist of a copy of the repository, and the copy itself."""
    pytest.importorskip("hatchling", reason="the build backend comes with the extra `test`")
    if not (ROOT / ".git").exists() or not shutil.which("git"):
        pytest.skip("not in a repository")
    place = tmp_path_factory.mktemp("built")
    copy = place / "copy"
    subprocess.run(["git", "clone", "-q", "--no-hardlinks", str(ROOT), str(copy)], check=True)
    for target in ("sdist", "wheel"):
        run = command("-m", "hatchling", "build", "-t", target, "-d", str(place), cwd=copy)
        assert run.returncode == 0, run.stderr
    return place


def test_the_wheel_holds_both_packages_and_leaves_nothing_behind(built):
    wheel = zipfile.ZipFile(next(built.glob("*.whl")))
    names = set(wheel.namelist())
    assert {"fritline.py", "geometry/py.typed", "outputs/py.typed", "outputs/__main__.py", "outputs/commit.txt"} <= names
    assert {
        *(f"outputs/sheet/face/FritlineLettering-{weight}.ttf" for weight in ("Regular", "Bold")),
        "outputs/sheet/face/OFL.txt",
        "outputs/page/card_page.css",
        "outputs/page/card_page.js",
    } <= names
    assert not [name for name in names if name.startswith(("tests", "samples", "build", "."))]
    known = subprocess.run(["git", "-C", str(ROOT), "rev-parse", "HEAD"], capture_output=True, text=True).stdout
    assert known.startswith(wheel.read("outputs/commit.txt").decode().strip())
    said = wheel.read(next(name for name in names if name.endswith("/METADATA"))).decode()
    assert "\nLicense-Expression: MIT AND OFL-1.1\n" in said and "\nLicense-File: LICENSE\n" in said
    assert "\nRequires-Python: >=3.11\n" in said and f"\nVersion: {version.VERSION}\n" in said
    status = subprocess.run(["git", "status", "--porcelain", "--ignored"], cwd=built / "copy", capture_output=True, text=True)
    assert status.stdout == ""


def test_the_sdist_holds_tests_and_samples(built):
    import tarfile

    with tarfile.open(next(built.glob("*.tar.gz"))) as archive:
        names = {name.split("/", 1)[1] for name in archive.getnames()}
    assert {
        "samples/minimal.toml",
        "samples/try.sh",
        "tests/run.sh",
        "tests/outputs/test_version.py",
        ".ci/setup",
        "LICENSE",
    } <= names
    assert "outputs/commit.txt" in names  # a wheel that is built from it knows its commit
