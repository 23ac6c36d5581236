"""What the page for the appointment says, from plain values.

Her own words come first, then counts, then what was tested. Counts only, each with what it is out of; never
a mean, never a percentage alone.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Day
from tracker.summary.completeness import completeness, reading
from tracker.summary.figures import columns, figures, year
from tracker.summary.page_data import PageData, PageOptions, page_data, usual_period
from tracker.summary.page_model import Page, PageFindings, day_and_month
from tracker.summary.pairs import counted_pairs, left_out, pairs
from tracker.summary.remarks import remarks
from tracker.summary.tried import tried
from tracker.summary.weeks import strip


def page_of(
    days: Mapping[date, Day],
    choices: Choices,
    options: PageOptions,
    today: date,
    clock: Clock,
    cancelled: Callable[[], bool] = lambda: False,
) -> Page:
    """The page of a record, with what its findings say as of the last day of the period.

    While today's mood waits the period ends yesterday, and the findings speak as of today.

    Raises tracker.analysis.findings.Left when it is cancelled.
    """
    from tracker.analysis.findings import find
    from tracker.summary.findings_text import page_findings

    data = page_data(days, choices, options, today, clock)
    as_of = today if data.last == usual_period(days, today)[1] else data.last
    findings = find(days.values(), choices, as_of=as_of, clock=clock, cancelled=cancelled)
    return make_page(data, page_findings(findings, data))


def make_page(data: PageData, tested: PageFindings) -> Page:
    """The page for the appointment."""
    listed, found = columns(data), counted_pairs(data)
    counts = figures(data, listed)
    return Page(
        made=data.today,
        first=data.first,
        last=data.last,
        wants=data.choices.page_lines.wants,
        changed=data.choices.page_lines.changed,
        figures=counts,
        remarks=remarks(data, listed, counts, found),
        pairs=pairs(data, found),
        left_out=left_out(data, found),
        tested=tested,
        strip=strip(data),
        tried=tried(data),
        notes=notes(data),
        year=year(data),
        complete=completeness(data),
        reading=reading(data),
    )


def notes(data: PageData) -> tuple[str, ...]:
    """The notes of the days she picked."""
    picked = sorted({at for at in data.options.note_days if at in data.days})
    return tuple(
        f"{day_and_month(at)}: {text}" for at in picked if (text := " ".join(data.days[at].note_text.split()))
    )
