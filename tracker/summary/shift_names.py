"""How a kind of shift is named on a page: kinds of her own may tell where she works."""

from __future__ import annotations

from tracker.diary.rota import DEFAULT_KINDS, ShiftKind
from tracker.summary.page_model import OTHER_SHIFT

OTHER_KIND = "another shift"
_DEFAULT_LABELS = {kind.id: kind.label for kind in DEFAULT_KINDS}


def may_be_named(kind: ShiftKind) -> bool:
    """Whether its name tells nothing of her: it has the id and the label of a default kind."""
    return _DEFAULT_LABELS.get(kind.id) == kind.label


def on_the_page(kind: ShiftKind, own_names: bool) -> ShiftKind:
    """The kind with the letter and the label that stand for it on a page.

    Parameters
    ----------
    own_names
        Whether she wants her own names on it.
    """
    return kind if own_names or may_be_named(kind) else kind._replace(code=OTHER_SHIFT, label=OTHER_KIND)
