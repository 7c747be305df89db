"""Templates to pages: one environment, everything escaped, missing names an error."""

from collections.abc import Mapping
from dataclasses import dataclass

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

from hundredfold.kernel.errors import ShopError

# Address, name: the rooms in the page's head, in the order of a month.
ROOMS: tuple[tuple[str, str], ...] = (("/", "This month"),)


@dataclass(frozen=True)
class Head:
    """What stands above every page."""

    shop: str
    when: str = ""


def environment() -> Environment:
    """The one environment of all templates."""
    loader = PackageLoader("hundredfold.web", "templates")
    return Environment(
        loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )


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
        head: Head | None = None,
        status: int = 200,
    ) -> HTMLResponse:
        """A page. ``values`` are the template's own."""
        text = self._templates.get_template(template).render(
            seal=self._seal, rooms=ROOMS, here=request.url.path, head=head or Head("Hundredfold"), **values
        )
        return HTMLResponse(text, status, {"cache-control": "no-store"})

    def trouble(
        self, request: Request, error: ShopError, status: int = 409, head: Head | None = None
    ) -> HTMLResponse:
        """What happened, where, and what to do, as a page of its own."""
        return self.show(request, "trouble.html", {"errors": (error, *error.others)}, head, status)
