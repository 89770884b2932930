"""The card's page in a real browser: the clock from the real start, refusals, alarms, what is kept, what is saved, and how it is read.

The page is opened from its file, without a network, on a screen of 360 x 740; the browser's clock is a made one. The program's own plan, dew
point, open time and verdict are what the page is held against; contrast is that of W3C WCAG 2.2, 1.4.3 (formula of relative luminance there).
"""

from __future__ import annotations

import datetime
import itertools
import json
from functools import cache

import pytest
from browser import chromium
from page_samples import TEXT, contents_from, contents_of, page_of, with_work

from geometry.recorded.bonding_record import record_of
from geometry.recorded.record_fields import record_fields
from geometry.recorded.record_reading import found_records
from geometry.rules.day import climate
from outputs.drawing.card_times import clock_of
from outputs.page.card_page import card_page

CHROMIUM = chromium()
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium is installed that sees the folders of the tests")
SUMMER = datetime.timezone(datetime.timedelta(hours=2))  # of Berlin, where the browser stands
MORNING = datetime.datetime(2026, 5, 4, 7, 50, tzinfo=SUMMER)
FINGER = 44  # CSS pixels of a tap target; 10 mm are 38
LOOKS = ("day", "night", "mono")
READ = {"air": "21", "humidity": "55", "glass": "19", "frame": "19"}
BEEPS = """window.beeps = 0; window.shakes = 0; const begin = OscillatorNode.prototype.start;
OscillatorNode.prototype.start = function () { window.beeps += 1; return begin.call(this) };
navigator.vibrate = () => { window.shakes += 1; return true };"""
NO_SOUND = "delete window.AudioContext; delete window.webkitAudioContext; delete Navigator.prototype.vibrate;"
OPEN_ALL = "for (const each of document.querySelectorAll('details, [hidden]')) { each.open = true; each.hidden = false }"


@pytest.fixture(scope="module")
def browser():
    from playwright.sync_api import sync_playwright

    with sync_playwright() as running:
        found = running.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield found
        found.close()


@cache
def other(text: str) -> bytes:
    """The page of the first pane of another job."""
    return card_page(contents_from(text))


@pytest.fixture
def opened(browser, tmp_path):
    """Opens a page from its file: every request and every error of it is told."""
    contexts, said = [], []

    def opening(data: bytes, *, now: datetime.datetime = MORNING, script: str = "", context=None, **options):
        path = tmp_path / "card.html"
        path.write_bytes(data)
        if context is None:
            context = browser.new_context(
                viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True, timezone_id="Europe/Berlin", **options
            )
            contexts.append(context)
            context.set_offline(True)
        page = context.new_page()
        page.on("request", lambda request: said.append(request.url))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.on("console", lambda message: said.append(message.text))
        page.clock.install(time=now - datetime.timedelta(minutes=1))
        if script:
            page.add_init_script(script)
        page.goto(path.as_uri())
        page.clock.pause_at(now)
        return page

    yield opening
    assert [each for each in said if not each.startswith(("file://", "blob:"))] == []
    for each in contexts:
        each.close()


def lines(page) -> dict[str, str]:
    """The time of every line of the clock as it is shown."""
    return page.evaluate(
        """() => Object.fromEntries([...document.querySelectorAll("button.step .at")].map(
          (each) => [each.parentElement.dataset.step, each.textContent]).concat(
          ["last-press", "abort", "lift-by"].map((name) => [name, document.getElementById(name).textContent])))"""
    )


def on_paper(contents) -> dict[str, str]:
    """The same of the paper card, by the same names."""
    from geometry.recorded.record_fields import step_id

    clock, plan = clock_of(contents.check.time_plan), contents.check.time_plan
    ids = {(step.chain, step.kind): step_id(step) for step in plan.steps}
    told = {
        ids[chain, line.kind]: clock.at(line.offset)
        for chain, rows in (("frame", clock.frame), ("glass", clock.glass), ("both", clock.both))
        for line in rows
    }
    lift = "no time for it" if clock.last_lift is None else f"not after {clock.at(clock.last_lift)}"
    return {**told, "last-press": clock.at(clock.last_press), "abort": clock.at(clock.abort), "lift-by": lift}


def read(page, number: int = 1, **values: str) -> None:
    for name, value in {**READ, **values}.items():
        page.fill(f"[data-field='climate.{number}.{name}']", value)


