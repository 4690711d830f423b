"""Marks over the bakes of a formula as a picture, with what changed at each."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from advisor.interface.record.record_pages import change_name, difference_text
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.picture_file import drawn_to
from advisor.trial_record.bake import SCORES, Bake
from advisor.trial_record.differing import differences

_LINES = {"volume": ("#1b4f72", "-", "o"), "crumb": ("#b9560f", "--", "s"), "slice": ("#555555", "-.", "^"),
          "taste": ("#222222", ":", "D")}  # fmt: skip
"""Told apart by line and mark first; colour only helps."""
_CHANGES_SHOWN, _LONGEST = 2, 34


def plot_over_time(bakes: Sequence[Bake], knowledge: Knowledge, path: Path) -> None:
    """Draw the marks of each kind, and beneath each bake what was done otherwise than in the one before.

    Raises:
        InputFault: the ending is neither .svg nor .png, or the file cannot be written.
    """
    with drawn_to(path, width_in=max(7.0, min(1.1 * len(bakes) + 2, 18.0)), height_in=6.0) as figure:
        axis = figure.add_subplot()
        places = list(range(len(bakes)))
        for name in SCORES:
            colour, line, mark = _LINES[name]
            given = [
                (x, m)
                for x, b in zip(places, bakes, strict=True)
                if (m := getattr(b.scores, name)) is not None
            ]
            if given:
                axis.plot(
                    [x for x, _ in given], [m for _, m in given], color=colour, linestyle=line, marker=mark,
                    linewidth=2, label=name,
                )  # fmt: skip
        axis.set_ylim(0.8, 5.2)
        axis.set_yticks([1, 2, 3, 4, 5])
        axis.set_ylabel("mark, 1 poor to 5 as wished")
        axis.set_xlim(-0.5, len(bakes) - 0.5)
        labels = [_label(None if n == 0 else bakes[n - 1], bake, knowledge) for n, bake in enumerate(bakes)]
        axis.set_xticks(places, labels, rotation=90, fontsize=8)
        axis.grid(axis="y", linewidth=0.4, color="#bbbbbb")
        axis.set_title(
            _plain(shown(bakes[-1].formula, 70)) + ": marks over the bakes", loc="left", fontsize=12
        )
        if axis.get_lines():
            axis.legend(loc="upper center", bbox_to_anchor=(0.5, 1.0), ncols=4, frameon=False)


def _label(before: Bake | None, bake: Bake, knowledge: Knowledge) -> str:
    lines = [f"{bake.number}: {bake.baked_on[:10]}"]
    made = [] if before is None else [difference_text(d) for d in differences(before, bake)]
    if bake.followed:
        made.insert(0, change_name(bake.followed, knowledge))
    lines += [shown(text, _LONGEST) for text in made[:_CHANGES_SHOWN]]
    if len(made) > _CHANGES_SHOWN:
        lines.append(f"and {len(made) - _CHANGES_SHOWN} more")
    return _plain("\n".join(lines))


def _plain(text: str) -> str:
    """A dollar sign begins a formula of mathematics to whoever draws."""
    return text.replace("$", r"\$")
