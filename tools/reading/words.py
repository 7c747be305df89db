"""Invented sayings of muddy hobbies, for designs that only the labelled set uses."""

import numpy as np


def split(words: str) -> tuple[str, ...]:
    """The words of a line."""
    return tuple(words.split())


THINGS = split(
    "bees allotment garden kettle narrowboat bells choir wellies compost spade turnip marrow honey hive "
    "puddle rain mud river lock tiller rope tower harbour tide pebble otter heron robin badger hedgehog "
    "marigold tomato leek onion parsnip rhubarb pumpkin trowel barrow shed greenhouse seedling orchard "
    "plum damson bramble nettle thistle meadow lantern biscuit teapot flask towel wetsuit wave moon frost "
    "thunder whistle fiddle banjo alto tenor chorus anthem anchor paddle canoe kayak sail dinghy lighthouse"
)
DEEDS = split(
    "dig grow swim ring sing row paddle plant weed brew bake knit sail wander ramble forage whistle hum "
    "potter splash dive float mend stitch gather harvest prune water sow hoe rake climb jump"
)
KINDS = split(
    "muddy happy sleepy grumpy brave salty soggy wild quiet noisy gentle golden hardy humble merry mighty "
    "early frosty windy sunny rainy proud patient stubborn cheerful lucky"
)
PEOPLE = split("grandad grandma mum dad aunt uncle queen king captain skipper keeper ringer gardener singer")
TEMPLATES = (
    ("{kind} {person}",),
    ("born to", "{deed}"),
    ("{deed}", "{deed2} repeat"),
    ("just one more", "{thing}"),
    ("keep calm", "and {deed}"),
    ("{kind}", "{thing} club"),
    ("world of", "{thing}", "and {thing2}"),
    ("i would rather", "{deed}"),
    ("{thing}", "{person}"),
    ("powered by", "{thing}"),
    ("warning", "may talk about", "{thing}"),
    ("{kind} {thing}", "society"),
    ("never too old", "to {deed}"),
    ("{thing} first", "{thing2} later"),
    ("the {kind}", "{person}", "of {thing}"),
    ("{deed} today"),
    ("so much {thing}", "so little time"),
    ("best {person}", "by {thing}"),
    ("home is where", "the {thing} is"),
    ("{kind} and {kind2}",),
    ("life is better", "with {thing}", "and {thing2}"),
)
CAPTIONS = ("since {year}", "est {year}", "{kind} days", "number {number}", "of {thing} lane", "with love")


def saying(rng: np.random.Generator) -> list[str]:
    """One to four short lines in lower case."""
    template = TEMPLATES[int(rng.integers(len(TEMPLATES)))]
    lines = [template] if isinstance(template, str) else list(template)
    if rng.random() < 0.35:
        lines.append(CAPTIONS[int(rng.integers(len(CAPTIONS)))])
    things, deeds, kinds = (rng.choice(pool, 2, replace=False) for pool in (THINGS, DEEDS, KINDS))
    fill = {
        "thing": things[0], "thing2": things[1], "deed": deeds[0], "deed2": deeds[1],
        "kind": kinds[0], "kind2": kinds[1], "person": rng.choice(PEOPLE),
        "year": int(rng.integers(1952, 2025)), "number": int(rng.integers(2, 99)),
    }  # fmt: skip
    return [line.format(**fill) for line in lines]


def cased(line: str, how: str) -> str:
    """``upper``, ``title`` or ``lower`` case."""
    return {"upper": line.upper(), "title": line.title(), "lower": line}[how]
