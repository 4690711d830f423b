"""`advisor record`: bakes kept, shown, found, compared, taken back, carried over, and what they taught."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from advisor import load_knowledge
from advisor.api.records import learnt_in, said
from advisor.explanation.blocks import Block, Heading, Item, Paragraph, Row
from advisor.explanation.quantities import runs_of
from advisor.formula.faults import FormulaFault
from advisor.interface.desk.bake_blocks import bake_blocks, list_blocks, over_time
from advisor.interface.desk.bake_look_back import look_back
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.output import write_document, write_page
from advisor.interface.desk.own_places import record_path
from advisor.interface.desk.record_learnt import why
from advisor.interface.desk.showing import page_text
from advisor.interface.desk.symptom_words import symptom_ids
from advisor.interface.record.record_adding import add_bake
from advisor.interface.record.record_document import record_document, shift_shapes
from advisor.knowledge_base.escaping import shown
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.whole_file import write_whole
from advisor.rendering.documents.record_shapes import RecordDocument
from advisor.rendering.picture_file import refuse_other_endings
from advisor.trial_record.faults import BakeFault, RecordFault
from advisor.trial_record.learning import Shift
from advisor.trial_record.mending import mend
from advisor.trial_record.record import TrialRecord, Wanted, open_record
from advisor.trial_record.written_out import from_csv, from_yaml, to_csv, to_yaml

NONE_FOUND = 1
_MOST_TOLD = 20
_MOST_BYTES = 50_000_000
"""Of a file that is taken in: some fifty thousand bakes."""


def run_record(options: argparse.Namespace) -> int:
    """Run one verb; exit 0 when done, 1 where nothing was found, 2 on a fault.

    Raises:
        InputFault: what was given cannot be used, or the record cannot be read or written.
    """
    verbs: dict[str, Callable[[argparse.Namespace], int]] = {
        "add": _add, "list": _list, "show": _show, "over-time": _over_time, "find": _find, "export": _export,
        "import": _import, "take-back": _take_back, "learned": _learned, "mend": _mend,
    }  # fmt: skip
    path = record_path(options.record)
    if getattr(options, "plot", None) is not None:
        refuse_other_endings(Path(options.plot))
    if options.verb not in ("add", "import") and options.record is None and not path.exists():
        return _none(options, f"no bakes are kept yet; 'advisor record add' keeps one in {path}")
    try:
        return verbs[options.verb](options)
    except RecordFault as fault:
        raise InputFault(f"advisor: {fault}") from None


def _answer(
    options: argparse.Namespace, document: Callable[[], RecordDocument], page: Callable[[], Iterable[Block]]
) -> int:
    if options.json:
        write_document(document())
    else:
        write_page(page_text(tuple(page())))
    return 0


def _none(options: argparse.Namespace, sentence: str) -> int:
    if options.json:
        write_document(record_document(options.verb, said=sentence))
    elif getattr(options, "damage", None) is None:  # else that is the one line that is said
        sys.stderr.write(f"advisor: {sentence}\n")
    return NONE_FOUND


def _read(options: argparse.Namespace, read: Callable[[TrialRecord], int]) -> int:
    """Answer from the bakes that can be read; where there are others, say so last and exit 2."""
    with open_record(record_path(options.record), to_write=False) as record:
        options.damage = record.damage
        code = read(record)
        if record.damage is not None:
            sys.stdout.flush()
            raise record.damage
        return code


def _add(options: argparse.Namespace) -> int:
    bake = add_bake(options)
    sentence = f"kept as bake {bake.number}: {shown(bake.formula)}, {bake.baked_on.replace('T', ' ')}"
    return _answer(options, lambda: record_document("add", [bake], said=sentence), lambda: _line(sentence))


def _line(text: str) -> Iterator[Block]:
    yield Paragraph(runs=runs_of(text))


def _list(options: argparse.Namespace) -> int:
    def read(record: TrialRecord) -> int:
        if not (bakes := record.latest(options.last)):
            return _none(options, "no bakes are kept")
        count = record.count()
        return _answer(
            options,
            lambda: record_document("list", bakes),
            lambda: list_blocks(bakes, count, load_knowledge()),
        )

    return _read(options, read)


def _find(options: argparse.Namespace) -> int:
    knowledge = load_knowledge()
    saw = tuple(symptom_ids(options.saw, knowledge))
    wanted = Wanted(
        words=tuple(options.word),
        saw=saw,
        followed=options.followed,
        since=options.since,
        until=options.until,
    )

    def read(record: TrialRecord) -> int:
        if not (bakes := record.find(wanted, options.last)):
            return _none(options, "no bake holds all of that")
        return _answer(
            options, lambda: record_document("find", bakes), lambda: list_blocks(bakes, len(bakes), knowledge)
        )

    return _read(options, read)


def _show(options: argparse.Namespace) -> int:
    knowledge = load_knowledge()

    def read(record: TrialRecord) -> int:
        if record.damage is not None and options.number in {one.number for one in record.damaged}:
            raise record.damage
        if (bake := record.bake(options.number)) is None:
            return _none(options, f"there is no bake {options.number}")
        back = look_back(record, bake, knowledge)
        return _answer(
            options,
            lambda: record_document("show", [bake], back=back),
            lambda: bake_blocks(bake, back, knowledge),
        )

    return _read(options, read)


def _over_time(options: argparse.Namespace) -> int:
    def read(record: TrialRecord) -> int:
        name = options.formula
        if not record.count(name):
            try:
                name = choose_formula(name, load_knowledge(), "us").name
            except (FormulaFault, InputFault):
                name = options.formula
        if not (bakes := tuple(reversed(record.latest(options.last, formula=name)))):
            known = ", ".join(shown(n, 40) for n, _ in record.formulas()[:5])
            return _none(options, f"no bake of '{shown(options.formula, 40)}'; there are: {known}")
        best, count = record.best(name), record.count(name)
        if options.plot is not None:
            from advisor.interface.desk.marks_picture import plot_over_time

            plot_over_time(bakes, load_knowledge(), Path(options.plot))
        return _answer(
            options,
            lambda: record_document("over-time", bakes, changes=True, best=best),
            lambda: over_time(bakes, best, count, load_knowledge()),
        )

    return _read(options, read)


def _export(options: argparse.Namespace) -> int:
    def read(record: TrialRecord) -> int:
        if not (bakes := record.everything()):
            return _none(options, "no bakes are kept")
        form = options.form or ("csv" if str(options.out).lower().endswith(".csv") else "yaml")
        text = to_csv(bakes) if form == "csv" else to_yaml(bakes)
        if options.out is not None:
            write_whole(Path(options.out), text)
            sentence = f"{len(bakes)} bakes written to {options.out}"
            return _answer(options, lambda: record_document("export", said=sentence), lambda: _line(sentence))
        if options.json:
            write_document(record_document("export", bakes))
        else:
            sys.stdout.write(text)
        return 0

    return _read(options, read)


def _import(options: argparse.Namespace) -> int:
    path = Path(options.file)
    try:
        with path.open("rb") as file:
            raw = file.read(_MOST_BYTES + 1)
        text = raw.decode("utf-8-sig")
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
        raise InputFault(f"advisor: {path} cannot be read: {reason}") from None
    except UnicodeDecodeError:
        raise InputFault(f"advisor: {path} is not UTF-8; save it as plain text (UTF-8)") from None
    if len(raw) > _MOST_BYTES:
        raise InputFault(f"advisor: {path} is over {_MOST_BYTES // 1_000_000} MB; take it in in parts")
    read = from_csv if path.suffix.lower() == ".csv" else from_yaml
    bakes = read(text, str(path))
    try:
        with open_record(record_path(options.record), to_write=True) as record:
            new, there = record.add_all(bakes)
    except BakeFault as fault:
        raise InputFault(f"advisor: {path}: {fault}; nothing was taken in") from None
    sentence = f"{new} bakes taken in; {there} were here already"
    return _answer(options, lambda: record_document("import", said=sentence), lambda: _line(sentence))


def _take_back(options: argparse.Namespace) -> int:
    with open_record(record_path(options.record), to_write=True) as record:
        bake = record.take_back(options.number, back=not options.undo)
    if bake is None:
        return _none(options, "there is no such bake")
    what = "put in again" if options.undo else "taken back (--undo puts it in again)"
    sentence = f"bake {bake.number}, {shown(bake.formula)} of {bake.baked_on[:10]}: {what}"
    return _answer(
        options, lambda: record_document("take-back", [bake], said=sentence), lambda: _line(sentence)
    )


def _learned(options: argparse.Namespace) -> int:
    knowledge = load_knowledge()

    def read(record: TrialRecord) -> int:
        if not (shifts := learnt_in(record, knowledge)):
            return _none(
                options,
                "nothing yet: bakes teach once they follow a single proposed change (--followed) and say whether its "
                "fault is gone, or once three or more measured cores or sizes agree",
            )
        return _answer(
            options,
            lambda: record_document("learned", shifts=shift_shapes(shifts, knowledge)),
            lambda: page(shifts),
        )

    def page(shifts: Sequence[Shift]) -> Iterator[Block]:
        yield Heading(text="What your own bakes have taught")
        for shift in shifts:
            told = said(shift, knowledge)
            yield Item(
                label="-", runs=runs_of(f"{told[:1].upper()}{told[1:]}."), under=tuple(_line(why(shift)))
            )
        hold = (
            "They hold for this kitchen alone, at most twice the general odds either way. 'advisor record take-back' "
            "takes a bake out of it; --no-learning leaves all of it out."
        )
        yield Row(left=(hold,), right=())

    return _read(options, read)


def _mend(options: argparse.Namespace) -> int:
    new = Path(options.new)
    mended = mend(record_path(options.record), new)
    told = (*mended.lost, *mended.lacking)
    said = [f"{mended.kept} bakes written to {new}" + ("" if told else "; nothing was lost")]
    said += [f"bake {one.number} {shown(one.what)}" for one in told[:_MOST_TOLD]]
    if len(told) > _MOST_TOLD:
        said.append(f"and {len(told) - _MOST_TOLD} more bakes are lost or lack something")
    return _answer(
        options,
        lambda: record_document("mend", said=said),
        lambda: [Paragraph(runs=runs_of(line)) for line in said],
    )
