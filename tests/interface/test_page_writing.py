"""Two views of the page without a browser: how a formula is understood, and what an amount does that is moved."""

from __future__ import annotations

import re

import pytest
from page_rounds import EXCESS_WATER, inside, worked

from advisor.formula.reading import read_formula_text
from advisor.formula.writing.edited_text import with_process_line, with_words

UNCLEAR = "Loaf\n1,250 ml water\n200 g almund floor\n60 g sofflour\noven: 175 C for 60 min\nslises: 16\n"


def taps(html: str, name: str) -> list[str]:
    return re.findall(rf"data-{name}='([^']*)'", html)


@pytest.fixture(scope="module")
def client():
    return inside()


def test_every_line_is_shown_with_what_it_was_taken_for(client) -> None:
    found = worked(client, "read", text=EXCESS_WATER)
    assert found["ok"]
    numbers = [int(n) for n in re.findall(r"<li class='\w+' value='(\d+)'", found["lines"])]
    wanted = [n for n, line in enumerate(EXCESS_WATER.splitlines(), 1) if line.strip()]
    assert wanted == numbers
    assert "<strong>whole egg</strong> 300" in found["lines"]


def test_what_is_asked_back_can_be_chosen_with_a_tap(client) -> None:
    found = worked(client, "read", text=UNCLEAR)
    assert not found["ok"]
    assert ["1250", "1.250"] == taps(found["lines"], "to")[:2]
    assert 3 <= len(taps(found["lines"], "to"))
    text = UNCLEAR
    for _ in range(4):
        lines = worked(client, "read", text=text)["lines"]
        if not (offers := taps(lines, "to")):
            break
        text = worked(
            client, "choose", text=text, line=int(taps(lines, "choose")[0]), to=offers[0],
            **{"from": taps(lines, "from")[0]},
        )["text"]  # fmt: skip
    assert "1250 ml water" in text
    assert worked(client, "read", text=text)["ok"]


def test_what_is_not_said_and_matters_leads_to_its_field(client) -> None:
    found = worked(client, "read", text="Loaf\n200 g almond flour\n4 large eggs\noven: 175 C for 50 min\n")
    assert "pan" in taps(found["missing"], "field")
    assert "pan" in taps(found["process"], "key")


@pytest.mark.parametrize(
    ("key", "value", "line"),
    [
        ("oven", "190 C for 50 min", "oven: 190 C for 50 min"),
        ("slices", "12", "slices: 12"),
        ("rest", "20 min", "rest: 20 min"),
    ],
)
def test_a_field_of_the_process_changes_its_line_alone(client, key: str, value: str, line: str) -> None:
    changed = worked(client, "line", text=EXCESS_WATER, key=key, value=value)["text"]
    assert line in changed.splitlines()
    assert 1 == sum(one.startswith(f"{key}:") for one in changed.splitlines())
    kept = [one for one in EXCESS_WATER.splitlines() if not one.startswith(f"{key}:")]
    assert kept == [one for one in changed.splitlines() if not one.startswith(f"{key}:")]


def test_a_field_that_is_emptied_takes_its_line_out(client) -> None:
    assert "target core" not in worked(client, "line", text=EXCESS_WATER, key="target core", value="")["text"]


def test_a_value_that_a_field_does_not_take_is_said(client) -> None:
    answer = client.post("/work/line", json={"text": EXCESS_WATER, "key": "oven", "value": "hot"})
    assert 400 == answer.status_code
    assert answer.json()["said"].startswith("oven: ")


def test_where_a_sentence_says_otherwise_the_field_wins(client, knowledge) -> None:
    told = "Loaf\n200 g almond flour\n4 large eggs\n80 g water\nMethod\nBake at 170 C for 45 minutes.\n"
    changed = worked(client, "line", text=told, key="oven", value="180 C for 50 min")["text"]
    process = read_formula_text(changed, knowledge).process
    assert (180, 50) == (process.oven_c, process.bake_min)


def test_words_are_changed_in_their_line_alone() -> None:
    assert "a\n\nx c\nb b\n" == with_words("a\n\nb c\nb b", 3, "b", "x")
    assert "a\nb" == with_words("a\nb", 2, "z", "x")
    assert "a\nb" == with_words("a\nb", 9, "a", "x")
    assert "proof: 1 h\n" == with_process_line("rise: 2 h\nprove: 3 h", "proof", "1 h")


IN_F = (
    "Almond loaf\n240 g almond flour\n5 large eggs\n100 g butter\n2 tsp baking powder\n"
    "pan: 23 x 10 x 7 cm\nBake at 350 F for 45 minutes.\n"
)


@pytest.mark.parametrize(("wished", "heat"), [("written", "350 F"), ("metric", "177 C"), ("us", "350 F")])
def test_a_page_follows_the_units_of_the_formula_unless_its_baker_has_chosen(client, wished, heat) -> None:
    found = worked(client, "read", text=IN_F, units=wished)
    assert f"value='{heat} for 45 min'" in found["process"]
    assert ("us" if "F" in heat else "metric") == found["units"]
    assert f"At {heat}:" in re.sub(
        "\u00a0|&nbsp;", " ", worked(client, "plan", text=IN_F, units=wished)["answer"]
    )


