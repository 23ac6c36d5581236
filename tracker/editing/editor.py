"""What every action at the grids does, decided without a screen.

An action that keeps something has done so durably when `perform` returns; a screen only draws afterwards.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta

from tracker import words
from tracker.diary.answers import begins_earlier, counts_as_in_words, kept_in_words
from tracker.diary.breaks import Break, added, ended, in_break
from tracker.diary.changes import (
    answer,
    anxious_change,
    basis_by_hand,
    dated_change,
    mood_changes,
    next_anxious,
    note_change,
    shift_change,
    sleep_change,
)
from tracker.diary.dates import FIRST_DATE, LAST_DATE, short_day
from tracker.diary.days import Basis, Change, Field
from tracker.diary.errors import TrackerError, UnknownValue, WrongDay
from tracker.diary.months import days_of_month, same_day
from tracker.diary.own_changes import change_on, noted_in_words
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import GRIDS, Grid, Level, other_grid
from tracker.diary.settings import Settings
from tracker.diary.waiting import SquareKey
from tracker.editing import modes
from tracker.editing.catch_up import CatchUp, CatchUpOptions, OldColour
from tracker.editing.modes import Mode
from tracker.editing.open_record import OpenRecord
from tracker.editing.state import EditorState, Focus
from tracker.record.batch_writer import Batch
from tracker.record.change_rows import change_value, no_change_value
from tracker.record.store import Record


class Editor:
    """Does what a key or a click means on an open record, and says what it did."""

    def __init__(self, record: Record, sign: Callable[[str], str] = str) -> None:
        """
        Parameters
        ----------
        sign
            How the key is written that does what a built-in one does.
        """
        self.kept = OpenRecord(record)
        self.state = EditorState(self.kept, sign)
        self.catching_up: CatchUp | None = None
        self._in_order = True
        """Whether the cursor stands where it was asked for, not where she moved it."""
        self._led_to: SquareKey | None = None
        """The waiting square to which she was led last, if she has not walked since."""
        self._ran_on_from: SquareKey | None = None
        """The square that this action answered before the cursor ran on."""
        self._just_left: SquareKey | None = None
        """The same of the action before."""
        self._last = ""
        """The action before."""
        self._again = False
        """Whether this action is the one before once more."""
        self._came_from: Grid = "sleep"
        self._marked_day = self.state.cursor
        self.start()

    def start(self) -> None:
        """Stand on the earliest waiting square of yesterday and today."""
        self._in_order = True
        self._go_on()
        if not self.kept.waiting.next_asked():
            self.state.cursor, self.state.message = self.kept.today, words.NOTHING_WAITS
        if self.kept.record.read_only:
            self.state.message = words.only_looking(self.kept.record.path)

    # --- what an action is worth now -----------------------------------------------------------------

    @property
    def modes(self) -> frozenset[Mode]:
        """Everything that holds now and decides what may be done."""
        state, catching_up = self.state, self.catching_up is not None
        holds: Mapping[Mode, bool] = {
            "after a 1": state.awaiting == "hours" and not catching_up,
            "after a 1, catching up": state.awaiting == "hours" and catching_up,
            "shift letter": state.awaiting == "shift",
            "shifts": state.focus == "shift",
            "catching up": catching_up,
            "month full": self.month_is_full,
            "hidden": state.hidden,
        }
        return frozenset(mode for mode, true in holds.items() if true)

    @property
    def month_is_full(self) -> bool:
        """Whether catching up has come to a month's end."""
        return self.catching_up is not None and self.catching_up.month_is_full

    def allowed(self, action: str, *args: object) -> bool:
        """Whether an action can be done now; of letters, those that mean something."""
        if not modes.allowed(self.modes, action):
            return False
        if action == "shift":
            return self.state.awaiting == "shift" or self._kind_for_letter(args[0]) is not None
        return action != "colour" or (self.catching_up is not None and self.catching_up.is_a_colour(args[0]))

    def offered(self, action: str, *args: object) -> bool:
        """Whether an action would keep or show something now, so that its key is worth naming."""
        to_come: frozenset[Mode] = frozenset(
            {"to come"} if self.state.cursor > self.kept.last_open_day else ()
        )
        if not modes.offered(self.modes | to_come, action) or not self.allowed(action, *args):
            return False
        if action == "digit":
            return self._level_for_digit(str(args[0])) is not None or self._waits_for_more(str(args[0]))
        return action != "shift" or self._kind_for_letter(args[0]) is not None

    def perform(self, action: str, *args: object) -> None:
        """Do what a key or a click means now; whatever forbids it is said."""
        self._again, self._last = action == self._last, action
        self._just_left, self._ran_on_from = self._ran_on_from, None
        if action in modes.ANSWERS and self._refuses_answers(action):
            return
        self._awaited, self.state.awaiting = self.state.awaiting, ""
        if self._awaited:
            self.state.message = ""
        try:
            getattr(self, action)(*args)
        except TrackerError as error:
            self.state.message = str(error)

    def _refuses_answers(self, action: str) -> bool:
        """Whether an answer would stand on the wrong day, and all later ones too; says so."""
        if self.catching_up and self.state.awaiting == "hours":
            hour = self.state.scale.level_for_hours(1).label
            self.state.message = f"Nothing was kept, for a 1 is waiting: Enter = {hour}, Esc = neither."
            return True
        if self.catching_up and self.month_is_full and action != "anxious":
            self.catching_up.refuse_answer()
            return True
        return False

    def unknown_key(self) -> None:
        """Let a key that does nothing here pass: what an earlier one said would look like its answer."""
        self.clear_message()

    def leave_it(self) -> None:
        """Await no second key any longer."""

    def clear_message(self) -> None:
        """Take the last sentence back; the sums of a month that is full stay until it is left."""
        if not self.month_is_full:
            self.state.message = ""

    def refresh(self) -> bool:
        """Take up what another copy of the program has written; whether there is anything new to show."""
        try:
            return self.kept.refresh()
        except TrackerError as error:
            self.state.message = str(error)
            return True

    # --- answers ---------------------------------------------------------------------------------------

    def digit(self, key: str) -> None:
        """Answer the square under the cursor with the level of a digit."""
        if self._awaited == "shift":
            self._no_letter(key)
            return
        if self._awaited == "hours":
            raise UnknownValue(self._slip(10 + int(key)))
        if self.state.focus == "shift":
            raise UnknownValue(self._shifts_take_letters())
        self._check_open(self.state.cursor)
        level = self._level_for_digit(key)
        if level:
            self._keep_level(level)
        elif self._waits_for_more(key):
            self.state.awaiting, self.state.message = "hours", self._after_a_one()
        else:
            marks = [level.mark for level in self.state.scale.levels]
            raise UnknownValue(words.no_level(key, self.state.grid, marks[0], marks[-1]))

    def _level_for_digit(self, key: str) -> Level | None:
        return self.state.scale.level_for_key(key)

    def _waits_for_more(self, key: str) -> bool:
        return key == "1" and self.state.grid == "sleep"

    def _after_a_one(self) -> str:
        """What a `1` waits for."""
        scale = self.state.scale
        hour, ten = scale.level_for_hours(1), scale.level_for_hours(10)
        if self.catching_up:
            return f"1 waits: Enter = {hour.label}, Esc = neither. For 10 hours or more press {ten.mark}."
        return f"1 waits: 0 to 4 = 10 to 14 hours, Enter = {hour.label}, Esc = neither."

    def ten_hours(self, digit: str) -> None:
        """Answer with the hours that a `1` and a second digit make."""
        self._keep_level(self.state.scale.level_for_hours(10 + int(digit)))

    def _slip(self, hours: int) -> str:
        """Hours of two digits that are rather two answers that ran together."""
        level = self.state.scale.level_for_hours(hours)
        return f"{hours} hours look like a slip; nothing was kept. If you slept so long, press {level.mark}."

    def one_hour(self) -> None:
        """Answer with the one hour that a `1` means alone."""
        self._keep_level(self.state.scale.level_for_hours(1))

    def keep_level(self, grid: Grid, level: str) -> None:
        """Answer the square of a grid with a level, given by its id."""
        self.state.focus = grid
        self._check_open(self.state.cursor)
        self._keep_level(self.kept.choices.scales.level(level))

    def _keep_level(self, level: Level) -> None:
        self._answer_square(self._level_changes(level))

    def _level_changes(self, level: Level) -> list[Change]:
        if self.state.grid == "sleep":
            return [sleep_change(self.state.cursor, level)]
        choices = self.kept.choices
        if self.catching_up:
            settings = choices.settings._replace(not_anxious=self.catching_up.options.not_anxious)
            choices = choices._replace(settings=settings)
        return mood_changes(self.state.day, level, choices)

    def could_not_say(self) -> None:
        """Answer the square under the cursor with `could not say`."""
        if self.state.focus == "shift":
            raise UnknownValue(f"A shift is a letter, or {self.state.sign('Backspace')}.")
        self._check_open(self.state.cursor)
        self._answer_square([answer(self.state.cursor, self.state.grid, "could not say")])

    def _answer_square(self, changes: list[Change]) -> None:
        """Keep the answer, and go on to the next square that is asked for."""
        square, waited = self.state.square, self.kept.waiting.waits(self.state.square)
        self._save(square.day, changes, also=self._under_on_paper(square))
        if self.catching_up:
            self._ran_on_from = square
            self.catching_up.run_on()
        elif self._in_order and waited:
            self._go_on()
            self._ran_on_from = square if square.grid == "mood" and square.day != self.state.cursor else None
            if not self.kept.waiting.next_asked():
                self.state.message = f"{self.state.message} {words.NOTHING_WAITS}"
        elif square == self._led_to and waited and self.kept.waiting.waits(SquareKey(square.day, "mood")):
            self.state.focus = "mood"

    def _under_on_paper(self, square: SquareKey) -> str:
        if self.catching_up and self.catching_up.options.shift(square.grid):
            return f"On paper it stands under {short_day(square.day - timedelta(days=1))}."
        return ""

    def anxious(self) -> None:
        """Yes at the first press whatever stood there; pressed again: no, not noted, round again."""
        if not self._again:
            self._marked_day = self._just_left.day if self._just_left else self.state.cursor
        day = self.kept.days.on(self._marked_day)
        self._check_open(day.date)
        anxious = next_anxious(day.is_anxious)
        if not self._again and day.is_anxious is False:
            anxious = True
        self._save(day.date, [anxious_change(day.date, anxious)])

    def clear(self) -> None:
        """Take away what stands under the cursor."""
        self._clear(self.state.focus)

    def _clear(self, field: Field) -> None:
        day = self.state.day
        if day.square(field) is None:
            raise UnknownValue(f"There is no {field} to clear on {short_day(day.date)}.")
        self.kept.save([answer(day.date, field, "cleared")], self._basis(day.date, field))
        self.state.set_message(f"Cleared: {field} of {short_day(day.date)}.", "Cleared.")

    def keep_note(self, text: str) -> None:
        """Keep the note of the day under the cursor; an empty one takes it away."""
        self.keep_answers([note_change(self.state.cursor, text)])

    def keep_answers(
        self, changes: list[Change], basis: Basis | None = None, noted: str | None = None
    ) -> None:
        """Keep several answers of the day under the cursor as one action, and her own change with them.

        Parameters
        ----------
        basis
            On what they rest, those that stand already too; None: she said nothing of it.
        noted
            The words of the change of her own that is dated on the day; empty: none is any longer; None: as
            it stands.
        """
        values, said = self._noted(noted)
        if changes or values:
            self._save(self.state.cursor, changes, basis, also=said, choices=values)

    def _noted(self, line: str | None) -> tuple[Mapping[str, object], str]:
        """What a line about a change of her own keeps, and what is said of that."""
        if line is None:
            return {}, ""
        day = self.state.cursor
        stood = change_on(day, self.kept.choices.dated_changes)
        if not line:
            return no_change_value(day), noted_in_words(day, "", stood)
        change = dated_change(day, line, self.kept.today)
        return change_value(change), noted_in_words(*change, stood)

    def rest_on(self, basis: Basis) -> None:
        """Let all that stands in the grids of the day under the cursor rest on another basis."""
        day, began = self.state.cursor, self.kept.first_day
        batch = self.kept.write(lambda record: record.rebase(day, day, basis))
        if batch:
            span = f"{short_day(day)} {day.year}"
            said = counts_as_in_words(batch.changes, span, basis)
            self._say_kept(f"{said} {self.state.sign('u')} takes it back.", began)

    def _save(
        self,
        day: date,
        changes: list[Change],
        basis: Basis | None = None,
        *,
        also: str = "",
        choices: Mapping[str, object] | None = None,
    ) -> None:
        """Keep changes and say so in the words of a command, and `also` what a command has no words for."""
        began, before = self.kept.first_day, self.kept.days.on(day)
        basis = basis or self._basis(day, *(change.field for change in changes))
        self.kept.save(changes, basis, rebase=basis is not None, choices=choices)
        after, decided, clock = self.kept.days.on(day), self.kept.choices, self.kept.record.clock
        said = kept_in_words(changes, before, after, decided, clock) if changes else ""
        self._say_kept(f"{said} {also}".strip(), began)

    def _say_kept(self, said: str, began: date | None) -> None:
        """Say what was kept, and where the record begins if that moved: verdict days move with it."""
        moved = begins_earlier(began, self.kept.first_day, self.state.sign("u"))
        note = f" {moved}" if moved else ""
        self.state.set_message(f"{said}{note}", f"Kept.{note}")

    def _basis(self, day: date, *fields: Field) -> Basis | None:
        """On what she said that the days rest which she catches up, an answer that stands already too."""
        if self.catching_up is None or "shift" in fields or "note" in fields:
            return None
        is_late = basis_by_hand(day, self.kept.today) == "remembered"
        return self.catching_up.options.basis or ("remembered" if is_late else None)

    def _check_open(self, day: date) -> None:
        """Refuse a day that may not be kept yet."""
        if day > self.kept.last_open_day:
            raise WrongDay(words.still_to_come(short_day(day)))

    # --- shifts ----------------------------------------------------------------------------------------

    def ask_for_shift(self) -> None:
        """Take the next letter for the shift of the day."""
        self.state.awaiting, self.state.message = "shift", self._shifts_take_letters()

    def _shifts_take_letters(self) -> str:
        return f"A letter sets the shift of the day; {self.state.sign('Backspace')} clears it."

    def shift(self, letter: str) -> None:
        """Set the shift of the day under the cursor by its letter."""
        kind = self._kind_for_letter(letter)
        if kind is None:
            self._no_letter(letter)
            return
        day = self.state.cursor
        self._save(day, [shift_change(day, kind, self.kept.record.clock)])
        if self.state.focus == "shift":
            self._run_on_in_the_shifts()

    def _run_on_in_the_shifts(self) -> None:
        """A letter goes on to the next day, as a digit does while catching up: rotas come in weeks."""
        if self.catching_up:
            self.catching_up.run_on()
        else:
            self.state.cursor = min(self.state.cursor + timedelta(days=1), LAST_DATE)

    def no_shift(self) -> None:
        """Take the shift of the day away."""
        self._clear("shift")

    def _kind_for_letter(self, letter: object) -> ShiftKind | None:
        return next((kind for kind in self.kept.choices.kinds if kind.code.lower() == letter), None)

    def _no_letter(self, key: str) -> None:
        codes = words.listed([kind.code for kind in self.kept.choices.kinds])
        self.state.awaiting = "shift"
        self.state.message = f"{key} is no letter of a shift; they are {codes}. Esc leaves."

    def keep_rota(self, changes: list[Change], what: str, said: str) -> None:
        """Keep the shifts of a whole rota as one action, which undo names by `what`, and say so."""
        self.kept.write(lambda record: record.keep(changes, what, "imported", "at the time"))
        self.state.message = f"{said} {self.state.sign('u')} takes them back."

    # --- moving ----------------------------------------------------------------------------------------

    def go_to(self, day: date, focus: Focus | None = None) -> None:
        """Stand on a day, by hand: from now on a digit leaves the cursor where it is."""
        state, today = self.state, self.kept.today
        state.cursor = min(max(day, FIRST_DATE), LAST_DATE)
        state.focus = focus or state.focus
        self._in_order = state.cursor == today and day == today and focus is None
        self._led_to = None
        self._leave_months_end()
        opens_early = today < state.cursor <= self.kept.last_open_day
        state.message = f"{short_day(state.cursor)} may be begun already." if opens_early else ""

    def move(self, days: int) -> None:
        """Walk some days."""
        self.go_to(self.state.cursor + timedelta(days=days))

    def move_months(self, months: int) -> None:
        """Walk some months, on the same day of the month where there is one."""
        self.go_to(same_day(self.state.cursor, months))

    def edge_of_month(self, at: int) -> None:
        """To the first (0) or the last (-1) day of the month."""
        cursor = self.state.cursor
        self.go_to(days_of_month(cursor.year, cursor.month)[at])

    def edge_of_year(self, at: int) -> None:
        """To the first (0) or the last (-1) day of the year."""
        self.go_to(self.state.cursor.replace(month=(1, 12)[at], day=(1, 31)[at]))

    def to_today(self) -> None:
        """To the day that is going on."""
        self.go_to(self.kept.today)

    def next_stop(self) -> None:
        """The other grid of the same day; pressed again the shifts, then where she came from."""
        if not self._again:
            self._came_from = self.state.grid
        order: tuple[Focus, ...] = (self._came_from, other_grid(self._came_from), "shift")
        self._stand_in(order[(order.index(self.state.focus) + 1) % 3])

    def to_shifts(self) -> None:
        """To the shifts, or from there to the grid she came from."""
        self._stand_in(self._came_from if self.state.focus == "shift" else "shift")

    def leave_shifts(self) -> None:
        """From the shifts to the grid she came from."""
        self._stand_in(self._came_from)

    def _stand_in(self, focus: Focus) -> None:
        """Let keys go to a grid or to the shifts."""
        self.state.focus, self.state.message = focus, ""
        self._leave_months_end()
        if focus == "shift":
            self.state.message = f"{self._shifts_take_letters()} {self.state.sign('F4')}: a pattern."
        elif self.catching_up:
            self.catching_up.begin_month()

    def to_waiting(self) -> None:
        """The earlier squares still waiting, nearest day first and on each day the sleep before the mood."""
        square = self._waiting_before(self.state.square)
        if square is None:
            self.state.message = (
                "What waits lies after this day; {}, then {} goes there.".format(*map(self.state.sign, "tg"))
                if self.kept.waiting_before()
                else "No earlier square waits."
            )
        else:
            self.go_to(square.day, square.grid)
            self._led_to = square

    def _waiting_before(self, square: SquareKey) -> SquareKey | None:
        waiting, sleep = self.kept.waiting, SquareKey(square.day, "sleep")
        # a sleep that she was led to and left open is passed by
        if square.grid == "mood" and waiting.waits(sleep) and self._led_to != sleep:
            return sleep
        found = [waiting.before(SquareKey(square.day, grid)) for grid in GRIDS]
        return max((at for at in found if at), key=lambda at: (at.day, at.grid == "sleep"), default=None)

    def _go_on(self) -> None:
        """To the next square that is asked for; where none is, stay."""
        square = self.kept.waiting.next_asked()
        if square:
            self.state.cursor, self.state.focus = square.day, square.grid

    def hide(self) -> None:
        """Hide both grids."""
        self.state.hidden = True
        self.state.message = f"Both grids are hidden; {self.state.sign('h')} shows them."

    def show_grids(self) -> None:
        """Show both grids again."""
        self.state.hidden, self.state.message = False, ""

    # --- choices ---------------------------------------------------------------------------------------

    def mark_break(self) -> None:
        """Begin a break on this day, or end the one that holds it: the day is kept again."""
        day, stand = self.state.cursor, self.kept.choices.breaks
        if not in_break(day, stand):
            breaks = added(stand, Break(day))
            message = self._break_begun(next(span for span in breaks if span.from_day == day))
        else:
            breaks = ended(stand, day)
            is_gone = day in [span.from_day for span in stand]
            message = f"The break from {short_day(day)} is taken away." if is_gone else ""
            message = message or f"The break ends before {short_day(day)}."
        self.kept.write(lambda record: record.keep_breaks(breaks))
        self.state.message = message

    def _break_begun(self, span: Break) -> str:
        until = f" to {short_day(span.to_day)}, before the next one" if span.to_day else ""
        ends = "" if span.to_day else f" Keep a square, or press {self.state.sign('b')}, to end it."
        stay = words.squares_in_a_break(self.kept.record.answered_days(*span))
        return f"A break from {short_day(span.from_day)}{until}: nothing waits in it.{stay}{ends}"

    def choose(self, values: Mapping[str, object], said: str, what: str = "") -> None:
        """Keep choices as one action, and say so; undo names them by `what`, or else by what they are."""
        self.kept.write(lambda record: record.choose(values, what))
        self.state.message = said

    def keep_settings(self, settings: Settings) -> None:
        """Keep settings, which hold at once."""
        said = words.KEPT_FROM_NOW_ON if settings != self.kept.settings else ""
        self.kept.write(lambda record: record.keep_settings(settings))
        self.state.message = said

    # --- taking back -----------------------------------------------------------------------------------

    def undo(self) -> None:
        """Take the last action back and stand where it was done."""
        self._turn(Record.undo, "Taken back")

    def redo(self) -> None:
        """Bring the action back that was taken back last."""
        self._turn(Record.redo, "Brought back")

    def _turn(self, turn: Callable[[Record], Batch], said: str) -> None:
        self._leave_months_end()
        batch, state = self.kept.write(turn), self.state
        state.set_message(f"{said}: {batch.what}.", f"{said}.")
        state.cursor = batch.day or state.cursor
        grids = [grid for grid in GRIDS if (state.cursor, grid) in batch.squares]
        if grids and state.focus not in ("shift", *grids):
            state.focus = grids[0]

    # --- catching up -----------------------------------------------------------------------------------

    def catch_up(self, options: CatchUpOptions) -> None:
        """Begin to fill in the month under the cursor, a key a day."""
        self.catching_up = CatchUp(self.state, self.kept, options)

    def skip(self) -> None:
        """Leave the square waiting and go on."""
        self._catching_up.run_on()

    def next_month(self) -> None:
        """Go on with what follows the month that is full."""
        self._catching_up.next_month()

    def end_catching_up(self) -> None:
        """Go back to a day at a time."""
        self.catching_up, self.state.message = None, "Catching up is over."

    def colour(self, letter: str) -> None:
        """What one colour of the old grid meant, in one action."""
        meant = self._catching_up.colour(letter)
        if meant is None:
            raise UnknownValue(
                f"Nothing was kept: {letter} is a colour of the other grid; here a digit answers."
            )
        self._check_open(self.state.cursor)
        self._answer_square(self._colour_changes(meant))

    def _colour_changes(self, meant: OldColour) -> list[Change]:
        if meant.level is None:
            changes = [answer(self.state.cursor, self.state.grid, "could not say")]
        else:
            changes = self._level_changes(self.kept.choices.scales.level(meant.level))
        if not meant.anxious:
            return changes
        unmarked = [change for change in changes if change.field != "anxious"]
        return [*unmarked, anxious_change(self.state.cursor, True)]

    @property
    def _catching_up(self) -> CatchUp:
        if self.catching_up is None:
            raise UnknownValue(f"No month is being caught up; {self.state.sign('c')} begins.")
        return self.catching_up

    def _leave_months_end(self) -> None:
        if self.catching_up:
            self.catching_up.month_is_full = False
