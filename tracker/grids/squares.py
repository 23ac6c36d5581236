"""What stands in a square: its state, its mark, its signs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache
from types import MappingProxyType
from typing import Literal, NamedTuple

from tracker.diary.breaks import in_break
from tracker.diary.clock import Clock
from tracker.diary.days import Day
from tracker.diary.low_and_short import is_low, is_short
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import DEFAULT_SCALES, Grid, Level, Scales
from tracker.diary.settings import Settings
from tracker.diary.trial import Trial
from tracker.diary.waiting import SquareKey, Waiting
from tracker.grids.canvas import PLAIN, CellStyle
from tracker.grids.palette import BARS, Palette

State = Literal[
    "kept", "could not say", "waiting", "in a break", "still to come", "before the first day", "hidden"
]
Focus = Literal["mood", "sleep", "shift", ""]
"""Where keys go: a grid, the shifts, or nowhere (a picture without a cursor)."""
NO_KINDS: Mapping[str, ShiftKind] = MappingProxyType({})
NO_CHANGES: Mapping[date, str] = MappingProxyType({})


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
    changes
        Her dated lines, such as a new job.
    short_limit
        Hours under which a sleep counts as short.
    clock
        Tells which shifts are nights.
    trials
        Her trials; the day in words says which block it is in.
    """

    def __init__(
        self,
        waiting: Waiting,
        scales: Scales = DEFAULT_SCALES,
        kinds: Mapping[str, ShiftKind] = NO_KINDS,
        hidden: bool = False,
        changes: Mapping[date, str] = NO_CHANGES,
        short_limit: float = Settings().short_sleep,
        clock: Clock = Clock(),  # noqa: B008 - a plain value
        trials: tuple[Trial, ...] = (),
    ) -> None:
        self.waiting = waiting
        self.scales = scales
        self.kinds = kinds
        self.hidden = hidden
        self.changes = NO_CHANGES if hidden else changes
        self.short_limit = short_limit
        self.clock = clock
        self.trials = trials

    @property
    def today(self) -> date:
        """The day that is going on."""
        return self.waiting.today

    def day(self, day: date) -> Day:
        """Everything that stands for a day; an empty day where nothing does."""
        return self.waiting.days.get(day) or Day(day)

    def basis(self, days: Iterable[date]) -> tuple[object, ...]:
        """Everything that decides how some days look."""
        waiting = self.waiting
        return (
            [waiting.days.get(day) for day in days],
            (waiting.first, waiting.today, waiting.breaks, self.hidden, self.short_limit, self.clock),
            self.scales,
            self.kinds,
            self.changes,
        )

    def state(self, place: SquareKey) -> State:
        """What a square is to the eye."""
        square = self.day(place.day).square(place.grid)
        if square is not None:
            return "kept" if square.is_kept else "could not say"
        if in_break(place.day, self.waiting.breaks):
            return "in a break"
        if place.day > self.today:
            return "still to come"
        return "waiting" if self.waiting.waits(place) else "before the first day"

    def level(self, place: SquareKey) -> Level | None:
        """The level kept in a square, or None."""
        square = self.day(place.day).square(place.grid)
        if square is None or not square.is_kept:
            return None
        return self.scales.level(square.value)

    def counts(self, place: SquareKey) -> bool:
        """Whether a square is counted beside its month: a low mood, or a sleep under the limit."""
        day = self.day(place.day)
        low = (
            is_low(day, self.scales) if place.grid == "mood" else is_short(day, self.scales, self.short_limit)
        )
        return bool(low)

    def has_note(self, day: date) -> bool:
        """Whether a note shows."""
        return not self.hidden and bool(self.day(day).note_text)

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
        return [day for day in days if first <= day <= today and self._is_possible(day)]

    def _is_possible(self, day: date) -> bool:
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
    """Of the mark and its signs."""
    texture: str = " "
    """Fills the cells without a mark."""
    texture_style: CellStyle = PLAIN
    is_counted: bool = False
    """Whether it is a low mood or a short sleep."""

    @property
    def plain(self) -> CellStyle:
        """Of what else stands on the square."""
        return self.style._replace(bold=False)


def square_style(grid_data: GridData, palette: Palette, place: SquareKey) -> SquareStyle:
    """How a square is drawn: a kept one has a mark on a fill, every other has neither."""
    if grid_data.hidden:
        return SquareStyle("hidden", " ", " ", palette.quiet, texture_style=palette.quiet)
    day = grid_data.day(place.day)
    anxious = palette.signs.anxious if day.is_anxious else " "
    square = day.square(place.grid)
    if square is None or not square.is_kept:
        state = grid_data.state(place)
        style = _state_styles(palette).get(state, palette.quiet)
        return SquareStyle(state, _sign(palette, state), anxious, style, texture_style=style)
    scale, at = grid_data.scales.placed(square.value)
    mark = palette.mark(scale, scale.levels[at])
    return _filled(palette, place.grid, at, len(scale.levels), mark, anxious, grid_data.counts(place))


@lru_cache(maxsize=256)
def _filled(
    palette: Palette, grid: Grid, at: int, levels: int, mark: str, anxious: str, is_counted: bool
) -> SquareStyle:
    fill = palette.fill(grid, at, levels)
    style = palette.style(fill, bold=True)
    if fill.ground is None:
        style = style._replace(reverse=is_counted and mark not in BARS)  # a bar turned round is another one
    texture = " " if fill.whole else palette.signs.texture
    rest = style if fill.whole else style._replace(fg=palette.texture_ink, bold=False)
    return SquareStyle("kept", mark, anxious, style, texture, rest, is_counted)


@lru_cache(maxsize=8)
def _state_styles(palette: Palette) -> Mapping[State, CellStyle]:
    return {"waiting": palette.waiting, "could not say": palette.unsaid}


def _sign(palette: Palette, state: State) -> str:
    signs = palette.signs
    return {"waiting": signs.waiting, "could not say": signs.unsaid, "in a break": signs.in_break}.get(
        state, " "
    )
