"""The page over a month that was really made: every screen, every decision, every way back."""

import re
from pathlib import Path
from urllib.parse import quote

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from monthshop import digests, hundredfold, month, month_shop
from pages import opened
from starlette.routing import Route
from starlette.testclient import TestClient

from hundredfold.ledger.choices import Choice, ChoiceKey
from hundredfold.web.screens.every import SCREENS
from hundredfold.workshop.shop.desk import desk
from hundredfold.workshop.shop.history import history
from hundredfold.workshop.work.background import Background, Work

pytestmark = pytest.mark.xdist_group("page")


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = month_shop(tmp_path_factory.mktemp("page") / "shop", 3, blanks=("mug-445",))
    hundredfold("proof", "--shop", str(folder))
    month(folder, 2)
    return folder


@pytest.fixture(scope="module")
def page(shop: Path) -> TestClient:
    return opened(shop)


def first_sheet(page: TestClient) -> tuple[str, str]:
    """Design and blank of a design's first row of colours."""
    design = re.findall(r'href="/designs/([A-Z2-7]{8})"', page.get("/designs").text)[0]
    return design, "MUG-445"


def test_every_screen_answers_and_says_its_room(page: TestClient) -> None:
    design, blank = first_sheet(page)
    for path in ("/", "/designs", "/review", f"/review/{design}/{blank}", f"/designs/{design}",
                 f"/designs/{design}/place/{blank}", "/begin", "/begin/6"):  # fmt: skip
        answer = page.get(path)
        assert answer.status_code == 200, path
        assert answer.text.count("<h1") == 1, path
        assert answer.headers["cache-control"] == "no-store"


def test_a_picture_is_answered_once_and_then_known(page: TestClient) -> None:
    design, blank = first_sheet(page)
    for path in (
        f"/art/{design}.webp?w=160",
        f"/goods/{design}/{blank}/navy.webp?w=160",
        f"/bare/{blank}.webp",
    ):
        first = page.get(path)
        assert first.status_code == 200
        assert first.headers["content-type"] == "image/webp"
        assert first.content[:4] == b"RIFF"
        again = page.get(path, headers={"if-none-match": first.headers["etag"]})
        assert (again.status_code, again.content) == (304, b"")


def test_a_picture_of_another_place_is_another_picture(page: TestClient) -> None:
    design, blank = first_sheet(page)
    path = f"/goods/{design}/{blank}/navy.webp?w=160"
    assert page.get(path).headers["etag"] != page.get(f"{path}&scale=0.5").headers["etag"]
    assert page.get(path).content != page.get(f"{path}&scale=0.5").content


def test_search_finds_by_word_and_by_state(page: TestClient) -> None:
    every = page.get("/designs").text
    title = re.findall(r'<span class="name">(\w+)', every)[0]
    found = page.get(f"/designs?q={title}").text
    assert 0 < found.count("data-design") < every.count("data-design")
    part = page.get(f"/designs/part?q={title}").text
    assert part.count("data-design") == found.count("data-design")
    assert "<html" not in part
    assert "Nothing fits that" in page.get("/designs?q=zzzz").text


def test_a_struck_colour_and_its_undo_lead_back_to_the_same_choices(shop: Path, page: TestClient) -> None:
    design, blank = first_sheet(page)
    before = standing(shop)
    sheet = page.get(f"/review/{design}/{blank}").text
    colours = re.findall(r'name="struck" value="([a-z-]+)"', sheet)
    form = {"design": design, "blank": blank, "what": "keep", "struck": colours[:1]}
    answer = page.post("/review/settle", data=form)
    assert answer.status_code == 303
    assert len(standing(shop)) == 2
    struck = page.get(f"/designs/{design}").text
    assert "Struck" in struck
    decision = re.findall(r'name="decision" value="(\d+)"', struck)[0]
    assert (
        page.post("/undo", data={"decision": decision, "back": "/designs"}).headers["location"] == "/designs"
    )
    assert standing(shop) == before


def standing(shop: Path) -> dict[ChoiceKey, Choice]:
    with desk(shop, "") as looked:
        return dict(looked.ledger().choices)


def test_a_place_is_kept_shown_and_taken_back(page: TestClient) -> None:
    design, blank = first_sheet(page)
    usual = page.get(f"/goods/{design}/{blank}/navy.webp").headers["etag"]
    form = {"design": design, "blank": blank, "scale": "60", "right": "0", "down": "2.5", "what": "keep"}
    told = page.post("/design/place", data=form, headers={"accept": "application/json"}).json()
    assert "kept" in told["said"]
    assert "Its own place and size" in page.get(f"/designs/{design}").text
    assert page.post("/undo", data={"decision": told["decision"]}).status_code == 303
    assert "Its own place and size" not in page.get(f"/designs/{design}").text
    assert page.get(f"/goods/{design}/{blank}/navy.webp").headers["etag"] == usual


