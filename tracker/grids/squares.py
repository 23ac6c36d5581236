"""What stands in a square: its state, its mark, its signs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache
from types import MappingProxyType
from typing import Literal, NamedTuple

from tracker.diary.breaks import in_break
from tracker.diary.days import Day
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import DEFAULT_SCALES, Grid, Level, Scales
from tracker.diary.waiting import SquareKey, Waiting
from tracker.grids.canvas import CellStyle
from tracker.grids.palette import Palette

State = Literal[
    "kept", "could not say", "waiting", "in a break", "still to come", "before the first day", "hidden"
]
Focus = Literal["mood", "sleep", "shift", ""]
"""Where keys go: a grid, the shifts, or nowhere (a picture without a cursor)."""
NO_KINDS: Mapping[str, ShiftKind] = MappingProxyType({})


class GridData:
    """What a person's record holds, as far as it is drawn.

    Parameters
    ----------
    waiting
        The days, the first one, today and the breaks.
    kinds
        Shift kinds by id.
    hidden
        Whether squares show nothing, for when somebody else can see the screen.
    """

    def __init__(
        self,
        waiting: Waiting,
        scales: Scales = DEFAULT_SCALES,
        kinds: Mapping[str, ShiftKind] = NO_KINDS,
        hidden: bool = False,
    ) -> None:
        self.waiting = waiting
        self.scales = scales
        self.kinds = kinds
        self.hidden = hidden

    @property
    def today(self) -> date:
        """The day that is going on."""
        return self.waiting.today

    def day(self, day: date) -> Day:
        """Everything that stands for a day; an empty day where nothing does."""
        return self.waiting.days.get(day) or Day(day)

    def state(self, place: SquareKey) -> State:
        """What a square is to the eye."""
        square = self.day(place.day).square(place.grid)
        if square is not None:
            return "kept" if square.is_kept else "could not say"
        if place.day > self.today:
            return "still to come"
        if in_break(place.day, self.waiting.breaks):
            return "in a break"
        return "waiting" if self.waiting.waits(place) else "before the first day"

    def level(self, place: SquareKey) -> Level | None:
        """The level kept in a square, or None."""
        square = self.day(place.day).square(place.grid)
        if square is None or not square.is_kept:
            return None
        return self.scales.level(square.value)

    def shift_letter(self, day: date) -> str:
        """The letter of a day's shift as a capital; blank where no rota is entered."""
        if self.hidden:
            return " "
        kind = self.kinds.get(self.day(day).shift_kind)
        return kind.code.upper() if kind else " "

    def possible(self, days: Iterable[date]) -> list[date]:
        """Those days on which something could have been kept: since the first day, in a break what was."""
        first, today = None if self.hidden else self.waiting.first, self.today
        if first is None:
            return []
        return [day for day in days if first <= day <= today and self._counts(day)]

    def _counts(self, day: date) -> bool:
        return not in_break(day, self.waiting.breaks) or self.day(day).is_answered

    def kept(self, grid: Grid, days: Iterable[date]) -> list[date]:
        """Those days whose square holds a level."""
        squares = ((day, self.day(day).square(grid)) for day in days)
        return [day for day, square in squares if square and square.is_kept]


def on_other_levels(grid_data: GridData, grid: Grid, days: Iterable[date]) -> int:
    """How many squares were kept on other levels than those of their day: the key is not theirs."""
    if grid_data.hidden or len(grid_data.scales.of(grid)) == 1:
        return 0
    squares = ((day, grid_data.day(day).square(grid)) for day in days)
    return sum(
        square.is_kept and grid_data.scales.placed(square.value).scale != grid_data.scales.on(grid, day)
        for day, square in squares
        if square
    )


class SquareStyle(NamedTuple):
    """A square as it is drawn."""

    state: State
    mark: str
    """One cell: the level's sign, or that of the state."""
    anxious: str
    """The anxious sign, or a blank."""
    style: CellStyle
    """Of the mark and the part that is filled."""
    outer: CellStyle
    """Of the rest of the square."""


def face(grid_data: GridData, palette: Palette, place: SquareKey, bold: bool = False) -> SquareStyle:
    """How a square is drawn: a kept one has a mark on a fill, every other has neither."""
    if grid_data.hidden:
        return SquareStyle("hidden", " ", " ", palette.quiet, palette.quiet)
    day = grid_data.day(place.day)
    anxious = palette.signs.anxious if day.is_anxious else " "
    square = day.square(place.grid)
    if square is None or not square.is_kept:
        state = grid_data.state(place)
        style = palette.text if state == "could not say" else palette.quiet
        return SquareStyle(state, _sign(palette, state), anxious, style, style)
    scale, at = grid_data.scales.placed(square.value)
    mark = palette.mark(scale, scale.levels[at])
    return _filled(palette, place.grid, at, len(scale.levels), mark, anxious, bold)


@lru_cache(maxsize=256)
def _filled(
    palette: Palette, grid: Grid, at: int, levels: int, mark: str, anxious: str, bold: bool
) -> SquareStyle:
    fill = palette.fill(grid, at, levels)
    style = palette.style(fill, bold)
    return SquareStyle("kept", mark, anxious, style, style if fill.whole else palette.text)


def _sign(palette: Palette, state: State) -> str:
    signs = palette.signs
    return {"waiting": signs.waiting, "could not say": signs.unsaid, "in a break": signs.in_break}.get(
        state, " "
    )
