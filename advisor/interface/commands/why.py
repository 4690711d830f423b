"""`advisor why`: the proof of a cause or a symptom for one formula and what its loaf showed."""

from __future__ import annotations

import argparse

from advisor import load_knowledge
from advisor.diagnosis.pipeline import Examination
from advisor.inference.proof import Missed, Proof, why, why_not
from advisor.interface.desk.advisor_choice import advisor_for
from advisor.interface.desk.asked_about import asked_about
from advisor.interface.desk.choosing import write_notes
from advisor.interface.desk.formula_choice import choose_formula
from advisor.interface.desk.output import write_json, write_page
from advisor.interface.desk.told import told_by
from advisor.interface.desk.why_page import symptom_lines, why_lines, why_not_lines
from advisor.knowledge_base.knowledge import Knowledge
from advisor.rendering.json_form import Json, head


def run_why(options: argparse.Namespace) -> int:
    """Say why a cause is suspected or not, or where a symptom's risk comes from.

    Raises:
        InputFault: what is asked about is neither a cause nor a symptom.
    """
    knowledge = load_knowledge()
    kind, name = asked_about(" ".join(options.topic), knowledge)
    formula = choose_formula(options.formula, knowledge, options.region)
    told = told_by(options.saw, options.not_seen, options.answers, knowledge)
    write_notes(told.notes)
    found = advisor_for(options.engine).examiner.examine(
        formula, saw=told.saw, not_seen=told.not_seen, answers=told.answers, after_bake=told.anything
    )
    if options.json:
        write_json(proof_json(found, knowledge, kind, name))
        return 0
    if kind == "symptom":
        lines = symptom_lines(found, knowledge, name)
    else:
        lines = [*why_lines(found, knowledge, name), *why_not_lines(found, knowledge, name)]
    write_page("\n".join(lines) + "\n")
    return 0


def proof_json(found: Examination, knowledge: Knowledge, kind: str, name: str) -> dict[str, Json]:
    """The proof tree of a cause with the rules that missed, or the parts of a symptom's risk."""
    out = head("proof") | {"about": {"kind": kind, "id": name}}
    if kind == "symptom":
        risk = found.diagnosis.risks[name]
        out["risk"] = round(risk.risk, 6)
        out["contributions"] = [{"cause": c.cause, "share": round(c.share, 6)} for c in risk.contributions]
        out |= {"probability": None, "proof": None, "missed": []}
        return out
    rank = next((r for r in found.diagnosis.causes if r.id == name), None)
    proof = why(found.inference, knowledge.rules.values(), "suspect", name)
    out["risk"] = None
    out["contributions"] = []
    out["probability"] = round(rank.probability, 6) if rank else None
    out["proof"] = _tree(proof) if proof else None
    out["missed"] = [
        _missed(m) for m in why_not(found.situation, found.inference, knowledge.rules.values(), name)
    ]
    return out


def _tree(proof: Proof) -> Json:
    return {
        "fact": list(proof.fact),
        "rule": proof.rule,
        "text": proof.text,
        "denied": proof.denied,
        "evidence": proof.evidence,
        "excess": None if proof.excess is None else round(proof.excess, 6),
        "depth": None if proof.depth is None else round(proof.depth, 6),
        "children": [_tree(child) for child in proof.children],
    }


def _missed(missed: Missed) -> Json:
    return {
        "rule": missed.rule,
        "evidence": missed.evidence,
        "subject": [missed.condition.subject, missed.condition.name],
        "denied": missed.denied,
        "known": missed.known,
        "distance": None if missed.distance is None else round(missed.distance, 6),
    }
