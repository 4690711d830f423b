"""Who may know whom: imports point one way, a heavy library has few doors, and only the interface meets the world."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import networkx
import pytest

TOP = Path(__file__).parents[1]
PACKAGE = TOP / "advisor"
LAYERS = (
    "knowledge_base",
    "formula",
    "models",
    "inference",
    "diagnosis",
    "remedy",
    "trial_record",
    "formula_design",
    "explanation",
    "rendering",
    "api",
    "interface",
)
"""Each may import itself and what stands before it."""
BESIDE = {"linting": ("knowledge_base", "inference", "diagnosis", "linting")}
"""What stands beside the layers: a program of its own, which the interface starts."""
ROOMS = {
    "models": {
        "dough": (),
        "heat": ("dough",),
        "leavening": ("dough", "heat"),
        "loaf": ("dough", "heat", "leavening"),
    },
    "formula": {
        "lines": (),
        "process": ("lines",),
        "method": ("lines", "process"),
        "writing": ("lines", "process"),
    },
    "remedy": {"levers": (), "plan": ("levers",)},
    "interface": {
        "desk": (),
        "interview": ("desk",),
        "teach": ("desk",),
        "record": ("desk", "interview"),
        "batch": ("desk",),
        "page": ("desk",),
        "commands": ("desk", "interview", "teach", "record", "batch", "page"),
    },
}
"""Layers in rooms, and which other rooms each may import; files beside the rooms are free."""
PUBLIC = ("__init__.py", "__main__.py", "version.py")
"""The package's own front, which stands over all layers."""
MODULES = sorted(PACKAGE.rglob("*.py"))
DOORS = {
    "durable": {"inference/durable_engine.py"},
    "clips": {"inference/clips_engine.py"},
    "pandas": {"api/many.py"},
    "openpyxl": {"formula/files.py"},
    "matplotlib": {"rendering/pictures/plot.py"},
    "networkx": {"diagnosis/cause_graph.py"},
    "numpy": {
        "models/",
        "formula_design/bake_plan.py",
        "formula_design/gaussian.py",
        "remedy/plan/programme.py",
        "remedy/least_squares.py",
        "rendering/timeline_text.py",
        "diagnosis/phrases/leanings.py",
        "diagnosis/posterior.py",
        "diagnosis/uncertainty.py",
    },
    "highspy": {"remedy/plan/programme.py"},
    "rapidfuzz": {"knowledge_base/likeness.py"},
    "yaml": {"knowledge_base/strict_yaml.py"},
    "pydantic": {"knowledge_base/", "rendering/documents/"},
    "segno": {"interface/page/"},
    "starlette": {"interface/page/"},
    "uvicorn": {"interface/page/serving.py"},
    "platformdirs": {"interface/desk/own_places.py"},
    "prompt_toolkit": {"interface/desk/prompting.py", "interface/teach/teach_screen.py"},
}
"""Every library that is not Python's own, with the modules, or the folder, that import it."""
CLOCKS = {"time", "datetime", "calendar", "locale", "random", "secrets", "uuid"}
CLOCK_WORDS = {
    # The library dates its actions; it is given a clock that no interpreter warns of, and nothing here reads it.
    "inference/durable_engine.py": {"time"},
}


def shown(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


@dataclass(frozen=True)
class Module:
    """What is asked of a file; its tree is not kept, since hundreds of them fill memory."""

    imports: tuple[str, ...]
    """Dotted names of all modules that it imports, wherever in the file."""
    meets_the_world: tuple[str, ...]
    """Where it prints, asks, or takes hold of a stream of the process, with the line."""
    idea: str | None


@cache
def module(path: Path) -> Module:
    tree = ast.parse(path.read_text("utf-8"))
    nodes = list(ast.walk(tree))
    return Module(
        imports=tuple(name for node in nodes for name in names_imported(node, path)),
        meets_the_world=tuple(said for node in nodes for said in meetings(node)),
        idea=ast.get_docstring(tree),
    )


def imported(path: Path) -> tuple[str, ...]:
    return module(path).imports


def names_imported(node: ast.AST, path: Path) -> Iterator[str]:
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)
    elif isinstance(node, ast.ImportFrom):
        assert 0 == node.level, f"{shown(path)}: relative import"
        assert node.module is not None
        yield node.module


