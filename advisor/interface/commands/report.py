"""`advisor report`: one self-contained page of a formula, before the bake or after it."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor import load_knowledge
from advisor.explanation.answering import answer_of
from advisor.explanation.further import Further
from advisor.explanation.report import asked_part, parts_named
from advisor.interface.desk.advisor_choice import advisor_for
from advisor.interface.desk.bakers_answers import told_by
from advisor.interface.desk.choosing import symptom_chooser, write_notes
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.progress import progress
from advisor.knowledge_base.faults import InputFault
from advisor.knowledge_base.whole_file import write_whole
from advisor.remedy.constraints import Constraints
from advisor.rendering.report import pictures_of, report_page


def run_report(options: argparse.Namespace) -> int:
    """Write the page, and its pictures where a folder is named; exit 0, or 2 on a fault.

    Raises:
        InputFault: a file that is no formula or no diagnosis, or a place that cannot be written.
    """
    out = Path(options.out)
    if out.suffix.lower() not in (".html", ".htm"):
        raise InputFault(f"advisor: {options.out}: a report ends in .html; name the file so")
    parts = parts_named(options.parts)
    knowledge, advisor = load_knowledge(), advisor_for("auto")
    told = told_by(options.saw, options.not_seen, options.answers, knowledge, symptom_chooser(knowledge))
    write_notes(told.notes)
    formula = choose_formula(options.formula, knowledge, options.region)
    with progress("advisor: writing the report"):
        if told.anything:
            found = advisor.diagnose(formula, saw=told.saw, not_seen=told.not_seen, answers=told.answers)
        else:
            found = advisor.check(formula)
        further = Further.of(advisor, found, Constraints(), joint=True)
        answer = answer_of(found, knowledge, further)
        scenes, chosen = pictures_of(found, advisor.examiner)
        asked = [asked_part(name, formula, advisor.examiner, Constraints()) for name in parts]
        write_whole(out, report_page(answer, found, advisor.examiner, scenes, asked))
    if options.pictures is not None:
        from advisor.diagnosis.graph_drawing import dot_text, mermaid_text
        from advisor.rendering.pictures.graph import reduced
        from advisor.rendering.pictures.plot import write_scene

        folder = _folder(options.pictures)
        for scene in scenes:
            for ending in (".svg", ".png"):
                write_scene(scene, folder / f"{scene.id}{ending}")
        part = reduced(knowledge, chosen)
        write_whole(folder / "causes.dot", dot_text(part))
        write_whole(folder / "causes.mmd", mermaid_text(part))
    return 0


def _folder(place: str) -> Path:
    folder = Path(place)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        reason = (fault.strerror or type(fault).__name__).lower()
        raise InputFault(f"advisor: {place} cannot be made: {reason}") from None
    return folder
