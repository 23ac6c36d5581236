"""A finished trial on herself, in few sentences: what was tried, and what its one look showed."""

from __future__ import annotations

from tracker.diary.trial import Trial
from tracker.summary.page_data import PageData


def tried(data: PageData) -> str:
    """The newest trial that has ended by the day of the page; empty where it is not wanted, or none has."""
    ended = [trial for trial in data.choices.trials if trial.stage(data.today) == "ended"]
    return _told(data, ended[-1]) if data.options.trial and ended else ""


def _told(data: PageData, trial: Trial) -> str:
    from tracker.analysis.trial_wording import begun_in_words, plan_in_words, result_in_words
    from tracker.analysis.trials import judge

    trials = data.choices.trials
    result = judge(trial, list(data.days.values()), data.choices.scales, data.today, trials)
    verdict = result_in_words(result, None)[0]
    what = [] if result.verdict == "shown" else [plan_in_words(trial)[0]]
    return " ".join(filter(None, [*what, verdict, begun_in_words(trials, data.today)]))
