"""Gives each demo job names made to do harm, and holds that they come out inert in every form.

    python3 tests/pages/names.py PROGRAM

Needs pymupdf, html5lib, markdown-it-py and playwright with a `chromium` on the path. Each form is read by a
general program for it: Markdown by a CommonMark parser that lets HTML through, HTML by an HTML 5 parser
and by a browser, SVG by an XML parser, PDF, CSV, JSON and TOML by theirs.
"""

import csv
import io
import json
import re
import shutil
import sys
import tempfile
import tomllib
import xml.etree.ElementTree as xml
from pathlib import Path

import html5lib
import pymupdf
from markdown_it import MarkdownIt
from playwright.sync_api import sync_playwright

from demo import DOCUMENTS, JOBS, SHOP, faults, hold, run

HARM = (
    "<script>alert(1)</script>|*b*_c_`q`\"'&amp;\x1b[31m\x1b]0;owned\x07\r\n=1+1\u202e~~x~~[l](javascript:alert(2))"
    "<img src=x onerror=alert(3)>## $x$ {{ 7*7 }} {% raw %} --> ]]> </style> \\"
)
# Begins a formula in a sheet of a general program, as does a tab or a carriage return.
FORMULA = ("=", "+", "-", "@", "\t", "\r")
CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")

def quoted(words):
    special = {'"': '\\"', "\\": "\\\\"}
    shown = (f"\\u{ord(c):04x}" if CONTROL.match(c) or c in "\r\n" else special.get(c, c) for c in words)
    return '"' + "".join(shown) + '"'


def harmful(text):
    """The job with harm behind each name of several words, wherever it is spoken of, and before the title."""
    names = set(re.findall(r'^name = "([^"]+ [^"]+)"', text, re.MULTILINE))
    for name in sorted(names):
        terminal = r"((?: in| out)?(?: [+-])?)"
        renamed = lambda found: quoted(name + HARM + (found.group(1) or ""))
        text = re.sub(f'"{re.escape(name)}{terminal}"', renamed, text)
    title = re.search(r'^title = "([^"]+)"', text, re.MULTILINE)
    return text.replace(f'"{title.group(1)}"', quoted("=" + HARM + title.group(1)), 1), len(names)


def terminal(here, text):
    hold(not CONTROL.search(text), f"{here}: {CONTROL.search(text)}")


def colours(here, text):
    """Only the program's own colours: one number or two, and none but those that set letters."""
    bare = re.sub(r"\x1b\[[0-9;]*m", "", text)
    hold(not CONTROL.search(bare), f"{here}: {CONTROL.search(bare)}")


def elements(here, tree, names, own_scripts):
    scripts = tree.findall(".//script")
    hold(len(scripts) == own_scripts, f"{here}: {len(scripts)} scripts")
    for element in tree.iter():
        hold(isinstance(element.tag, str) or own_scripts, f"{here}: a comment")
        drawing = element.tag == "img" and element.get("src").startswith("drawings/")
        hold(drawing or element.tag not in ("img", "iframe", "object", "form"), f"{here}: a <{element.tag}>")
        for key, value in element.attrib.items():
            hold(not key.startswith("on"), f"{here}: an attribute `{key}`")
            hold("javascript:" not in value or key not in ("href", "src"), f"{here}: leads to `{value}`")
    told = "".join(tree.itertext())
    hold("alert(1)" in told or not names, f"{here}: does not name what it was given")
    hold("49" not in re.findall(r"\$x\$ (\S+)", told), f"{here}: a template within a name was run")


def markdown(here, text):
    page = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"]).render(text)
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    elements(here, tree, True, 0)
    for tag in ("em", "s", "a", "code"):
        for element in tree.iter(tag):
            inner = "".join(element.itertext())
            hold(inner not in ("b", "c", "q", "x", "l"), f"{here}: `{inner}` of a name became <{tag}>")
    for head in tree.iter("tr"):
        table = len(head)
        hold(table > 0, f"{here}: an empty row")
    for table in tree.iter("table"):
        widths = {len(row) for row in table.iter("tr")}
        hold(len(widths) == 1, f"{here}: a table with rows of {widths} cells")