def at(page, hour: int, minute: int, *, day: int = 4) -> None:
    """On to that minute, as after a phone's sleep: what is due is done once."""
    page.clock.pause_at(MORNING.replace(day=day, hour=hour, minute=minute))


def verdict(page) -> tuple[str, str, str]:
    kind = page.get_attribute("#verdict", "class").split()[1]
    return kind, page.inner_text("#verdict-head"), page.inner_text("#verdict-words")


def minutes(told: str) -> int:
    """Minutes after midnight of a time of day."""
    hours, _, rest = told.partition(":")
    return int(hours) * 60 + int(rest[:2])


# The clock.


def test_the_pages_show_the_times_of_the_paper_cards(opened):
    page = opened(page_of("SW-01"))
    for name in ("SW-01", "SW-03", "SW-06", "SW-09"):  # plain, in the hull, too long for its open time, surveyed
        page = opened(page_of(name), context=page.context)
        assert lines(page) == on_paper(contents_of(name)), name


def test_a_start_forty_minutes_later_shifts_every_line_by_forty_minutes(opened):
    page = opened(page_of("SW-01"))
    page.fill("#began", "08:00")
    before = lines(page)
    page.fill("#began", "08:40")
    after = lines(page)
    assert before.keys() == after.keys() and len(before) == 22
    shown = {name: (told.removeprefix("not after "), after[name].removeprefix("not after ")) for name, told in before.items()}
    assert {minutes(second) - minutes(first) for first, second in shown.values()} == {40}


@pytest.mark.parametrize("begins", ["08:15:20", "23:05:41"])
def test_the_page_from_a_tap_agrees_with_the_program_from_the_same_start(opened, begins):
    """To the second, over midnight too; the bead starts as soon as both are ready, so that the shift is the program's own."""
    text = with_work(TEXT, clock_step="0", frame_wipe_longest="25", frame_primer_longest="62", glass_wipe_longest="25")
    hour, minute, second = map(int, begins.split(":"))
    page = opened(other(text), now=MORNING.replace(hour=hour, minute=minute, second=second))
    page.click("[data-step=begin]")
    contents = contents_from(with_work(TEXT, start=begins, clock_step="0", frame_wipe_longest="25", frame_primer_longest="62"))
    assert lines(page) == on_paper(contents)
    clock = clock_of(contents.check.time_plan)
    assert page.inner_text("#wait-1") == clock.at(clock.longest[0])
    assert page.inner_text("#wait-0") == clock.at(next(each.by for each in clock.frame if each.by is not None))
    assert page.inner_text("#wait-3") == "--:--"


def test_what_is_tapped_late_puts_off_what_comes_after_and_the_bead_counts_the_abort(opened):
    page = opened(page_of("SW-01"))
    page.click("[data-step=begin]")  # 07:50
    planned = lines(page)
    at(page, 8, 10)
    page.click("[data-step=frame_wipe_flash]")  # planned 07:57; 15 min to flash off
    assert lines(page)["frame_prime"] == "08:25" and lines(page)["glass_prime"] == planned["glass_prime"]
    at(page, 9, 7)
    page.click("[data-step=both_bead]")
    assert page.inner_text("#abort") == "09:28"  # 21.8 min later, down
    assert page.inner_text("#last-press") == "09:22"  # 14.25 min later, up
    page.click("[data-step=both_bead]")
    page.click("[data-act=minus]")
    assert page.inner_text("#abort") == "09:27" and page.inner_text("#fix-head") == "BEAD: noted 09:06:00"
    page.click("[data-act=back]")
    assert page.is_hidden("#fix") and "tap BEAD" in page.inner_text("#counted")


# Go or no-go.


