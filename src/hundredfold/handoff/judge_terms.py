"""Judges the frozen terms against the channel and blanks as they are now, before a pack goes out."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, is_dataclass

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.handoff.judge_charges import money_now, money_then
from hundredfold.handoff.judge_checks import TERMS
from hundredfold.handoff.judge_common import MANIFEST, wrong
from hundredfold.handoff.manifest_shape import Manifest
from hundredfold.kernel.findings import Finding


@dataclass(frozen=True)
class Expected:
    """The channel and blanks as the shop's files say now."""

    channel: Channel
    blanks: tuple[Blank, ...]
    forms: Mapping[str, bytes] = field(default_factory=dict)  # the partner's own files by their path


def judge_terms(manifest: Manifest, expected: Expected | None) -> Iterator[Finding]:
    """What the pack was made under that is not what the shop's files say."""
    item = f"{MANIFEST}, terms"
    sizes = [(a.blank, a.name, tuple(a.sizes)) for a in manifest.terms.areas]
    if len(set(sizes)) != len(sizes):
        yield wrong(TERMS, "area-twice", item, "a print area stands there twice")
    if expected is None:
        return
    terms, channel = manifest.terms, expected.channel
    if manifest.channel != channel.code:
        yield wrong(TERMS, "other-channel", item, f"made for {manifest.channel}, not for {channel.code}")
    forms = {path: hashlib.sha256(data).hexdigest() for path, data in expected.forms.items()}
    now = {**_channel_now(channel), "form": forms}
    was: Mapping[str, object] = {
        "currency": terms.currency,
        **money_then(terms),
        "daily cap": (terms.cap.counts, terms.cap.a_day),
        "limits": tuple(terms.limits.model_dump().values()),
        "pictures": tuple(terms.pictures.model_dump().values()),
        "table": terms.sheet.model_dump(),
        "further tables": [each.model_dump() for each in terms.more_sheets[: len(channel.more_tables)]],
        "their words": terms.their_words,
        "ends and changes": (terms.asks.ends, terms.asks.changes),
        "form": terms.forms,
    }
    for name, value in was.items():
        if value != now[name]:
            what = f"the pack was made under {_brief(value)}; {channel.code} now says {_brief(now[name])}"
            yield wrong(TERMS, "out-of-date", f"{item}, {name}", what)
    yield from _areas(manifest, expected, item)


def _channel_now(channel: Channel) -> Mapping[str, object]:
    limits, pictures = channel.limits, channel.pictures
    return {
        "currency": channel.currency,
        **money_now(channel),
        "daily cap": (channel.cap_counts.value, channel.daily_cap),
        "limits": (
            limits.title_chars,
            limits.points,
            limits.point_chars,
            limits.story_chars,
            limits.search_chars,
            limits.search_bytes,
            limits.search_words,
            limits.tags,
            limits.tag_chars,
            limits.counts.value,
        ),
        "pictures": (pictures.width_px, pictures.height_px, pictures.max_bytes, pictures.max_count),
        "table": _said(channel.sheet),
        "further tables": [_said(each) for each in channel.more_tables],
        "their words": {name: dict(words) for name, words in channel.their_words.items()},
        "ends and changes": (channel.ends.value, channel.changes.value),
    }


def _said(record: object) -> object:
    """A record's settings by name, lists for tuples, as the manifest holds them."""
    if isinstance(record, tuple):
        return [_said(each) for each in record]
    return {key: _said(value) for key, value in vars(record).items()} if is_dataclass(record) else record


def _areas(manifest: Manifest, expected: Expected, item: str) -> Iterator[Finding]:
    now = {
        (blank.code, area.name, tuple(sorted(area.for_sizes))): (area.width_px, area.height_px, area.dpi)
        for blank in expected.blanks
        for area in blank.areas
    }
    for area in manifest.terms.areas:
        made = (area.width_px, area.height_px, area.dpi)
        fits = now.get((area.blank, area.name, tuple(area.sizes)))
        if fits != made:
            says = f"now {fits[0]} x {fits[1]} px at {fits[2]} dpi" if fits else "no longer there"
            what = f"{area.blank} {area.name}: made at {made[0]} x {made[1]} px, {made[2]} dpi; {says}"
            yield wrong(TERMS, "out-of-date", f"{item}, areas", what)


def _brief(value: object) -> str:
    text = str(value)
    return text if len(text) <= 60 else text[:57] + "..."
