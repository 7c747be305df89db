"""The limits checks compare with: data, each with its unit and source, and the seller's own changes."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from typing import cast

from hundredfold.kernel.checks import COMMON
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Severity
from hundredfold.kernel.nearest import nearest


def _limit(value: float, unit: str, about: str, source: str = COMMON) -> float:
    """A dataclass field that carries its unit, meaning and source."""
    return field(default=value, metadata={"unit": unit, "about": about, "source": source})


@dataclass(frozen=True)
class Limits:
    """Every threshold of every check. The source of each stands beside it."""

    dpi_floor: float = _limit(150, "dpi", "below this the print looks soft")
    dpi_target: float = _limit(250, "dpi", "from here a print at arm's length shows no softness")
    fabric_dpi_target: float = _limit(180, "dpi", "cloth shows less; from here a print on it looks sharp")
    edge_touch_share: float = _limit(
        0.002, "of the border", "ink along the file's border that means the art is cut off"
    )
    tight_touch_share: float = _limit(
        0.1, "of the border", "the same for a file that is cropped to its art, which touches every side"
    )
    specks_allowed: float = _limit(3, "specks", "tiny islands of ink that may be meant")
    soft_share: float = _limit(0.02, "of the ink", "half-transparent ink away from edges")
    orientation_ratio: float = _limit(1.3, "side to side", "from here art counts as upright or as wide")
    orientation_fill: float = _limit(
        0.6,
        "of the length",
        "art the wrong way round is worth a word only if it leaves more than this empty",
    )
    rim_band_mm: float = _limit(
        20,
        "mm",
        "lip-and-rim tests look at decoration this near to a drinking rim",
        "Canada, SOR/2016-175, schedule, method 2, quoting ASTM C927-80; a test's band, not a ban",
    )
    visible_degrees: float = _limit(120, "degrees", "part of a round body that faces the viewer")
    line_pt: float = _limit(
        0.25,
        "pt",
        "thinner lines may not print on hard goods",
        "digital printers' help pages ask 0.25 pt (0.088 mm) of positive lines; made for paper",
    )
    gap_pt: float = _limit(
        0.5,
        "pt",
        "thinner gaps fill in on hard goods",
        "SWOP 11 (2007): reverse type and lines at least 0.007 in (0.5 pt); made for offset on paper",
    )
    fabric_line_pt: float = _limit(1.0, "pt", "thinner lines break up in the weave")
    fabric_gap_pt: float = _limit(1.5, "pt", "thinner gaps fill in on cloth")
    thin_length_mm: float = _limit(6, "mm", "so much length of thin line or gap, all in all, is worth a word")
    thin_share: float = _limit(0.015, "of the outline", "and so much compared with the length of the outline")
    small_letters_mm: float = _limit(
        1.4,
        "mm",
        "letters whose bodies (the height of an x) are less tall are hard to read in the hand",
        "fluent reading ends at an x-height of 0.2 degrees, h = 2 D tan(angle / 2) at 400 mm (Legge and "
        "Bigelow, Journal of Vision 11(5):8, 2011); a newspaper's is 1.4 to 1.6 mm",
    )
    tiny_letters_mm: float = _limit(
        1.16,
        "mm",
        "words whose largest letters are less tall are not read by most people",
        "10 minutes of arc at 400 mm, twice the height of the 20/20 letter",
    )
    words_letters: float = _limit(5, "letters", "rows of fewer shapes are not taken for words")
    step_mm: float = _limit(0.4, "mm", "steps of a gradient at least this wide are seen as bands")
    step_share: float = _limit(0.03, "of the ink", "so much of the ink in stepped gradients is worth a word")
    rim_mm: float = _limit(0.35, "mm", "a half-transparent rim wider than this shows as a halo")
    fringe_share: float = _limit(0.25, "of the outline", "so much of a pale rim shows as an old background")
    white_share: float = _limit(0.05, "of the ink", "white parts worth a word when they are not printed")
    white_lot_share: float = _limit(0.3, "of the ink", "so much white that turns makes it another design")
    white_difference: float = _limit(
        10, "CIEDE2000", "white that turns into a colour this far off is noticed"
    )
    shift_difference: float = _limit(
        12, "CIEDE2000", "colours that change by more than this are another colour"
    )
    merged_share: float = _limit(0.3, "of the outline", "so much of it has inner detail that one tone loses")
    gamut_share: float = _limit(0.25, "of the ink", "so much of the ink outside the printer's colours")
    gamut_difference: float = _limit(6, "CIEDE2000", "a miss by more than this is seen side by side")
    colour_vision: float = _limit(0, "(0 or 1)", "1 looks at art with colour-vision deficiencies too")
    read_stop: float = _limit(
        0.3,
        "chance",
        "words are not read in the thumbnail",
        "measured on our own labelled set (docs/accuracy.md)",
    )
    read_words_share: float = _limit(
        0.3, "of the art", "art with fewer words is a picture first, and sells without them"
    )
    read_better: float = _limit(
        0.15, "chance", "so much better are words read on another colour that the colour is to blame"
    )
    read_doubt: float = _limit(
        0.7, "chance", "words are read only by some", "measured on our own labelled set (docs/accuracy.md)"
    )
    darkest_blank_contrast: float = _limit(
        3.0,
        "to 1",
        "what black ink must reach on a blank that is printed without white",
        "WCAG 2.2 SC 1.4.11 asks 3:1 of graphics on screens; that print follows it is our judgement",
    )
    lost_contrast: float = _limit(
        1.5,
        "to 1",
        "an edge with less contrast than this cannot be made out",
        "measured on our own labelled set: large words die below 1.2:1, small ones below 2:1",
    )
    lost_difference: float = _limit(
        20, "CIEDE2000", "an edge that differs in hue by more than this is seen even at equal lightness"
    )
    weak_contrast: float = _limit(
        2.0,
        "to 1",
        "small words need at least this",
        "measured on our own labelled set; WCAG 2.2 SC 1.4.11 asks 3:1 of graphics on screens",
    )
    lost_edge_share: float = _limit(0.5, "of the outline", "so much of the outline lost is a stop")
    visible_ink_share: float = _limit(
        0.3, "of the ink", "so much ink that stands out carries art whose outline is lost"
    )
    weak_edge_share: float = _limit(0.5, "of the outline", "so much of the outline weak is a warning")
    weak_mean_contrast: float = _limit(
        2.4, "to 1", "art with more contrast than this on average carries weak stretches"
    )
    sure_words: float = _limit(
        0.8,
        "chance",
        "a row this likely to be letters is a line of words; what is less likely may be ornament",
        "the reader's own chance, fitted on our own labelled set (docs/accuracy.md)",
    )
    lost_words_contrast: float = _limit(
        1.25,
        "to 1",
        "letters with less contrast than this are not told from the blank",
        "measured: machine readers on the sample's lines, docs/findings.md",
    )
    lost_words_difference: float = _limit(
        30,
        "CIEDE2000",
        "a hue further off than this shows letters all the same",
        "measured: machine readers on the sample's lines, docs/findings.md",
    )
    dark_words_contrast: float = _limit(
        1.5, "to 1", "the same where letters and blank are both dark: dark inks run together in print"
    )
    dark_luminance: float = _limit(
        0.08, "relative luminance", "darker than this is dark: L* of about 34, such as maroon or forest green"
    )
    faint_words_contrast: float = _limit(
        1.6,
        "to 1",
        "a line of words with less contrast than this on average is faint, in whatever hue",
        "measured: machine readers on the sample's lines, docs/findings.md",
    )
    lost_words_share: float = _limit(
        0.7,
        "of a line's outline",
        "so much of a line of words lost is a stop; of outlined letters half may seem lost that are read",
        "measured on our own labelled set, docs/findings.md",
    )
    part_words_share: float = _limit(
        0.2, "of a line's outline", "so much of a line of words lost is a word or some letters"
    )
    part_lost_share: float = _limit(0.3, "of the outline", "so much of the outline lost is a warning")


@dataclass(frozen=True)
class About:
    """What a limit is: for pages and messages."""

    name: str
    value: float
    unit: str
    about: str
    source: str


@dataclass(frozen=True)
class Profile:
    """Limits with the seller's changes. Every change has a reason, which is printed with the finding."""

    limits: Limits = Limits()
    reasons: Mapping[str, str] = field(default_factory=dict)  # by limit name
    severities: Mapping[tuple[str, str], tuple[Severity, str]] = field(
        default_factory=dict
    )  # (check, code) -> severity, reason
    off: Mapping[str, str] = field(default_factory=dict)  # check -> reason


