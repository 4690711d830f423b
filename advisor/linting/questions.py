"""Can a baker answer what is asked: does each question ask, with answers that differ?"""

from __future__ import annotations

from advisor.linting.report import Report


def check_questions(report: Report) -> None:
    """Every symptom and question asks in a sentence that ends as a question; a question has two answers or more."""
    known = report.knowledge
    asked: dict[str, tuple[str, str]] = {}
    texts = [("symptom", name, entry.question) for name, entry in known.symptoms.items()]
    texts += [("question", name, entry.question) for name, entry in known.questions.items()]
    for kind, name, text in texts:
        if not text.rstrip().endswith("?"):
            report.add(kind, name, "question", "the text that asks the baker does not end in '?'")
        plain = " ".join(text.casefold().split())
        if (first := asked.setdefault(plain, (kind, name))) != (kind, name):
            report.add(kind, name, "question", f"asks the same as {first[1]} at {known.where(*first)}")
    for name, question in known.questions.items():
        if len(question.answers) < 2:
            report.add("question", name, "question", "has fewer than two answers to choose from")
        if len({text.casefold().strip() for text in question.answers.values()}) < len(question.answers):
            report.add("question", name, "question", "has two answers that say the same")
