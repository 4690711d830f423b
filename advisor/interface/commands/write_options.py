"""The options of `advisor write`."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from advisor.interface.desk.argument_types import celsius, count, loaves, positive

FORMS = ("text", "yaml", "percentages", "weighing-list", "nutrition", "label")


def add_write_options(write: argparse.ArgumentParser, regions: Sequence[str], whose_cups: str) -> None:
    """Add them to the parser of the command."""
    write.add_argument("formula", metavar="FORMULA")
    write.add_argument(
        "--as", dest="form", default="text", metavar="FORM", choices=FORMS,
        help=f"{', '.join(FORMS[:-1])} or {FORMS[-1]} (text)",
    )  # fmt: skip
    write.add_argument("--json", action="store_true", help="with --as nutrition or label, or a day's bake")
    write.add_argument("--pan", metavar="SIZE", help="scaled to this pan, such as '21 x 10 x 10 cm'")
    write.add_argument("--dough", type=positive, metavar="G", help="scaled to this much dough, g")
    write.add_argument(
        "--slices", type=count, metavar="N", help="scaled to this many slices of the same size"
    )
    write.add_argument("--loaves", type=loaves, metavar="N", help="scaled to this many loaves")
    day = write.add_argument_group("a day's bake", "one of these gives a plan: water and ice, loads, waiting")
    day.add_argument("--batches", type=count, metavar="N", help="mixes that the loaves are made in (1)")
    day.add_argument("--oven-loads", type=count, metavar="N", help="oven loads they are baked in (a batch)")
    day.add_argument("--mixer", metavar="WORDS", help="what mixes it, such as 'spiral' or 'by hand'")
    day.add_argument("--room", type=celsius, metavar="C", help="heat of the bakery, such as 24C or 75F")
    day.add_argument("--flour-temp", type=celsius, metavar="C", help="heat of flour and powders")
    day.add_argument("--tap-water", type=celsius, metavar="C", help="heat of the water from the tap (15C)")
    day.add_argument("--dough-temp", type=celsius, metavar="C", help="heat of dough wanted after mixing")
    write.add_argument("--region", choices=regions, help=whose_cups)