def test_a_formula_in_c_is_answered_in_c(client) -> None:
    assert "metric" == worked(client, "read", text=EXCESS_WATER, units="written")["units"]
    nothing = worked(client, "read", text="  \n", units="written")
    assert ("metric", False, "Nothing is written yet.") == (nothing["units"], nothing["ok"], nothing["said"])


# ---- amounts that are moved


def test_a_moved_amount_moves_the_answer(client) -> None:
    wet = worked(client, "look", text=EXCESS_WATER)
    dry = worked(client, "look", text=EXCESS_WATER, moved={"6": 150.0})
    assert "gummy middle" in wet["said"]
    assert "gummy middle" not in dry["said"]
    for part in ("verdict", "risks", "numbers", "water"):
        assert wet[part] != dry[part], part


def test_oven_and_minutes_move_the_time_axis(client) -> None:
    asked = {"text": EXCESS_WATER}
    assert worked(client, "look", **asked)["time"] != worked(client, "look", **asked, bake_min=40)["time"]
    assert worked(client, "look", **asked)["time"] != worked(client, "look", **asked, oven_c=200)["time"]


def test_a_look_says_nothing_of_changes_that_were_not_looked_for(client) -> None:
    found = worked(client, "look", text=EXCESS_WATER)
    assert "No single change" not in "".join(found.values())


def test_an_amount_of_nothing_leaves_the_line_out(client) -> None:
    assert "butter" in worked(client, "look", text=EXCESS_WATER)["water"] + "butter"
    text = worked(client, "apply", text=EXCESS_WATER, moved={"7": 0})["text"]
    assert "butter" not in text
    assert "mozzarella" in text


CARD = (
    "Our loaf\n2 cups almond flour\n1/2 cup vital wheat gluten  # the new bag\n4 eggs\n1/2 cup warm water\n"
    "1 tbsp baking powder\nBake at 350 F for 45 minutes in a 9x5 pan. Cool before slicing.\n"
)


def test_what_is_kept_changes_its_own_line_alone(client) -> None:
    moved = worked(client, "apply", text=CARD, moved={"0": 200})["text"]
    assert CARD.replace("2 cups almond flour", "200 g almond flour") == moved
    changed = worked(client, "apply", text=EXCESS_WATER, change="1")["text"].splitlines()
    assert len(set(EXCESS_WATER.splitlines()) - set(changed)) == 1


def test_a_sentence_that_was_taken_is_not_called_uncounted(client) -> None:
    lines = worked(client, "read", text=CARD)["lines"]
    sentence = lines[lines.index("Bake at 350 F") :]
    assert "is taken as oven" in sentence
    assert "kept, not counted" not in sentence


def test_the_plan_names_changes_that_can_be_made(client, knowledge) -> None:
    found = worked(client, "plan", text=EXCESS_WATER)
    assert "Change first" in found["answer"]
    assert ["1", "2"] == taps(found["changes"], "apply")[:2]
    text = worked(client, "apply", text=EXCESS_WATER, change="1")["text"]
    assert 100 < read_formula_text(text, knowledge).grams_of("water") < 200


def test_the_plan_keeps_the_limits_that_are_set(client) -> None:
    found = worked(client, "plan", text=EXCESS_WATER, avoid=["milk"], net_carb_max=0.1)
    assert "are in the formula and are to be avoided (milk)" in found["verdict"]
    assert "over the limit of 0.1" in found["verdict"]
    only = worked(client, "plan", text=EXCESS_WATER, on_hand=["oat fibre"])
    assert "psyllium" not in only["changes"]


def test_eggs_are_moved_by_the_piece(client, knowledge) -> None:
    fields = worked(client, "read", text=EXCESS_WATER)["amounts"]
    assert "data-each='50'" in fields
    text = worked(client, "apply", text=EXCESS_WATER, moved={"4": 200})["text"]
    (egg,) = (line for line in read_formula_text(text, knowledge).lines if line.counted)
    assert (4, 200) == (egg.counted, egg.grams)


def test_as_it_is_and_as_it_was_stand_beside_each_other(client) -> None:
    found = worked(client, "compare", text=EXCESS_WATER, moved={"6": 160.0}, was=EXCESS_WATER)
    assert "80" in found["comparison"]
    assert "as it was" in found["comparison"]
    ids = re.findall(r" id=[\"']([^\"']+)", found["comparison"])
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize(("units", "word"), [("us", "F"), ("metric", "C")])
def test_it_is_written_in_the_units_that_are_chosen(client, units: str, word: str) -> None:
    answer = worked(client, "plan", text=EXCESS_WATER, units=units)["answer"]
    assert re.search(rf"At \d+\s{word}: core set", answer)


def test_the_oven_is_moved_on_the_scale_that_is_chosen(client) -> None:
    fields = worked(client, "read", text=EXCESS_WATER, units="us")["amounts"]
    oven = fields[fields.index("amount-oven_c") :]
    assert "value='347'" in oven
    assert "data-zero='32'" in oven
    assert "value='175'" in worked(client, "read", text=EXCESS_WATER)["amounts"]
