"""`advisor` alone: a menu on a terminal, elsewhere a page that says where to start; and what a slip may have meant."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from pathlib import Path

from advisor import load_knowledge
from advisor.explanation.blocks import Block, Command, Item, Paragraph
from advisor.formula.files import formula_from_file
from advisor.interface.desk.output import write_page
from advisor.interface.desk.prompting import Left, Prompter, can_ask
from advisor.interface.desk.showing import page_text
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.likeness import nearest

Run = Callable[[Sequence[str]], int]
"""Runs a command line and gives its exit code."""

_MENU: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("I have a loaf that failed.", ("diagnose",)),
    ("I want to check a formula before I bake it.", ("check",)),
    ("I teach, and want to show how a fault comes about.", ("teach",)),
    ("I want to look something up.", ()),
)
_WAYS = (
    ("advisor diagnose", "a loaf has failed: a few questions, the likely causes, and grams to change"),
    ("advisor check my-loaf.txt", "a formula before the bake: what may go wrong, and the smallest change that helps"),
    ("advisor try my-loaf.txt 'water -20 g'", "what a change does"),
    ("advisor record add my-loaf.txt", "keep a bake, and let the next one be compared with it"),
    ("advisor teach", "lessons: how a fault comes about, step by step"),
    ("advisor glossary WORD", "what a word means; 'symptoms' and 'ingredients' look up those"),
    ("advisor check --demos", "formulas that come with it, to try things on"),
    ("advisor help COMMAND", "all about one command"),
)  # fmt: skip
_LOOK_UP = ("glossary", "symptoms", "ingredients")


def run_start(run: Run) -> int:
    """Offer the menu at a terminal; elsewhere print where to start."""
    if not can_ask():
        write_page(start_page())
        return 0
    prompter = Prompter()
    try:
        chosen = _chosen(prompter)
        if chosen is None:
            return 0
        return run(_MENU[chosen][1]) if _MENU[chosen][1] else _look_up(prompter, run)
    except Left:
        return 0


def start_page() -> str:
    """Where to start, a line a command."""
    says = "Says why a low-carbohydrate or high-protein dough fails, and what to change. Start here:"
    ways = (Item(label="-", runs=(f"{does}:",), under=(Command(text=command),)) for command, does in _WAYS)
    return page_text((Paragraph(runs=(says,)), *ways))


def demos_page() -> str:
    """The demo formulas: the name to type, and the title of each."""
    knowledge = load_knowledge()
    blocks: list[Block] = [
        Paragraph(runs=("Formulas to try things on. Type the name in place of a file:",)),
        Command(text="advisor check NAME"),
    ]
    for name, path in sorted(knowledge.formulas.items()):
        formula = formula_from_file(path, knowledge, region="us")
        blocks.append(Item(label=name, runs=(f"{formula.name}, {formula.dough_g:.0f} g of dough",)))
    return page_text(blocks)


def what_was_meant(words: Sequence[str], commands: Collection[str]) -> str | None:
    """Say what a first word that is no command may have meant; `None` where it is one, or an option."""
    if not words or words[0].startswith("-") or words[0] in commands:
        return None
    word = words[0]
    if _is_formula(word):
        return f"advisor: '{shown(word, 60)}' is a formula; to check it: advisor check {shown(word, 60)}"
    near = nearest(word.lower(), list(commands), least=50)
    hint = f"did you mean {' or '.join(near[:2])}?" if near else f"there are: {', '.join(commands)}"
    return f"advisor: no command '{shown(word, 40)}'; {hint}"


def _is_formula(word: str) -> bool:
    try:
        return Path(word).exists() or word in load_knowledge().formulas
    except (OSError, ValueError):
        return False


def _chosen(prompter: Prompter) -> int | None:
    """Give the place of the line that was chosen; `None` where the baker leaves."""
    prompter.say("What brings you here?")
    for number, (text, _) in enumerate(_MENU, 1):
        prompter.say(f"  {number}  {text}")
    while True:
        typed = prompter.line("Number, or Enter to leave > ").rstrip(".").lower()
        if typed in ("", "q", "quit", "exit", "b", "back"):
            return None
        if typed.isdecimal() and typed.isascii() and 1 <= int(typed[:3]) <= len(_MENU):
            return int(typed) - 1
        prompter.say(f"Give a number from 1 to {len(_MENU)}, or Enter to leave.")


def _look_up(prompter: Prompter, run: Run) -> int:
    """Look a word up wherever it stands: terms, what a loaf may show, ingredients."""
    while word := prompter.line("Which word? Enter leaves > "):
        if word.lower() in ("b", "back", "q", "quit"):
            break
        for kind in _LOOK_UP:
            prompter.say(f"{kind.capitalize()}:")
            run((kind, *word.split()))
    return 0
