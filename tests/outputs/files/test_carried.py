"""The job that a drawing carries: taken out again it gives the same drawing, byte for byte; the supplier's carries his part only."""

from __future__ import annotations

import bz2
import io
import json
import re
import tomllib
from functools import cache
from pathlib import Path

import ezdxf
import pypdf
import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of, read_job
from geometry.job.mark import mark_of
from outputs.command_line import main
from outputs.documents import document_files
from outputs.files import carried
from outputs.files.carried import CarriedError, carried_by, job_parcel, order_parcel, unpacked
from outputs.sheets.contents import Contents

SAMPLES = Path(__file__).resolve().parents[3] / "samples"
KINDS = (
    ("pair", ""),
    ("refit", ""),
    ("from-drawing", ""),
    ("from-survey", ""),
    ("every-key", "K-2"),
    ("as-made", ""),
    ("sessions", ""),
)
"""Both hands of a pane, an office's defaults, files of other people, every key, a pane as made, a pane of a session."""


def contents_of(path: Path, code: str = "") -> Contents:
    job = read_job(path)
    pane = next(each for each in job.panes if code in ("", each.code))
    detail = build_detail(job, pane)
    return Contents(job, pane, detail, check_pane(job, pane, detail, plate=False))


@cache
def drawn(name: str, documents: tuple[str, ...] = ("detail",)) -> dict[str, bytes]:
    return document_files(contents_of(SAMPLES / f"{name}.toml"), documents, ("dxf", "svg", "pdf"))


def unpacked_to(folder: Path, data: bytes, name: str) -> Path:
    found = carried_by(data, name)
    for each, content in found.files.items():
        (folder / each).write_bytes(content)
    return folder / found.name


@pytest.mark.parametrize(("name", "code"), KINDS)
def test_the_job_taken_out_of_a_drawing_gives_that_drawing_again(name, code, tmp_path):
    files = document_files(contents_of(SAMPLES / f"{name}.toml", code), ("detail",), ("dxf", "svg", "pdf"))
    first = next(iter(files))
    again = document_files(contents_of(unpacked_to(tmp_path, files[first], first)), ("detail",), ("dxf", "svg", "pdf"))
    assert again == files


@pytest.mark.parametrize("ending", [".dxf", ".svg", ".pdf"])
def test_every_format_carries_the_same_job_and_its_mark(ending):
    job = read_job(SAMPLES / "pair.toml")
    (data,) = [data for path, data in drawn("pair").items() if path.endswith(ending)]
    found = carried_by(data, f"any{ending}")
    assert (found.part, found.code, found.mark) == ("job", job.panes[0].code, mark_of(job, job.panes[0]))
    assert found == carried_by(drawn("pair")[f"{job.panes[0].file_stem}-detail.svg"], "other")


def test_what_changes_on_another_pane_changes_no_parcel():
    text = """
    [[pane]]
    code = "W1"
    frame = "grp"
    glass = { plies = [8] }
    outline = { rectangle = [900, 450] }
    [[pane]]
    code = "W2"
    frame = "grp"
    glass = { plies = [8] }
    outline = { rectangle = [700, 450] }
    """
    made = []
    for each in (text, text.replace("[700, 450]", "[710, 450]"), text.replace("[900, 450]", "[910, 450]")):
        job = job_of(each)
        made.append(job_parcel(Contents(job, job.panes[0], build_detail(job, job.panes[0]))))
    assert made[0] == made[1] != made[2]
    assert b"W2" not in b"".join(unpacked(made[0]).files.values())


def test_it_outlives_a_reader_that_saves_the_file_again():
    """As ezdxf and pypdf write what they read: what they do not know stays in it."""
    files = drawn("refit", ("detail", "card"))
    document = ezdxf.read(io.StringIO(files["R-1-detail.dxf"].decode("utf-8")))
    saved = io.StringIO()
    document.write(saved)
    assert carried_by(saved.getvalue().encode("utf-8"), "saved.dxf") == carried_by(files["R-1-detail.dxf"], "")
    binary = io.BytesIO()
    document.write(binary, fmt="bin")
    assert carried_by(binary.getvalue(), "binary.dxf").code == "R-1"
    copy = io.BytesIO()
    pypdf.PdfWriter(clone_from=io.BytesIO(files["R-1-card.pdf"])).write(copy)
    assert carried_by(copy.getvalue(), "copy.pdf") == carried_by(files["R-1-card.pdf"], "")
    assert list(pypdf.PdfReader(io.BytesIO(files["R-1-card.pdf"])).attachments) == ["fritline-job.json.bz2"]