def test_dew_point_open_time_and_verdict_are_the_programs(opened):
    """Dew point to 0.01 K over water and ice, the open time in warm and cold, and go or no-go with every limit crossed."""
    cold = TEXT.replace("open_time = 30 ", "open_time = 30\nopen_time_cold = 55\nopen_time_cold_air = 8 ", 1)
    contents = contents_from(cold)
    page = opened(other(cold))
    grid = list(itertools.product((-20, -3.5, 0, 4.9, 5, 12, 22.5, 23, 28, 35, 35.1, 50), (1, 20, 49.9, 50, 64, 85, 85.1, 100)))
    dews, opens = page.evaluate(
        "(grid) => [grid.map((each) => cardPage.dewPoint(...each)), grid.map((each) => cardPage.openTime(...each))]", grid
    )
    adhesive = contents.job.adhesive
    for (air, humidity), dew, minutes_open in zip(grid, dews, opens, strict=True):
        assert dew == pytest.approx(climate.dew_point(air=air, humidity=humidity), abs=0.01)
        known = {"cold_open_time": adhesive.open_time_cold, "cold_air": adhesive.open_time_cold_air}
        wanted = climate.open_time(
            air=air, humidity=humidity, open_time_at_23=adhesive.open_time, halving=adhesive.open_time_halving, **known
        )
        assert minutes_open == pytest.approx(wanted, rel=1e-9)
    days = [
        {"air": air, "humidity": humidity, "glass": glass, "frame": frame}
        for air, humidity in ((21, 55), (21, 85), (21, 86), (4, 40), (36, 30))
        for glass, frame in itertools.product((4.9, 5, 14.5, 15, 22, 35, 35.1), repeat=2)
    ]
    found = page.evaluate("(days) => days.map((each) => cardPage.against(each).length === 0)", days)
    limits = contents.pane.limits
    bounds = {
        "margin": limits.dew_margin, "most_humidity": limits.humidity_most, "coldest": limits.bonding_coldest, "warmest": limits.bonding_warmest
    }  # fmt: skip
    assert found == [climate.ready_to_bond(**day, **bounds).go for day in days]
    assert {True, False} == set(found)


def test_a_day_that_cannot_be_worked_is_refused_at_the_top_and_what_is_not_read_is_never_a_go(opened):
    page = opened(page_of("SW-01"))
    assert verdict(page) == ("wait", "NOT READ", "air, humidity, glass, frame still to be read before the work")
    read(page, frame="")
    assert verdict(page)[:2] == ("wait", "NOT READ") and verdict(page)[2].startswith("frame still")
    for wrong in ("19 C", "1,9,0", "1e1", "900", "-", "∞"):
        page.fill("[data-field='climate.1.frame']", wrong)
        assert verdict(page)[0] == "wait", wrong
    page.fill("[data-field='climate.1.frame']", "12,0")
    assert verdict(page) == ("stop", "NO-GO: DO NOT BOND", "frame 12,0 °C, at least 14,6 °C (dew point 11,6 °C + 3 K)")
    page.fill("[data-field='climate.1.frame']", "18,5")
    assert verdict(page)[:2] == ("go", "GO by climate and clock")
    read(page, air="34", humidity="60", glass="33", frame="33")  # dry enough, but the skin forms before the pane is pressed home
    late = verdict(page)
    assert late[0] == "stop" and late[1].startswith("PLAN ") and late[1].endswith("MIN TOO LONG: DO NOT START")
    assert lines(page)["both_lift"] == "--:--" == page.inner_text("#last-press")
    read(page)
    page.click("[data-step=both_climate_check]")  # the second reading is due now
    assert verdict(page) == ("wait", "NOT READ", "air, humidity, glass, frame still to be read at the first bead")
    read(page, 2, humidity="90", air="17")
    assert verdict(page)[1] == "NO-GO: DO NOT BOND"
    page.evaluate("window.scrollTo(0, 3000)")
    box = page.locator("#verdict").bounding_box()
    assert box["y"] >= 0 and box["y"] + box["height"] < 740 / 3  # it stays at the top wherever he reads


def test_the_abort_follows_the_open_time_as_read(opened):
    page = opened(page_of("SW-01"))
    read(page, air="26", humidity="50", glass="24", frame="24")
    limit = 0.8 * climate.open_time(air=26, humidity=50, open_time_at_23=30, halving=10)
    page.click("[data-step=begin]")
    page.click("[data-step=both_bead]")
    assert minutes(page.inner_text("#abort")) == int(7 * 60 + 50 + limit)
    assert page.inner_text("#from-bead") == str(int(limit))


