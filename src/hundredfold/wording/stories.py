"""The story: two to four sentences that quote the joke, say whom it is for and how it is made."""

from collections.abc import Callable, Iterator, Mapping, Sequence

from hundredfold.wording.books import PhraseBook
from hundredfold.wording.casing import ended, joined, sentence_case
from hundredfold.wording.clean import one_line
from hundredfold.wording.facts import Fact
from hundredfold.wording.slots import Subject


def sentences_of(
    book: PhraseBook,
    subject: Subject,
    forms: Mapping[str, str],
    measure: str,
    line: str,
    turn: int,
    refusal: Callable[[str], str],
    alone: bool,
) -> tuple[Fact, ...]:
    """The sentences in their order: the words, whom it is for, how it is made, when to give it.

    ``line`` is the niche's sentence for the story; "" where there is none. A story that stands ``alone``,
    in a channel without points, also tells how the goods are made.
    """
    many = (subject.niche.many if subject.niche else "") or book.sentence("many")
    fields = {**forms, "quote": quote_of(book, subject), "many": many, "measures": measure}
    fields["Many"] = sentence_case(many)
    told = _ordered(book, subject, fields, line, turn, alone)
    return tuple(fact for fact in told if not refusal(fact.text))


def _ordered(
    book: PhraseBook, subject: Subject, fields: Mapping[str, str], line: str, turn: int, alone: bool
) -> Iterator[Fact]:
    source = f"{book.file}, sentences"
    if subject.lines:
        opener = _pick(book, "story_says" if subject.exact else "story_shows", fields, turn >> 16)
        yield Fact(opener, f"{source}; {subject.source}")
    if line and subject.niche:
        yield Fact(line, f"{subject.niche.file}, niche {subject.niche.key}")
    if alone:
        made = "story_facts" if fields["measures"] else "story_facts_plain"
        yield Fact(_pick(book, made, fields, turn >> 32), source)
    occasion = subject.occasion
    if occasion is not None and occasion.phrases:
        when = {**fields, "when": occasion.phrases[0]}
        yield Fact(_pick(book, "story_when", when, turn >> 24), f"{occasion.file}, occasion")
    elif turn >> 40 & 1 or not line:  # on every listing it would read like a form letter
        yield Fact(_pick(book, "story_close", fields, turn >> 24), source)


def quote_of(book: PhraseBook, subject: Subject) -> str:
    """What the art says or is called, in the language's quotation marks, as it is written."""
    return book.sentence("quote").replace("{}", sentence_case(joined(subject.lines)))


def _pick(book: PhraseBook, name: str, fields: Mapping[str, str], turn: int) -> str:
    choices = book.sentences.get(name, ())
    if not choices:
        return ""
    return one_line(choices[turn % len(choices)].format_map(fields))


def fitted_story(sentences: Sequence[Fact], standing: Sequence[str], fits: Callable[[str], bool]) -> str:
    """The sentences that fit, in order, the seller's standing lines after them."""
    text = ""
    for sentence in (*(fact.text for fact in sentences), *standing):
        if sentence:
            full = ended(sentence_case(sentence))
            longer = f"{text} {full}" if text else full
            if fits(longer):
                text = longer
    return text
