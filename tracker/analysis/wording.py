"""What findings say, in plain words: each sentence once, from plain values."""

from __future__ import annotations

from tracker.words import RESTS_ON_PAPER, SLEEP_AFTER, SLEEP_BEFORE, counted, listed, sentence

# --- strength and chance ----------------------------------------------------------------------

SLIGHT, CLEAR, STRONG = 0.10, 0.20, 0.35
"""Correlations from which a link is called so. Common practice, no source: words for one record, without
clinical meaning; the bands of Cohen 1988 are left out on purpose."""
OUTCOMES = {"mood": "mood", "sleep": "sleep", "anxious": "the anxious mark"}
"""What each series is called within a sentence."""


def strength(effect: float) -> str:
    """A correlation in a word; only ever said of one record."""
    named = ((SLIGHT, "hardly any"), (CLEAR, "a slight"), (STRONG, "a clear"))
    return next((name for below, name in named if abs(effect) < below), "a strong")


def strongest(effect: float) -> str:
    """How strong a link is, in words."""
    return f"{sentence(strength(effect))} link in this record, beyond what is allowed for."


def seen_from(effect: float, what: str = "link") -> str:
    """The smallest link or difference that a record could have shown, in words."""
    if abs(effect) < SLIGHT:
        return f"even a slight {what} would have been seen"
    least = strength(effect).removeprefix("a ")
    return f"to be seen, a {what} would have to be {'' if least == 'strong' else 'at least '}{least}"


def chance(p: float) -> str:
    """A p-value in two digits."""
    return "p < 0.001" if p < 0.001 else f"p = {p:.2g}"


def chance_with_limit(p: float, limit: float) -> str:
    """A p-value beside the one up to which something is shown."""
    return f"{chance(p)} (limit {limit:.3g})"


def chance_in_a_table(p: float | None) -> str:
    """The same under a heading that says what it is; a dash where nothing was tested."""
    return "-" if p is None else chance(p).removeprefix("p ").removeprefix("= ")


# --- links ------------------------------------------------------------------------------------

NOT_SHOWN_MEANS = (
    "Not shown is no proof that there is nothing: a weaker link or a smaller difference could have stayed "
    "hidden in these days."
)
NOT_THE_CAUSE = "Coming first in time is not the same as being the cause."
AS_NOTED = "Hours are as noted, not measured. Many people note too many, poor sleepers often too few."
COUNTED = "counted as they stand"
BY_CHANCE_AS_MUCH = "Described, not judged: chance alone can make numbers as large as these."
PERHAPS_SMALL = (
    "If there is a link from day to day, it is small. Slow links, over weeks or months, are not looked for."
)
SKIPPED_DAYS = (
    "Days seem to be kept or not according to mood or sleep, which alone can make such a link: after longer "
    "sleep the day's mood tended to be lower, and no verdict is given."
)
ROTA_WANTED = "judged once the rota is entered. Without it, what looks like a link may be the rota."
CARDINALS = ("One", "Two", "Three", "Four", "Five", "Six", "Seven")
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh")


def lag_name(lag: int) -> str:
    """Which sleep a day's mood is set beside: 0 the sleep before, -1 the sleep after."""
    if lag in (0, -1):
        return SLEEP_AFTER if lag else SLEEP_BEFORE
    if lag > 0:
        return f"the sleep {counted(lag, 'day')} before that"
    return f"the {ORDINALS[-lag - 1]} sleep after"


def what_comes_first(lag: int, outcome: str) -> str:
    """The earlier of the two: `mood 7 days before`, the two sleeps next to the day, `sleep 7 days before`."""
    if lag in (0, -1):
        return lag_name(lag)
    earlier = "sleep" if lag > 0 else earlier_series(outcome)
    return f"{earlier} {counted(abs(lag), 'day')} before"


def set_beside(lag: int, outcome: str, *, short: bool) -> str:
    """What a day's outcome is set beside (lag 0 to 7), or its sleep (lag -1 to -7), as a row of a picture."""
    days = counted(abs(lag), "day")
    if lag >= 0:
        when = f"{days} earlier" if lag else "before it"
        return when if short else f"the sleep {when}"
    when = "the day before" if lag == -1 else f"{days} before"
    if short:
        return when
    return f"the {earlier_series(outcome)} {'of ' if lag == -1 else ''}{when}"


def earlier_series(outcome: str) -> str:
    """A series in one word: `mood`, `mark`."""
    return OUTCOMES[outcome].split()[-1]


def after_longer_sleep(outcome: str, *, more: bool) -> str:
    """What tended to follow a longer sleep."""
    if outcome == "anxious":
        return f"{'more' if more else 'fewer'} days were marked anxious"
    return f"the day's mood tended to be {'higher' if more else 'lower'}"


