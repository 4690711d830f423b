"""The Python side: all public names are there, typed, and what they give is short in a line and whole as a dict."""

from __future__ import annotations

import inspect
import pickle
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from case_files import demo

import advisor
from advisor import schema

WET = "canteen-sandwich-loaf-excess-water"


def test_every_public_name_is_there_and_says_what_it_is():
    for name in advisor.__all__:
        found = getattr(advisor, name)
        assert inspect.getdoc(found), name
        if inspect.isfunction(found):
            assert "return" in found.__annotations__, name
    assert set(advisor.__all__) <= set(dir(advisor))
    with pytest.raises(AttributeError, match="no attribute 'chekc'"):
        advisor.chekc  # noqa: B018  # the look-up itself is what fails


RESULTS = {
    "check": lambda: advisor.check(demo(WET)),
    "diagnosis": lambda: advisor.diagnose(demo(WET), saw=["gummy_centre"]),
    "proof": lambda: advisor.why(demo(WET), "excess_water"),
    "trial": lambda: advisor.try_changes(demo(WET), "water -30 g", "oven 165 C"),
    "difference": lambda: advisor.differ(demo(WET), demo("canteen-sandwich-loaf")),
    "ingredients": lambda: advisor.ingredients("psyllium"),
    "symptoms": lambda: advisor.symptoms("it sank as it cooled"),
    "glossary": lambda: advisor.glossary("oven spring"),
    "sources": lambda: advisor.sources("psyllium"),
    "lesson": lambda: advisor.teach(advisor.lessons()[0]),
    "nutrition": lambda: advisor.nutrition(demo(WET)),
    "label": lambda: advisor.label(demo(WET)),
    "scale-up": lambda: advisor.scale_up(demo(WET), 12, batches=2, mixer="spiral"),
    "start": lambda: advisor.start_formulas("eggs, cream cheese", kind="foam bread"),
    "improve": lambda: advisor.improve(demo("psyllium-rolls"), "taller", at_most=0.1),
    "tolerance": lambda: advisor.tolerance(
        "title: t\n200 g almond flour\n4 large eggs\n8 g baking powder\noven: 170 C for 45 min"
    ),
}


@pytest.mark.parametrize("kind", RESULTS)
def test_a_result_is_short_in_a_line_and_whole_as_a_dict(kind):
    found = RESULTS[kind]()
    assert len(repr(found)) < 300
    assert "\n" not in repr(found)
    jsonschema.validate(found.to_dict(), schema(kind))
    page = found._repr_html_()
    assert "<" in page and "<script" not in page
    assert str(found).strip()


@pytest.mark.parametrize("kind", ["check", "nutrition", "label", "trial"])
def test_a_result_can_be_sent_to_another_process(kind):
    found = RESULTS[kind]()
    again = pickle.loads(pickle.dumps(found))
    assert repr(found) == repr(again)
    assert found.to_dict() == again.to_dict()


def test_hostile_names_stay_text():
    found = advisor.check("title: <script>alert(1)</script>\n100 g gluten\n80 g water\n")
    assert "<script" not in found._repr_html_()
    assert len(repr(advisor.check("x" * 280 + "\n100 g gluten\n80 g water\n"))) < 300


def test_a_report_is_one_page():
    page = advisor.report(advisor.check(demo(WET)))
    assert page.startswith("<!")
    assert "http" not in page.split("</head>")[0].replace("http-equiv", "")


@pytest.mark.parametrize("form", ["text", "yaml", "percentages", "weighing-list"])
def test_forms_are_written(form):
    assert advisor.write(demo(WET), form).strip()


def test_names_that_are_not_known_say_what_is_near():
    with pytest.raises(KeyError, match="excess_water"):
        advisor.why(demo(WET), "exces_water")
    with pytest.raises(KeyError, match="no lesson"):
        advisor.teach("juggling")


def test_the_front_is_quick_and_typed():
    marker = Path(advisor.__file__).with_name("py.typed")
    assert marker.exists()
    code = "import sys, advisor; assert 'pydantic' not in sys.modules; advisor.check; print(len(advisor.__all__))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert int(done.stdout) == len(advisor.__all__)
