"""Where the interview keeps what it must not lose: drafts of interviews not finished."""

from __future__ import annotations

import os
from pathlib import Path

NAME = "dough-advisor"


def drafts_folder() -> Path:
    """Give the folder of drafts: $ADVISOR_DRAFTS, else drafts/ in the state folder."""
    if place := os.environ.get("ADVISOR_DRAFTS"):
        return Path(place)
    from platformdirs import user_state_path

    return user_state_path(NAME, appauthor=False) / "drafts"
