"""All designs at a glance: what they are, how they fared, what words find them."""

from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from hundredfold.designs.names import keywords_from, title_from
from hundredfold.ledger.state import Standing
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.madelist import all_made
from hundredfold.workshop.steps.identity import known_designs
from hundredfold.workshop.views.looking import Glance, Remembered, look_at
from hundredfold.workshop.views.proofsums import ProofSum, proof_sums


@dataclass(frozen=True)
class WallDesign:
    """A design. ``state`` is passes, look or stop, the worst on any colour; "" where it is not judged yet.

    ``words`` are all the words that find it, folded; ``blanks`` those it can be listed on.
    """

    id: str
    path: str
    title: str
    niche: str
    state: str
    stopped: int
    colours: int
    live: int
    planned: int
    retired: bool
    dark: bool  # shown on a dark ground: drawn for dark goods
    words: str
    blanks: tuple[str, ...]


@dataclass(frozen=True)
class Wall:
    """All designs whose files are there, by niche, then path."""

    designs: tuple[WallDesign, ...]
    blanks: tuple[tuple[str, str], ...]  # code, name


def wall_view(folder: Path) -> Wall:
    """Look at all designs; the same wall again as long as nothing was written. Raises as ``look_at`` does."""
    return _walls.of(look_at(folder), _wall)


_walls: Remembered[Wall] = Remembered()


def _wall(look: Glance) -> Wall:
    made, _ = all_made(ShopFiles(look.shop.paths.root))
    proofs = {one.design: one for one in proof_sums(look)}
    live: dict[str, int] = {}
    for key, listed in look.state.listed.items():
        live[key.design] = live.get(key.design, 0) + (listed.standing is Standing.LIVE)
    planned: dict[str, int] = {}
    for key in look.state.planned:
        planned[key.design] = planned.get(key.design, 0) + 1
    found = []
    for one in known_designs(look.moment.events).values():
        if not (look.shop.paths.root / one.path).is_file():
            continue
        row = made.get(one.path.partition("/")[2])
        name, proof = PurePosixPath(one.path), proofs.get(one.path)
        title = row.title if row else (proof.title if proof else title_from(name.name))
        folders = name.parts[1:-1]
        niche = row.niche if row and row.niche else (folders[-1] if folders else "")
        keywords = (*(row.keywords if row else ()), *keywords_from(name.name))
        words = " ".join((title, niche, name.stem, *keywords)).casefold()
        counts = (proof.stopped, proof.stopped + proof.passed) if proof else (0, 0)
        goods = tuple(one.blank for one in proof.sheets if one.passed) if proof else ()
        found.append(
            WallDesign(
                one.id,
                one.path,
                title,
                niche,
                _state(proof),
                *counts,
                live.get(one.id, 0),
                planned.get(one.id, 0),
                one.id in look.state.retired,
                bool(row and row.version == "dark"),
                words,
                goods,
            )
        )
    found.sort(key=lambda one: (one.niche, one.path))
    return Wall(tuple(found), tuple((blank.code, blank.name) for blank in look.shop.blanks))


def _state(proof: ProofSum | None) -> str:
    """The worst of a design, as the wall says it: colours left out by themselves are nothing to see."""
    if proof is None:
        return ""
    if not proof.passed:
        return "stop"
    return "look" if proof.warned else "passes"