STANDARD = Profile()


def about_limit(name: str) -> About:
    """Unit, meaning and source of the limit with this name, at its standard value."""
    for item in fields(Limits):
        if item.name == name:
            data = item.metadata
            return About(name, cast(float, item.default), data["unit"], data["about"], data["source"])
    raise KeyError(name)


def limit_names() -> tuple[str, ...]:
    """The names of all limits, in the order they are declared."""
    return tuple(item.name for item in fields(Limits))


def profile_from(data: Mapping[str, object], codes: Mapping[str, tuple[str, ...]], file: str = "") -> Profile:
    """The profile that a seller's table asks for.

    ``data`` has up to three tables: ``limits.NAME = {value, reason}``, ``severity."CHECK:CODE" =
    {value, reason}`` and ``off."CHECK" = {reason}``. ``codes`` maps each check to its codes. Raises
    ShopError ``unknown-key`` for a name we do not know and ``bad-check-setting`` for a value that cannot
    be used or a change without a reason.
    """
    for table in data:
        _known(table, ("limits", "severity", "off"), file, "")
    limits, reasons = Limits(), {}
    for name, entry in _entries(data, "limits", file):
        _known(name, limit_names(), file, "limits.")
        value = entry.get("value")
        if isinstance(value, bool) or not isinstance(value, int | float) or value < 0:
            raise _bad(file, f"limits.{name}", f"{value!r} is not a number of 0 or more")
        limits = replace(limits, **{name: value})
        reasons[name] = _reason(entry, file, f"limits.{name}")
    severities = {}
    for name, entry in _entries(data, "severity", file):
        check, _, code = name.partition(":")
        _known(name, tuple(f"{c}:{k}" for c, ks in codes.items() for k in ks), file, "severity.")
        word = str(entry.get("value", "")).upper()
        if word not in Severity.__members__:
            raise _bad(file, f"severity.{name}", f"{entry.get('value')!r} is not note, warn or stop")
        severities[check, code] = (Severity[word], _reason(entry, file, f"severity.{name}"))
    off = {}
    for name, entry in _entries(data, "off", file):
        _known(name, tuple(codes), file, "off.")
        off[name] = _reason(entry, file, f"off.{name}")
    return Profile(limits, reasons, severities, off)


