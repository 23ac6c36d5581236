"""Whether the time of year comes back in mood, sleep and the anxious mark."""

from __future__ import annotations

import math

import numpy as np

from tracker.analysis.reading import Reading
from tracker.analysis.results import Course, number_or_none
from tracker.analysis.seasons import YearlyTest, day_of_year, yearly_test
from tracker.analysis.span import Span


def course_findings(reading: Reading, span: Span) -> tuple[Course, ...]:
    """Judge the yearly wave up to the last verdict day of seasons; before the first it is described."""
    judged = span.season_looks.last is not None and not span.chosen
    last = span.season_looks.last if judged else None
    series = reading.series.between(span.first, last or span.until)
    tests = {name: yearly_test(series.values(name), series.first) for name in series.answered}
    return tuple(_course(outcome, test, judged=judged) for outcome, test in tests.items())


def _course(outcome: str, test: YearlyTest, *, judged: bool) -> Course:
    return Course(
        outcome=outcome,
        years=test.years,
        verdict=test.verdict if judged else None,
        p=number_or_none(test.p) if judged else None,
        amplitude=test.wave.amplitude if test.wave else None,
        peak=day_of_year(test.wave.peak) if test.wave else None,
        peak_within=None if np.isnan(test.peak_within) or not judged else math.ceil(test.peak_within),
        peaks=tuple(day_of_year(wave.peak) for wave in test.each),
        smallest=number_or_none(test.smallest) if judged else None,
    )
