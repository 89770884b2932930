"""The panes of a session laid over crew and guns: worked by hand, and every minute of random sessions looked at one by one."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.rules.day.time_plan import Rates, StepKind, bead_start, making_ready, placing
from geometry.workings.session_people import tasks_of
from geometry.workings.session_schedule import PaneWork, blocks_of, longest_of, scheduled, waits_of

ROUND = Rates(
    abrade=10, frame_wipe=2, frame_primer=3, clean=4, mask=1, glass_wipe=2, glass_primer=3, unmask=2,
    frame_wipe_flash=15, frame_primer_flash=20, glass_wipe_flash=15, glass_primer_flash=20, set_out=4, goods_in=5,
)  # fmt: skip
"""Whole minutes for a pane of 1 m of bead and 1 m²."""


def work(code="A", *, rates=ROUND, bead=5.0, step=15.0, begins=480.0, metres=1.0, check=3.0, **other):
    ready = making_ready(bead_length=1000 * metres, area=1e6, rates=rates)
    both = max(each.end for each in ready)
    start = bead_start(frame_ready=both, glass_ready=both, climate_check=check, work_begins=begins, clock_step=step)
    together = placing(ready=both, climate_check=check, bead_start=start, bead_time=bead, lift=3, align=4, press=3)
    return PaneWork(code, ready, together, step, begins, **other)


def times(steps):
    return {(each.chain, each.kind): (round(each.start, 6), round(each.end, 6)) for each in steps}


ALONE = {
    ("frame", StepKind.ABRADE): (0, 10), ("frame", StepKind.WIPE): (10, 12), ("frame", StepKind.PRIME): (27, 30),
    ("frame", StepKind.SET_OUT): (50, 54), ("glass", StepKind.GOODS_IN): (0, 5), ("glass", StepKind.CLEAN): (5, 9),
    ("glass", StepKind.MASK): (9, 11), ("glass", StepKind.WIPE): (11, 13), ("glass", StepKind.PRIME): (28, 31),
    ("glass", StepKind.UNMASK): (31, 33), ("both", StepKind.CLIMATE_CHECK): (54, 57), ("both", StepKind.BEAD): (60, 65),
    ("both", StepKind.LIFT): (65, 68), ("both", StepKind.ALIGN): (68, 72), ("both", StepKind.PRESS): (72, 75),
}  # fmt: skip


def test_the_first_pane_is_worked_as_if_alone():
    """By hand: 10 + 2 + 15 + 3 + 20 + 4 = 54 and 5 + 4 + 2 + 2 + 15 + 3 + 2 + 18 = 51; 54 + 3 is 08:57, the next quarter 09:00."""
    (steps,) = scheduled([work()], people=2, guns=1)
    found = times(steps)
    assert {key: found[key] for key in ALONE} == ALONE


def test_two_panes_two_people_one_gun_with_long_waits():
    """By hand. Of two people the first pane leaves one from 12, both from 13 to 27 and 33 to 50, nobody from 60 to 75.

    The second pane's landing is abraded from 12 to 24, its glass looked at from 13 and done from 18 to 26; primed from 39 and 41, when both
    are flashed off; its gun made ready from 75 to 79, when the first pane is pressed. 79 + 3 = 82: the bead at 90.
    """
    long = {"wipe_longest": (120.0, 120.0), "primer_longest": (240.0, 240.0)}
    first, second = scheduled([work("A", **long), work("B", **long)], people=2, guns=1)
    assert {key: times(first)[key] for key in ALONE} == ALONE
    found = times(second)
    by_hand = {
        ("frame", StepKind.ABRADE): (12, 22), ("frame", StepKind.WIPE): (22, 24), ("glass", StepKind.GOODS_IN): (13, 18),
        ("glass", StepKind.CLEAN): (18, 22), ("glass", StepKind.WIPE): (24, 26), ("frame", StepKind.PRIME): (39, 42),
        ("glass", StepKind.PRIME): (41, 44), ("glass", StepKind.UNMASK): (44, 46), ("frame", StepKind.SET_OUT): (75, 79),
        ("both", StepKind.CLIMATE_CHECK): (79, 82), ("both", StepKind.BEAD): (90, 95), ("both", StepKind.PRESS): (102, 105),
    }  # fmt: skip
    assert {key: found[key] for key in by_hand} == by_hand
    tasks = tasks_of([(work("A", **long), 1, first), (work("B", **long), 1, second)], crew=("one", "two"), guns=1)
    who = {(task.pane, task.chain, task.kind): task.who for task in tasks}
    assert who["A", "glass", StepKind.GOODS_IN] == ("one",) and who["A", "frame", StepKind.ABRADE] == ("two",)
    assert who["B", "frame", StepKind.ABRADE] == ("two",)  # free from 12, the other from 13
    assert who["B", "both", StepKind.BEAD] == ("one", "two")


def test_a_step_waits_only_where_somebody_said_how_long():
    """By hand: no longest wait is given, so the second pane's plan is the first's, begun at 75; only its goods-in check comes before."""
    first, second = scheduled([work("A"), work("B")], people=2, guns=1)
    found = times(second)
    assert {key: found[key] for key in ALONE if key[1] is not StepKind.GOODS_IN} == {
        key: (start + 75, end + 75) for key, (start, end) in ALONE.items() if key[1] is not StepKind.GOODS_IN
    }
    assert found["glass", StepKind.GOODS_IN] == (12, 17)  # one of the two is free from 12
    assert waits_of(second) == pytest.approx(waits_of(first))


def test_a_longest_wait_that_is_given_is_kept_to_the_minute():
    """By hand: primed from 39 to 42 the landing may be bonded until 92, and the last press is at 105: it is primed no sooner than 55 - 3.

    Both people are busy from 54 to 57 with the first pane: 57 to 60, 45 minutes before the last press.
    """
    tight = work("B", wipe_longest=(120.0, 120.0), primer_longest=(50.0, 240.0))
    _, second = scheduled([work("A"), tight], people=2, guns=1)
    assert times(second)["frame", StepKind.PRIME] == (57, 60)
    assert times(second)["both", StepKind.PRESS] == (102, 105)
    assert waits_of(second)["primer", "frame"] == pytest.approx(45)


def test_more_people_do_it_sooner_and_too_few_not_at_all():
    """Four people and two guns work both panes side by side; one person cannot place a pane, and no pane is bonded without a gun."""
    panes = [work("A"), work("B")]
    assert [times(each)["both", StepKind.PRESS] for each in scheduled(panes, people=4, guns=2)] == [(72, 75)] * 2
    assert scheduled(panes, people=1, guns=1) == (None, None)
    assert scheduled([work("A", guns=2), work("B")], people=2, guns=1)[0] is None
    assert scheduled([work("A", lifting=3), work("B")], people=2, guns=1)[1] == scheduled([work("B")], people=2, guns=1)[0]


def test_one_gun_between_two_crews():
    """Four people, one gun: the beads of two panes do not overlap, all else goes on side by side."""
    first, second = scheduled([work("A"), work("B")], people=4, guns=1)
    assert times(first)["both", StepKind.BEAD] == (60, 65)
    assert times(second)["both", StepKind.BEAD] == (75, 80)


MINUTES = st.integers(0, 30).map(float)
RATES = st.builds(
    Rates, abrade=MINUTES, frame_wipe=MINUTES, frame_primer=MINUTES, clean=MINUTES, mask=MINUTES, glass_wipe=MINUTES, glass_primer=MINUTES,
    unmask=st.integers(0, 9).map(float), frame_wipe_flash=MINUTES, frame_primer_flash=MINUTES, glass_wipe_flash=MINUTES,
    glass_primer_flash=MINUTES, set_out=MINUTES, goods_in=MINUTES,
)  # fmt: skip
LONGEST = st.tuples(*[st.one_of(st.none(), st.integers(1, 400).map(float))] * 2)


@st.composite
def sessions(draw):
    people, guns = draw(st.integers(2, 4)), draw(st.integers(1, 2))
    begins = draw(st.sampled_from([480.0, 487.0]))
    panes = [
        work(
            f"P{number}",
            rates=draw(RATES),
            bead=draw(st.integers(1, 20)) / 2,
            step=draw(st.sampled_from([0.0, 5.0, 15.0])),
            begins=begins,
            metres=draw(st.sampled_from([0.5, 1.0, 1.7])),
            check=draw(st.sampled_from([0.0, 3.0])),
            guns=draw(st.integers(1, guns)),
            lifting=draw(st.integers(2, people)),
            wipe_longest=draw(LONGEST),
            primer_longest=draw(LONGEST),
        )
        for number in range(draw(st.integers(1, 5)))
    ]
    return panes, people, guns


@settings(max_examples=60, deadline=None)
@given(sessions())
def test_every_minute_of_a_random_session(drawn):
    """Nobody and no gun twice at any minute, every step after the one before it and its flash-off, every wait kept, every bead on the clock."""
    panes, people, guns = drawn
    found = scheduled(panes, people=people, guns=guns)
    tasks = tasks_of(
        [(pane, 1, steps) for pane, steps in zip(panes, found, strict=True)],
        crew=[f"c{each}" for each in range(people)],
        guns=guns,
    )
    _nobody_twice(tasks, people)
    for pane, steps in zip(panes, found, strict=True):
        _in_order(pane, steps)
        longest, waits = longest_of(pane), waits_of(steps)
        assert all(waits[key] <= longest[key] + 1e-5 for key in waits)
        bead = next(each for each in steps if each.kind is StepKind.BEAD)
        if pane.clock_step:
            assert (pane.begins + bead.start) / pane.clock_step == pytest.approx(
                round((pane.begins + bead.start) / pane.clock_step)
            )
    _no_sooner_than_can_be(panes, people, guns, max(task.end for task in tasks))
    for count in range(1, len(panes)):  # the place of a pane hangs on those before it alone
        assert scheduled(panes[:count], people=people, guns=guns) == found[:count]


def _nobody_twice(tasks, people):
    """Minute by minute, and a moment behind the start of every step."""
    last = math.ceil(max(task.end for task in tasks))
    for moment in [*range(last + 1), *(task.start + 1e-4 for task in tasks)]:
        now = [task for task in tasks if task.start + 1e-5 < moment < task.end - 1e-5]
        busy = [who for task in now for who in task.who]
        assert len(busy) == len(set(busy)) <= people
        held = [gun for task in now for gun in task.guns]
        assert len(held) == len(set(held))


def _in_order(pane, steps):
    """The same steps, as long as alone, each after the one before; what one person does without a pause has none."""
    alone = [each for each in (*pane.ready, *pane.together) if each.kind is not StepKind.WAIT_FOR_CLOCK]
    for chain in ("frame", "glass", "both"):
        own = [each for each in alone if each.chain == chain]
        now = sorted(
            (each for each in steps if each.chain == chain and each.kind is not StepKind.WAIT_FOR_CLOCK),
            key=lambda each: own.index(next(one for one in own if one.kind is each.kind)),
        )
        assert [each.kind for each in now] == [each.kind for each in own]
        assert [each.length for each in now] == pytest.approx([each.length for each in own])
        assert all(after.start >= before.end - 1e-5 for before, after in itertools.pairwise(now))
    ready = max(each.end for each in steps if each.chain != "both")
    assert next(each.start for each in steps if each.kind is StepKind.CLIMATE_CHECK) >= ready - 1e-5
    placed = [
        next(each for each in steps if each.kind is kind)
        for kind in (StepKind.BEAD, StepKind.LIFT, StepKind.ALIGN, StepKind.PRESS)
    ]
    assert all(after.start == pytest.approx(before.end) for before, after in itertools.pairwise(placed))
    for block in blocks_of(pane):
        own = [next(each for each in steps if (each.chain, each.kind) == (block.chain, one.kind)) for one in block.steps]
        assert all(after.start == pytest.approx(before.end) for before, after in itertools.pairwise(own))


def _no_sooner_than_can_be(panes, people, guns, ends):
    """Never sooner than the longest pane alone, than all the work shared out evenly, than all the beads behind one another."""
    work_of_all = math.fsum(pane.taken_by(step) * step.length for pane in panes for step in (*pane.ready, *pane.together))
    beads = math.fsum(pane.guns * step.length for pane in panes for step in pane.together if step.kind is StepKind.BEAD)
    longest = max(_least_alone(pane) for pane in panes)
    assert ends >= max(work_of_all / people, beads / guns, longest) - 1e-5


def _least_alone(pane):
    """Both chains and what is done together, the clock left out."""
    chains = [math.fsum(step.length for step in pane.ready if step.chain == chain) for chain in ("frame", "glass")]
    return max(chains) + math.fsum(step.length for step in pane.together if step.kind is not StepKind.WAIT_FOR_CLOCK)


@settings(max_examples=30, deadline=None)
@given(sessions())
def test_a_pane_alone_in_its_session_is_worked_as_without_one(drawn):
    panes, people, guns = drawn
    pane = panes[0]
    (steps,) = scheduled([pane], people=people, guns=guns)
    kept = [each for each in (*pane.ready, *pane.together) if each.kind is not StepKind.WAIT_FOR_CLOCK]
    assert {key: at for key, at in times(steps).items() if key[1] is not StepKind.WAIT_FOR_CLOCK} == times(kept)
