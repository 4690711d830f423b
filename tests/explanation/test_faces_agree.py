"""Every face tells the same answer: the same causes in one order, the same figures, the same numbers of changes."""

from __future__ import annotations

import re
from functools import cache
from html import unescape

import pytest

from advisor import default_advisor, load_knowledge, read_formula
from advisor.explanation.answering import answer_of
from advisor.explanation.changes import ChangeWords
from advisor.explanation.further import Further
from advisor.explanation.lesson.teach_course import course_of
from advisor.explanation.lesson.teach_steps import Topic
from advisor.explanation.page import document_of, page_of
from advisor.interface.desk.formula_choice import choose_formula
from advisor.remedy.change import Change
from advisor.remedy.constraints import Constraints
from advisor.rendering.documents.assessment import assessment_document
from advisor.rendering.markdown import markdown_of
from advisor.rendering.quantities import runs_text
from advisor.rendering.report import report_page
from advisor.rendering.text_blocks import TextStyle, text_of

KNOWLEDGE = load_knowledge()
FORMULAS = sorted(KNOWLEDGE.formulas)
CAUSE = re.compile(
    r"(?m)^(\d+)\. ([^.(:]+) \((?:very likely|likely|quite possible|possible|unlikely), (\d+) %\)"
)


@cache
def told(name):
    """The assessment and the answer, made once a formula."""
    advisor = default_advisor()
    assessment = advisor.check(choose_formula(name, KNOWLEDGE, "us"))
    further = Further.of(advisor, assessment, Constraints(), joint=False)
    return assessment, answer_of(assessment, KNOWLEDGE, further), further


def flat(text):
    return " ".join(text.replace("\u00a0", " ").split())


def causes_of(answer):
    return [(str(n), c.name, str(round(100 * c.probability))) for n, c in enumerate(answer.causes, 1)]


def text_page(answer, depth="full", width=400):
    return text_of(page_of(answer, depth), TextStyle(width=width))


def changes_of(answer):
    """Each change with its number, as every page writes it."""
    out = []
    for change in answer.changes:
        what = "; ".join(runs_text(runs) for runs in change.what)
        out.append((change.number, what[:1].upper() + what[1:] if len(change.what) == 1 else what))
    return out


@pytest.mark.parametrize("name", FORMULAS)
def test_pages_name_the_causes_of_the_answer_in_its_order(name):
    _, answer, _ = told(name)
    wide = " ".join(text_page(answer).splitlines())
    found = re.findall(CAUSE.pattern.replace("(?m)^", r"(?<=\s)"), wide)
    assert causes_of(answer) == found
    shares = [cause.probability for cause in answer.causes]
    assert sorted(shares, reverse=True) == shares


def unmarked(markdown):
    """What a reader of Markdown sees, nearly: without bold and escapes."""
    return unescape(re.sub(r"\\(?=[^\w\s])", "", markdown.replace("**", "")))


@pytest.mark.parametrize("name", FORMULAS)
def test_markdown_says_what_the_page_says(name):
    _, answer, _ = told(name)
    document = markdown_of(document_of(answer, "full"))
    said = unmarked(document)
    found = re.findall(CAUSE.pattern, said)
    assert causes_of(answer) == found
    assert flat(runs_text((*answer.verdict.problem, " ", *answer.verdict.first))) in flat(said)
    numbered = {flat(line) for line in said.splitlines()}
    for number, what in changes_of(answer):
        assert [line for line in numbered if line.startswith(f"{number}. ") and flat(what) in line]
    assert 1 == document.count("\n# ") + document.startswith("# ")


@pytest.mark.parametrize("name", FORMULAS)
def test_the_document_has_the_order_figures_and_numbers_of_the_page(name):
    assessment, answer, further = told(name)
    document = assessment_document(assessment, KNOWLEDGE, further=further)
    named = [(c.id, c.probability) for c in document.causes if c.named]
    assert [(c.id, c.probability) for c in answer.causes] == named
    assert named == [(c.id, c.probability) for c in document.causes[: len(named)]]
    assert [(c.number, c.proposal.lever) for c in answer.changes] == [
        (p.number, p.lever) for p in document.proposals
    ]