def after_a_day(outcome: str, which: str, *, longer: bool) -> str:
    """How one of the sleeps after a day tended to be."""
    day = "a day marked anxious" if outcome == "anxious" else "a day of better mood"
    return f"after {day} {which} tended to be {'longer' if longer else 'shorter'}"


def sleep_first(outcome: str, lag: int, *, more: bool) -> str:
    """What tends to follow a longer sleep."""
    days = f"{CARDINALS[lag - 1]} day{'s' if lag > 1 else ''}"
    when = "After longer sleep" if lag == 0 else f"{days} after a day of longer sleep"
    return f"{when} {after_longer_sleep(outcome, more=more)}"


def mood_first(outcome: str, lag: int, *, more: bool) -> str:
    """What sleep tends to follow a day."""
    which = "the next sleep" if lag == -1 else f"the {ORDINALS[-lag - 1]} sleep"
    return sentence(after_a_day(outcome, which, longer=more))


def pairs_in_a_hundred(outcome: str, lag: int, agreeing: int) -> str:
    """The headline number of a link."""
    better = "the day not marked anxious" if outcome == "anxious" else "the better day"
    if lag == 0 and outcome != "anxious":
        which = "the day after the longer sleep was the better one"
    elif lag >= 0:
        behind = "" if lag == 0 else f" {counted(lag, 'day')} later"
        which = f"{better} followed the longer sleep{behind}"
    else:
        which = f"the longer sleep was the {'' if lag == -1 else ORDINALS[-lag - 1] + ' '}one after {better}"
    pairs = f"{agreeing} of 100 pairs of days that differ in both"
    return f"{sentence(COUNTED)}, in {pairs}, {which} (50 would mean no link)."


def pairs_and_chance(pairs: int, p: float | None, limit: float | None) -> tuple[str, ...]:
    """On how many pairs of days a side of a link rests, and its p-value; then the same in fewer letters."""
    told = "" if p is None or limit is None else f"; {chance(p)}, limit {limit:.3g}"
    return f"{counted(pairs, 'pair')} of days{told}", f"{counted(pairs, 'pair')}{told}"


def link_in_numbers(lag: int, effect: float, p: float, limit: float) -> str:
    """The correlation behind a link."""
    return f"Correlation {effect:+.2f} with {lag_name(lag)}, {chance_with_limit(p, limit)}."


def allowed_for(things: list[str]) -> str:
    """What was taken out before two series were compared."""
    return f"Allowed for: {listed(things)}."


def days_used(used: int, kept: int) -> str:
    """How many days a link rests on where the rota is entered in part."""
    return (
        f"{used} of {counted(kept, 'day')} {'is' if used == 1 else 'are'} used; the others have no shift "
        "entered, of their own or of the day before."
    )


def left_out_beside(number: int, of: int, what: str) -> str:
    """Moods that were rated beside the sleep they would be set against."""
    return f"Left out: {number} of {counted(of, what)} kept beside that sleep or when it was known."


def moment_unknown(number: int, what: str) -> str:
    """Moods that may have been rated beside a sleep."""
    return (
        f"For {counted(number, what)} the time is not known; {'it' if number == 1 else 'they'} may have been "
        "rated beside a sleep."
    )


def not_to_be_judged(outcome: str, left_out: int, of: int, *, sleep_first: bool) -> str:
    """Why one side of a link has no verdict while the other has one."""
    which = SLEEP_BEFORE if sleep_first else SLEEP_AFTER
    told = f"How {outcome} goes with {which} it cannot be judged"
    if not left_out:
        return f"{told}: too few days have both."
    when = "beside that sleep" if sleep_first else "when that sleep was already known"
    what = "moods" if outcome == "mood" else "marks"
    return (
        f"{told}: {left_out} of {of} {what} were kept {when}. {sentence(what)} kept at the day's end count."
    )


def stands_without_remembered(verdict: str) -> str:
    """The verdict over the days that were kept at the time."""
    return f"Without the remembered days the verdict is: {verdict}."


def no_link(outcome: str, smallest: float) -> str:
    """A link that is not shown at any lag."""
    return (
        f"{outcome} is not shown to go with sleep, up to seven days before or after; {seen_from(smallest)}."
    )


def no_link_on_a_side(outcome: str, smallest: float, *, sleep_first: bool) -> str:
    """A link that is shown on the other side only."""
    which = SLEEP_BEFORE if sleep_first else SLEEP_AFTER
    return f"{outcome} is not shown to go with {which} it; {seen_from(smallest)}."


