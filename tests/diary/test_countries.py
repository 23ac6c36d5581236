"""Countries as people write them, against the names and codes that the Unicode CLDR has of them (babel)."""

from __future__ import annotations

import pytest

from tracker.diary.countries import read_country
from tracker.diary.errors import UnknownValue
from tracker.diary.help_lines import EU_MEMBERS, HELP_LINES


@pytest.mark.parametrize(
    ("text", "country"),
    [
        ("scotland", "Scotland"),
        ("UK", "United Kingdom"),
        ("gb", "United Kingdom"),
        ("Britain", "United Kingdom"),
        ("America", "USA"),
        ("us", "USA"),
        ("United States", "USA"),
        ("de", "Germany"),
        ("Deutschland", "Germany"),
        ("Osterreich", "Austria"),
        ("Éire", "Ireland"),
        ("日本", "Japan"),
        ("Holland", "Netherlands"),
        ("EU", "elsewhere in the EU"),
        ("none", ""),
        (" ", ""),
    ],
)
def test_a_country_is_meant_by_code_name_or_what_it_calls_itself(text: str, country: str) -> None:
    assert read_country(text) == country


@pytest.mark.parametrize(
    "country", [*(row.country for row in HELP_LINES), *EU_MEMBERS, "Japan", "Switzerland"]
)
def test_every_name_that_is_kept_reads_as_itself(country: str) -> None:
    assert read_country(country) == country


def test_a_word_that_is_no_country_is_refused_with_the_three_nearest() -> None:
    with pytest.raises(UnknownValue) as refused:
        read_country("Germny")
    assert str(refused.value) == (
        "'Germny' is no country known here; the nearest are Germany, Guernsey and Niger, "
        "and none is a choice too."
    )
