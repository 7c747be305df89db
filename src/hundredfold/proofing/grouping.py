"""What is told of a design: one sentence for each thing, with the blanks and colours it holds for.

A design on eleven blanks in sixty colours has a hundred findings and a handful of things to know.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from hundredfold.kernel.counting import counted
from hundredfold.kernel.findings import Finding
from hundredfold.proofing.checks.every import badness, can_be_ranked
from hundredfold.proofing.designproof import BlankProof, DesignProof

MOST_COLOURS = 4  # named one by one; of more, only how many


@dataclass(frozen=True)
class Place:
    """A blank, and its colours that something holds for; none: whatever its colour."""

    blank: str  # code
    name: str
    colours: tuple[str, ...] = ()
    every: bool = True  # of the colours it comes in

    @property
    def words(self) -> str:
        """Such as "T-shirt in Black and Navy"."""
        if not self.colours:
            return self.name
        if self.every:
            return f"{self.name} in every colour"
        if len(self.colours) > MOST_COLOURS:
            return f"{self.name} in {len(self.colours)} colours"
        return f"{self.name} in {listed(self.colours)}"


@dataclass(frozen=True)
class GroupedFinding:
    """One thing to know. ``finding`` is the plainest case of it, ``count`` how many there are.

    ``at`` says where that case is, if it is another elsewhere: its figures are not those of every place;
    ``rest`` are then the places without that one.
    """

    finding: Finding
    places: tuple[Place, ...]  # none: the art itself, wherever it is printed
    count: int
    at: str = ""  # such as "at worst on T-shirt in Navy"
    rest: tuple[Place, ...] = ()

    def sentence(self, most: int = 99) -> str:
        """What is wrong and where; beyond ``most`` blanks only how many more."""
        text = self.finding.what[0].upper() + self.finding.what[1:]
        places, joint = self.places, ": "
        if self.at:
            text, places, most, joint = f"{text}, {self.at}", self.rest, most - 1, "; also on "
        whole = [place.name for place in places if place.colours and place.every]
        parts = [place.words for place in places if not (place.colours and place.every)]
        named = [f"every colour of {listed(whole)}"] * bool(whole) + parts
        if len(places) > most:
            named = [place.words for place in places[:most]]
            named.append(counted(len(places) - most, "more blank"))
        return f"{text}{joint}{'; '.join(named)}." if named else f"{text}."

    def as_json(self) -> dict[str, object]:
        """Plain values, in a fixed key order."""
        where = [{"blank": place.blank, "colours": list(place.colours)} for place in self.places]
        one = self.finding
        return {
            "check": one.check, "code": one.code, "severity": one.severity.word, "findings": self.count,
            "sentence": self.sentence(), "try": one.fix, "where": where,
        }  # fmt: skip


@dataclass(frozen=True)
class _Case:
    """The worst finding of one code on a blank, the colour it is on, and whether all its colours say it."""

    finding: Finding
    place: Place | None = None
    colour: str = ""  # "" for whatever colour
    alike: bool = True

    @property
    def at(self) -> str:
        """Such as "T-shirt in Navy"."""
        name = self.place.name if self.place is not None else ""
        return f"{name} in {self.colour}" if self.colour else name

    @property
    def elsewhere(self) -> Place | None:
        """The place without the worst colour; None where that leaves nothing."""
        others = tuple(name for name in self.place.colours if name != self.colour) if self.place else ()
        return replace(self.place, colours=others, every=False) if self.place and others else None


def grouped_findings(proof: DesignProof) -> tuple[GroupedFinding, ...]:
    """Everything to know of a design, the worst first, then what holds for most."""
    found = sorted(_placed(proof), key=lambda case: _subject(case.finding))
    told = [_told([*group]) for _, group in groupby(found, key=lambda case: _subject(case.finding))]
    return tuple(sorted(told, key=lambda one: (-one.finding.severity, -one.count)))


def listed(words: Sequence[str]) -> str:
    """Words in a row: "a, b and c"."""
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1]))) if words else ""


def _subject(finding: Finding) -> tuple[str, str, str]:
    """What is wrong, and with which part of the art: dark words are lost on other colours than light ones."""
    return *finding.kind, str(finding.numbers.get("where", ""))


def _placed(proof: DesignProof) -> Iterator[_Case]:
    """Findings with where they hold; of a blank's colours the best first, as they are ranked."""
    yield from (_Case(finding) for finding in proof.findings)
    for blank in proof.blanks:
        here = Place(blank.blank.code, blank.blank.name)
        yield from (_Case(finding, here) for finding in blank.findings)
        subjects = {_subject(finding) for one in blank.colours for finding in one.findings}
        yield from (_coloured(blank, subject) for subject in sorted(subjects))


def _coloured(blank: BlankProof, subject: tuple[str, str, str]) -> _Case:
    hits = [
        (one.colour.name, finding)
        for one in blank.colours
        for finding in one.findings
        if _subject(finding) == subject
    ]
    names = tuple(name for name, _ in hits)
    place = Place(blank.blank.code, blank.blank.name, names, len(names) == len(blank.colours))
    # Of the equally bad the last: colours come best first.
    colour, finding = max(reversed(hits), key=lambda hit: badness(hit[1]))
    return _Case(finding, place, colour, len({hit.what for _, hit in hits}) == 1)


def _told(cases: Sequence[_Case]) -> GroupedFinding:
    places = tuple(case.place for case in cases if case.place is not None)
    worst = max(cases, key=lambda case: badness(case.finding))
    alike = all(case.alike and case.finding.what == worst.finding.what for case in cases)
    rank = "at worst" if can_be_ranked(worst.finding) else "for one"
    at = f"{rank} on {worst.at}" if worst.at and not alike else ""
    count = sum(max(1, len(place.colours)) for place in places) or len(cases)
    rest = tuple(filter(None, (case.place if case is not worst else case.elsewhere for case in cases)))
    return GroupedFinding(worst.finding, places, count, at, rest if at else ())
