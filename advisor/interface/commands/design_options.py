"""The options of the commands that write formulas, in whatever form, and plan bakes of them."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor.interface.commands.common_options import NO_PAGER, REGIONS, WHOSE_CUPS, add_engine, add_limits
from advisor.interface.desk.argument_types import celsius, count, loaves, positive, share

FORMS = ("text", "yaml", "percentages", "weighing-list", "nutrition", "label")
MOST_BAKES = 4


def add_start_options(parser: argparse.ArgumentParser) -> None:
    """The options of `start`."""
    parser.add_argument(
        "--kind", metavar="BREAD", help="the kind of bread: tin loaf, rolls, pizza, muffin ..."
    )
    parser.add_argument(
        "--from", dest="made_from", nargs="+", metavar="NAMES",
        help='what it is made of, with commas between: "eggs, almond flour"; "4 eggs" where there are no more',
    )  # fmt: skip
    parser.add_argument("--like", metavar="FORMULA", help="as near to this formula as the rest allows")
    parser.add_argument("--slices", type=count, metavar="N", help="slices of the loaf, or pieces")
    parser.add_argument("--pan", metavar="SIZE", help="the pan, such as '23 x 10 x 10 cm'")
    add_limits(parser)
    parser.add_argument("--card", type=count, metavar="N", help="print formula N alone, to be kept in a file")
    shared_options(parser)


def add_improve_options(parser: argparse.ArgumentParser) -> None:
    """The options of `improve`."""
    parser.add_argument("formula", metavar="FORMULA")
    parser.add_argument(
        "--aim", required=True, metavar="AIM",
        help="softer, taller, less-carbohydrate, more-protein, cheaper or safer",
    )  # fmt: skip
    parser.add_argument(
        "--keep", nargs="+", default=[], metavar="LINE", help="lines that stay: eggs, oven, proof"
    )
    parser.add_argument(
        "--at-most",
        type=_share_or_percent,
        metavar="SHARE",
        help="how far anything may change, such as 20%% or 0.2",
    )
    parser.add_argument(
        "--swap", nargs="+", default=[], metavar="NAMES",
        help='what may take the place of something: "lupin flour, allulose"',
    )  # fmt: skip
    add_limits(parser)
    parser.add_argument("--apply", action="store_true", help="print the new formula and nothing else")
    shared_options(parser)


def _share_or_percent(text: str) -> float:
    """Read 20%, 20 % or 0.2."""
    number = text.strip()
    try:
        value = float(number.removesuffix("%")) / 100 if number.endswith("%") else float(number)
    except ValueError:
        value = 0.0
    if not 0 < value <= 1:
        raise argparse.ArgumentTypeError(f"'{text[:20]}' is no share; write 20% or 0.2")
    return value


def add_tolerance_options(parser: argparse.ArgumentParser) -> None:
    """The options of `tolerance`."""
    parser.add_argument("formula", metavar="FORMULA")
    parser.add_argument("--risk", type=share, metavar="0..1", help="the risk up to which it may go (0.35)")
    parser.add_argument("--plot", metavar="FILE", help="the same as a picture, .svg or .png")
    shared_options(parser)


def shared_options(parser: argparse.ArgumentParser) -> None:
    """What each of them has."""
    add_engine(parser)
    parser.add_argument("--region", choices=REGIONS, help=WHOSE_CUPS)
    parser.add_argument("--no-pager", action="store_true", help=NO_PAGER)
    parser.set_defaults(on_hand=None)


def add_plan_options(parser: argparse.ArgumentParser) -> None:
    """The options of `plan-bakes`."""
    parser.add_argument("formula", metavar="FORMULA")
    parser.add_argument(
        "--bakes", type=int, choices=range(1, MOST_BAKES + 1), default=MOST_BAKES, metavar="1..4", help="at most (4)"
    )  # fmt: skip
    parser.add_argument(
        "--doubt", nargs="+", default=[], metavar="NAME", help="causes, or constants of the kitchen, to part"
    )
    parser.add_argument(
        "--target", nargs="+", default=[], choices=("core", "loss", "volume"),
        help="what is to be foretold best: when the core is done, the weight lost, the volume (all three)",
    )  # fmt: skip
    parser.add_argument("--out", metavar="FILE", help="write the table to bake from, to be filled in (.csv)")
    parser.add_argument("--results", metavar="FILE", help="the filled table: say what it teaches")
    parser.add_argument(
        "--from-record", action="store_true", help="say what the bakes kept with 'record add' teach"
    )
    parser.add_argument("--record", type=Path, metavar="FILE", help="the record to read (your own)")
    parser.add_argument("--region", choices=REGIONS, help=WHOSE_CUPS)
    parser.add_argument("--json", action="store_true")


def add_write_options(write: argparse.ArgumentParser) -> None:
    """The options of `write`."""
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
    write.add_argument("--region", choices=REGIONS, help=WHOSE_CUPS)
