"""What a person may read about a check: ``explain`` and the pages in docs/checks, from one source."""

from collections.abc import Iterable, Sequence

from hundredfold.kernel.checks import CheckRecord
from hundredfold.proofing.checks.every import BY_ID
from hundredfold.proofing.profile import STANDARD, About, Profile, about_limit
from hundredfold.proofing.registry import ALONE, Bearing, More


def file_name(check_id: str) -> str:
    """The page's file name: ``prints-too-few-pixels.md``."""
    return check_id.replace("/", "-") + ".md"


def page(one: CheckRecord, profile: Profile = STANDARD) -> str:
    """The Markdown page of one check, with the limits of this profile."""
    bearing = BY_ID[one.id].bearing if one.id in BY_ID else ALONE
    sections = (
        ("What it looks at", f"{one.title}\n\nIt looks at {one.looks_at}."),
        ("Why it matters", one.why),
        ("Example", one.example),
        ("How to fix it", one.fix),
        ("What it can find", _codes(one)),
        ("Beside other checks", _beside(bearing)),
        ("Limits", _limits(one, profile)),
        ("Known limits", one.known_limits),
        ("Source", one.source[0].upper() + one.source[1:] + "."),
    )
    body = "\n\n".join(f"## {heading}\n\n{text}" for heading, text in sections if text)
    return f"# {one.id}\n\n{body}\n"


def index(records: Sequence[CheckRecord]) -> str:
    """The page that lists all checks: those of the proof, which can be changed, then the others."""
    proof = _table(one for one in records if one.id in BY_ID)
    others = _table(one for one in records if one.id not in BY_ID)
    parts = (
        "# The checks", _INTRO, "## Of the proof", proof, "## Of everything else", _OTHERS, others, _CHANGING
    )  # fmt: skip
    return "\n\n".join(parts) + "\n"


def pages(records: Sequence[CheckRecord]) -> dict[str, str]:
    """All pages by file name, the index as README.md."""
    return {"README.md": index(records), **{file_name(one.id): page(one) for one in records}}


def _table(records: Iterable[CheckRecord]) -> str:
    lines = ["| check | asks whether | finds |", "|---|---|---|"]
    for one in records:
        codes = ", ".join(f"{code} ({severity.word})" for code, severity in one.codes.items())
        asks = one.title[0].lower() + one.title[1:].rstrip(".")
        lines.append(f"| [{one.id}]({file_name(one.id)}) | {asks} | {codes} |")
    return "\n".join(lines)


def _codes(one: CheckRecord) -> str:
    return "\n".join(f"- `{code}`: {severity.word}" for code, severity in one.codes.items())


def _beside(bearing: Bearing) -> str:
    """What it has to do with other checks, a line each."""
    lines = [
        f"- where there is `{code}`, these only follow from it and are not told: "
        + ", ".join(f"`{name}`" for name in named)
        for code, named in bearing.follows.items()
    ]
    lines += [
        f"- of several cases of `{code}`, the one with {'more' if by is More.WORSE else 'less'} "
        f"`{number}` is told"
        for code, (number, by) in bearing.worst_by.items()
    ]
    if bearing.mends:
        lines.append(f"- can be mended by {', or by '.join(bearing.mends)} (docs/repairs.md)")
    return "\n".join(lines)


def _limits(one: CheckRecord, profile: Profile) -> str:
    return "\n".join(_limit_line(about_limit(name), profile) for name in one.limits)


def _limit_line(limit: About, profile: Profile) -> str:
    line = f"- `{limit.name}` = {limit.value:g} {limit.unit}: {limit.about} ({limit.source})"
    if limit.name in profile.reasons:
        mine = getattr(profile.limits, limit.name)
        line += f"; yours is {mine:g}: {profile.reasons[limit.name]}"
    return line


_INTRO = """Every check is arithmetic on what was measured once, so a changed limit is judged again in
seconds. A *stop* keeps a design off that blank or colour, a *warn* wants a look, a *note* is good to know."""
_OTHERS = """What is found on the way from a word list to a sold listing. A *stop* keeps that one thing back,
and the rest goes on."""
_CHANGING = """## Changing a check

In a file of the shop folder that `shop.toml` names, `checks_profile = "checks.toml"`. Only checks of the proof
can be changed. A change without a reason is refused, and the reason is printed with each finding. All parts may
be left out:

| part | holds | choices |
|---|---|---|
| `[limits]` | a limit, as the check's page or `hundredfold explain` names it | a number of 0 or more, in its unit |
| `[severity]` | how much `"CHECK:CODE"` matters | `"note"` (good to know), `"warn"` (wants a look), `"stop"` (not listed) |
| `[off]` | a `"CHECK"` that says nothing | a reason only |
| `[repair]` | `kinds` of repairs that may be proposed, and the `colours` of their ink | `"outline"`, `"recolour"`, `"patch"`; colours like `"#ffffff"` |
| `printer` | the printer's ICC profile for `ink/out-of-gamut`; stands above the first `[part]` | a file in the shop folder |

```toml
printer = "profiles/northfold.icc"

[limits]
dpi_floor = { value = 120, reason = "tea towels are seen from two metres" }

[severity]
"art/stray-specks:specks" = { value = "note", reason = "my chalk brush leaves dust on purpose" }

[off]
"art/touches-edge" = { reason = "all my art is made to bleed" }

[repair]
kinds = ["outline", "recolour"]
colours = ["#ffffff", "#141414"]
```

Another severity moves designs into the plan or out of it: a warning made a stop keeps the colour out, a stop made
a warning lets it in. A name that does not exist is refused, with the nearest that does. A change holds for every
design; there is no exception for a single one."""  # noqa: E501
