"""Pages as judges see them: the Nu Html Checker, axe-core in a browser, and their own policy."""

from __future__ import annotations

import json
import os
import shutil
import socket
import subprocess
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import pytest

from demos import shipped
from pictures import noise, saved
from report.visits import HEAD, HOT_CAR, UNREAD
from tailblock.inspection import store
from tailblock.inspection.picture import picture_of
from tailblock.knowledge.graph import graph_of_part
from tailblock.knowledge.loader import load
from tailblock.pipeline import examine, open_inspection
from tailblock.report.build import build
from tailblock.report.graph_svg import to_svg
from tailblock.report.to_html import to_html

if TYPE_CHECKING:
    from playwright.sync_api import Browser

    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.model import Copy, Report

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
DEMOS = sorted((ROOT / "demo_inspections").glob("*.yaml"))
COPIES: list[Copy] = ["player", "bench"]
NAMES = [*(demo.stem for demo in DEMOS), "hostile", "unread", "photographs"]

PARTS = ("bridge", "neck-joint", "top")
HOSTILE = "<script>alert(1)</script> </title> \u202e \u05e9\u05dc\u05d5\u05dd \u53e4\u3044 & \x07"
# What the checker says of a picture within a page whose policy allows just that (version 26.9).
NOT_TRUE = "Resource violates Content Security Policy (meta tag): image \u201cdata:image/jpeg"
MEDIA: tuple[Literal["screen", "print"], ...] = ("screen", "print")


def judge(name: str) -> Path:
    """Return a file of a package that `.ci/setup` installs; it may be missing at home."""
    path = ROOT / ".ci" / "node_modules" / name
    if not path.exists() and "CI" not in os.environ:
        pytest.skip("`.ci/setup` installs the validators")
    return path


def _report(name: str, bench: Checklist) -> Report:
    if name in {"hostile", "unread", "photographs"}:
        text = (HEAD + (UNREAD if name == "unread" else HOT_CAR)).encode()
        inspection = store.from_bytes(text, Path("job.yaml"), lambda _: bench)
        picture = picture_of(saved(noise((320, 240))))
        report = build(examine(bench, inspection), pictures={"photos/a.jpg": picture})
        if name == "hostile":
            head = report.heading
            typed = replace(head, instrument=HOSTILE, job=HOSTILE, player=HOSTILE, note=HOSTILE)
            return replace(report, heading=typed)
        return report
    demo = ROOT / "demo_inspections" / f"{name}.yaml"
    return build(examine(*open_inspection(demo, shipped)))


