"""The help page: where to turn, what this program is not, how it works. Never triggered by what is kept."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from tracker import words
from tracker.diary.choices import Choices
from tracker.diary.help_lines import (
    ELSEWHERE_IN_THE_EU,
    FOR_HEALTH_STAFF_UK,
    UK_NATIONS,
    UNITED_KINGDOM,
    lines_for,
)

WIDTH = 76
SECOND_COMPUTER = (
    "1. Here: tracker backup stick/record.sqlite (a name that ends in .age locks the copy).",
    "2. There: set the program up, then tracker restore stick/record.sqlite.",
    "3. Where both were used: tracker backup on the one, tracker merge with that copy on the other, and the "
    "same the other way round. Of a square that differs the newer answer counts.",
)
FORM_OF_A_DAY = (
    "Enter in the month opens everything about the day under the cursor, with every entry ever made of it.",
    "1. 'Counts as' says what its answers rest on: kept at the time, remembered, or copied from paper. "
    "Another choice puts that right; for many days tracker put 1 march to 31 march --paper, or with "
    "--remembered behind them.",
    "2. 'The new answer is' comes up where an answer of more than 2 days ago becomes another one: a slip put "
    "right leaves what it counts as.",
    "3. 'Called' comes up with an on-call shift: the times for which you were called, like 01:00-04:30, or "
    "night. Only these are work; three hours between 23:00 and 06:00 make a night.",
    "4. 'Change' takes a few words on what began, ended or moved with that day. The days before and after it "
    "are counted side by side, never judged.",
)
UK = tuple(name.casefold() for name in (UNITED_KINGDOM, *UK_NATIONS))


class Part(NamedTuple):
    """A part of the page: a head and the paragraphs under it."""

    name: str
    paragraphs: tuple[str | tuple[str, ...], ...]
    """Each whole, or as lines that are printed as they stand."""
    behind: str = ""
    """What the head says behind the name."""

    def printed(self) -> list[str]:
        """In lines of 76 characters or less, but for her own; the name in capitals."""
        return [*_wrapped([f"{self.name.upper()}{self.behind}"]), *self._printed_paragraphs()]

    def _printed_paragraphs(self) -> Iterator[str]:
        for paragraph in self.paragraphs:
            yield from _wrapped([paragraph]) if isinstance(paragraph, str) else paragraph


def turning(choices: Choices) -> Part:
    """Her own lines first, then those of her country; the same whatever the days say."""
    known = lines_for(choices.settings.country).country
    unset = () if known else ("Your country's numbers: tracker settings country NAME",)
    own = tuple((line,) for line in choices.own_help)
    return Part("Where to turn", (*own, *turning_sentences(choices), *unset), where_they_hold("", choices))


def where_to_turn(choices: Choices) -> list[str]:
    """The first part of the page, in lines."""
    return turning(choices).printed()


def where_they_hold(head: str, choices: Choices) -> str:
    """A heading with the country whose numbers stand under it, and when they were read."""
    lines = lines_for(choices.settings.country)
    if not lines.country:
        return head
    where = "the EU" if lines.country == ELSEWHERE_IN_THE_EU else lines.country
    return f"{head} in {where}, as read on public pages in {lines.checked}; nobody called the numbers"


def turning_sentences(choices: Choices) -> list[str]:
    """Whom to call in her country, a sentence each; her own lines stand in the one on whom she trusts."""
    country = choices.settings.country
    lines = lines_for(country)
    own = "; ".join(choices.own_help) or "a person who knows you"
    advice = lines.advice or "your local health service"
    for_staff = [" ".join(FOR_HEALTH_STAFF_UK)] if country.casefold() in UK else []
    return [
        words.UNSAFE_HEAD,
        *words.unsafe_body(lines.emergency, lines.listening, advice, own),
        *for_staff,
    ]


def how_it_works(choices: Choices) -> tuple[str, ...]:
    """Ten sentences on days, directions and verdicts."""
    hour = choices.settings.day_change_hour
    return (
        f"1. A day begins at {hour:02}:00; what happens before that hour belongs to the day before.",
        "2. The sleep of a day is all sleep since you last got up, until you got up on that day, naps "
        "included, so each sleep counts once.",
        f"3. So the sleep of a day lies before its mood: '{words.SLEEP_BEFORE}' sets a mood beside the "
        f"sleep of its own day, '{words.SLEEP_AFTER}' beside the sleep of the next day.",
        "4. What is missing stays missing: nothing is filled in, and 'could not say' is an answer "
        "without a level.",
        "5. What is typed over 2 days late counts as remembered; over 14 days late it is kept and "
        "shown, but findings leave it out. A mood rated beside a sleep, or when it was known, is not "
        "set beside that sleep.",
        "6. Levels and buckets have an order but no amounts: they are counted and ranked, not averaged.",
        "7. Each finding ends in one of three verdicts: shown, not shown, too little kept.",
        "8. Verdicts fall only on days fixed beforehand (120, 180, 365, 730 days after the first), so "
        "that looking often cannot turn chance into a finding.",
        f"9. {words.VERDICTS_MEAN}",
        "10. What comes first need not be the cause.",
    )


def help_page(choices: Choices) -> list[str]:
    """The whole page, in lines of 76 characters or less, but for her own lines."""
    rest = [line for part in explanations(choices) for line in ("", *part.printed())]
    return [*where_to_turn(choices), *rest]


def explanations(choices: Choices) -> list[Part]:
    """What the program is not, how it works, and what is good to know before stopping or handing over."""
    stopping = ((words.NO_NAMES_IN_NOTES,), words.STOPPING, words.HANDING_OVER)
    return [
        Part("What this is not", (words.CAUTION_HELP, words.PURPOSE)),
        Part("How days and findings work", (*how_it_works(choices), words.CAUSE)),
        Part("The form of a day", FORM_OF_A_DAY),
        Part("On a second computer", SECOND_COMPUTER),
        Part("Tired", (words.TIRED,)),
        Part("Notes, and stopping", stopping),
    ]


def _wrapped(sentences: Iterable[str]) -> list[str]:
    return [line for sentence in sentences for line in textwrap.wrap(sentence, WIDTH, subsequent_indent="  ")]
