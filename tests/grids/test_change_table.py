"""The days before and after a change of her own, as a table."""

from tests.grids.sheets import palette
from tracker.grids.change_table import ChangeRows, TableRow, draw_changes

NAMES = ("low", "anxious", "under 6 h", "nights")
TABLETS = ChangeRows(
    "29 Mar 2026",
    "tablets started",
    (
        TableRow("77 days before", (("16", " of 69"), ("8", " of 69"), ("", "-"), ("12", ""))),
        TableRow("77 from that day on", (("10", " of 64"), ("4", " of 64"), ("", "-"), ("10", ""))),
    ),
    "-: not kept well enough to compare.",
)
NEW_JOB = ChangeRows("15 Jun 2026", "new job", (), "Fewer than 28 days lie on one side of it.")


def drawn(*changes: ChangeRows, names: tuple[str, ...] = NAMES, width: int = 77) -> list[str]:
    head, tables = draw_changes(names, changes, palette(marks="ascii"), width)
    return [line for canvas in (head, *tables) for line in canvas.lines()]


def test_each_change_has_its_day_her_words_and_a_row_for_each_side() -> None:
    assert drawn(TABLETS, NEW_JOB) == [
        "                             low   anxious   under 6 h   nights",
        "v 29 Mar 2026  tablets started",
        "  77 days before        16 of 69   8 of 69           -       12",
        "  77 from that day on   10 of 64   4 of 64           -       10",
        "  -: not kept well enough to compare.",
        "v 15 Jun 2026  new job",
        "  Fewer than 28 days lie on one side of it.",
    ]


def test_with_little_room_her_words_have_a_row_and_columns_stand_closer() -> None:
    rows = (TableRow("before", (("116", "/169"), ("8", "/169"), ("14", "/167"), ("12", ""))),)
    narrow = TABLETS._replace(words="a new post in Harrowmere from Monday on", rows=rows, note="")
    assert drawn(narrow, names=("low", "anxious", "<6 h", "N"), width=35) == [
        "             low anxious   <6 h  N",
        "v 29 Mar 2026",
        "  a new post in Harrowmere from",
        "  Monday on",
        "  before 116/169   8/169 14/167 12",
    ]


def test_without_a_table_no_column_is_named() -> None:
    assert drawn(NEW_JOB)[0] == "v 15 Jun 2026  new job"


def test_the_sign_has_the_colour_of_a_change_and_numbers_alone_are_bold() -> None:
    looks = palette("truecolor")
    canvas = draw_changes(NAMES, [TABLETS], looks, 77)[1][0]
    bold = ["".join(run.text for run in canvas.row(y) if run.style.bold) for y in (1, 2)]
    assert canvas.style_at(0, 0) == looks.warning
    assert bold == ["16812", "10410"]
