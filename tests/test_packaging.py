"""Wheel and sdist: built, installed into a new environment, and used from another folder. Slow: `-m slow`."""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import subprocess
import sys
import tarfile
import venv
import zipfile
from collections.abc import Sequence
from pathlib import Path

import pytest

TOP = Path(__file__).parents[1]
pytestmark = pytest.mark.slow
CLIENT = """
from advisor import check, check_text, diagnose, read_formula
formula = read_formula("100 g vital wheat gluten\\n90 g water")
risk: float = check(formula).worst_risk
exit_: int = check_text("90 g water").exit
name: str = diagnose(formula, saw=["dense_crumb"]).examination.diagnosis.causes[0].id
reveal_type(check(formula).plans.proposals[0].changes)
"""
WRONG = "\nrisk = check(formula).worst_rsk\ncheck(3)\ncheck(formula).kind = 'x'\n"


def run(
    command: Sequence[str | Path], cwd: Path, *, exits: int = 0, given: str | None = None
) -> subprocess.CompletedProcess[str]:
    """Run a command as somebody would who has only what was installed."""
    kept = ("PATH", "HOME", "LANG", "TMPDIR", "http_proxy", "https_proxy", "no_proxy", "SSL_CERT_FILE")
    environment = {
        k: v for k, v in os.environ.items() if k in kept or k.startswith(("PIP_", "PIPX_", "XDG_", "UV_"))
    }
    environment |= {"ADVISOR_INGREDIENTS": os.devnull, "ADVISOR_RECORD": str(cwd / "none.sqlite3")}
    ran = subprocess.run(
        [str(word) for word in command], cwd=cwd, env=environment, capture_output=True, text=True,
        check=False, input=given,
    )  # fmt: skip
    assert exits == ran.returncode, ran.stdout[-3000:] + ran.stderr[-3000:]
    return ran


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the sdist, and the wheel that is built from the sdist and not from here."""
    if importlib.util.find_spec("hatchling") is None:
        pytest.skip("hatchling, of the extra 'dev', is not installed")
    out = tmp_path_factory.mktemp("built")
    run([sys.executable, "-m", "hatchling", "build", "-t", "sdist", "-d", out], TOP)
    (sdist,) = out.glob("*.tar.gz")
    with tarfile.open(sdist) as archive:
        archive.extractall(out / "source", filter="data")
    (source,) = (out / "source").iterdir()
    run([sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", out], source)
    return out


@pytest.fixture(scope="module")
def installed(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The programs of a new environment that holds the wheel and what it asks for, and nothing else."""
    folder = tmp_path_factory.mktemp("environment")
    venv.create(folder, with_pip=True)
    (wheel,) = built.glob("*.whl")
    run([folder / "bin" / "python", "-m", "pip", "install", "--quiet", wheel], folder)
    return folder / "bin"


@pytest.fixture
def elsewhere(tmp_path: Path) -> Path:
    folder = tmp_path / "a folder with spaces"
    folder.mkdir()
    return folder


def names_in(folder: str) -> set[str]:
    return {
        path.relative_to(TOP).as_posix()
        for path in (TOP / folder).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }


def test_the_wheel_holds_code_types_and_knowledge_and_no_tests(built: Path) -> None:
    (wheel,) = built.glob("*.whl")
    held = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}
    data = {f"advisor/shipped/{name}" for folder in ("rules", "knowledge") for name in names_in(folder)}
    assert names_in("advisor") | data == held
    assert "advisor/py.typed" in held


def test_the_sdist_holds_what_is_needed_to_build_and_test(built: Path) -> None:
    (sdist,) = built.glob("*.tar.gz")
    with tarfile.open(sdist) as archive:
        held = {name.partition("/")[2] for name in archive.getnames()}
    wanted = {"pyproject.toml", "README.md", "LICENSE", ".ci/run"}
    for folder in ("advisor", "rules", "knowledge", "tests"):
        wanted |= names_in(folder)
    assert set() == wanted - held


def test_it_works_from_another_folder(installed: Path, elsewhere: Path) -> None:
    program = installed / "advisor"
    assert run([program, "--version"], elsewhere).stdout.startswith("dough-advisor ")
    assert "Nothing looks wrong" in run([program, "check", "canteen-sandwich-loaf"], elsewhere).stdout
    where = run([installed / "python", "-c", "import advisor; print(advisor.__file__)"], elsewhere).stdout
    assert Path(where.strip()).is_relative_to(installed.parent)
    saw = ["--saw", "gummy_centre"]
    told = run([program, "diagnose", "canteen-sandwich-loaf-excess-water", *saw, "--json"], elsewhere)
    assert "excess_water" == json.loads(told.stdout)["causes"][0]["id"]
    assert "complete" in run([program, "--completion", "bash"], elsewhere).stdout


PLACES = {
    "pipx": ("PIPX_HOME", "PIPX_BIN_DIR"),
    "uv": ("UV_TOOL_DIR", "UV_TOOL_BIN_DIR"),
}
"""Installers of programs, and where each is told to put what it makes."""


@pytest.mark.parametrize("installer", PLACES)
def test_installers_of_programs_take_the_wheel(
    installer: str, built: Path, elsewhere: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if shutil.which(installer) is None:
        pytest.skip(f"{installer} is not installed")
    (wheel,) = built.glob("*.whl")
    for variable, folder in zip(PLACES[installer], ("kept", "bin"), strict=True):
        monkeypatch.setenv(variable, str(elsewhere / folder))
    words = ["tool", "install", "--python", sys.executable] if installer == "uv" else ["install"]
    run([installer, *words, wheel], elsewhere)
    version = next(
        line for line in (TOP / "advisor/version.py").read_text().splitlines() if "=" in line
    ).split('"')[1]
    assert f"dough-advisor {version}\n" == run([elsewhere / "bin" / "advisor", "--version"], elsewhere).stdout


def test_a_batch_works_there_with_workers(installed: Path, elsewhere: Path) -> None:
    folder = elsewhere / "catalogue"
    folder.mkdir()
    for n in range(6):
        (folder / f"{n}.txt").write_text(f"100 g vital wheat gluten\n{80 + 5 * n} g water\n2 g salt\n")
    (folder / "bad.txt").write_text("no formula\n")
    arguments = [installed / "advisor", "check", "catalogue", "--jobs", "2", "--resume", "log.jsonl"]
    first = run(arguments, elsewhere, exits=2)
    assert "7 formulas:" in first.stdout
    assert "7 known from before" in run(arguments, elsewhere, exits=2).stdout
    assert 7 == len((elsewhere / "log.jsonl").read_text().splitlines())


def test_a_typed_client_is_checked_against_the_installed_types(installed: Path, elsewhere: Path) -> None:
    if importlib.util.find_spec("mypy") is None:
        pytest.skip("mypy, of the extra 'dev', is not installed")
    checker = [sys.executable, "-m", "mypy", "--strict", "--python-executable", installed / "python"]
    (elsewhere / "client.py").write_text(CLIENT)
    run([installed / "python", "-c", CLIENT.replace("reveal_type", "id")], elsewhere)
    sound = run([*checker, "client.py"], elsewhere).stdout
    assert "tuple[advisor.remedy.change.Change, ...]" in sound
    (elsewhere / "wrong.py").write_text(CLIENT + WRONG)
    found = run([*checker, "wrong.py"], elsewhere, exits=1).stdout
    for code in ("[attr-defined]", "[arg-type]", "[misc]"):
        assert code in found
