"""`tracker findings`. Today is Tuesday 17 March 2026."""

import json
import re
from collections.abc import Callable
from datetime import date, timedelta

import numpy as np
import pytest

from tests.commands.conftest import Run
from tests.simulated import as_days, planted, simulate
from tracker import words
from tracker.analysis import wording
from tracker.diary.days import FIELDS, Change
from tracker.diary.spoken import spoken
from tracker.record.store import Record

TODAY = date(2026, 3, 17)
FIRST = TODAY - timedelta(days=399)


@pytest.fixture
def filled(run: Run, kept: Callable[[], Record]) -> Run:
    """The command over 400 days in which short sleep lowers the mood of the day."""
    series = simulate(planted(0.5, 0), 400, np.random.default_rng(1), FIRST)
    series.mood[0] = 3
    days = as_days(series)
    changes = [
        Change(day.date, field, square.value)
        for day in days
        for field in FIELDS
        if (square := day.square(field)) is not None
    ]
    with kept() as record:
        record.keep(changes, "a year", source="command", basis="paper")
    return run


def test_the_caution_stands_first_and_where_to_turn_last(filled: Run) -> None:
    lines = filled("findings").stdout.splitlines()
    assert lines[0] == words.CAUTION
    assert " ".join(lines[-1].split()) in words.WHERE_TO_TURN_HINT
    assert max(map(len, lines)) <= 80


def test_in_words_the_same_is_said_in_whole_lines_without_columns_or_brackets(filled: Run) -> None:
    said = filled("findings", "--words").stdout.splitlines()
    assert said[0] == words.CAUTION
    assert said[-1].startswith("If you feel unsafe, or want someone to talk to: tracker help")
    assert any(
        line.startswith("Shown: After longer sleep the day's mood tended to be higher.") for line in said
    )
    assert [line for line in said if re.search(r"  |[()\[\]=<>|]|\d-\d|\d h\b", line)] == []
    statements = json.loads(filled("findings", "--json").stdout)["statements"]
    heard = " ".join(said)
    judged = [statement for statement in statements if statement["verdict"] and statement["topic"] == "lags"]
    unsaid = [each["text"] for each in judged if spoken(each["text"]) not in heard]
    assert (len(judged) > 1, unsaid) == (True, [])


def test_an_empty_record_says_what_it_needs(run: Run) -> None:
    result = run("findings")
    assert result.exit_code == 0
    assert words.CAUTION in result.stdout
    assert "Nothing is kept yet." in result.stdout


def test_a_record_of_days_remembered_late_is_not_called_empty(run: Run) -> None:
    run("put", "2026-01-05", "--mood", "3", "--sleep", "6")
    told = " ".join(run("findings").stdout.split())
    assert "No kept day counts here yet. A first verdict needs 120 days from the first one on" in told
    assert "1 day left out: entered from memory over 14 days later" in told
    assert "Nothing is kept" not in told


def test_what_is_shown_is_told_with_its_days(filled: Run) -> None:
    told = " ".join(filled("findings").stdout.split())
    assert "As of 17 March 2026. Verdicts of 10 February 2026. Next verdicts on 10 February 2027; " in told
    assert (
        "wait for them. Looked at from 11 February 2025 to 10 February 2026: of 365 days, mood kept on"
        in told
    )
    assert "shown After longer sleep the day's mood tended to be higher" in told
    assert all(line in filled("findings").stdout for line in words.CAUSE)


def test_what_holds_for_all_is_told_once(filled: Run) -> None:
    told = " ".join(filled("findings").stdout.split())
    assert told.count(wording.NOT_SHOWN_MEANS) == 1
    assert told.count(wording.NOT_THE_CAUSE) == 1
    assert told.count("in 8 of 10 such records") == 0


def test_numbers_stand_behind_each_sentence_where_asked(filled: Run) -> None:
    told = " ".join(filled("findings", "--numbers").stdout.split())
    assert "(Correlation +0." in told
    assert "(Smallest correlation that would have been seen in 8 of 10 such records: 0." in told
    assert "such records: groups that account for" in told


def test_json_is_one_object_and_nothing_else(filled: Run) -> None:
    result = filled("findings", "--json")
    told = json.loads(result.stdout)
    assert (result.exit_code, result.stderr) == (0, "")
    assert (told["schema"], told["caution"], told["as_of"]) == (2, words.CAUTION, "2026-03-17")
    assert (told["lags"][0]["verdict"], told["lags"][0]["first"]) == ("shown", "sleep")


def test_numbers_stay_within_eighty_columns(filled: Run) -> None:
    lines = filled("findings", "--numbers").stdout.splitlines()
    assert max(map(len, lines)) <= 80
    for head in ("Mood and sleep: rank correlations", "Months: days of each level of mood"):
        assert head in lines
    sleep_before = next(line for line in lines if line.startswith("  the sleep before"))
    assert sleep_before.endswith("*")


def test_only_what_is_named_is_told(filled: Run) -> None:
    told = json.loads(filled("findings", "--json", "--what", "weekdays").stdout)
    assert (told["lags"], told["shifts"], told["seasons"]["months"]) == ([], [], [])
    assert {test["by"] for test in told["group_tests"]} == {"weekday"}


def test_an_earlier_day_has_its_own_verdicts(filled: Run) -> None:
    told = json.loads(filled("findings", "--json", "--as-of", "2025-09-30").stdout)
    assert (told["as_of"], told["verdict_day"]) == ("2025-09-30", "2025-08-09")


def test_days_chosen_by_hand_are_never_judged(filled: Run) -> None:
    told = json.loads(filled("findings", "--json", "--from", "2025-06-01", "--to", "2025-12-31").stdout)
    assert told["period"] == {"from": "2025-06-01", "to": "2025-12-31", "days": 214}
    assert {row["p"] for lag in told["lags"] for row in lag["rows"]} == {None}
    assert {statement["verdict"] for statement in told["statements"]} == {None}


@pytest.mark.parametrize(
    ("arguments", "code", "sentence"),
    [
        (["--what", "moon"], 2, "'moon' is none of lags, seasons, shifts, weekdays"),
        (["--as-of", "2026-04-01"], 2, "2026-04-01 is still to come"),
        (["--from", "2026-03-10", "--to", "2026-03-01"], 2, "No day lies between 2026-03-10 and 2026-03-01"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_a_sentence(
    filled: Run, arguments: list[str], code: int, sentence: str
) -> None:
    result = filled("findings", *arguments)
    assert (result.exit_code, result.stdout) == (code, "")
    assert sentence in result.stderr