def html(here, text):
    tree = html5lib.parse(text, namespaceHTMLElements=False)
    elements(here, tree, True, text.count("<script>"))
    hold(text.count("<script") <= 1, f"{here}: more than the page's own script")


def svg(here, text):
    tree = xml.fromstring(text)
    tags = {element.tag.split("}")[1] for element in tree.iter()}
    plain = {"svg", "g", "title", "desc", "rect", "text", "path", "polyline", "polygon", "circle", "line", "style"}
    hold(tags <= plain, f"{here}: elements {tags - plain}")
    terminal(here, "".join(tree.itertext()))


def pdf(here, data):
    with pymupdf.open(stream=data) as file:
        words = "".join(page.get_text() for page in file)
        hold("alert(1)" in words.replace("\n", ""), f"{here}: does not name what it was given")
        hold(not any(list(page.get_links()) for page in file), f"{here}: a link")
        hold(not CONTROL.search(words.replace("\xa0", " ")), f"{here}: {CONTROL.search(words)}")
        for number in range(1, file.xref_length()):
            told = file.xref_object(number)
            hold("/JavaScript" not in told and "/OpenAction" not in told, f"{here}: an action")


def table(here, text):
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    hold(len({len(row) for row in rows}) == 1, f"{here}: rows of {({len(row) for row in rows})} cells")
    for cell in (cell for row in rows for cell in row):
        number = re.fullmatch(r"-?[0-9.]+", cell)
        hold(number or not cell.startswith(FORMULA), f"{here}: a formula: {cell!r}")
        hold(not CONTROL.search(cell), f"{here}: {cell!r}")


def data(here, text, names):
    value = json.loads(text)
    hold(HARM.split("|")[0] in json.dumps(value) or not names, f"{here}: names are not as given")
    hold(not CONTROL.search(text.replace("\n", "")), f"{here}: a control code that is not escaped")


def hold_job(program, browser, job, folder):
    text, names = harmful(job.read_text())
    given = folder / job.name
    given.write_text(text)
    shop = folder / "shop.toml"
    harm = quoted("Bench" + HARM)
    footed = f"[letterhead]\nheader = {harm}\nfooter = {harm}"
    shop.write_text(SHOP.read_text().replace("[letterhead]", footed, 1))
    pack = folder / job.stem
    run(program, "plan", given, "--shop", shop, "--out", pack)
    kinds = {}
    for path in sorted(pack.rglob("*")):
        if path.is_dir():
            continue
        here = f"{job.stem}, {path.relative_to(pack)}"
        kinds[path.suffix] = kinds.get(path.suffix, 0) + 1
        hold(not re.search(r"[^\w. ()+-]", path.name), f"{here}: a strange name for a file")
        match path.suffix:
            case ".html":
                html(here, path.read_text())
                page = browser.new_page()
                page.on("dialog", lambda dialog: (hold(False, f"{here}: a dialog"), dialog.dismiss()))
                page.goto(path.as_uri())
                page.wait_for_timeout(300)
                page.close()
            case ".svg":
                svg(here, path.read_text())
            case ".pdf":
                pdf(here, path.read_bytes())
            case ".csv":
                table(here, path.read_text())
            case ".json":
                data(here, path.read_text(), names)
            case ".md":
                markdown(here, path.read_text())
            case ".txt":
                terminal(here, path.read_text())
    for document in DOCUMENTS:
        here = f"{job.stem}, {document}"
        words = ["show", document, given, "--shop", shop, "--as"]
        colours(f"{here}, text", run(program, *words, "text").decode())
        markdown(f"{here}, md", run(program, *words, "md").decode())
        html(f"{here}, html", run(program, *words, "html").decode())
    record = folder / f"{job.stem}-record.toml"
    run(program, "record", given, record, "--start")
    tomllib.loads(record.read_text())
    terminal(f"{job.stem}, the record form", record.read_text())
    record.write_text(record.read_text().replace("YEAR-MONTH-DAY", "2026-05-02"))
    run(program, "verify", given, record)
    print(f"{job.stem}: {names} names, {kinds}", flush=True)


def main():
    program = Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        for job in JOBS:
            hold_job(program, browser, job, Path(folder))
        browser.close()
    sys.exit(1 if faults else 0)


main()
