"""What calls give: a short `repr`, the same keys as the commands' JSON, and a page for a notebook."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from advisor.explanation.blocks import Block
from advisor.explanation.label import LabelAnswer, NutritionAnswer
from advisor.explanation.scale_up import ScaleUpAnswer
from advisor.remedy.assessing import Assessment
from advisor.rendering.documents.shape import Document
from advisor.rendering.documents.writing import Json

if TYPE_CHECKING:
    from advisor.explanation.answer import Answer

D = TypeVar("D", bound=Document)
T = TypeVar("T")
_LONGEST = 290


class Shown:
    """How a result is shown: to be mixed in before a class that holds it."""

    __slots__ = ()

    def _said(self) -> str:
        raise NotImplementedError

    def _document(self) -> Document:
        raise NotImplementedError

    def _blocks(self) -> Sequence[Block]:
        raise NotImplementedError

    def __repr__(self) -> str:
        """Say it in a line."""
        text = " ".join(self._said().split())
        return f"<{text if len(text) <= _LONGEST else text[: _LONGEST - 4] + ' ...'}>"

    def to_dict(self) -> dict[str, Json]:
        """Give the keys and values that the command prints with --json (`advisor --schema KIND`)."""
        from advisor.rendering.documents.writing import plain
        from advisor.rendering.quantities import in_metric

        told = in_metric(plain(self._document()))
        assert isinstance(told, dict)
        return told

    def _repr_html_(self) -> str:
        """Give the page for a notebook."""
        from advisor.rendering.html import html_part

        return html_part(tuple(self._blocks()))

    def __str__(self) -> str:
        """Give the page as text, as the command prints it."""
        from advisor.rendering.text_blocks import text_of

        return text_of(tuple(self._blocks()))


def as_result(result: type[T], found: Any) -> T:
    """Make a result of what its parent class holds."""
    return result(**{field.name: getattr(found, field.name) for field in fields(found)})


class CheckResult(Shown, Assessment):
    """What `check` and `diagnose` give: everything of an assessment, and its page."""

    __slots__ = ()

    def _answer(self) -> Answer:
        from advisor.api.shared import load_knowledge
        from advisor.explanation.answering import answer_of

        return answer_of(self, load_knowledge())

    def _said(self) -> str:
        from advisor.rendering.quantities import runs_text

        verdict = self._answer().verdict
        said = " ".join(part for part in (runs_text(verdict.problem), runs_text(verdict.first)) if part)
        return f"{self.kind} of {self.examination.formula.name[:60]}: {said}"

    def _document(self) -> Document:
        from advisor.api.shared import load_knowledge
        from advisor.rendering.documents.assessment import assessment_document

        return assessment_document(self, load_knowledge())

    def _blocks(self) -> Sequence[Block]:
        from advisor.explanation.page import page_of

        return page_of(self._answer())


class NutritionResult(Shown, NutritionAnswer):
    """What `nutrition` gives."""

    __slots__ = ()

    def _said(self) -> str:
        held = self.per_100g
        return (
            f"nutrition of {self.name[:60]}, 100 g {'as mixed' if self.basis == 'as_mixed' else 'as baked'}: "
            f"{held.energy_kcal:.0f} kcal, protein {held.protein:.1f} g, fat {held.fat:.1f} g, "
            f"net carbohydrate {held.net_carbohydrate:.1f} g, fibre {held.fibre:.1f} g; an estimate, not for sale"
        )

    def _document(self) -> Document:
        from advisor.rendering.documents.label import NutritionDocument

        return NutritionDocument(nutrition=self)

    def _blocks(self) -> Sequence[Block]:
        from advisor.explanation.label_page import nutrition_blocks

        return tuple(nutrition_blocks(self))


class LabelResult(Shown, LabelAnswer):
    """What `label` gives."""

    __slots__ = ()

    def _said(self) -> str:
        contains = ", ".join(line.allergen for line in self.allergens) or "no allergen that is tracked"
        return (
            f"label of {self.nutrition.name[:60]}: {len(self.ingredients)} ingredients; contains {contains}; "
            "an estimate, not for sale"
        )

    def _document(self) -> Document:
        from advisor.rendering.documents.label import LabelDocument

        return LabelDocument(label=self)

    def _blocks(self) -> Sequence[Block]:
        from advisor.explanation.label_page import label_blocks

        return tuple(label_blocks(self))


class ScaleUpResult(Shown, ScaleUpAnswer):
    """What `scale_up` gives."""

    __slots__ = ()

    def _said(self) -> str:
        count = sum(len(batch.numbers) for batch in self.batches)
        return (
            f"{self.loaves} loaves of {self.name[:60]} in {count} batches and {len(self.loads)} oven loads; "
            f"the longest wait is {self.longest_wait_min:.0f} min"
        )

    def _document(self) -> Document:
        from advisor.rendering.documents.scale_up import ScaleUpDocument

        return ScaleUpDocument(plan=self)

    def _blocks(self) -> Sequence[Block]:
        from advisor.explanation.scale_up_page import scale_up_blocks

        return tuple(scale_up_blocks(self))


class Told(Shown, Generic[D]):
    """A document and its page: what is looked up, proved, compared or taught."""

    __slots__ = ("_page", "document", "says")

    def __init__(self, document: D, says: str, page: Sequence[Block] = ()) -> None:
        self.document = document
        """What is told, with typed fields."""
        self.says = says
        """The same in a line."""
        self._page = tuple(page)

    def _said(self) -> str:
        return self.says

    def _document(self) -> Document:
        return self.document

    def _blocks(self) -> Sequence[Block]:
        from advisor.explanation.blocks import Paragraph

        return self._page or (Paragraph(runs=(self.says,)),)
