"""Templates to pages: one environment, everything escaped, missing names an error."""

from collections.abc import Mapping
from dataclasses import dataclass

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

from hundredfold.designs.names import title_from
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.web.days import day_words
from hundredfold.web.plainwords import pack_words, plain, way, when_words, whole
from hundredfold.web.said import Said
from hundredfold.workshop.views.proofsums import in_short

# Address, name: the rooms in the page's head, in the order of a month.
ROOMS: tuple[tuple[str, str], ...] = (
    ("/", "This month"),
    ("/designs", "Designs"),
    ("/layouts", "Layouts"),
    ("/review", "Review"),
    ("/calendar", "Calendar"),
    ("/packs", "Packs"),
    ("/prices", "Prices"),
    ("/blanks", "Blanks"),
    ("/channels", "Channels"),
    ("/history", "History"),
)


@dataclass(frozen=True)
class PageHead:
    """What stands above every page. ``rooms`` is false where there is no shop yet."""

    shop: str
    when: str = ""
    said: Said | None = None
    rooms: bool = True


def environment() -> Environment:
    """The one environment of all templates."""
    loader = PackageLoader("hundredfold.web", "templates")
    made = Environment(
        loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    made.globals["counted"] = counted
    made.globals["severity_word"] = {"stop": "Stop", "warn": "Look", "note": "Note"}.__getitem__
    made.globals["pack_words"] = pack_words
    made.filters |= {
        "sentence": _sentence,
        "plain": plain,
        "whole": whole,
        "way": way,
        "when": when_words,
        "day": day_words,
        "titled": _titled,
        "short": in_short,
    }
    return made


def _titled(path: str) -> str:
    """What a design is called whose file this is; its file's name where that says nothing."""
    name = path.rpartition("/")[2]
    return title_from(name) or name


def _sentence(text: str) -> str:
    """A part of a sentence as one: a capital first, a full stop last."""
    text = text.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?…" else ".")


class Pages:
    """Renders a template with what stands on every page: head, rooms, the seal of forms."""

    def __init__(self, seal: str) -> None:
        self._templates = environment()
        self._seal = seal

    def show(
        self,
        request: Request,
        template: str,
        values: Mapping[str, object],
        head: PageHead | None = None,
        status: int = 200,
    ) -> HTMLResponse:
        """A page. ``values`` are the template's own."""
        text = self._templates.get_template(template).render(
            seal=self._seal,
            rooms=ROOMS,
            here=request.url.path,
            head=head or PageHead("Hundredfold"),
            **values,
        )
        return HTMLResponse(text, status, {"cache-control": "no-store"})

    def trouble(
        self, request: Request, error: ShopError, status: int = 409, head: PageHead | None = None
    ) -> HTMLResponse:
        """What happened, where, and what to do, as a page of its own."""
        errors = (error, *error.others)
        return self.show(request, "trouble.html", {"errors": errors}, head, status)
