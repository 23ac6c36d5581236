"""The app: it holds the palette, opens screens, and ends with one sentence if the program fails."""

from __future__ import annotations

import asyncio
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import suppress
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, ClassVar

from textual import events, work
from textual.app import App, SuspendNotSupported, SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.theme import Theme
from textual.widget import AwaitMount

from tracker import system, words
from tracker.diary.command_table import COMMANDS, line_to_type
from tracker.diary.dates import short_day
from tracker.diary.errors import DamagedRecord, in_one_sentence
from tracker.diary.settings import Settings
from tracker.editing.editor import Editor
from tracker.grids.palette import Palette, colours_of
from tracker.grids.themes import theme_names
from tracker.record.store import Record
from tracker.screens.app_theme import chosen_theme, palette_for, textual_theme
from tracker.screens.base import BaseScreen
from tracker.screens.bindings import ANYWHERE, sign_of
from tracker.screens.grid_screen import GridScreen
from tracker.screens.keys_file import BrokenKeys, load_own_keys
from tracker.screens.month_screen import MonthScreen
from tracker.screens.own_keys import BUILT_IN_KEYS, OwnKeys, take_own_keys

if TYPE_CHECKING:
    from tracker.analysis.results import Findings

SCREENS = {
    "year": ("year_screen", "YearScreen"),
    "findings": ("findings_screen", "FindingsScreen"),
    "page": ("summary_screen", "PageScreen"),
    "help": ("help_screen", "HelpScreen"),
    "note": ("note_screen", "NoteScreen"),
    "day": ("day_screen", "DayScreen"),
    "search": ("search_screen", "SearchScreen"),
    "catch_up": ("catch_up_screen", "CatchUpScreen"),
    "more_settings": ("levels_screen", "MoreSettingsScreen"),
    "settings": ("settings_screen", "SettingsScreen"),
    "trial": ("trial_screen", "TrialScreen"),
    "rota": ("rota_screen", "RotaScreen"),
    "first_run": ("first_run_screen", "FirstRunScreen"),
}
"""Every screen but the month, with its module and its class."""

IN_GNU_SCREEN = "STY"
"""Set by GNU screen, which holds back Esc until the next key wherever it reports the mouse."""
BACKUP_AFTER = 3.0
"""Seconds from the opening to the day's backup."""


