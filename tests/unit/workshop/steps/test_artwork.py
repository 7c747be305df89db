"""Everything wanted of one design: in order, from one decoding, the same in a worker process."""

import hashlib
import io
import multiprocessing
import pickle
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import numpy as np
import pytest
from openmoji import design_png, design_svg
from PIL import Image

from hundredfold.catalogue.blanks import BlankColour, FileKind, PrintArea
from hundredfold.designs.decode import Picture, decode
from hundredfold.designs.facts import DesignFacts
from hundredfold.designs.measure import facts_from_json
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import fit
from hundredfold.runner.inputs import CarriedInputs, SharedInputs
from hundredfold.runner.steps import Step
from hundredfold.runner.tasks import WorkPart
from hundredfold.workshop.steps import artwork
from hundredfold.workshop.steps.allsteps import MEASURE, PRINT_FILE, SMALL_ART
from hundredfold.workshop.steps.artwork import ArtWanted, make_from_art

FRONT = PrintArea("front", 360, 450, 30)
WRAP = PrintArea("wrap", 270, 105, 30, file_kind=FileKind.JPEG)
SKY = BlankColour("sky", "Sky", Srgb(150, 195, 225))


Wanted = tuple[Step, AreaLayout | None]


def kept(folder: Path, data: bytes, name: str) -> tuple[str, str]:
    path = folder / name
    path.write_bytes(data)
    return str(path), hashlib.sha256(data).hexdigest()


def made_of(
    path: str, digest: str, *wanted: tuple[Step, AreaLayout | None], name: str = "art"
) -> list[bytes]:
    return make_from_art(parts_of(digest, *wanted, name=name), SharedInputs("", {digest: path}))


def parts_of(digest: str, *wanted: Wanted, name: str = "art") -> list[WorkPart]:
    return [
        WorkPart(step.name, name, {"design art": digest}, ArtWanted(name, layout)) for step, layout in wanted
    ]


def facts_of(path: str, digest: str) -> DesignFacts:
    (found,) = made_of(path, digest, (MEASURE, None), name=path)
    return facts_from_json(found)


def laid(facts: DesignFacts, area: PrintArea) -> AreaLayout:
    return AreaLayout(area, (fit(facts.ink, area),))


def all_of(facts: DesignFacts) -> tuple[Wanted, ...]:
    prints = ((PRINT_FILE, laid(facts, FRONT)), (PRINT_FILE, laid(facts, WRAP)))
    return (MEASURE, None), *prints, (SMALL_ART, None)


def test_outputs_come_in_order_from_one_decoding(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path, digest = kept(tmp_path, design_png("honeybee"), "honeybee.png")
    facts = facts_of(path, digest)
    times: list[str] = []

    def counted(data: bytes, name: str) -> Picture:
        times.append(name)
        return decode(data, name)

    monkeypatch.setattr(artwork, "decode", counted)
    outputs = made_of(path, digest, *all_of(facts), name=path)
    assert len(times) == 1
    assert facts_from_json(outputs[0]) == facts
    opened = [Image.open(io.BytesIO(data)) for data in outputs[1:]]
    assert [(image.format, image.size) for image in opened] == [
        ("PNG", (360, 450)),
        ("JPEG", (270, 105)),
        ("PNG", (360, 450)),
    ]


def test_a_worker_process_makes_the_same_bytes(tmp_path: Path) -> None:
    path, digest = kept(tmp_path, design_png("snail"), "snail.png")
    work = parts_of(digest, *all_of(facts_of(path, digest)))
    inputs = CarriedInputs({digest: Path(path).read_bytes()})
    assert pickle.loads(pickle.dumps(work)) == work
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as pool:
        assert pool.submit(make_from_art, work, inputs).result() == make_from_art(work, inputs)


def test_a_vector_design_is_drawn_at_the_printed_size(tmp_path: Path) -> None:
    path, digest = kept(tmp_path, design_svg("tulip"), "tulip.svg")
    facts = facts_of(path, digest)
    assert facts.vector
    assert max(facts.width_px, facts.height_px) == artwork.VECTOR_LONG_SIDE_PX
    large = PrintArea("large", 3000, 3750, 300)
    (data,) = made_of(path, digest, (PRINT_FILE, laid(facts, large)))
    found = np.asarray(Image.open(io.BytesIO(data)))
    placement = fit(facts.ink, large)
    assert found.shape == (3750, 3000, 4)
    inked = np.flatnonzero((found[:, :, 3] > 127).any(axis=0))
    assert abs(int(inked[0]) - placement.left_px) <= 2
    assert abs(int(inked[-1]) + 1 - placement.left_px - placement.width_px) <= 2
    # A resized edge is soft over several pixels; a drawn one over about one.
    alpha = found[:, :, 3]
    assert np.count_nonzero((alpha > 0) & (alpha < 255)) < 0.02 * np.count_nonzero(alpha)


def test_a_file_that_changed_is_noticed(tmp_path: Path) -> None:
    path, digest = kept(tmp_path, design_png("snail"), "snail.png")
    kept(tmp_path, design_png("ant"), "snail.png")
    with pytest.raises(ShopError) as caught:
        made_of(path, digest, (MEASURE, None), name="designs/snail.png")
    assert caught.value.slug == "art-changed"
    assert caught.value.where.file == "designs/snail.png"


def test_a_file_that_went_away_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(ShopError) as caught:
        made_of(str(tmp_path / "gone.png"), "0" * 64, (MEASURE, None))
    assert caught.value.slug == "art-missing"


def test_an_svg_with_a_wrong_name_says_so(tmp_path: Path) -> None:
    path, digest = kept(tmp_path, design_svg("tulip"), "tulip.png")
    assert facts_of(path, digest).remarks == ("its name says PNG, but it is SVG",)


def test_versions_name_what_touches_the_pixels() -> None:
    found = MEASURE.recipe({}).engines
    assert list(found) == sorted(found)
    assert found["pyvips-binary"].count(".") == 2
