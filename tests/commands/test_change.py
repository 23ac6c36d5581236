"""`tracker change`: dated changes of her own. Today is Tuesday 17 March 2026."""

import json
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tracker.diary.own_changes import DatedChange
from tracker.record.store import Record

Kept = Callable[[], Record]


def test_a_change_is_noted_on_its_day_and_listed_in_order_of_time(run: Run, kept: Kept) -> None:
    assert run("change", "today", "tablets  started").stdout == "Noted: 17 March 2026: tablets started.\n"
    assert run("change", "2 march", "new post at Cawbrook Junction").exit_code == 0
    assert run("change").stdout == (
        "2 March 2026: new post at Cawbrook Junction\n17 March 2026: tablets started\n"
    )
    assert run("change", "today").stdout == "17 March 2026: tablets started\n"
    with kept() as record:
        assert record.choices().dated_changes[1] == DatedChange(date(2026, 3, 17), "tablets started")


def test_a_day_has_one_change_and_another_takes_its_place(run: Run) -> None:
    run("change", "today", "tablets started")
    assert run("change", "today", "tablets started").stdout == (
        "17 March 2026: tablets started stood so already; nothing was written.\n"
    )
    assert run("change", "today", "half a tablet").stdout == (
        "Noted: 17 March 2026: half a tablet. Before: tablets started.\n"
    )
    assert run("change").stdout == "17 March 2026: half a tablet\n"


def test_a_change_is_taken_away_and_every_step_is_taken_back_by_undo(run: Run) -> None:
    run("change", "today", "tablets started")
    assert run("change", "today", "--off").stdout == "The change of 17 March 2026 is taken away.\n"
    assert run("change").stdout == "No change is noted.\n"
    assert run("undo").stdout.startswith("Taken back: change of Tue 17 March.")
    assert run("change").stdout == "17 March 2026: tablets started\n"
    run("undo")
    assert run("change").stdout == "No change is noted.\n"


def test_a_change_may_be_noted_ahead_and_before_the_record_began(run: Run) -> None:
    assert run("change", "2026-05-01", "moved").exit_code == 0
    assert run("change", "2019-05-01", "first rota").exit_code == 0


REFUSED = {
    ("today", " "): "A change needs a few words: what began, ended or was moved.\n",
    ("today", "x" * 41): "A change has at most 40 letters; this one has 41.\n",
    (
        "today",
        "tea \x1b[2J",
    ): "The change of 17 March 2026 holds signs that steer a terminal and cannot be shown; take them out.\n",
    ("2030-01-01", "moved"): "1 January 2030 is over three years ahead; nothing was kept.\n",
    ("today",): "No change is noted on 17 March 2026.\n",
    ("yesterday", "--off"): "No change is noted on 16 March 2026.\n",
    ("someday", "moved"): "'someday' is no day; give today, yesterday, mon to sun, 3 days ago, 17 March 2026 "
    'or 2026-03-17. Here a day of several words stands in quotes, like "14 march".\n',
}


@pytest.mark.parametrize("arguments", REFUSED)
def test_what_is_no_change_is_refused_in_a_sentence(run: Run, kept: Kept, arguments: tuple[str, ...]) -> None:
    run("put", "--mood", "4")
    assert run("change", *arguments).stderr == REFUSED[arguments]
    with kept() as record:
        assert record.choices().dated_changes == ()


def test_words_need_no_quotes_and_a_day_of_several_is_said_to(run: Run) -> None:
    assert run("change", "today", "new", "post").stdout == "Noted: 17 March 2026: new post.\n"
    assert run("change", "14", "march", "moved").stderr == (
        "'14' is no day; give today, yesterday, mon to sun, 3 days ago, 17 March 2026 or 2026-03-17. "
        'Here a day of several words stands in quotes, like "14 march".\n'
    )


def test_changes_go_with_the_whole_record_and_not_with_the_days(run: Run, tmp_path: Path) -> None:
    run("put", "--mood", "4")
    run("change", "today", "tablets started")
    run("export", str(tmp_path / "record.json"))
    run("export", str(tmp_path / "days.csv"))
    rows = json.loads((tmp_path / "record.json").read_text())["choice"]
    assert {row["name"]: row["value"] for row in rows}["change.2026-03-17"] == "tablets started"
    assert (tmp_path / "days.csv").read_text().splitlines()[0] == "date,mood,sleep,hours,anxious,shift,note"
    other = tmp_path / "other.sqlite"
    run("--record", str(other), "import", str(tmp_path / "record.json"))
    assert run("--record", str(other), "change").stdout == "17 March 2026: tablets started\n"


def test_a_change_stands_in_the_history_of_its_day_and_is_erased_with_it(run: Run) -> None:
    run("change", "today", "tablets started")
    run("change", "today", "--off")
    assert run("history", "today").stdout == (
        "Tue 17 March 2026\n"
        "  2026-03-17 21:00  change: tablets started\n"
        "  2026-03-17 21:00  change: taken away\n"
    )
    erased = run("erase", "today", "--yes").stdout
    assert erased.startswith("Erased 2 entries (2 of them changed or taken back since) of 1 day.\n")
    assert run("history", "today").stdout.endswith("Nothing was ever kept of this day.\n")


@pytest.mark.parametrize("span", [["--week", "today"], ["--month", "2026-03"], ["--year", "2026"]])
def test_a_change_is_said_in_the_sentences_of_its_week_month_and_year(run: Run, span: list[str]) -> None:
    run("change", "2026-02-14", "moved")
    run("change", "today", "tablets started")
    said = [
        line for line in run("show", "--words", *span).stdout.splitlines() if line.startswith("Change on")
    ]
    assert said[-1] == "Change on 17 March 2026: tablets started."
    assert (len(said) == 2) is (span[0] == "--year")
