"""Settings read from text, and breaks."""

from datetime import date

import pytest

from tracker.diary.choices import SETTING_NAMES, Break, Settings, in_break
from tracker.diary.errors import UnknownValue


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
        ("country", "Scotland", "Scotland"),
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
    ],
)
def test_a_wrong_value_is_refused_with_the_right_ones(name: str, text: str, sentence: str) -> None:
    with pytest.raises(UnknownValue) as refused:
        Settings().with_value(name, text)
    assert str(refused.value) == sentence


def test_an_unknown_setting_is_refused_with_those_there_are() -> None:
    with pytest.raises(UnknownValue, match="There is no setting 'font'; there are: country, first_weekday,"):
        Settings().with_value("font", "x")


def test_a_break_holds_both_its_ends_and_goes_on_without_one() -> None:
    closed, going_on = Break(date(2026, 1, 5), date(2026, 1, 9)), Break(date(2026, 3, 1))
    assert [in_break(date(2026, 1, day), (closed,)) for day in (4, 5, 9, 10)] == [False, True, True, False]
    assert in_break(date(2030, 1, 1), (going_on,))
    assert not in_break(date(2026, 1, 1), ())


@pytest.mark.parametrize("settings", [Settings(), Settings("Wales", 6, 0, "south", -33, fills=False)])
def test_what_is_shown_of_a_setting_can_be_typed_again(settings: Settings) -> None:
    shown = {name: settings.text_of(name) for name in SETTING_NAMES}
    again = Settings()
    for name, text in shown.items():
        again = again.with_value(name, "" if (name, text) == ("country", "none") else text)
    assert again == settings


def test_a_setting_that_is_none_cannot_be_shown() -> None:
    with pytest.raises(UnknownValue, match="There is no setting 'font'"):
        Settings().text_of("font")
