"""What stands on the page of findings, drawn without a screen, from a record with a planted link."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, timedelta

import pytest

from tracker.analysis import counts_wording, wording
from tracker.analysis.findings import find
from tracker.analysis.results import Findings
from tracker.analysis.statements import remarks_on, told_together
from tracker.diary.choices import Choices
from tracker.diary.days import Day, Square
from tracker.diary.own_changes import DatedChange
from tracker.diary.scales import DEFAULT_SCALES, DEFAULT_SLEEP
from tracker.diary.settings import Settings
from tracker.grids.palette import Palette
from tracker.grids.themes import load_theme
from tracker.screens.findings_page import FindingsPage, draw_page, lag_groups, link_blocks

FIRST = date(2025, 1, 1)
DAYS = 400
TABLETS = DatedChange(FIRST + timedelta(days=200), "tablets started")
NEW_JOB = DatedChange(FIRST + timedelta(days=390), "new job")


def planted(days: int = DAYS, **more: object) -> Findings:
    """Days on which mood follows the sleep before, one level up or down, with two changes of her own."""
    chance = random.Random(7)  # noqa: S311
    listed = []
    for number in range(days):
        sleep = chance.randint(2, 7)
        mood = min(max(round(sleep / 2) + chance.choice((-1, 0, 1)), 1), 5)
        at = FIRST + timedelta(days=number)
        shift = Square("night") if number % 9 == 0 else None
        listed.append(Day(at, Square(f"mood5-{mood}"), Square(f"sleep8-{sleep}"), shift=shift))
    choices = Choices(settings=Settings(works_shifts=False), dated_changes=(TABLETS, NEW_JOB))
    return find(listed, choices, as_of=listed[-1].date, **more)  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def findings() -> Findings:
    return planted()


@pytest.fixture
def palette() -> Palette:
    return Palette(load_theme("wenfold-dusk"))


def drawn(
    findings: Findings, palette: Palette, width: int = 77, outcome: str = "mood", *, spaced: bool = False
) -> FindingsPage:
    return draw_page(findings, DEFAULT_SCALES, palette, width, outcome, spaced=spaced)


def rows_of(page: FindingsPage) -> list[str]:
    return [line[1:] for line in page.canvas.lines()]


def told(page: FindingsPage) -> str:
    return " ".join(" ".join(rows_of(page)).split())


def test_links_come_first_then_lags_changes_and_all_others_each_under_its_head(
    findings: Findings, palette: Palette
) -> None:
    heads = (
        "Sleep first, then mood", "Mood first, then sleep", "A day's mood with ...", "A day's sleep with ...",
        "Before and after your changes", "Also looked at", "About the days",
    )  # fmt: skip
    rows = rows_of(drawn(findings, palette))
    assert [head for row in rows for head in heads if row.startswith(head)] == list(heads)


def test_each_side_has_its_verdict_its_sentence_and_two_counts(findings: Findings, palette: Palette) -> None:
    counts = findings.counts
    assert counts is not None
    sleep_first, mood_first = link_blocks(findings, DEFAULT_SCALES, palette)
    before_it, after_it = (block.parts[0] for block in (sleep_first, mood_first))
    assert (before_it.verdict, before_it.sentence) == ("shown", findings.statements[0].text)
    assert (after_it.verdict, after_it.sentence[:42]) == (
        "not shown",
        "Mood is not shown to go with the sleep aft",
    )
    listed = [[(bar.label, (bar.number, bar.of)) for bar in part.counts] for part in (before_it, after_it)]
    before, after = counts.comparison("low", "short sleep"), counts.comparison("short sleep", "low day")
    assert listed == [
        [("low days after under 6 h", before.there), ("low days after 6 h or more", before.elsewhere)],
        [("<6 h after a low day", after.there), ("<6 h after another day", after.elsewhere)],
    ]


def test_a_sentence_that_holds_for_both_sides_stands_on_the_first(
    findings: Findings, palette: Palette
) -> None:
    unjudged = replace(findings.lags[0], unjudged="skipped days", verdict="too little kept")
    blocks = link_blocks(replace(findings, lags=(unjudged,)), DEFAULT_SCALES, palette)
    assert [(part.verdict, part.sentence) for block in blocks for part in block.parts] == [
        ("too little kept", wording.SKIPPED_DAYS),
        ("too little kept", ""),
    ]


def test_bars_have_the_colour_of_the_highest_level_that_is_counted(findings: Findings) -> None:
    palette = Palette(load_theme("wenfold-dusk"), "truecolor")
    parts = [part for block in link_blocks(findings, DEFAULT_SCALES, palette) for part in block.parts]
    fills = [{bar.fill for bar in part.counts} for part in parts]
    low, anxious = (palette.fill("mood", place, 5).ground for place in (1, 0))
    short = palette.fill("sleep", DEFAULT_SLEEP.levels.index(DEFAULT_SLEEP.level_for_hours(5.5)), 8).ground
    assert fills == [{low}, {anxious}, {short}, {short}]


def test_counts_of_under_ten_pairs_have_no_bar(findings: Findings, palette: Palette) -> None:
    blocks = link_blocks(findings, DEFAULT_SCALES, palette)
    bars = [bar for block in blocks for part in block.parts for bar in part.counts]
    assert [bar.has_bar for bar in bars] == [bar.of >= 10 for bar in bars]
    assert {bar.has_bar for bar in bars} == {True, False}


@pytest.mark.parametrize(
    ("outcome", "short", "heads", "labels"),
    [
        (
            "mood",
            False,
            ["A day's mood with ...", "A day's sleep with ..."],
            [
                ["the sleep before it", "the sleep 1 day earlier", "the sleep 2 days earlier"],
                ["the mood of the day before", "the mood 2 days before", "the mood 3 days before"],
            ],
        ),
        (
            "anxious",
            False,
            ["A day's anxious mark with ...", "A day's sleep with ..."],
            [
                ["the sleep before it", "the sleep 1 day earlier", "the sleep 2 days earlier"],
                ["the mark of the day before", "the mark 2 days before", "the mark 3 days before"],
            ],
        ),
        (
            "mood",
            True,
            ["A day's mood with ...", "A day's sleep with ..."],
            [
                ["before it", "1 day earlier", "2 days earlier"],
                ["the day before", "2 days before", "3 days before"],
            ],
        ),
    ],
)
def test_lags_stand_in_two_groups_that_say_which_comes_first(
    findings: Findings, outcome: str, short: bool, heads: list[str], labels: list[list[str]]
) -> None:
    lags = replace(findings.lags[0], outcome=outcome)
    groups = lag_groups(replace(findings, lags=(lags,)), outcome, short=short)
    assert [group.head for group in groups] == heads
    assert [[bar.label for bar in group.bars[:3]] for group in groups] == labels
    assert [len(group.bars) for group in groups] == [8, 7]


def test_a_group_has_the_numbers_of_its_lags_and_says_on_what_they_rest(findings: Findings) -> None:
    lag = findings.lags[0]
    sleeps, moods = lag_groups(findings, "mood", short=False)
    assert [bar.effect for bar in (*reversed(moods.bars), *sleeps.bars)] == [
        row.beyond_own_past for row in lag.rows
    ]
    nearest, surest = lag.row(0), min((row for row in lag.rows if row.lag < 0), key=lambda row: row.p or 0)
    assert sleeps.bars[0][1:] == (nearest.beyond_own_past, nearest.low, nearest.high, nearest.smallest, True)
    assert sleeps.notes[0] == f"{nearest.pairs} pairs of days; p < 0.001, limit 0.004"
    assert moods.notes[1].startswith(f"{surest.pairs} pairs; {wording.chance(surest.p or 0)}, limit")


def test_what_must_stand_beside_the_links_stands_under_their_picture(
    findings: Findings, palette: Palette
) -> None:
    said, beside = told(drawn(findings, palette)), findings.statements[0].beside
    assert len(beside) == 4
    assert [said.count(text) for text in beside] == [1] * 4


def test_what_must_stand_beside_all_others_stands_under_them_once(
    findings: Findings, palette: Palette
) -> None:
    beside = ("Nights are few.",)
    listed = tuple(
        replace(said, beside=beside) if said.topic == "weekdays" else said for said in findings.statements
    )
    said = told(drawn(replace(findings, groups=(), statements=listed), palette))
    assert [one.topic for one in listed if one.beside == beside] == ["weekdays"] * 2
    assert " Nights are few. About the days " in said
    assert said.count(*beside) == 1


def test_what_else_must_be_known_of_a_link_that_is_not_shown_stands_there_once_too(
    findings: Findings, palette: Palette
) -> None:
    link = replace(findings.lags[0], verdict="not shown")
    remarks = remarks_on(link)
    said = told(drawn(replace(findings, lags=(link,)), palette))
    assert [remark[:21] for remark in remarks] == ["Mood and sleep move t"]
    assert [said.count(remark) for remark in remarks] == [1]


def test_each_change_is_counted_on_both_sides_the_newest_first(findings: Findings, palette: Palette) -> None:
    rows = rows_of(drawn(findings, palette))
    begins = rows.index("Before and after your changes   counted, not judged")
    low, _, short = findings.changes[0].cuts[0], None, findings.changes[0].cuts[-1]
    nights = findings.changes[0].nights
    assert rows[begins + 2 : begins + 5] == [
        "▼ 26 Jan 2026  new job",
        "  Fewer than 28 days lie on one side of it, free of other changes.",
        "▼ 20 Jul 2025  tablets started",
    ]
    counted = [" ".join(row.split()) for row in (rows[begins + 1], *rows[begins + 5 : begins + 8])]
    assert counted == [
        "low anxious under 6 h nights",
        f"90 days before {low.before.number} of 90 - {short.before.number} of 90 {nights[0]}",
        f"90 from that day on {low.after.number} of 90 - {short.after.number} of 90 {nights[1]}",
        "-: not kept well enough to compare.",
    ]
    assert counts_wording.MOVES_WITH_A_DATE in told(drawn(findings, palette))


def test_other_places_that_differ_as_much_stand_under_a_change(findings: Findings, palette: Palette) -> None:
    change = findings.changes[0]
    cuts = tuple(cut._replace(as_large=9, places=70, uneven=True) for cut in change.cuts)
    page = drawn(replace(findings, changes=(change._replace(cuts=cuts),)), palette)
    assert "other places as far apart 9 of 70 - 9 of 70" in told(page)
    assert counts_wording.UNEVENLY_KEPT in told(page)


def test_what_was_looked_at_beyond_has_its_verdict_and_the_days_have_none(
    findings: Findings, palette: Palette
) -> None:
    page = drawn(findings, palette)
    rows = rows_of(page)
    also, about = rows.index("Also looked at"), rows.index("About the days")
    for entry, place in zip(page.entries, page.places, strict=True):
        statement = entry.statements[0]
        if place.start > also:
            lead = f"{statement.verdict:<17}" if statement.verdict else ""
            assert rows[place.start].startswith(f"{lead}{statement.text[:30]}")
            assert (place.start < about) == bool(statement.verdict)


def test_every_sentence_stands_once_and_those_that_the_counts_tell_not_at_all(
    findings: Findings, palette: Palette
) -> None:
    page = drawn(findings, palette, 60)
    listed = [said for said in told_together(findings) if said.topic not in ("counts", "changes")]
    assert {said.text for said in listed if told(page).count(said.text) != 1} == set()
    assert not any(said.text in told(page) for said in findings.statements if said.topic == "counts")


def test_before_the_first_verdict_that_comes_first_and_nothing_looks_like_a_link(palette: Palette) -> None:
    young = planted(100)
    page = drawn(young, palette)
    parts = [part for block in link_blocks(young, DEFAULT_SCALES, palette) for part in block.parts]
    assert young.lags[0].row(0).beyond_own_past is not None
    assert told(page).startswith(young.statements[0].text)
    assert {(part.verdict, part.sentence) for part in parts} == {("", "")}
    assert not any(bar.has_bar for part in parts for bar in part.counts)
    assert "\n\n\n" not in "\n".join(rows_of(page))
    assert (page.lags, lag_groups(young, "mood", short=False)) == (range(0), [])


def test_days_chosen_by_hand_are_described_with_a_picture_that_judges_nothing(palette: Palette) -> None:
    by_hand = planted(chosen=(FIRST, None))
    page = drawn(by_hand, palette)
    assert told(page).startswith(wording.DESCRIBED_ONLY)
    assert wording.BY_CHANCE_AS_MUCH in told(page)
    assert [group.notes[1] for group in lag_groups(by_hand, "mood", short=False)] == [
        "400 pairs",
        "399 pairs",
    ]
    assert {bar.smallest for group in lag_groups(by_hand, "mood", short=False) for bar in group.bars} == {
        None
    }


@pytest.mark.parametrize("spaced", [False, True])
def test_where_rows_are_many_blank_ones_part_the_links(
    findings: Findings, palette: Palette, spaced: bool
) -> None:
    rows = rows_of(drawn(findings, palette, spaced=spaced))
    heads = ("Mood first, then sleep", "A day's sleep with ...")
    before = [rows[at - 1] for at, row in enumerate(rows) if row.startswith(heads)]
    assert [not row.strip() for row in before] == [spaced] * 2


@pytest.mark.parametrize("spaced", [False, True])
@pytest.mark.parametrize("outcome", ["mood", "anxious"])
@pytest.mark.parametrize("width", [35, 57, 77, 97, 117, 157, 197])
def test_at_every_size_all_of_it_is_there(
    findings: Findings, palette: Palette, width: int, outcome: str, spaced: bool
) -> None:
    wide, page = drawn(findings, palette), drawn(findings, palette, width, outcome, spaced=spaced)
    assert page.canvas.width == width + 1
    for entry in wide.entries[-5:]:
        assert entry.statements[0].text in told(page)
    assert "\n\n\n" not in "\n".join(rows_of(page))
    assert [entry.topics for entry in page.entries] == [entry.topics for entry in wide.entries]


def test_what_is_chosen_has_a_pointer_and_its_own_ground_but_for_the_link_at_the_top(
    findings: Findings,
) -> None:
    palette = Palette(load_theme("wenfold-dusk"), "truecolor")
    page = drawn(findings, palette)
    last = page.marked(len(page.entries) - 1, palette)
    grounded = [y for y in range(last.height) if last.style_at(0, y).bg == palette.panel]
    assert grounded == list(page.places[-1])
    assert (last.text_at(0, grounded[0]), last.style_at(0, grounded[0]).fg) == ("►", palette.focused.fg)
    assert page.marked(0, palette).lines() == page.canvas.lines()


def test_an_empty_record_says_what_it_needs(palette: Palette) -> None:
    empty = find([], Choices(), as_of=FIRST)
    page = drawn(empty, palette)
    assert told(page) == f"About the days {empty.standing()} {empty.statements[0].text}"
