"""Everything a person decides that is not a day: settings, breaks, lines for the appointment."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from tracker.diary.breaks import Breaks
from tracker.diary.own_changes import DatedChange
from tracker.diary.rota import DEFAULT_KINDS, ShiftKind
from tracker.diary.scales import DEFAULT_SCALES, Scales
from tracker.diary.settings import Settings
from tracker.diary.trial import Trial


class PageLines(NamedTuple):
    """Her own lines for the appointment."""

    wants: tuple[str, ...] = ()
    """What she would like from the appointment; at most 3."""
    changed: tuple[str, ...] = ()
    """What has changed, since when, what it keeps her from, what she tried; at most 4."""


class Choices(NamedTuple):
    """All that a person has decided, as it stands."""

    settings: Settings = Settings()
    scales: Scales = DEFAULT_SCALES
    kinds: tuple[ShiftKind, ...] = DEFAULT_KINDS
    breaks: Breaks = ()
    page_lines: PageLines = PageLines()
    own_help: tuple[str, ...] = ()
    """Her own lines to turn to, shown first."""
    event_kinds: Mapping[str, str] = MappingProxyType({})
    """Names of events in calendar files, each with the shift kind it stands for; empty: none."""

    catch_up: Mapping[str, str] = MappingProxyType({})
    """How past days were put in last, by the names of the questions."""
    dated_changes: tuple[DatedChange, ...] = ()
    """Her own dated lines, in order of time."""
    trials: tuple[Trial, ...] = ()
    """Her trials, oldest first, the one that is going on among them."""

    @property
    def kinds_by_id(self) -> dict[str, ShiftKind]:
        """The shift kinds by what an entry holds."""
        return {kind.id: kind for kind in self.kinds}