@pytest.mark.parametrize("name", FORMULAS)
def test_all_depths_begin_with_the_same_verdict(name):
    _, answer, _ = told(name)
    verdict = flat(runs_text((*answer.verdict.problem, " ", *answer.verdict.first)))
    for depth in ("brief", "usual", "full"):
        assert verdict in flat(text_page(answer, depth))


@pytest.mark.parametrize("name", FORMULAS)
def test_the_first_part_fits_a_terminal_of_24_lines(name):
    _, answer, _ = told(name)
    page = text_of(page_of(answer, "brief"), TextStyle(width=80))
    assert 24 >= page.count("\n")


@pytest.mark.parametrize("name", FORMULAS)
def test_a_number_far_out_is_in_the_verdict_and_on_the_usual_page(name):
    _, answer, _ = told(name)
    far = [number for number in answer.numbers if number.far]
    if not far:
        pytest.skip("nothing is far out in this formula")
    assert answer.verdict.wrong
    problem = runs_text(answer.verdict.problem)
    assert far[0].name in problem and "Nothing looks wrong" not in problem
    page = flat(text_page(answer, "usual"))
    assert all(number.name in page for number in far)


@pytest.mark.parametrize("name", FORMULAS[::8])
def test_the_report_says_what_the_page_says(name):
    assessment, answer, _ = told(name)
    page = report_page(answer, assessment, default_advisor().examiner, ())
    said = flat(unescape(re.sub(r"<[^>]+>", "", page.replace("</li>", " ").replace("</p>", " "))))
    at = 0
    for _, cause, share in causes_of(answer):
        at = said.index(f"{cause} (", at)
        assert f", {share} %)" in said[at : at + len(cause) + 40]
    for number, what in changes_of(answer):
        assert flat(what) in said
        assert f'<li value="{number}">' in page


@pytest.mark.parametrize("name", FORMULAS[::8])
def test_a_lesson_comes_to_the_same_verdict(name):
    assessment, answer, _ = told(name)
    formula = assessment.examination.formula
    cause = answer.causes[0].id if answer.causes else None
    course = course_of(
        Topic(title=name, formula=formula, cause=cause, symptom=None), default_advisor().examiner
    )
    steps = {step.kind: step for step in course.steps}
    named = [fact for fact in steps["verdict"].facts if not fact.startswith("risk ")]
    assert [f"{share} % {cause}" for _, cause, share in causes_of(answer)][:4] == named
    changes = steps["change"].facts if "change" in steps else ()
    said = [f"{c.number}. {c.says}" for c in answer.changes[:2]]
    assert said == [fact.partition(":")[0] for fact in changes if fact[:1].isdigit()]


@pytest.mark.parametrize("name", FORMULAS)
def test_the_verdict_says_that_something_is_wrong_exactly_where_the_check_fails(name):
    assessment, answer, _ = told(name)
    assert answer.verdict.wrong == (assessment.deciding_risk >= KNOWLEDGE.coefficient("risk_limit"))


def test_whipped_white_that_lifts_a_bread_without_leavening_is_no_alarm():
    text = """Whipped loaf
200 g egg white
40 g egg white powder
2 g salt
1 g cream of tartar
whip the whites to stiff peaks 7 min, fold in the powder
pan: 22 x 11 x 7 cm
oven: 160 C for 40 min"""
    advisor = default_advisor()
    assessment = advisor.check(read_formula(text))
    further = Further.of(advisor, assessment, Constraints(), joint=False)
    answer = answer_of(assessment, KNOWLEDGE, further)
    assert not answer.verdict.wrong
    assert not any(number.far for number in answer.numbers)


def test_a_question_claims_no_figure_where_nothing_was_taken():
    """No model follows the spots of a plate, so nothing stands in for the minutes that were not told."""
    text = "Egg wrap\n200 g egg white\n40 g egg white powder\nbake on a hot griddle"
    answer = answer_of(default_advisor().check(read_formula(text)), KNOWLEDGE)
    assert answer.asked
    assert not [q for q in answer.asked if "took -" in runs_text(q.took)]


def test_a_step_is_the_difference_of_the_weights_as_they_are_printed():
    """280.49 g and 300 g are printed as 280 g and 300 g: 20 g more, not 19.5 g."""
    change = Change(what="water", before=280.49, after=300.0, unit="g")
    assert runs_text(ChangeWords(KNOWLEDGE).runs(change)).startswith("20 g")
