"""The starter books against dictionaries and rules that are not ours.

Spelling and French gender: Debian's hunspell with its dictionaries (en_GB, en_US and es_ES of LibreOffice,
igerman98 for German, Dicollecte's "classique" for French, which tells each word's gender and number).
Plurals and lists: the CLDR's rules as its data has them, through Babel.
"""

import re
import shutil
import subprocess
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from importlib import resources
from itertools import pairwise

import pytest
from babel import Locale
from goods import channel, design, mug, words_of

from hundredfold.catalogue.channels import TextLimits
from hundredfold.wording.books import book_for
from hundredfold.wording.facts import listed
from hundredfold.workshop.shop.phrases import starter_books

TOOL = shutil.which("hunspell")
DICTIONARIES = {"en-GB": "en_GB", "en-US": "en_US", "de": "de_DE", "fr": "fr", "es": "es_ES"}
# Words in no such dictionary that we hold to be right: words of the hobby, of the trade,
# names of colours and goods, compounds that German may always make.
KNOWN = {
    "en-GB": "housewarming liveaboard narrowboat narrowboater narrowboaters supers",
    "en-US": "grandkids",
    "de": """
        Altistin Anthrazit Burgunderrot Dekokissen Eisbaden Eisbader Eisblau Eisweiß Emaille
        Emaille-Becher Emaille-Tasse Emaillebecher Enteneiblau Fun Gezeitentabelle Glockenläuten
        Glockenläutens Gärtnergeschenk Haferbeige Imkerei Imkergeschenk Königsblau Marineblau Mint Moosgrün
        Mountainbike Muttertagsgeschenk Nebelgrau Outdoor Partyglas Petrijünger Petrol Pinnchen Rosé
        Schwarmzeit Senfgelb Shirt Shotglas Silbergrau Smoker Stamperl Steingrau Stubentiger
        Sublimationsdruck T-Shirt Thermoskanne Valentinstag Vatertagsgeschenk Waldgrün Wechselläuten
        Wohndeko Zartrosa Zitronengelb emaillierter go marineblauem mitzählt pulverbeschichteter
        stillsitzt to wasserbasierter zweien
    """,
    "fr": "bag campanologie l'enfumoir papi tote",
    "es": """
        UV ahumador aparcabicis bag calabacines campanología chuches chupito enjambrazón gatito
        repasador tote transfer vintage
    """,
}
NOT_TOLD = ("also", "things", "apart", "from", "to", "language", "like", "capitals")
GENDERS = {
    **dict.fromkeys(("un", "le", "ce", "du", "au", "cet", "mon", "son"), "mas"),
    **dict.fromkeys(("une", "la", "cette"), "fem"),
}


def texts(language: str) -> list[str]:
    """Every text of a starter book that a buyer may read, without its slots."""
    book = starter_books()[language]
    name = book.file.removeprefix("starter ")
    source = (resources.files("hundredfold") / "phrases" / name).read_text(encoding="utf-8")
    return [re.sub(r"\{\w*\}", " ", text).replace("’", "'") for text in strings(tomllib.loads(source))]


def strings(node: object, key: str = "") -> Iterator[str]:
    if key in NOT_TOLD:
        return
    if isinstance(node, str):
        yield node
    elif isinstance(node, list):
        for one in node:
            yield from strings(one, key)
    elif isinstance(node, dict):
        for name, one in node.items():
            yield from strings(one, name)


def hunspell(dictionary: str, text: str, how: str) -> str:
    if TOOL is None:
        pytest.skip("no hunspell here: python tools/test_tools.py installs it")
    command = [TOOL, "-d", dictionary, "-i", "utf-8", how]
    done = subprocess.run(command, input=text, capture_output=True, text=True, encoding="utf-8", check=False)
    if "Can't open" in done.stderr:
        pytest.skip(f"no dictionary {dictionary} here: python tools/test_tools.py installs it")
    return done.stdout


@pytest.mark.parametrize("language", DICTIONARIES)
def test_every_word_is_spelt_as_the_dictionary_has_it(language: str) -> None:
    unknown = set(hunspell(DICTIONARIES[language], "\n".join(texts(language)), "-l").split())
    assert unknown == set(KNOWN[language].split())


def test_a_misspelt_word_would_be_seen() -> None:
    assert hunspell("en_GB", "a beekeper and a beekeeper", "-l").split() == ["beekeper"]


def genders(words: set[str]) -> dict[str, set[str]]:
    """The genders of each French word that is a noun and nothing of another gender."""
    found: dict[str, set[str]] = {}
    for line in hunspell("fr", "\n".join(sorted(words)), "-m").splitlines():
        word = line.split(" ")[0]
        if "po:nom" in line or "po:adj" in line:
            kinds = {kind for kind in ("mas", "fem") if f"is:{kind}" in line} or {"mas", "fem"}
            found[word] = found.get(word, set()) | kinds
    return found


def test_french_articles_agree_with_their_nouns() -> None:
    pairs = [
        (first.casefold(), second)
        for text in texts("fr")
        for first, second in pairwise(re.findall(r"[\w'-]+", text))
        if first.casefold() in GENDERS and "'" not in second
    ]
    known = genders({second for _, second in pairs})
    checked = [(first, second) for first, second in pairs if second in known]
    assert len(checked) > 60
    assert [pair for pair in checked if GENDERS[pair[0]] not in known[pair[1]]] == []
    assert genders({"housse"})["housse"] == {"fem"}  # so that "ce housse" would be seen


@pytest.mark.parametrize("tag", ["en-GB", "en-US", "de-DE", "fr-FR", "es-ES"])
def test_days_take_the_plural_that_the_cldr_gives_them(tag: str) -> None:
    book = book_for(tag, starter_books())
    assert book is not None
    rule = Locale.parse(tag, sep="-").plural_form
    for count in (1, 2, 5, 21, 31):
        wanted = book.sentence("day" if rule(count) == "one" else "days").format(days=count)
        blank = replace(mug(), stated=replace(mug().stated, working_days=(count, count)))
        to = channel(language=tag, limits=TextLimits(90, 12, 150, 600))
        points = words_of(design(), blank, to).points
        assert [point for point in points if wanted in point], (count, points)


def test_lists_are_joined_as_the_cldr_says() -> None:
    """CLDR 44, list patterns of type standard: the end pattern of each language."""
    names = ("one", "two", "three")
    assert listed(names, "en-GB") == "one, two and three"
    assert listed(names, "en-US") == "one, two, and three"
    assert listed(names, "de-DE") == "one, two und three"
    assert listed(names, "fr-FR") == "one, two et three"
    assert listed(names, "es-ES") == "one, two y three"


def test_colours_are_told_in_the_channel_s_language() -> None:
    white, navy = mug().colours
    blank = replace(mug(), colours=(white, replace(navy, name="White, navy rim")))
    to = channel(language="fr-FR", limits=TextLimits(90, 12, 150, 600))
    assert "Couleurs : blanc et blanc à bord bleu marine" in words_of(design(), blank, to).points
    english = words_of(design(), blank, channel(limits=TextLimits(90, 12, 150, 600))).points
    assert "Colours: White and White (navy rim)" in english
