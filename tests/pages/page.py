"""Holds the page of each demo job, and each document as a page, to what a browser shows.

    python3 tests/pages/page.py PROGRAM [--pictures FOLDER]

Needs playwright, axe-playwright-python, a `chromium` on the path, and `pdftotext`. With a folder it
leaves pictures there, for people to look at.
"""

import argparse
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright

from demo import DOCUMENTS, JOBS, SHOP, faults, hold, run

# The documents that are not in the page of all, and so are looked at by themselves.
APART = ["quote", "costing"]
PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 900}
BOXES = "input[type=checkbox]"
DENIED = """
Object.defineProperty(window, "localStorage", { get() { throw new DOMException("denied", "SecurityError"); } });
"""

class Browser:
    """A browser that writes down what it asks for and what it complains of."""

    def __init__(self, browser):
        self.browser = browser

    def open(self, path, size=PHONE, scheme="light", **more):
        context = self.browser.new_context(viewport=size, color_scheme=scheme, **more)
        page = context.new_page()
        page.asked, page.complaints = [], []
        page.on("request", lambda request: page.asked.append(request.url))
        page.on("console", lambda message: page.complaints.append(message.text))
        page.on("pageerror", lambda error: page.complaints.append(str(error)))
        page.goto(path.as_uri())
        return page

    def close(self, page, told):
        alone = {url.split("#")[0] for url in page.asked} == {page.url.split("#")[0]}
        hold(alone, f"{told}: asks for {page.asked}")
        hold(not page.complaints, f"{told}: the browser complains: {page.complaints[:3]}")
        page.context.close()


def accessible(page, told):
    options = {"resultTypes": ["violations"]}
    violations = Axe().run(page, options=options).response["violations"]
    for one in violations:
        nodes = "; ".join(node["html"][:160] for node in one["nodes"][:3])
        hold(False, f"{told}: {one['id']} at {len(one['nodes'])} places: {one['help']}: {nodes}")


def narrow(page, told):
    width = page.evaluate("document.scrollingElement.scrollWidth")
    hold(width <= PHONE["width"], f"{told}: {width} px wide on a screen of {PHONE['width']}")


def looks(browser, path, told, pictures):
    """Narrow on a phone and accessible, in the light and in the dark."""
    sights = [("light", "phone", PHONE), ("dark", "desk", DESK)]
    if path.name == "pack.html":
        sights += [("dark", "phone", PHONE), ("light", "desk", DESK)]
    for scheme, where, size in sights:
        page = browser.open(path, size, scheme)
        if size is PHONE:
            narrow(page, told)
        accessible(page, f"{told}, {scheme}, {where}")
        if pictures:
            page.screenshot(path=pictures / f"{told.replace(' ', '-')}-{scheme}-{where}.png")
        browser.close(page, told)