def _entries(data: Mapping[str, object], table: str, file: str) -> list[tuple[str, Mapping[str, object]]]:
    content = data.get(table, {})
    if not isinstance(content, Mapping):
        raise _bad(file, table, "it is not a table")
    found = []
    for name, entry in content.items():
        if not isinstance(entry, Mapping):
            raise _bad(file, f"{table}.{name}", "it is not a table with value and reason")
        for key in entry:
            _known(str(key), ("value", "reason"), file, f"{table}.{name}.")
        found.append((str(name), entry))
    return found


def _reason(entry: Mapping[str, object], file: str, field_name: str) -> str:
    reason = entry.get("reason")
    if not isinstance(reason, str) or not reason.strip():
        raise _bad(file, field_name, "the change has no reason")
    return reason.strip()


def _bad(file: str, field_name: str, what: str) -> ShopError:
    return ShopError(
        "bad-check-setting",
        what,
        'write it like {value = 120, reason = "tea towels are seen from two metres"}',
        Where(file=file, field=field_name),
    )


def _known(name: str, names: tuple[str, ...], file: str, prefix: str) -> None:
    if name in names:
        return
    near = nearest(name, names)
    raise ShopError(
        "unknown-key",
        f"{prefix}{name} is not a setting of the checks",
        f"did you mean {prefix}{near}?" if near else "see docs/checks for the names",
        Where(file=file, field=f"{prefix}{name}"),
    )
