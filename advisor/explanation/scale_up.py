"""A formula for a bakery's day: batches, water and ice, oven loads, who waits and what that does, pans and times."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.diagnosis.pipeline import Examiner
from advisor.explanation.oven_queue import OvenLoad, Steps, better_day, even_sizes, longest_wait, queue
from advisor.explanation.pans_sold import OtherPan, pans_sold
from advisor.formula.formula import Formula
from advisor.formula.writing.scaling import ScalingFault, scale_to_loaves
from advisor.formula.writing.weighing_list import WeighingEntry, weighing_list
from advisor.knowledge_base.knowledge import Knowledge
from advisor.knowledge_base.shapes import shape
from advisor.models.dough.dough_temperature import named_mixer
from advisor.models.dough.water_and_ice import WaterPlan, water_plan, with_temperatures
from advisor.models.dough_state import dough_state_of
from advisor.models.measuring import measure
from advisor.remedy.comparing import compare

_SAID_RISK = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Bakery:
    """What is asked for and what the bakery is like; temperatures in C, `None` where it is as the formula says."""

    loaves: int
    batches: int = 1
    oven_loads: int | None = None
    mixer: str | None = None
    room_c: float | None = None
    flour_c: float | None = None
    tap_c: float | None = None
    dough_c: float | None = None


@shape
class WeighedLine:
    """One thing to weigh."""

    name: str
    """What it is."""
    grams: float | None
    """What the scale shall show, g; null where the formula gives no weight."""
    note: str
    """Pieces and states of it."""


@shape
class Batch:
    """Batches of one size."""

    numbers: tuple[int, ...]
    """Which ones, counted from 1."""
    loaves: int
    """Loaves that each gives."""
    dough_g: float
    """Dough of each, g."""
    lines: tuple[WeighedLine, ...]
    """What to weigh, in the order of the formula."""
    water: WaterPlan
    """Its water, and ice where tap water is too warm."""


@shape
class Moved:
    """A number or a risk that waiting moves."""

    id: str
    """Id of the measure or symptom."""
    name: str
    """What it is called."""
    before: float
    """Without waiting."""
    after: float
    """For the one that waits longest."""


@shape
class ScaleUpAnswer:
    """A formula for a bakery's day."""

    name: str
    """Title of the formula."""
    loaves: int
    """Loaves in all."""
    pieces_a_loaf: int
    """Slices or pieces of each."""
    mixer: str
    """How it is mixed, as far as it is known."""
    mix_min: float
    """Minutes of mixing."""
    batches: tuple[Batch, ...]
    """What to weigh for a batch, once for each size of batch."""
    every_min: float
    """From the start of one mix to the start of the next, min."""
    loads: tuple[OvenLoad, ...]
    """The oven's loads in their order."""
    bake_min: float
    """Minutes of one load."""
    longest_wait_min: float
    """How long the one that is ready first of all stands before it goes in, min."""
    last_wait_min: float
    """How long the first ready one of the last load stands, min."""
    measures: tuple[Moved, ...]
    """Numbers that this wait moves out of, or further out of, where they should be."""
    risks: tuple[Moved, ...]
    """Risks that this wait moves."""
    better_batches: int
    """Batches at which the oven is waited for least."""
    better_every_min: float
    """From mix to mix, min, with so many batches."""
    better_wait_min: float
    """The longest wait then, min."""
    pans: tuple[OtherPan, ...]
    """Pans near the formula's own that are sold; empty where it names no size."""


def scale_up(formula: Formula, bakery: Bakery, examiner: Examiner) -> ScaleUpAnswer:
    """Plan a day's bake.

    Raises:
        ScalingFault: more batches than loaves, or fewer loaves than one.
    """
    if bakery.batches > bakery.loaves:
        raise ScalingFault(
            f"{bakery.batches} batches of {bakery.loaves} loaves: give no more batches than loaves (--loaves)"
        )
    knowledge = examiner.knowledge
    wanted_c = bakery.dough_c or formula.process.dough_wanted_c or dough_state_of(formula, knowledge).dough_c
    here = _here(formula, bakery)
    given = dough_state_of(here, knowledge).with_defaults
    sizes = even_sizes(bakery.loaves, bakery.batches)
    steps = _steps(here, knowledge)
    oven_loads = min(bakery.oven_loads or bakery.batches, bakery.loaves)
    loads = queue(sizes, oven_loads, steps)
    wait = longest_wait(loads)
    measures, risks = _waited(formula, wait, examiner)
    better = better_day(sizes, oven_loads, steps)
    mixer = named_mixer(here.process.mixer or "", knowledge)
    return ScaleUpAnswer(
        name=formula.name,
        loaves=bakery.loaves,
        pieces_a_loaf=given.slices,
        mixer=mixer.name if mixer else "a mixer that the formula does not name",
        mix_min=given.mix_min,
        batches=tuple(_batches(here, sizes, wanted_c, bakery, knowledge)),
        every_min=steps.every_min,
        loads=loads,
        bake_min=steps.bake_min,
        longest_wait_min=wait,
        last_wait_min=loads[-1].longest_wait_min,
        measures=measures,
        risks=risks,
        better_batches=better.batches,
        better_every_min=better.every_min,
        better_wait_min=better.wait_min,
        pans=pans_sold(formula, knowledge),
    )


