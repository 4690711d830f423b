"""What the scripts `fuzz_*_atheris.py` share: seeds into an empty folder, then bytes led by coverage.

Each is run as `python tests/bench/fuzz_NAME_atheris.py FOLDER -max_total_time=300 -max_len=2000` and needs the package
atheris, which the tests do not need. FOLDER keeps what was found; what stopped a run lies where it was started.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from pathlib import Path

import atheris


def fuzz(one_input: Callable[[bytes], None], seeds: Iterable[bytes]) -> None:
    """Feed bytes for ever; any error ends the run."""
    folder = Path(sys.argv[1])
    folder.mkdir(exist_ok=True)
    if not any(folder.iterdir()):
        for place, content in enumerate(seeds):
            (folder / f"{place:05}").write_bytes(content)
    atheris.Setup(sys.argv, one_input)
    atheris.Fuzz()
