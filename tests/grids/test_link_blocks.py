"""Both sides of the link of mood and sleep: verdict, sentence, and counts with bars."""

from tests.grids.sheets import palette
from tracker.grids.link_blocks import Block, CountBar, Part, draw_blocks, full_share

LOW = (
    CountBar("low days after under 6 h", 58, 124, None, True),
    CountBar("low days after 6 h or more", 107, 491, None, True),
)
SHORT = (
    CountBar("<6 h after a low day", 4, 9, None, False),
    CountBar("<6 h after another day", 78, 415, None, True),
)
BLOCKS = [
    Block("Sleep first, then mood", (Part("shown", "Longer sleep, higher mood: a clear link.", LOW),)),
    Block("Mood first, then sleep", (Part("too little kept", "It cannot be judged.", SHORT),)),
]


def test_under_one_another_verdict_sentence_and_counts_have_their_columns() -> None:
    assert draw_blocks(BLOCKS, palette(marks="ascii"), 74).lines() == [
        "Sleep first, then mood",
        "shown      Longer sleep, higher mood: a clear link.",
        "           low days after under 6 h     58 of 124 =======================",
        "           low days after 6 h or more  107 of 491 ===========",
        "Mood first, then sleep",
        "too little It cannot be judged.",
        "kept",
        "           <6 h after a low day          4 of   9",
        "           <6 h after another day       78 of 415 =========",
    ]


def test_with_less_room_the_verdict_has_a_row_of_its_own() -> None:
    assert draw_blocks(BLOCKS[:1], palette(marks="ascii"), 60).lines() == [
        "Sleep first, then mood",
        "shown",
        "  Longer sleep, higher mood: a clear link.",
        "  low days after under 6 h     58 of 124 ==================",
        "  low days after 6 h or more  107 of 491 =========",
    ]


def test_with_little_room_counts_come_first_and_have_no_bars() -> None:
    assert draw_blocks(BLOCKS[:1], palette(marks="ascii"), 35).lines() == [
        "Sleep first, then mood",
        "shown",
        "Longer sleep, higher mood: a clear",
        "link.",
        " 58 of 124 low days after under 6 h",
        "107 of 491 low days after 6 h or",
        "           more",
    ]


def test_where_rows_are_many_a_blank_one_parts_what_is_said_of_each() -> None:
    two = [block._replace(parts=block.parts * 2) for block in BLOCKS]
    rows = draw_blocks(two, palette(), 77, gap=1).lines()
    assert [y for y, row in enumerate(rows) if not row] == [4, 8, 14]


def test_where_there_is_room_they_stand_side_by_side() -> None:
    assert [line[:58].rstrip() for line in draw_blocks(BLOCKS, palette(), 117).lines()[:2]] == [
        "Sleep first, then mood",
        "shown      Longer sleep, higher mood: a clear link.",
    ]
    assert [line[59:].rstrip() for line in draw_blocks(BLOCKS, palette(), 117).lines()[:3]] == [
        "Mood first, then sleep",
        "too little It cannot be judged.",
        "kept",
    ]


def test_what_is_shown_stands_in_the_colour_of_focus_and_its_sentence_is_bold() -> None:
    looks = palette("truecolor")
    canvas = draw_blocks(BLOCKS, looks, 77)
    assert [canvas.style_at(x, 1) for x in (0, 11)] == [looks.focused, looks.title]
    assert [canvas.style_at(x, 5) for x in (0, 11)] == [looks.text, looks.text]


def test_a_bar_has_the_colour_it_is_given() -> None:
    bars = (CountBar("low", 1, 2, "#123456", True),)
    canvas = draw_blocks([Block("x", (Part("", "y", bars),))], palette("truecolor"), 60)
    assert {canvas.style_at(x, 2).fg for x in range(60) if canvas.text_at(x, 2) == "▄"} == {"#123456"}


def test_half_of_the_days_fill_a_bar_or_the_next_ten_in_a_hundred_above_the_largest_share() -> None:
    assert full_share([CountBar("x", 58, 124, None, True)]) == 0.5
    assert full_share([CountBar("x", 61, 100, None, True), CountBar("y", 3, 100, None, True)]) == 0.7
    assert full_share([CountBar("x", 9, 9, None, False)]) == 0.5
