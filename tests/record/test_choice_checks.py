"""Choices from outside: what the program writes is taken, and anything else is named and refused."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from tracker.diary.breaks import Break
from tracker.diary.errors import TrackerError
from tracker.diary.own_changes import DatedChange
from tracker.diary.rota import DEFAULT_KINDS
from tracker.diary.scales import DEFAULT_SCALES, mood_scale, renamed, sleep_scale
from tracker.diary.settings import Settings
from tracker.diary.trial import Trial
from tracker.record.change_rows import change_value
from tracker.record.choice_checks import check_choice
from tracker.record.choice_rows import break_value, kind_value, scale_value, setting_values
from tracker.record.trial_rows import trial_missed_value, trial_stopped_value, trial_value

DAY = date(2026, 4, 1)
TRIAL = Trial(
    "t1", "a walk before work", "no walk", "mood", "higher", DAY, 2, 0, 20, "ab" * 32
)  # fmt: skip
OTHER = Settings(
    country="Wales", first_weekday=6, day_change_hour=5, theme="x", marks="ascii", fills=False,
    not_anxious=False, hemisphere="south", latitude=-41, short_sleep=5, works_shifts=False,
    lines=True, hide=True,
)  # fmt: skip
WRITTEN: list[dict[str, Any]] = [
    setting_values(OTHER, Settings()),
    setting_values(Settings(), OTHER),
    *(scale_value(scale) for scale in DEFAULT_SCALES.versions),
    scale_value(mood_scale(["bad", "so-so", "fine"], DAY)),
    scale_value(renamed(mood_scale(["bad", "so-so", "fine"], DAY), {1: "grim"})),
    scale_value(sleep_scale([0, 4, 6.5, 8], None, DAY)),
    *(kind_value(kind) for kind in DEFAULT_KINDS),
    {"kind.old": {"id": "old", "code": "x", "label": "box", "start": None, "end": None, "works": True}},
    break_value(Break(DAY)),
    break_value(Break(DAY, DAY)),
    {"page.wants": ["Sleep before early turns"], "page.changed": [], "help.own": ["Wenfold crew room"]},
    {"event.RLF": "relief", "event.Training": ""},
    change_value(DatedChange(DAY, "new post at Cawbrook Junction")),
    trial_value(TRIAL),
    trial_stopped_value(TRIAL, DAY),
    trial_missed_value(TRIAL, DAY, True),
    {"record.id": "0b6c2f3e-9d4c-4f6a-8f0e-3f6f3a1b2c4d"},
]


@pytest.mark.parametrize("values", WRITTEN, ids=lambda values: next(iter(values)))
def test_what_the_program_writes_is_taken(values: dict[str, Any]) -> None:
    for name, value in values.items():
        check_choice(name, value)


SCALE = scale_value(mood_scale(["bad", "so-so", "fine"], DAY))["scale.mood3-2026-04-01"]
LEVEL = SCALE["levels"][0]
KIND = kind_value(DEFAULT_KINDS[0])["kind.standard"]


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("colour.mood", "red"),
        ("setting.brightness", 1),
        ("setting.day_change_hour", 25),
        ("setting.day_change_hour", "4"),
        ("setting.fills", 1),
        ("setting.first_weekday", 9),
        ("setting.latitude", 91),
        ("setting.theme", "x" * 501),
        ("setting.theme", "red\x1b[31m"),
        ("setting.country", "\ud800"),
        ("scale.mood3-2026-04-01", {**SCALE, "levels": SCALE["levels"][:2]}),
        ("scale.mood3-2026-04-01", {**SCALE, "grid": "sleep"}),
        ("scale.other", SCALE),
        ("scale.mood3-2026-04-01", {**SCALE, "levels": [{**LEVEL, "rank": 9}, *SCALE["levels"][1:]]}),
        ("kind.standard", {**KIND, "code": "ss"}),
        ("kind.standard", {**KIND, "start": None}),
        ("kind.standard", {**KIND, "work": "perhaps"}),
        ("kind.night", KIND),
        ("break.2026-04-01", {"from": "2026-04-01", "to": "2026-03-01"}),
        ("break.2026-04-01", {"from": "2026-04-02", "to": None}),
        ("break.0001-01-01", {"from": "0001-01-01", "to": None}),
        ("page.wants", "Sleep"),
        ("page.wants", ["x"] * 21),
        ("event.RLF", 1),
        ("trial.t1", {**trial_value(TRIAL)["trial.t1"], "pairs": 10**9}),
        ("trial.t1", {**trial_value(TRIAL)["trial.t1"], "seed": "ab"}),
        ("change.2026-4-1", "new post"),
        ("change.2026-04-01", ""),
        ("change.2026-04-01", " new post"),
        ("change.2026-04-01", "x" * 41),
        ("change.2026-04-01", ["new post"]),
        ("trial.t1.missed.2026-04-01", "yes"),
        ("trial.t1.stopped", "soon"),
        ("record.id", "mine"),
        ("record.name", "0b6c2f3e-9d4c-4f6a-8f0e-3f6f3a1b2c4d"),
    ],
)  # fmt: skip
def test_anything_else_is_refused_in_a_sentence(name: str, value: Any) -> None:
    with pytest.raises(TrackerError):
        check_choice(name, value)