def meetings(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("print", "input"):
        yield f"{node.lineno}: {node.func.id}"
    if not isinstance(node, ast.Attribute) or not isinstance(node.value, ast.Name) or node.value.id != "sys":
        return
    if node.attr in ("stdin", "stdout", "stderr", "argv", "exit"):
        yield f"{node.lineno}: sys.{node.attr}"


def layer_of(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0]


def test_every_folder_of_the_package_is_a_layer() -> None:
    assert {*LAYERS, *BESIDE, *PUBLIC} == {layer_of(path) for path in MODULES}


@pytest.mark.parametrize("path", MODULES, ids=shown)
def test_imports_point_one_way(path: Path) -> None:
    layer = layer_of(path)
    if layer in PUBLIC:
        return
    allowed = BESIDE.get(layer) or LAYERS[: LAYERS.index(layer) + 1]
    if layer in ("api", "interface"):
        allowed = (*allowed, *BESIDE)
    for name in imported(path):
        first, _, rest = name.partition(".")
        if first != "advisor":
            continue
        if "version" == rest:
            continue
        if not rest:
            assert "interface" == layer, f"{shown(path)} imports the package's front, which stands over it"
        else:
            assert rest.split(".")[0] in allowed, f"{shown(path)} imports {name}"


def module_name(path: Path) -> str:
    return "advisor." + ".".join(path.relative_to(PACKAGE).with_suffix("").parts).removesuffix(".__init__")


def test_no_file_imports_itself_by_way_of_others() -> None:
    graph = networkx.DiGraph()
    known = {module_name(path) for path in MODULES}
    for path in MODULES:
        graph.add_edges_from((module_name(path), name) for name in imported(path) if name in known)
    assert [] == [
        sorted(circle) for circle in networkx.strongly_connected_components(graph) if len(circle) > 1
    ]


@pytest.mark.parametrize("folder", sorted(ROOMS))
def test_rooms_of_a_layer_know_only_those_named(folder: str) -> None:
    for path in (PACKAGE / folder).rglob("*.py"):
        room = path.relative_to(PACKAGE / folder).parts[0].removesuffix(".py")
        for name in imported(path):
            if not name.startswith(f"advisor.{folder.replace('/', '.')}."):
                continue
            other = name.split(".")[1 + len(folder.split("/"))]
            if room in ROOMS[folder] and other in ROOMS[folder] and other != room:
                assert other in ROOMS[folder][room], f"{shown(path)} imports {name}"


@pytest.mark.parametrize("library", sorted(DOORS))
def test_a_library_enters_by_its_doors_alone(library: str) -> None:
    users = {shown(path) for path in MODULES if library in {name.split(".")[0] for name in imported(path)}}
    folders = {door for door in DOORS[library] if door.endswith("/")}
    found = {next((folder for folder in folders if user.startswith(folder)), user) for user in users}
    assert DOORS[library] == found


def test_every_library_has_its_doors_named() -> None:
    used = {name.split(".")[0] for path in MODULES for name in imported(path)}
    foreign = used - set(sys.stdlib_module_names) - {"advisor", "__future__", "pydantic_core"}
    assert set(DOORS) == foreign


@pytest.mark.parametrize("path", [p for p in MODULES if layer_of(p) not in ("interface", *PUBLIC)], ids=shown)
def test_nothing_below_the_interface_prints_asks_or_reads_the_clock(path: Path) -> None:
    clocks = CLOCKS & set(imported(path))
    assert CLOCK_WORDS.get(shown(path), set()) == clocks
    assert () == module(path).meets_the_world


def test_importing_the_package_loads_no_heavy_library() -> None:
    """Whoever imports the package pays for a library only where it is used."""
    code = "import sys, advisor; print(*sorted({name.split('.')[0] for name in sys.modules}))"
    done = subprocess.run([sys.executable, "-c", code], cwd=TOP, capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())
    assert "advisor" in loaded
    assert set() == loaded & set(DOORS)


def test_the_top_level_is_as_agreed() -> None:
    """What a newcomer sees first stays small; caches and environments of whoever works here do not count."""
    agreed = {
        "README.md", "DEVELOPERS.md", "pyproject.toml", "advisor", "rules", "knowledge", "tests", ".ci",
        ".gitignore", "LICENSE",
    }  # fmt: skip
    ignored = {line.rstrip("/") for line in (TOP / ".gitignore").read_text("utf-8").split()} | {".git"}
    found = {path.name for path in TOP.iterdir() if not any(path.match(pattern) for pattern in ignored)}
    assert agreed == found


@pytest.mark.parametrize("path", MODULES, ids=shown)
def test_a_module_says_its_idea_and_stays_short(path: Path) -> None:
    text = path.read_text("utf-8")
    assert module(path).idea
    assert len(text.splitlines()) <= 300
