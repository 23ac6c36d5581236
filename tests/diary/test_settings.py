"""The settings: one row for each, from which it is read, shown and offered."""

from __future__ import annotations

import pytest

from tracker.diary.errors import UnknownValue
from tracker.diary.settings import SETTINGS, Settings, again_in_words, setting

OTHERS = Settings(
    country="Wales",
    first_weekday=6,
    day_change_hour=0,
    theme="cawbrook-lamps",
    marks="shapes",
    fills=False,
    not_anxious=False,
    hemisphere="south",
    latitude=-33,
    changes=True,
    short_sleep=5,
    works_shifts=False,
    lines=True,
    hide=True,
)
"""Every setting otherwise than at first."""


def test_every_setting_has_one_row_in_the_order_of_its_values() -> None:
    assert tuple(SETTINGS) == Settings._fields
    assert all(row.name == name and row.label and row.help.endswith(".") for name, row in SETTINGS.items())


def test_no_setting_is_left_out_of_the_others() -> None:
    assert [name for name in SETTINGS if getattr(OTHERS, name) == getattr(Settings(), name)] == []


@pytest.mark.parametrize("name", [name for name, row in SETTINGS.items() if row.offered()])
def test_what_is_offered_can_be_taken_and_holds_what_stands(name: str) -> None:
    offered = [value for value, _ in setting(name).offered()]
    assert [Settings().with_value(name, value).text_of(name) for value in offered] == offered
    assert {Settings().text_of(name), OTHERS.text_of(name)} <= set(offered)


def test_only_a_latitude_and_a_theme_are_not_offered() -> None:
    """A latitude is typed; which themes there are is known to the grids."""
    assert [name for name, row in SETTINGS.items() if not row.offered()] == ["theme", "latitude"]


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("first_weekday", "sun", 6),
        ("day_change_hour", "12", 12),
        ("latitude", "-33", -33),
        ("latitude", "none", None),
        ("marks", "Shapes", "shapes"),
        ("lines", "yes", True),
        ("fills", "off", False),
        ("country", "scotland", "Scotland"),
        ("country", "none", ""),
    ],
)
def test_a_setting_is_read_from_text(name: str, text: str, value: object) -> None:
    assert getattr(Settings().with_value(name, text), name) == value


@pytest.mark.parametrize(
    ("name", "text", "sentence"),
    [
        ("day_change_hour", "13", "day_change_hour takes a whole number from 0 to 12, not '13'."),
        ("latitude", "north", "latitude takes a whole number from -90 to 90, not 'north'."),
        ("lines", "perhaps", "lines takes yes or no, not 'perhaps'."),
        ("marks", "runes", "marks takes one of digits, shapes, ascii, not 'runes'."),
        ("first_weekday", "x", "first_weekday takes the name of a day, not 'x'."),
        ("short_sleep", "half", "short_sleep takes a whole number from 1 to 12, not 'half'."),
    ],
)
def test_a_wrong_value_is_refused_with_the_right_ones(name: str, text: str, sentence: str) -> None:
    with pytest.raises(UnknownValue) as refused:
        Settings().with_value(name, text)
    assert str(refused.value) == sentence


def test_an_unknown_setting_is_refused_with_those_there_are() -> None:
    with pytest.raises(UnknownValue, match="There is no setting 'font'; there are: country, first_weekday,"):
        Settings().with_value("font", "x")


@pytest.mark.parametrize("settings", [Settings(), OTHERS])
def test_what_is_shown_of_a_setting_can_be_typed_again(settings: Settings) -> None:
    again = Settings()
    for name in SETTINGS:
        again = again.with_value(name, settings.text_of(name))
    assert again == settings


def test_a_setting_that_is_none_cannot_be_shown() -> None:
    with pytest.raises(UnknownValue, match="There is no setting 'font'"):
        Settings().text_of("font")


def test_what_counts_again_is_named() -> None:
    assert again_in_words(Settings(), Settings()) == ""
    assert again_in_words(Settings(marks="ascii"), Settings()) == "; it is digits again"
    both = Settings(marks="ascii", latitude=56)
    assert again_in_words(both, Settings()) == "; again marks digits and latitude none"
