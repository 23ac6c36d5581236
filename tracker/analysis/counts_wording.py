"""Counts in plain words: each sentence once, from plain values. Nothing here is judged."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.words import counted, sentence

FEW = "fewer than 10 days"
SMALL_CLASSES = 80
"""Days in the smallest class under which it is said how far shares differ by chance."""
COMMON = "Counted, not judged: with classes this small, shares 10 points apart are common without any link."
NOT_JUDGED = "Counted, not judged."
MOVES_WITH_A_DATE = (
    "Season, rota and other changes move with a date. A date is often set when things are worst, and after "
    "such days they mostly get better by themselves."
)
MAY_HAVE_BEEN_DIFFERENT = "Days you did not keep may have been different; no count here has them."
AS_THEY_STAND = (
    "Counts as they stand; verdicts allow for weekday, shift and slow change.",
    "Counts are plain, verdicts adjusted.",
)
"""Explains a count that differs where nothing is shown, and the same where there is little room."""


def sleep_class(name: str, limit: float, long_from: float | None) -> str:
    """A class of sleep by its hours: `under 6 h`, `6 to under 8 h`, `8 h or more`."""
    if name == "short":
        return f"under {limit:g} h"
    if name == "long":
        return f"{long_from:g} h or more"
    return f"{limit:g} h or more" if long_from is None else f"{limit:g} to under {long_from:g} h"


def of_days(number: int, of: int, unit: str = "") -> str:
    """So many of so many, and that they are few where they are."""
    return f"{number} of {of}{unit}{f' ({FEW})' if of < 10 else ''}"


def low_after_sleep(classes: Sequence[tuple[str, int, int, float | None]]) -> str:
    """Low days after sleeps of each class: its name, low days, days, and low days to be expected."""
    told = []
    for place, (name, number, of, expected) in enumerate(classes):
        count = of_days(number, of, "" if place else " days")
        why = "" if place else " from the shifts of those days"
        about = "" if expected is None else f" (about {expected:.0f} expected{why})"
        told.append(f"{name} {'' if place else 'mood was low '}on {count}{about}")
    return f"After a sleep {', after '.join(told)}."


def anxious_after_sleep(classes: Sequence[tuple[str, int, int]]) -> str:
    """Days marked anxious after sleeps of each class."""
    (name, number, of), *others = classes
    first = f"After a sleep {name} {of_days(number, of, ' days')} were marked anxious"
    return f"{', '.join([first, *(f'after {name} {of_days(number, of)}' for name, number, of in others)])}."


def short_after_days(
    short: str, day: str, there: tuple[int, int], other: str, elsewhere: tuple[int, int]
) -> str:
    """Short sleeps after one kind of day and after the others."""
    after = f"after {other} on {of_days(*elsewhere)}"
    return f"After {day} the next sleep was {short} on {of_days(*there, ' days')}, {after}."


def across(number: int, limit: float) -> str:
    """Sleeps that are in no class."""
    verb = "lies" if number == 1 else "lie"
    return f"{counted(number, 'sleep')} {verb} in a bucket across {limit:g} h, and so in no class."


# --- days one after another ----------------------------------------------------------------------


def low_runs(number: int, year: int, longest: tuple[int, int], touching: int) -> str:
    """Runs of low days in a year: how many, days and days kept of the longest, those that may be longer."""
    if not number:
        return f"No run of 3 or more low days in {year}."
    days, kept = longest
    told = f"{counted(number, 'run')} of low days in {year}, the longest {days} days"
    told += "" if kept == days else f" ({kept} kept)"
    if not touching:
        return f"{told}."
    verb = "touches" if touching == 1 else "touch"
    return f"{told}; {touching} {verb} days not kept and may have been longer."


def far_from_the_day_before(number: int, of: int) -> str:
    """How often mood moved far from one day to the next."""
    return f"On {number} of {counted(of, 'day')} mood stood two or more levels from the day before."


def months_in_step(same: int, opposite: int, low: int, high: int) -> str:
    """Whether low days and short sleeps rose and fell together from month to month."""
    moved = f"the same way {counted(same, 'time')}, opposite ways {counted(opposite, 'time')}"
    return (
        f"From month to month low days and short sleeps moved {moved}; with nothing between them, {low} to "
        f"{high} of {same + opposite} is common."
    )


def waited_after(outcome: str, after: tuple[int, int], otherwise: tuple[int, int]) -> str:
    """How many squares waited after one kind of day and after the others."""
    before = "a low mood" if outcome == "mood" else "a short sleep"
    waited = f"waited on {of_days(*after, ' days')}, after others on {of_days(*otherwise)}"
    return f"After {before} the next {outcome} {waited}."


def kept_less_often(outcome: str, after: tuple[int, int], otherwise: tuple[int, int]) -> str:
    """That days are kept or not by what stood the day before."""
    before = "low mood" if outcome == "mood" else "short sleep"
    less = after[0] * otherwise[1] > otherwise[0] * after[1]
    return (
        f"Days after {before} were kept {'less' if less else 'more'} often: {after[0]} of {after[1]} waited, "
        f"after other days {otherwise[0]} of {otherwise[1]}. {MAY_HAVE_BEEN_DIFFERENT}"
    )


# --- before and after a date ------------------------------------------------------------------------

OUTCOMES = {"low": "low days", "anxious": "anxious days", "short sleep": "short sleeps"}


def around(
    outcome: str, before: tuple[int, int], after: tuple[int, int], window: int, change: str, day: str
) -> str:
    """The days before and after a date of her own."""
    earlier = f"{before[0]} of {before[1]} kept in the {window} days before '{change}' ({day})"
    return f"{sentence(outcome)}: {earlier}, {after[0]} of {after[1]} in the {window} from that day on."


def other_places(number: int, places: int) -> str:
    """At how many other places of the record the same cut differs as much."""
    return f"At {number} of {places} other places of the record a cut of the same length differs as much."


UNEVENLY_KEPT = "The two sides were not kept alike, so they compare badly."


TOO_NEAR = "fewer than 28 days lie on one side of it, free of other changes."
NOT_KEPT_WELL = "not kept well enough to compare."
"""Why nothing is counted around a date, and why not around one that has days enough."""


def uncounted(change: str, day: str, why: str) -> str:
    """That nothing is counted around a date."""
    return f"'{change}' ({day}): {why}"
