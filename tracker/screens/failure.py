"""What a person is told when the program itself fails."""

from __future__ import annotations

import traceback
from pathlib import Path

from tracker.diary.errors import TrackerError


def failure(error: BaseException | None) -> str:
    """One sentence: what is wrong as far as it is known, and never what she wrote."""
    if isinstance(error, TrackerError):
        return str(error)
    return (
        f"The program made a mistake ({type(error).__name__}{_place(error)}). "
        "What was kept before stands; tracker check looks after the record."
    )


def _place(error: BaseException | None) -> str:
    frames = traceback.extract_tb(error.__traceback__) if error else []
    ours = [frame for frame in frames if "tracker" in Path(frame.filename).parts] or list(frames)
    return f" at {Path(ours[-1].filename).name} line {ours[-1].lineno}" if ours else ""