def test_the_supplier_gets_outline_make_up_and_print_of_the_order():
    contents = contents_of(SAMPLES / "as-made.toml").as_ordered()
    found = unpacked(order_parcel(contents))
    tables = tomllib.loads(found.files[found.name].decode("utf-8"))
    (pane,) = tables["pane"]
    assert set(tables) == {"supplier", "pane"} and set(pane) == {"code", "side", "revision", "outline", "glass", "frit"}
    assert [vertex[:2] for vertex in pane["outline"]["path"]] == [
        pytest.approx((vertex.x, vertex.y), abs=1e-6) for vertex in contents.detail.curves.glass.vertices
    ]
    assert pane["frit"]["width"] == contents.detail.sizes.frit_width.value
    assert not {"shear_coupling", "interlayer_modulus", "allowed_stress"} & set(pane["glass"])


def altered(change):
    told = json.loads(bz2.decompress(job_parcel(contents_of(SAMPLES / "rectangle.toml"))))
    change(told)
    return bz2.compress(json.dumps(told).encode())


@pytest.mark.parametrize(
    ("parcel", "says"),
    [
        (lambda: altered(lambda told: told["files"][0].update(text="[[pane]]")), "hash does not agree"),
        (lambda: altered(lambda told: told["files"][0].update(name="../x.toml")), "without a plain name"),
        (lambda: altered(lambda told: told.update(schema=2)), "newer program"),
        (lambda: altered(lambda told: told.pop("files")), "damaged"),
        (lambda: altered(lambda told: told.update(files={})), "damaged|plain name"),
        (lambda: bz2.compress(b"\0" * (carried.LARGEST + 1)), "more than"),
        (lambda: bz2.compress(b"[1]"), "damaged"),
        (lambda: job_parcel(contents_of(SAMPLES / "rectangle.toml"))[:-20], "damaged"),
        (lambda: b"no parcel", "damaged"),
    ],
)
def test_what_is_damaged_or_changed_is_refused(parcel, says):
    with pytest.raises(CarriedError, match=says):
        unpacked(parcel())


def named_anew(change):
    """A parcel with other files and the hash of them: as a program that wrote nonsense would have it."""

    def changed(told):
        change(told)
        told["sha256"] = carried._hash({each["name"]: carried._data(each) for each in told["files"]})

    return altered(changed)


@pytest.mark.parametrize(
    "change",
    [
        lambda told: told["files"][0].update(name="x\ny.toml"),
        lambda told: told["files"][0].update(name=".x.toml"),
        lambda told: told["files"][0].update(name="x" * 300),
        lambda told: told["files"].append(dict(told["files"][0])),
        lambda told: told["files"][0].update(data="//4=") or told["files"][0].pop("text"),
        lambda told: told.update(part="whole"),
        lambda told: told.update(code="\x1b[2J"),
    ],
)
def test_a_parcel_that_agrees_with_its_hash_and_is_no_job_is_refused(change):
    with pytest.raises(CarriedError, match="plain name|in words"):
        unpacked(named_anew(change))


def test_a_sheet_put_together_from_two_is_refused():
    one = [drawn(name) for name in ("rectangle", "circle")]
    svg = [next(data for name, data in files.items() if name.endswith(".svg")).decode() for files in one]
    element = re.search(r'<[^<>]*id="carried-job"[^<>]*>[^<]*</[^<>]*>', svg[1])[0]
    both = svg[0].replace("<metadata>", f"<metadata>{element}", 1)
    pages = pypdf.PdfWriter()
    for files in one:
        pdf = next(data for name, data in files.items() if name.endswith(".pdf"))
        pages.append(io.BytesIO(pdf))
        (parcel,) = carried._out_of_pdf(pdf)
        pages.add_attachment(carried.ATTACHED, parcel)
    joined = io.BytesIO()
    pages.write(joined)
    for data in (both.encode(), joined.getvalue()):
        with pytest.raises(CarriedError, match="2 jobs that differ"):
            carried_by(data, "x")


