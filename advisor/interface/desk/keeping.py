"""What was typed at a prompt is kept in a file, so that leaving or a fault loses nothing."""

from __future__ import annotations

import tempfile
from pathlib import Path

from advisor.interface.desk.own_places import typed_folder
from advisor.knowledge_base.faults import InputFault


def keep(text: str, *, name: str, suffix: str, path: Path | None = None) -> Path:
    """Write a text to a new file of the user's own folder, or over the file that it was kept in before.

    Raises:
        InputFault: nothing can be written there.
    """
    try:
        if path is not None:
            path.write_text(text, "utf-8", errors="replace")
            return path
        folder = typed_folder()
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(
            "w",
            dir=folder,
            suffix=suffix,
            prefix=f"{name}-",
            delete=False,
            encoding="utf-8",
            errors="replace",
        ) as file:
            file.write(text)
        return Path(file.name)
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise InputFault(f"advisor: what was typed cannot be kept ({reason}); give a file instead") from None
