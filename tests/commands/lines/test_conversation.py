"""Plain lines, heard from the first to the last. Today is Tuesday 17 March 2026."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from tests.commands.conftest import Run
from tests.commands.lines.conftest import AGAIN, END, HOW, MOOD_KEY, NEXT, SLEEP_KEY, Hear, Kept
from tests.commands.test_trial import DRAWN
from tests.conftest import LONDON, NOW
from tests.keeping import stands
from tracker.diary.breaks import Break
from tracker.diary.clock import Clock
from tracker.diary.days import Change
from tracker.diary.settings import Settings
from tracker.diary.trial import told_arm
from tracker.record.choice_rows import break_value

TODAY = date(2026, 3, 17)


def test_a_first_session_reads_each_key_once_and_says_what_it_is(run: Run) -> None:
    lines = [line.rstrip() for line in run("put", typed="6\n4\n\n").output.splitlines()]
    assert lines == [
        "Each day has two squares: one for mood, one for hours you think you slept.",
        "It stays on this computer and is shown to nobody.",
        "It finds out what goes with what, and says so only when the days bear it.",
        "Not a clinical screening tool. Patterns in a diary are not a diagnosis.",
        "Today is Tuesday 17 March.",
        *SLEEP_KEY,
        *HOW,
        "Sleep of today: 6",
        "Kept: sleep 6 to under 7 hours.",
        *MOOD_KEY,
        "Mood of today: 4",
        "Kept: mood 4 good.",
        "Nothing of yesterday and today waits.",
        NEXT,
        END,
    ]


def test_the_keys_are_read_once_however_many_days_are_asked_for(run: Run) -> None:
    heard = run("put", "--from", "2026-03-14", typed=8 * "3\n").output
    assert [heard.count(key[0]) for key in (SLEEP_KEY, MOOD_KEY, HOW)] == [1, 1, 1]


def test_a_key_is_read_anew_for_days_that_have_other_levels(run: Run) -> None:
    run("scales", "mood", "--levels", "bad, so-so, fine", "--from", "2026-03-16")
    heard = run("put", "--from", "2026-03-15", typed=6 * "3\n").output
    keys = [line for line in heard.splitlines() if line.startswith(("1: ", "0: "))]
    assert keys == ["0: no sleep.", "1: very low, hard to get through the day.", "1: mood level 1 of 3, bad."]


def test_what_waits_is_asked_for_in_the_order_of_time_and_is_kept(run: Run, hear: Hear, kept: Kept) -> None:
    run("put", "2026-03-15", "--mood", "3", "--sleep", "7")
    assert hear("6", "4", "x", "2a") == [
        "Today is Tuesday 17 March.",
        "Sleep of yesterday: 6",
        "Kept: sleep 6 to under 7 hours.",
        "Mood of yesterday: 4",
        "Kept: mood 4 good.",
        "Sleep of today: x",
        "Kept: sleep: could not say.",
        "Mood of today: 2a",
        "Kept: mood 2 low, anxious.",
        "Nothing of yesterday and today waits.",
        NEXT,
        "Stopped. What was kept stands.",
    ]
    with kept() as record:
        assert (stands(record, TODAY, "mood"), record.day(TODAY).is_anxious) == ("mood5-2", True)
        assert record.day(TODAY - timedelta(1)).is_anxious is False


def test_what_stands_is_said_once_without_a_dash_and_without_what_goes_without_saying(
    run: Run, hear: Hear
) -> None:
    run("put", "yesterday", "--mood", "3", "--hours", "6.5")
    run("put", "yesterday", "--shift", "l", "--note", "Swapped the late turn.")
    run("put", "--mood", "2", "--anxious", "yes", "--sleep", "8")
    assert hear("") == [
        "Today is Tuesday 17 March.",
        "Yesterday: sleep 6 to under 7 hours, 6.5 hours, mood 3 even, shift late, "
        "note: Swapped the late turn.",
        "Today: sleep 8 hours or more, mood 2 low, anxious.",
        "Nothing of yesterday and today waits.",
        NEXT,
    ]


def test_a_trial_says_of_today_what_is_to_be_done(
    run: Run, hear: Hear, kept: Kept, monkeypatch: pytest.MonkeyPatch
) -> None:
    run(*DRAWN)
    monkeypatch.setattr(Clock.__new__, "__defaults__", (lambda: NOW + timedelta(days=1), LONDON))
    with kept() as record:
        arm = told_arm(record.choices().trials, date(2026, 3, 18), date(2026, 3, 18))
    assert arm in ("ear plugs", "none")
    assert hear("q")[:2] == ["Today is Wednesday 18 March.", f"Today: trial: {arm}."]


def test_where_squares_open_hidden_nothing_is_said_unasked(run: Run, hear: Hear) -> None:
    run("put", "--mood", "2", "--sleep", "8")
    run("settings", "hide", "yes")
    assert hear("today", "done", "")[1:4] == [
        "Nothing of yesterday and today waits.",
        f"{NEXT} today",
        "Today: sleep 8 hours or more, mood 2 low.",
    ]


def test_a_mood_that_is_asked_for_early_is_asked_for_at_the_days_end(
    hear: Hear, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Clock.__new__, "__defaults__", (lambda: NOW - timedelta(hours=12), LONDON))
    assert "Mood of today, at the day's end: 3" in hear("6", "3", "")


def test_earlier_days_that_wait_are_named_with_the_word_that_asks_for_them(hear: Hear, kept: Kept) -> None:
    with kept() as record:
        record.keep([Change(date(2026, 3, 8), "mood", "mood5-3")], "mood", "typed", "paper")
        record.choose(break_value(Break(date(2026, 3, 11), date(2026, 3, 12))), "break")
    assert hear("6", "4", "7", "3", "w", "2", "done", "")[9:] == [
        "Nothing of yesterday and today waits.",
        "Squares wait on Friday 13 March to Sunday 15 March and Sunday 8 March to Tuesday 10 March. "
        "w asks for them, the nearest first.",
        f"{NEXT} w",
        "Sleep of Sunday 15 March: 2",
        "Kept: sleep under 3 hours.",
        "Mood of Sunday 15 March: done",
        AGAIN,
    ]


def test_of_many_days_that_wait_the_nearest_are_named_and_the_rest_counted(hear: Hear, kept: Kept) -> None:
    with kept() as record:
        for day in (date(2026, 3, number) for number in range(1, 13, 2)):
            record.keep([Change(day, "mood", "mood5-3"), Change(day, "sleep", "sleep8-5")], basis="paper")
    assert (
        "Squares wait on Thursday 12 March to Sunday 15 March, Tuesday 10 March, Sunday 8 March, "
        "Friday 6 March and 2 days before. w asks for them, the nearest first."
    ) in hear("6", "4", "6", "4", "")


@pytest.mark.parametrize("typed", [("6", "q"), ("6",)])
def test_stopping_keeps_what_was_answered(hear: Hear, kept: Kept, typed: tuple[str, ...]) -> None:
    assert hear(*typed)[-1] == "Stopped. What was kept stands."
    with kept() as record:
        assert stands(record, TODAY, "sleep") == "sleep8-5"


def test_enter_alone_leaves_a_square_waiting(hear: Hear, kept: Kept) -> None:
    assert "1 square left open." in hear("", "4", "")
    with kept() as record:
        assert record.day(TODAY).sleep is None


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("1.x", "'1.x' is no answer here; k reads those that are."),
        ("yesterday", "'yesterday' is no answer here; k reads those that are."),
        ("25", "'25' is no answer here; k reads those that are."),
    ],
)
def test_a_wrong_answer_is_said_and_asked_for_again(hear: Hear, typed: str, sentence: str) -> None:
    assert hear(typed, "6", "4", "")[5:8] == [
        f"Sleep of today: {typed}", sentence, "Sleep of today: 6",
    ]  # fmt: skip


def test_with_the_setting_off_the_mark_is_asked_for_behind_a_mood(hear: Hear, kept: Kept) -> None:
    with kept() as record:
        record.keep_settings(Settings(not_anxious=False))
    assert hear("6", "4", "n", "")[3:7] == [
        "Mood of today: 4", "Kept: mood 4 good.", "Anxious today: n", "Kept: not anxious.",
    ]  # fmt: skip


def test_a_mark_that_was_left_open_is_not_asked_for_in_every_session(hear: Hear, kept: Kept) -> None:
    with kept() as record:
        record.keep_settings(Settings(not_anxious=False))
    hear("6", "4", "", "")
    assert hear("")[2:] == ["Nothing of yesterday and today waits.", NEXT]


@pytest.mark.parametrize(
    ("shift_on", "sentence", "question"),
    [
        ("yesterday", "After a night: the sleep that ends today belongs to today.", "Sleep of today:"),
        (
            "sun",
            "After a night: the sleep that ended on Monday 16 March belongs to that day.",
            "Sleep of yesterday:",
        ),
    ],
)
def test_after_a_night_it_says_which_sleep_is_meant(
    run: Run, hear: Hear, shift_on: str, sentence: str, question: str
) -> None:
    run("put", shift_on, "--mood", "3", "--sleep", "5", "--shift", "n")
    heard = hear()
    assert heard[heard.index(sentence) + 1] == question


EVERYTHING = (
    "k", "6.5", "k", "2a", "12 march", "k", "hours 5", "3", "k", "yes", "key", "c", "k", "Long wait.",
    "called 10:00-11:30", "change tablets started", "week", "find wait", "1.3.2027", "2031-01-01", "nonsense",
    "31/4", "sleep -3", "hours 30", "clear note", "u", "redo", "clear tides", "w", "2", "done", "x",
)  # fmt: skip
"""What may be typed, rightly and wrongly, but for help, whose numbers are not the program's own."""
SIGNS = re.compile(r"[\u2013()\[\]{}<>=|*/#_~]|\d-|-\d|  ")
"""What a voice skips or spells; a hyphen in a word is none."""