def smallest_links(before: float | None, after: float | None) -> str:
    """The smallest links that a record could have shown, as numbers."""
    sides = [(before, SLEEP_BEFORE), (after, SLEEP_AFTER)]
    told = listed([f"{effect:.2f} with {which}" for effect, which in sides if effect is not None])
    return f"Smallest correlation that would have been seen in 8 of 10 such records: {told}."


def move_together(outcome: str) -> str:
    """Why a plain link can be there and still not be shown."""
    return (
        f"{outcome} and sleep move together in this record; weekday, shift and slow changes may be "
        "enough to explain it."
    )


def too_little(outcome: str, have: int, need: int) -> str:
    """How far a record still is from saying anything."""
    return (
        f"Too little is kept so far to say whether {outcome} goes with sleep: {counted(have, 'day')} of "
        f"about {need}."
    )


def little_variety(outcome: str) -> str:
    """Why a long record can still be too little."""
    return (
        f"Too little is kept so far to say whether {outcome} goes with sleep: one of the two is the same on "
        "almost all days."
    )


# --- kinds of shift and weekdays --------------------------------------------------------------

BY_CHANCE_ALONE = (
    "Groups of days are shown to differ only where the same rota or week, moved along the calendar, hardly "
    "ever sets them so far apart."
)
GROUPINGS = {
    "kinds of shift": "kinds of shift, of the day or of the day before",
    "weekday": "weekdays",
    "days after nights": "the second, the third and later days after a night",
}
DIFFERED = {
    ("day", "day before"): "kinds of shift, and between kinds of shift on the day before",
    ("day",): "kinds of shift, on the day itself; the day before adds nothing that could be told apart",
    ("day before",): "kinds of shift on the day before; the day itself adds nothing that could be told apart",
    (): "kinds of shift, of the day or of the day before, which cannot be told apart here",
}
"""What is said to part the days, by what is named."""
COUNTED_RUNS = (
    "Counted, not judged. A later night also follows a night; a quick return also follows a late or long day."
)
DAY_AFTER = "the day after: "


def groups_differ(outcome: str, by: str, ends: list[str]) -> str:
    """A difference between groups of days, and which are its ends."""
    told = f" {sentence('; '.join(ends))}." if ends else ""
    return f"{outcome} differed between {by}.{told}"


def ends(of: str, lowest: str, highest: str) -> str:
    """The groups at both ends of a difference: `lowest on night and highest on off`."""
    where = "after" if of == "day before" else "on"
    return f"lowest {where} {lowest} and highest {where} {highest}"


def no_difference(outcomes: list[str], by: str, smallest: float) -> str:
    """A difference between groups of days that is not shown."""
    verb = "is" if len(outcomes) == 1 else "are"
    return (
        f"{sentence(listed(outcomes))} {verb} not shown to differ between {by}; "
        f"{seen_from(smallest, 'difference')}."
    )


def groups_too_little(outcomes: list[str], by: str) -> str:
    """Why groups of days are not compared."""
    return f"More days are needed before {listed(outcomes)} can be compared between {by}."


def too_regular(outcomes: list[str], by: str) -> str:
    """Why a rota tells nothing of the kinds of shift."""
    return (
        f"{sentence(listed(outcomes))} cannot be compared between {by}: the rota as entered hardly changes, "
        "or repeats itself too exactly for this test."
    )


def groups_in_numbers(chances: str, smallest: float) -> str:
    """The p-values of a comparison, and the smallest difference that it could have shown."""
    return (
        f"{chances}; would have been seen in 8 of 10 such records: groups that account "
        f"for {max(round(100 * smallest), 1)} % of all differences between days."
    )


def groups_judged_from(day: str) -> str:
    """Why a young record has no verdict on groups."""
    return f"Kinds of shift and weekdays are counted now and first judged on {day}."


# --- time of year -----------------------------------------------------------------------------

ONE_YEAR = "One year cannot show a season: it has only one winter."
TWO_YEARS = "Two years are too few to test whether a season comes back."
UNDER_A_YEAR = "Less than a year is kept: the months are counted, and nothing is said about the time of year."
UNEVENLY_KEPT = "They were not kept alike, so they compare badly."


def season_shown(outcome: str, years: int, peak: str, within: int) -> str:
    """A yearly course that came back."""
    return (
        f"{outcome} had a yearly course that came back over {years} years, highest around {peak}, "
        f"give or take {counted(within, 'day')}."
    )


def no_season(outcome: str, years: int, smallest: float) -> str:
    """A yearly course that is not shown to come back."""
    return (
        f"{outcome} is not shown to follow the time of year over {years} years; "
        f"{seen_from(smallest, 'yearly course')}."
    )


