"""`tracker put`. Today is Tuesday 17 March 2026."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tracker.diary.settings import Settings
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
Kept = Callable[[], Record]


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["--mood", "4"], "Kept for Tue 17 March 2026: mood 4 good, not anxious."),
        (["--mood", "very low"], "Kept for Tue 17 March 2026: mood 1 very low, not anxious."),
        (["--mood", "4", "--anxious", "yes"], "Kept for Tue 17 March 2026: mood 4 good, anxious."),
        (["--sleep", "6"], "Kept for Tue 17 March 2026: sleep 6-7 h."),
        (["--sleep", "6h"], "Kept for Tue 17 March 2026: sleep 6-7 h."),
        (["--sleep", "0"], "Kept for Tue 17 March 2026: sleep none."),
        (["--sleep", "10"], "Kept for Tue 17 March 2026: sleep 8 h or more."),
        (["--sleep", "under 3 h"], "Kept for Tue 17 March 2026: sleep under 3 h."),
        (["--hours", "6.5"], "Kept for Tue 17 March 2026: sleep 6-7 h (6.5 hours)."),
        (["--sleep", "6", "--hours", "6,75"], "Kept for Tue 17 March 2026: sleep 6-7 h (6.75 hours)."),
        (
            ["--mood", "?", "--sleep", "?"],
            "Kept for Tue 17 March 2026: mood: could not say, sleep: could not say.",
        ),
        (["--shift", "n"], "Kept for Tue 17 March 2026: shift night."),
        (["--note", "Swapped the late turn."], "Kept for Tue 17 March 2026: a note."),
        (["yesterday", "--mood", "3"], "Kept for Mon 16 March 2026: mood 3 even, not anxious."),
        (
            ["2026-03-12", "--sleep", "5"],
            "Kept for Thu 12 March 2026: sleep 5-6 h; remembered, 5 days later.",
        ),
        (
            ["2026-03-01", "--sleep", "5"],
            "Kept for Sun 1 March 2026: sleep 5-6 h; remembered, 16 days later, so findings leave it out.",
        ),
        (
            ["2026-03-01", "--sleep", "5", "--paper"],
            "Kept for Sun 1 March 2026: sleep 5-6 h; from paper.",
        ),
        (["2026-04-01", "--shift", "off"], "Kept for Wed 1 April 2026: shift off."),
    ],
)
def test_it_says_in_one_sentence_what_it_kept(run: Run, arguments: list[str], sentence: str) -> None:
    result = run("put", *arguments)
    assert (result.exit_code, result.stdout, result.stderr) == (0, sentence + "\n", "")


@pytest.mark.parametrize(
    ("called", "said"),
    [
        (["--called", "01:00-04:30"], "called for 3.5 hours, 01:00-04:30"),
        (
            ["--called", "01:00-02:00", "--called", "05:00-06:00"],
            "called for 2 hours, 01:00-02:00, 05:00-06:00",
        ),
        (["--called", "night"], "called at night"),
    ],
)
def test_being_called_is_kept_with_the_shift(run: Run, kept: Kept, called: list[str], said: str) -> None:
    run("put", "yesterday", "--shift", "c")
    result = run("put", "yesterday", *called)
    assert result.stdout == f"Kept for Mon 16 March 2026: shift on call ({said}).\n"
    again = run("put", "yesterday", "--shift", "c")
    assert again.stdout == "Mon 16 March 2026 stood so already; nothing was written.\n"
    run("put", "yesterday", "--shift", "n")
    with kept() as record:
        shift = record.day(date(2026, 3, 16)).shift
        assert shift is not None
        assert (shift.value, "called" in shift.detail) == ("night", False)


def test_a_shift_and_its_calls_are_kept_at_once(run: Run) -> None:
    result = run("put", "--shift", "c", "--called", "night")
    assert result.stdout == "Kept for Tue 17 March 2026: shift on call (called at night).\n"


def test_calls_of_a_shift_that_is_not_on_call_are_refused(run: Run) -> None:
    run("put", "--shift", "n")
    result = run("put", "--called", "01:00-04:30")
    sentence = "Only an on-call shift takes calls; 17 March 2026 has night.\n"
    assert (result.exit_code, result.stderr) == (2, sentence)


def test_a_slip_of_the_year_that_moves_the_beginning_of_the_record_is_told(run: Run) -> None:
    run("put", "--mood", "4")
    told = run("put", "2006-03-17", "--mood", "4", "--paper").stdout
    assert told.endswith("The record now begins on 17 March 2006; tracker undo takes it back.\n")
    assert "begins" not in run("put", "2007-03-17", "--mood", "4", "--paper").stdout


def test_a_file_that_moves_the_beginning_of_the_record_says_so(run: Run, tmp_path: Path) -> None:
    run("put", "--mood", "4")
    (tmp_path / "days.csv").write_text("date,mood\n2006-03-16,3\n")
    told = run("import", str(tmp_path / "days.csv"), "--paper").stdout
    assert told.endswith("The record now begins on 16 March 2006; tracker undo takes it back.\n")


def test_what_stood_before_is_named_so_that_a_slip_is_seen(run: Run) -> None:
    run("put", "--mood", "4", "--sleep", "7")
    assert run("put", "--mood", "2", "--sleep", "7").stdout == (
        "Kept for Tue 17 March 2026: mood 2 low, sleep 7-8 h. Before: mood 4 good.\n"
    )
    assert run("put", "--mood", "?").stdout == (
        "Kept for Tue 17 March 2026: mood: could not say. Before: mood 2 low.\n"
    )


DONE = "Tue 17 March, mood 4 good, not anxious, sleep 6-7 h, shift early, a note"


def test_several_fields_are_one_action(run: Run, kept: Kept) -> None:
    run("put", "--mood", "4", "--sleep", "6", "--shift", "e", "--note", "tea")
    with kept() as record:
        day = record.day(TODAY)
        assert (day.mood and day.mood.value, day.sleep and day.sleep.value) == ("mood5-4", "sleep8-5")
        assert (day.is_anxious, day.shift_kind, day.note_text) == (False, "early", "tea")
        assert {entry.source for entry in record.history(TODAY)} == {"command"}
    assert run("undo").stdout == f"Taken back: {DONE}. tracker redo brings it back.\n"
    with kept() as record:
        assert record.days() == {}
    assert run("redo").stdout == f"Brought back: {DONE}.\n"


def test_other_hours_of_the_same_bucket_say_which_stood_before(run: Run) -> None:
    run("put", "--sleep", "6")
    assert run("put", "--hours", "6.5").stdout == "Kept for Tue 17 March 2026: sleep 6-7 h (6.5 hours).\n"
    assert run("put", "--hours", "6.2").stdout == (
        "Kept for Tue 17 March 2026: sleep 6-7 h (6.2 hours). Before: sleep 6-7 h (6.5 hours).\n"
    )


def test_only_hours_keeps_the_exact_number(run: Run, kept: Kept) -> None:
    run("put", "--sleep", "6.5")
    with kept() as record:
        assert record.day(TODAY).hours is None


def test_what_stands_already_is_said_and_not_written(run: Run) -> None:
    run("put", "--mood", "4")
    assert run("put", "--mood", "4").stdout == "Tue 17 March 2026 stood so already; nothing was written.\n"


def test_a_field_can_be_cleared(run: Run, kept: Kept) -> None:
    run("put", "--mood", "4", "--sleep", "6")
    assert run("put", "--clear", "mood").stdout == "Kept for Tue 17 March 2026: mood cleared.\n"
    with kept() as record:
        assert record.day(TODAY).mood is None


def test_with_the_setting_off_nothing_is_noted_about_anxiety(run: Run, kept: Kept) -> None:
    with kept() as record:
        record.keep_settings(Settings(not_anxious=False))
    assert run("put", "--mood", "4").stdout == "Kept for Tue 17 March 2026: mood 4 good.\n"


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (
            ["--mood", "9"],
            "'9' is no level of mood; there are: 1 very low, 2 low, 3 even, 4 good, 5 very good.",
        ),
        (
            ["--sleep", "25"],
            "'25' is not a length of sleep; give hours from 0 to 24: 6.5, 6:30, 5+1.5.",
        ),
        (
            ["--sleep", "9:30-14:00"],
            "'9:30-14:00' is no level of sleep; there are: none, under 3 h, 3-4 h, 4-5 h, 5-6 h, 6-7 h, "
            "7-8 h, 8 h or more. Or give hours: 6.5, 6:30, or with a nap 5+1.5.",
        ),
        (
            ["--hours", "six"],
            "'six' is not a length of sleep; give hours from 0 to 24: 6.5, 6:30, 5+1.5.",
        ),
        (
            ["--sleep", "5", "--hours", "6.5"],
            "6.5 hours on 2026-03-17 do not lie in '5-6 h'; leave the bucket out or correct the hours.",
        ),
        (["--sleep", "?", "--hours", "6"], "'?' and 6 hours contradict each other; leave one of them out."),
        (["--anxious", "perhaps"], "anxious takes yes or no, not 'perhaps'."),
        (["2026-03-18", "--mood", "4"], "2026-03-18 is still to come; nothing was kept."),
        (["2026-02-30", "--mood", "4"], "2026-02-30 is no date of the calendar."),
        (["--note", "\udcff"], "The note of 2026-03-17 holds bytes that are no text; write it in UTF-8."),
    ],
)
def test_a_wrong_answer_is_refused_in_one_sentence(
    run: Run, kept: Kept, arguments: list[str], sentence: str
) -> None:
    result = run("put", *arguments)
    assert (result.exit_code, result.stdout, result.stderr) == (2, "", sentence + "\n")
    with kept() as record:
        assert record.is_empty()


def test_wrong_use_ends_with_2(run: Run) -> None:
    assert run("put", "--moood", "4").exit_code == 2
    assert run("put", "--mood", "4", "--from", "mon").exit_code == 2


@pytest.mark.parametrize("arguments", [[], ["yesterday"], ["--from", "mon"]])
def test_where_nobody_can_answer_nothing_is_asked(run: Run, arguments: list[str]) -> None:
    result = run("put", *arguments, typed="6\n4\n")
    assert result.exit_code == 1
    assert result.stderr.startswith("Nobody can answer here, because this is no terminal; ")
    assert result.stdout == ""
