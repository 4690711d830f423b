"""The one function through which every text that a person typed reaches a screen."""

from __future__ import annotations

import unicodedata


def shown(text: str, at_most: int = 200) -> str:
    """Make a typed text harmless on a terminal: control and format characters become visible or vanish.

    A formula's name may hold escape codes that clear the screen or turn the writing round.
    """
    out = []
    for letter in text.replace("\t", " "):
        category = unicodedata.category(letter)
        if category in ("Cc", "Cf", "Co", "Cs", "Zl", "Zp"):
            out.append(f"<{ord(letter):02x}>" if category == "Cc" else "")
        else:
            out.append(letter)
    clean = "".join(out).strip()
    return clean if len(clean) <= at_most else clean[: at_most - 1] + "…"
