"""`tracker rota` and `tracker kinds`. Today is Tuesday 17 March 2026."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tests.record.test_rota_files import calendar
from tracker.diary.days import Change
from tracker.record.store import Record

Kept = Callable[[], Record]
NIGHT = "UID:a\nSUMMARY:Night\\, Box 4\nDTSTART:20260320T220000\nDTEND:20260321T060000"
NO_CALENDAR = (
    "{}: this is no calendar file.\n"
    "Nothing was kept; export the rota as iCalendar (.ics), "
    "or take shifts from CSV with tracker import.\n"
)
LEAVE = "UID:b\nSUMMARY:leave\nDTSTART;VALUE=DATE:20260322"


@pytest.fixture
def rota_file(tmp_path: Path) -> str:
    file = tmp_path / "spring.ics"
    file.write_text(calendar(NIGHT, LEAVE))
    return str(file)


def shifts(record: Record) -> dict[int, str]:
    return {day.day: what.shift_kind for day, what in record.days().items()}


def test_names_are_given_once_and_remembered(run: Run, rota_file: str, kept: Kept) -> None:
    result = run("rota", rota_file, "--kind", "Night, Box 4=n")
    assert result.stdout == (
        "2 shifts in spring.ics, 2025-03-16 to 2027-03-18.\n"
        "2 new, 0 changed, 0 as they stand, 0 set by hand that stay; 2026-03-20 to 2026-03-22.\n"
        "  night 1, leave 1\n"
        "Kept 2 shifts. tracker undo takes them back.\n"
    )
    with kept() as record:
        assert shifts(record) == {20: "night", 22: "leave"}
        assert dict(record.choices().event_kinds) == {"Night, Box 4": "night"}
    assert run("rota", rota_file).stdout.endswith("There is nothing to change.\n")


def test_a_name_is_known_whatever_its_capitals(run: Run, rota_file: str, kept: Kept) -> None:
    run("rota", rota_file, "--kind", "night, BOX 4=n")
    with kept() as record:
        assert shifts(record) == {20: "night", 22: "leave"}
        assert dict(record.choices().event_kinds) == {"Night, Box 4": "night"}


def test_one_undo_takes_shifts_and_names_back_and_names_the_days(
    run: Run, rota_file: str, kept: Kept
) -> None:
    run("rota", rota_file, "--kind", "Night, Box 4=n")
    assert run("undo").stdout == (
        "Taken back: rota of spring.ics, Fri 20 March to Sun 22 March. tracker redo brings it back.\n"
    )
    with kept() as record:
        assert record.days() == {}
        assert dict(record.choices().event_kinds) == {}


def test_taking_a_rota_over_new_year_back_names_the_years(run: Run) -> None:
    run("rota", "--pattern", "L", "--from", "2026-12-31", "--to", "2027-01-02")
    assert run("undo").stdout.startswith("Taken back: rota of L, 31 December 2026 to 2 January 2027.")


def test_without_a_terminal_an_unknown_name_is_refused(run: Run, rota_file: str) -> None:
    result = run("rota", rota_file)
    assert (result.exit_code, result.stderr) == (
        1,
        "No kind of shift is known for 'Night, Box 4' (1); "
        'name it like --kind "Night, Box 4=n", or with nothing behind = to pass it over.\n',
    )


@pytest.mark.usefixtures("at_a_terminal")
def test_at_a_terminal_a_name_is_asked_for_and_the_shifts_confirmed(
    run: Run, rota_file: str, kept: Kept
) -> None:
    result = run("rota", rota_file, typed="zebra\nn\nn\ny\n")
    assert "'zebra' is no kind of shift" in result.output
    with kept() as record:
        assert shifts(record) == {20: "night", 22: "leave"}


@pytest.mark.usefixtures("at_a_terminal")
def test_blank_days_of_a_rota_become_days_off_where_she_agrees(run: Run, rota_file: str, kept: Kept) -> None:
    result = run("rota", rota_file, "--kind", "Night, Box 4=n", typed="\n\n")
    assert "Write the 1 day without a shift in this span as off? [Y/n]" in result.stdout
    with kept() as record:
        assert shifts(record) == {20: "night", 21: "off", 22: "leave"}


@pytest.mark.parametrize(("option", "blank"), [("--days-off", ["off"] * 2), ("--no-days-off", [])])
def test_blank_days_of_a_pattern_are_off_or_blank_as_the_option_says(
    run: Run, kept: Kept, option: str, blank: list[str]
) -> None:
    run("rota", "--pattern", "n -", "--from", "2026-03-20", "--to", "2026-03-23", option)
    with kept() as record:
        assert [kind for day, kind in shifts(record).items() if day in (21, 23)] == blank
        assert [kind for day, kind in shifts(record).items() if day in (20, 22)] == ["night", "night"]


def test_days_off_of_a_rota_give_way_to_the_next_rota(run: Run, kept: Kept) -> None:
    span = ("--from", "2026-03-20", "--to", "2026-03-21")
    run("rota", "--pattern", "n -", *span, "--days-off")
    run("rota", "--pattern", "l e", *span)
    with kept() as record:
        assert shifts(record) == {20: "late", 21: "early"}


def test_a_dry_run_shows_it_and_keeps_nothing(run: Run, rota_file: str, kept: Kept) -> None:
    result = run("rota", rota_file, "--kind", "Night, Box 4=", "--dry-run")
    assert result.stdout == (
        "1 shift in spring.ics, 2025-03-16 to 2027-03-18.\n"
        "1 new, 0 changed, 0 as they stand, 0 set by hand that stay; 2026-03-22 to 2026-03-22.\n"
        "  leave 1\n"
        "Nothing was changed, because this was a dry run.\n"
    )
    with kept() as record:
        assert record.is_empty()


def test_a_new_file_leaves_what_was_set_by_hand(run: Run, tmp_path: Path, rota_file: str, kept: Kept) -> None:
    run("rota", rota_file, "--kind", "Night, Box 4=n")
    run("put", "2026-03-22", "--shift", "e")
    moved = tmp_path / "moved.ics"
    moved.write_text(calendar(NIGHT.replace("20260320", "20260319"), LEAVE))
    result = run("rota", str(moved), "--from", "2026-03-18", "--to", "2026-04-01")
    assert result.stdout == (
        "2 shifts in moved.ics, 2026-03-18 to 2026-04-01.\n"
        "1 new, 1 changed, 0 as they stand, 1 set by hand that stays; 2026-03-19 to 2026-03-22.\n"
        "  night 1\n"
        "  2026-03-20: night becomes no shift\n"
        "  2026-03-22: early stays; the rota has leave\n"
        "Kept 1 shift; 1 was taken away. tracker undo takes them back.\n"
    )
    with kept() as record:
        assert shifts(record) == {19: "night", 22: "early"}


@pytest.mark.usefixtures("at_a_terminal")
def test_a_shift_set_in_another_window_while_she_is_asked_stays(
    run: Run, kept: Kept, monkeypatch: pytest.MonkeyPatch
) -> None:
    def set_elsewhere(question: str, default: bool) -> bool:
        with kept() as other:
            other.keep([Change(date(2026, 3, 20), "shift", "leave")])
        return True

    monkeypatch.setattr("click.confirm", set_elsewhere)
    result = run("rota", "--pattern", "n", "--from", "2026-03-20", "--to", "2026-03-21")
    assert (result.exit_code, result.stderr) == (
        1,
        "The record was changed in another window meanwhile, so nothing was kept; lay the rota again.\n",
    )
    with kept() as record:
        assert shifts(record) == {20: "leave"}


def test_a_name_that_means_something_else_changes_no_shift_but_is_kept(
    run: Run, rota_file: str, kept: Kept
) -> None:
    run("rota", rota_file, "--kind", "Night, Box 4=n")
    run("put", "2026-03-20", "--shift", "e")
    result = run("rota", rota_file, "--kind", "Night, Box 4=l")
    assert result.stdout.endswith(
        "No shift was changed; what the names mean is kept. tracker undo takes it back.\n"
    )
    with kept() as record:
        assert record.choices().event_kinds["Night, Box 4"] == "late"


def test_a_pattern_is_kept_from_a_day_on(run: Run, kept: Kept) -> None:
    result = run("rota", "--pattern", "L L N N off off", "--from", "2026-03-18", "--to", "2026-03-24")
    assert result.stdout.splitlines()[:2] == [
        "7 new, 0 changed, 0 as they stand, 0 set by hand that stay; 2026-03-18 to 2026-03-24.",
        "  late 3, night 2, off 2",
    ]
    with kept() as record:
        assert list(shifts(record).values()) == ["late", "late", "night", "night", "off", "off", "late"]
        assert record.day(date(2026, 3, 20)).shift is not None


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        ([], 2),
        (["--pattern", "n"], 2),
        (["--pattern", "z", "--from", "today"], 2),
        (["--pattern", "-", "--from", "today"], 2),
        (["--pattern", "n", "--from", "today", "--to", "2036-01-01"], 2),
        (["--pattern", "n", "--from", "today", "--to", "yesterday"], 2),
    ],
)
def test_wrong_use_and_wrong_words(run: Run, arguments: list[str], code: int) -> None:
    result = run("rota", *arguments)
    assert result.exit_code == code
    assert len(result.stderr.splitlines()) == 1


def test_a_file_that_is_no_calendar_is_one_sentence(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "x.ics"
    file.write_text("hello")
    result = run("rota", str(file))
    assert result.exit_code == 1
    assert result.stderr == NO_CALENDAR.format(file)


class TestLeave:
    """Leave that was booked is taken away by no rota unasked (common practice, no source)."""

    FOUR_DAYS = ("--from", "2026-03-20", "--to", "2026-03-23")

    @pytest.fixture
    def booked(self, run: Run) -> None:
        run("rota", "--pattern", "l v v l", *self.FOUR_DAYS)

    @pytest.mark.usefixtures("booked")
    @pytest.mark.parametrize("pattern", ["n", "n - n n"])
    def test_a_rota_laid_over_it_leaves_it(self, run: Run, kept: Kept, pattern: str) -> None:
        result = run("rota", "--pattern", pattern, *self.FOUR_DAYS)
        has = "no shift" if "-" in pattern else "night"
        assert result.stdout == (
            "0 new, 2 changed, 0 as they stand, 0 set by hand that stay, 2 of leave that stay; "
            "2026-03-20 to 2026-03-23.\n"
            "  night 2\n"
            "  2026-03-20: late becomes night\n"
            "  2026-03-23: late becomes night\n"
            f"  2026-03-21: leave stays; the rota has {has}\n"
            "  2026-03-22: leave stays; the rota has night\n"
            "Leave stays as it is; --over-leave lays the rota over it.\n"
            "Kept 2 shifts. tracker undo takes them back.\n"
        )
        with kept() as record:
            assert list(shifts(record).values()) == ["night", "leave", "leave", "night"]

    @pytest.mark.usefixtures("booked")
    def test_when_she_asks_for_it_the_rota_wins(self, run: Run, kept: Kept) -> None:
        result = run("rota", "--pattern", "n", *self.FOUR_DAYS, "--over-leave")
        assert "  2026-03-21: leave becomes night\n" in result.stdout
        assert "stays" not in result.stdout
        with kept() as record:
            assert list(shifts(record).values()) == ["night"] * 4


def test_a_spreadsheet_is_sent_to_the_import(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "rota.csv"
    file.write_text("date,shift\n2026-03-20,n\n")
    assert run("rota", str(file)).stderr == NO_CALENDAR.format(file)
    assert run("import", str(file)).stdout.endswith("Kept 1 shift. tracker undo takes it back.\n")


class TestKinds:
    def test_the_kinds_are_shown(self, run: Run) -> None:
        assert run("kinds").stdout.splitlines()[4:7] == [
            "n  night         20:00-08:30  work",
            "c  on call       09:00-09:00  work when called",
            "o  off           none         no work",
        ]

    def test_one_is_added_and_can_be_kept(self, run: Run) -> None:
        added = run("kinds", "r", "--label", "relief turn", "--hours", "06:00-14:00").stdout
        assert added == "Added: r relief turn, 06:00-14:00, work\n"
        assert run("put", "--shift", "r").stdout == "Kept for Tue 17 March 2026: shift relief turn.\n"

    @pytest.mark.parametrize(
        ("arguments", "shown"),
        [
            (["c", "--work", "yes"], "c on call, 09:00-09:00, work\n"),
            (["c", "--work"], "c on call, 09:00-09:00, work\n"),
            (["n", "--work", "on call"], "n night, 20:00-08:30, work when called\n"),
            (["n", "--no-work"], "n night, 20:00-08:30, no work\n"),
        ],
    )
    def test_whether_one_is_work_is_hers_to_say(self, run: Run, arguments: list[str], shown: str) -> None:
        assert run("kinds", *arguments).stdout == f"Changed: {shown}"
        assert run("kinds", arguments[0]).stdout == shown

    def test_other_hours_leave_past_shifts_as_they_were(self, run: Run, kept: Kept) -> None:
        run("put", "mon", "--shift", "n")
        run("kinds", "n", "--hours", "22:00-06:00")
        run("put", "--shift", "n")
        with kept() as record:
            starts = [day.shift.detail["start"][11:16] for day in record.days().values() if day.shift]
            assert starts == ["20:00", "22:00"]

    @pytest.mark.parametrize(
        ("arguments", "sentence"),
        [
            (["q"], "There is no kind 'q'; --label adds it.\n"),
            (["n", "--hours", "late"], "'late' is no span of hours; write it like 22:00-06:00, or none.\n"),
            (["n", "--code", "e"], "'e' is the code of early already; take another letter.\n"),
        ],
    )
    def test_wrong_ones_are_refused(self, run: Run, arguments: list[str], sentence: str) -> None:
        result = run("kinds", *arguments)
        assert (result.exit_code, result.stderr) == (2, sentence)
