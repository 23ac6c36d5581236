"""`tracker scales` and `tracker break`. Today is Tuesday 17 March 2026."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from tests.commands.conftest import Run
from tracker.diary.breaks import Break
from tracker.record.store import Record

Kept = Callable[[], Record]


class TestScales:
    def test_the_levels_are_shown_with_their_keys(self, run: Run) -> None:
        assert run("scales").stdout.splitlines() == [
            "mood, from the beginning",
            "  1 very low   key 1  hard to get through the day",
            "  2 low        key 2  heavy for much of it",
            "  3 even       key 3  neither low nor good",
            "  4 good       key 4  good for most of it",
            "  5 very good  key 5  as good as I know",
            "sleep, from the beginning",
            "  none         key 0",
            "  under 3 h    key 2",
            "  3-4 h        key 3",
            "  4-5 h        key 4",
            "  5-6 h        key 5",
            "  6-7 h        key 6",
            "  7-8 h        key 7",
            "  8 h or more  key 8 or 9",
        ]

    def test_a_long_word_moves_the_keys_of_all_levels(self, run: Run) -> None:
        lines = run("scales", "mood", "--rename", "1=too heavy to get up").stdout.splitlines()[1:]
        assert len({line.index(" key ") for line in lines}) == 1

    def test_a_rename_changes_the_word_and_nothing_else(self, run: Run, kept: Kept) -> None:
        run("put", "--mood", "4")
        run("scales", "mood", "--rename", "4=bright", "--rename", "very good=very bright")
        assert (
            run("put", "mon", "--mood", "bright").stdout
            == "Kept for Mon 16 March 2026: mood 4 bright, not anxious.\n"
            "The record now begins on 16 March 2026; tracker undo takes it back.\n"
        )
        with kept() as record:
            values = {day.mood.value for day in record.days().values() if day.mood}
            assert values == {"mood5-4"}

    def test_other_levels_hold_from_their_day_on(self, run: Run) -> None:
        run("put", "--mood", "5")
        result = run("scales", "mood", "--levels", "bad, so-so, fine", "--from", "today")
        assert result.stdout.splitlines() == [
            "mood, from 17 March 2026",
            "  1 bad    key 1",
            "  2 so-so  key 2",
            "  3 fine   key 3",
            "1 square kept with other levels in these days: left as kept.",
            "Findings compare moods on the newest levels alone.",
        ]
        assert (
            run("put", "--mood", "3").stdout
            == "Kept for Tue 17 March 2026: mood 3 fine. Before: mood 5 very good.\n"
        )
        assert "mood 5 very good, not anxious.\n" in run("put", "mon", "--mood", "5").stdout
        assert (
            run("put", "--mood", "5").stderr
            == "'5' is no level of mood; there are: 1 bad, 2 so-so, 3 fine.\n"
        )

    def test_a_closed_past_span_has_buckets_of_its_own(self, run: Run) -> None:
        run("scales", "sleep", "--bounds", "0 4 6 8", "--from", "2024-01-01", "--to", "2024-12-31")
        assert "sleep 4-6 h" in run("put", "2024-05-01", "--sleep", "5", "--paper").stdout
        assert "sleep 5-6 h" in run("put", "2025-05-01", "--sleep", "5", "--paper").stdout

    def test_a_change_of_mind_on_the_same_day_replaces_the_levels(self, run: Run, kept: Kept) -> None:
        run("scales", "mood", "--levels", "a, b, c, d", "--from", "2026-04-01")
        run("scales", "mood", "--levels", "x, y, z", "--from", "2026-04-01")
        with kept() as record:
            assert [level.label for level in record.choices().scales.newest("mood").levels] == ["x", "y", "z"]
            standing = [scale for scale in record.choices().scales.of("mood") if not scale.is_taken_back]
            assert len(standing) == 2

    def test_an_open_version_leaves_a_closed_span_from_the_same_day_alone(self, run: Run, kept: Kept) -> None:
        run("scales", "mood", "--levels", "a, b, c", "--from", "2024-01-01", "--to", "2024-12-31")
        run("put", "2024-05-01", "--mood", "b", "--paper")
        run("scales", "mood", "--levels", "x, y, z", "--from", "2024-01-01")
        with kept() as record:
            square, scales = record.day(date(2024, 5, 1)).mood, record.choices().scales
            assert square is not None
            assert scales.level(square.value).label == "b"
            assert scales.newest("mood").levels[1].label == "y"

    def test_two_closed_spans_that_overlap_are_refused(self, run: Run) -> None:
        run("scales", "mood", "--levels", "a, b, c", "--from", "2024-01-01", "--to", "2024-12-31")
        result = run("scales", "mood", "--levels", "x, y, z", "--from", "2024-12-01", "--to", "2025-01-31")
        assert (result.exit_code, result.stderr) == (
            2,
            "These days overlap those from 2024-01-01 to 2024-12-31, which have levels of mood of their own; "
            "choose days beside them.\n",
        )

    def test_squares_of_another_copy_keep_levels_that_were_taken_back_here(
        self, run: Run, path: Path
    ) -> None:
        run("scales", "mood", "--levels", "bad, so-so, fine", "--from", "2026-03-01")
        laptop = str(path.with_name("laptop.sqlite"))
        run("backup", laptop)
        run("undo")
        run("--record", laptop, "put", "--mood", "fine")
        run("merge", laptop)
        assert "mood 3 fine, sleep waiting" in run("show", "--words").stdout
        assert run("history", "today").stdout.splitlines()[1].endswith("mood 3 fine (command, at the time)")
        assert run("put", "mon", "--mood", "fine").exit_code == 2
        assert run("scales", "mood").stdout.splitlines()[0] == "mood, from the beginning"
        assert len(run("scales", "mood").stdout.splitlines()) == 6
        for command in (["check"], ["findings"], ["export", laptop + ".csv"], ["show", "--year", "2026"]):
            assert run(*command).exit_code == 0

    def test_levels_with_which_squares_were_kept_are_not_replaced(self, run: Run) -> None:
        run("scales", "sleep", "--bounds", "0 4 6 8", "--from", "today")
        run("put", "--sleep", "5")
        result = run("scales", "sleep", "--bounds", "0 5 7 9", "--from", "today")
        assert (result.exit_code, result.stderr) == (
            2,
            "The levels of sleep change on 17 March 2026 already, and squares were kept with them; "
            "choose another day.\n",
        )

    @pytest.mark.parametrize(
        ("arguments", "reason"),
        [
            (["mood", "--levels", "low, high"], "mood takes 3 to 7 levels; these are 2.\n"),
            (["mood", "--levels", "1, 2, 3"], "'1' reads as a number; give the level of mood a word.\n"),
            (
                ["sleep", "--bounds", "0 6 5 8"],
                "The buckets overlap at 5 hours: each bound must be larger than the last.\n",
            ),
            (["sleep", "--bounds", "0 x"], "'0 x' are no hours; write them like 0 4 6 8.\n"),
            (
                ["mood", "--rename", "9=x"],
                "'9' is no level of mood; there are: 1 very low, 2 low, 3 even, 4 good, 5 very good.\n",
            ),
            (["mood", "--rename", "4=low"], "Two levels of mood are called 'low'.\n"),
        ],
    )
    def test_levels_that_cannot_serve_are_refused_with_the_reason(
        self, run: Run, arguments: list[str], reason: str
    ) -> None:
        result = run("scales", *arguments)
        assert (result.exit_code, result.stderr) == (2, reason)

    @pytest.mark.parametrize(
        "arguments", [["--levels", "a,b,c"], ["sleep", "--levels", "a,b,c"], ["mood", "--bounds", "0 1"]]
    )
    def test_wrong_use(self, run: Run, arguments: list[str]) -> None:
        assert run("scales", *arguments).exit_code == 2

    def test_after_an_undo_the_history_still_reads(self, run: Run) -> None:
        run("scales", "mood", "--levels", "a, b, c", "--from", "today")
        run("put", "--mood", "2")
        run("undo")
        run("undo")
        assert "mood 2 b (command, at the time)" in run("history", "today").stdout


class TestBreak:
    def test_a_break_is_marked_shown_and_removed(self, run: Run, kept: Kept) -> None:
        run("put", "2026-03-03", "--mood", "4")
        marked = run("break", "2026-03-01", "2026-03-10").stdout
        assert marked == (
            "Marked a break from 1 March 2026 to 10 March 2026. It covers 1 day with squares; these stay.\n"
        )
        assert run("break").stdout == "from 1 March 2026 to 10 March 2026\n"
        assert run("break", "--remove", "2026-03-01").stdout == "The break from 1 March 2026 is taken away.\n"
        assert run("break").stdout == "No break is marked.\n"

    def test_an_open_break_ends_when_a_square_is_kept(self, run: Run, kept: Kept) -> None:
        run("break", "2026-03-10")
        run("put", "--sleep", "6")
        assert run("break").stdout == "from 10 March 2026 to 16 March 2026\n"

    def test_it_can_be_ended_by_itself(self, run: Run, kept: Kept) -> None:
        run("break", "2026-03-10")
        assert run("break", "--end").stdout == "The break has ended; 17 March 2026 is kept again.\n"
        with kept() as record:
            assert record.choices().breaks == (Break(date(2026, 3, 10), date(2026, 3, 16)),)

    @pytest.mark.parametrize(
        ("arguments", "sentence"),
        [
            (
                ["2026-03-10", "2026-03-01"],
                "A break cannot end on 1 March 2026, before it begins on 10 March 2026.\n",
            ),
            (["--remove", "today"], "No break begins on 17 March 2026.\n"),
        ],
    )
    def test_wrong_ones_are_refused(self, run: Run, arguments: list[str], sentence: str) -> None:
        result = run("break", *arguments)
        assert (result.exit_code, result.stderr) == (2, sentence)

    def test_where_none_is_going_on_none_can_end(self, run: Run) -> None:
        result = run("break", "--end")
        assert (result.exit_code, result.stderr) == (1, "No break holds 17 March 2026.\n")

    def test_two_breaks_do_not_overlap(self, run: Run) -> None:
        run("break", "2026-03-01", "2026-03-10")
        assert run("break", "2026-03-10").stderr == (
            "The break from 10 March 2026 until you keep a square again overlaps the one from 1 March 2026 "
            "to 10 March 2026; take that one away first, or name other days.\n"
        )

    def test_undo_takes_a_break_back(self, run: Run) -> None:
        run("break", "2026-03-01", "2026-03-10")
        run("undo")
        assert run("break").stdout == "No break is marked.\n"
