"""The report in a real browser, where there is one: it opens, says nothing on the console, runs nothing, prints."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from advisor.interface.commands.command_line import main

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
pytestmark = pytest.mark.skipif(BROWSER is None, reason="no browser on this machine")


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    folder = tmp_path_factory.mktemp("browser")
    formula = folder / "f.txt"
    formula.write_text(
        "<script>document.title='harm'</script><img src=x onerror=document.title='harm'>\n"
        "200 g almond flour\n4 large eggs\n60 g butter\n8 g baking powder\n"
        "pan: 20 x 10 x 8 cm\noven: 170 C for 55 min\n"
    )
    assert 0 == main(["report", str(formula), "--out", str(folder / "page.html")])
    return folder / "page.html"


def browse(page, *words):
    own = page.parent / "profile"
    return subprocess.run(
        [
            BROWSER, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={own}", "--enable-logging=stderr",
            *words, page.as_uri(),
        ],
        capture_output=True, text=True, timeout=180, check=True,
    )  # fmt: skip


def test_it_opens_and_runs_nothing(page):
    done = browse(page, "--dump-dom")
    assert "<title>&lt;script&gt;document.title" in done.stdout
    assert "The dough and its numbers" in done.stdout
    assert "CONSOLE" not in done.stderr


def test_it_prints(page):
    paper = page.parent / "page.pdf"
    browse(page, f"--print-to-pdf={paper}")
    assert b"%PDF" == paper.read_bytes()[:4]
