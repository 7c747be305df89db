"""What is told of a design: one sentence for each thing, with the blanks and colours it holds for.

A design on eleven blanks in sixty colours has a hundred findings and a handful of things to know.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from hundredfold.kernel.findings import Finding
from hundredfold.proofing.proof import BlankProof, DesignProof

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
class Told:
    """One thing to know. ``finding`` is the plainest case of it, ``count`` how many there are."""

    finding: Finding
    places: tuple[Place, ...]  # none: the art itself, wherever it is printed
    count: int

    def sentence(self, most: int = 99) -> str:
        """What is wrong and where; beyond ``most`` blanks only how many more."""
        text = self.finding.what[0].upper() + self.finding.what[1:]
        whole = [place.name for place in self.places if place.colours and place.every]
        parts = [place.words for place in self.places if not (place.colours and place.every)]
        named = [f"every colour of {listed(whole)}"] * bool(whole) + parts
        if len(self.places) > most:
            named = [place.words for place in self.places[:most]]
            more = len(self.places) - most
            named.append(f"{more} more blank{'s' if more > 1 else ''}")
        return f"{text}: {'; '.join(named)}." if named else f"{text}."

    def as_json(self) -> dict[str, object]:
        """Plain values, in a fixed key order."""
        where = [{"blank": place.blank, "colours": list(place.colours)} for place in self.places]
        one = self.finding
        return {
            "check": one.check, "code": one.code, "severity": one.severity.word, "findings": self.count,
            "sentence": self.sentence(), "try": one.fix, "where": where,
        }  # fmt: skip


def told_of(proof: DesignProof) -> tuple[Told, ...]:
    """Everything to know of a design, the worst first, then what holds for most."""
    found = sorted(_placed(proof), key=lambda one: (one[0].check, one[0].code))
    told = [_told([*group]) for _, group in groupby(found, key=lambda one: (one[0].check, one[0].code))]
    return tuple(sorted(told, key=lambda one: (-one.finding.severity, -one.count)))


def listed(words: Sequence[str]) -> str:
    """Words in a row: "a, b and c"."""
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1]))) if words else ""


def _placed(proof: DesignProof) -> Iterator[tuple[Finding, Place | None]]:
    """Findings with where they hold; of a blank's colours the best first, as they are ranked."""
    yield from ((finding, None) for finding in proof.findings)
    for blank in proof.blanks:
        here = Place(blank.blank.code, blank.blank.name)
        yield from ((finding, here) for finding in blank.findings)
        codes = {(finding.check, finding.code) for one in blank.colours for finding in one.findings}
        for check, code in sorted(codes):
            yield _coloured(blank, check, code)


def _coloured(blank: BlankProof, check: str, code: str) -> tuple[Finding, Place]:
    hits = [
        (one.colour.name, finding)
        for one in blank.colours
        for finding in one.findings
        if (finding.check, finding.code) == (check, code)
    ]
    names = tuple(name for name, _ in hits)
    return hits[-1][1], Place(blank.blank.code, blank.blank.name, names, len(names) == len(blank.colours))


def _told(group: Sequence[tuple[Finding, Place | None]]) -> Told:
    places = tuple(place for _, place in group if place is not None)
    # The plainest case: the worst severity; of small words the smallest.
    finding = max(
        (one for one, _ in group), key=lambda one: (one.severity, -float(one.numbers.get("letters_mm", 0)))
    )
    return Told(finding, places, sum(max(1, len(place.colours)) for place in places) or len(group))
