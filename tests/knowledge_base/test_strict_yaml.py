"""What the YAML reader refuses, each with its smallest sample; nothing but its own error leaves it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.knowledge_base.faults import Finding, KnowledgeFault
from advisor.knowledge_base.strict_yaml import parse_yaml, read_yaml


def finding(text: str) -> Finding:
    """The one finding that a text gives."""
    with pytest.raises(KnowledgeFault) as caught:
        parse_yaml(text, "sample.yaml")
    (only,) = caught.value.findings
    return only


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("a: 1\na: 2", 2, "the key 'a' stands twice"),
        ("a: 1\nb: on", 2, "write true or false, or put quotes around 'on'"),
        ("a: off", 1, "quotes around 'off'"),
        ("a: yes", 1, "quotes around 'yes'"),
        ("a: No", 1, "quotes around 'No'"),
        ("a: True", 1, "quotes around 'True'"),
        ("a: 12:30", 1, "'12:30' would be guessed to be a int"),
        ("a: 1:30.5", 1, "'1:30.5' would be guessed to be a float"),
        ("a:\n- 2024-01-31", 2, "would be guessed to be a timestamp"),
        ("a: 1e3", 1, "'1e3' would be read as text: write the number out"),
        ("a: 1.5E2", 1, "'1.5E2' would be read as text"),
        ("a: 0x1F", 1, "'0x1F' would be guessed"),
        ("a: 017", 1, "'017' would be guessed"),
        ("a: 1_000", 1, "'1_000' would be guessed"),
        ("a: .inf", 1, "'.inf' would be guessed"),
        ("a: .nan", 1, "'.nan' would be guessed"),
        ("a: !!binary aGk=", 1, "would be guessed to be a binary"),
        ("a: !own 1", 1, "would be guessed"),
        ("a: &x 1\nb: *x", 2, "aliases are refused"),
        ("? [a, b]\n: 1", 1, "a key must be a plain word"),
        ("a: {<<: {b: 1}}", 1, "a key must be a plain word"),
        ("a: [1, 2", 2, "is not YAML"),
        ("a: !!int abc", 1, "'abc' would be guessed to be a int"),
        ("a: !!float abc", 1, "'abc' would be guessed to be a float"),
        ("a: " + "1" * 5000, 1, "would be guessed to be a int"),
        ("a: 1" + "0" * 400, 1, "would be guessed to be a int"),
        ("a: 1.0e+400", 1, "would be guessed to be a float"),
        ("a: \ud800", 1, "half a surrogate pair"),
        ("", 1, "is empty"),
        ("# only a comment", 1, "is empty"),
        ("a: 1\n---\nb: 2", 2, "is not YAML"),
        ("a: \x07", 1, "is not YAML"),
    ],
)
def test_refuses_what_yaml_would_guess(text: str, line: int, says: str) -> None:
    found = finding(text)
    assert says in found.message
    assert line == found.line
    assert ("sample.yaml", "yaml") == (found.file, found.check)


def test_refuses_deep_nesting_without_running_out_of_stack() -> None:
    assert "nested deeper than 12 levels" in finding("[" * 13 + "1" + "]" * 13).message


@pytest.mark.parametrize("depth", [500, 5_000, 100_000])
def test_very_deep_nesting_is_refused_too(depth: int) -> None:
    with pytest.raises(KnowledgeFault):
        parse_yaml("[" * depth + "]" * depth, "sample.yaml")


def test_twelve_levels_are_allowed() -> None:
    text = "[" * 12 + "1" + "]" * 12
    assert parse_yaml(text, "sample.yaml").data is not None


def test_all_faults_of_a_file_come_at_once() -> None:
    with pytest.raises(KnowledgeFault) as caught:
        parse_yaml("a: on\nb: 12:30\nc: 1e3", "sample.yaml")
    assert [1, 2, 3] == [f.line for f in caught.value.findings]


def test_refuses_files_over_two_megabytes(tmp_path: Path) -> None:
    path = tmp_path / "big.yaml"
    path.write_bytes(b"#" * 2_000_001)
    with pytest.raises(KnowledgeFault, match="over 2 MB"):
        read_yaml(path, "big.yaml")


@pytest.mark.parametrize("content", [b"\xff\xfe\x00a", b"a: \xc3\x28"])
def test_refuses_what_is_not_utf8(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "odd.yaml"
    path.write_bytes(content)
    with pytest.raises(KnowledgeFault, match=r"odd\.yaml:1 yaml cannot be read"):
        read_yaml(path, "odd.yaml")


def test_a_missing_file_is_a_fault_of_the_knowledge(tmp_path: Path) -> None:
    with pytest.raises(KnowledgeFault, match="cannot be read"):
        read_yaml(tmp_path / "none.yaml", "none.yaml")


def test_reads_plain_data_and_keeps_each_line() -> None:
    document = parse_yaml(
        '- id: a\n  list:\n  - 1\n  - -2.5\n- {id: "no", ok: true, none: null}\n', "sample.yaml"
    )
    assert [{"id": "a", "list": [1, -2.5]}, {"id": "no", "ok": True, "none": None}] == document.data
    assert (1, 2, 4, 5) == tuple(document.line_of(p) for p in [(0,), (0, "list"), (0, "list", 1), (1, "ok")])


def test_line_of_an_unknown_path_is_that_of_its_nearest_ancestor() -> None:
    document = parse_yaml("- id: a\n- id: b\n", "sample.yaml")
    assert 2 == document.line_of((1, "missing", 3))


YAML_LIKE = st.text(alphabet="ab01:-[]{}&*!|>'\"#%@,?.~<= \n\t\x00\x85\ufeff\ud800é", max_size=60)


@given(st.one_of(st.text(), YAML_LIKE))
def test_no_text_raises_anything_but_a_knowledge_fault(text: str) -> None:
    try:
        document = parse_yaml(text, "sample.yaml")
    except KnowledgeFault as fault:
        assert fault.findings
        assert all(f.line >= 1 and f.message for f in fault.findings)
    else:
        assert document.lines[()] >= 1
