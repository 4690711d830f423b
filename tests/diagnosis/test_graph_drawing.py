"""The cause graph as DOT and Mermaid: well formed, whole, layered, and legible without colour."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from advisor.diagnosis.graph_drawing import dot_text, mermaid_text
from advisor.knowledge_base.graph_entries import Cause, Link
from advisor.knowledge_base.knowledge import Knowledge, read_knowledge
from advisor.knowledge_base.places import find_places

STRING = r'"(?:[^"\\]|\\.)*"'
NAME = rf"(?:[A-Za-z_][A-Za-z_0-9]*|-?[0-9]*\.?[0-9]+|{STRING})"
TOKEN = re.compile(rf"\s*(->|[{{}}\[\];,=]|{NAME})")


def tokens(text: str) -> list[str]:
    found, at = [], 0
    text = text.rstrip()
    while at < len(text):
        match = TOKEN.match(text, at)
        assert match, f"no token of DOT: {text[at : at + 40]!r}"
        found.append(match.group(1))
        at = match.end()
    return found


class Dot:
    """Reads the part of the DOT grammar that a digraph of subgraphs needs; anything else is an error."""

    def __init__(self, text: str) -> None:
        self.left = tokens(text)
        self.nodes: dict[str, tuple[str, dict[str, str]]] = {}
        self.edges: list[tuple[str, str, dict[str, str]]] = []
        self.settings: dict[tuple[str, str], str] = {}
        assert "digraph" == self.take()
        self.statements(self.take())
        assert [] == self.left

    def take(self, *wanted: str) -> str:
        token = self.left.pop(0)
        assert not wanted or token in wanted, (token, wanted)
        return token

    def attributes(self) -> dict[str, str]:
        found: dict[str, str] = {}
        self.take("[")
        while True:
            name = self.take()
            self.take("=")
            found[name] = self.take()
            if self.take(",", "]") == "]":
                return found

    def statements(self, graph: str) -> None:
        self.take("{")
        while self.left[0] != "}":
            word = self.take()
            if word == "subgraph":
                self.statements(self.take())
                continue
            if word in ("graph", "node", "edge"):
                self.settings |= {(graph, f"{word}.{key}"): value for key, value in self.attributes().items()}
            elif self.left[0] == "=":
                self.take("=")
                self.settings[graph, word] = self.take()
            elif self.left[0] == "->":
                self.take("->")
                self.edges.append((word, self.take(), self.attributes()))
            else:
                assert word not in self.nodes
                self.nodes[word] = (graph, self.attributes())
            self.take(";")
        self.take("}")


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return read_knowledge(find_places())


def test_every_node_and_link_stands_in_dot(knowledge: Knowledge) -> None:
    dot = Dot(dot_text(knowledge))
    layers = {name: layer for name, (layer, _) in dot.nodes.items()}
    assert {f"cause_{c}" for c in knowledge.causes} == {n for n, at in layers.items() if at == "causes"}
    assert {f"mechanism_{m}" for m in knowledge.mechanisms} == {
        n for n, at in layers.items() if at == "mechanisms"
    }
    assert {f"symptom_{s}" for s in knowledge.symptoms} == {n for n, at in layers.items() if at == "symptoms"}
    drawn = {tuple(end.partition("_")[2] for end in edge[:2]) for edge in dot.edges if "penwidth" in edge[2]}
    assert {(link.start, link.to) for link in knowledge.links} == drawn
    assert {end for edge in dot.edges for end in edge[:2]} <= dot.nodes.keys()


def test_layers_differ_by_place_and_shape(knowledge: Knowledge) -> None:
    settings = Dot(dot_text(knowledge)).settings
    assert "source" == settings["causes", "rank"]
    assert "sink" == settings["symptoms", "rank"]
    assert 3 == len({settings[layer, "node.shape"] for layer in ("causes", "mechanisms", "symptoms")})


def test_a_link_shows_strength_by_width_and_number_and_when_it_acts(knowledge: Knowledge) -> None:
    link = next(link for link in knowledge.links if link.acts == "late_oven")
    dot = Dot(dot_text(knowledge))
    (look,) = (e[2] for e in dot.edges if e[0].endswith(f"_{link.start}") and e[1].endswith(f"_{link.to}"))
    assert f'"{link.strength:.2f} late oven"' == look["label"]
    widths = {
        float(e[2]["label"].strip('"').split()[0]): float(e[2]["penwidth"])
        for e in dot.edges
        if "penwidth" in e[2]
    }
    assert sorted(widths) == [strength for strength, _ in sorted(widths.items(), key=lambda item: item[1])]


@pytest.mark.parametrize("draw", [dot_text, mermaid_text])
def test_nothing_is_coloured_and_letters_are_black(knowledge: Knowledge, draw: object) -> None:
    text = dot_text(knowledge) if draw is dot_text else mermaid_text(knowledge)
    for grey in re.findall(r"#([0-9a-f]{6})\b", text):
        assert grey[:2] == grey[2:4] == grey[4:]
    named = re.findall(r"(?:color|fillcolor|fontcolor)=([a-z0-9]+)", text)
    assert {"black", "white"} >= {name for name in named if not re.fullmatch(r"gray\d+", name)}
    # Under black letters a grey must be light.
    assert all(int(share) >= 80 for share in re.findall(r"fillcolor=gray(\d+)", text))
    assert all(int(fill, 16) >= 0xCC for fill in re.findall(r"fill:#([0-9a-f]{2})", text))


def test_a_finer_cause_does_not_push_its_heading_out_of_the_layer(knowledge: Knowledge) -> None:
    finer = {name for name, cause in knowledge.causes.items() if cause.refines}
    dashed = [e for e in Dot(dot_text(knowledge)).edges if e[2].get("style") == "dashed"]
    assert {f"cause_{name}" for name in finer} == {e[0] for e in dashed}
    assert {"false"} == {e[2]["constraint"] for e in dashed}


def hostile(knowledge: Knowledge) -> Knowledge:
    cause = Cause(
        id="end",
        name='A "cup" \\ of #1;\nwater',
        group="test",
        base_rate=0.1,
        says="Only a test.",
        grade="demo",
    )
    links = (
        Link.model_validate(
            {"from": "end", "to": "unbound_water", "strength": 0.5, "acts": "proof", "grade": "demo"}
        ),
        Link.model_validate(
            {"from": "end", "to": "nowhere", "strength": 0.5, "acts": "proof", "grade": "demo"}
        ),
    )
    return replace(knowledge, causes={"end": cause}, links=links)


def test_names_with_quotes_and_words_of_the_language_stay_names(knowledge: Knowledge) -> None:
    dot = Dot(dot_text(hostile(knowledge)))
    assert '"A \\"cup\\" \\\\ of #1; water"' == dot.nodes["cause_end"][1]["label"]
    assert [("cause_end", "mechanism_unbound_water")] == [edge[:2] for edge in dot.edges]
    mermaid = mermaid_text(hostile(knowledge))
    assert '    cause_end["A #quot;cup#quot; \\ of #35;1; water"]:::cause\n' in mermaid
    assert "nowhere" not in mermaid


MERMAID_LINE = re.compile(
    r"flowchart LR|  subgraph \w+|  end"
    r'|    \w+(?:\["[^"]*"\]|\("[^"]*"\)|\{\{"[^"]*"\}\}):::\w+'
    r'|  \w+ (?:-->|-\.->)\|"[^"]*"\| \w+'
    r"|  linkStyle \d+ stroke:#404040,stroke-width:\d\.\d\dpx"
    r"|  classDef \w+ fill:#[0-9a-f]{6},stroke:#000000,color:#000000"
)


def test_mermaid_has_every_node_and_link_in_lines_of_known_kinds(knowledge: Knowledge) -> None:
    lines = mermaid_text(knowledge).splitlines()
    assert [] == [line for line in lines if not MERMAID_LINE.fullmatch(line)]
    assert len(knowledge.links) == sum(" -->|" in line for line in lines)
    nodes = len(knowledge.causes) + len(knowledge.mechanisms) + len(knowledge.symptoms)
    assert nodes == sum(":::" in line for line in lines)
    assert len(knowledge.links) == sum("linkStyle" in line for line in lines)


def test_a_link_style_of_mermaid_stands_for_its_link(knowledge: Knowledge) -> None:
    lines = mermaid_text(knowledge).splitlines()
    arrows = [line for line in lines if "|" in line]
    for line in lines:
        if match := re.search(r"linkStyle (\d+) .*width:([\d.]+)px", line):
            strength = float(arrows[int(match.group(1))].split('"')[1].split()[0])
            assert pytest.approx(0.5 + 3.5 * strength, abs=0.02) == float(match.group(2))
