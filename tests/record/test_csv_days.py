"""Days as CSV, there and back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tracker.diary.changes import shift_change
from tracker.diary.choices import Choices
from tracker.diary.clock import Clock
from tracker.diary.days import Change, Day, Field, Square
from tracker.diary.errors import BrokenFile
from tracker.diary.rota import DEFAULT_KINDS
from tracker.diary.scales import DEFAULT_MOOD, DEFAULT_SLEEP
from tracker.record.csv_days import (
    DaysReader,
    HowToRead,
    Order,
    column_guide,
    days_as_csv,
    guarded,
    has_columns_of_others,
    plan,
    read_days,
    text_of,
    unguarded,
)

TODAY = date(2026, 3, 17)
CLOCK = Clock(now=lambda: datetime(2026, 3, 17, 21, tzinfo=UTC), zone=ZoneInfo("Europe/London"))
CHOICES = Choices()
HEADING = "date,mood,sleep,hours,anxious,shift,note\r\n"


def read(text: str, **how: Any) -> list[Change]:
    return read_days(text, "days.csv", DaysReader(CHOICES, CLOCK, HowToRead(**how)))


def faults(text: str, **how: Any) -> list[str]:
    with pytest.raises(BrokenFile) as broken:
        read(text, **how)
    return [str(fault) for fault in broken.value.faults]


FULL = Day(
    date(2026, 3, 16),
    mood=Square("mood5-4"),
    sleep=Square("sleep8-5", detail={"hours": 6.5}),
    anxious=Square("no"),
    shift=Square("night"),
    note=Square('a, "b"\nc'),
)


class TestWriting:
    def test_a_day_is_a_row_without_its_note(self) -> None:
        assert days_as_csv([FULL], CHOICES) == HEADING + "2026-03-16,4,6-7 h,6.5,no,n,\r\n"

    def test_notes_are_written_when_asked_for(self) -> None:
        assert days_as_csv([FULL], CHOICES, notes=True) == (
            HEADING + '2026-03-16,4,6-7 h,6.5,no,n,"a, ""b""\nc"\r\n'
        )

    def test_could_not_say_is_a_question_mark_and_nothing_is_nothing(self) -> None:
        asked = Day(TODAY, mood=Square("", "could not say"), sleep=Square("", "could not say"))
        assert days_as_csv([asked], CHOICES) == HEADING + "2026-03-17,?,?,,,,\r\n"

    def test_a_day_with_a_note_alone_is_no_row_without_notes(self) -> None:
        assert days_as_csv([Day(TODAY, note=Square("x"))], CHOICES) == HEADING

    @pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@a", "\ta", "\ra", "'a", "''"])
    def test_what_a_spreadsheet_takes_for_a_formula_is_guarded(self, cell: str) -> None:
        assert guarded(cell) == "'" + cell
        assert unguarded(guarded(cell)) == cell

    @pytest.mark.parametrize("cell", ["'twas a long turn", "a=1", "", "6-7 h"])
    def test_other_cells_are_left_alone_both_ways(self, cell: str) -> None:
        assert unguarded(cell) == cell


class TestReading:
    def test_columns_may_be_missing_and_in_another_order(self) -> None:
        assert read("sleep,date\n6-7 h,2026-03-16\n") == [Change(date(2026, 3, 16), "sleep", "sleep8-5")]

    def test_an_empty_cell_asks_for_nothing(self) -> None:
        assert read(HEADING + "2026-03-16,,,,,,\r\n") == []

    @pytest.mark.parametrize(
        ("cell", "rank"),
        [("6", 5), ("6.5", 5), ("6,5", 5), ("0", 0), ("none", 0), ("24", 7), ("8 h or more", 7), ("0.5", 1)],
    )
    def test_a_number_of_hours_is_put_into_its_bucket_and_not_kept(self, cell: str, rank: int) -> None:
        assert read(f'date,sleep\n2026-03-16,"{cell}"\n') == [
            Change(date(2026, 3, 16), "sleep", f"sleep8-{rank}")
        ]

    def test_only_the_column_of_hours_keeps_the_exact_number(self) -> None:
        assert read("date,hours\n2026-03-16,6.5\n") == [
            Change(date(2026, 3, 16), "sleep", "sleep8-5", detail={"hours": 6.5})
        ]

    @pytest.mark.parametrize(
        ("cell", "value"), [("yes", "yes"), ("TRUE", "yes"), ("1", "yes"), ("no", "no"), ("0", "no")]
    )
    def test_the_anxious_mark_is_read_from_several_words(self, cell: str, value: str) -> None:
        assert read(f"date,anxious\n2026-03-16,{cell}\n") == [Change(date(2026, 3, 16), "anxious", value)]

    @pytest.mark.parametrize("cell", ["n", "Night", "night"])
    def test_a_shift_is_read_from_code_or_label_with_its_usual_moments(self, cell: str) -> None:
        night = next(kind for kind in DEFAULT_KINDS if kind.id == "night")
        assert read(f"date,shift\n2026-03-16,{cell}\n") == [shift_change(date(2026, 3, 16), night, CLOCK)]

    @pytest.mark.parametrize(
        ("order", "text"),
        [("DMY", "16/03/2026"), ("DMY", "16.3.2026"), ("DMY", "16-03-2026"), ("MDY", "3/16/2026")],
    )
    def test_dates_may_come_in_another_order(self, order: str, text: str) -> None:
        assert read(f"date,mood\n{text},3\n", dates=order) == [Change(date(2026, 3, 16), "mood", "mood5-3")]

    @pytest.mark.parametrize("text", ["16.3.2026", "16.03.2026"])
    def test_a_date_with_points_is_read_without_a_word(self, text: str) -> None:
        assert read(f"date,mood\n{text},3\n") == [Change(date(2026, 3, 16), "mood", "mood5-3")]

    @pytest.mark.parametrize("separator", [",", ";", "\t"])
    def test_cells_may_be_parted_by_commas_semicolons_or_tabs(self, separator: str) -> None:
        lines = (["date", "hours", "note"], ["2026-03-16", "6.5", '"a, b; c"'])
        text = "".join(separator.join(cells) + "\r\n" for cells in lines)
        assert read(text) == [
            Change(date(2026, 3, 16), "sleep", "sleep8-5", detail={"hours": 6.5}),
            Change(date(2026, 3, 16), "note", "a, b; c"),
        ]

    def test_between_semicolons_a_comma_is_a_decimal_sign(self) -> None:
        assert read("date;hours\n16.03.2026;6,5\n") == read("date,hours\n2026-03-16,6.5\n")

    def test_names_of_others_do_not_hide_the_semicolons(self) -> None:
        columns = {"date": "Datum", "shift": "Dienst, geplant"}
        named = read("Datum;Dienst, geplant\n2026-03-16;n\n", columns=columns)
        assert [change.value for change in named] == ["night"]
        assert [fault.split(":")[0] for fault in faults("Datum;Dienst\n2026-03-16;n\n")] == [
            "line 1, Datum",
            "line 1, Dienst",
            "line 1, date",
        ]

    def test_a_column_may_have_another_name(self) -> None:
        named = read("Datum,Schlaf\n2026-03-16,6\n", columns={"date": "Datum", "sleep": "Schlaf"})
        assert named == [Change(date(2026, 3, 16), "sleep", "sleep8-5")]

    def test_unknown_columns_are_passed_over_only_on_request(self) -> None:
        text = "date,mood,weather\n2026-03-16,3,rain\n"
        assert read(text, ignore_others=True) == [Change(date(2026, 3, 16), "mood", "mood5-3")]
        assert faults(text) == [
            "line 1, weather: this column is not known; --ignore-columns passes over it, --column names it."
        ]

    def test_a_sleep_under_the_date_of_going_to_bed_moves_to_the_next_day(self) -> None:
        assert read("date,mood,sleep\n2026-03-15,3,6\n", under_going_to_bed=True) == [
            Change(date(2026, 3, 15), "mood", "mood5-3"),
            Change(date(2026, 3, 16), "sleep", "sleep8-5"),
        ]

    def test_a_mood_without_the_mark_means_not_anxious_only_by_her_leave(self) -> None:
        text = "date,mood,anxious\n2026-03-15,3,\n2026-03-16,2,yes\n2026-03-17,?,\n"
        marks = [change for change in read(text, not_anxious=True) if change.field == "anxious"]
        assert marks == [
            Change(date(2026, 3, 15), "anxious", "no"),
            Change(date(2026, 3, 16), "anxious", "yes"),
        ]
        assert [change for change in read(text) if change.field == "anxious"] == marks[1:]

    def test_the_leave_does_not_contradict_a_mark_that_stands(self) -> None:
        stands = {TODAY: Day(TODAY, anxious=Square("yes"))}
        reader = DaysReader(CHOICES, CLOCK, HowToRead(not_anxious=True), stands)
        assert read_days("date,mood\n2026-03-17,3\n", "x", reader) == [Change(TODAY, "mood", "mood5-3")]

    def test_a_byte_order_mark_is_accepted(self, tmp_path: Path) -> None:
        file = tmp_path / "days.csv"
        file.write_bytes(b"\xef\xbb\xbfdate,mood\r\n2026-03-16,3\r\n")
        assert read(text_of(file)) == [Change(date(2026, 3, 16), "mood", "mood5-3")]

    def test_other_encodings_are_refused_with_the_line(self, tmp_path: Path) -> None:
        file = tmp_path / "days.csv"
        file.write_bytes("date,note\n2026-03-16,Müdigkeit\n".encode("latin-1"))
        with pytest.raises(BrokenFile) as broken:
            text_of(file)
        assert str(broken.value) == (
            f"{file}: line 2: this is no UTF-8 text.\n"
            "Nothing was kept; save the file as UTF-8 and import it again."
        )

    @pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
    def test_two_bytes_a_letter_are_no_utf_8(self, tmp_path: Path, encoding: str) -> None:
        file = tmp_path / "days.csv"
        file.write_bytes("date,mood\n2026-03-16,3\n".encode(encoding))
        with pytest.raises(BrokenFile, match="line 1: this is no UTF-8 text"):
            text_of(file)

    def test_only_foreign_columns_make_a_file_foreign(self) -> None:
        assert not has_columns_of_others(HEADING, HowToRead())
        assert has_columns_of_others("date,mood,weather\n", HowToRead())
        assert has_columns_of_others("date,mood\n", HowToRead(columns={"mood": "mood"}))


class TestFaults:
    def test_every_fault_is_reported_with_its_line_and_column(self) -> None:
        text = (
            "date,mood,sleep,hours,anxious,shift,note\n"
            "2026-03-10,4,6-7 h,6.5,no,n,\n"
            '2026-03-11,9,,,,,"two\nlines"\n'
            "2026-02-30,3,,,,,\n"
            "2026-03-12,3,6-7 h,8,perhaps,z,\n"
            "2026-03-10,3,,,,,\n"
            "2026-03-18,3,,,,,\n"
            "2026-03-13,3\n"
        )
        assert faults(text) == [
            "line 3, mood: '9' is no level of mood; "
            "there are: 1 very low, 2 low, 3 even, 4 good, 5 very good.",
            "line 5, date: '2026-02-30' is no date of the calendar in the order YMD.",
            "line 6, hours: 8 hours on 2026-03-12 do not lie in '6-7 h'; "
            "leave the bucket out or correct the hours.",
            "line 6, anxious: anxious takes yes or no, not 'perhaps'.",
            "line 6, shift: 'z' is no kind of shift; there are: s standard day, e early, l late, d long day, "
            "n night, c on call, o off, v leave, k sick.",
            "line 7, date: 2026-03-10 stands already on line 2.",
            "line 8, mood: 2026-03-18 is still to come; nothing was kept.",
            "line 9: 2 cells, but the heading has 7.",
        ]

    @pytest.mark.parametrize(
        ("text", "fault"),
        [
            ("", "line 1: the file is empty."),
            ("mood\n3\n", "line 1, date: there is no such column."),
            ("date,mood,Mood\n", "line 1, mood: this column stands twice."),
            ('date,note\n2026-03-16,"abc\n', "line 2: this row cannot be read (unexpected end of data)."),
            (
                "date,sleep\n2026-03-16,25\n",
                "line 2, sleep: '25' is not a length of sleep; give hours from 0 to 24: 6.5, 6:30, 5+1.5.",
            ),
            (
                "date,sleep\n2026-03-16,-1\n",
                "line 2, sleep: '-1' is not a length of sleep; give hours from 0 to 24: 6.5, 6:30, 5+1.5.",
            ),
            (
                "date,mood\n17/03/2026,3\n",
                "line 2, date: '17/03/2026' is no date in the order YMD (like 2026-03-17); "
                "--dates DMY reads it.",
            ),
            (
                "date,sleep\n9999-12-31,6\n",
                "line 2, date: 9999-12-31 is outside the years 1900 to 2199; look at the date.",
            ),
            (
                f"date,note\n2026-03-16,{'x' * 2001}\n",
                "line 2, note: The note of 2026-03-16 has 2001 characters; it may have 2000.",
            ),
        ],
    )
    def test_a_broken_file_is_one_clear_sentence(self, text: str, fault: str) -> None:
        assert faults(text) == [fault]

    @pytest.mark.parametrize(
        ("dates", "reads"),
        [
            (["13/03/2026", "14/03/2026", "15/03/2026"], "DMY reads them"),
            (["03/13/2026", "03/14/2026", "03/15/2026"], "MDY reads them"),
            (["01/03/2026", "02/03/2026", "03/03/2026"], "DMY or MDY reads them"),
        ],
    )
    def test_dates_in_another_order_are_one_fault_with_the_number_of_lines(
        self, dates: list[str], reads: str
    ) -> None:
        text = "date,mood\n" + "".join(f"{day},3\n" for day in dates) + "2026-03-16,9\n"
        other, mood = faults(text)
        assert other == (
            f"line 2, date: '{dates[0]}' is no date in the order YMD (like 2026-03-17), "
            f"nor are those of 2 more lines; --dates {reads}."
        )
        assert mood.startswith("line 5, mood: '9' is no level of mood")

    @pytest.mark.parametrize(
        ("order", "day", "like"),
        [
            ("YMD", "3.4.26", "2026-03-17"),
            ("YMD", "26-04-03", "2026-03-17"),
            ("DMY", "03/04/26", "17/03/2026"),
        ],
    )
    def test_a_year_of_two_digits_is_said_to_need_four(self, order: Order, day: str, like: str) -> None:
        alone = f"line 2, date: '{day}' needs a year of four digits (like {like})."
        assert faults(f"date,mood\n{day},3\n", dates=order) == [alone]
        assert faults(f"date,mood\n{day},3\n3.5.26,3\n", dates=order) == [
            f"{alone[:-1]}; so do those of 1 more line."
        ]

    def test_dates_that_no_order_reads_are_named_line_by_line(self) -> None:
        assert faults("date,mood\nyesterday,3\n17/03/2026,3\n") == [
            "line 2, date: 'yesterday' is no date in the order YMD (like 2026-03-17).",
            "line 3, date: '17/03/2026' is no date in the order YMD (like 2026-03-17).",
        ]

    def test_a_column_named_but_not_there_is_a_fault(self) -> None:
        assert faults("date,mood\n", columns={"sleep": "Schlaf"}) == [
            "line 1, Schlaf: there is no such column."
        ]


class TestPlan:
    def test_new_same_and_differing_squares_are_told_apart(self) -> None:
        stands = {TODAY: Day(TODAY, mood=Square("mood5-4"), anxious=Square("no"))}
        changes = [
            Change(TODAY, "mood", "mood5-2"),
            Change(TODAY, "anxious", "no"),
            Change(TODAY, "sleep", "sleep8-5"),
        ]
        made = plan(changes, stands)
        assert made.new == changes[2:]
        assert made.differing == [(changes[0], Square("mood5-4"))]
        assert made.same == 1


def test_the_guide_explains_every_column(tmp_path: Path) -> None:
    guide = column_guide("days.csv", [], CHOICES, "Not a clinical screening tool.")
    heads = [line.split()[0] for line in guide.splitlines() if line and not line.startswith(" ")]
    assert [head for head in heads if head in HEADING] == HEADING.strip().split(",")
    assert "         4: good\n" in guide
    assert max(map(len, guide.splitlines())) <= 100


# --- there and back ---------------------------------------------------------------------------------

SIGNS = st.characters(exclude_categories=["Cs", "Cc"], include_characters="\t\r\n")
TEXTS = st.text(SIGNS, min_size=1, max_size=60).map(str.strip).filter(bool)
MOODS = st.sampled_from([level.id for level in DEFAULT_MOOD.levels])
HOURS = st.floats(0, 24, allow_nan=False)


@st.composite
def days(draw: st.DrawFn) -> dict[date, dict[Field, Change]]:
    kept: dict[date, dict[Field, Change]] = {}
    for back in draw(st.sets(st.integers(0, 400), max_size=6)):
        day = TODAY - timedelta(back)
        fields = {change.field: change for change in _squares(draw, day)}
        if fields:
            kept[day] = fields
    return kept


def _squares(draw: st.DrawFn, day: date) -> Iterator[Change]:
    if draw(st.booleans()):
        yield Change(day, "mood", draw(MOODS))
    elif draw(st.booleans()):
        yield Change(day, "mood", state="could not say")
    if draw(st.booleans()):
        hours = draw(HOURS)
        level = DEFAULT_SLEEP.level_for_hours(hours)
        yield Change(day, "sleep", level.id, detail={"hours": hours} if draw(st.booleans()) else {})
    if draw(st.booleans()):
        yield Change(day, "anxious", draw(st.sampled_from(["yes", "no"])))
    if draw(st.booleans()):
        yield shift_change(day, draw(st.sampled_from(DEFAULT_KINDS)), CLOCK)
    if draw(st.booleans()):
        yield Change(day, "note", draw(TEXTS))


@example(
    {date(2026, 3, 17): {"sleep": Change(date(2026, 3, 17), "sleep", "sleep8-1", detail={"hours": 1e-05})}}
)
@given(days())
@settings(deadline=None)
def test_what_is_written_is_read_as_it_was(kept: dict[date, dict[Field, Change]]) -> None:
    listed = [
        Day(day, **{field: Square(c.value, c.state, detail=c.detail) for field, c in fields.items()})
        for day, fields in sorted(kept.items())
    ]
    text = days_as_csv(listed, CHOICES, notes=True)
    back: dict[date, dict[Field, Change]] = {}
    for change in read(text.encode().decode()):
        back.setdefault(change.day, {})[change.field] = change
    assert back == kept
