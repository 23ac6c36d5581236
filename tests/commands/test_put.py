"""`tracker put`. Today is Tuesday 17 March 2026."""

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tests.keeping import stands
from tracker.diary.breaks import Break
from tracker.diary.days import Change
from tracker.diary.settings import Settings
from tracker.record.choice_rows import break_value
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
            "Kept for Thu 12 March 2026: sleep 5-6 h (remembered, 5 days later).",
        ),
        (
            ["2026-03-01", "--sleep", "5"],
            "Kept for Sun 1 March 2026: sleep 5-6 h (remembered, 16 days later; findings leave it out).",
        ),
        (
            ["2026-03-01", "--sleep", "5", "--paper"],
            "Kept for Sun 1 March 2026: sleep 5-6 h (copied from paper).",
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
        (["--called", "01:00-04:30"], "called for 3.5 hours"),
        (["--called", "01:00-02:00", "--called", "05:00-06:00"], "called for 2 hours"),
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
    assert run("undo").stdout == f"Taken back: {DONE} (5 changes). tracker redo brings it back.\n"
    with kept() as record:
        assert record.days() == {}
    assert run("redo").stdout == f"Brought back: {DONE} (5 changes).\n"


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


@pytest.mark.usefixtures("at_a_terminal")
class TestAsking:
    def test_the_waiting_squares_are_asked_for_in_plain_lines(self, run: Run) -> None:
        result = run("put", typed="6\n4\n")
        assert result.output == (
            "Hours asleep, every sleep since you last got up added together.\n"
            "  0: no sleep\n"
            "  2: some, but under 3 hours\n"
            "  3: 3 to under 4 hours\n"
            "  4: 4 to under 5 hours\n"
            "  5: 5 to under 6 hours\n"
            "  6: 6 to under 7 hours\n"
            "  7: 7 to under 8 hours\n"
            "  8 or 9: 8 hours or more\n"
            "  Or hours: 6.5, 6:30, or with a nap 5+1.5.\n"
            "  x: could not say. Enter alone: not now. k: this key again.\n"
            "  u: take the last answer back. q: stop.\n"
            "Sleep of today, Tue 17 March: 6\n"
            "Kept: sleep 6-7 h.\n"
            "How was this day, taken as a whole?\n"
            "  1: very low, hard to get through the day\n"
            "  2: low, heavy for much of it\n"
            "  3: even, neither low nor good\n"
            "  4: good, good for most of it\n"
            "  5: very good, as good as I know\n"
            "  With a behind it, like 3a: anxious, uneasy or unsettled for a good part of the day.\n"
            "  x: could not say. Enter alone: not now. k: this key again.\n"
            "  u: take the last answer back. q: stop.\n"
            "Mood of today, Tue 17 March: 4\n"
            "Kept: mood 4 good, not anxious.\n"
            "Nothing waits of yesterday and today.\n"
        )

    def test_the_order_is_that_of_time(self, run: Run) -> None:
        run("put", "2026-03-15", "--mood", "3", "--sleep", "7")
        asked = [
            line.split(":")[0]
            for line in run("put", typed="6\n4\n7\n2a\n").output.splitlines()
            if " of " in line
        ]
        assert [line for line in asked if line.startswith(("Sleep", "Mood"))] == [
            "Sleep of yesterday, Mon 16 March",
            "Mood of yesterday, Mon 16 March",
            "Sleep of today, Tue 17 March",
            "Mood of today, Tue 17 March",
        ]

    @pytest.mark.parametrize("cry", ["?", "help", "k"])
    def test_a_call_for_help_shows_the_key_again_and_keeps_nothing(
        self, run: Run, kept: Kept, cry: str
    ) -> None:
        result = run("put", typed=f"{cry}\n6\nq\n")
        assert result.output.count("  0: no sleep\n") == 2
        with kept() as record:
            sleep = record.day(TODAY).sleep
            assert sleep
            assert (sleep.state, sleep.value) == ("kept", "sleep8-5")

    def test_an_a_behind_the_mood_marks_the_day_anxious(self, run: Run, kept: Kept) -> None:
        run("put", typed="6\n2a\n")
        with kept() as record:
            assert record.day(TODAY).is_anxious is True

    def test_a_wrong_answer_is_asked_again(self, run: Run) -> None:
        result = run("put", typed="1.x\n6\nsplendid\n4\n")
        assert "'1.x' is no answer here" in result.output
        assert "'splendid' is no answer here" in result.output
        assert result.output.endswith(
            "Kept: mood 4 good, not anxious.\nNothing waits of yesterday and today.\n"
        )

    def test_a_wrong_answer_is_told_every_key_with_what_it_means(self, run: Run) -> None:
        result = run("put", typed="good\n6\n7\n4\n")
        assert [line for line in result.output.splitlines() if "no answer here" in line] == [
            "'good' is no answer here; there are: 0 = none; 2 = under 3 h; 3 = 3-4 h; 4 = 4-5 h; 5 = 5-6 h; "
            "6 = 6-7 h; 7 = 7-8 h; 8 or 9 = 8 h or more; hours like 6.5; x = could not say.",
            "'7' is no answer here; there are: 1 = very low; 2 = low; 3 = even; 4 = good; 5 = very good; "
            "an a behind the digit = anxious; x = could not say.",
        ]

    def test_enter_alone_leaves_a_square_waiting(self, run: Run, kept: Kept) -> None:
        assert run("put", typed="\n4\n").output.endswith("1 square left open.\n")
        with kept() as record:
            assert record.day(TODAY).sleep is None

    def test_x_is_could_not_say_and_u_takes_back(self, run: Run, kept: Kept) -> None:
        result = run("put", typed="x\nu\n\n4\n")
        assert "Taken back: Tue 17 March, sleep: could not say." in result.output
        assert result.output.endswith("1 square left open.\n")
        with kept() as record:
            assert record.day(TODAY).sleep is None

    def test_what_is_taken_back_is_asked_for_again_before_what_comes_next(self, run: Run, kept: Kept) -> None:
        asked = [line[:24] for line in run("put", typed="7\nu\n5\n3\n").output.splitlines() if ": " in line]
        assert [line for line in asked if line.startswith(("Sleep of", "Mood of", "Taken"))] == [
            "Sleep of today, Tue 17 M",
            "Mood of today, Tue 17 Ma",
            "Taken back: Tue 17 March",
            "Sleep of today, Tue 17 M",
            "Mood of today, Tue 17 Ma",
        ]
        with kept() as record:
            assert (stands(record, TODAY, "sleep"), stands(record, TODAY, "mood")) == ("sleep8-4", "mood5-3")

    def test_taking_back_again_and_again_leads_back_to_the_first_answer(self, run: Run, kept: Kept) -> None:
        run("put", "--from", "yesterday", typed="7\n2\nu\nu\n6\n4\n5\n3\n")
        with kept() as record:
            answers = [(day.sleep, day.mood) for day in record.days().values()]
        assert [tuple(square and square.value for square in squares) for squares in answers] == [
            ("sleep8-5", "mood5-4"),
            ("sleep8-4", "mood5-3"),
        ]

    def test_u_takes_back_no_more_than_was_answered_now_unasked(self, run: Run, kept: Kept) -> None:
        assert "There is nothing to take back." in run("put", typed="u\nq\n").output
        run("put", "mon", "--mood", "3", "--sleep", "5")
        assert "Nothing was changed." in run("put", typed="u\n\n6\n4\n").output
        with kept() as record:
            assert record.day(TODAY - timedelta(1)).mood is not None

    @pytest.mark.parametrize("typed", ["6\nq\n", "6\n"])
    def test_stopping_keeps_what_was_answered(self, run: Run, kept: Kept, typed: str) -> None:
        result = run("put", typed=typed)
        assert (result.exit_code, result.output.splitlines()[-1]) == (0, "Stopped. What was kept stands.")
        with kept() as record:
            assert record.day(TODAY).sleep is not None

    def test_from_and_to_ask_day_by_day_for_what_is_not_kept(self, run: Run, kept: Kept) -> None:
        run("put", "mon", "--sleep", "5")
        result = run("put", "--from", "sun", "--to", "mon", typed="7\n3\n2\n")
        assert result.output.endswith("Kept: mood 2 low, not anxious.\nAll is kept.\n")
        with kept() as record:
            moods = [day.mood.value for day in record.days().values() if day.mood]
            assert moods == ["mood5-3", "mood5-2"]

    def test_a_paper_year_is_kept_as_copied_from_paper(self, run: Run, kept: Kept) -> None:
        run("put", "--from", "2025-01-01", "--to", "2025-01-01", "--paper", typed="7\n3\n")
        with kept() as record:
            assert {entry.basis for entry in record.history(date(2025, 1, 1))} == {"paper"}

    def test_earlier_waiting_squares_are_counted_not_reproached(self, run: Run, kept: Kept) -> None:
        with kept() as record:
            record.keep([Change(TODAY - timedelta(4), "mood", "mood5-3")], "mood")
            record.choose(break_value(Break(TODAY - timedelta(2), TODAY - timedelta(2))), "break")
        assert run("put", typed="6\n4\n7\n3\n").output.endswith(
            "Nothing waits of yesterday and today.\n"
            "3 earlier squares wait; tracker put --from DAY asks for them.\n"
        )

    def test_after_a_night_it_says_which_sleep_belongs_to_the_day(self, run: Run) -> None:
        run("put", "yesterday", "--mood", "3", "--sleep", "5", "--shift", "n")
        assert (
            "After a night: the sleep that ends today belongs to today." in run("put", typed="6\n4\n").output
        )

    def test_after_an_earlier_night_it_names_the_day(self, run: Run) -> None:
        run("put", "sun", "--mood", "3", "--sleep", "5", "--shift", "n")
        assert (
            "After a night: the sleep that ended on Mon 16 March belongs to that day.\nSleep of yesterday, "
            in run("put", typed="6\n4\n6\n4\n").output
        )