class TrackerApp(App[None]):
    """The screens on one record."""

    TITLE = "tracker"
    CSS_PATH = "app.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        *ANYWHERE,
        Binding("ctrl+p", "command_palette", "every command by name", show=False, priority=True),
    ]

    def __init__(self, editor: Editor, invented: bool = False, own_keys: OwnKeys = BUILT_IN_KEYS) -> None:
        super().__init__(ansi_color=True if "NO_COLOR" in os.environ else None)
        self.animation_level = "none"
        self.editor = editor
        self.invented = invented
        """Whether the days are made up, which every screen then says."""
        self.own_keys = own_keys
        self.findings: dict[object, Findings] = {}
        """What was computed last, under the state of the record and the period it was computed from."""
        self._loop_of_screens: asyncio.AbstractEventLoop | None = None
        """Runs once they are there; who tells the program to end before that is heard then."""
        self._is_told_to_end = False
        self._theme_troubles: list[str] = []
        self.palette = self._palette_for(editor.kept.settings)
        if self.palette.theme.id != editor.kept.settings.theme:
            self.editor.state.message = self.theme_trouble
        if self.palette.colours in ("truecolor", "256"):
            self._begin_in_colours()
        else:
            self._take_colours()

    # --- looks ---------------------------------------------------------------------------------------

    def _palette_for(self, settings: Settings) -> Palette:
        theme, self._theme_troubles = chosen_theme(settings.theme, self.editor.kept.choices.scales)
        return palette_for(settings, theme, colours_of(self.console.color_system, self.no_color))

    @property
    def theme_trouble(self) -> str:
        """The first thing there is to say about a theme of her own, and how many more there are."""
        first, *more = self._theme_troubles or [""]
        return f"{first} And {len(more)} more." if more else first

    def _begin_in_colours(self) -> None:
        """Take the palette's colours before the style sheets are read: they need not be read once more."""
        made = self._registered_colours()
        self.set_reactive(App.theme, made.name)
        self.stylesheet.set_variables(self.get_css_variables())
        self.set_class(made.dark, "-dark-mode", update=False)
        self.set_class(not made.dark, "-light-mode", update=False)

    def _take_colours(self) -> None:
        self.theme = self._registered_colours().name

    def _registered_colours(self) -> Theme:
        made = textual_theme(self.palette)
        self.register_theme(made)
        return made

    def apply_theme(self, settings: Settings) -> None:
        """Apply the settings."""
        self.palette = self._palette_for(settings)
        self._take_colours()
        for screen in self.screen_stack:
            if isinstance(screen, BaseScreen):
                screen.redraw()

    # --- keys ------------------------------------------------------------------------------------------

    async def on_event(self, event: events.Event) -> None:
        """What was said of a key that means nothing is gone with the next one."""
        if isinstance(event, events.Key) and not event.is_forwarded and isinstance(self.screen, BaseScreen):
            self.screen.answer("")
        await super().on_event(event)

    # --- screens ---------------------------------------------------------------------------------------

    def get_default_screen(self) -> Screen[None]:
        return MonthScreen(self.editor)

    def on_mount(self) -> None:
        take_own_keys(self)
        self._loop_of_screens = asyncio.get_running_loop()
        if self._is_told_to_end:
            self.call_after_refresh(self._end)
        if self.editor.kept.record.is_empty():
            self.open("first_run")
        elif not self.editor.state.message:
            self._name_what_waits_typed()
        if not self.invented and not self.editor.kept.record.read_only:
            self.set_timer(BACKUP_AFTER, self._back_up)

    def _name_what_waits_typed(self) -> None:
        """Say on which day something was typed and not kept: a window that is lost says nothing."""
        with suppress(DamagedRecord):  # said where it is opened
            if day := self.editor.kept.day_with_draft():
                self.editor.state.message = words.typed_waits_at(short_day(day))

    @work(thread=True, group="backup")
    def _back_up(self) -> None:
        """Make the day's backup beside the screens; a failure is said and ends nothing else."""
        from tracker.record.backups import keep_backups

        if not self.editor.kept.record.path.exists():  # moved meanwhile; none is begun in its place
            return
        try:
            with Record.open(self.editor.kept.record.path, self.editor.kept.record.clock) as record:
                keep_backups(record)
        except Exception as error:
            self.call_later(self._say, words.no_backup(in_one_sentence(error)))

    def _say(self, sentence: str) -> None:
        self.editor.state.message = sentence
        if isinstance(self.screen, BaseScreen):
            self.screen.redraw()

    def open(self, name: str) -> AwaitMount:
        """Open a screen by its name; its module is loaded when it is first wanted."""
        self.editor.clear_message()
        module, made = SCREENS[name]
        return self.push_screen(getattr(import_module(f"tracker.screens.{module}"), made)(self.editor))

    # --- leaving ---------------------------------------------------------------------------------------

    async def leave(self, said: str = "") -> None:
        """End, with a sentence on the terminal, unless something typed would be lost that was not told of."""
        await self._settle()
        if self._lets_go():
            waits = any(screen.is_typed_in for screen in self._screens())
            self.exit(message=f"{said} {words.TYPED_WAITS}".strip() if waits and not self.invented else said)

    def _lets_go(self) -> bool:
        answers = [screen.lets_go() for screen in self._screens()]  # each of them is asked
        return all(answers)

    def _screens(self) -> Iterator[BaseScreen[object]]:
        return (screen for screen in self.screen_stack if isinstance(screen, BaseScreen))

    async def _settle(self) -> None:
        """A key of the app overtakes what was typed before it."""
        if isinstance(self.screen, BaseScreen):
            await self.screen.settle()

    async def action_quit(self) -> None:
        await self.leave()

    async def action_interrupt(self) -> None:
        """Leave, and say that nothing is lost by that."""
        await self.leave("" if self.invented else words.LEFT)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What is selected can be copied by the key that else interrupts."""
        if action == "interrupt":
            return not (self.screen.get_selected_text() or getattr(self.focused, "selected_text", ""))
        if action == "suspend_program" and not system.CAN_SUSPEND:
            return not hasattr(self.focused, "action_undo")  # which the key then means in a field
        return super().check_action(action, parameters)

    async def action_suspend_program(self) -> None:
        """Give the terminal back to the shell until it brings the program to the front again."""
        await self._settle()
        if not (system.CAN_SUSPEND and self._is_suspended()) and isinstance(self.screen, BaseScreen):
            self.screen.answer(words.not_suspended(self.editor.state.sign("q")))

    def _is_suspended(self) -> bool:
        self._lets_go()
        with suppress(SuspendNotSupported), self.suspend():
            sys.stdout.write(f"{words.SUSPENDED}\n")
            sys.stdout.flush()
            return system.suspend()
        return False

    def leave_from_outside(self) -> None:
        """End as `q` does, called from a signal: a window that was closed, a system that shuts down."""
        self._is_told_to_end = True
        if self._loop_of_screens:
            self._loop_of_screens.call_soon_threadsafe(self._end)

    def _end(self) -> None:
        self._lets_go()
        self.exit()

    # --- commands by name ------------------------------------------------------------------------------

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        if isinstance(screen, BaseScreen):
            for binding in screen.named_bindings():
                run = partial(self.run_action, binding.action, screen)
                yield SystemCommand(binding.tooltip, sign_of(binding), run)
        for name, command in COMMANDS.items():
            line = line_to_type(name)
            yield SystemCommand(
                f"{name} (command line): {command.help}", line, partial(self._name_line, line)
            )
        if self.editor.kept.record.is_locked:
            yield SystemCommand("Lock now", "Forget the passphrase of this login, and leave", self._lock_now)
        for id, name in theme_names():
            yield SystemCommand(f"Theme: {name}", "The colours of the squares", partial(self._put_on, id))

    def _name_line(self, line: str) -> None:
        """Say where a line for the command line is typed: under the grids, else in place of the keys."""
        sentence = words.on_the_command_line(line, self.editor.state.sign("q"))
        if isinstance(self.screen, BaseScreen) and not isinstance(self.screen, GridScreen):
            self.screen.answer(sentence)
        else:
            self._say(sentence)

    def _lock_now(self) -> None:
        from tracker.record import lock_keys  # what only those load who lock

        lock_keys.forget_all()
        self._end()

    def _put_on(self, theme: str) -> None:
        """Keep a theme and apply it."""
        editor = self.editor
        editor.perform("keep_settings", editor.kept.settings._replace(theme=theme))
        self.apply_theme(editor.kept.settings)
        kept = editor.kept.settings.theme == theme
        self._say(self.theme_trouble if kept else editor.state.message)

    # --- failure -----------------------------------------------------------------------------------------

    def _fatal_error(self) -> None:
        """Say one sentence: the usual traceback would show what stands in local variables, notes too."""
        self.exit(return_code=1, message=in_one_sentence(self._exception))
        self._close_messages_no_wait()


def run_app(record: Record, invented: bool = False) -> int:
    """Open the screens on a record until she leaves; the exit code.

    Parameters
    ----------
    invented
        Whether the days are made up; every screen then says so.
    """
    own_keys, trouble = BUILT_IN_KEYS, ""
    try:
        own_keys = load_own_keys()
    except BrokenKeys as error:
        trouble = f"{error} The built-in keys hold."
    app = TrackerApp(Editor(record, own_keys.sign), invented, own_keys)
    app.editor.state.message = trouble or app.editor.state.message
    system.when_told_to_end(app.leave_from_outside)
    app.run(mouse=IN_GNU_SCREEN not in os.environ)
    return app.return_code or 0
