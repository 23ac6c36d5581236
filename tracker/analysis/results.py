"""What findings are: frozen plain values without arrays, for screens, pages and files."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal, NamedTuple

from tracker import words
from tracker.analysis.counts import SideBySide
from tracker.analysis.dated_changes import BeforeAfter
from tracker.analysis.day_to_day import DayToDay
from tracker.analysis.describe import GroupRow
from tracker.analysis.groups import By, Which
from tracker.analysis.lags import First, Verdict
from tracker.analysis.reading import Gaps, Kept
from tracker.diary.dates import long_day

EndsOf = Literal["day", "day before", "weekday", "days after nights"]
Topic = Literal["lags", "counts", "shifts", "weekdays", "seasons", "changes", "record"]
TOPICS: tuple[Topic, ...] = ("lags", "seasons", "shifts", "weekdays")
"""What can be asked for; counts come with the lags, and statements on the record itself always."""


def number_or_none(value: float) -> float | None:
    """Return a number as findings hold it: None in the place of nan."""
    return None if math.isnan(value) else float(value)


@dataclass(frozen=True, kw_only=True)
class Statement:
    """One thing that is said, with all that it rests on."""

    topic: Topic
    outcome: str
    """`mood`, `sleep`, `anxious`, or empty for the record as a whole."""
    verdict: Verdict | None
    """None: counted or described, not judged."""
    text: str
    """In plain words, ready to show."""
    lag: int | None = None
    """The lag of `effect`, `interval` and `pairs` (topic lags)."""
    effect: float | None = None
    """Correlation beyond the own past at `lag` (topic lags); amplitude in levels (topic seasons)."""
    interval: tuple[float, float] | None = None
    """95 % interval of a correlation."""
    pairs: int | None = None
    """Pairs of days behind it, or days where one series is judged."""
    beside: tuple[str, ...] = ()
    """Sentences that must stand beside it, the same for all of its kind: once where many stand together."""
    numbers: str = ""
    """The numbers behind it, for those who ask: p-values, the smallest effect that would have been seen."""


@dataclass(frozen=True, kw_only=True)
class LagRow:
    """One lag; None where nothing can be computed or nothing is judged."""

    lag: int
    """Date of the outcome less date of the sleep; 0 the sleep before, -1 the sleep after."""
    pairs: int
    unadjusted: float | None
    """Spearman's rho as the days stand."""
    unadjusted_low: float | None
    unadjusted_high: float | None
    adjusted: float | None
    """rho without weekday, rota and slow change."""
    beyond_own_past: float | None
    """The same with the own past of both taken out; the verdict rests on it."""
    low: float | None
    """95 % interval of `beyond_own_past`."""
    high: float | None
    smallest: float | None
    """Correlation that would have been shown in 8 of 10 such records."""
    p: float | None
    """p-value after Holm's adjustment over the lags."""
    verdict: Verdict | None


Unjudged = Literal["rota", "days", "variety", "skipped days"]
"""Why there is no verdict on a link: too little of the rota entered, too few days, one value on almost all
days, or days that seem to be kept or not according to mood or sleep."""


class LinkSide(NamedTuple):
    """The sleep before, or the sleep after, as far as moods could be set beside it."""

    tested: bool
    left_out: int
    """Moods or marks kept in one sitting with the sleep before, or when the sleep after was known."""
    of: int
    """All that were used."""


class KeepingFinding(NamedTuple):
    """Whether squares waited according to the square of the day before."""

    outcome: str
    """`mood` or `sleep`."""
    p: float | None
    """After Holm's adjustment over the two."""
    level: float | None
    """p up to which it is shown; None where nothing is judged."""
    verdict: Verdict | None
    """Shown or nothing: the test is weak, so that it is not shown says nothing."""


@dataclass(frozen=True, kw_only=True)
class LagFinding:
    """Mood or the anxious mark against sleep."""

    outcome: str
    verdict: Verdict | None
    """None too where a negative link is not believed: see `unjudged`."""
    verdict_without_remembered: Verdict | None
    """Given if over a tenth of the days used were remembered."""
    level: float | None
    """p up to which a lag is shown; None where nothing is judged."""
    unjudged: Unjudged | None
    """Why there is no verdict, where days are judged."""
    days: int
    """Days with a mood or a sleep that are used."""
    days_kept: int
    """The same with the days whose shift, or that of the day before, is not entered and therefore lacks."""
    before: LinkSide
    after: LinkSide
    moment_unknown: int
    """Moods or marks used whose moment is not known: they may have been rated beside a sleep."""
    first: First | None
    """Which comes first, if shown."""
    strongest: int | None
    """Lag with the largest statistic, if judged."""
    adjusted_for: tuple[str, ...]
    in_a_hundred: int | None
    """Of 100 pairs of days that differ in both, those that agree at the strongest lag; only if shown."""
    needed: int
    """Days with both entries that are still needed before anything can be tested, about."""
    rows: tuple[LagRow, ...]
    """Lag -7 to 7."""

    def row(self, lag: int) -> LagRow:
        """Return the row of one lag."""
        return next(row for row in self.rows if row.lag == lag)

    def speaking(self, *, sleep_first: bool) -> LagRow | None:
        """Return the row that speaks for one side of a link, None where nothing is shown on that side.

        The strongest lag, where it lies on this side; else the nearest of the surest.
        """
        side = [row for row in self.rows if (row.lag >= 0) == sleep_first and row.verdict == "shown"]
        strongest = [row for row in side if row.lag == self.strongest]
        return min(strongest or side, key=lambda row: (row.p or 0.0, abs(row.lag)), default=None)


