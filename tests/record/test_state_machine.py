"""Any order of keeping, undoing, bringing back and reopening, against a list of whole states."""

from __future__ import annotations

import shutil
import tempfile
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from tracker.diary.breaks import Break, in_break
from tracker.diary.clock import Clock
from tracker.diary.days import Change, Field, State
from tracker.diary.errors import NothingToUndo
from tracker.diary.settings import Settings
from tracker.record.choice_rows import break_value
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
CLOCK = Clock(now=lambda: datetime(2026, 3, 17, 21, tzinfo=UTC), zone=ZoneInfo("Europe/London"))
VALUES: dict[Field, list[str]] = {
    "mood": ["mood5-1", "mood5-4"],
    "sleep": ["sleep8-0", "sleep8-6"],
    "anxious": ["yes", "no"],
    "shift": ["night", "off"],
    "note": ["tea", "rain"],
}
DAYS = st.integers(0, 4).map(lambda n: TODAY - timedelta(n))
Kept = dict[tuple[date, str], tuple[State, str]]
State_ = tuple[Kept, str, tuple[Break, ...]]
"""Squares, theme and breaks."""


@st.composite
def actions(draw: st.DrawFn) -> list[Change]:
    places = draw(
        st.lists(st.tuples(DAYS, st.sampled_from(list(VALUES))), min_size=1, max_size=4, unique=True)
    )
    return [_change(draw, day, field) for day, field in places]


def _change(draw: st.DrawFn, day: date, field: Field) -> Change:
    state: State = draw(st.sampled_from(["kept", "kept", "kept", "could not say", "cleared"]))
    value = draw(st.sampled_from(VALUES[field])) if state == "kept" else ""
    return Change(day, field, value, state)


class RecordMachine(RuleBasedStateMachine):
    """The model holds the whole state after every action, and the actions that were taken back."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.record = Record.open(self.folder / "r.sqlite", CLOCK)
        self.states: list[State_] = [({}, Settings().theme, ())]
        self.taken_back: list[State_] = []

    def teardown(self) -> None:
        self.record.close()
        shutil.rmtree(self.folder)

    def act(self, state: State_) -> None:
        if state != self.states[-1]:
            self.states.append(state)
            self.taken_back.clear()

    @rule(changes=actions())
    def keep(self, changes: list[Change]) -> None:
        kept, theme, breaks = self.states[-1]
        kept = dict(kept)
        ended = []
        for change in changes:
            place, new = (change.day, change.field), (change.state, change.value)
            if change.state == "cleared":
                kept.pop(place, None)
            elif kept.get(place) != new:
                kept[place] = new
                ended += [change.day] if change.field in ("mood", "sleep") else []
        self.record.keep(changes, "changes")
        self.act((kept, theme, _ended(breaks, ended)))

    @rule(theme=st.sampled_from(["wenfold-dusk", "a", "b"]))
    def choose(self, theme: str) -> None:
        kept, _, breaks = self.states[-1]
        self.record.keep_settings(Settings(theme=theme))
        self.act((kept, theme, breaks))

    @rule(day=DAYS)
    def start_a_break(self, day: date) -> None:
        kept, theme, breaks = self.states[-1]
        if not in_break(day, breaks):
            self.record.choose(break_value(Break(day)), "break")
            self.act((kept, theme, tuple(sorted((*breaks, Break(day)), key=lambda span: span.from_day))))

    @rule()
    def undo(self) -> None:
        if len(self.states) == 1:
            self._refused(self.record.undo)
        else:
            self.record.undo()
            self.taken_back.append(self.states.pop())

    @rule()
    def redo(self) -> None:
        if not self.taken_back:
            self._refused(self.record.redo)
        else:
            self.record.redo()
            self.states.append(self.taken_back.pop())

    @staticmethod
    def _refused(act: object) -> None:
        try:
            assert callable(act)
            act()
        except NothingToUndo:
            return
        raise AssertionError("there was something to take back")

    @rule()
    def reopen(self) -> None:
        self.record.close()
        self.record = Record.open(self.record.path, CLOCK)

    @invariant()
    def the_record_is_as_the_model(self) -> None:
        kept = {
            (day.date, field): (square.state, square.value)
            for day in self.record.days().values()
            for field in VALUES
            if (square := day.square(field))
        }
        choices = self.record.choices()
        assert (kept, choices.settings.theme, choices.breaks) == self.states[-1]

    @invariant()
    def the_first_day_is_that_of_a_plain_search(self) -> None:
        used = [
            day
            for (day, field), (state, _) in self.states[-1][0].items()
            if field in ("mood", "sleep") and state == "kept"
        ]
        assert self.record.first_day() == min(used, default=None)


def _ended(breaks: tuple[Break, ...], days: list[date]) -> tuple[Break, ...]:
    after = []
    for span in breaks:
        inside = [day for day in days if span.to_day is None and span.holds(day)]
        end = min(inside) - timedelta(1) if inside else span.to_day
        if end is None or end >= span.from_day:
            after.append(Break(span.from_day, end))
    return tuple(after)


RecordMachine.TestCase.settings = settings(
    max_examples=25,
    stateful_step_count=20,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
TestAnyOrder = RecordMachine.TestCase