def _here(formula: Formula, bakery: Bakery) -> Formula:
    """The formula as it is mixed in this bakery."""
    if bakery.mixer is not None:
        formula = formula.with_process(mixer=bakery.mixer)
    return with_temperatures(formula, bakery.room_c, bakery.flour_c)


def _steps(formula: Formula, knowledge: Knowledge) -> Steps:
    c = knowledge.coefficient
    state = dough_state_of(formula, knowledge)
    given = state.with_defaults
    bake = given.bake_min
    if bake is None:
        work = measure(state, knowledge)
        bake = work.bake.pulled_at_min if work.bake else formula.process.steam_min or 0.0
    single = given.pan_kind in ("rolls", "flat") and not given.sheet
    return Steps(
        mix_min=given.mix_min,
        rest_min=given.rest_min,
        shape_min=c("shaping_min_a_piece") * (given.slices if single else 1),
        proof_min=given.proof_min,
        bake_min=bake,
        reload_min=c("reloading_min"),
        every_min=given.mix_min + c("between_batches_min"),
    )


def _batches(
    here: Formula, sizes: tuple[int, ...], wanted_c: float, bakery: Bakery, knowledge: Knowledge
) -> list[Batch]:
    c = knowledge.coefficient
    room = here.process.room_c if here.process.room_c is not None else c("room_c")
    out = []
    for size in dict.fromkeys(sizes):
        scaled = scale_to_loaves(here, size)
        mix_min = dough_state_of(scaled, knowledge).with_defaults.mix_min
        plan = water_plan(
            scaled,
            wanted_c,
            mix_min,
            room if bakery.flour_c is None else bakery.flour_c,
            c("tap_water_c") if bakery.tap_c is None else bakery.tap_c,
            knowledge,
        )
        out.append(
            Batch(
                numbers=tuple(n for n, loaves in enumerate(sizes, 1) if loaves == size),
                loaves=size,
                dough_g=scaled.dough_g,
                lines=tuple(_line(entry) for entry in weighing_list(scaled)),
                water=plan,
            )
        )
    return out


def _line(entry: WeighingEntry) -> WeighedLine:
    return WeighedLine(name=entry.name, grams=entry.grams, note=entry.note)


def _waited(
    formula: Formula, minutes: float, examiner: Examiner
) -> tuple[tuple[Moved, ...], tuple[Moved, ...]]:
    """What it does to a loaf to stand so much longer: in its proof, or on the bench where it has none."""
    if minutes < 1:
        return (), ()
    given = dough_state_of(formula, examiner.knowledge).with_defaults
    if given.proof_min > 0:
        stood = formula.with_process(proof_min=given.proof_min + minutes)
    else:
        stood = formula.with_process(rest_min=given.rest_min + minutes)
    found = compare(examiner, formula, stood)
    names, symptoms = examiner.knowledge.measures, examiner.knowledge.symptoms
    was, now = found.before.inference.judged, found.after.inference.judged
    measures = tuple(
        Moved(id=name, name=names[name].name, before=a, after=b)
        for name, (a, b) in found.measures.items()
        if a is not None
        and b is not None
        and name in now
        and now[name].excess > (was[name].excess if name in was else 0.0)
    )
    moved = sorted(found.risk.items(), key=lambda item: -abs(item[1][1] - item[1][0]))
    risks = tuple(
        Moved(id=s, name=symptoms[s].name, before=a, after=b)
        for s, (a, b) in moved
        if abs(b - a) >= _SAID_RISK
    )
    return measures, risks
