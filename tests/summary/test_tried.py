"""A finished trial on the page: only where she wants it, after its one look, with how many were begun."""

from __future__ import annotations

from datetime import timedelta

from tests.summary.sheets import CHOICES, TODAY, keep, page
from tracker.diary.trial import Trial
from tracker.summary.page_data import PageOptions
from tracker.summary.text import as_text

ENDED = Trial("a", "ear plugs", "as usual", "sleep", "higher", TODAY - timedelta(days=140), 7, 2, 8, 64 * "0")
CHOSEN = CHOICES._replace(trials=(ENDED,))
DAYS = keep(mood=200 * "3", sleep=100 * "67")


def test_it_stands_on_the_page_only_where_she_wants_it() -> None:
    assert page(DAYS, CHOSEN).tried == ""
    told = page(DAYS, CHOSEN, PageOptions(trial=True)).tried
    assert told.startswith('"ear plugs" against "as usual", looking at sleep. Not shown, which is no proof')
    assert "TRIED\n  " in as_text(page(DAYS, CHOSEN, PageOptions(trial=True)))[0]


def test_nothing_is_told_of_one_that_has_not_ended() -> None:
    going_on = ENDED._replace(first=TODAY - timedelta(days=30))
    left = ENDED._replace(stopped=TODAY - timedelta(days=60))
    choices = CHOICES._replace(trials=(going_on, left))
    assert page(DAYS, choices, PageOptions(trial=True)).tried == ""


def test_how_many_were_begun_is_told_with_it() -> None:
    earlier = ENDED._replace(id="b", first=TODAY - timedelta(days=400))
    choices = CHOICES._replace(trials=(earlier, ENDED))
    assert "2 trials" in page(DAYS, choices, PageOptions(trial=True)).tried
