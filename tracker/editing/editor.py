"""What a person does at the grids, decided without a screen: where she stands, and what a key keeps.

Every key that keeps something has done so durably when `press` returns; a screen only draws afterwards.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Literal

from tracker import words
from tracker.diary.answers import in_words
from tracker.diary.changes import (
    answer,
    anxious_change,
    mood_changes,
    next_anxious,
    shift_change,
    sleep_change,
)
from tracker.diary.dates import FIRST_DATE, LAST_DATE, short_day
from tracker.diary.days import Change, Field
from tracker.diary.months import days_of_month, same_day
from tracker.diary.rota import ShiftKind
from tracker.diary.scales import GRIDS, Grid, Level, other_grid
from tracker.diary.waiting import SquareKey
from tracker.editing.catch_up import CatchUp
from tracker.editing.catch_up_options import CatchUpOptions, OldColour
from tracker.editing.keeper import Keeper
from tracker.editing.standing import Stop
from tracker.record.store import Record

DIGITS = "0123456789"
LONGEST_TYPED = 14
"""Hours of two digits; more of them are taken for two answers that ran together."""
SAME_KEYS = {"left_square_bracket": "pageup", "right_square_bracket": "pagedown", "delete": "backspace"}
"""Keys that do what another does, at the grids of a month and of a year."""
SHIFTS_TAKE_LETTERS = "A letter sets the shift of the day; Backspace clears it."


class Editor(Keeper):
    """What every key does: walking, answering, catching up."""

    def __init__(self, record: Record) -> None:
        super().__init__(record)
        self.pending: Literal["", "ten", "shift"] = ""
        """What the next key belongs to: the hours after a `1`, or the letter of a shift."""
        self._in_order = True
        """Whether the cursor stands where it was asked for, not where she moved it."""
        self._led_to: SquareKey | None = None
        """The waiting square to which she was led last, if she has not walked since."""
        self._ran_on_from: SquareKey | None = None
        """The square that this key answered before the cursor ran on."""
        self._just_left: SquareKey | None = None
        """The same of the key before."""
        self._last = ""
        """The key before; empty where something else was done since, as by the mouse."""
        self._came_from: Grid = "sleep"
        self._marked_day = self.cursor
        self.open()

    # --- opening ----------------------------------------------------------------

    def open(self) -> None:
        """Stand on the earliest waiting square of yesterday and today."""
        self._in_order = True
        self._go_on()
        if not self.waiting.next_asked():
            self.cursor, self.message = self.today, words.NOTHING_WAITS
        if self.record.read_only:
            self.message = words.only_looking(self.record.path)

    # --- keys --------------------------------------------------------------------------------------

    def claims(self, key: str) -> bool:
        """Whether a key belongs to what is being done, whatever it means elsewhere."""
        if self.pending:
            return True
        if self.focus == "shift" and self._kind_for_letter(key.lower()):
            return True
        if self.catching_up is None:
            return False
        if key == "enter":
            return self.month_is_done
        return key in ("space", "escape") or self.catching_up.is_a_colour(key.lower())

    def press(self, key: str) -> bool:
        """Do what a key does at the grids; whether it does anything here."""
        pressed = as_pressed(key)
        again, self._last = pressed == self._last, pressed
        self._just_left, self._ran_on_from = self._ran_on_from, None
        if self.pending:
            return self._answer_pending(pressed)
        if self._press_while_catching_up(pressed) or self._press_level(pressed):
            return True
        deed = self._deeds(again).get(pressed)
        if deed:
            deed()
        return deed is not None

    def _deeds(self, again: bool) -> dict[str, Callable[[], None]]:
        return {
            "shift+tab": lambda: self.stand_in("shift" if self.focus != "shift" else self._came_from),
            "left": lambda: self.move(-1),
            "right": lambda: self.move(1),
            "up": lambda: self.move(-7),
            "down": lambda: self.move(7),
            "pageup": lambda: self.move_months(-1),
            "pagedown": lambda: self.move_months(1),
            "home": lambda: self.go_to(self.cursor.replace(day=1)),
            "end": lambda: self.go_to(days_of_month(self.cursor.year, self.cursor.month)[-1]),
            "t": lambda: self.go_to(self.today),
            "tab": lambda: self.next_stop(again),
            **({"escape": lambda: self.stand_in(self._came_from)} if self.focus == "shift" else {}),
            "a": lambda: self.mark_anxious(again),
            "g": self.go_to_waiting,
            "x": self.could_not_say,
            "backspace": self.clear,
            "s": self.ask_for_shift,
            "u": lambda: self._take_back(self.undo),
            "r": lambda: self._take_back(self.redo),
            "b": self.mark_break,
            "h": self.hide,
        }

    def _press_level(self, key: str) -> bool:
        if self.focus == "shift":
            kind = self._kind_for_letter(key)
            if kind:
                self.keep_shift(kind)
            elif key in DIGITS:
                self.message = SHIFTS_TAKE_LETTERS
            return kind is not None or key in DIGITS
        if key not in DIGITS:
            return False
        self._digit(key)
        return True

    def _digit(self, key: str) -> None:
        if not self._is_open():
            return
        level = self.scale.level_for_key(key)
        if level:
            self.keep_level(level)
        elif key == "1" and self.grid == "sleep":
            self.pending = "ten"
            self.message = self._after_a_one()
        else:
            marks = [level.mark for level in self.scale.levels]
            self.message = words.no_level(key, self.grid, marks[0], marks[-1])

    def _after_a_one(self) -> str:
        """What a `1` waits for."""
        hour, ten = self.scale.level_for_hours(1), self.scale.level_for_hours(10)
        if self.catching_up:
            return f"1 waits: Enter = {hour.label}, Esc = neither. For 10 hours or more press {ten.mark}."
        return f"1 waits: 0 to 4 = 10 to 14 hours, Enter = {hour.label}, Esc = neither."

    def _answer_pending(self, key: str) -> bool:
        if self.pending == "ten" and self.catching_up and is_answer(key, self.catching_up):
            hour = self.scale.level_for_hours(1).label
            self.message = f"Nothing was kept, for a 1 is waiting: Enter = {hour}, Esc = neither."
            return True
        pending, self.pending, self.message = self.pending, "", ""
        if pending == "shift":
            return self._answer_shift(key)
        if key in DIGITS:
            self._answer_two_digits(10 + int(key))
        elif key == "enter":
            self.keep_level(self.scale.level_for_hours(1))
        elif key != "escape":
            return self.press(key)
        return True

    def _answer_two_digits(self, hours: int) -> None:
        level = self.scale.level_for_hours(hours)
        if hours <= LONGEST_TYPED:
            self.keep_level(level)
        else:
            self.message = (
                f"{hours} hours look like a slip; nothing was kept. If they are none, press {level.mark}."
            )

    def _answer_shift(self, key: str) -> bool:
        kind = self._kind_for_letter(key)
        if kind:
            self.keep_shift(kind)
        elif key == "backspace":
            self._clear("shift")
        elif len(key) == 1:
            codes = words.listed([kind.code for kind in self.choices.kinds])
            self.pending, self.message = (
                "shift",
                f"{key} is no letter of a shift; they are {codes}. Esc leaves.",
            )
        elif key != "escape":
            return self.press(key)
        return True

    # --- keeping -------------------------------------------------------------------------------------

    def keep_level(self, level: Level) -> None:
        """Set the square under the cursor, and go on to the next one that is asked for."""
        self.pending = ""
        if not self._is_open():
            return
        changes = self._level_changes(level)
        self._answer_square(changes, in_words(changes[0], self.choices))

    def _level_changes(self, level: Level) -> list[Change]:
        if self.grid == "mood":
            return mood_changes(self.day, level, self._choices_for_mood())
        return [sleep_change(self.cursor, level)]

    def could_not_say(self) -> None:
        """Answer the square under the cursor with `could not say`."""
        if self.focus == "shift":
            self.message = "A shift is a letter, or Backspace."
        elif self._is_open():
            change = answer(self.cursor, self.grid, "could not say")
            self._answer_square([change], in_words(change, self.choices))

    def clear(self) -> None:
        """Take away what stands in the square under the cursor."""
        self._clear(self.focus)

    def _clear(self, field: Field) -> None:
        if self.day.square(field) is None:
            self.message = f"There is no {field} to clear on {short_day(self.cursor)}."
        elif self._keep([answer(self.cursor, field, "cleared")]):
            self.set_message(f"Cleared: {field} of {short_day(self.cursor)}.", "Cleared.")

    def keep_shift(self, kind: ShiftKind) -> None:
        """Set the shift of the day under the cursor."""
        change = shift_change(self.cursor, kind, self.record.clock)
        day = self.cursor
        if self._keep([change]):
            self._say_kept(day, f"shift {kind.label}")
            if self.catching_up and self.focus == "shift":
                self.catching_up.run_on()

    def mark_anxious(self, again: bool) -> None:
        """Yes at the first press whatever stood there; pressed again: no, not noted, round again."""
        if not again:
            self._marked_day = self._just_left.day if self._just_left else self.cursor
        day = self.days.on(self._marked_day)
        anxious = next_anxious(day.is_anxious)
        if not again and day.is_anxious is False:
            anxious = True
        if not self._is_open(day.date):
            return
        if self._keep([anxious_change(day.date, anxious)]):
            state = {True: "anxious", False: "not anxious", None: "anxious not noted"}[anxious]
            self._say_kept(day.date, state)

    def _take_back(self, deed: Callable[[], None]) -> None:
        self._leave_months_end()
        deed()

    def _answer_square(self, changes: list[Change], answer: str) -> None:
        place, waited = self.place, self.waiting.waits(self.place)
        if not self._keep(changes):
            return
        self._say_kept(place.day, answer + self._under_on_paper(place))
        self._last = ""
        if self.catching_up:
            self._ran_on_from = place
            self.catching_up.run_on()
        elif self._in_order and waited:
            self._go_on()
            self._ran_on_from = place if place.grid == "mood" and place.day != self.cursor else None
            if not self.waiting.next_asked():
                self.message = f"{self.message} {words.NOTHING_WAITS}"
        elif place == self._led_to and waited and self.waiting.waits(SquareKey(place.day, "mood")):
            self.focus = "mood"

    def _under_on_paper(self, place: SquareKey) -> str:
        if self.catching_up and self.catching_up.how.shift(place.grid):
            return f" (under {short_day(place.day - timedelta(days=1))} on paper)"
        return ""

    # --- moving ----------------------------------------------------------------------------------------

    def go_to(self, day: date, grid: Stop | None = None) -> None:
        """Stand on a day, by hand: from now on a digit leaves the cursor where it is."""
        self.cursor = min(max(day, FIRST_DATE), LAST_DATE)
        self.focus = grid or self.focus
        self._in_order = self.cursor == self.today and day == self.today and grid is None
        self.pending, self._ran_on_from, self._last = "", None, ""
        self._led_to = None
        self._leave_months_end()
        self.message = self._early_start()

    def _early_start(self) -> str:
        if self.today < self.cursor <= self.last_open_day:
            return f"{short_day(self.cursor)} may be begun already."
        return ""

    def move(self, days: int) -> None:
        """Walk some days."""
        self.go_to(self.cursor + timedelta(days=days))

    def move_months(self, months: int) -> None:
        """Walk some months, on the same day of the month where there is one."""
        self.go_to(same_day(self.cursor, months))

    def next_stop(self, again: bool) -> None:
        """The other grid of the same day; pressed again the shifts, then where she came from."""
        if not again:
            self._came_from = self.grid
        order: tuple[Stop, ...] = (self._came_from, other_grid(self._came_from), "shift")
        self.stand_in(order[(order.index(self.focus) + 1) % 3])

    def stand_in(self, stop: Stop) -> None:
        """Let keys go to a grid or to the shifts."""
        self.focus = stop
        self.message = ""
        self._leave_months_end()
        if stop == "shift":
            self.message = SHIFTS_TAKE_LETTERS
        elif self.catching_up:
            self.catching_up.begin_month()

    def go_to_waiting(self) -> None:
        """The earlier squares still waiting, nearest day first and on each day the sleep before the mood."""
        place = self._waiting_before(self.place)
        if place is None:
            later = "; t, then g finds those that do" if self.waiting_before() else ""
            self.message = f"No square before this one waits{later}."
        else:
            self.go_to(place.day, place.grid)
            self._led_to = place

    def _waiting_before(self, place: SquareKey) -> SquareKey | None:
        waiting, sleep = self.waiting, SquareKey(place.day, "sleep")
        # a sleep that she was led to and left open is passed by
        if place.grid == "mood" and waiting.waits(sleep) and self._led_to != sleep:
            return sleep
        found = [waiting.before(SquareKey(place.day, grid)) for grid in GRIDS]
        return max((at for at in found if at), key=lambda at: (at.day, at.grid == "sleep"), default=None)

    def _go_on(self) -> None:
        """To the next square that is asked for; where none is, stay."""
        place = self.waiting.next_asked()
        if place:
            self.cursor, self.focus = place.day, place.grid

    def hide(self) -> None:
        """Hide both grids, or show them again."""
        self.hidden = not self.hidden
        self.message = "Both grids are hidden; h shows them." if self.hidden else ""

    # --- shifts ------------------------------------------------------------------------------------------

    def ask_for_shift(self) -> None:
        """Take the next letter for the shift of the day."""
        self.pending = "shift"
        self.message = SHIFTS_TAKE_LETTERS

    def _kind_for_letter(self, letter: str) -> ShiftKind | None:
        return next((kind for kind in self.choices.kinds if kind.code.lower() == letter), None)

    # --- catching up -------------------------------------------------------------------------------------

    @property
    def month_is_done(self) -> bool:
        """Whether catching up has come to a month's end."""
        return self.catching_up is not None and self.catching_up.month_is_done

    def catch_up(self, how: CatchUpOptions) -> None:
        """Begin to fill in the month under the cursor, a key a day."""
        self.catching_up = CatchUp(self, how)

    def stop_catching_up(self) -> None:
        """Go back to a day at a time."""
        self.catching_up = None
        self.message = "Catching up is over."

    def clear_message(self) -> None:
        """Take the last sentence back; the sums of a month that is done stay until it is left."""
        if not self.month_is_done:
            self.message = ""

    def unknown_key(self, key: str) -> None:
        """Let a key that does nothing here pass: what an earlier one said would look like its answer."""
        self.clear_message()
        if len(key) == 1 and not self.message:
            self.message = words.means_nothing(key)

    def _leave_months_end(self) -> None:
        if self.catching_up:
            self.catching_up.month_is_done = False

    def _press_while_catching_up(self, key: str) -> bool:
        if self.catching_up is None:
            return False
        colour = self.catching_up.colour(key)
        if self.month_is_done and (colour or key in (*DIGITS, "x", "space")):
            self.catching_up.refuse_answer()
        elif colour:
            self._keep_colour(colour)
        elif self.catching_up.is_a_colour(key):
            self.message = f"Nothing was kept: {key} is a colour of the other grid; here a digit answers."
        elif key == "space":
            self.catching_up.run_on()
        elif key == "enter" and self.month_is_done:
            self.catching_up.next_month()
        elif key == "escape":
            self.stop_catching_up()
        else:
            return False
        return True

    def _keep_colour(self, colour: OldColour) -> None:
        """What one colour of the old grid meant, in one action."""
        if not self._is_open():
            return
        if colour.level is None:
            changes = [answer(self.cursor, self.grid, "could not say")]
        else:
            changes = self._level_changes(self.choices.scales.level(colour.level))
        said = in_words(changes[0], self.choices)
        if colour.anxious:
            changes = [change for change in changes if change.field != "anxious"]
            changes.append(anxious_change(self.cursor, True))
            said += ", anxious"
        self._answer_square(changes, said)


def as_pressed(key: str) -> str:
    """The key that is meant: a letter in either case, and of keys that do the same the first."""
    return SAME_KEYS.get(key, key.lower() if len(key) == 1 else key)


def is_answer(key: str, catching_up: CatchUp) -> bool:
    """Whether a key answers a square: after a `1` that was a slip, all later days would stand one off."""
    return key in (*DIGITS, "x", "a", "space") or catching_up.colour(key) is not None
