"""What a person may read about a check: the text of ``explain`` and the pages in docs/checks, from one "
"source."""

from typing import Any

from hundredfold.proofing.checks.every import CHECKS
from hundredfold.proofing.profile import STANDARD, About, Profile, about_limit
from hundredfold.proofing.registry import Check


def file_name(check_id: str) -> str:
    """The page's file name: ``prints-too-few-pixels.md``."""
    return check_id.replace("/", "-") + ".md"


def page(one: Check[Any], profile: Profile = STANDARD) -> str:
    """The Markdown page of one check, with the limits of this profile."""
    sections = (
        ("What it looks at", f"{one.title}\n\nIt looks at {_SCOPES[one.subject.__name__]}."),
        ("Why it matters", one.why),
        ("Example", one.example),
        ("How to fix it", one.fix),
        ("What it can find", _codes(one)),
        ("Limits", _limits(one, profile)),
        ("Known limits", one.known_limits),
        ("Source", one.source[0].upper() + one.source[1:] + "."),
    )
    body = "\n\n".join(f"## {heading}\n\n{text}" for heading, text in sections if text)
    return f"# {one.id}\n\n{body}\n"


def index() -> str:
    """The page that lists all checks."""
    lines = ["| check | asks whether | finds |", "|---|---|---|"]
    for one in CHECKS:
        codes = ", ".join(f"{code} ({severity.word})" for code, severity in one.codes.items())
        asks = one.title[0].lower() + one.title[1:].rstrip(".")
        lines.append(f"| [{one.id}]({file_name(one.id)}) | {asks} | {codes} |")
    table = "\n".join(lines)
    return f"# The checks\n\n{_INTRO}\n\n{table}\n\n{_CHANGING}\n"


def pages() -> dict[str, str]:
    """All pages by file name, the index as README.md."""
    return {"README.md": index(), **{file_name(one.id): page(one) for one in CHECKS}}


def _codes(one: Check[Any]) -> str:
    return "\n".join(f"- `{code}`: {severity.word}" for code, severity in one.codes.items())


def _limits(one: Check[Any], profile: Profile) -> str:
    return "\n".join(_limit_line(about_limit(name), profile) for name in one.limits)


def _limit_line(limit: About, profile: Profile) -> str:
    line = f"- `{limit.name}` = {limit.value:g} {limit.unit}: {limit.about} ({limit.source})"
    if limit.name in profile.reasons:
        mine = getattr(profile.limits, limit.name)
        line += f"; yours is {mine:g}: {profile.reasons[limit.name]}"
    return line


_SCOPES = {
    "BlankSubject": "a blank, before any art",
    "Decorated": "a blank with everything that is laid on it, so it speaks once a blank",
    "DesignSubject": "a design by itself",
    "Unlaid": "a design that could not be laid on a blank",
    "Placed": "a design laid on a print area, whatever the blank's colour",
    "Coloured": "a design on one colour of a blank",
}
_INTRO = """Every check is arithmetic on what was measured once, so a changed limit is judged again in
seconds. A *stop* keeps a design off that blank or colour, a *warn* wants a look, a *note* is good to know."""
_CHANGING = """## Changing a limit

In the shop folder, `checks.toml`; a change without a reason is refused, and the reason is printed with
each finding:

```toml
[limits]
dpi_floor = { value = 120, reason = "tea towels are seen from two metres" }

[severity]
"art/stray-specks:specks" = { value = "note", reason = "my chalk brush leaves dust on purpose" }

[off]
"art/touches-edge" = { reason = "all my art is made to bleed" }
```"""
