"""The two scripts that do everything from nothing: what they install, with which rights, and what they say where they have none.

Run in folders of their own, with stand-ins for the system's tools; whole runs in bare systems are told of in DEVELOPERS.md.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = "libgl1 libx11-6 libxrender1 libexpat1 python3 python3-venv"
READERS = "poppler-utils libglu1-mesa libxcursor1 libxft2 libxinerama1 libgomp1"  # the tests read PDF and STEP files again by them
TESTED = f"libgl1 libx11-6 libxrender1 libexpat1 {READERS} python3 python3-venv chromium"
pytestmark = pytest.mark.skipif(sys.platform == "win32" or shutil.which("sh") is None, reason="scripts for Debian and Ubuntu")


QUESTIONS = ("id", "dpkg-query", "apt-cache", "python3")


class System:
    """A stand-in for a fresh system: its tools write down what they are asked."""

    def __init__(self, place: Path) -> None:
        self.place, self.tools, self.log = place, place / "bin", place / "log"
        for folder in (self.tools, place / "it" / ".ci", place / "it" / "samples", place / "it" / "tests"):
            folder.mkdir(parents=True)
        for name in (".ci/setup", ".ci/constraints.txt", "samples/try.sh", "tests/run.sh"):
            shutil.copy(ROOT / name, place / "it" / name)
        (place / "it" / "samples" / "job.toml").write_text("[[pane]]\n")
        (place / "it" / "samples" / "office.toml").write_text("[bond]\n")  # an office's defaults are no job to draw
        for name in ("sh", "dirname", "basename", "grep", "env", "mkdir", "touch", "chmod", "cat"):
            (self.tools / name).symlink_to(shutil.which(name))
        self.log.write_text("")
        self.tool("apt-get", 'case "$1" in install) touch "$HERE/has";; esac')
        self.tool("apt-cache", 'echo "$2 | 1.0"')
        self.tool("dpkg-query", 'test -e "$HERE/has" && echo "install ok installed"')
        # python3: fit once the packages are there; makes a virtual environment whose tools write down what they are asked
        self.tool(
            "python3",
            'test -e "$HERE/has" || exit 1\n'
            'test "$2" = venv || exit 0\n'
            "mkdir -p .venv/bin\n"
            'for each in python fritline; do printf \'#!/bin/sh\\necho "%s $*" >> "$HERE/log"\\n%s\\n\' $each '
            '"$(cat "$HERE/$each.does" 2>/dev/null)" > .venv/bin/$each; chmod +x .venv/bin/$each; done',
        )
        self.user("1000")

    def tool(self, name: str, does: str) -> None:
        path = self.tools / name
        path.write_text(f'#!/bin/sh\necho "{name} $*" >> "$HERE/log"\n{does}\n')
        path.chmod(0o755)

    def user(self, number: str) -> None:
        self.tool("id", f"echo {number}")

    def run(self, script: str) -> tuple[int, str, list[str]]:
        done = subprocess.run(
            [str(self.tools / "sh"), script],
            cwd=self.place / "it",
            env={"PATH": str(self.tools), "HERE": str(self.place)},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            timeout=60,
        )
        lines = self.log.read_text().splitlines()
        self.log.write_text("")
        return done.returncode, done.stderr, [line for line in lines if line.split()[0] not in QUESTIONS]


@pytest.fixture
def system(tmp_path):
    return System(tmp_path)


INSTALLED = ["apt-get update -qq", f"apt-get install -y -qq --no-install-recommends {PACKAGES}"]


@pytest.mark.parametrize(("script", "packages"), [("samples/try.sh", PACKAGES), ("tests/run.sh", TESTED)])
def test_neither_root_nor_sudo_is_told_what_to_ask_for(system, script, packages):
    code, err, asked = system.run(script)
    assert (code, asked) == (1, [])
    assert f"missing on this computer: {packages}\n" in err
    assert f"    apt-get update && apt-get install {packages}\n" in err


def test_a_sudo_that_asks_for_a_word_nobody_can_type_is_none(system):
    system.tool("sudo", "exit 1")
    code, err, asked = system.run("samples/try.sh")
    assert (code, asked) == (1, ["sudo -n true"])
    assert "You are not root, and sudo does not let you install them" in err


def test_as_root_all_is_installed_once(system):
    system.user("0")
    pip = "python -m pip install -q --disable-pip-version-check -c .ci/constraints.txt"
    code, err, asked = system.run("samples/try.sh")
    assert (code, err) == (0, "")
    assert asked == [*INSTALLED, f"{pip} .", "fritline draw samples/job.toml -o out/job"]
    code, err, asked = system.run("tests/run.sh")  # and again: nothing of the system is asked for
    assert (code, err) == (0, "")
    assert asked == ["python -c import pip", f"{pip} -e .[test]", "python -m pytest -q -n auto"]


def test_with_sudo_only_the_system_is_changed_by_root(system):
    system.tool("sudo", 'test "$1" = -n || exec "$@"')
    code, err, asked = system.run("tests/run.sh")
    assert (code, err) == (0, "")
    assert [line for line in asked if line.startswith("sudo")] == [
        "sudo -n true",
        "sudo apt-get update -qq",
        f"sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends {TESTED}",
    ]


@pytest.mark.parametrize("lists", ["there", "not there yet"])
def test_a_system_without_a_package_of_the_browser_does_without(system, lists):
    """Ubuntu has its browser as a snap only: the rest is installed, and the second run asks for nothing."""
    system.user("0")
    there = "true" if lists == "there" else 'test -e "$HERE/updated"'
    system.tool("apt-cache", f'{there} && test "$2" = poppler-utils && echo "$2 | 1.0"')
    system.tool("apt-get", 'touch "$HERE/updated"; case "$1" in install) touch "$HERE/has";; esac')
    system.tool("dpkg-query", 'test "$4" != chromium && test -e "$HERE/has" && echo "install ok installed"')
    code, err, asked = system.run("tests/run.sh")
    assert (code, err) == (0, "")
    assert asked[1] == f"apt-get install -y -qq --no-install-recommends {TESTED.removesuffix(' chromium')}"
    assert "apt-get" not in " ".join(system.run("tests/run.sh")[2])


@pytest.mark.parametrize(("code", "told"), [(0, 0), (1, 0), (2, 2), (3, 3)])
def test_findings_that_fail_are_no_fault_of_the_samples(system, code, told):
    """The samples carry faults on purpose (exit code 1); anything else is passed on."""
    system.user("0")
    (system.place / "fritline.does").write_text(f"exit {code}")
    assert system.run("samples/try.sh")[0] == told


def test_a_system_without_its_packages_tool_is_told(system):
    (system.tools / "apt-get").unlink()
    code, err, _ = system.run("tests/run.sh")
    assert code == 1
    assert f"missing on this computer: {TESTED}" in err and "there is no apt-get" in err


def test_a_system_of_other_packages_is_asked_for_python_only(system):
    (system.tools / "dpkg-query").unlink()
    (system.tools / "apt-get").unlink()
    (system.place / "has").touch()  # its python3 is fit
    code, err, asked = system.run("tests/run.sh")
    assert (code, err, asked[-1]) == (0, "", "python -m pytest -q -n auto")


def test_a_python_that_is_too_old_is_told(system):
    system.user("0")
    system.tool("python3", 'test "$1" = --version && echo "Python 3.10.12"; exit 1')
    code, err, asked = system.run("samples/try.sh")
    assert (code, asked) == (1, INSTALLED)
    assert err.startswith("the python3 of this system is Python 3.10.12; Fritline needs Python 3.11 or newer with venv\n")
