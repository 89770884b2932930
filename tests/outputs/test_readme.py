"""The README holds: its snippets run as they stand and answer as it says, its links lead somewhere, its keys are keys."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from geometry.job.keys import all_keys
from outputs.commands import exit_codes
from outputs.version import DATE, VERSION

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "README.md").read_text(encoding="utf-8")
SECTIONS = (
    "Cautions",
    "Install",
    "Your first window",
    "What you measure",
    "A vessel",
    "By role",
    "What must come from you",
    "Commands",
    "Where the rest is",
)


def section(title: str) -> str:
    return TEXT.split(f"\n## {title}\n")[1].split("\n## ")[0]


def blocks(text: str) -> list[tuple[str, str]]:
    """Fenced blocks: language and content."""
    return re.findall(r"^```(\w+)\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)


@pytest.fixture
def shell(tmp_path):
    """Runs a snippet in a folder of its own, where ``fritline`` is this program."""
    tools, place = tmp_path / "bin", tmp_path / "here"
    tools.mkdir()
    place.mkdir()
    command = tools / "fritline"
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m outputs.command_line "$@"\n', encoding="utf-8")
    command.chmod(0o755)
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PATH": f"{tools}:{os.environ['PATH']}", "PYTHONUTF8": "1"}

    def run(snippet: str) -> subprocess.CompletedProcess[str]:
        options = {"cwd": place, "env": environment, "capture_output": True, "text": True, "encoding": "utf-8", "timeout": 300}
        return subprocess.run(["bash", "-ec", snippet], stdin=subprocess.DEVNULL, check=False, **options)

    run.place = place
    return run


def test_it_is_short_and_in_order():
    assert len(TEXT.encode("utf-8")) < 8192
    assert tuple(re.findall(r"^## (.*)$", TEXT, re.MULTILINE)) == SECTIONS
    assert TEXT.index("](samples/sheet.png)") < TEXT.index("## Cautions")
    install = section("Install")
    assert install.index("exit code") < install.index("```"), "the exit code is explained before the command"
    assert [content.strip() for _, content in blocks(install)] == ["sh samples/try.sh", "sh tests/run.sh"]
    assert "<!-- test command -->\n```sh\nsh tests/run.sh\n```" in install


def test_the_first_window_goes_as_it_says(shell):
    said, seen = "", 0
    for language, content in blocks(section("Your first window")):
        if language == "sh":
            answer = shell(content)
            assert answer.returncode == 0, content + answer.stdout + answer.stderr
            said = " ".join(answer.stdout.split())
        elif language == "toml":
            job = (shell.place / "pane.toml").read_text(encoding="utf-8").splitlines()
            assert all(any(line.startswith(typed) for line in job) for typed in content.splitlines())
        else:
            lines = [" ".join(line.split()) for line in content.splitlines()]
            assert lines and not [line for line in lines if line not in said]
            seen += len(lines)
    assert seen >= 2
    assert "P1: PASS" in shell("fritline check pane.toml --no-plate").stdout
    made = {path.name for path in (shell.place / "pane-sheets").iterdir()}
    named = {f"P1-{name}.{kind}" for name in ("detail", "pane") for kind in ("dxf", "svg", "pdf")}
    assert made >= {*named, "P1-card.pdf", "P1-card.dxf", "P1-record.html"}


def test_every_role_has_a_command_that_runs(shell):
    commands = re.findall(r"`(fritline [^`]*JOB[^`]*)`", section("By role"))
    assert len(commands) == 5
    job = shell.place / "boat.toml"
    job.write_bytes((ROOT / "samples" / "minimal.toml").read_bytes())
    for command in commands:
        answer = shell(command.replace("JOB", "boat.toml"))
        assert answer.returncode == 0 and answer.stdout, command + answer.stderr
    endings = ("detail.pdf", "pane.pdf", "glass.dxf", "print.pdf", "card.pdf", "template.pdf", "label.pdf", "record.html", "card.html")
    assert not [ending for ending in endings if not (shell.place / "boat-sheets" / f"P1-{ending}").is_file()]
    assert (shell.place / "boat-issue" / "boat-approval.html").is_file()


def test_links_lead_somewhere():
    links = re.findall(r"\]\(([^)#]+)\)", TEXT)
    assert len(links) > 5
    assert not [link for link in links if not (ROOT / link).exists()]
    named = re.search(r"each form: ([^.;]*); ([^.]*);", TEXT)
    forms = [re.sub(r"\(.*?\)", "", each).strip() for each in f"{named[1]},{named[2]}".split(",")]
    forms += [*re.findall(r"\(([a-z-]+)[,;)]", section("A vessel")), "from-drawing", "from-survey", "pair", "as-made", "office"]
    assert len(forms) > 14 and not [form for form in forms if not (ROOT / "samples" / f"{form}.toml").exists()]


def test_every_dependency_and_every_room_is_told_of_in_the_developers_page():
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    needed = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    licences = page.split("## Licences")[1].split("## ")[0]
    names = [re.match(r"[\w-]+", each).group().lower() for each in needed]
    assert len(names) > 8 and not [name for name in names if f"| {name} |" not in licences]
    rooms = [f"{part}/{room.name}" for part in ("geometry", "outputs") for room in (ROOT / part).iterdir() if room.is_dir()]
    assert not [room for room in rooms if not room.endswith("__pycache__") and f"`{room}`" not in page]
    scripts = [
        path.name for path in (ROOT / "tests").glob("*.py") if path.name != "conftest.py" and not path.name.startswith("test_")
    ]
    assert not [name for name in scripts if name not in page]
    assert f"### {VERSION} ({DATE})" in page


def test_keys_commands_and_exit_codes_are_those_of_the_program(shell):
    known = {key.name for key in all_keys()}
    rows = [row.split("|")[2].strip() for row in section("What you measure").splitlines() if re.match(r"\| [A-H] \|", row)]
    keys = [key for row in rows for key in re.findall(r"`([a-z_]+\.[a-z_.]+)`", row)]
    assert len(keys) >= 5 and not [key for key in keys if f"pane.{key}" not in known]
    codes = [int(code) for code in re.findall(r"^\| (\d+) \|", section("Commands"), re.MULTILINE)]
    assert codes == sorted(getattr(exit_codes, name) for name in ("DONE", "FAILS", "WRONG", "FAULT", "STOPPED"))
    lines = re.findall(r"^    fritline (\w+)", section("Commands"), re.MULTILINE)
    listed = re.findall(r"^  (\w+)  ", shell("fritline --help").stdout.split("Commands:")[1], re.MULTILINE)
    assert sorted(lines) == sorted(listed)
