"""Where the interview keeps what it must not lose: the baker's measures, and drafts of interviews not finished."""

from __future__ import annotations

import os
from pathlib import Path

NAME = "dough-advisor"


def measures_path() -> Path:
    """Give the file of the baker's measures: $ADVISOR_MEASURES, else measures.json in the configuration folder."""
    if place := os.environ.get("ADVISOR_MEASURES"):
        return Path(place)
    from platformdirs import user_config_path

    return user_config_path(NAME, appauthor=False) / "measures.json"


def drafts_folder() -> Path:
    """Give the folder of drafts: $ADVISOR_DRAFTS, else drafts/ in the state folder."""
    if place := os.environ.get("ADVISOR_DRAFTS"):
        return Path(place)
    from platformdirs import user_state_path

    return user_state_path(NAME, appauthor=False) / "drafts"
