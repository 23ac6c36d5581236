"""What is counted and not judged, as statements: side by side, day after day, around dates of her own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Literal

from tracker.analysis import counts_wording as wording
from tracker.analysis.counts import Comparison, Count, SideBySide
from tracker.analysis.dated_changes import BeforeAfter, Cut
from tracker.analysis.day_to_day import DayToDay, LowRun, Waited
from tracker.analysis.results import KeepingFinding, Statement
from tracker.diary.dates import long_day

YEARS_TOLD = 2
"""Calendar years of which the runs of low days are said; every run stands in the numbers."""
Of = Literal["low", "anxious"]
DAYS: dict[Of, tuple[str, str]] = {
    "low": ("a low day", "another day"),
    "anxious": ("an anxious day", "a day noted as not anxious"),
}


def side_by_side_statements(counts: SideBySide) -> list[Statement]:
    """Say the counts of mood, then of the anxious mark; nothing where days of one class alone are kept."""
    found = [*_side_by_side(counts, "mood", "low"), *_side_by_side(counts, "anxious", "anxious")]
    smallest = min((row.low.of for row in counts.after_sleep), default=0)
    caution = wording.COMMON if smallest < wording.SMALL_CLASSES else wording.NOT_JUDGED
    return [replace(one, text=f"{one.text} {caution}") for one in found[:1]] + found[1:]


def _side_by_side(counts: SideBySide, outcome: str, of: Of) -> Iterator[Statement]:
    names = [wording.sleep_class(row.sleep, counts.limit, counts.long_from) for row in counts.after_sleep]
    after = [row.low if of == "low" else row.anxious for row in counts.after_sleep]
    if sum(count.of > 0 for count in after) > 1:
        yield _counted("counts", outcome, _after_sleep(counts, names, after, of))
    told = counts.comparison("short sleep", "low day" if of == "low" else "anxious day")
    if told.there.of and told.elsewhere.of:
        yield _counted("counts", outcome, _short_after(told, names[0], of))


def _after_sleep(counts: SideBySide, names: Sequence[str], after: Sequence[Count], of: Of) -> str:
    if of == "anxious":
        return wording.anxious_after_sleep([(name, *count) for name, count in zip(names, after, strict=True)])
    rows = zip(names, after, counts.after_sleep, strict=True)
    told = wording.low_after_sleep([(name, *count, row.expected) for name, count, row in rows])
    return " ".join([told, *([wording.across(len(counts.across), counts.limit)] if counts.across else [])])


def _short_after(told: Comparison, short: str, of: Of) -> str:
    there, elsewhere = DAYS[of]
    return wording.short_after_days(short, there, told.there, elsewhere, told.elsewhere)


def _counted(topic: Literal["counts", "changes", "record"], outcome: str, text: str) -> Statement:
    return Statement(topic=topic, outcome=outcome, verdict=None, text=text)


def day_to_day_statements(
    found: DayToDay, keeping: Sequence[KeepingFinding], years: Sequence[int]
) -> list[Statement]:
    """Say how days follow each other.

    Parameters
    ----------
    years : sequence of int
        Calendar years with a mood, the oldest first.
    """
    texts = [_runs(found.runs, year) for year in years[-YEARS_TOLD:]]
    if found.far.of:
        texts.append(wording.far_from_the_day_before(*found.far))
    if found.months.common:
        texts.append(wording.months_in_step(*found.months, *found.months.common))
    told = [_counted("record", "", text) for text in texts]
    shown = {finding.outcome for finding in keeping if finding.verdict == "shown"}
    waited = [one for one in found.waited if one.after.number + one.otherwise.number]
    return [*told, *(_waited(one, shown=one.outcome in shown) for one in waited)]


def _runs(runs: Sequence[LowRun], year: int) -> str:
    here = [run for run in runs if run.first.year == year]
    longest = max(here, key=lambda run: run.days, default=None)
    lengths = (longest.days, longest.kept) if longest else (0, 0)
    return wording.low_runs(len(here), year, lengths, sum(run.is_open for run in here))


def _waited(waited: Waited, *, shown: bool) -> Statement:
    say = wording.kept_less_often if shown else wording.waited_after
    return Statement(
        topic="record",
        outcome=waited.outcome,
        verdict="shown" if shown else None,
        text=say(waited.outcome, waited.after, waited.otherwise),
    )


def change_statements(changes: Sequence[BeforeAfter]) -> list[Statement]:
    """Say what was counted before and after each change, the newest first."""
    return [statement for change in reversed(changes) for statement in _change(change)]


def _change(found: BeforeAfter) -> list[Statement]:
    words, day = found.change.words, long_day(found.change.day)
    if not found.window:
        return [_counted("changes", "", wording.uncounted(words, day, wording.TOO_NEAR))]
    if not found.cuts:
        return [_counted("changes", "", wording.uncounted(words, day, wording.NOT_KEPT_WELL))]
    return [_cut(cut, found.window, words, day) for cut in found.cuts]


def _cut(cut: Cut, window: int, words: str, day: str) -> Statement:
    parts = [wording.around(wording.OUTCOMES[cut.outcome], cut.before, cut.after, window, words, day)]
    if cut.as_large is not None:
        parts.append(wording.other_places(cut.as_large, cut.places))
    if cut.uneven:
        parts.append(wording.UNEVENLY_KEPT)
    return Statement(
        topic="changes",
        outcome={"low": "mood", "anxious": "anxious"}.get(cut.outcome, "sleep"),
        verdict=None,
        text=" ".join(parts),
        beside=(wording.MOVES_WITH_A_DATE,),
    )