def test_a_carried_job_that_is_refused_is_told_of_the_drawing(tmp_path, capsys):
    """The same words every time, and no folder that nobody can look into."""
    svg = next(data for name, data in drawn("rectangle").items() if name.endswith(".svg")).decode()
    parcel = named_anew(lambda told: told["files"][0].update(text="[[pane]]\n"))
    (tmp_path / "x.svg").write_text(
        re.sub(r'(<[^<>]*id="carried-job"[^<>]*>)[^<]*', lambda found: found[1] + carried.svg_text(parcel), svg)
    )
    said = []
    for _ in range(2):
        with pytest.raises(SystemExit) as left:
            main(["check", str(SAMPLES / "rectangle.toml"), "--no-plate", "--since", str(tmp_path / "x.svg")])
        said.append(capsys.readouterr().err)
        assert left.value.code == 2
    assert said[0] == said[1] and f"--since: {tmp_path / 'x.svg'}: the job that it carries, " in said[0]


@pytest.mark.parametrize(
    "data", [b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"<svg", b"%PDF-1.7 nothing", b"0\nSECTION\n", b"\0\1"]
)
def test_a_file_that_carries_nothing_is_refused_in_one_sentence(data):
    with pytest.raises(CarriedError) as refused:
        carried_by(data, "x")
    assert "\n" not in str(refused.value) and "Traceback" not in str(refused.value)


def test_a_companion_that_is_too_large_is_named_with_its_hash(monkeypatch):
    monkeypatch.setattr(carried, "MOST_CARRIED", 100)
    found = unpacked(job_parcel(contents_of(SAMPLES / "from-drawing.toml")))
    (told,) = found.left_out
    assert re.fullmatch(r"saloon\.dxf, \d+ bytes, SHA-256 [0-9a-f]{64}", told)
    assert list(found.files) == [found.name]


def run(capsys, *words):
    with pytest.raises(SystemExit) as leaving:
        main([str(word) for word in words])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


def test_start_from_a_drawing_writes_the_job_once_and_since_reads_the_drawing(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    sheet = tmp_path / "sheet.svg"
    sheet.write_bytes(drawn("refit")["R-1-detail.svg"])
    code, out, _ = run(capsys, "start", "--from", sheet)
    assert code == 0 and "written: R-1.toml" in out and "written: office.toml" in out
    assert (tmp_path / "office.toml").read_bytes() == (SAMPLES / "office.toml").read_bytes()
    before = (tmp_path / "R-1.toml").read_bytes()
    code, _, err = run(capsys, "start", "--from", sheet)
    assert code == 2 and "is there already" in err and (tmp_path / "R-1.toml").read_bytes() == before
    code, out, _ = run(capsys, "start", "--from", sheet, "-")
    assert code == 0 and out.encode("utf-8").strip() == before.strip()
    code, _, err = run(capsys, "start", "--from", sheet, "other.toml", "--glass", "8")
    assert code == 2 and "--glass" in err and not (tmp_path / "other.toml").exists()
    quick = ("--sheet", "detail", "--format", "svg", "--no-plate")
    code, out, _ = run(capsys, "draw", "R-1.toml", "--since", sheet, *quick)
    assert code in (0, 1) and "R-1: nothing moved since" in out
    code, _, err = run(capsys, "draw", "R-1.toml", "--since", "nothing.svg", *quick)
    assert code == 2 and "there is no file nothing.svg" in err


def test_the_suppliers_sheet_gives_his_part_and_is_no_older_state(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    sheet = tmp_path / "pane.pdf"
    sheet.write_bytes(drawn("rectangle", ("pane",))["RE-1-A-pane.pdf"])
    code, out, _ = run(capsys, "start", "--from", sheet)
    assert code == 0 and "frame, recess, joint and bond have to be typed" in out
    code, _, err = run(capsys, "draw", SAMPLES / "rectangle.toml", "--since", sheet, "--no-plate")
    assert code == 2 and "carries his part only" in err