def season_too_little(outcome: str, years: int) -> str:
    """Why three years by the calendar can still be too few."""
    return (
        f"Too little is kept so far to say whether {outcome} follows the time of year: "
        f"{counted(years, 'whole year')} kept well enough, of three that it takes."
    )


def wave_in_numbers(outcome: str, p: float, smallest: float) -> str:
    """The p-value of a yearly course, and the smallest course that would have been shown."""
    if outcome == "anxious":
        height = f"{round(100 * smallest)} more and fewer anxious days in 100"
    else:
        height = f"{smallest:.1f} {'levels' if outcome == 'mood' else 'buckets'} up and down"
    return f"{chance(p)}; would have been seen in 8 of 10 such records: {height}."


def courses(peaks: list[str]) -> str:
    """When each series was highest, year by year, for what one or two years may say."""
    first, *others = peaks
    return f"{sentence('; '.join([first.replace(' around', ' was highest around', 1), *others]))}."


def season_beside(now: tuple[str, int, int, int], before: tuple[str, int, int, int]) -> str:
    """A season and the same one a year before: name, low days, days kept, days there were."""
    name, low, kept, days = now
    earlier, low_before, kept_before, days_before = before
    return (
        f"Mood was in its two lowest levels on {low} of the {kept} days kept in {name} (of {days}), and on "
        f"{low_before} of the {kept_before} kept in {earlier} (of {days_before}); counted, not judged."
    )


# --- the record -------------------------------------------------------------------------------

DESCRIBED_ONLY = (
    "Days chosen by hand have numbers but no verdict: choosing periods until one shines is the same error as "
    "looking every day."
)


def no_correlations_yet(day: str) -> str:
    """Why a young record has pairs of days and no numbers made of them."""
    return (
        "Counted only: on so few days chance alone makes large correlations, so they stand here from "
        f"{day} on."
    )


def first_verdict(day: str, weeks: int) -> str:
    """When a new record is first judged."""
    when = "within a week" if weeks < 1 else f"in about {counted(weeks, 'week')}"
    return f"The first verdict is on {day}, {when}; until then days are counted and nothing is claimed."


def nothing_kept(days: int, *, left_out: bool = False) -> str:
    """What a record needs that is empty, or holds only days that findings leave out."""
    stands = "No kept day counts here yet" if left_out else "Nothing is kept yet"
    return (
        f"{stands}. A first verdict needs {days} days from the first one on: about {days // 7} more weeks. "
        "By then a strong link with the sleep before is shown in about 8 of 10 records, a clear one in 2; "
        "after a year 9 of 10 clear and 4 of 10 slight ones. With the sleep after: 5 of 10 strong ones by "
        "then, 6 of 10 clear ones after a year."
    )


def missing(number: int) -> str:
    """What missing days mean for every number beside them."""
    if number == 1:
        return "1 day is missing. If it was unlike the others, this picture is wrong."
    return f"{number} days are missing. If they were unlike the others, this picture is wrong."


def where_gaps_fall(by_nights: int, elsewhere: int) -> str:
    """Where the waiting squares lie, as shares in a hundred."""
    return (
        f"Waiting squares: {by_nights} in 100 on nights and the days after them, "
        f"{elsewhere} in 100 on other days."
    )


def days_in_breaks(number: int) -> str:
    """Marked times of not keeping."""
    return f"{counted(number, 'day')} in a marked break."


def remembered_days(number: int, used: int) -> str:
    """How many days rest on memory."""
    return f"{number} of the {used} days used were entered from memory more than two days later."


def left_out_days(number: int) -> str:
    """Days that findings do not use."""
    return (
        f"{counted(number, 'day')} left out: entered from memory over 14 days later, or on a scale "
        f"that cannot be compared. {RESTS_ON_PAPER}"
    )


def too_late_days(number: int) -> str:
    """Days that were written down too long after they passed."""
    return f"{counted(number, 'day')} left out: entered from memory over 14 days later. {RESTS_ON_PAPER}"


def on_other_levels(moods: int, sleeps: int) -> str:
    """What was kept before the levels were changed, and why nothing is made of it."""
    parts = [counted(number, name) for number, name in ((moods, "mood"), (sleeps, "sleep")) if number]
    one = moods + sleeps == 1
    return (
        f"{' and '.join(parts)} left out: kept on other levels than those of now, with which "
        f"{'it' if one else 'they'} cannot be compared."
    )


def from_paper(number: int) -> str:
    """Days that were written down at the time and typed later."""
    return f"{counted(number, 'day')} copied from paper."


def rota_missing(entered: int, kept: int) -> str:
    """Why a link may be the rota."""
    return (
        f"A shift is entered on {entered} of {counted(kept, 'kept day')}. Without the rota, what looks "
        "like a link may be the rota."
    )
