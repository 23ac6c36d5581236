"""The program: bare `tracker` opens the app, anything more goes to the command line."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from functools import partial

from tracker import words
from tracker.commands.terminal import say
from tracker.diary.errors import WrongValue, in_one_sentence
from tracker.system import leave_no_core_dump, when_told_to_end

ONE_THREAD = ("OPENBLAS_NUM_THREADS", "1")
"""For numpy, before it is loaded: on a busy machine several threads wait for each other most of the time."""
LEAKS = ("TEXTUAL", "TEXTUAL_DEBUG", "TEXTUAL_LOG", "TEXTUAL_SCREENSHOT")
"""What would let Textual write keys and screens, her words among them, to a file or a socket."""
COMPLETION = "_TRACKER_COMPLETE"
"""Set by a shell that asks how a line goes on; the line itself comes beside it, not as arguments."""


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the program and end the process.

    One rule for its code: 0 done; 2 wrong use, it must be typed otherwise; 1 could not, the same line will do
    once something else is mended: a file, the record, the disk, somebody to answer.
    """
    os.environ.setdefault(*ONE_THREAD)
    for name in LEAKS:
        os.environ.pop(name, None)
    leave_no_core_dump()
    if arguments is None:  # told to end, a prompt that hides what is typed puts the terminal right
        when_told_to_end(partial(sys.exit, words.ENDED))
    gc.disable()  # a command ends before there is garbage worth looking for; the screens look again
    try:
        _run(sys.argv[1:] if arguments is None else arguments)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
    except Exception as error:
        if os.environ.get("TRACKER_DEBUG"):
            import traceback

            traceback.print_exc()
        say(in_one_sentence(error))
        sys.exit(2 if isinstance(error, WrongValue) else 1)


def _run(arguments: Sequence[str]) -> None:
    if arguments or COMPLETION in os.environ:
        from tracker.commands.command_line import run

        run(arguments)
    else:  # what is typed most often opens without loading the command line
        from tracker.commands.open_app import open_app

        open_app()
