"""A recipe says everything an output depends on; its key names that output for good.

Two runs with equal recipes give equal bytes, so an equal key means nothing has to be made. The JSON text is
kept beside the key: comparing two of them tells a person, in words, why something was made again.
"""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from functools import cached_property

_LONGEST_SHOWN = 60
_SHORT = 16  # characters: of a value that is kept as it is, and of a digest in the place of a longer one


def canonical_json(value: object) -> str:
    """The one JSON text of a value: keys sorted, no spaces, no NaN, Unicode as it is.

    Decimal and date become text. Raises TypeError for other types and for keys that are not text, ValueError
    for NaN, infinities and text that UTF-8 cannot hold.
    """
    text = json.dumps(
        value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False, default=_plain
    )
    text.encode("utf-8")
    return text


def _plain(value: object) -> object:
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return dict(value)
    raise TypeError(f"a recipe holds plain values only, not {type(value).__name__}: {value!r}")


def _check_keys(value: object) -> None:
    # json would turn the keys 1 and "1" into the same text without a word.
    if isinstance(value, Mapping):
        for key, inner in value.items():
            if not isinstance(key, str):
                raise TypeError(f"a recipe's keys are text, not {type(key).__name__}: {key!r}")
            if not isinstance(inner, str | int):
                _check_keys(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            _check_keys(inner)


@dataclass(frozen=True)
class Recipe:
    """What one output is made from and by.

    ``step`` and ``version`` name our own code; a number of the version is raised by hand when what that part
    of the code gives out changes.
    ``engines`` gives only the libraries that touch these bytes, with their versions. ``params`` holds plain
    JSON values. ``inputs`` maps a name a person knows ("design art") to the sha256 of its content, never to
    a path or a time.
    """

    step: str
    version: tuple[int, ...]
    engines: Mapping[str, str] = field(default_factory=dict)
    params: Mapping[str, object] = field(default_factory=dict)
    inputs: Mapping[str, str] = field(default_factory=dict)

    @property
    def numbers(self) -> str:
        """The version as a person reads it: 5.7."""
        return ".".join(map(str, self.version))

    @cached_property
    def _text(self) -> str:
        _check_keys(self.engines)
        _check_keys(self.params)
        _check_keys(self.inputs)
        return canonical_json(
            {
                "step": self.step,
                "version": self.version,
                "engines": dict(self.engines),
                "params": dict(self.params),
                "inputs": dict(self.inputs),
            }
        )

    @cached_property
    def _key(self) -> str:
        return hashlib.sha256(self._text.encode("utf-8")).hexdigest()

    def json(self) -> str:
        """The canonical JSON text. Raises TypeError or ValueError as ``canonical_json`` does."""
        return self._text

    def key(self) -> str:
        """The sha256 of the canonical JSON, as 64 hexadecimal digits."""
        return self._key

    @classmethod
    def from_json(cls, text: str) -> "Recipe":
        """The recipe that a stored text describes."""
        held = json.loads(text)
        version = held["version"]
        parts = tuple(version) if isinstance(version, list) else (version,)  # it was one number once
        return cls(held["step"], parts, held["engines"], held["params"], held["inputs"])


def plain(value: object) -> object:
    """A record as a recipe's plain values: each field under its name, an entry of a mapping by its key.

    A mapping by records becomes a list of pairs, sorted; enumerations give their value. Raises TypeError for
    what is none of these.
    """
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value) and not isinstance(value, type):
        return {one.name: plain(getattr(value, one.name)) for one in fields(value) if one.compare}
    if isinstance(value, Mapping):
        if all(isinstance(key, str) for key in value):
            return {str(key): plain(one) for key, one in value.items()}
        return sorted(([plain(key), plain(one)] for key, one in value.items()), key=canonical_json)
    if isinstance(value, frozenset | set):
        return sorted((plain(one) for one in value), key=canonical_json)
    if isinstance(value, list | tuple):
        return [plain(one) for one in value]
    return value


