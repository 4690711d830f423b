"""Limits of a project are found from the folder upwards, said in a line, and a fault in them names file and line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from advisor.interface.commands.command_line import main

LOAF = "canteen-sandwich-loaf"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "below").mkdir()
    monkeypatch.chdir(tmp_path / "below")
    return tmp_path


def test_limits_are_found_above_and_said(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "advisor.toml").write_text('sodium_max = 100\nenergy_max = 60\navoid = ["dairy"]\n')
    assert main(["check", LOAF, "--brief"]) == 1
    out, err = capsys.readouterr()
    page = " ".join(out.split())
    assert "sodium in a slice: over the limit of 100 mg." in page
    assert "energy in a slice: over the limit of 60 kcal." in page
    assert "are in the formula and are to be avoided (milk)." in page
    assert "Nothing else looks wrong." in page
    assert err == (
        f"advisor: limits of {folder / 'advisor.toml'}: energy in a slice at most 60 kcal; "
        "sodium in a slice at most 100 mg; without dairy\n"
    )


def test_the_nearest_file_wins_and_a_table_is_needed_in_a_shared_one(folder: Path, capsys) -> None:
    (folder / "advisor.toml").write_text("sodium_max = 100\n")
    (folder / "below" / "pyproject.toml").write_text("[project]\nname = 'x'\n")
    assert main(["check", LOAF, "--brief"]) == 1
    (folder / "below" / "pyproject.toml").write_text(
        "[project]\nname = 'x'\n[tool.advisor]\nsodium_max = 900\n"
    )
    assert main(["check", LOAF, "--brief"]) == 0


def test_the_command_line_wins_but_what_is_avoided_adds_up(folder: Path, capsys) -> None:
    (folder / "advisor.toml").write_text('sodium_max = 100\navoid = ["egg"]\n')
    assert main(["check", LOAF, "--sodium-max", "900", "--avoid", "sesame", "--json"]) == 1
    broken = json.loads(capsys.readouterr().out)["limits_broken"]
    assert broken == ["Whole egg is in the formula and is to be avoided (egg)."]
    assert main(["check", LOAF, "--limits", "none"]) == 0
    assert capsys.readouterr().err == ""


def test_a_batch_and_a_diagnosis_read_them_too(folder: Path, capsys) -> None:
    (folder / "advisor.toml").write_text("cost_max = 5\nprotein_min = 30\nrisk = 0.05\n")
    assert main(["check", LOAF, "almond-egg-loaf", "--summary"]) == 1
    assert "0 sound, 2 at risk or past a limit" in capsys.readouterr().out
    assert main(["diagnose", LOAF, "--saw", "gummy_centre", "--brief"]) == 0
    assert "protein in a slice: under the limit of 30 g." in " ".join(capsys.readouterr().out.split())


def test_what_is_at_hand_serves_a_first_formula(folder: Path, capsys) -> None:
    (folder / "advisor.toml").write_text(
        'on_hand = ["almond flour", "eggs", "psyllium husk powder"]\nenergy_max = 5\n'
    )
    assert main(["start", "--kind", "rolls", "--slices", "8"]) == 1
    page = " ".join(capsys.readouterr().out.split())
    assert "From: almond flour, whole egg, psyllium husk powder." in page
    assert "energy a slice at most" in page


def test_no_proposal_breaks_a_limit_that_the_formula_keeps(advisor, knowledge) -> None:
    from case_files import demo

    from advisor.remedy.constraints import Constraints, per_slice

    formula = demo("canteen-sandwich-loaf-excess-water")
    free = advisor.check(formula)
    now = per_slice(free.examination)
    assert any(
        per_slice(advisor.examiner.examine(p.formula)).energy > now.energy + 1 for p in free.plans.proposals
    )
    limits = Constraints(energy_max=now.energy + 0.5, sodium_max=now.sodium + 1)
    kept = advisor.check(formula, limits)
    assert kept.plans.proposals
    for proposal in kept.plans.proposals:
        after = per_slice(advisor.examiner.examine(proposal.formula))
        assert limits.passed(after) == {}, proposal.changes
    assert any("over the limit" in declined.reason for declined in kept.plans.declined)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("# mine\nnet_carbs = 3\n", ":2: no limit 'net_carbs'; there are risk, net_carb_max"),
        ("net_carb_max = 'x'\n", ":1: net_carb_max: input should be a valid number"),
        ("net_carb_max = 3\navoid = ['dairyy']\n", ":2: avoid: no allergen or ingredient 'dairyy'"),
        ("avoid = 'milk'\n", ":1: avoid: input should be a valid list"),
        ("risk = 3\n", ":1: risk: input should be less than or equal to 1"),
        ("risk = 0.1\nrisk = \n", ":2: this is no TOML"),
        ("on_hand = ['gold dust']\n", ":1: on_hand: no ingredient 'gold dust'"),
    ],
)
def test_a_fault_names_file_and_line_and_what_to_do(folder: Path, text: str, said: str, capsys) -> None:
    path = folder / "advisor.toml"
    path.write_text(text)
    assert main(["check", LOAF]) == 2
    err = capsys.readouterr().err
    assert err.startswith(f"{path}{said}")
    assert "; " in err
    assert err.count("\n") == 1
    path.rename(folder / "pyproject.toml")
    (folder / "pyproject.toml").write_text(f"[project]\nrisk = 1\n\n[tool.advisor]\n{text}")
    assert main(["check", LOAF]) == 2
    number = 4 + int(said.split(":")[1])
    assert f"pyproject.toml:{number}:" in capsys.readouterr().err