class Course(NamedTuple):
    """The course of one series over the year."""

    outcome: str
    years: int
    """Whole years that count."""
    verdict: Verdict | None
    p: float | None
    amplitude: float | None
    """Height of the yearly wave above its middle, in levels or buckets."""
    peak: tuple[int, int] | None
    """Month and day of its highest point."""
    peak_within: int | None
    """Days either side of the peak (95 %), only if shown."""
    peaks: tuple[tuple[int, int], ...]
    """Month and day of the highest point of each year."""
    smallest: float | None
    """Amplitude that would have been shown in 8 of 10 such records."""


class Group(NamedTuple):
    """What a group of days is called."""

    id: str
    """Of a kind of shift, what an entry holds; else the name again."""
    name: str


class Ends(NamedTuple):
    """The groups with the lowest and the highest median; those of one end are equal."""

    of: EndsOf
    """What they are groups of: kinds of shift of the day or of the day before, weekdays, ..."""
    lowest: tuple[Group, ...]
    highest: tuple[Group, ...]


@dataclass(frozen=True, kw_only=True)
class GroupFinding:
    """One outcome compared between shift kinds, weekdays, or days after nights."""

    outcome: str
    by: By
    days: int
    p: float | None
    """After Holm's adjustment over the page; of kinds of shift the smaller of the two."""
    level: float | None
    """p up to which it is shown; None where nothing is judged."""
    smallest: float | None
    """Share of the differences between days that would have been shown, 0 to 1."""
    verdict: Verdict | None
    too_regular: bool
    """Whether the rota repeats itself so exactly that nothing can be compared with it."""
    named: tuple[Which, ...]
    """Kinds of shift, if shown: the day, the day before, or both; empty where they cannot be told apart."""
    p_of: Mapping[Which, float]
    """Kinds of shift: the adjusted p-values of both, as far as they were tested."""
    p_beyond: Mapping[Which, float]
    """Kinds of shift, if shown: p-values of each with the other taken out."""
    ends: tuple[Ends, ...]
    """Of kinds of shift for what is named, else one; empty where all medians are equal."""

    @property
    def topic(self) -> Topic:
        """What it is asked under: weekdays, or the shifts and what follows from them."""
        return "weekdays" if self.by == "weekday" else "shifts"


@dataclass(frozen=True, kw_only=True)
class Findings:
    """All that is said of a record on one day."""

    caution: str
    """Always the caution of the program; nothing else is taken."""
    as_of: date
    verdict_day: date | None = None
    """The last verdict day that has passed; None before the first and for days chosen by hand."""
    next_verdict_day: date | None = None
    """None for an empty record."""
    waits: bool = False
    """Whether the first verdict day is still to come: days are counted, and nothing is told of links."""
    first: date | None
    """First day that lags and groups rest on; None for an empty record."""
    last: date | None
    """Last of them: the verdict day, or the day asked where nothing is judged."""
    chosen: bool = False
    """Whether the days were chosen by hand: then described, never judged."""
    kept: Kept
    """Counts over first to last."""
    gaps: Gaps
    names: Mapping[str, tuple[str, ...]]
    """For "mood" and "sleep": what each place of `Row.counts` is called."""
    lags: tuple[LagFinding, ...] = ()
    keeping: tuple[KeepingFinding, ...] = ()
    counts: SideBySide | None = None
    """Counts on the days that lags rest on."""
    day_to_day: DayToDay | None = None
    """How the days follow each other, up to the last day kept."""
    changes: tuple[BeforeAfter, ...] = ()
    """What was counted before and after dates of her own."""
    wait_for_next: int = 0
    """Days kept since the last verdict day: no verdict rests on them yet."""
    season_verdict_day: date | None = None
    next_season_verdict_day: date | None = None
    months: tuple[GroupRow, ...] = ()
    seasons: tuple[GroupRow, ...] = ()
    courses: tuple[Course, ...] = ()
    years: tuple[GroupRow, ...] = ()
    shifts: tuple[GroupRow, ...] = ()
    runs: tuple[GroupRow, ...] = ()
    """Nights of a run, days after it, quick returns."""
    weekdays: tuple[GroupRow, ...] = ()
    groups: tuple[GroupFinding, ...] = ()
    statements: tuple[Statement, ...]

    def __post_init__(self) -> None:
        """Refuse to be without the caution."""
        if self.caution != words.CAUTION:
            raise ValueError("findings must carry the caution of the program, word for word")

    @property
    def days(self) -> int:
        """Days from first to last."""
        return (self.last - self.first).days + 1 if self.first and self.last else 0

    def standing(self) -> str:
        """Say as of which day this is, when verdicts follow, and on how many days it rests."""
        parts = [f"As of {long_day(self.as_of)}."]
        if self.verdict_day:
            parts.append(f"Verdicts of {long_day(self.verdict_day)}.")
        if self.next_verdict_day and not self.chosen:
            which = "First" if self.waits else "Next"
            verb = "waits" if self.wait_for_next == 1 else "wait"
            days = f"; {words.counted(self.wait_for_next, 'day')} kept since then {verb} for them"
            waits = days if self.wait_for_next and self.verdict_day else ""
            parts.append(f"{which} verdicts on {long_day(self.next_verdict_day)}{waits}.")
        if self.first and self.last:
            parts.append(
                f"Looked at from {long_day(self.first)} to {long_day(self.last)}: of "
                f"{words.counted(self.days, 'day')}, mood kept on "
                f"{self._used(self.kept.mood, self.kept.other_moods)}, sleep on "
                f"{self._used(self.kept.sleep, self.kept.other_sleeps)}, both on {self.kept.both}."
            )
        return " ".join(parts)

    @staticmethod
    def _used(number: int, other: int) -> str:
        """So many days, and how many more on levels that are compared no longer."""
        return f"{number} (and {other} on other levels, left out)" if other else str(number)