def test_neither_yesterdays_reading_nor_a_pane_that_fails_or_was_not_checked_is_a_go(opened):
    page = opened(page_of("SW-01"))
    read(page)
    assert verdict(page)[0] == "go"
    at(page, 7, 50, day=5)
    assert verdict(page)[:2] == ("wait", "NOT READ TODAY")
    page = opened(page_of("SW-06"))
    read(page)
    assert verdict(page)[:2] == ("stop", "NOT FOR MANUFACTURE: DO NOT FIT")
    page = opened(page_of("oval"))
    assert contents_of("oval").check.state.deciding and not contents_of("oval").check.state.not_for_manufacture
    read(page)
    assert verdict(page)[:2] == ("wait", "PANE NOT CHECKED: ASK THE OFFICE")


# Alarms.


@pytest.mark.parametrize("silent", [False, True])
def test_alarms_of_longest_wait_last_press_and_abort(opened, silent):
    """By words and colour, and by sound and shaking where the phone has them; what was heard is quiet, also after a reload."""
    page = opened(page_of("SW-01"), script=NO_SOUND if silent else BEEPS)

    def alarm() -> str:
        return page.inner_text("#alarm-head") if page.is_visible("#alarm") else ""

    page.fill("[data-own='wait.3']", "30")  # the primer of the glass may wait 30 min
    page.click("[data-step=begin]")
    page.click("[data-step=glass_unmask]")  # primed at 07:50
    at(page, 8, 14)
    assert alarm() == ""
    at(page, 8, 15)
    assert alarm() == "GLASS: bonded by 08:20" and page.inner_text("#alarm-words") == "in 5 min 00 s"
    page.click("[data-act=heard]")
    assert alarm() == ""
    at(page, 8, 20)
    assert alarm() == "GLASS WAITED TOO LONG: activate again" and page.title() == f"!!! {alarm()}"
    page.click("[data-act=heard]")
    page.reload()
    assert alarm() == ""
    page.click("[data-step=both_bead]")
    told = [page.inner_text(f"#{name}") for name in ("last-press", "lift-by", "abort")]
    assert told == ["08:35", "not after 08:31", "08:41"]  # + 14.25 up, + 11.8 down, + 21.8 down
    at(page, 8, 26)
    assert alarm() == "last lift at 08:31"
    page.click("[data-act=heard]")
    page.click("[data-step=both_lift]")
    for _ in range(2):
        page.click("[data-step=both_lift]")  # a second tap opens what corrects it
        page.click("[data-act=minus]")
        page.click("[data-act=close]")
    assert page.inner_text("#last-press") == "08:34"  # lifted at 08:24
    at(page, 8, 34)
    assert alarm() == "LAST PRESS: it should be home now" and page.is_visible("#alarm-home")
    page.click("[data-act=heard]")
    at(page, 8, 36)
    assert alarm() == "ABORT at 08:41"
    calm = page.evaluate("getComputedStyle(document.querySelector('#alarm')).backgroundColor")
    page.click("[data-act=heard]")
    before = page.evaluate("[window.beeps, window.shakes]")
    at(page, 8, 41)
    page.clock.run_for(3000)
    assert alarm() == "ABORT: DO NOT PLACE" and "take the bead off" in page.inner_text("#alarm-words")
    assert page.evaluate("getComputedStyle(document.querySelector('#alarm')).backgroundColor") != calm
    if not silent:
        assert all(
            after >= earlier + 3 for after, earlier in zip(page.evaluate("[window.beeps, window.shakes]"), before, strict=True)
        )
    page.click("[data-act=heard]")
    assert verdict(page)[:2] == ("stop", "PAST ABORT 08:41: DO NOT PLACE")
    assert page.is_visible("#after-abort") and "do not place" in page.inner_text("#now-next")
    page.click("[data-act=anew]")
    assert page.is_visible("#after-abort")  # a second tap is asked for
    page.click("[data-act=anew]")
    assert page.is_hidden("#after-abort")
    assert [each["step"] for each in page.evaluate("cardPage.record().taps")].count("both_bead") == 1  # it stays in the record


def test_pressed_home_in_time_ends_the_alarms_and_too_late_is_told(opened):
    page = opened(page_of("SW-01"))
    page.click("[data-step=begin]")
    page.click("[data-step=both_bead]")
    at(page, 8, 5)
    assert page.inner_text("#alarm-head") == "LAST PRESS: it should be home now"
    page.click("#alarm-home")
    at(page, 8, 40)
    assert page.is_hidden("#alarm") and verdict(page) == ("go", "PRESSED HOME", "at 08:05, before the abort 08:11")
    page.click(".home")
    for _ in range(7):
        page.click("[data-act=plus]")
    assert verdict(page)[:2] == ("stop", "PRESSED AFTER THE ABORT")


