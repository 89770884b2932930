"""An issue into a folder: what is skipped, what is written again, what goes aside, what a killed run leaves, with one process or more."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from contextlib import suppress
from functools import partial
from pathlib import Path

import pytest

from geometry.job import job_of, read_job
from outputs import command_line
from outputs.files.whole import WriteError
from outputs.vessel import documents, one_pane, pool, run
from outputs.vessel.kept import NAME
from outputs.vessel.one_pane import Asked, Broken, Drawn
from outputs.vessel.run import NOT_DRAWN, UP_TO_DATE, WRITTEN, IssueError, issued
from outputs.vessel.up_to_date import Inputs

ROOT = Path(__file__).resolve().parents[3]
LABELS = Asked(plate=False, documents=("label", "glass"), formats=("svg",))  # the documents that are drawn soonest
SHARED = 'sheet.date = 2026-11-02\nframe = "grp"\nglass = { plies = [8] }\nvessel.name = "Teal Wader (invented)"\n'
ROUND = '[[pane]]\ncode = "R1"\nrevision = "A"\noutline = { circle = 300 }\n'
SQUARE = '[[pane]]\ncode = "Q1"\nrevision = "A"\noutline = { rectangle = [500, 300], radius = 50 }\n'
TIGHT = '[[pane]]\ncode = "T1"\noutline = { rectangle = [60, 40] }\nbond.width = 30\n'  # no bead runs inside it
RAISED = ROUND.replace('revision = "A"', 'revision = "B"')


def issue(folder: Path, *panes: str, shared: str = SHARED, asked: Asked = LABELS, workers: int = 1, stem: str = "teal", purpose: str = ""):
    job = job_of(shared + "".join(panes))
    return issued(job, stem, folder, asked, workers=workers, step=lambda _what: None, purpose=purpose)


def outcomes(done) -> dict[str, str]:
    return {each.code: each.what for each in done.panes}


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by its place."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def touched(folder: Path) -> dict[str, tuple[int, int]]:
    """When and as which file each was written: a file that is replaced is another one."""
    return {path.relative_to(folder).as_posix(): (path.stat().st_mtime_ns, path.stat().st_ino) for path in folder.rglob("*")}


def test_what_is_up_to_date_is_left_as_it_is(tmp_path):
    assert outcomes(issue(tmp_path, ROUND, SQUARE)) == {"R1": WRITTEN, "Q1": WRITTEN}
    before = touched(tmp_path)
    done = issue(tmp_path, ROUND, SQUARE)
    assert outcomes(done) == {"R1": UP_TO_DATE, "Q1": UP_TO_DATE}
    assert touched(tmp_path) == before
    assert [each.facts.mark for each in done.panes] == [each.facts.mark for each in issue(tmp_path / "anew", ROUND, SQUARE).panes]


def test_the_lists_are_made_again_only_where_something_that_reaches_them_has_changed(tmp_path, monkeypatch):
    made = []

    def noted(contents, *, purpose: str):
        made.append(purpose)
        return documents.vessel_files(contents, purpose=purpose)

    monkeypatch.setattr(run, "vessel_files", noted)

    def made_by(shared: str = SHARED, purpose: str = "") -> int:
        made.clear()
        told = issue(tmp_path, ROUND, SQUARE, shared=shared, purpose=purpose)
        assert {name for files in told.lists.values() for name in files} == {path.name for path in tmp_path.glob("teal-*")}
        return len(made)

    assert made_by() == 1
    assert made_by() == 0
    assert made_by(shared='lists.decimal = "comma"\n' + SHARED) > 0  # reaches no pane
    assert b";" in (tmp_path / "teal-glass.csv").read_bytes().splitlines()[0]
    assert made_by(shared='lists.decimal = "comma"\n' + SHARED) == 0
    assert made_by() > 0
    (tmp_path / "teal-glass.csv").unlink()
    assert made_by() > 0
    whole = tree(tmp_path)
    assert made_by() == 0
    assert made_by(purpose="approval") > 0
    assert made_by(purpose="approval") == 0
    assert (tmp_path / "teal-approval.xlsx").is_file()
    assert whole["teal-glass.csv"] == (tmp_path / "teal-glass.csv").read_bytes()


def test_one_pane_that_changed_is_the_only_one_that_is_drawn(tmp_path):
    issue(tmp_path, ROUND, SQUARE)
    before = touched(tmp_path / "R1")
    wider = SQUARE.replace("500", "510")
    assert outcomes(issue(tmp_path, ROUND, wider)) == {"R1": UP_TO_DATE, "Q1": WRITTEN}
    assert touched(tmp_path / "R1") == before
    fresh = tmp_path / "fresh"
    issue(fresh, ROUND, wider)
    assert {name: data for name, data in tree(tmp_path).items() if name.startswith("Q1/")} == {
        name: data for name, data in tree(fresh).items() if name.startswith("Q1/")
    }
    assert "written over" in (tmp_path / "teal-register.csv").read_text("utf-8-sig")  # one revision letter, two contents: told


@pytest.mark.parametrize("harm", ["changed", "longer", "missing", "a link"])
def test_a_file_that_is_not_as_it_was_written_is_written_again(tmp_path, harm):
    folder = tmp_path / "issue"
    issue(folder, ROUND, SQUARE)
    before, others = tree(folder), touched(folder / "Q1")
    harmed = folder / "R1" / "R1-A-label.svg"
    data = harmed.read_bytes()
    if harm == "changed":
        harmed.write_bytes(data[:-9] + b"#" + data[-8:])
    elif harm == "longer":
        harmed.write_bytes(data + b"\n")
    else:
        harmed.unlink()
    if harm == "a link":
        (tmp_path / "elsewhere").write_bytes(data)
        harmed.symlink_to(tmp_path / "elsewhere")
        with pytest.raises(WriteError, match="there is a link of that name"):  # nothing but a file is ever replaced
            issue(folder, ROUND, SQUARE)
        harmed.unlink()
    assert outcomes(issue(folder, ROUND, SQUARE)) == {"R1": WRITTEN, "Q1": UP_TO_DATE}
    assert tree(folder) == before and touched(folder / "Q1") == others


def test_files_of_somebody_else_stay(tmp_path):
    issue(tmp_path, ROUND)
    own = {"R1/notes.txt": b"a", "notes.txt": b"b", "R1/R1-A-survey.dxf": b"c", "R1/R1-0-label.svg": b"d"}
    for name, data in own.items():
        (tmp_path / name).write_bytes(data)
    issue(tmp_path, RAISED)
    issue(tmp_path, RAISED.replace('"R1"', '"R2"'), RAISED)
    assert {name: data for name, data in tree(tmp_path).items() if name in own} == own


def test_an_older_revision_goes_aside_and_the_register_says_by_what_it_was_superseded(tmp_path):
    first = issue(tmp_path, ROUND, SQUARE)
    old = {name: data for name, data in tree(tmp_path).items() if name.startswith("R1/")}
    done = issue(tmp_path, RAISED, SQUARE, shared=SHARED.replace("2026-11-02", "2026-12-01"))
    assert outcomes(done)["R1"] == WRITTEN
    place = f"superseded/R1-A-{first.panes[0].facts.mark}"
    now = tree(tmp_path)
    assert {name for name in now if name.startswith("R1/")} == {"R1/R1-B-glass.dxf", "R1/R1-B-label.svg"}
    assert {f"{place}/{name.removeprefix('R1/')}": data for name, data in old.items()} == {
        name: data for name, data in now.items() if name.startswith(f"{place}/R1")
    }
    mark = done.panes[0].facts.mark
    assert {(each.by, each.date) for each in done.superseded} == {(f"revision B, mark {mark}", "2026-12-01")}
    back = issue(tmp_path, ROUND, SQUARE)  # and back: the older letter again, its earlier files stay where they lie
    assert {each.folder for each in back.superseded} == {f"superseded/R1-B-{mark}"}
    assert {name: data for name, data in tree(tmp_path).items() if name.startswith("R1/")} == old
    twice = issue(tmp_path, RAISED, SQUARE)
    assert {each.folder for each in twice.superseded} == {f"{place}-2"}


def test_a_pane_that_is_no_longer_in_the_job_goes_aside(tmp_path):
    issue(tmp_path, ROUND, SQUARE)
    done = issue(tmp_path, SQUARE)
    assert outcomes(done) == {"Q1": UP_TO_DATE}
    assert {(each.code, each.by) for each in done.superseded} == {("R1", "nothing: the pane is no longer in the job")}
    assert not (tmp_path / "R1").exists()
    assert len([name for name in tree(tmp_path) if name.startswith("superseded/R1-A-")]) == 2


def test_a_pane_that_cannot_be_drawn_is_named_and_stops_no_other(tmp_path):
    """What stood there of an older issue goes aside; what takes its place is told as soon as it can be drawn."""
    loose = TIGHT.replace("[60, 40]", "[600, 400]")
    issue(tmp_path, ROUND, loose)
    done = issue(tmp_path, ROUND, TIGHT, SQUARE)
    assert outcomes(done) == {"R1": UP_TO_DATE, "T1": NOT_DRAWN, "Q1": WRITTEN}
    assert "cannot run" in done.panes[1].reason and not (tmp_path / "T1").exists()
    assert all(each.waits and "could not be drawn" in each.by for each in done.superseded) and len(done.superseded) == 2
    page = (tmp_path / "teal-register.html").read_text("utf-8")
    assert "Panes that have no documents" in page and "cannot run" in page
    mended = issue(tmp_path, ROUND, loose.replace("600", "610"), SQUARE)
    assert outcomes(mended)["T1"] == WRITTEN
    register = (tmp_path / "teal-register.csv").read_text("utf-8-sig")
    assert "could not be drawn" not in register and f"mark {mended.panes[1].facts.mark}" in register


def test_the_bytes_do_not_hang_on_the_number_of_processes(tmp_path):
    panes = (ROUND, TIGHT, SQUARE)
    for workers in (1, 2):
        issue(tmp_path / str(workers), *panes, workers=workers)
    assert tree(tmp_path / "1") == tree(tmp_path / "2")


class _Replayed:
    """Panes drawn once and handed out again: what is tried is the writing."""

    def __init__(self) -> None:
        self.known: dict[str, object] = {}
        self.draw = one_pane.pane_drawn

    def __call__(self, job, pane, asked):
        key = Inputs(job, asked).of(job.panes.index(pane))
        if key not in self.known:
            self.known[key] = self.draw(job, pane, asked)
        return self.known[key]


@pytest.fixture
def replayed(monkeypatch):
    made = _Replayed()
    monkeypatch.setattr(pool, "pane_drawn", made)
    monkeypatch.setattr(run, "program_hash", lambda: "0" * 64)
    for module in (run, documents):  # one list is written as all are
        monkeypatch.setattr(module, "VESSEL_DOCUMENTS", documents.VESSEL_DOCUMENTS[-1:])
    monkeypatch.setattr(os, "fsync", lambda _descriptor: None)  # a killed process loses nothing that the system has
    return made


STEPS = ("open", "link", "replace", "rename", "unlink", "mkdir", "rmdir", "fsync")
"""System calls by which a file or a name comes or goes."""


def killed_at(count: int, work) -> bool:
    """The work done in a process of its own that is killed before the step of that number; whether it came so far."""
    child = os.fork()
    if child == 0:
        left = count

        def step(real, *arguments, **named):
            nonlocal left
            left -= 1
            if left < 0:
                os.kill(os.getpid(), signal.SIGKILL)
            return real(*arguments, **named)

        for name in STEPS:
            setattr(os, name, partial(step, getattr(os, name)))
        with suppress(BaseException):
            work()
            os._exit(0)
        os._exit(1)
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status):
        return True
    assert os.WEXITSTATUS(status) == 0
    return False


def test_a_run_that_was_killed_leaves_no_half_file_and_the_next_one_completes_it(tmp_path, replayed):
    """Killed before every eleventh of its steps, while one pane changes its revision, one its size, and one is no longer there."""
    first = (ROUND, SQUARE, ROUND.replace("R1", "R2"))
    then = (RAISED, SQUARE.replace("500", "510"), SQUARE.replace("Q1", "Q2"))
    whole = tmp_path / "whole"
    issue(whole, *first)
    older = tree(whole)
    issue(whole, *then)
    newer = tree(whole)
    good = {*older.values(), *newer.values()}
    kills = 0
    for count in range(0, 1000, 11):
        folder = tmp_path / str(count)
        issue(folder, *first)
        if not killed_at(count, partial(issue, folder, *then)):
            break
        kills += 1
        left = {name: data for name, data in tree(folder).items() if not Path(name).name.startswith(".")}
        assert set(left.values()) <= good, count
        issue(folder, *then)
        assert tree(folder) == newer, count
    assert kills > 8


def test_a_first_issue_that_was_killed_is_completed(tmp_path, replayed):
    issue(tmp_path / "whole", ROUND, SQUARE)
    for count in (0, 5, 11, 20, 30):
        folder = tmp_path / str(count)
        assert killed_at(count, partial(issue, folder, ROUND, SQUARE))
        assert not list(folder.glob("teal-register.*"))  # a folder without lists is not the whole issue
        issue(folder, ROUND, SQUARE)
        assert tree(folder) == tree(tmp_path / "whole")


def children_of(process: int) -> list[int]:
    with suppress(OSError):
        return [int(each) for each in Path(f"/proc/{process}/task/{process}/children").read_text().split()]
    return []


def alive(process: int) -> bool:
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="processes are looked for in /proc")
@pytest.mark.parametrize("request_", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL], ids=lambda each: each.name)
def test_no_process_is_left_when_a_run_is_stopped(tmp_path, request_):
    job = tmp_path / "teal.toml"
    job.write_text(SHARED + "".join(SQUARE.replace("Q1", f"Q{count}") for count in range(9)), encoding="utf-8")
    heard = "import signal; signal.signal(signal.SIGINT, signal.SIG_DFL)"  # the tests may run where the stop key is ignored
    begun = f"{heard}; from outputs.command_line import main; main()"
    command = [sys.executable, "-c", begun, "issue", str(job), "-o", str(tmp_path / "issue"), "--workers", "2"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    started = subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=tmp_path)
    while (
        len(workers := children_of(started.pid)) < 3 and started.poll() is None
    ):  # two workers, and what Python starts beside them
        time.sleep(0.05)
    assert started.poll() is None
    started.send_signal(request_)
    out, err = started.communicate(timeout=60)
    if request_ is signal.SIGKILL:
        assert started.returncode == -signal.SIGKILL
    else:
        assert (started.returncode, out, err.strip()) == (130, "", "stopped; no file was left half-written")
    while any(alive(each) for each in workers):  # a test without an end is stopped by whoever runs it
        time.sleep(0.05)
    assert not list((tmp_path / "issue").rglob("*.part"))


def test_a_worker_that_the_system_ends_costs_its_pane_alone(tmp_path, monkeypatch):
    start, ended = pool._Pool._start, []

    def one_is_killed(self, index):
        start(self, index)
        if not ended:
            ended.append(index)
            os.kill(self._workers[-1].process.pid, signal.SIGKILL)

    monkeypatch.setattr(pool._Pool, "_start", one_is_killed)
    job = job_of(SHARED + ROUND + SQUARE)
    results = dict(pool.panes_drawn(job, range(2), LABELS, workers=2))
    assert isinstance(results[0], Broken) and results[0].memory and isinstance(results[1], Drawn)


def test_what_reaches_a_pane_makes_it_another_input_and_nothing_else_does(tmp_path):
    pair = ROUND.replace("R1", "W-P") + 'side = "port"\n' + ROUND.replace("R1", "W-S") + 'side = "starboard"\n'

    def inputs(shared: str, panes: str, asked: Asked = LABELS) -> list[str]:
        job = job_of(shared + panes, folder=tmp_path)
        made = Inputs(job, asked)
        return [made.of(index) for index in range(len(job.panes))]

    before = inputs(SHARED, pair + SQUARE)
    assert len(set(before)) == 3 and before == inputs(SHARED, f"# a comment\n{pair}{SQUARE}")
    assert (
        inputs('lists.decimal = "comma"\n' + SHARED, pair + SQUARE) != before
    )  # typed shared tables count, whatever they are for
    other = inputs(SHARED, pair + SQUARE.replace("500", "510"))
    assert other[:2] == before[:2] and other[2] != before[2]
    fellow = inputs(
        SHARED, pair.replace('"W-S"\nrevision = "A"\noutline = { circle = 300 }', '"W-S"\noutline = { circle = 301 }') + SQUARE
    )
    assert fellow[0] != before[0] and fellow[2] == before[2]  # a pane is held against that of the other hand
    typed = inputs(SHARED, pair + SQUARE + "quantity = 1\n")
    assert typed[:2] == before[:2] and typed[2] != before[2]  # the default, but given
    assert not set(before) & set(inputs(SHARED, pair + SQUARE, Asked(plate=True)))
    office = 'defaults = "office.toml"\n' + SHARED
    (tmp_path / "office.toml").write_text("limits.pair_difference = 1.5\n", encoding="utf-8")
    first = inputs(office, pair + SQUARE)
    (tmp_path / "office.toml").write_text("# moved down\nlimits.pair_difference = 1.5\n", encoding="utf-8")
    assert not set(first) & set(inputs(office, pair + SQUARE))  # the record names the line


def test_the_panes_of_a_session_reach_one_another(tmp_path):
    """The clock of a pane hangs on those before it; a session of others on another day does not reach it."""
    panes = ROUND + SQUARE + ROUND.replace("R1", "R2")
    plan = '[[session]]\npanes = ["R1", "Q1"]\ndate = 2026-05-04\ncrew = ["bonder", "helper"]\n'
    other = '[[session]]\npanes = ["R2"]\ndate = 2026-05-05\ncrew = ["bonder", "helper"]\n'

    def inputs(text: str) -> list[str]:
        job = job_of(SHARED + text)
        return [Inputs(job, LABELS).of(index) for index in range(len(job.panes))]

    def same(text: str) -> list[bool]:
        return [one == before for one, before in zip(inputs(text), inputs(panes + plan + other), strict=True)]

    assert same(panes + plan + other) == [True, True, True]
    assert same(panes.replace("500", "510") + plan + other) == [False, False, True]
    assert same(panes + plan + other.replace("05-05", "05-06")) == [True, True, False]
    assert same(panes + plan + other.replace("05-05", "05-04")) == [False, False, False]  # the same people, on the same day
    assert same(panes + plan) == [True, True, False] and same(panes) == [False, False, False]
    deviation = '[[deviation]]\nrule = "a rule, invented"\nwhat = "what is done instead"\n'  # of the approval pack alone
    assert same(panes + plan + other + deviation) == [True, True, True]


def test_the_input_is_the_same_in_every_process():
    """Python shuffles its sets anew in each process."""
    code = (
        "import sys; from geometry.job import job_of; from outputs.vessel.one_pane import Asked; "
        "from outputs.vessel.up_to_date import Inputs; print(Inputs(job_of(sys.argv[1]), Asked(plate=False)).of(0))"
    )
    text = SHARED + ROUND + '[[session]]\npanes = ["R1"]\n'
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": "7"}
    told = subprocess.run([sys.executable, "-c", code, text], env=environment, capture_output=True, text=True, check=True).stdout
    assert told.strip() == Inputs(job_of(text), Asked(plate=False)).of(0)


def test_a_file_that_the_job_names_is_part_of_the_input_to_its_last_byte(tmp_path):
    """The drawings carry it."""
    for name in ("from-survey.toml", "deckhouse-aft.csv"):
        (tmp_path / name).write_bytes((ROOT / "samples" / name).read_bytes())
    before = Inputs(read_job(tmp_path / "from-survey.toml"), LABELS).of(0)
    assert Inputs(read_job(tmp_path / "from-survey.toml"), LABELS).of(0) == before
    with (tmp_path / "deckhouse-aft.csv").open("a", encoding="utf-8") as stream:
        stream.write("\n")
    assert Inputs(read_job(tmp_path / "from-survey.toml"), LABELS).of(0) != before


def test_a_folder_that_is_not_this_jobs_is_refused_and_left(tmp_path):
    issue(tmp_path, ROUND)
    before = tree(tmp_path)
    for panes, shared in (((SQUARE,), SHARED), ((ROUND,), SHARED.replace("Teal Wader", "Grey Heron"))):
        with pytest.raises(IssueError, match="holds the issue of another job"):
            issue(tmp_path, *panes, shared=shared)
    with pytest.raises(IssueError, match="allowed: any other"):
        issue(tmp_path, ROUND.replace("R1", "Superseded"))
    assert tree(tmp_path) == before


def test_a_folder_that_cannot_be_made_is_told_before_anything_is_drawn(tmp_path):
    (tmp_path / "dangling").symlink_to(tmp_path / "nowhere")
    with pytest.raises(IssueError, match="dangling cannot be made a folder: File exists"):
        issue(tmp_path / "dangling", ROUND)


@pytest.mark.parametrize(
    "damage",
    [
        lambda text: text[: len(text) // 2],
        lambda text: "[]",
        lambda text: text.replace('"R1"', '"../R1"'),
        lambda text: text.replace('"R1-A-label.svg"', '"../../label.svg"'),
        lambda text: text.replace('"moving": []', '"moving": [{"old": "R1/a", "new": "../a"}]'),
        lambda text: text.replace('"fail": 0', '"fail": "none"'),
        lambda text: text.replace('"schema": 1', '"schema": 2'),
    ],
)
def test_a_damaged_note_is_refused_and_nothing_is_touched(tmp_path, damage):
    issue(tmp_path, ROUND)
    note = tmp_path / NAME
    harmed = damage(note.read_text("ascii"))
    assert harmed != note.read_text("ascii")
    note.write_text(harmed, "ascii")
    before = tree(tmp_path)
    with pytest.raises(IssueError, match=r"\.fritline-issue\.json is (damaged|of another version)"):
        issue(tmp_path, RAISED)
    assert tree(tmp_path) == before


def test_an_issue_of_another_version_with_other_facts_goes_on(tmp_path):
    """After an update the folder is issued on: documents are drawn anew, and an older revision still goes aside by its name."""
    issue(tmp_path, ROUND)
    note = tmp_path / NAME
    told = json.loads(note.read_text("ascii"))
    for pane in told["panes"]:
        pane["program"] = "0" * 64
        del pane["facts"]["glass"], pane["facts"]["centroid"], pane["facts"]["print"]["opacity"]
        pane["facts"]["invented"] = [1]
    note.write_text(json.dumps(told), "ascii")
    old = tree(tmp_path)["R1/R1-A-label.svg"]
    assert outcomes(issue(tmp_path, RAISED)) == {"R1": WRITTEN}
    now = tree(tmp_path)
    assert "R1/R1-B-label.svg" in now and "R1/R1-A-label.svg" not in now
    assert [data for name, data in now.items() if name.startswith("superseded/") and name.endswith("R1-A-label.svg")] == [old]


def test_two_runs_do_not_issue_into_one_folder_at_once(tmp_path):
    issue(tmp_path, ROUND)
    with run._held(tmp_path), pytest.raises(IssueError, match="another run is issuing"):
        issue(tmp_path, ROUND)


@pytest.fixture
def quick(monkeypatch):
    monkeypatch.setattr(one_pane, "Asked", partial(Asked, documents=LABELS.documents, formats=LABELS.formats))


def answered(capsys, *arguments) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as leaving:
        command_line.main(["issue", *map(str, arguments), "--no-plate", "--workers", "1"])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


def test_the_command_sums_up_and_its_exit_code_says_what_came_of_it(tmp_path, capsys, quick, monkeypatch):
    monkeypatch.chdir(tmp_path)
    job = tmp_path / "teal.toml"
    job.write_text(SHARED + ROUND, encoding="utf-8")
    code, out, _ = answered(capsys, job)
    rows = [line.split("  ") for line in out.splitlines()]
    assert code == 0 and rows[0][0] == "pane" and rows[1][0] == "R1" and rows[1][-1] == "written"
    assert (tmp_path / "teal-issue" / "R1" / "R1-A-label.svg").is_file()
    assert "list: teal-issue/teal-register.xlsx" in out
    job.write_text(SHARED + ROUND + "frit.width = 20\n", encoding="utf-8")
    code, out, err = answered(capsys, job)
    assert code == 1 and "pane R1 fails: frit" in err
    job.write_text(SHARED + ROUND + "frit.width = 20\n" + TIGHT, encoding="utf-8")
    code, out, err = answered(capsys, job)
    assert code == 2 and "pane T1 is not drawn: " in err and "1 up to date, 1 not drawn" in out
    code, out, err = answered(capsys, job, "--json")
    told = json.loads(out)
    assert (code, told["verdict"], told["schema"]) == (2, "fail", 1)
    assert [(each["code"], each["outcome"], each["verdict"]) for each in told["panes"]] == [
        ("R1", "up to date", "fail"),
        ("T1", "not drawn", None),
    ]
    job.write_text("[[pane]]\n", encoding="utf-8")
    assert answered(capsys, job, "-o", tmp_path / "none")[0] == 2 and not (tmp_path / "none").exists()


def test_a_fault_of_the_program_in_one_pane_leaves_the_others_and_is_told(tmp_path, capsys, quick, monkeypatch):
    draw = one_pane._drawn

    def faulty(job, pane, asked):
        return draw(job, pane, asked) if pane.code == "R1" else 1 / 0

    monkeypatch.setattr(one_pane, "_drawn", faulty)
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    job = tmp_path / "teal.toml"
    job.write_text(SHARED + SQUARE + ROUND, encoding="utf-8")
    code, out, err = answered(capsys, job, "-o", tmp_path / "issue")
    assert code == 3 and "a fault of the program, not of your job file" in err and "Traceback" not in err
    assert "1 written, 1 not drawn" in out
    details = next(tmp_path.glob("fritline-fault-*")).read_text("utf-8")
    assert "pane Q1" in details and "ZeroDivisionError" in details
