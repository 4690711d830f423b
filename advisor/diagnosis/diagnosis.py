"""From suspicions and symptoms to ranked causes and risks: the one door to this package."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field

from advisor.diagnosis.cause_graph import CauseGraph
from advisor.diagnosis.cause_odds import TOLD, weigh_suspicions
from advisor.diagnosis.evidence_scale import EvidenceScale
from advisor.diagnosis.posterior import SEEN_AT_MOST, Evidence
from advisor.diagnosis.ranking import CauseRank, kinds_of, rank_causes, weigh_with_unions
from advisor.diagnosis.risk import Risk, forward_risks
from advisor.diagnosis.signs import Sign, damp_alike, most_telling_first
from advisor.inference.situation import Suspicion
from advisor.knowledge_base.graph_entries import Cause, Symptom
from advisor.knowledge_base.likeness import nearest
from advisor.knowledge_base.measured import Coefficient


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """Ranked causes, the risk of every symptom, and what to be told; `own` and `priors` are without kinds.

    `priors` and `own` (posterior) hold the causes in play by id, `left_out` those that only handling can
    bring and that nothing speaks for before the bake.
    """

    causes: tuple[CauseRank, ...]
    risks: Mapping[str, Risk]
    priors: Mapping[str, float]
    own: Mapping[str, float]
    left_out: tuple[str, ...]
    evidence: Evidence = field(repr=False)
    warnings: tuple[str, ...] = ()

    def cause(self, name: str) -> CauseRank | None:
        """Give a cause's rank; `None` if it takes no part."""
        return next((rank for rank in self.causes if rank.id == name), None)


def signs_of(graph: CauseGraph, symptoms: Mapping[str, Symptom]) -> dict[str, Sign]:
    """Give every symptom as a sign, in order of id."""
    return {
        name: Sign(symptom=name, leak=symptoms[name].leak, influence=graph.reached_by.get(name, {}))
        for name in sorted(symptoms)
    }


def diagnose_causes(
    graph: CauseGraph,
    causes: Mapping[str, Cause],
    symptoms: Mapping[str, Symptom],
    suspicions: Iterable[Suspicion],
    observed: Mapping[str, bool],
    *,
    after_bake: bool,
    coefficients: Mapping[str, Coefficient],
    ranked: bool = True,
    cannot_be: Collection[str] = (),
) -> Diagnosis:
    """Weigh what the rules suspect and what the baker saw (True) or looked for and did not find (False).

    Before the bake (`after_bake` False) causes that only handling can bring take part only if a rule speaks
    for them. Symptoms that `cannot_be` in such a bake have no risk.

    Without `ranked` the causes are left out: half the time, where only numbers are laid side by side.

    Raises:
        KeyError: a symptom, cause, evidence word or coefficient that is not known.
    """
    for name in observed:
        if name not in symptoms:
            near = nearest(name, symptoms)
            raise KeyError(f"no symptom '{name}'; near: {', '.join(near)}")
    scale = EvidenceScale.read(coefficients)
    suspicions = tuple(suspicions)
    told = frozenset(s.cause for s in suspicions if s.evidence == TOLD)
    weighed = weigh_suspicions(causes, suspicions, scale, after_bake=after_bake)
    priors = {name: prior.probability for name, prior in weighed.items() if prior.in_play}
    signs = signs_of(graph, symptoms)
    seen = most_telling_first((signs[name] for name in sorted(observed) if observed[name]), priors)
    alike = {name: symptom.alike for name, symptom in symptoms.items()}
    evidence = Evidence(
        priors=priors,
        present=damp_alike(seen[:SEEN_AT_MOST], alike, scale.alike_exponent),
        absent=tuple(signs[name] for name in sorted(observed) if not observed[name]),
    )
    now, unions = weigh_with_unions(evidence, kinds_of(causes) if ranked else {})
    own = now.probability
    risks = forward_risks(signs.values(), own)
    risks |= {
        name: Risk(symptom=name, risk=0.0, leak=0.0, influence={}, probability={}) for name in cannot_be
    }
    return Diagnosis(
        causes=rank_causes(
            graph,
            causes,
            weighed,
            own,
            unions,
            risks,
            observed,
            scale=scale,
            told=told,
            tasted=frozenset(name for name, symptom in symptoms.items() if symptom.tasted),
        )
        if ranked
        else (),
        risks=risks,
        priors=priors,
        own=own,
        left_out=tuple(name for name in weighed if name not in priors),
        evidence=evidence,
        warnings=_warnings(seen, priors, symptoms),
    )


def _warnings(
    seen: tuple[Sign, ...], priors: Mapping[str, float], symptoms: Mapping[str, Symptom]
) -> tuple[str, ...]:
    out: list[str] = []
    if len(seen) > SEEN_AT_MOST:
        names = ", ".join(symptoms[sign.symptom].name for sign in seen[SEEN_AT_MOST:])
        out.append(
            f"{len(seen)} symptoms were seen; the {SEEN_AT_MOST} most telling were weighed, without: {names}."
        )
    for sign in seen:
        if not any(cause in priors for cause in sign.influence):
            out.append(f"No cause that was weighed leads to '{symptoms[sign.symptom].name}'.")
    return tuple(out)
