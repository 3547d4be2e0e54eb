"""Reads the boxes of all text back from the PDF of each document of each demo job, on both papers.

    python3 tests/pages/boxes.py PROGRAM

Needs pymupdf. Holds that no text leaves the page's margins, that no two pieces of text overlap, that no
letter is under 8 points, that each page says which of how many it is, that no heading stands last on its
page, that a table that goes on has its head again, that fonts are embedded, and that a file has a title,
a language and bookmarks and is no larger than 300 KiB; and that the record of a vehicle is one page.
"""

import re
import sys
import tempfile
from pathlib import Path

import pymupdf

from demo import DOCUMENTS, JOBS, SHOP, faults, hold, run

MARGIN = 18 / 25.4 * 72
SMALLEST = 8.0
# Longer than the room for it.
FOOTER = "Workshop at the end of the lane, " * 5
LARGEST_FILE = 300 * 1024
# Of the height of letters: ascent and descent of a line that has none of them.
CORE = (0.72, 0.22)

class Span:
    """A run of letters with the box of its ink: from the tops of capitals to the descenders."""

    def __init__(self, span, direction):
        self.words, self.size, self.font = span["text"], span["size"], span["font"]
        self.level = direction == (1.0, 0.0)
        left, top, right, bottom = span["bbox"]
        if self.level:
            _, base = span["origin"]
            top, bottom = base - CORE[0] * self.size, base + CORE[1] * self.size
        self.box = (left, top, right, bottom)

    def inside(self, page):
        left, top, right, bottom = self.box
        edge = MARGIN - 0.5
        return left >= edge and top >= edge and right <= page.width - edge and bottom <= page.height - edge

    def overlaps(self, other):
        room = 0.25
        (left, top, right, bottom), (oleft, otop, oright, obottom) = self.box, other.box
        return (
            left < oright - room and oleft < right - room and top < obottom - room and otop < bottom - room
        )


def spans(page):
    for block in page.get_text("dict", flags=pymupdf.TEXTFLAGS_DICT & ~pymupdf.TEXT_PRESERVE_IMAGES)["blocks"]:
        for line in block.get("lines", []):
            for span in line["spans"]:
                if span["text"].strip():
                    yield Span(span, tuple(line["dir"]))


def hold_page(name, number, count, page):
    here = f"{name}, page {number}"
    found = list(spans(page))
    for span in found:
        hold(span.inside(page.rect), f"{here}: `{span.words}` leaves the margins: {span.box}")
        hold(span.size >= SMALLEST - 0.01, f"{here}: `{span.words}` is {span.size:.1f} points")
        hold("?" not in span.font, f"{here}: `{span.words}` has no font")
    for at, one in enumerate(found):
        for other in found[at + 1 :]:
            hold(not one.overlaps(other), f"{here}: `{one.words}` and `{other.words}` overlap")
    told = " ".join(span.words for span in found)
    hold(f"page {number} of {count}" in told, f"{here}: says not which page it is")
    body = [span for span in found if span.box[3] < page.rect.height - MARGIN - 14]
    if body:
        last = max(body, key=lambda span: span.box[3])
        heading = last.size > 9.9 and "Bold" in last.font
        hold(not heading, f"{here}: the heading `{last.words}` stands last on it")


def hold_heads(name, file):
    """A row of a table is never the first thing below the head of a page: a table that goes on has its
    band again. Bands are grey fills as wide as the table."""
    for number, page in enumerate(file, 1):
        rules = [shape for shape in page.get_drawings() if shape["rect"].height < 1 and shape["rect"].width > 60]
        fills = [shape for shape in page.get_drawings() if shape["rect"].height > 12 and shape["rect"].width > 60]
        body = [span for span in spans(page) if span.box[1] > MARGIN + 34 and abs(span.size - 8.5) < 0.05]
        if not body or not rules:
            continue
        first = min(body, key=lambda span: span.box[1])
        above = [span for span in spans(page) if MARGIN + 34 < span.box[1] < first.box[1] - 2]
        if above or not first.level:
            continue
        inside = any(
            shape["rect"].x0 - 1 <= first.box[0] and shape["rect"].y0 - 1 <= first.box[1]
            and shape["rect"].y1 + 1 >= first.box[3]
            for shape in fills
        )
        hold(inside, f"{name}, page {number}: starts with the row `{first.words}` under no head")


def hold_file(name, path):
    hold(path.stat().st_size <= LARGEST_FILE, f"{name}: {path.stat().st_size} bytes")
    with pymupdf.open(path) as file:
        hold(bool(file.metadata.get("title")), f"{name}: no title")
        language = file.xref_get_key(file.pdf_catalog(), "Lang")
        hold(language == ("string", "en"), f"{name}: no language")
        hold(bool(file.get_toc()), f"{name}: no bookmarks")
        fonts = {font for number in range(len(file)) for font in file.get_page_fonts(number)}
        for xref, kind, *_ in fonts:
            hold(kind not in ("n/a", ""), f"{name}: a font is not embedded")
            hold(bool(file.extract_font(xref)[3]), f"{name}: a font is not embedded")
        for number, page in enumerate(file, 1):
            hold_page(name, number, len(file), page)
        hold_heads(name, file)
        return len(file)


def filled_in(form):
    """A record form with each reading as it should be, but for those of crimps, and all that may be said."""
    form = form.replace("YEAR-MONTH-DAY", "2026-05-02")
    form = re.sub(r'^# (vehicle|built_by|built_on|note) =', r"\1 =", form, flags=re.MULTILINE)
    reading = r'# (\S+ m?V); (.*\n.*point = "(?!.*crimp).*)reads = ""'
    return re.sub(reading, r'# \1; \2reads = "\1"', form)


def hold_record(program, job, shop, paper, folder):
    record = Path(folder) / "record.toml"
    record.unlink(missing_ok=True)
    run(program, "record", job, record, "--start")
    record.write_text(filled_in(record.read_text()))
    path = Path(folder) / "record.pdf"
    path.write_bytes(run(program, "record", job, record, "--shop", shop, "--as", "pdf", "--paper", paper))
    name = f"{job.stem}, record, {paper}"
    pages = hold_file(name, path)
    hold(pages == 1, f"{name}: {pages} pages")
    with pymupdf.open(path) as file:
        hold("0 are wrong" in file[0].get_text().replace("\n", " "), f"{name}: no readings")


def main():
    program = Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "document.pdf"
        shop = Path(folder) / "shop.toml"
        footed = f'[letterhead]\nheader = "{FOOTER}"\nfooter = "{FOOTER}"'
        shop.write_text(SHOP.read_text().replace("[letterhead]", footed, 1))
        for job in JOBS:
            pages = 0
            for paper in ["a4", "letter"]:
                for document in DOCUMENTS:
                    words = ["show", document, job, "--shop", shop, "--as", "pdf", "--paper", paper]
                    path.write_bytes(run(program, *words))
                    pages += hold_file(f"{job.stem}, {document}, {paper}", path)
                hold_record(program, job, shop, paper, folder)
            print(f"{job.stem}: {pages} pages", flush=True)
    sys.exit(1 if faults else 0)


main()
