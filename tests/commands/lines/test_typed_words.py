"""What may be typed at a question in place of its answer. Today is Tuesday 17 March 2026."""

from __future__ import annotations

from datetime import date
from typing import Any

import click
import pytest

from tests.commands.conftest import Run
from tests.commands.lines.conftest import AGAIN, NEXT, SLEEP_KEY, Hear, Kept
from tests.keeping import stands
from tracker.diary.days import Change

TODAY = date(2026, 3, 17)


@pytest.fixture
def all_kept(run: Run) -> None:
    run("put", "--mood", "4", "--sleep", "6")


def after(heard: list[str], line: str) -> str:
    """The line that is heard after another one."""
    return heard[heard.index(line) + 1]


def test_k_reads_the_key_again_and_what_stands(run: Run) -> None:
    run("put", "--sleep", "6")
    output = run("put", "today", typed="k\ndone\n\n").output
    assert output.count(SLEEP_KEY[1]) == 2
    assert "Sleep 6 to under 7 hours stands.\n" in output


class TestTakingBack:
    def test_what_is_taken_back_is_asked_for_again_before_what_comes_next(
        self, hear: Hear, kept: Kept
    ) -> None:
        assert hear("7", "u", "5", "3", "")[5:] == [
            "Sleep of today: 7",
            "Kept: sleep 7 to under 8 hours.",
            "Mood of today: u",
            "Taken back: Tuesday 17 March, sleep 7 to under 8 hours.",
            "Sleep of today: 5",
            "Kept: sleep 5 to under 6 hours.",
            "Mood of today: 3",
            "Kept: mood 3 even.",
            "Nothing of yesterday and today waits.",
            NEXT,
        ]
        with kept() as record:
            assert (stands(record, TODAY, "sleep"), stands(record, TODAY, "mood")) == ("sleep8-4", "mood5-3")

    def test_again_and_again_leads_back_to_the_first_answer(self, hear: Hear, kept: Kept) -> None:
        hear("7", "2", "u", "u", "6", "4", "5", "3", arguments=("--from", "yesterday"))
        with kept() as record:
            answers = [(day.sleep, day.mood) for day in record.days().values()]
        assert [tuple(square and square.value for square in squares) for squares in answers] == [
            ("sleep8-5", "mood5-4"),
            ("sleep8-4", "mood5-3"),
        ]

    def test_redo_brings_it_back(self, hear: Hear, kept: Kept) -> None:
        heard = hear("6", "4", "u", "redo", "q")
        assert (
            after(heard, "Mood of today: redo") == "Brought back: Tuesday 17 March, mood 4 good, not anxious."
        )

    def test_where_nothing_was_kept_there_is_nothing(self, hear: Hear) -> None:
        assert after(hear("u", "q"), "Sleep of today: u") == "There is nothing to take back."

    @pytest.mark.parametrize(("typed", "stays"), [("", True), ("n", True), ("y", False), ("Yes", False)])
    def test_what_was_not_kept_here_only_where_she_means_it(
        self, all_kept: None, hear: Hear, kept: Kept, typed: str, stays: bool
    ) -> None:
        with kept() as record:
            record.keep([Change(TODAY, "shift", "night")], "import of days.csv, Tue 17 March")
        assert hear("u", typed, "")[4:6] == [
            "The last action was not kept here: import of days.csv, Tuesday 17 March. "
            f"Take it back? Type y for yes, or Enter alone for no: {typed}".rstrip(),
            "Nothing was changed." if stays else "Taken back: import of days.csv, Tuesday 17 March.",
        ]
        with kept() as record:
            assert (record.day(TODAY).shift_kind == "night") is stays

    def test_what_another_window_kept_meanwhile_is_asked_about_too(
        self, all_kept: None, hear: Hear, kept: Kept, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        ask = click.prompt
        questions: list[str] = []

        def also_elsewhere(question: str, **how: Any) -> object:
            questions.append(question)
            if len(questions) == 4:
                with kept() as other:
                    other.keep([Change(date(2026, 3, 12), "mood", "mood5-1")])
            return ask(question, **how)

        monkeypatch.setattr("click.prompt", also_elsewhere)
        heard = hear("today", "", "2", "u", "", "q")
        assert any("not kept here: Thursday 12 March, mood 1 very low" in line for line in heard)
        with kept() as record:
            assert stands(record, TODAY, "mood") == "mood5-2"


class TestAnotherFieldOfTheDay:
    def test_is_kept_with_its_name_and_the_question_is_asked_again(self, hear: Hear, kept: Kept) -> None:
        heard = hear("shift night", "anxious no", "hours 6.5", "note Swapped it.", "4", "")
        assert heard[5:14] == [
            "Sleep of today: shift night",
            "Kept: shift night.",
            "Sleep of today: anxious no",
            "Kept: not anxious.",
            "Sleep of today: hours 6.5",
            "Kept: sleep 6 to under 7 hours, 6.5 hours.",
            "Mood of today: note Swapped it.",
            "Kept: a note.",
            "Mood of today: 4",
        ]
        with kept() as record:
            day = record.day(TODAY)
            assert (day.hours, day.note_text, day.shift_kind) == (6.5, "Swapped it.", "night")

    def test_an_on_call_shift_is_kept_with_its_calls(self, hear: Hear) -> None:
        heard = hear("called night", "shift c", "called 01:00-04:30", "q")
        assert heard[5:11] == [
            "Sleep of today: called night",
            "Only an on-call shift takes calls; 17 March 2026 has no shift.",
            "Sleep of today: shift c",
            "Kept: shift on call.",
            "Sleep of today: called 01:00-04:30",
            "Kept: shift on call, called for 3.5 hours.",
        ]

    def test_is_asked_for_where_its_name_stands_alone(self, hear: Hear) -> None:
        heard = hear("anxious", "yes", "q")
        assert heard[5:9] == [
            "Sleep of today: anxious",
            "Anxious today: yes",
            "Kept: anxious.",
            "Sleep of today: q",
        ]

    @pytest.mark.usefixtures("all_kept")
    def test_between_days_it_is_that_of_today(self, hear: Hear, kept: Kept) -> None:
        hear("mood 2", "")
        with kept() as record:
            assert stands(record, TODAY, "mood") == "mood5-2"


class TestClearing:
    @pytest.mark.usefixtures("all_kept")
    def test_clear_takes_away_what_the_question_is_about(self, hear: Hear, kept: Kept) -> None:
        assert after(hear("today", "clear", "q"), "Sleep of today: clear") == "Kept: sleep cleared."
        with kept() as record:
            assert record.day(TODAY).sleep is None

    @pytest.mark.usefixtures("all_kept")
    def test_clear_with_a_name_takes_that_away(self, hear: Hear, kept: Kept) -> None:
        assert after(hear("clear mood", ""), f"{NEXT} clear mood") == "Kept: mood cleared."
        with kept() as record:
            assert (record.day(TODAY).mood, record.day(TODAY).sleep is None) == (None, False)

    @pytest.mark.parametrize(
        ("typed", "sentence"),
        [
            ("clear", "There is no sleep to clear."),
            ("clear tides", "clear takes sleep, mood, anxious, shift, note and change, one of them."),
        ],
    )
    def test_what_is_not_there_is_not_cleared(self, hear: Hear, typed: str, sentence: str) -> None:
        assert after(hear(typed, "q"), f"Sleep of today: {typed}") == sentence


class TestNotes:
    def test_are_found_by_a_word_the_newest_first(self, run: Run, all_kept: None, hear: Hear) -> None:
        run("put", "12 march", "--note", "Swapped the Late turn.")
        run("put", "2025-11-03", "--note", "late train, long wait")
        assert hear("find late", "find tides", "find", "")[4:] == [
            "2 notes hold late, the newest first.",
            "Thursday 12 March: Swapped the Late turn.",
            "Monday 3 November 2025: late train, long wait",
            f"{AGAIN} find tides",
            "0 notes hold tides.",
            f"{AGAIN} find",
            "find takes a word of a note or a change, like find leave.",
            AGAIN,
        ]

    def test_of_many_the_newest_ten_are_read_and_the_rest_counted(self, hear: Hear, kept: Kept) -> None:
        with kept() as record:
            record.keep(Change(date(2026, 2, day), "note", f"train {day}") for day in range(1, 13))
        heard = hear("find train", "q")
        assert after(heard, "Sleep of today: find train") == "12 notes hold train, the newest first."
        assert (heard[-3], heard[-4]) == ("And 2 more before.", "Tuesday 3 February: train 3")

    @pytest.mark.usefixtures("all_kept")
    @pytest.mark.parametrize("text", ["Week of nights begins.", "day off", "find Anna", "shift swapped", "w"])
    def test_take_words_that_are_asked_with_elsewhere_as_they_are(
        self, hear: Hear, kept: Kept, text: str
    ) -> None:
        hear("today", "", "", "", "", text, "")
        with kept() as record:
            assert record.day(TODAY).note_text == text


class TestChanges:
    def test_are_noted_said_with_their_day_found_and_taken_back(
        self, run: Run, hear: Hear, kept: Kept
    ) -> None:
        run("put", "12 march", "--note", "No tablets yet.")
        typed = ("change tablets started", "find tablets", "day today", "done", "u", "q")
        assert hear(*typed)[1:] == [
            "Sleep of today: change tablets started",
            "Kept: a change.",
            "Sleep of today: find tablets",
            "1 note and 1 change hold tablets, the newest first.",
            "Tuesday 17 March: change: tablets started",
            "Thursday 12 March: No tablets yet.",
            "Sleep of today: day today",
            "Today: change: tablets started.",
            "Sleep of today: done",
            f"{NEXT} u",
            "Taken back: change of Tuesday 17 March.",
            f"{AGAIN} q",
            "Stopped. What was kept stands.",
        ]
        with kept() as record:
            assert record.choices().dated_changes == ()

    def test_are_asked_for_and_cleared(self, hear: Hear, kept: Kept) -> None:
        heard = hear("change", "new post", "clear change", "clear change", "change", "", "q")
        assert heard[5:12] == [
            "Sleep of today: change",
            "What changed today, or Enter alone for nothing: new post",
            "Kept: a change.",
            "Sleep of today: clear change",
            "Kept: change cleared.",
            "Sleep of today: clear change",
            "There is no change to clear.",
        ]

    def test_that_are_too_long_are_refused(self, hear: Hear, kept: Kept) -> None:
        heard = hear(f"change {41 * 'x'}", "q")
        assert "A change has at most 40 letters; this one has 41." in heard


def test_letters_of_shifts_are_shifts_where_a_shift_is_asked_for(hear: Hear, kept: Kept) -> None:
    heard = hear("shift", "k", "q")
    assert after(heard, "Shift of today: k") == "Kept: shift sick."


@pytest.mark.usefixtures("all_kept")
def test_day_goes_to_a_day_from_any_question(hear: Hear) -> None:
    heard = hear("today", "day yesterday", "done", "")
    assert heard[5:9] == [
        "Sleep of today: day yesterday", "Yesterday: nothing is kept.", "Sleep of yesterday: done", AGAIN,
    ]  # fmt: skip


@pytest.mark.usefixtures("all_kept")
def test_week_says_the_seven_days_that_end_with_the_one_at_hand(hear: Hear) -> None:
    assert hear("week", "")[4:11] == [
        "Wednesday 11 March: nothing is kept.",
        "Thursday 12 March: nothing is kept.",
        "Friday 13 March: nothing is kept.",
        "Saturday 14 March: nothing is kept.",
        "Sunday 15 March: nothing is kept.",
        "Yesterday: nothing is kept.",
        "Today: sleep 6 to under 7 hours, mood 4 good.",
    ]


HELP_OF_WALES = [
    "Where to turn in Wales, as read on public pages in November 2026; nobody called the numbers.",
    "If you feel unsafe, or might harm yourself, get help now.",
    "1. In immediate danger: call 999 or 112.",
    "2. Need to talk to someone now: Samaritans 116 123.",
]
COUNTRY = "Your country, for its numbers, or Enter alone for none:"


class TestHelp:
    @pytest.mark.parametrize("cry", ["?", "help", "HELP"])
    @pytest.mark.parametrize(
        ("before", "question"),
        [
            ((), "Sleep of today:"),
            (("6",), "Mood of today:"),
            (("6", "4"), NEXT),
            (("anxious",), "Anxious today:"),
            (("shift",), "Shift of today:"),
            (("note",), "Note of today:"),
            (("?",), COUNTRY),
        ],
    )
    def test_reaches_where_to_turn_from_every_question_and_keeps_nothing(
        self, hear: Hear, kept: Kept, cry: str, before: tuple[str, ...], question: str
    ) -> None:
        heard = hear(*before, cry, "", "", "q")
        assert after(heard, f"{question} {cry}") == "Where to turn."
        with kept() as record:
            assert record.day(TODAY).note_text == ""

    def test_reaches_it_too_before_something_is_taken_back(
        self, run: Run, all_kept: None, hear: Hear
    ) -> None:
        heard = hear("u", "?", "wales", "", "")
        assert HELP_OF_WALES[0] in heard

    def test_asks_for_the_country_once_keeps_it_and_says_its_numbers(self, hear: Hear, kept: Kept) -> None:
        heard = hear("?", "Atlantis", "wales", "?", "q")
        assert after(heard, f"{COUNTRY} Atlantis").startswith(
            "'Atlantis' is no country known here; the nearest are "
        )
        begins = heard.index(f"{COUNTRY} wales") + 1
        assert heard[begins : begins + 4] == HELP_OF_WALES
        assert after(heard, "Sleep of today: ?") == "Where to turn."
        assert len([line for line in heard if line.startswith(COUNTRY)]) == 2
        with kept() as record:
            assert record.choices().settings.country == "Wales"

    def test_names_every_word_that_may_be_typed(self, hear: Hear) -> None:
        from tracker.commands.lines.typed_words import ALONE, WITH_MORE

        said = " ".join(hear("?", "", "q"))
        unnamed = [word for word in {**ALONE, **WITH_MORE} if f"{word}" not in said]
        assert unnamed == []