def test_nothing_is_said_that_a_voice_skips_or_spells(run: Run, hear: Hear) -> None:
    """No dash, bracket or other sign, no column; an echo of what was typed stands behind the colon."""
    run("put", "10 march", "--mood", "3", "--sleep", "8")
    output = run("put", typed="\n".join(EVERYTHING)).output
    lines = [line for line in output.splitlines() if not line.startswith("'")]
    said = [line.partition(": ")[0] if line.endswith(EVERYTHING) else line for line in lines]
    assert len(said) > 100
    assert [line for line in said if SIGNS.search(line)] == []


class TestADay:
    def test_everything_of_a_day_is_asked_for_once_it_was_said_what_stands(
        self, run: Run, hear: Hear, kept: Kept
    ) -> None:
        run("put", "12 march", "--sleep", "3")
        run("put", "mon", "--mood", "4", "--sleep", "6")
        run("put", "--mood", "4", "--sleep", "6")
        assert hear("thu 12 march", "", "2", "yes", "n", "Swapped the late turn.", "")[5:] == [
            f"{NEXT} thu 12 march",
            "Thursday 12 March: sleep 3 to under 4 hours.",
            "What is kept now counts as remembered.",
            "Sleep of Thursday 12 March:",
            "Mood of Thursday 12 March: 2",
            "Kept: mood 2 low.",
            "Anxious on Thursday 12 March: yes",
            "Kept: anxious.",
            "Shift of Thursday 12 March: n",
            "Kept: shift night.",
            "Note of Thursday 12 March: Swapped the late turn.",
            "Kept: a note.",
            AGAIN,
        ]
        with kept() as record:
            day = record.day(date(2026, 3, 12))
            assert (day.is_anxious, day.shift_kind) == (True, "night")
            assert day.note_text == "Swapped the late turn."

    def test_put_with_a_day_begins_with_it(self, hear: Hear) -> None:
        assert hear("6", "done", "", arguments=("yesterday",))[4:] == [
            "Today is Tuesday 17 March.",
            "Yesterday: nothing is kept.",
            "Sleep of yesterday: 6",
            "Kept: sleep 6 to under 7 hours.",
            "Mood of yesterday: done",
            NEXT,
        ]

    def test_of_a_day_to_come_only_shift_and_note_are_asked_for(self, run: Run, hear: Hear) -> None:
        run("put", "--mood", "4", "--sleep", "6")
        assert hear("tomorrow", "e", "", "")[4:] == [
            "Tomorrow: nothing is kept.",
            "Shift of tomorrow: e",
            "Kept: shift early.",
            "Note of tomorrow:",
            AGAIN,
        ]

    @pytest.mark.parametrize(
        ("typed", "sentence"),
        [
            ("zzz", "'zzz' is no day; give today, yesterday, mon to sun, 3 days ago, 17 March 2026."),
            ("17.3.2036", "17 March 2036 is still to come; nothing was kept."),
        ],
    )
    def test_a_day_that_is_none_is_asked_for_again(
        self, run: Run, hear: Hear, typed: str, sentence: str
    ) -> None:
        run("put", "--mood", "4", "--sleep", "6")
        heard = hear(typed, "")
        assert heard[4].startswith(sentence)
        assert heard[5] == AGAIN

    def test_that_long_past_days_are_left_out_of_findings_is_said_once(self, run: Run, hear: Hear) -> None:
        run("put", "--mood", "4", "--sleep", "6")
        heard = hear("1 march", "done", "2 march", "done", "")
        assert heard.count("What is kept now counts as remembered, and findings leave it out.") == 1

    def test_a_slip_of_the_year_is_told(self, run: Run, hear: Hear) -> None:
        run("put", "--mood", "4", "--sleep", "6")
        assert "The record now begins on 10 March 2026; u takes it back." in hear("10 march", "5", "")


class TestFromTo:
    def test_only_what_is_not_kept_is_asked_for_and_then_it_ends(
        self, run: Run, hear: Hear, kept: Kept
    ) -> None:
        run("put", "sat", "--sleep", "5")
        run("put", "mon", "--sleep", "5")
        assert hear("7", "3", "2", arguments=("--from", "sun", "--to", "mon")) == [
            "Sleep of Sunday 15 March: 7",
            "Kept: sleep 7 to under 8 hours.",
            "Mood of Sunday 15 March: 3",
            "Kept: mood 3 even.",
            "Mood of yesterday: 2",
            "Kept: mood 2 low.",
            "All is kept.",
        ]

    def test_a_paper_year_is_kept_as_copied_from_paper(self, hear: Hear, kept: Kept) -> None:
        hear("7", "3", arguments=("--from", "2025-01-01", "--to", "2025-01-01", "--paper"))
        with kept() as record:
            assert {entry.basis for entry in record.history(date(2025, 1, 1))} == {"paper"}
