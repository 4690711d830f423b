"""The arguments of `advisor record` and of learning from it."""

from __future__ import annotations

import argparse
from typing import Any

from advisor.interface.desk.argument_types import celsius, count_to, positive


def add_learning_options(parser: argparse.ArgumentParser) -> None:
    """Let a command be told which record to learn from, and not to."""
    parser.add_argument(
        "--record", metavar="FILE", help="trial record to learn from (that of your data folder)"
    )
    parser.add_argument(
        "--no-learning", action="store_true", help="leave out what your own bakes have taught"
    )


def add_record_parser(
    commands: Any,  # argparse keeps the type of its sub-parsers to itself
    regions: tuple[str, ...],
    parser_class: type[argparse.ArgumentParser],
) -> None:
    """Add `record` with its verbs."""
    record = commands.add_parser("record", help="keep bakes, compare them, learn from them")
    verbs = record.add_subparsers(dest="verb", metavar="VERB", required=True, parser_class=parser_class)

    def verb(name: str, says: str) -> argparse.ArgumentParser:
        made: argparse.ArgumentParser = verbs.add_parser(name, help=says)
        made.add_argument(
            "--record", metavar="FILE", help="another trial record than that of your data folder"
        )
        made.add_argument("--json", action="store_true")
        return made

    add = verb("add", "keep a bake; asks where no formula is given")
    add.add_argument("formula", nargs="?", metavar="FORMULA", help="a file, -, or a demo formula, as baked")
    add.add_argument("--from", dest="from_file", metavar="FILE", help="YAML with the same as these options")
    add.add_argument("--saw", nargs="+", default=[], metavar="SYMPTOM", help="what the loaf showed")
    add.add_argument(
        "--not", dest="not_seen", nargs="+", default=[], metavar="SYMPTOM", help="looked for, not there"
    )
    add.add_argument(
        "--nothing-else", action="store_true", help="every other symptom was looked for and not there"
    )
    for name in ("volume", "crumb", "slice", "taste"):
        add.add_argument(f"--{name}-mark", type=_mark, metavar="1..5", help=f"mark for {name}")
    add.add_argument("--height", type=positive, metavar="CM", help="height of the cool loaf")
    add.add_argument("--weight", type=positive, metavar="G", help="weight of the cool loaf")
    add.add_argument(
        "--volume", type=positive, metavar="ML", help="volume of one piece, by seed displacement"
    )
    add.add_argument("--core", type=celsius, metavar="HEAT", help="core when it left the oven: 96C or 205F")
    add.add_argument("--photo", metavar="PATH", help="where its picture is; the picture is not copied")
    add.add_argument("--lot", nargs="+", default=[], metavar="INGREDIENT=LOT", help="supplier's lots")
    add.add_argument(
        "--followed",
        metavar="CHANGE",
        help="the proposed change that was followed, by its number on the page or its name (else known by its amounts)",
    )
    add.add_argument(
        "--after", type=int, metavar="NUMBER", help="the bake it mends (the one before of this name)"
    )
    add.add_argument("--date", metavar="DAY", help="2026-05-31 or 2026-05-31T14:20 (now)")
    add.add_argument("--notes", metavar="TEXT")
    add.add_argument(
        "--region", choices=regions, help="whose cups and spoons the formula means (yours if kept, or us)"
    )

    listed = verb("list", "the latest bakes")
    listed.add_argument("--last", type=count_to(100_000), default=20, metavar="N")
    show = verb("show", "one bake: what came, whether that was predicted, and the causes now")
    show.add_argument("number", type=int, metavar="NUMBER")
    over = verb("over-time", "bakes of one formula: what changed, what it did, the best so far")
    over.add_argument("formula", metavar="FORMULA", help="its name, a file, or a demo formula")
    over.add_argument("--last", type=count_to(100_000), default=30, metavar="N")
    over.add_argument("--plot", metavar="FILE", help="marks over the bakes as a picture, .svg or .png")
    find = verb("find", "bakes that hold all words: names, notes, ingredients, lots, symptoms, days")
    find.add_argument("word", nargs="*", metavar="WORD")
    find.add_argument("--saw", nargs="+", default=[], metavar="SYMPTOM")
    find.add_argument("--followed", metavar="CHANGE", help="by its name")
    find.add_argument("--since", metavar="DAY")
    find.add_argument("--until", metavar="DAY")
    find.add_argument("--last", type=count_to(100_000), default=20, metavar="N")
    export = verb("export", "all bakes as YAML or CSV")
    export.add_argument(
        "--as", dest="form", choices=("yaml", "csv"), help="the form (by the file's ending, or yaml)"
    )
    export.add_argument("--out", metavar="FILE", help="a file in place of standard output")
    taken = verb("import", "take in what export wrote; bakes that are here already stay as they are")
    taken.add_argument("file", metavar="FILE", help=".yaml or .csv")
    back = verb("take-back", "take a bake out again (the last one, without a number)")
    back.add_argument("number", nargs="?", type=int, metavar="NUMBER")
    back.add_argument("--undo", action="store_true", help="put one that was taken back in again")
    mended = verb("mend", "write what can be read of a damaged record into a new file, and what was lost")
    mended.add_argument("new", metavar="NEW", help="the new file; the record itself stays as it is")
    verb("learned", "what your bakes have taught, and why")


def _mark(text: str) -> int:
    if text not in ("1", "2", "3", "4", "5"):
        raise argparse.ArgumentTypeError(f"'{text}' is no mark from 1 to 5")
    return int(text)
