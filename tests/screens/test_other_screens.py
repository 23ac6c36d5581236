"""Year, findings, page, day, search, settings, help, catching up, first run: with real keys."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, timedelta
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import DataTable

from tests.keeping import keep, stands
from tests.keys import press
from tests.screens.conftest import Opened
from tests.screens.looking import board, bold_rows, everything, screen_name, shown
from tests.screens.test_form_screens import at_once
from tracker import words
from tracker.analysis.counts_wording import AS_THEY_STAND
from tracker.analysis.results import Findings
from tracker.demo import fill, last_sunday
from tracker.diary.changes import note_change, sleep_change
from tracker.diary.command_table import COMMANDS, line_to_type
from tracker.diary.days import Change
from tracker.diary.help_lines import HELP_LINES
from tracker.diary.own_changes import DatedChange
from tracker.diary.scales import DEFAULT_SLEEP
from tracker.editing.editor import Editor
from tracker.grids.themes import own_themes, theme_files
from tracker.record.change_rows import change_value
from tracker.record.store import Record
from tracker.screens.findings_page import Entry
from tracker.screens.findings_screen import FindingsScreen
from tracker.screens.findings_view import FindingsView

TODAY = date(2026, 3, 17)
YESTERDAY = TODAY - timedelta(days=1)
HEADS = ("Sleep first, then mood", "Mood first, then sleep")


def editor(pilot: Pilot[None]) -> Editor:
    found: Editor = pilot.app.editor  # type: ignore[attr-defined]
    return found


def found(pilot: Pilot[None]) -> Findings:
    """The findings on the screen."""
    screen = pilot.app.screen
    assert isinstance(screen, FindingsScreen)
    assert screen.found is not None
    return screen.found


def view(pilot: Pilot[None]) -> FindingsView:
    """The page of findings."""
    return pilot.app.screen.query_one(FindingsView)


def topic(entry: Entry) -> str:
    return entry.topics[0]


async def computed(pilot: Pilot[None]) -> None:
    """Wait until what a screen computes is drawn."""
    await pilot.app.workers.wait_for_complete()
    await pilot.pause(0.1)


class TestYear:
    async def test_walks_days_and_months_and_goes_to_the_month(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "y", "up", "left") as pilot:
            assert (screen_name(pilot), editor(pilot).state.cursor) == ("YearScreen", date(2026, 2, 15))
            await pilot.press("enter")
            assert (screen_name(pilot), editor(pilot).state.cursor) == ("MonthScreen", date(2026, 2, 15))
            assert "February 2026" in everything(pilot)

    async def test_brackets_go_to_other_years(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "y", "left_square_bracket") as pilot:
            assert board(pilot, "grids")[0].startswith(" 2025")

    async def test_sums_up_the_year_and_speaks_the_day(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "y", size=(120, 40)) as pilot:
            waits = "longest run of waiting squares 10 days, 8 to 17 March 2026"
            assert board(pilot, "grids")[-2:] == [
                f" Mood: most often level 3, even (1 day); {waits}.",
                f" Sleep: most often 6-7 h (1 day); {waits}.",
            ]
            assert board(pilot, "words")[-1] == f" {words.CAUTION}"

    async def test_keeps_a_square_too(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "y", "6"):
            assert stands(begun, YESTERDAY, "sleep") == "sleep8-5"

    async def test_compares_two_years(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "y", "equals_sign") as pilot:
            assert board(pilot, "grids")[0].startswith(" 2025 above 2026")

    async def test_daylight_asks_for_a_latitude(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "y", "v", "v", "v") as pilot:
            assert board(pilot, "words")[0] == " Daylight needs a latitude; put it into the settings (,)."

    @pytest.mark.parametrize("key", ["v", "equals_sign"])
    async def test_what_was_said_of_one_view_goes_with_it(
        self, begun: Record, opened: Opened, key: str
    ) -> None:
        async with opened(begun, "y", "v", "v", "v", key) as pilot:
            assert "Daylight needs" not in everything(pilot)

    @pytest.mark.parametrize("invented", [False, True])
    async def test_goes_from_both_grids_in_one_to_one_grid_its_shifts_and_the_daylight_and_back(
        self, begun: Record, opened: Opened, invented: bool
    ) -> None:
        async with opened(begun, "y", size=(120, 40), invented=invented) as pilot:
            first = board(pilot, "grids")
            assert first[0].startswith(" 2026  Mood above, sleep below")
            assert (words.CAUTION in everything(pilot), words.INVENTED_DAYS in first[0]) == (True, invented)
            await pilot.press("v")
            assert "Sleep, the sleep before each day" in everything(pilot)
            await pilot.press("v", "v", "v")
            assert board(pilot, "grids") == first


class TestFindings:
    async def test_the_caution_stands_whatever_is_looked_at(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f") as pilot:
            await computed(pilot)
            for key in ("down", "down", "d", "end", "v"):
                assert words.CAUTION in everything(pilot)
                await pilot.press(key)

    async def test_what_one_means_and_its_numbers_take_the_room_and_go_again(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "f") as pilot:
            await computed(pilot)
            first = everything(pilot)
            for key in ("enter", "d"):
                await pilot.press(key)
                await pilot.pause()
                alone = everything(pilot)
                await pilot.press("end", key)
                await pilot.pause()
                assert (alone != first, everything(pilot)) == (True, first)

    async def test_keys_walk_the_statements_and_a_sentence_stands_over_its_numbers(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "f", size=(100, 60)) as pilot:
            await computed(pilot)
            last, seen = len(view(pilot).page.entries) - 1, []
            for key in ("end", "home", "down", "down", "up"):
                await pilot.press(key)
                seen.append(view(pilot).chosen)
            assert seen == [last, 0, 1, 2, 1]
            await pilot.press("end", "d")
            await pilot.pause()
            assert found(pilot).statements[-1].text[:40] in everything(pilot)

    @pytest.mark.parametrize("size", [(38, 14), (80, 24), (120, 40)])
    async def test_keys_down_bring_every_row_to_the_window_and_every_statement_to_choose(
        self, record: Record, opened: Opened, size: tuple[int, int]
    ) -> None:
        fill(record, last_sunday(TODAY))
        async with opened(record, "f", size=size) as pilot:
            await computed(pilot)
            page = view(pilot)
            rows, chosen = set(shown(pilot)), [page.chosen]
            while page.chosen < len(page.page.entries) - 1:
                await pilot.press("down")
                await pilot.pause(0)
                rows |= set(shown(pilot))
                chosen.append(page.chosen)
                window = range(round(page.scroll_y), round(page.scroll_y) + page.size.height)
                seen = [n for n, place in enumerate(page.page.places) if set(place) & set(window)]
                assert page.chosen in seen or not seen
            assert list(dict.fromkeys(chosen)) == list(range(len(page.page.entries)))
            read = {row.strip("► █▄▁▂▃▅▆▇") for row in rows}
            assert {row.strip("► █▄") for row in page.page.canvas.lines()} - read == set()

    async def test_v_goes_to_the_picture_of_lags_and_turns_it_to_the_anxious_mark_and_back(
        self, record: Record, opened: Opened
    ) -> None:
        fill(record, last_sunday(TODAY))
        async with opened(record, "f") as pilot:
            await computed(pilot)
            heads = []
            for _ in range(3):
                await pilot.press("v")
                await pilot.pause()
                heads.append(board(pilot, "statements")[0][1:].partition("   ")[0])
            mood, mark = "A day's mood with ...", "A day's anxious mark with ..."
            assert heads == [mood, mark, mood]
            assert board(pilot, "statements")[-1].startswith(" right: longer sleep, higher mood")

    @pytest.mark.parametrize(("size", "marks"), [((120, 40), 1), ((100, 30), 2), ((38, 14), 2)])
    async def test_v_turns_the_picture_at_once_only_where_all_of_it_is_seen(
        self, record: Record, opened: Opened, size: tuple[int, int], marks: int
    ) -> None:
        fill(record, last_sunday(TODAY))
        async with opened(record, "f", size=size) as pilot:
            await computed(pilot)
            seen = []
            for _ in range(2):
                await pilot.press("v")
                await pilot.pause()
                seen.append("A day's anxious mark with ..." in everything(pilot))
            assert seen.index(True) + 1 == marks

    async def test_v_does_nothing_where_no_link_is_told(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f") as pilot:
            await computed(pilot)
            before = everything(pilot)
            await pilot.press("v")
            await pilot.pause()
            assert (everything(pilot), view(pilot).entry.outcome) == (before, "mood")

    async def test_a_click_chooses_a_statement(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f", size=(100, 50)) as pilot:
            await computed(pilot)
            wanted = view(pilot).page.entries[3].statements[0].text[:40]
            row = next(y for y, line in enumerate(board(pilot, "statements")) if wanted in line)
            await pilot.click(FindingsView, offset=(20, row))
            await pilot.press("enter")
            await pilot.pause()
            assert wanted in " ".join(board(pilot, "said"))

    async def test_both_sides_and_what_counts_are_stand_on_the_first_screenful(
        self, record: Record, opened: Opened
    ) -> None:
        fill(record, last_sunday(TODAY))
        async with opened(record, "f", invented=True) as pilot:
            await computed(pilot)
            rows = board(pilot, "statements")
            counts = re.findall(r"^ {12}(.+?) +\d+ of +\d+ ", "\n".join(rows), re.MULTILINE)
            assert [head for head in HEADS if f" {head}" in rows] == list(HEADS)
            assert counts[-8:] == [
                "low days after under 6 h", "low days after 6 h or more",
                "anxious after under 6 h", "anxious after 6 h or more",
                "<6 h after a low day", "<6 h after another day",
                "<6 h after an anxious day", "<6 h after another day",
            ]  # fmt: skip
            assert AS_THEY_STAND[0] in everything(pilot)

    async def test_the_first_statement_brings_both_sides_back(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f") as pilot:
            await computed(pilot)
            first = everything(pilot)
            await pilot.press("end", "home")
            await pilot.pause()
            assert everything(pilot) == first

    async def test_what_a_verdict_means_and_what_must_stand_beside_it_is_one_key_away(
        self, record: Record, opened: Opened
    ) -> None:
        fill(record, last_sunday(TODAY))
        async with opened(record, "f", size=(100, 60)) as pilot:
            await computed(pilot)
            await pilot.press("enter")
            await pilot.pause()
            said = " ".join(" ".join(board(pilot, "said")).split())
            link = found(pilot).statements[0]
            assert all(text in said for text in (link.text, *link.beside, words.VERDICTS_MEAN))
            assert "Correlation with the sleep before +" in " ".join(board(pilot, "picture"))

    @pytest.mark.parametrize(("width", "tables"), [(80, 3), (60, 1), (38, 0)])
    async def test_numbers_stand_in_tables_where_they_have_room_else_behind_their_names(
        self, record: Record, opened: Opened, width: int, tables: int
    ) -> None:
        fill(record, last_sunday(TODAY))
        async with opened(record, "f", size=(width, 140)) as pilot:
            await computed(pilot)
            await pilot.press("d")
            await pilot.pause(0.2)
            text, link = " ".join(everything(pilot).split()), found(pilot).statements[0]
            assert len(pilot.app.screen.query(DataTable)) == tables
            assert ("p < 0.001, *" in text) == (width < 80)
            assert all(said in text for said in (link.text, link.numbers, *link.beside))
            assert "Counted, not judged." in text

    async def test_another_width_keeps_the_chosen_statement_in_the_window(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "f") as pilot:
            await computed(pilot)
            await pilot.press("end", "up", "up")
            chosen = view(pilot).chosen
            for size in ((38, 14), (120, 40), (60, 20)):
                await pilot.resize_terminal(*size)
                await pilot.pause(0.1)
                assert view(pilot).chosen == chosen
                text = view(pilot).page.entries[chosen].statements[0].text
                assert text[:20] in everything(pilot)

    @pytest.mark.parametrize("size", [(80, 24), (80, 40), (38, 14)])
    async def test_another_period_is_read_from_its_beginning(
        self, record: Record, opened: Opened, size: tuple[int, int]
    ) -> None:
        fill(record, last_sunday(TODAY))
        async with opened(record, "f", size=size) as pilot:
            await computed(pilot)
            await pilot.press("end", "right")
            await computed(pilot)
            assert (view(pilot).chosen, view(pilot).scroll_y) == (0, 0)
            assert "Days chosen by hand" in everything(pilot)

    @pytest.mark.parametrize(("size", "note"), [((76, 24), 0), ((75, 24), 0), ((73, 24), 1), ((38, 14), 1)])
    async def test_what_counts_are_takes_one_row_at_any_size(
        self, begun: Record, opened: Opened, size: tuple[int, int], note: int
    ) -> None:
        async with opened(begun, "f", size=size) as pilot:
            await computed(pilot)
            assert [row.strip() for row in board(pilot, "note")] == [AS_THEY_STAND[note]]

    @pytest.mark.parametrize(
        ("width", "right"),
        [
            (120, "all days   as of 17 March 2026   first verdicts 4 July 2026"),
            (70, "all days   as of 17 Mar 2026   first 4 Jul 2026"),
            (50, "all days   as of 17 Mar 2026"),
            (38, "all days"),
        ],
    )
    async def test_the_title_says_as_much_as_has_room(
        self, begun: Record, opened: Opened, width: int, right: str
    ) -> None:
        async with opened(begun, "f", size=(width, 24)) as pilot:
            await computed(pilot)
            assert board(pilot, "head")[0].split(maxsplit=1)[1] == right

    async def test_what_counts_are_does_not_scroll_away(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f", size=(80, 16)) as pilot:
            await computed(pilot)
            await pilot.press("end")
            await pilot.pause()
            assert (HEADS[0] in everything(pilot), AS_THEY_STAND[0] in everything(pilot)) == (False, True)

    async def test_rows_that_do_not_fit_are_scrolled(self, begun: Record, opened: Opened) -> None:
        thirds = [date(year, month, 3) for year in (2024, 2025) for month in range(1, 13)]
        begun.keep([Change(day, "mood", "mood5-3") for day in thirds], "two years", basis="paper")
        async with opened(begun, "f", size=(80, 24)) as pilot:
            await computed(pilot)
            while topic(view(pilot).entry) != "seasons":
                await pilot.press("down")
            await pilot.press("d")
            await pilot.pause(0.2)
            rows = everything(pilot)
            for key in ("pagedown", "end", "end"):
                await pilot.press(key)
                await pilot.pause(0.1)
            assert ("2024-01" in rows, "2026 " in rows.split("Months")[1]) == (True, False)
            assert re.search(r"^ +2026 ", everything(pilot), re.MULTILINE), everything(pilot)

    async def test_says_as_of_and_next(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f") as pilot:
            await computed(pilot)
            assert board(pilot, "head") == [
                " Findings           all days   as of 17 March 2026   first verdicts 4 July 2026"
            ]

    async def test_one_entry_is_left_for_all_of_them(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f") as pilot:
            await computed(pilot)
            rows = everything(pilot)
            for key in ("enter", "d"):
                await pilot.press(key)
                assert everything(pilot) != rows
                await pilot.press("escape")
                assert (screen_name(pilot), everything(pilot)) == ("FindingsScreen", rows)
            await pilot.press("escape")
            assert screen_name(pilot) == "MonthScreen"

    async def test_can_be_left_at_once(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f", "escape") as pilot:
            assert screen_name(pilot) == "MonthScreen"

    async def test_are_computed_again_only_when_the_record_changed(
        self, begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        from tracker.analysis import findings

        calls: list[object] = []
        compute = findings.find

        def counted(days: object, choices: object, **others: object) -> object:
            calls.append(days)
            return compute(days, choices, **others)  # type: ignore[arg-type]

        monkeypatch.setattr(findings, "find", counted)
        async with opened(begun) as pilot:
            for keys in (("f",), ("escape", "f"), ("escape", "up", "6", "f")):
                for key in keys:
                    await pilot.press(key)
                    await pilot.pause()
                await computed(pilot)
        assert len(calls) == 2

    async def test_a_failure_is_one_sentence_on_the_screen(
        self, begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        from tracker.analysis import findings

        def fail(*_: object, **__: object) -> None:
            raise ZeroDivisionError("the note of her worst day")

        monkeypatch.setattr(findings, "find", fail)
        async with opened(begun, "f") as pilot:
            await pilot.pause(0.3)
            shown = everything(pilot)
            assert "The program made a mistake (ZeroDivisionError" in shown
            assert "worst day" not in shown

    async def test_another_period_is_described_and_not_judged(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f", "right") as pilot:
            await computed(pilot)
            shown = " ".join(everything(pilot).split())
            assert "this year as of 17 March 2026" in shown
            assert "have numbers but no verdict" in shown

    async def test_when_a_new_day_begins_it_looks_again(
        self, begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        async with opened(begun, "f") as pilot:
            await computed(pilot)
            later = begun.clock.now() + timedelta(days=1)
            monkeypatch.setattr(begun, "clock", begun.clock._replace(now=lambda: later))
            await pilot.press("down")
            await computed(pilot)
            assert "as of 18 March 2026" in everything(pilot)


class TestPage:
    async def test_previews_the_page_and_writes_it(
        self, begun: Record, opened: Opened, tmp_path: Path
    ) -> None:
        async with opened(begun, "p") as pilot:
            await computed(pilot)
            assert board(pilot, "text")[0].startswith("MOOD AND SLEEP, FROM MY OWN DIARY")
            await pilot.press("w", "ctrl+u", *str(tmp_path / "page.txt"), "enter")
            await pilot.pause(0.2)
            assert "nothing was sent or printed" in " ".join(board(pilot, "text")[:3])
        assert (tmp_path / "page.txt").read_text().startswith("MOOD AND SLEEP")

    async def test_heads_are_bold_each_after_a_blank_row(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "p", size=(80, 100)) as pilot:
            await computed(pilot)
            rows, bold = board(pilot, "text"), bold_rows(pilot, "text")
            assert [row for row in rows if re.match("[A-Z ,]{6,}", row) and row[0] != " "] == bold
            assert len(bold) >= 5
            assert {rows[rows.index(head) - 1] for head in bold[1:]} == {""}

    async def test_at_80_columns_the_title_counts_the_rows_that_are_seen(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "p") as pilot:
            await computed(pilot)
            first, last, rows = map(int, re.findall(r"rows (\d+) to (\d+) of (\d+)$", shown(pilot)[0])[0])
            assert (first, last) == (1, len(board(pilot, "text")))
            await pilot.press("end")
            await pilot.pause()
            assert shown(pilot)[0].endswith(f"rows {rows - 20} to {rows} of {rows}")
            assert words.CAUTION in everything(pilot)

    @pytest.mark.parametrize(
        ("width", "sheet", "beside"),
        [(85, False, False), (86, True, False), (119, True, False), (120, True, True)],
    )
    async def test_where_there_is_room_the_page_is_a_sheet_and_its_choices_stand_beside_it(
        self, begun: Record, opened: Opened, width: int, sheet: bool, beside: bool
    ) -> None:
        begun.choose({"page.wants": ["sleep"], "page.changed": ["a", "b"]})
        async with opened(begun, "p", size=(width, 40)) as pilot:
            await computed(pilot)
            text = pilot.app.screen.query_one("#text")
            panel = pilot.app.screen.palette.panel.casefold()  # type: ignore[attr-defined]
            assert text.styles.background.hex.casefold() == (panel if sheet else "#00000000")
            assert board(pilot, "text")[0].startswith("  MOOD AND SLEEP" if sheet else "MOOD AND SLEEP")
            assert ("rows 1 to" in shown(pilot)[0], words.CAUTION in everything(pilot)) == (not sheet, True)
            assert ("l 1 wish, 2 lines on what has" in everything(pilot)) == beside

    async def test_in_a_narrow_window_keys_go_to_the_other_columns_and_the_title_says_which_are_seen(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "p", size=(60, 20)) as pilot:
            await computed(pilot)
            text, seen = pilot.app.screen.query_one("#text"), []
            for key in ("right", "right", "left", "left"):
                head = board(pilot, "text")[0]
                seen.append((shown(pilot)[0].rpartition(", ")[2], text.scroll_x, head[:4], head[-4:]))
                await pilot.press(key)
                await pilot.pause()
            first, last = ("columns 1 to 60", 0, "MOOD", "IARY"), ("columns 21 to 80", 20, " MY ", "2026")
            assert seen == [first, last, last, first]
            assert "left right columns" in board(pilot, "keys")[0]
            await pilot.resize_terminal(80, 24)
            await pilot.pause()
            assert "left right columns" not in board(pilot, "keys")[0]

    async def test_beside_the_page_stand_what_goes_on_it_and_who_may_see_it(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "p", "o", *["down"] * 2, "right", "enter", size=(120, 40)) as pilot:
            await computed(pilot)
            said = [row.strip() for row in board(pilot, "beside")]
            heads = ["Your lines", "What goes on it", "Write it"]
            assert [row for row in said if row in heads] == heads
            assert {"l none yet", "notes: yes", "shifts: as usual", "w PDF, text or Markdown"} <= {*said}
            assert " ".join(words.HANDING_OVER) in " ".join(said)

    async def test_what_the_text_has_no_room_for_is_said_in_full_with_where_there_is_room(
        self, begun: Record, opened: Opened, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr("tracker.summary.text.LINES", 40)
        for number in range(60):
            keep(begun, date(2026, 3, 17) - timedelta(days=number), mood="3", sleep="6", shift="night")
        async with opened(begun, "p") as pilot:
            await computed(pilot)
            said = " ".join(line.strip() for line in board(pilot, "text")[:3])
            assert "Left out, for want of room on one side: " in said
            assert "A PDF has more room; w writes one." in said

    async def test_her_name_is_typed_for_one_page_and_is_empty_the_next_time(
        self, begun: Record, opened: Opened, tmp_path: Path
    ) -> None:
        async with opened(begun, "p") as pilot:
            await computed(pilot)
            await pilot.press("w", "ctrl+u", *str(tmp_path / "page.txt"), *4 * ["down"], *"Relief", "enter")
            await pilot.pause(0.2)
            await pilot.press("w")
            assert "Relief" not in everything(pilot)
        assert "Name Relief " in (tmp_path / "page.txt").read_text()

    async def test_a_file_that_is_there_is_left_unless_she_says_so(
        self, begun: Record, opened: Opened, tmp_path: Path
    ) -> None:
        (tmp_path / "page.md").write_text("my own")
        async with opened(begun, "p") as pilot:
            await computed(pilot)
            await pilot.press("w", "ctrl+u", *str(tmp_path / "page.md"), "enter")
            await pilot.pause(0.1)
            assert "is there already; choose to write over it" in " ".join(everything(pilot).split())
        assert (tmp_path / "page.md").read_text() == "my own"

    async def test_her_lines_are_kept_with_the_record(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "p") as pilot:
            await computed(pilot)
            await pilot.press("l", *"sleep", "enter")
            await pilot.pause(0.2)
        assert begun.choices().page_lines.wants == ("sleep",)

    async def test_nothing_kept_is_said_and_nothing_offered_to_write(
        self, record: Record, opened: Opened
    ) -> None:
        record.keep_settings(record.choices().settings.with_value("country", "Wales"))
        async with opened(record, "p") as pilot:
            assert board(pilot, "text")[0] == "Nothing is kept yet, so there is no page to make."
            assert "w write it" not in board(pilot, "keys")[0]
            await pilot.press("w")
            assert screen_name(pilot) == "PageScreen"


class TestDay:
    async def test_shows_and_changes_everything_of_a_day(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter") as pilot:
            assert "nothing was ever kept" in everything(pilot)
            await pilot.press(
                "right", "down", "down", *"6.5", "down", "right", "down", "right", "down", *"calm"
            )
            await pilot.press("enter")
            await pilot.pause()
        day = begun.day(YESTERDAY)
        assert (day.mood.value, day.sleep.value, day.hours) == ("mood5-5", "sleep8-5", 6.5)  # type: ignore[union-attr]
        assert (day.is_anxious, day.shift_kind, day.note_text) == (True, "standard", "calm")

    async def test_is_one_action(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter", "right", "down", "right", "enter", "u"):
            assert begun.day(YESTERDAY).mood is None
            assert begun.day(YESTERDAY).sleep is None

    async def test_escape_keeps_nothing(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter", "right", "escape") as pilot:
            assert (screen_name(pilot), begun.day(YESTERDAY).mood) == ("MonthScreen", None)

    async def test_another_bucket_leaves_no_hours_that_contradict_it(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "enter", "down", "down", *"6.5", "up", "left") as pilot:
            shown = everything(pilot)
            assert "The exact hours, 6.5, are taken out: they belong to another bucket." in shown
            assert re.search("\u2590 7 \u258c.* 7-8 h\n.*Hours slept *\n", shown)
            await pilot.press("enter")
            await pilot.pause()
        assert (stands(begun, YESTERDAY, "sleep"), begun.day(YESTERDAY).hours) == ("sleep8-6", None)

    async def test_exact_hours_alone_can_be_taken_out(self, begun: Record, opened: Opened) -> None:
        begun.keep([sleep_change(YESTERDAY, DEFAULT_SLEEP.level_for_hours(6.5), 6.5)])
        keys = ["backspace"] * 3
        async with opened(begun, "enter", "down", "down", *keys, "enter") as pilot:
            assert "Kept for " in everything(pilot)
        assert (stands(begun, YESTERDAY, "sleep"), begun.day(YESTERDAY).hours) == ("sleep8-5", None)

    async def test_typed_hours_show_their_bucket_at_once(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter", "down", "down", *"6.5") as pilot:
            assert re.search("\u2590 6 \u258c.* 6-7 h\n", everything(pilot))

    async def test_hours_that_are_none_are_refused_in_a_sentence(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "enter", "down", "down", "9", "9", "enter") as pilot:
            assert "'99' is not a length of sleep" in everything(pilot)

    async def test_tells_the_history_of_each_square(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "6", "up", "left", "tab", "7", "enter") as pilot:
            assert "2026-03-17 21:00  sleep 7-8 h (typed, remembered)" in everything(pilot)

    async def test_the_history_begins_with_the_newest_entry_and_is_scrolled_to_the_first(
        self, begun: Record, opened: Opened
    ) -> None:
        for number in range(30):
            begun.keep([note_change(YESTERDAY, f"note {number}")])
        seen = []
        async with opened(begun, "enter") as pilot:
            for key in ("pagedown", "pagedown", "pagedown", "pagedown", "pageup"):
                seen += re.findall("(note [0-9]+) ", everything(pilot))
                await pilot.press(key)
                await pilot.pause()
        assert list(dict.fromkeys(seen)) == [f"note {number}" for number in reversed(range(30))]


class TestTypedAhead:
    """Keys that come before the screen is there for which they are meant, as on a slow line."""

    async def test_the_words_of_a_note_are_no_commands(self, begun: Record, opened: Opened) -> None:
        async with opened(begun) as pilot:
            before = begun.last_action()
            await at_once(pilot, *"nbad")
            assert (screen_name(pilot), begun.last_action()) == ("NoteScreen", before)
            assert "bad" in everything(pilot)

    async def test_after_leaving_a_form_the_next_key_is_one_of_the_month(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "n") as pilot:
            await at_once(pilot, "escape", "y")
            assert screen_name(pilot) == "YearScreen"


class TestALongNote:
    async def test_it_can_be_read_as_a_whole_where_it_is_typed(self, begun: Record, opened: Opened) -> None:
        note = " ".join(f"word{number}" for number in range(60))
        begun.keep([note_change(date(2026, 3, day), note) for day in (16, 17)], source="typed")
        async with opened(begun, "n") as pilot:
            said = everything(pilot).split()
            assert all(word in said for word in note.split())

    async def test_the_history_tells_all_of_it(self, begun: Record, opened: Opened) -> None:
        note = " ".join(f"word{number}" for number in range(60))
        begun.keep([note_change(YESTERDAY, note)], source="typed")
        begun.keep([note_change(YESTERDAY, "calm")], source="typed")
        async with opened(begun, "enter", "pagedown") as pilot:
            told = everything(pilot).partition("note: word0")[2].split()
            assert all(word in told for word in note.split()[1:])

    async def test_a_short_one_stands_there_once(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "n", *"calm") as pilot:
            assert everything(pilot).count("calm") == 1


class TestWhatCannotBeKept:
    """A form whose answers cannot be kept stays, with what was typed, and says why."""

    @pytest.mark.parametrize(
        ("keys", "screen", "typed"),
        [
            (["comma", "right"], "SettingsScreen", ""),
            (["f3", *" and more"], "MoreSettingsScreen", "very good and more"),
            (["p", "l", *"sleep"], "LinesScreen", "sleep"),
            (["n", *"calm"], "NoteScreen", "calm"),
            (["enter", "right"], "DayScreen", ""),
        ],
    )
    async def test_the_form_stays_as_it_was_filled_in(
        self, begun: Record, opened: Opened, keys: list[str], screen: str, typed: str
    ) -> None:
        async with opened(begun, *keys) as pilot:
            begun.read_only = True
            await pilot.press("enter")
            await pilot.pause()
            shown = everything(pilot)
            assert screen_name(pilot) == screen
            assert "Nothing is kept: no room on the disk" in shown
            assert typed in shown

    async def test_a_theme_chosen_by_name_says_why_it_is_not_worn(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun) as pilot:
            begun.read_only = True
            (theme,) = [
                command
                for command in pilot.app.get_system_commands(pilot.app.screen)
                if command.title == "Theme: Cawbrook, lamps"
            ]
            theme.callback()
            await pilot.pause()
            assert "Nothing is kept: no room on the disk" in everything(pilot)


class TestOldSentences:
    """None stands under the grid where it would look like an answer to what was done since."""

    @pytest.mark.parametrize(
        "keys", [("enter", "right"), ("n", "x"), ("comma", "right"), ("f3", "x"), ("c", "right")]
    )
    async def test_leaving_a_form_that_was_changed_says_that_nothing_was(
        self, begun: Record, opened: Opened, keys: tuple[str, ...]
    ) -> None:
        async with opened(begun, "tab", "3", *keys, "escape") as pilot:
            waits = " What you typed waits where you typed it." if "x" in keys else ""
            assert (screen_name(pilot), editor(pilot).state.message) == (
                "MonthScreen",
                f"Nothing was changed.{waits}",
            )
            assert board(pilot, "words")[0].startswith(f" Nothing was changed.{waits}")

    @pytest.mark.parametrize(
        "keys", [("enter",), ("n",), ("comma",), ("question_mark",), ("y",), ("f",), ("p",), ("slash",)]
    )
    async def test_an_old_one_is_gone_after_another_screen(
        self, begun: Record, opened: Opened, keys: tuple[str, ...]
    ) -> None:
        async with opened(begun, "tab", "3", *keys, "escape") as pilot:
            assert (screen_name(pilot), editor(pilot).state.message) == ("MonthScreen", "")

    async def test_a_form_that_keeps_nothing_new_says_nothing_old(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "tab", "3", "enter", "enter") as pilot:
            assert (screen_name(pilot), editor(pilot).state.message) == ("MonthScreen", "")

    async def test_what_a_form_kept_is_said(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "tab", "3", "n", "x", "enter") as pilot:
            assert editor(pilot).state.message == "Kept for Mon 16 March 2026: a note."

    async def test_the_sums_of_a_month_stay_until_it_is_left(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "c", "enter", *"6" * 10, "question_mark", "escape") as pilot:
            assert editor(pilot).state.message == (
                "March: 11 of 11 days; digit 6: 11 days. "
                "The next month is still to come. Esc ends catching up."
            )

    async def test_settings_keep_what_was_set_elsewhere_meanwhile(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "comma", "down", "right") as pilot:
            with Record.open(begun.path, begun.clock) as elsewhere:
                elsewhere.keep_settings(elsewhere.choices().settings._replace(short_sleep=4))
            await pilot.press("enter")
            settings = begun.choices().settings
            assert (settings.first_weekday, settings.short_sleep) == (1, 4)

    async def test_more_settings_are_not_opened_over_settings_that_are_not_kept(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "comma", "right", "f3") as pilot:
            assert screen_name(pilot) == "SettingsScreen"
            assert "Enter keeps what is changed here, Esc leaves it; then Ctrl+L." in everything(pilot)


class TestSearch:
    async def test_says_that_no_note_holds_a_word(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "slash", *"nowhere") as pilot:
            assert "No note and no change holds it." in everything(pilot)

    async def test_finds_a_word_in_notes_and_goes_there(self, begun: Record, opened: Opened) -> None:
        keep(begun, date(2026, 3, 9), note="Late train at Selderby Halt")
        keep(begun, date(2026, 3, 11), note="Nothing to say")
        async with opened(begun, "slash", *"SELD") as pilot:
            assert "Mon 9 March 2026" in everything(pilot)
            assert "Wed 11 March" not in everything(pilot)
            await pilot.press("enter")
            assert editor(pilot).state.cursor == date(2026, 3, 9)

    async def test_enter_overtakes_no_letter_typed_before_it(self, begun: Record, opened: Opened) -> None:
        keep(begun, date(2026, 3, 9), note="fog")
        async with opened(begun, "slash") as pilot:
            await at_once(pilot, *"fog", "enter")
            assert editor(pilot).state.cursor == date(2026, 3, 9)

    async def test_finds_a_word_in_changes_too(self, begun: Record, opened: Opened) -> None:
        keep(begun, date(2026, 3, 9), note="Late train at Selderby Halt")
        begun.choose(change_value(DatedChange(date(2026, 3, 11), "moved to Selderby")))
        async with opened(begun, "slash", *"seld") as pilot:
            rows = [row.strip() for row in everything(pilot).splitlines()]
            assert "1 note and 1 change hold it, the newest first:" in rows
            at = rows.index("Wed 11 March 2026       change: moved to Selderby")
            assert rows[at + 1] == "Mon 9 March 2026        Late train at Selderby Halt"
            await pilot.press("enter")
            assert editor(pilot).state.cursor == date(2026, 3, 11)

    async def test_lists_the_last_days_of_each_kind(self, begun: Record, opened: Opened) -> None:
        keep(begun, date(2026, 3, 10), mood="1", anxious="yes")
        async with opened(begun, "slash") as pilot:
            assert [
                line.split("2026")[1].strip() for line in everything(pilot).splitlines() if "2026" in line
            ] == [
                "anxious",
                "mood very low",
                "sleep 6-7 h",
            ]


class TestSettings:
    async def test_are_kept_together(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f2", "right", "down", "left", "enter"):
            settings = begun.choices().settings
            assert (settings.country, settings.first_weekday) == ("England", 6)

    async def test_a_theme_is_tried_at_once_and_left_with_escape(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f2", "down", "down", "down", "right") as pilot:
            tried = pilot.app.palette.theme.id  # type: ignore[attr-defined]
            await pilot.press("escape")
            await pilot.pause()
            assert tried != "wenfold-dusk"
            assert pilot.app.palette.theme.id == "wenfold-dusk"  # type: ignore[attr-defined]
            assert begun.choices().settings.theme == "wenfold-dusk"

    async def test_a_wrong_latitude_is_refused_in_a_sentence(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f2", *["down"] * 8, "9", "9", "enter") as pilot:
            assert "latitude takes a whole number from -90 to 90" in everything(pilot)

    async def test_a_theme_of_her_own_is_told_what_is_wrong_with_it(
        self, begun: Record, opened: Opened
    ) -> None:
        folder = own_themes()
        folder.mkdir(parents=True)
        (folder / "mine.toml").write_text('name = "Mine"\ndark = true\n')
        begun.keep_settings(begun.choices().settings.with_value("theme", "mine"))
        async with opened(begun) as pilot:
            assert "theme mine.toml: mood is missing" in " ".join(board(pilot, "words"))
            assert pilot.app.palette.theme.id == "wenfold-dusk"  # type: ignore[attr-defined]

    async def test_a_theme_that_is_hard_on_some_eyes_is_told_of_once_when_it_is_chosen(
        self, begun: Record, opened: Opened
    ) -> None:
        hard_theme("zz")
        to_it = ["comma", *["down"] * 3, "right"]
        async with opened(begun, *to_it) as pilot:
            shown = everything(pilot)
            assert shown.count("theme zz.toml: mood very good and the focus are hard to tell apart") == 1
            assert re.search(r"sleep +0 +2 +3 +4 +5 +6 +7 +8", shown)
            await pilot.press("left")
            assert "zz.toml" not in everything(pilot)
            await pilot.press("right", "up")
            assert "zz.toml" not in everything(pilot)
            await pilot.press("enter")
            await pilot.pause()
            assert (begun.choices().settings.theme, "zz.toml" in everything(pilot)) == ("zz", False)
        async with opened(begun) as pilot:
            assert board(pilot, "words")[0] == f" {words.SLEEP_ASKED}"
            assert pilot.app.palette.theme.id == "zz"  # type: ignore[attr-defined]

    async def test_the_first_run_tells_of_it_too(self, record: Record, opened: Opened) -> None:
        hard_theme("zz")
        async with opened(record, *["down"] * 3, "right") as pilot:
            assert "zz.toml: mood very good and the focus are hard to tell apart" in everything(pilot)

    async def test_a_hard_theme_that_is_put_on_by_name_is_told_of(
        self, begun: Record, opened: Opened
    ) -> None:
        hard_theme("zz")
        async with opened(begun) as pilot:
            commands = pilot.app.get_system_commands(pilot.app.screen)
            next(command for command in commands if command.title == "Theme: Wenfold, dusk at zz").callback()
            await pilot.pause()
            assert "zz.toml: mood very good and the focus" in board(pilot, "words")[0]


def hard_theme(id: str) -> None:
    """A theme of her own with a focus like its highest mood."""
    text = theme_files()["wenfold-dusk"].read_text(encoding="utf-8")
    text = text.replace('focus = "#7cf0c4"', 'focus = "#ffe9a0"').replace('dusk"', f'dusk at {id}"')
    own_themes().mkdir(parents=True, exist_ok=True)
    (own_themes() / f"{id}.toml").write_text(text, encoding="utf-8")


class TestMoreSettings:
    async def test_other_levels_are_asked_about_before_they_hold(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "f3", "ctrl+u", *"low, even, good", "enter") as pilot:
            await pilot.pause()
            said = " ".join(line.strip() for line in everything(pilot).splitlines())
            assert (
                "From 17 March 2026 on there would be other levels of mood; squares that are kept keep theirs"
            ) in said
            assert "Findings compare moods on the newest levels alone." in said
            assert len(begun.choices().scales.newest("mood").levels) == 5
            await pilot.press("enter")
            await pilot.pause()
            assert screen_name(pilot) == "MonthScreen"
        assert len(begun.choices().scales.newest("mood").levels) == 3

    async def test_other_words_for_the_same_levels_are_kept_at_once(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "f3", "ctrl+u", *"bleak, low, even, good, glad", "enter") as pilot:
            await pilot.pause()
            assert screen_name(pilot) == "MonthScreen"
        assert begun.choices().scales.newest("mood").levels[0].label == "bleak"


@pytest.mark.parametrize("size", [(38, 14), (80, 24)])
@pytest.mark.parametrize(("key", "title"), [("question_mark", "Help"), ("p", "The page"), ("f", "Findings")])
async def test_that_days_are_invented_stands_behind_the_title_and_not_once_more(
    begun: Record, opened: Opened, key: str, title: str, size: tuple[int, int]
) -> None:
    async with opened(begun, key, invented=True, size=size) as pilot:
        await computed(pilot)
        assert re.match(f" {title}.*   {words.INVENTED_DAYS}", shown(pilot)[0])
        assert everything(pilot).casefold().count("invented days") == 1


@pytest.mark.parametrize("invented", [False, True])
@pytest.mark.parametrize("key", ["y", "f", "p", "question_mark", "first run"])
async def test_the_caution_stands_where_days_are_looked_at_and_where_they_begin(
    record: Record, opened: Opened, key: str, invented: bool
) -> None:
    if key != "first run":
        keep(record, YESTERDAY, mood="3", sleep="5")
    async with opened(record, *([key] if key != "first run" else []), invented=invented) as pilot:
        await computed(pilot)
        assert words.CAUTION in everything(pilot)
        assert (words.INVENTED_DAYS in everything(pilot).lower()) is invented


class TestHelp:
    @staticmethod
    def before_the_keys(pilot: Pilot[None]) -> list[str]:
        """What is read first, without the scroll bar beside it."""
        text, _, _ = everything(pilot).partition("Keys ")
        return [line[:78].rstrip() for line in text.splitlines()]

    async def test_begins_with_where_to_turn(self, begun: Record, opened: Opened) -> None:
        begun.keep_settings(begun.choices().settings.with_value("country", "Wales"))
        wales = next(row for row in HELP_LINES if row.country == "Wales")
        async with opened(begun, "question_mark") as pilot:
            shown = everything(pilot)
            assert board(pilot, "text")[0].startswith(" Where to turn in Wales")
            assert wales.emergency in shown
            assert wales.listening in shown

    @pytest.mark.parametrize("rank", ["1", "5"])
    async def test_is_the_same_whatever_the_days_say(self, begun: Record, opened: Opened, rank: str) -> None:
        for number in range(8, 18):
            keep(begun, date(2026, 3, number), mood=rank, sleep="0")
        async with opened(begun, "question_mark") as pilot:
            assert words.UNSAFE_HEAD in everything(pilot)
            assert board(pilot, "text")[0] == " Where to turn"

    @pytest.mark.parametrize(
        "keys",
        [(), ("h",), ("y",), ("f",), ("p",), ("p", "l"), ("p", "o"), ("enter",), ("n",), ("slash",), ("c",),
         ("comma",), ("f3",), ("s",), ("c", "enter")],
    )  # fmt: skip
    @pytest.mark.parametrize("key", ["f1", "ctrl+g"])
    async def test_is_one_key_away_from_every_screen_and_the_same(
        self, begun: Record, opened: Opened, keys: tuple[str, ...], key: str
    ) -> None:
        async with opened(begun, "question_mark") as pilot:
            where_to_turn = self.before_the_keys(pilot)
        async with opened(begun, *keys, key) as pilot:
            assert (screen_name(pilot), self.before_the_keys(pilot)) == ("HelpScreen", where_to_turn)
            await pilot.press("question_mark")
            await pilot.pause()
            assert screen_name(pilot) != "HelpScreen"

    @pytest.mark.parametrize(
        ("keys", "head"),
        [
            ([], "Keys in the month"),
            (["y"], "Keys in the year"),
            (["f"], "Keys in the findings"),
            (["p"], "Keys at the page"),
            (["c", "enter"], "Keys while catching up"),
            (["c", "enter", "y"], "Keys while catching up"),
            (["c", "enter", "f"], "Keys in the findings"),
        ],
    )
    async def test_the_keys_of_where_she_asked_come_first(
        self, begun: Record, opened: Opened, keys: list[str], head: str
    ) -> None:
        async with opened(begun, *keys, "question_mark") as pilot:
            await pilot.pause()
            assert re.findall("Keys .*[a-z]", everything(pilot))[0] == head

    async def test_keys_follow_where_to_turn_and_all_of_it_can_be_scrolled_to(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "question_mark") as pilot:
            assert "Keys in the month" in everything(pilot)
            seen = everything(pilot)
            for _ in range(12):
                await pilot.press("pagedown")
                await pilot.pause()
                seen += everything(pilot)
            assert "Ctrl+P" in seen
            assert "The letters beside the days are shifts: " in seen
            assert "N night" in seen
            assert "if you are treated where you work" in seen.lower()
            assert words.CAUTION in everything(pilot)

    async def test_every_command_is_named_with_a_line_to_type(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "question_mark", size=(80, 400)) as pilot:
            shown = " ".join(everything(pilot).split())
            named = [f"{line_to_type(name)} {command.help}" for name, command in COMMANDS.items()]
            assert "The command line tracker put yesterday" in shown
            assert [line for line in named if line not in shown] == []

    async def test_every_command_stands_in_the_list_of_commands_and_says_where_it_is_typed(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun) as pilot:
            commands = {c.help: c for c in pilot.app.get_system_commands(pilot.app.screen)}
            assert {line_to_type(name) for name in COMMANDS} <= commands.keys()
            export = commands["tracker export days.csv"]
            assert export.title == (
                "export (command line): Write the days as CSV, or the whole record as JSON."
            )
            export.callback()
            await pilot.pause()
            said = "Type it in another terminal, or here after q: tracker export days.csv"
            assert board(pilot, "words")[0] == f" {said}"
            await pilot.press("slash")
            export.callback()
            await pilot.pause()
            assert board(pilot, "keys")[0] == f" {said}"

    async def test_heads_and_what_to_do_first_are_bold(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "question_mark", size=(80, 200)) as pilot:
            bold = [row.strip() for row in bold_rows(pilot, "text")]
            assert bold[:3] == ["Where to turn", words.UNSAFE_HEAD, "Keys in the month"]

    @pytest.mark.parametrize("size", [(80, 24), (120, 40)])
    @pytest.mark.parametrize(
        ("digit", "head"),
        [
            ("2", "Keys in the month"),
            ("3", "What this is not"),
            ("4", "How days and findings work"),
            ("5", "The form of a day"),
        ],
    )
    async def test_a_digit_goes_to_its_part_and_1_back_to_the_top(
        self, begun: Record, opened: Opened, digit: str, head: str, size: tuple[int, int]
    ) -> None:
        async with opened(begun, "question_mark", size=size) as pilot:
            top = board(pilot, "text")
            await pilot.press("end", digit)
            await pilot.pause()
            rows = [row.strip(" ▁▂▃▄▅▆▇█") for row in board(pilot, "text")]
            at_the_end = pilot.app.screen.query_one("#text").is_vertical_scroll_end
            assert (rows[0] == head) or (head in rows and at_the_end)
            await pilot.press("1")
            await pilot.pause()
            assert board(pilot, "text") == top

    @pytest.mark.parametrize(
        ("size", "at_left"), [((119, 40), False), ((120, 40), True), ((200, 60), True), ((120, 24), True)]
    )
    async def test_where_to_turn_stays_at_the_left_of_a_wide_window(
        self, begun: Record, opened: Opened, size: tuple[int, int], at_left: bool
    ) -> None:
        async with opened(begun, "question_mark", "end", size=size) as pilot:
            await pilot.pause()
            stays = re.findall("Where to turn$", "\n".join(row[:50].rstrip() for row in shown(pilot)), re.M)
            assert (len(stays), words.CAUTION in everything(pilot)) == (at_left, True)

    async def test_where_to_turn_is_not_cut_off_at_the_left(self, begun: Record, opened: Opened) -> None:
        own = tuple(f"Friend {number}" for number in range(20))
        begun.choose({"help.own": list(own)})
        async with opened(begun, "question_mark", size=(120, 24)) as pilot:
            assert board(pilot, "text")[0] == " Where to turn"


class TestCatchingUp:
    async def test_enter_takes_what_is_proposed(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "c", "enter", "6", "7", "x") as pilot:
            kept = [stands(begun, date(2026, 3, number), "sleep") for number in (8, 9, 10)]
            assert kept == ["sleep8-5", "sleep8-6", "could not say"]
            assert board(pilot, "keys")[0].startswith(" Space leave waiting  Esc end  0-9 keep  a anxious")

    async def test_a_missed_week_takes_seventeen_keys(self, record: Record, opened: Opened) -> None:
        keep(record, date(2026, 3, 10), mood="3", sleep="5")
        keys = [*"6363", "c", "enter", *"33333", "tab", *"66666"]
        async with opened(record, *keys):
            kept = record.days(date(2026, 3, 11), TODAY)
            assert len(keys) == 17
            assert [(day.mood is None, day.sleep is None) for day in kept.values()] == [(False, False)] * 7

    async def test_a_month_of_both_grids_takes_sixty_seven(self, begun: Record, opened: Opened) -> None:
        keys = [
            "left_square_bracket",
            "left_square_bracket",
            "c",
            "right",
            "enter",
            *"6" * 31,
            "tab",
            *"3" * 31,
        ]
        async with opened(begun, *keys):
            kept = begun.days(date(2026, 1, 1), date(2026, 1, 31))
            assert len(keys) - len(["left_square_bracket"]) == 67
            assert all(day.mood and day.sleep and day.mood.basis == "paper" for day in kept.values())
            assert len(kept) == 31

    async def test_of_days_long_past_she_must_say_what_they_rest_on(
        self, begun: Record, opened: Opened
    ) -> None:
        async with opened(begun, "left_square_bracket", "c", "enter") as pilot:
            assert "Catching up: past days from February 2026 on" in everything(pilot)
            assert "Say whether these days are remembered, or copied from paper." in everything(pilot)
            await pilot.press("left", "enter", "6")
        assert begun.day(date(2026, 2, 1)).sleep.basis == "remembered"  # type: ignore[union-attr]

    async def test_it_opens_with_the_answers_of_the_last_time(self, begun: Record, opened: Opened) -> None:
        async with opened(
            begun, "left_square_bracket", "c", "right", "down", "right", "down", "right", "enter", "escape"
        ):
            pass
        async with opened(begun, "left_square_bracket", "c", "enter") as pilot:
            options = editor(pilot).catching_up.options  # type: ignore[union-attr]
            assert (options.basis, options.both, options.days_later) == ("paper", True, 1)

    async def test_paper_is_asked_once(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "left_square_bracket", "c", "right", "enter", "6"):
            assert begun.day(date(2026, 2, 1)).sleep.basis == "paper"  # type: ignore[union-attr]

    async def test_works_in_the_year(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "y", "up", "c", "right", "enter", *"5" * 28) as pilot:
            assert screen_name(pilot) == "YearScreen"
            assert (
                board(pilot, "words")[0] == " February: 28 of 28 days; digit 5: 28 days. Enter: next month."
            )
            assert board(pilot, "keys")[0].startswith(" Enter go on")

    async def test_a_paper_year_of_both_grids_takes_a_key_a_square_and_one_at_each_sum(
        self, begun: Record, opened: Opened
    ) -> None:
        """The year before, in the year view: each month shows the sums of both of its rows."""
        keys = ["y", "left_square_bracket", "home", "tab", "c", "right", "down", "right", "enter"]
        sums = []
        async with opened(begun, *keys) as pilot:
            for month in range(1, 13):
                last = monthrange(2025, month)[1]
                for row in (["3"] * last, ["6"] * last):
                    for key in row:
                        press(editor(pilot), key)
                    sums.append(editor(pilot).state.message)
                    press(editor(pilot), "enter")
                    keys += [*row, "enter"]
        assert sums[:3] == [
            "January: 31 of 31 days; digit 3: 31 days. Enter: its sleep.",
            "January: 31 of 31 days; digit 6: 31 days. Enter: next month.",
            "February: 28 of 28 days; digit 3: 28 days. Enter: its sleep.",
        ]
        assert sums[-1] == "December: 31 of 31 days; digit 6: 31 days. Enter: next month."
        kept = begun.days(date(2025, 1, 1), date(2025, 12, 31)).values()
        assert len([day for day in kept if day.mood and day.sleep and day.mood.basis == "paper"]) == 365
        assert len(keys) == 2 * 365 + 24 + 9

    async def test_a_colour_table_that_cannot_be_read_is_named(self, begun: Record, opened: Opened) -> None:
        async with opened(begun, "c", *["down"] * 4, *"w=1", "enter") as pilot:
            assert "'w=1': after = comes a key of sleep" in everything(pilot)


class TestFirstRun:
    async def test_enter_takes_all_defaults_and_is_not_shown_again(
        self, record: Record, opened: Opened
    ) -> None:
        async with opened(record) as pilot:
            shown = everything(pilot)
            assert screen_name(pilot) == "FirstRunScreen"
            assert words.CAUTION in shown
            assert all(line in shown for line in words.WHAT_THIS_IS)
            assert f"{words.STOPPING} {words.WHERE_TO_TURN_HINT}" in " ".join(shown.split())
            await pilot.press("enter")
            await pilot.pause()
            assert screen_name(pilot) == "MonthScreen"
        assert not record.is_empty()
        async with opened(record) as pilot:
            assert screen_name(pilot) == "MonthScreen"

    async def test_what_a_day_without_the_mark_means_is_asked_in_words(
        self, record: Record, opened: Opened
    ) -> None:
        async with opened(record, "up") as pilot:
            assert re.search("Without the anxious mark +< a day was not anxious >", everything(pilot))
            await pilot.press("right", "enter")
            await pilot.pause()
        assert record.choices().settings.not_anxious is False

    async def test_choices_are_kept(self, record: Record, opened: Opened) -> None:
        async with opened(record, "right", "down", "down", "right", "enter"):
            settings = record.choices().settings
            assert (settings.country, settings.day_change_hour) == ("England", 5)

    async def test_help_is_one_key_away(self, record: Record, opened: Opened) -> None:
        async with opened(record, "question_mark") as pilot:
            assert board(pilot, "text")[0] == " Where to turn"
            await pilot.press("escape")
            assert screen_name(pilot) == "FirstRunScreen"

    async def test_a_first_day_takes_three_keys(self, record: Record, opened: Opened) -> None:
        async with opened(record, "enter", "7", "4"):
            assert (stands(record, TODAY, "sleep"), stands(record, TODAY, "mood")) == ("sleep8-6", "mood5-4")