# Kept and saved.


def test_reload_and_flight_mode_lose_nothing_and_another_mark_is_kept_apart(opened):
    page = opened(page_of("SW-01"))
    read(page)
    page.click("[data-step=begin]")
    page.click("[data-step=frame_abrade]")
    page.fill("[data-field='adhesive.lot']", "0071E2")
    page.fill("[data-field='gap.3']", "6,4")
    page.fill("[data-field='flush.2']", "0,5")
    page.click("[data-sign='flush.2']")
    page.select_option("[data-field='tear_test.result']", "cohesive")
    page.fill("[data-field='notes']", "invented note")
    before = page.evaluate("cardPage.record()")
    assert before["entries"]["flush.2"] == -0.5
    page.reload()
    assert page.evaluate("cardPage.record()") == before
    assert page.input_value("[data-field='adhesive.lot']") == "0071E2"
    newer = opened(other(TEXT.replace("plies = [10], treatment", "plies = [12], treatment", 1)), context=page.context)
    assert newer.evaluate("cardPage.record()")["entries"] == {}
    told = newer.inner_text("#others")
    assert before["mark"] in told and "kept apart" in told
    with newer.expect_download() as download:
        newer.click("#others button")
    saved = json.loads(download.value.path().read_text("utf-8"))
    assert (saved["mark"], saved["entries"], saved["taps"]) == (before["mark"], before["entries"], before["taps"])


def test_a_phone_that_keeps_nothing_is_told_and_a_reload_still_loses_nothing(opened):
    barred = "Object.defineProperty(window,'localStorage',{get(){throw new DOMException('barred','SecurityError')}});"
    page = opened(page_of("SW-01"), script=barred)
    assert page.inner_text("#kept").startswith("NOT KEPT")
    page.fill("[data-field='name.bonded']", "A. Invented")
    page.on("dialog", lambda dialog: dialog.accept())
    page.reload()
    assert page.input_value("[data-field='name.bonded']") == "A. Invented"


def test_the_saved_file_is_read_back_as_the_record_of_its_pane(opened, tmp_path):
    contents = contents_of("SW-01")
    page = opened(page_of("SW-01"))
    read(page)
    page.click("[data-step=begin]")
    page.clock.run_for(70_000)
    page.click("[data-step=frame_abrade]")
    page.click("[data-step=frame_abrade]")  # a second tap corrects, it notes nothing new
    page.click("[data-act=close]")
    page.fill("[data-field='adhesive.lot']", "007")
    page.fill("[data-field='adhesive.expiry']", "2027-01")
    page.fill("[data-field='bonding.date']", "2026-05-04")
    page.fill("[data-field='gap.1']", "6,4")
    page.evaluate("for (const each of document.querySelectorAll('details')) each.open = true")
    page.select_option("[data-field='goods_in.edges']", "yes")
    page.fill("[data-field='signature.name']", "A. Invented")
    with page.expect_download() as download:
        page.click("[data-act=save]")
    assert download.value.suggested_filename == "SW-01-A-bonding-record.json"
    path = tmp_path / "record.json"
    download.value.save_as(path)
    assert path.read_text("utf-8") == page.input_value("#text")
    assert json.loads(path.read_text("utf-8")) == {
        "schema": 1,
        "kind": "bonding record",
        "program": json.loads(path.read_text("utf-8"))["program"],
        "code": "SW-01",
        "revision": "A",
        "mark": contents.mark,
        "entries": {
            "bonding.date": "2026-05-04",
            "adhesive.lot": "007",
            "adhesive.expiry": "2027-01",
            "goods_in.edges": "yes",
            "climate.1.time": "2026-05-04T07:50:00",
            "climate.1.air": 21,
            "climate.1.humidity": 55,
            "climate.1.frame": 19,
            "climate.1.glass": 19,
            "gap.1": 6.4,
            "signature.name": "A. Invented",
        },
        "taps": [{"step": "frame_abrade", "at": "2026-05-04T07:51:10"}],
    }
    files = found_records([str(path)])
    assert not files.faults
    record, faults = record_of(files.records[0], record_fields(contents.check))
    assert not faults and record.number("gap.1") == 6.4 and record.text("adhesive.lot") == "007"
    assert record.minute("step.frame_abrade.at") == pytest.approx(7 * 60 + 51 + 10 / 60)


