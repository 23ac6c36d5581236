"""What waits of a form, without a screen."""

from __future__ import annotations

import pytest

from tracker.diary.errors import UnwritableRecord
from tracker.editing.drafts import FormDrafts
from tracker.editing.open_record import OpenRecord
from tracker.record.store import Record

PLACES = {"note": "note.2026-03-16", "hours": "hours.2026-03-16"}


@pytest.fixture
def kept(begun: Record) -> OpenRecord:
    return OpenRecord(begun)


def test_only_what_is_typed_and_has_a_place_waits(kept: OpenRecord) -> None:
    FormDrafts(kept, PLACES).hold({"note": "fog", "hours": "", "mood": "mood5-3"})
    assert FormDrafts(kept, PLACES).held == {"note": "fog"}


def test_what_is_typed_no_more_waits_no_more(kept: OpenRecord) -> None:
    drafts = FormDrafts(kept, PLACES)
    drafts.hold({"note": "fog", "hours": "6"})
    drafts.hold({"hours": "6.5"})
    assert FormDrafts(kept, PLACES).held == {"hours": "6.5"}


def test_what_stands_already_is_not_written_again(kept: OpenRecord) -> None:
    drafts = FormDrafts(kept, PLACES)
    drafts.hold({"note": "fog"})
    seen: list[str] = []
    kept.record.db.trace(seen.append)
    drafts.hold({"note": "fog"})
    assert seen == []


def test_what_fails_in_the_midst_of_an_action_leaves_nothing_that_was_read_of_it(kept: OpenRecord) -> None:
    theme = kept.settings.theme

    def fail_at_the_end() -> None:
        with kept.as_one():
            kept.write(lambda record: record.choose({"setting.theme": "timetable"}))
            assert kept.settings.theme == "timetable"
            raise UnwritableRecord("The disk is full.")

    with pytest.raises(UnwritableRecord):
        fail_at_the_end()
    assert (kept.settings.theme, kept.record.choices().settings.theme) == (theme, theme)
