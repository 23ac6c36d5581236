"""Tables as commands print them, piped and at a terminal."""

import pytest

from tracker.commands.printed_tables import print_table

ROWS = [("n", "night", "20:00-08:30"), ("r", "relief [bold]turn[/]", "06:00-14:00")]


def test_piped_every_row_is_one_line_however_long(capsys: pytest.CaptureFixture[str]) -> None:
    print_table([("a", "1", "x" * 90), ("bcd", "20", "y")], ("name", "days", ""), numbers=(1,), indent=2)
    assert capsys.readouterr().out.splitlines() == [
        "  name  days",
        "  a        1  " + "x" * 90,
        "  bcd     20  y",
    ]


@pytest.fixture
def narrow_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "30")
    monkeypatch.setattr("tracker.commands.terminal.is_looked_at", lambda: True)


@pytest.mark.usefixtures("narrow_terminal")
def test_at_a_terminal_a_long_cell_goes_on_in_its_column_and_brackets_stay(
    capsys: pytest.CaptureFixture[str],
) -> None:
    print_table(ROWS)
    assert [line.rstrip() for line in capsys.readouterr().out.splitlines()] == [
        "n  night           20:00-08:30",
        "r  relief          06:00-14:00",
        "   [bold]turn[/]",
    ]


@pytest.mark.usefixtures("narrow_terminal")
def test_at_a_terminal_numbers_stand_to_the_right_of_their_column(
    capsys: pytest.CaptureFixture[str],
) -> None:
    print_table([("sleep", "7"), ("mood", "123")], ("", "pairs"), numbers=(1,), indent=2)
    assert [line.rstrip() for line in capsys.readouterr().out.splitlines()] == [
        "         pairs",
        "  sleep      7",
        "  mood     123",
    ]
