"""Where a user's own files are: where the command line or the environment says, else in the user's data folder."""

from __future__ import annotations

import os
from pathlib import Path

NAME = "trial-record.sqlite3"
_PROGRAM = "dough-advisor"


def record_path(given: str | None = None) -> Path:
    """Give the file: `--record`, else $ADVISOR_RECORD, else dough-advisor/trial-record.sqlite3 in the data folder."""
    if place := given or os.environ.get("ADVISOR_RECORD"):
        return Path(place)
    return _data_folder() / NAME


def measures_path() -> Path:
    """Give the file of the baker's measures: $ADVISOR_MEASURES, else measures.json in the data folder."""
    if place := os.environ.get("ADVISOR_MEASURES"):
        return Path(place)
    return _data_folder() / "measures.json"


def typed_folder() -> Path:
    """Give the folder of what was typed at a prompt: $ADVISOR_TYPED, else typed/ in the data folder."""
    if place := os.environ.get("ADVISOR_TYPED"):
        return Path(place)
    return _data_folder() / "typed"


def drafts_folder() -> Path:
    """Give the folder of interviews not finished: $ADVISOR_DRAFTS, else drafts/ in the state folder."""
    if place := os.environ.get("ADVISOR_DRAFTS"):
        return Path(place)
    from platformdirs import user_state_path

    return user_state_path(_PROGRAM, appauthor=False) / "drafts"


def running_page_path() -> Path:
    """Give the file that notes where the page runs: $ADVISOR_PAGE, else page.json in the data folder."""
    if place := os.environ.get("ADVISOR_PAGE"):
        return Path(place)
    return _data_folder() / "page.json"


def _data_folder() -> Path:
    from platformdirs import user_data_path

    return user_data_path(_PROGRAM, appauthor=False)
