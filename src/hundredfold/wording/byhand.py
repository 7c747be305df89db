"""Texts written by hand, laid over what the room wrote: inside the channel's limits or not at all."""

import re
from collections.abc import Mapping
from dataclasses import replace

from hundredfold.catalogue.channels import Channel
from hundredfold.wording.clean import one_line
from hundredfold.wording.limits import room, size_of
from hundredfold.wording.searching import SearchRoom
from hundredfold.wording.wording import Wording

FIELDS = ("title", "story", "search words", "point N")
_POINT = re.compile(r"point ([1-9]\d?)")


def is_field(name: str) -> bool:
    """Whether a text of this name can be written by hand."""
    return name in FIELDS[:3] or bool(_POINT.fullmatch(name))


def text_of(wording: Wording, name: str) -> str:
    """A field's text; "" for a point there is not."""
    if name == "title":
        return wording.title
    if name == "story":
        return wording.story
    if name == "search words":
        return "; ".join(wording.search_words)
    number = _number(name)
    return wording.points[number - 1] if number <= len(wording.points) else ""


def too_long(name: str, text: str, channel: Channel) -> str:
    """In words, which limit of the channel the text is over; "" when it fits."""
    limits = channel.limits
    if name == "search words":
        return _search_too_long(_words(text, channel), SearchRoom.of(channel))
    chars = {"title": limits.title_chars, "story": limits.story_chars}.get(name, limits.point_chars)
    if name.startswith("point") and _number(name) > limits.points:
        return f"{channel.code} takes {limits.points} points"
    space = room(channel, chars)
    if space.fits(one_line(text)):
        return ""
    size = size_of(space.as_read(one_line(text)), limits.counts)
    return f"{size} {limits.counts.value} where {channel.code} takes {chars}"


def _search_too_long(words: tuple[str, ...], space: SearchRoom) -> str:
    if space.tags:
        long = next((word for word in words if size_of(word, space.counting) > space.tag_chars), "")
        if long:
            return f'"{long}" is over {space.tag_chars} characters'
        return f"{len(words)} tags where it takes {space.tags}" if len(words) > space.tags else ""
    costs = [space.cost(word) for word in words]
    names = ("characters", "bytes", "words")
    for kind, most in enumerate(space.capacity):
        total = sum(cost[kind] for cost in costs)
        if total > most:
            spaces = 1 if kind < 2 else 0  # a space after each word is counted, the last one too
            return f"{total - spaces} {names[kind]} where it takes {most - spaces}"
    return ""


def _words(text: str, channel: Channel) -> tuple[str, ...]:
    parts = text.split(";") if channel.limits.tags else text.replace(";", " ").split()
    return tuple(dict.fromkeys(filter(None, map(one_line, parts))))


def laid_over(wording: Wording, texts: Mapping[str, str], channel: Channel) -> Wording:
    """The wording with these texts in their fields, in the rows of every size too."""

    def over(one: Wording) -> Wording:
        points = list(one.points)
        for name, text in sorted(texts.items()):
            if name.startswith("point"):
                number = _number(name)
                points += [""] * (number - len(points))
                points[number - 1] = one_line(text)
        changes: dict[str, object] = {"points": tuple(filter(None, points))}
        if "title" in texts:
            changes["title"] = one_line(texts["title"])
        if "story" in texts:
            changes["story"] = one_line(texts["story"])
        if "search words" in texts:
            changes["search_words"] = _words(texts["search words"], channel)
        return replace(one, **changes)  # type: ignore[arg-type]

    sizes = {size: over(one) for size, one in wording.sizes.items()}
    return replace(over(wording), sizes=sizes)


def _number(name: str) -> int:
    found = _POINT.fullmatch(name)
    return int(found[1]) if found else 0