def in_short(value: object, deep: int = 2) -> object:
    """Plain values with long ones cut to a digest, so that a recipe stays small and still names what changed.

    Lists of things with a code, name or size are kept by that, ``deep`` levels down.
    """
    text = canonical_json(value)
    if len(text) <= _SHORT:
        return value
    if isinstance(value, list):
        value = _by_name(value) or value
    if isinstance(value, Mapping) and deep > 0:
        return {key: in_short(one, deep - 1) for key, one in value.items()}
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:_SHORT]


def _by_name(entries: Sequence[object]) -> dict[str, object]:
    """The entries of a list by what they are called; nothing where that does not tell them apart."""
    for names in (("code",), ("name",), ("colour", "size"), ("size",)):
        if all(isinstance(entry, Mapping) and all(name in entry for name in names) for entry in entries):
            found: dict[str, object] = {
                " ".join(str(entry[name]) for name in names): entry
                for entry in entries
                if isinstance(entry, Mapping)
            }
            if len(found) == len(entries):
                return found
    return {}


def differences(old: Recipe | None, new: Recipe) -> tuple[str, ...]:
    """Why ``new`` gives something else than ``old``, in words; nothing where they are the same."""
    if old is None:
        return ("never made before",)
    reasons: list[str] = []
    if old.step != new.step:
        reasons.append(f"step {old.step} {old.numbers} -> {new.step} {new.numbers}")
    elif old.version != new.version:
        reasons.append(f"step {new.step} {old.numbers} -> {new.numbers}")
    reasons += _engine_changes(old.engines, new.engines)
    reasons += _input_changes(old.inputs, new.inputs)
    was, now = json.loads(canonical_json(old.params)), json.loads(canonical_json(new.params))
    reasons += _value_changes("", was, now)
    return tuple(reasons)


def _engine_changes(old: Mapping[str, str], new: Mapping[str, str]) -> list[str]:
    reasons = []
    for name in sorted(old.keys() | new.keys()):
        if name not in new:
            reasons.append(f"library {name} {old[name]} no longer used")
        elif name not in old:
            reasons.append(f"library {name} {new[name]} now used")
        elif old[name] != new[name]:
            reasons.append(f"library {name} {old[name]} -> {new[name]}")
    return reasons


def _input_changes(old: Mapping[str, str], new: Mapping[str, str]) -> list[str]:
    reasons = []
    for name in sorted(old.keys() | new.keys()):
        if name not in new:
            reasons.append(f"{_words(name)} taken away")
        elif name not in old:
            reasons.append(f"{_words(name)} added")
        elif old[name] != new[name]:
            reasons.append(f"{_words(name)} changed")
    return reasons


def _value_changes(name: str, old: object, new: object) -> list[str]:
    if isinstance(old, dict) and isinstance(new, dict):
        reasons = []
        for key in sorted(old.keys() | new.keys()):
            inner = f"{name} {_words(key)}".strip()
            if key not in new:
                reasons.append(f"{inner}: {shown(old[key])} taken away")
            elif key not in old:
                reasons.append(f"{inner}: {shown(new[key])} added")
            else:
                reasons += _value_changes(inner, old[key], new[key])
        return reasons
    if isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        pairs = enumerate(zip(old, new, strict=True), start=1)
        return [reason for at, (was, now) in pairs for reason in _value_changes(f"{name} {at}", was, now)]
    if old == new and type(old) is type(new):  # 1, 1.0 and true are equal, and other text in a recipe
        return []
    was, now = shown(old), shown(new)
    return [f"{name} changed" if was == now else f"{name}: {was} -> {now}"]


def _words(key: str) -> str:
    return key.replace("_", " ").replace(".", " ")


def shown(value: object) -> str:
    """A value as words, cut short where it is long."""
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = value if isinstance(value, str) else canonical_json(value)
    if not text:
        return "empty"
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"