class Pages:
    """Both copies of demos and of reports at the edge, as files; each is written when asked."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        (folder / "bench").mkdir()
        shutil.copy(ROOT / "tests" / "report" / "bench.yaml", folder / "bench" / "checklist.yaml")
        bench = load(folder / "bench").checklist
        assert bench is not None
        self._bench = bench

    def path(self, name: str, copy: Copy) -> Path:
        """Return the file of a copy."""
        if not (self._folder / f"{name}.{copy}.html").exists():
            report = _report(name, self._bench)
            for each in COPIES:
                file = self._folder / f"{name}.{each}.html"
                file.write_text(to_html(report, copy=each), encoding="utf-8")
        return self._folder / f"{name}.{copy}.html"


@pytest.fixture(scope="session")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Pages:
    return Pages(tmp_path_factory.mktemp("judged"))


def checked(*arguments: str | Path) -> list[str]:
    """Return what the Nu Html Checker has to say of some files."""
    jar = judge("vnu-jar/build/dist/vnu.jar")
    command = ["java", "-jar", jar, "--format", "json", *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    return [
        f"{Path(said['url']).name}:{said.get('lastLine')}: {said['message']}"
        for said in json.loads(done.stderr)["messages"]
        if not said["message"].startswith(NOT_TRUE)
    ]


def test_the_checker_finds_what_is_wrong(tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.html"
    wrong.write_text("<!doctype html><title>a</title><p id=x><p id=x><img>", encoding="utf-8")
    said = "\n".join(checked(wrong))
    assert "Duplicate ID" in said
    assert "src" in said


def test_pages_are_valid_html(pages: Pages) -> None:
    assert checked(*(pages.path(name, copy) for name in NAMES for copy in COPIES)) == []


def test_drawings_are_valid_svg(tmp_path: Path) -> None:
    flat_top = shipped("flat-top")
    drawn = [tmp_path / f"{part}.svg" for part in PARTS]
    for path in drawn:
        path.write_text(to_svg(graph_of_part(flat_top, path.stem)), encoding="utf-8")
    assert checked("--svg", *drawn) == []


def _violations(page: Any) -> list[tuple[str, str]]:
    """Return the rules of axe-core that are broken, each with the first place."""
    page.evaluate(judge("axe-core/axe.min.js").read_text(encoding="utf-8"))
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
    return [(rule["id"], rule["nodes"][0]["html"]) for rule in found]


def test_axe_finds_what_is_wrong(browser: Browser) -> None:
    page = browser.new_page()
    page.set_content("<img src='data:,'><p style='color:#aaa;background:#fff'>faint</p>")
    assert {rule for rule, _ in _violations(page)} >= {"image-alt", "color-contrast"}
    page.close()


@pytest.mark.parametrize("copy", COPIES)
@pytest.mark.parametrize("name", NAMES)
def test_pages_break_no_rule_of_axe_and_ask_for_nothing(
    browser: Browser, pages: Pages, name: str, copy: Copy
) -> None:
    path = pages.path(name, copy)
    page = browser.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    for media in MEDIA:
        page.emulate_media(media=media)
        assert _violations(page) == []
    assert [url for url in asked if not url.startswith("data:image/jpeg;base64,")] == [
        path.as_uri()
    ]
    page.close()


@pytest.mark.parametrize("part", PARTS)
def test_drawings_within_a_page_break_no_rule_of_axe(
    browser: Browser, tmp_path: Path, part: str
) -> None:
    drawn = to_svg(graph_of_part(shipped("flat-top"), part))
    path = tmp_path / "page.html"
    head = "<!doctype html><html lang=en><title>A part</title><main><h1>A part</h1>"
    path.write_text(f"{head}{drawn}</main></html>", encoding="utf-8")
    page = browser.new_page()
    page.goto(path.as_uri())
    assert _violations(page) == []
    page.close()


ASK = """address => new Promise(done => {
  document.addEventListener('securitypolicyviolation', e => done(e.effectiveDirective));
  setTimeout(() => done('allowed'), 2000);
  %s
})"""


def _said_to(listening: socket.socket) -> bytes:
    """Return what a caller has said; a browser may open a line before it is forbidden to."""
    try:
        called, _ = listening.accept()
    except BlockingIOError:
        return b""
    with called:
        called.settimeout(1)
        with suppress(TimeoutError):
            return called.recv(100)
    return b""


APPEND = "document.body.append(Object.assign(document.createElement('%s'), {%s: address}))"


@pytest.mark.parametrize(
    ("asks", "forbidden_by"),
    [
        ("new Image().src = address", "img-src"),
        ("fetch(address).catch(() => 0)", "connect-src"),
        (APPEND % ("script", "src"), "script-src-elem"),
        (APPEND % ("link", "rel: 'stylesheet', href"), "style-src-elem"),
        (APPEND % ("iframe", "src"), "frame-src"),
        (APPEND % ("base", "href"), "base-uri"),
        (f"{APPEND % ('form', 'action')}; document.forms[0].submit()", "form-action"),
    ],
    ids=["picture", "fetch", "script", "style", "frame", "base", "form"],
)
def test_a_page_forbids_itself_every_request(
    browser: Browser, pages: Pages, asks: str, forbidden_by: str
) -> None:
    page = browser.new_page()
    page.goto(pages.path("unread", "player").as_uri())
    with socket.create_server(("127.0.0.1", 0)) as listening:
        listening.settimeout(0)
        address = f"http://127.0.0.1:{listening.getsockname()[1]}/anything"
        assert page.evaluate(ASK % asks, address) == forbidden_by
        assert _said_to(listening) == b""
    page.close()