def test_a_taken_repair_and_its_undo_bring_the_master_back(shop: Path, page: TestClient) -> None:
    proposed = page.get("/designs").text
    for design in re.findall(r'href="/designs/([A-Z2-7]{8})"', proposed):
        if "Take this repair" in page.get(f"/designs/{design}").text:
            break
    else:
        pytest.skip("no repair is proposed for this art")
    before = digests(shop / "designs")
    form = {"design": design, "repair": "0"}
    told = page.post("/design/repair", data=form, headers={"accept": "application/json"}).json()
    assert "Taken" in told["said"], told
    after = digests(shop / "designs")
    assert after != before
    page.post("/undo", data={"decision": str(told["decision"])})
    assert digests(shop / "designs") == before
    undone = history(shop)[-2:]
    page.post("/undo", data={"decision": str(undone[0].event.decision)})
    assert digests(shop / "designs") == after
    page.post("/undo", data={"decision": str(history(shop)[-2:][0].event.decision)})
    assert digests(shop / "designs") == before


def test_rights_are_written_to_the_plain_list(shop: Path, page: TestClient) -> None:
    design, _ = first_sheet(page)
    form = {"design": design, "whose": "=cmd|' /C calc'!A0", "licence": "own work"}
    assert page.post("/design/rights", data=form).status_code == 303
    assert "own work" in (shop / "rights.csv").read_text()


def test_art_dropped_in_is_told_file_by_file(shop: Path, page: TestClient) -> None:
    art = next((shop / "designs").glob("*.png"))
    files = [
        ("files", (art.name, art.read_bytes(), "image/png")),
        ("files", ("../../evil.txt", b"no art", "text/plain")),
    ]
    told = page.post("/designs/drop", files=files, headers={"accept": "application/json"}).json()
    assert told["said"] == "No new design taken in, 1 was there already, 1 file left out."
    assert told["more"] == ["evil.txt: it is no art: bring JPEG, PNG, SVG, TIFF, WEBP files."]


def test_a_run_in_the_background_can_be_stopped_and_ends_by_itself(shop: Path) -> None:
    work = Background(shop)
    assert work.start(Work.PROOF)
    assert not work.start(Work.MONTH)
    work.stop()
    work.wait(120)
    assert work.going_on is None
    ended = work.ended
    assert ended is not None
    assert ended.error is None
    assert ended.stopped
    assert work.start(Work.PROOF)
    work.wait(120)
    assert work.ended is not None
    assert (work.ended.stopped, work.ended.error) == (False, None)


def test_while_another_works_a_decision_is_answered_with_a_sentence(shop: Path, page: TestClient) -> None:
    design, blank = first_sheet(page)
    form = {"design": design, "blank": blank, "what": "keep"}
    with desk(shop, "month"):
        answer = page.post("/review/settle", data=form)
        assert page.get("/").status_code == 200
    assert answer.status_code in (303, 423)
    if answer.status_code == 423:
        assert "has been working on this shop" in answer.text


def test_pictures_asked_again_leave_the_memory_as_it_was(page: TestClient) -> None:
    design, blank = first_sheet(page)
    keeping = page.app._app.state.keeping  # type: ignore[attr-defined]
    for width in (96, 160):
        page.get(f"/goods/{design}/{blank}/navy.webp?w={width}")
    held = keeping.pictures._bytes
    for number in range(200):
        page.get(f"/goods/{design}/{blank}/navy.webp?w={96 if number % 2 else 160}")
    assert keeping.pictures._bytes == held


def test_a_broken_settings_file_is_a_page_that_names_the_line(shop: Path, page: TestClient) -> None:
    text = (shop / "shop.toml").read_text()
    try:
        (shop / "shop.toml").write_text(text + "\ntarget_proft = 3\n")
        answer = page.get("/")
        assert answer.status_code == 409
        assert "line" in answer.text
        assert "Traceback" not in answer.text
    finally:
        (shop / "shop.toml").write_text(text)


NAMES = (
    *("design", "blank", "what", "struck", "repair", "scale", "right", "down", "w", "q", "state", "decision"),
    *("goto", "target", "name", "currency", "channel", "colour"),
)
ROUTES = [route for route in SCREENS if isinstance(route, Route)]
WORDS = st.one_of(
    st.text(max_size=12), st.sampled_from(["MUG-445", "navy", "-1", "1e400", "NaN", "..", "%00", "0"])
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_no_request_whatever_makes_a_mistake_of_ours(page: TestClient, data: st.DataObject) -> None:
    route = data.draw(st.sampled_from(ROUTES))
    if route.path in ("/work/start", "/month/start", "/begin/sample"):
        return  # these begin minutes of work
    design, _ = first_sheet(page)
    parts = {name: data.draw(st.one_of(WORDS, st.just(design))) for name in route.param_convertors}
    path = route.path
    for name, value in parts.items():
        path = path.replace(f"{{{name}}}", quoted(value))
    names = st.sampled_from(NAMES)
    fields = data.draw(st.dictionaries(names, st.one_of(WORDS, st.just(design)), max_size=6))
    if "POST" in (route.methods or ()):
        kept = {name: value for name, value in fields.items() if (path, name) != ("/begin/name", "name")}
        answer = page.post(path, data=kept)
    else:
        answer = page.get(path, params=fields)
    assert answer.status_code != 500, (path, fields, answer.text[:400])


def quoted(text: str) -> str:
    return quote(text, safe="") or "x"
