"""Trials as choices: `trial.ID` as it was drawn, `trial.ID.missed.DAY`, `trial.ID.stopped`."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from tracker.diary.trial import Trial


def trial_value(trial: Trial) -> dict[str, Any]:
    """The row of a trial as it is drawn; nothing of it ever changes."""
    plan = trial._asdict()
    del plan["stopped"], plan["missed"]
    return {f"trial.{trial.id}": {**plan, "first": trial.first.isoformat()}}


def trial_stopped_value(trial: Trial, day: date) -> dict[str, Any]:
    """The row that leaves a trial early."""
    return {f"trial.{trial.id}.stopped": day.isoformat()}


def trial_missed_value(trial: Trial, day: date, missed: bool) -> dict[str, Any]:
    """The row of a day that was not done as planned, or that was after all."""
    return {f"trial.{trial.id}.missed.{day.isoformat()}": True if missed else None}


def trials_from(values: Mapping[str, Any]) -> tuple[Trial, ...]:
    """The trials among the choices as they stand, oldest first."""
    plans = [value for name, value in values.items() if name.startswith("trial.") and isinstance(value, dict)]
    return tuple(sorted((_trial(plan, values) for plan in plans), key=lambda trial: (trial.first, trial.id)))


def _trial(plan: Mapping[str, Any], values: Mapping[str, Any]) -> Trial:
    stopped, missed = f"trial.{plan['id']}.stopped", f"trial.{plan['id']}.missed."
    return Trial(
        **{**plan, "first": date.fromisoformat(plan["first"])},
        stopped=date.fromisoformat(values[stopped]) if stopped in values else None,
        missed=frozenset(
            date.fromisoformat(name[len(missed) :]) for name in values if name.startswith(missed)
        ),
    )
