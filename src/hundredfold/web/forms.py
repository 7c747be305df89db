"""What a form or a script sends: texts and files, bounded, and proved to come from this start's own page."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import BinaryIO

from starlette.datastructures import UploadFile
from starlette.requests import Request

from hundredfold.kernel.errors import ShopError
from hundredfold.web.seal import SEAL_FIELD, SEAL_HEADER, Seal

MOST_FILES = 4000  # a folder of designs dropped at once
MOST_FIELDS = 8000
LARGEST_TEXT = 4 * 1024 * 1024  # a word list pasted whole


@dataclass(frozen=True)
class Upload:
    """A file that came with a form. ``name`` is as the browser gave it, with folders, not to be trusted."""

    name: str
    size: int
    content: BinaryIO


@dataclass(frozen=True)
class SentForm:
    """The fields of a form; a name may come several times."""

    fields: Mapping[str, Sequence[str]] = field(default_factory=dict)
    files: Mapping[str, Sequence[Upload]] = field(default_factory=dict)

    def text(self, name: str, otherwise: str = "") -> str:
        """The first value of this name, trimmed."""
        return next((value.strip() for value in self.fields.get(name, ())), otherwise)

    def texts(self, name: str) -> tuple[str, ...]:
        """All values of this name."""
        return tuple(self.fields.get(name, ()))

    def whole(self, name: str, otherwise: int = 0) -> int:
        """A whole number. Raises ShopError ``bad-form``."""
        text = self.text(name)
        try:
            return int(text) if text else otherwise
        except ValueError:
            raise _not_a_number(name, text) from None

    def number(self, name: str, otherwise: float = 0.0) -> float:
        """A finite number. Raises ShopError ``bad-form``."""
        text = self.text(name)
        try:
            value = float(text) if text else otherwise
        except ValueError:
            raise _not_a_number(name, text) from None
        if value != value or abs(value) > 1e9:
            raise _not_a_number(name, text)
        return value


def _not_a_number(name: str, text: str) -> ShopError:
    return ShopError("bad-form", f'"{text[:40]}" is no number for {name}', "write it in digits, like 12")


async def read_form(request: Request, seal: Seal) -> SentForm:
    """The form of a request. Raises ShopError ``form-not-ours`` and ``bad-form``."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip()
    fields: dict[str, list[str]] = {}
    files: dict[str, list[Upload]] = {}
    if kind == "application/json":
        fields = _plain(await request.body())
    elif kind in ("application/x-www-form-urlencoded", "multipart/form-data"):
        form = await request.form(max_files=MOST_FILES, max_fields=MOST_FIELDS, max_part_size=LARGEST_TEXT)
        for name, value in form.multi_items():
            if isinstance(value, UploadFile):
                if value.filename:
                    files.setdefault(name, []).append(Upload(value.filename, value.size or 0, value.file))
            else:
                fields.setdefault(name, []).append(value)
    given = request.headers.get(SEAL_HEADER) or next(iter(fields.pop(SEAL_FIELD, [])), "")
    if not seal.signed(given):
        what = "this form is from an earlier start of the page"
        raise ShopError("form-not-ours", what, "load the page again; what you typed is still in this one")
    return SentForm(fields, files)


def _plain(body: bytes) -> dict[str, list[str]]:
    try:
        given = json.loads(body)
    except ValueError:
        given = None
    if not isinstance(given, dict) or len(body) > LARGEST_TEXT:
        raise ShopError("bad-form", "the page sent something that is no form", "load the page again")
    return {
        str(name): [str(one) for one in (value if isinstance(value, list) else [value])]
        for name, value in given.items()
    }