# As it is read.


@pytest.mark.parametrize("name", ("SW-06", "SW-09", "strip of 3000"))
def test_a_narrow_screen_needs_no_sideways_scroll_and_every_target_takes_a_finger(opened, name):
    page = opened(page_of(name))
    page.evaluate(OPEN_ALL)
    wide, high = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.scrollHeight]")
    assert wide <= 360 and high > 5000
    small = page.evaluate(
        """(least) => [...document.querySelectorAll("button, a, summary, input, select, textarea")].filter((each) => {
          const box = each.getBoundingClientRect(); return box.width < least || box.height < least }).map((each) => each.outerHTML)""",
        FINGER,
    )
    assert small == []
    biggest = page.evaluate(
        """() => [...document.querySelectorAll("main *")].filter((each) => [...each.childNodes].some((node) => node.nodeType === 3
          && node.textContent.trim())).map((each) => [parseFloat(getComputedStyle(each).fontSize), each.id]).sort((a, b) => b[0] - a[0]).slice(0, 2)"""
    )
    assert [name for _, name in biggest] == ["abort", "last-press"] and biggest[1][0] >= 60


CONTRAST = """() => {
  const parts = (colour) => { const found = colour.match(/[\\d.]+/g).map(Number); return found.length < 4 ? [...found, 1] : found };
  const light = ([r, g, b]) => [r, g, b].map((each) => each / 255).map((each) => each <= 0.04045 ? each / 12.92 : ((each + 0.055) / 1.055) ** 2.4)
    .reduce((sum, each, place) => sum + each * [0.2126, 0.7152, 0.0722][place], 0);
  const under = (element) => { for (let each = element; each; each = each.parentElement) { const found = parts(getComputedStyle(each).backgroundColor);
    if (found[3] === 1) return found; if (found[3] !== 0) return [127, 127, 127] } return [255, 255, 255] };
  const bad = []; let count = 0;
  for (const each of document.querySelectorAll("body *")) {
    const lettered = each.namespaceURI.endsWith("svg") ? each.tagName === "text" : each.matches("input, select, textarea") ||
      [...each.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim());
    if (!lettered || each.closest("script, option, noscript") || getComputedStyle(each).display === "none" || !each.getClientRects().length) continue;
    const style = getComputedStyle(each), ink = light(parts(each.tagName === "text" ? style.fill : style.color)), paper = light(under(each));
    const ratio = (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05);
    count += 1;
    if (ratio < 4.5 && !(each.tagName === "text" && each.closest('[id$="ON_PLATES"]'))) bad.push([ratio.toFixed(2), each.outerHTML.slice(0, 120)]);
  }
  return [count, bad];
}"""


@pytest.mark.parametrize("dark", [False, True])
def test_every_word_stands_out_by_day_at_night_in_black_and_white_and_on_paper(opened, dark):
    """Contrast of 4.5 to 1 and more: W3C WCAG 2.2, 1.4.3, with the relative luminance of its glossary; also as a dark phone has it."""
    page = opened(page_of("SW-01"), color_scheme="dark" if dark else "light")
    page.click("[data-step=begin]")
    page.fill("[data-field='gap.1']", "99")
    page.evaluate(OPEN_ALL)
    for look in ("", "print") if dark else LOOKS:
        if look in LOOKS:
            page.evaluate("(look) => document.querySelector(`button[data-look=${look}]`).click()", look)
        page.emulate_media(media="print" if look == "print" else "screen", color_scheme="dark" if dark else "light")
        for state in ("go", "wait", "stop"):
            page.evaluate("(state) => { document.querySelector('#verdict').className = `verdict ${state}` }", state)
            count, bad = page.evaluate(CONTRAST)
            assert count > 150 and bad == [], look
        colours = page.evaluate(
            "['body', '#verdict'].map((each) => getComputedStyle(document.querySelector(each)).backgroundColor)"
        )
        if look in ("mono", "print"):
            assert set(colours) <= {"rgb(255, 255, 255)", "rgb(0, 0, 0)"}
        assert (colours[0] == "rgb(0, 0, 0)") == (look == "night" or (dark and look != "print"))
