"""Words that try to be more than words, through the real way from record to edition, opened in a browser."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import pikepdf
import pytest

from fakes import hostile_car
from fakes.reader import until, visit

if TYPE_CHECKING:
    from conftest import Published
    from playwright.sync_api import Browser

TURNING = re.compile("[\u202a-\u202e\u2066-\u2069]")
OWN_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*")
PAGES = ("index.html", "disclosure.html")

POKE = """
() => {
  for (const one of document.querySelectorAll("*")) {
    for (const kind of ["mouseover", "mouseenter", "focus", "toggle", "animationstart", "load", "error"])
      one.dispatchEvent(new Event(kind, { bubbles: false }));
  }
  const handlers = [...document.querySelectorAll("*")].flatMap((one) =>
    one.getAttributeNames().filter((name) => name.startsWith("on")).map((name) => one.tagName + " " + name));
  const links = [...document.querySelectorAll("[href], [src], [action], [srcdoc], [formaction]")]
    .flatMap((one) => ["href", "src", "action", "srcdoc", "formaction"].map((name) => one.getAttribute(name) || ""))
    .filter((to) => /^\\s*(javascript|data|https?):/i.test(to));
  const scripts = [...document.scripts].filter((one) => one.type !== "application/ld+json").length;
  const never = "iframe, form, object, embed, base, link, animate, meta[http-equiv=refresh]";
  const strange = [...document.querySelectorAll(never)];
  return { handlers, links, scripts, strange: strange.map((one) => one.outerHTML.slice(0, 80)) };
}
"""


@pytest.mark.parametrize("bypass", [False, True], ids=["as published", "with the page's own policy off"])
@pytest.mark.parametrize("name", PAGES)
def test_nothing_of_it_runs(browser: Browser, published: Published, name: str, bypass: bool) -> None:
    """Nothing runs even where the content policy would not stop it."""
    with visit(browser, bypass_csp=bypass) as reader:
        page = reader.open(published.hostile.data / name)
        found = page.evaluate(POKE)
        scripts = 1 if name == "index.html" else 0
        assert found == {"handlers": [], "links": [], "scripts": scripts, "strange": []}
        if name == "index.html":
            for number in range(1, len(hostile_car.FILES) + 1):
                page.evaluate(f"location.hash = 'look-{number}'")
                until(page, f"document.querySelector('.viewer .place').textContent.startsWith('Photo {number} ')")
            assert page.evaluate(POKE)["handlers"] == []
        page.wait_for_timeout(50)
        assert reader.hits() == []
        assert {one for one in reader.asked if not one.startswith(published.hostile.data.as_uri())} == set()
        assert [one for one in page.context.pages if one != page] == []


def test_the_canary_sings_where_words_become_markup(browser: Browser, published: Published) -> None:
    """The check itself: one word left unescaped runs with the policy off, and is reported with it on."""
    text = (published.hostile.data / "index.html").read_text(encoding="utf-8")
    broken = published.hostile.data.parent / "broken.html"
    broken.write_text(text.replace("</h1>", f"{hostile_car.MARKUP[2]}</h1>", 1), encoding="utf-8")
    for bypass in (False, True):
        with visit(browser, bypass_csp=bypass) as reader:
            reader.open(broken)
            reader.page.wait_for_timeout(50)
            assert reader.hits() != []
    broken.unlink()


def plain(words: str) -> str:
    """As read on a page: white space run together, signs that turn the direction gone.

    Commas and semicolons part a sentence, so that a person's own may be set otherwise inside one.
    """
    return re.sub(r"[\s;,:]+", " ", TURNING.sub("", words)).strip()


@pytest.mark.parametrize("name", PAGES)
def test_all_of_it_stands_there_as_it_was_written(browser: Browser, published: Published, name: str) -> None:
    with visit(browser) as reader:
        page = reader.open(published.hostile.data / name)
        text = plain(page.evaluate("document.body.textContent"))
        assert [words for words in hostile_car.WORDS if plain(words) not in text] == []
        assert not TURNING.search(page.content())


@pytest.mark.parametrize("name", PAGES)
def test_words_of_another_direction_stay_by_themselves(browser: Browser, published: Published, name: str) -> None:
    """Unicode Bidirectional Algorithm (UAX 9): isolated, they cannot carry the words around them along."""
    with visit(browser) as reader:
        page = reader.open(published.hostile.data / name)
        loose = page.evaluate(
            """() => {
              const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
              const loose = [];
              while (walk.nextNode()) {
                const owner = walk.currentNode.parentElement;
                if (!/[\\u0590-\\u07ff]/.test(walk.currentNode.data)) continue;
                if (owner.matches("script, style, title")) continue;
                const style = getComputedStyle(owner);
                const alone = style.display !== "inline" || /isolate|plaintext/.test(style.unicodeBidi);
                if (!alone) loose.push(owner.outerHTML.slice(0, 90));
              }
              return loose;
            }"""
        )
        assert loose == []


def test_no_file_leaves_the_edition_and_none_is_named_by_a_stranger(published: Published) -> None:
    bag = published.hostile.data.parent
    files = [path for path in bag.rglob("*") if path.is_file()]
    assert len(files) > 20
    for path in files:
        assert path.resolve().is_relative_to(bag.resolve())
        assert all(OWN_NAME.fullmatch(part) for part in path.relative_to(bag).parts), path
    assert not list(published.hostile.workspace.parent.rglob("hit"))


def test_linked_data_and_record_hold_it_as_text(published: Published) -> None:
    index = (published.hostile.data / "index.html").read_text(encoding="utf-8")
    found = re.findall(r'<script type="application/ld\+json">(.*?)</script>', index, re.DOTALL)
    assert len(found) == 1
    assert hostile_car.MARKUP[1] in json.loads(found[0])["name"]
    record = json.loads((published.hostile.data / "record.json").read_text(encoding="utf-8"))
    assert hostile_car.MARKUP[0] in json.dumps(record, ensure_ascii=False)


def test_the_outlet_s_folder_holds_it_as_text(published: Published) -> None:
    folder = published.hostile.outlet
    files = sorted(path.name for path in folder.iterdir())
    assert all(OWN_NAME.fullmatch(name) for name in files)
    pictures = [name for name in files if name.endswith(".jpg")]
    entries = (folder / "captions.txt").read_text(encoding="utf-8").strip().split("\n\n")
    assert [entry.split("\n")[0] for entry in entries] == pictures
    assert all(len(entry.split("\n")) == 2 for entry in entries)


def test_the_printed_page_does_nothing_and_leads_nowhere(published: Published) -> None:
    with pikepdf.open(published.hostile.data / "disclosure.pdf") as pdf:
        assert not {"/OpenAction", "/AA"} & set(pdf.Root.keys())
        assert "/JavaScript" not in pdf.Root.get("/Names", {})
        actions = [
            str(link["/A"].get("/S")) for sheet in pdf.pages for link in sheet.get("/Annots", []) if "/A" in link
        ]
        assert set(actions) <= {"/GoTo"}
        assert len(pdf.pages) > 5
