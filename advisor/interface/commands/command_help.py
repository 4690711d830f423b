"""What `advisor COMMAND --help` says beside the options: an example to copy, and the exit codes."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from dataclasses import dataclass

_READ = "2  something cannot be read or is not known"


@dataclass(frozen=True, slots=True, kw_only=True)
class Manual:
    """The part of a command's help that argparse cannot know."""

    says: str
    examples: tuple[str, ...]
    exits: tuple[str, ...]


MANUALS: Mapping[str, Manual] = {
    "check": Manual(
        says="Looks at formulas before the bake: what may go wrong, why, and which change in grams or minutes helps. "
        "A folder is read with all below it (.txt, .yaml, .yml, .md) and gives a table, a line a formula; one that "
        "cannot be read stops no other.",
        examples=(
            "advisor check canteen-sandwich-loaf",
            "advisor check my-loaf.txt --net-carb-max 3 --avoid milk --all",
            "advisor check catalogue/ --jobs 2 --resume answers.jsonl",
        ),
        exits=(
            "0  every risk is below the limit (0.35, or --risk) and no limit is broken",
            "1  a risk is at or above it, or a limit is broken",
            _READ,
            "of many formulas the worst exit counts",
        ),
    ),
    "diagnose": Manual(
        says="Finds why a baked loaf failed, from what it showed; asks in a terminal where nothing is given.",
        examples=(
            "advisor diagnose canteen-sandwich-loaf --saw gummy_centre --not dry_crumb",
            "advisor diagnose my-loaf.txt --answers answers.yaml",
        ),
        exits=("0  answered", _READ),
    ),
    "why": Manual(
        says="Proves a cause, rule by rule, or says what it missed; of a symptom it says where the risk comes from.",
        examples=("advisor why canteen-sandwich-loaf-excess-water excess_water --saw gummy_centre",),
        exits=("0  told", _READ),
    ),
    "try": Manual(
        says="Applies changes to a formula and shows what they do; the file stays as it is.",
        examples=("advisor try canteen-sandwich-loaf 'water -30 g' 'oven 165 C'",),
        exits=("0  told", _READ),
    ),
    "start": Manual(
        says="Writes first formulas from what is at hand, each another way of making the bread, with amounts and "
        "process solved and looked at as a check looks. Where a limit leaves no room it says which, and how far it "
        "would have to give. Water, salt and what lifts the dough are added unasked.",
        examples=(
            'advisor start --kind "tin loaf" --from "gluten, eggs, flax meal" --slices 16',
            'advisor start --kind rolls --from "almond flour, psyllium, egg whites"',
            "advisor start --from 'eggs, gluten' --net-carb-max 2 --card 1",
        ),
        exits=("0  found", "1  no formula keeps the limits and passes a check", _READ),
    ),
    "improve": Manual(
        says="Makes a formula better towards an aim, a step at a time inside a fence, and says what each step gains "
        "and what got worse for it. The file stays as it is.",
        examples=(
            "advisor improve canteen-sandwich-loaf --aim softer --keep eggs",
            "advisor improve my-loaf.txt --aim less-carbohydrate --at-most 20%",
            'advisor improve loaf.txt --aim more-protein --swap "whey isolate, lupin"',
        ),
        exits=("0  a way is told", "1  no step that is allowed helps", _READ),
    ),
    "tolerance": Manual(
        says="Says for every line and value of the process how far it may go, alone, before a risk reaches the limit; "
        "what a scale, a spoon or an oven that is off does; and which three errors matter most.",
        examples=(
            "advisor tolerance canteen-sandwich-loaf",
            "advisor tolerance my-loaf.txt --plot tolerance.svg",
        ),
        exits=("0  told", _READ),
    ),
    "differ": Manual(
        says="Lays two formulas beside each other, and says what each difference does.",
        examples=("advisor differ canteen-sandwich-loaf canteen-sandwich-loaf-excess-water",),
        exits=("0  told", _READ),
    ),
    "ingredients": Manual(
        says="Says what is known of an ingredient, and adds your own from the panel on its packet.",
        examples=("advisor ingredients psyllium", "advisor ingredients --new packet.yaml"),
        exits=("0  found or added", "1  no such ingredient", _READ),
    ),
    "write": Manual(
        says="Writes a formula out again, scaled or not.",
        examples=("advisor write canteen-sandwich-loaf --as weighing-list --loaves 3",),
        exits=("0  written", _READ),
    ),
    "plan-bakes": Manual(
        says="Plans one to four bakes that teach most of this kitchen: how far its oven is off, how well heat gets "
        "in, how much gas its yeast makes, how fast its crusts dry. The filled table says what was learnt.",
        examples=(
            "advisor plan-bakes canteen-sandwich-loaf --bakes 2 --doubt oven_too_cool",
            "advisor plan-bakes my-loaf.txt --out bakes.csv",
            "advisor plan-bakes my-loaf.txt --results bakes.csv",
            "advisor plan-bakes my-loaf.txt --from-record",
        ),
        exits=("0  planned or learnt", _READ),
    ),
    "record": Manual(
        says="Keeps bakes, compares them and learns from them.",
        examples=(
            "advisor record add my-loaf.txt --saw dense_crumb --height 8",
            "advisor record over-time my-loaf.txt",
        ),
        exits=("0  done or found", "1  none found", _READ),
    ),
    "teach": Manual(
        says="Shows a chain from fact to fault step by step; without a topic it lists the lessons.",
        examples=("advisor teach excess_water",),
        exits=("0  shown", _READ),
    ),
    "report": Manual(
        says="Writes one page that needs no network, to read and to print.",
        examples=(
            "advisor report canteen-sandwich-loaf --out loaf.html",
            "advisor report my-loaf.txt --out loaf.html --with tolerance,improve,plan",
        ),
        exits=("0  written", _READ),
    ),
    "lint": Manual(
        says="Looks for faults in rules/ and knowledge/, and draws the cause graph.",
        examples=("advisor lint", "advisor lint --graph causes.dot"),
        exits=("0  nothing found", "1  findings, a line each", _READ),
    ),
    "sources": Manual(
        says="Says what rests on which source, and how well each is known.",
        examples=("advisor sources psyllium",),
        exits=("0  found", "1  no such source", _READ),
    ),
    "open": Manual(
        says="Serves the assistant as a page to a browser, from this machine alone: write a formula or have one "
        "written, make it better, look at it before the bake with sliders, find what went wrong after it, keep bakes, "
        "teach. Ctrl-C stops it. A link lets one device in, once; 'advisor open' again gives another. --lan lets other "
        "devices of the house in: nothing is encrypted on the way, so use it at home only.",
        examples=("advisor open canteen-sandwich-loaf", "advisor open my-loaf.txt --lan --port 8080"),
        exits=("0  stopped by Ctrl-C, or handed to the page that runs already", _READ),
    ),
    "symptoms": Manual(
        says="Lists what a loaf or a dough may show, how to tell each, and what it is also called; a phrase in "
        "your own words finds what it may mean.",
        examples=("advisor symptoms", "advisor symptoms sank as it cooled"),
        exits=("0  found", "1  no symptom fits", _READ),
    ),
    "glossary": Manual(
        says="Says what a word of the trade, a measure or a structure means.",
        examples=("advisor glossary oven spring",),
        exits=("0  found", "1  no such word, with the nearest", _READ),
    ),
}
"""By the name of the command; the examples can be run as they stand where they name a demo formula."""


def put_manuals(commands: Mapping[str, argparse.ArgumentParser]) -> None:
    """Put the manuals into the parsers of the commands."""
    for name, parser in commands.items():
        if (manual := MANUALS.get(name)) is not None:
            parser.description = manual.says
            parser.epilog = _closing(manual)
            parser.formatter_class = _AsWritten


def _closing(manual: Manual) -> str:
    examples = "\n".join(f"  {example}" for example in manual.examples)
    exits = "\n".join(f"  {code}" for code in (*manual.exits, "3  a fault in the program"))
    return f"examples:\n{examples}\n\nexits:\n{exits}"


class _AsWritten(argparse.HelpFormatter):
    """Wraps what is said of a command, and leaves the lines of examples and exits as they are."""

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        if text.startswith("examples:"):
            return "\n".join(indent + line for line in text.splitlines())
        return super()._fill_text(text, width, indent)
