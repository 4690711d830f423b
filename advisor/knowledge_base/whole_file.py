"""A file that was asked for is written whole or not at all."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from advisor.knowledge_base.faults import InputFault


def write_whole(path: Path, content: str | bytes, *, make_folder: bool = False) -> None:
    """Write a text (as UTF-8) or bytes through a second file beside the first, so that nobody ever reads half of it.

    A link stays a link, a file keeps who may read it, and what is no plain file (a pipe, a device) is written directly.

    Raises:
        InputFault: nothing can be written there.
    """
    data = content.encode() if isinstance(content, str) else content
    try:
        place = path.resolve()
        if place.exists() and not place.is_file():
            place.write_bytes(data)
            return
        if make_folder:
            place.parent.mkdir(parents=True, exist_ok=True)
        mode = place.stat().st_mode & 0o777 if place.exists() else 0o644
        with tempfile.NamedTemporaryFile(dir=place.parent, delete=False) as file:
            written = Path(file.name)
            try:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
                written.chmod(mode)
                written.replace(place)
            except BaseException:
                with contextlib.suppress(OSError):
                    written.unlink()
                raise
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
        raise InputFault(f"advisor: {path} cannot be written: {reason}") from None
