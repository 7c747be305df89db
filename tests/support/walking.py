"""A walk over the page's own links, forms and buttons, as a hand that presses anything would take it."""

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random
from typing import Any, cast

from lxml import html
from starlette.testclient import TestClient

# These begin minutes of work, write outside the shop, or want a file of the seller's.
NEVER = frozenset({"/work/start", "/month/start", "/begin/sample", "/history/backup", "/history/restore"})
GOES_OUT = frozenset({"/packs/hand-over", "/packs/settle"})
# These change the shop's plain files, which are no decisions and have no inverse in the history.
PLAIN_FILES = frozenset({
    "/blanks/save", "/channels/save", "/prices/target", "/mend/keep", "/design/rights", "/layouts/keep",
    "/layouts/begin", "/layouts/starters", "/begin/name", "/begin/mine", "/begin/goods", "/begin/places",
    "/begin/target",
})  # fmt: skip
_ROOMS = ("/", "/designs", "/review", "/calendar", "/history")
_WORDS = ("", "0", "7", "12", "-3", "80", "2027-01-02", "2027-01-09", "bees", "A short title", "x" * 300)


@dataclass(frozen=True)
class Press:
    """What one press sends: an address, and the fields of its form."""

    way: str  # get or post
    address: str
    fields: tuple[tuple[str, str], ...] = ()


def found(node: html.HtmlElement, path: str) -> list[Any]:
    """What an XPath finds."""
    return cast(list[Any], node.xpath(path))


def presses(page: str, random: Random, never: frozenset[str]) -> list[Press]:
    """Everything that can be pressed on a page, its fields filled in at random."""
    tree = html.fromstring(page)
    links = [str(one) for one in found(tree, "//main//a/@href") if str(one).startswith(("/", "?"))]
    here = [Press("get", link) for link in links if "/files/" not in link]
    for form in found(tree, "//form"):
        for press in _of_form(tree, form, random):
            if press.address not in never:
                here.append(press)
    return here


def _of_form(tree: html.HtmlElement, form: html.HtmlElement, random: Random) -> Iterator[Press]:
    if found(form, ".//input[@type='file']"):
        return
    own = form.get("id")
    buttons = found(form, ".//button[not(@type='button')]")
    buttons += found(tree, f"//button[@form='{own}']") if own else []
    for button in buttons:
        fields = [
            pair
            for field in found(form, ".//input | .//select | .//textarea")
            for pair in _field(field, random)
        ]
        if button.get("name"):
            fields.append((button.get("name"), button.get("value") or ""))
        way = (button.get("formmethod") or form.get("method") or "get").lower()
        yield Press(way, button.get("formaction") or form.get("action") or "", tuple(fields))


def _field(field: html.HtmlElement, random: Random) -> Iterator[tuple[str, str]]:
    name, kind = field.get("name"), field.get("type")
    if not name or field.get("disabled") is not None:
        return
    if field.tag == "select":
        options = found(field, ".//option")
        chosen = [one for one in options if one.get("selected") is not None] or options[:1]
        one = random.choice(options) if options and random.random() < 0.3 else next(iter(chosen), None)
        if one is not None:
            yield name, one.get("value") if one.get("value") is not None else one.text_content()
    elif kind in ("checkbox", "radio"):
        on = field.get("checked") is not None
        if on != (random.random() < 0.2):
            yield name, field.get("value") or "on"
    elif kind == "hidden" or random.random() < 0.7:
        yield name, (field.text_content() if field.tag == "textarea" else field.get("value")) or ""
    else:
        yield name, random.choice(_WORDS)


def walk(client: TestClient, seed: int, steps: int, never: frozenset[str]) -> list[str]:
    """Press one thing after the other; what was pressed. Fails where the page makes a mistake of its own."""
    random = Random(seed)
    at, told = "/", []
    page = client.get(at)
    for _ in range(steps):
        choices = presses(page.text, random, never) if "<main" in page.text else []
        acts = [one for one in choices if one.way == "post"]
        pool = acts if acts and random.random() < 0.5 else choices
        press = (
            random.choice(pool)
            if pool
            else Press("get", random.choice(("/", "/designs", "/review", "/calendar")))
        )
        where = (
            f"{at.partition('?')[0]}{press.address}" if press.address.startswith("?") else press.address or at
        )
        told.append(f"{press.way} {where}")
        if press.way == "post":
            data: dict[str, list[str]] = {}
            for name, value in press.fields:
                data.setdefault(name, []).append(value)
            answer = client.post(where, data=data)
            if answer.status_code == 303:
                where = answer.headers["location"]
                answer = client.get(where)
        else:
            answer = client.get(where, params=list(press.fields) or None)
        assert answer.status_code < 500, (told, answer.text[:600])
        if answer.headers.get("content-type", "").startswith("text/html"):
            page, at = answer, where
    return told
