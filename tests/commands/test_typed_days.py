"""Days on the command line, of one word or several. Today is Tuesday 17 March 2026."""

import pytest

from tests.commands.conftest import Run


@pytest.mark.parametrize(
    "day", [["16", "march"], ["Mon", "16", "March", "2026"], ["1", "day", "ago"], ["mon"]]
)
def test_a_day_that_is_the_only_argument_takes_several_words(run: Run, day: list[str]) -> None:
    assert run("put", *day, "--sleep", "6").stdout == "Kept for Mon 16 March 2026: sleep 6-7 h.\n"
    assert run("history", *day).stdout.startswith("Mon 16 March 2026\n")


@pytest.mark.parametrize(
    "days",
    [
        ["2026-03-02", "2026-03-06"],
        ["2", "march", "to", "6", "march"],
        ["2 march", "6 march"],
        ["Mon", "2", "March", "to", "2026-03-06"],
    ],
)
def test_two_days_stand_one_after_the_other_or_parted_by_to(run: Run, days: list[str]) -> None:
    assert run("break", *days).stdout == "Marked a break from 2 March 2026 to 6 March 2026.\n"


def test_a_break_from_a_day_of_several_words_goes_on(run: Run) -> None:
    assert run("break", "2", "march").stdout == (
        "Marked a break from 2 March 2026 until you keep a square again.\n"
    )


def test_days_that_run_into_each_other_are_refused_with_how_to_part_them(run: Run) -> None:
    assert run("break", "2", "march", "6", "march").stderr == (
        "'2 march 6 march' is no day; give today, yesterday, mon to sun, 3 days ago, 17 March 2026 or "
        "2026-03-17. Put 'to' between two days: 1 april to 14 april.\n"
    )


def test_a_rota_is_laid_from_the_next_day_of_a_name(run: Run) -> None:
    laid = run("rota", "--pattern", "e -", "--from", "mon", "--to", "3 april")
    assert "2026-03-23 to 2026-04-03." in laid.stdout


def test_a_month_is_shown_by_its_name(run: Run) -> None:
    run("put", "2026-02-03", "--mood", "4")
    assert (
        run("show", "--month", "february", "--words").stdout
        == run("show", "--month", "2026-02", "--words").stdout
    )


WRONG_USE = {
    ("put", "-3", "--mood", "4"): "tracker put has no option -3 (perhaps 3 days ago is meant); "
    "tracker put --help shows its use.\n",
    ("findings", "--as-of", "16", "march"): "tracker findings has no use for 'march'; a day of several words "
    'stands in quotes here, like "27 november"; tracker findings --help shows its use.\n',
    ("show", "2", "march"): 'A week goes behind --week: tracker show --week "2 march"; '
    "tracker show --help shows its use.\n",
    ("show", "march"): "A month goes behind --month: tracker show --month march; "
    "tracker show --help shows its use.\n",
}


@pytest.mark.parametrize("arguments", WRONG_USE)
def test_a_day_in_the_wrong_place_is_shown_in_the_right_one(run: Run, arguments: tuple[str, ...]) -> None:
    result = run(*arguments)
    assert (result.stderr, result.exit_code) == (WRONG_USE[arguments], 2)