def ticks(browser, program, job, folder):
    """Ticks stay after a reload and in a plan made anew, are counted, and go when told to."""
    path, told = folder / "pack.html", job.stem
    page = browser.open(path)
    boxes = page.locator(BOXES)
    total = boxes.count()
    chosen = [0, total // 2, total - 1]
    count = page.locator("nav .count")

    def ticked():
        return page.evaluate(f"[...document.querySelectorAll('{BOXES}')].map(box => box.checked)")

    def ones(states):
        return [place for place, state in enumerate(states) if state]

    def counted():
        return sum(int(text.split(" of ")[0]) for text in count.all_inner_texts())

    names = page.evaluate(f"[...document.querySelectorAll('{BOXES}')].map(box => box.id)")
    hold(len(set(names)) == total > 100, f"{told}: {total} boxes of {len(set(names))} names")
    hold(ones(ticked()) == [] and counted() == 0, f"{told}: ticked from the start")
    boxes.nth(chosen[0]).click()
    boxes.nth(chosen[1]).focus()
    page.keyboard.press("Space")
    page.locator(f"label[for={names[chosen[2]]}]").or_(boxes.nth(chosen[2])).first.click()
    hold(ones(ticked()) == chosen, f"{told}: ticks {ones(ticked())}, not {chosen}")
    page.reload()
    hold(ones(ticked()) == chosen, f"{told}: after a reload {ones(ticked())}, not {chosen}")
    hold(counted() == 3, f"{told}: counts {counted()} of 3 ticks")
    run(program, "plan", job, "--shop", SHOP, "--out", folder, "--replace")
    page.reload()
    hold(ones(ticked()) == chosen, f"{told}: made anew, {ones(ticked())}, not {chosen}")

    clear = page.locator("nav button.clear")
    page.once("dialog", lambda dialog: dialog.dismiss())
    clear.click()
    hold(ones(ticked()) == chosen, f"{told}: cleared though it was declined")
    page.once("dialog", lambda dialog: dialog.accept())
    clear.click()
    hold(ones(ticked()) == [] and counted() == 0, f"{told}: not cleared")
    page.reload()
    hold(ones(ticked()) == [], f"{told}: cleared ticks came back")
    browser.close(page, told)


def without_storage(browser, path, told):
    context = browser.browser.new_context(viewport=PHONE)
    context.add_init_script(DENIED)
    page = context.new_page()
    errors = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(path.as_uri())
    page.locator(BOXES).first.click()
    told = f"{told} without storage"
    hold(page.locator("nav .count").first.inner_text() != "", f"{told}: counts nothing")
    hold(page.locator(".count", has_text="1 of ").count() > 0, f"{told}: counts no tick")
    hold(page.locator(".lost").is_visible(), f"{told}: does not say that ticks go")
    hold(not errors, f"{told}: {errors}")
    context.close()


def without_script(browser, path, told):
    page = browser.open(path, java_script_enabled=False)
    hold(page.locator("nav a").count() > 10, f"{told}: no contents without the script")
    hold(page.locator("button:visible").count() == 0, f"{told}: a button that does nothing")
    browser.close(page, told)


def locked_up(browser, path, told):
    """What got into the page by a mistake could neither fetch nor run anything."""
    page = browser.open(path)
    violated = page.evaluate(
        """async () => {
            const seen = [];
            document.addEventListener("securitypolicyviolation", event => seen.push(event.effectiveDirective));
            const script = document.createElement("script");
            script.textContent = "window.ran = true";
            document.body.append(script);
            const image = new Image();
            image.src = "https://longlead.invalid/x.png";
            await fetch("https://longlead.invalid/").catch(() => {});
            await new Promise(done => setTimeout(done, 200));
            return { seen, ran: window.ran === true };
        }"""
    )
    kinds = set(violated["seen"])
    hold(not violated["ran"], f"{told}: runs what is not its own")
    hold({"script-src-elem", "img-src", "connect-src"} <= kinds, f"{told}: only {kinds} are forbidden")
    page.context.close()


def printed(browser, path, told, pictures):
    """Each document begins on a page of its own."""
    page = browser.open(path, DESK)
    titles = page.locator("article > h2").all_inner_texts()
    with tempfile.TemporaryDirectory() as scratch:
        file = (pictures or Path(scratch)) / f"{told}-printed.pdf"
        page.pdf(path=file, prefer_css_page_size=True)
        text = subprocess.run(["pdftotext", "-layout", file, "-"], capture_output=True, check=True, text=True).stdout
    tops = [" ".join(sheet.split()[:40]) for sheet in text.split("\f")]
    for title in titles:
        hold(any(title in top for top in tops), f"{told}: {title} begins on no page of its own")
    browser.close(page, told)


def main():
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("program")
    options.add_argument("--pictures", type=Path)
    given = options.parse_args()
    if given.pictures:
        given.pictures.mkdir(parents=True, exist_ok=True)
    scratch = Path(tempfile.mkdtemp())
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        browser = Browser(chromium)
        for job in JOBS:
            folder = scratch / job.stem
            run(given.program, "plan", job, "--shop", SHOP, "--out", folder)
            path = folder / "pack.html"
            looks(browser, path, job.stem, given.pictures)
            ticks(browser, given.program, job, folder)
            without_storage(browser, path, job.stem)
            without_script(browser, path, job.stem)
            locked_up(browser, path, job.stem)
            printed(browser, path, job.stem, given.pictures)
            for document in DOCUMENTS:
                alone = folder / f"{document}.html"
                alone.write_bytes(run(given.program, "show", document, job, "--shop", SHOP, "--as", "html"))
                if document in APART:
                    looks(browser, alone, f"{job.stem} {document}", None)
                    continue
                page = browser.open(alone)
                narrow(page, f"{job.stem} {document}")
                browser.close(page, f"{job.stem} {document}")
            print(f"{job.stem}: one page of all documents, and {len(DOCUMENTS)} of one each")
        chromium.close()
    shutil.rmtree(scratch)
    if faults:
        sys.exit(f"{len(faults)} faults")
    print("every page is narrow enough, accessible, asks for nothing, and keeps its ticks")


main()
