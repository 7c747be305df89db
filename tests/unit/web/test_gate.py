"""A line of the page's safety a test: who is let in, what is taken, what never comes out."""

import socket
from pathlib import Path

import pytest
from pages import HOST, ORIGIN, opened
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.testclient import TestClient

from hundredfold.kernel.errors import ShopError
from hundredfold.web import gate
from hundredfold.web.app import build
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.web.seal import COOKIE, Seal
from hundredfold.web.serving import Opened, loopback, serve
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.shop.opennote import note_page, noted_page

SEAL = Seal("a key for tests")


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    new_shop(tmp_path / "shop")
    return tmp_path / "shop"


def stranger(shop: Path) -> TestClient:
    return TestClient(build(shop, SEAL, (HOST,)), base_url=ORIGIN, follow_redirects=False)


def test_without_the_cookie_nothing_of_the_shop_is_told(shop: Path) -> None:
    answer = stranger(shop).get("/")
    assert answer.status_code == 403
    assert "hundredfold open" in answer.text
    assert "My shop" not in answer.text


def test_the_first_address_gives_a_cookie_that_no_script_and_no_other_site_gets(shop: Path) -> None:
    answer = stranger(shop).get(f"/start?key={SEAL.key}")
    assert answer.status_code == 303
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert SEAL.key not in cookie


def test_a_wrong_key_opens_nothing(shop: Path) -> None:
    answer = stranger(shop).get("/start?key=guessed")
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers


def test_a_key_of_strange_letters_opens_nothing(shop: Path) -> None:
    assert stranger(shop).get("/start?key=%C3%A9%00").status_code == 403


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8123", "127.0.0.1", "127.0.0.1:9", ""])
def test_a_foreign_name_that_points_here_is_refused(shop: Path, host: str) -> None:
    client = opened(shop)
    answer = client.get("/", headers={"host": host})
    assert answer.status_code == 421
    assert client.get(f"/start?key={SEAL.key}", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("origin", ["http://evil.example", "null", f"https://{HOST}", ""])
def test_a_form_of_another_site_is_refused(shop: Path, origin: str) -> None:
    answer = opened(shop).post("/undo", data={"decision": "1"}, headers={"origin": origin})
    assert answer.status_code == 403


def test_a_form_without_the_seal_is_refused(shop: Path) -> None:
    client = opened(shop)
    del client.headers["x-seal"]
    answer = client.post("/begin/target", data={"target": "9.00"})
    assert answer.status_code == 403
    assert "earlier start" in answer.text
    assert 'target_profit = "3.00"' in (shop / "shop.toml").read_text()


def test_the_seal_is_not_the_cookie() -> None:
    assert SEAL.cookie != SEAL.form
    assert not SEAL.signed(SEAL.cookie)
    assert not SEAL.knows(SEAL.form)


@pytest.mark.parametrize("path", ["/", "/designs", "/static/style.css", "/nowhere", "/start?key=no"])
def test_every_answer_carries_the_policy_that_allows_no_inline_script_or_style(shop: Path, path: str) -> None:
    headers = opened(shop).get(path).headers
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe-inline" not in policy
    assert "unsafe-eval" not in policy
    assert "frame-ancestors 'none'" in policy
    assert headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize("path", ["/", "/designs", "/begin/1", "/begin/2", "/begin/3", "/begin/4"])
def test_no_page_needs_what_the_policy_forbids(shop: Path, path: str) -> None:
    page = opened(shop).get(path).text
    assert "<script>" not in page
    assert "style=" not in page
    assert " onclick" not in page
    assert "http://" not in page.replace("http://www.w3.org", "")
    assert "https://" not in page


def test_a_body_beyond_the_bound_is_refused_by_its_length(shop: Path) -> None:
    headers = {"content-length": str(gate.LARGEST_BODY + 1)}
    assert opened(shop).post("/designs/drop", content=b"x", headers=headers).status_code == 413


def test_a_body_that_grows_beyond_the_bound_is_refused(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gate, "LARGEST_BODY", 1000)
    many = (b"x" * 400 for _ in range(10))
    headers = {"content-type": "application/x-www-form-urlencoded"}
    assert opened(shop).post("/undo", content=many, headers=headers).status_code == 413


@pytest.mark.parametrize(
    "path",
    ["/static/../app.py", "/static/..%2fapp.py", "/static/%2e%2e/app.py", "/static/style.css/..",
     "/fonts/../../x", "/art/..%2f..%2fshop.toml.webp", "/art/%00.webp"],
)  # fmt: skip
def test_no_path_leads_out(shop: Path, path: str) -> None:
    answer = opened(shop).get(path)
    assert answer.status_code == 404
    assert "import" not in answer.text


def test_an_svg_of_the_seller_is_never_served_as_it_is(shop: Path) -> None:
    (shop / "designs" / "mine.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>")
    client = opened(shop)
    for path in ("/designs/mine.svg", "/art/designs/mine.svg", "/art/mine.svg.webp", "/static/mine.svg"):
        answer = client.get(path)
        assert answer.status_code == 404
        assert "image/svg" not in answer.headers["content-type"]


def test_our_own_mistake_shows_no_traceback_and_leaves_a_log(shop: Path) -> None:
    async def broken(request: Request) -> Response:
        raise RuntimeError("a secret of the program")

    app = build(shop, SEAL, (HOST,), (Route("/broken", broken),))
    client = TestClient(app, base_url=ORIGIN, raise_server_exceptions=False)
    client.cookies.set(COOKIE, SEAL.cookie, domain="127.0.0.1")
    answer = client.get("/broken")
    assert answer.status_code == 500
    assert "RuntimeError" in answer.text
    assert "a secret of the program" not in answer.text
    assert "Traceback" not in answer.text
    logs = list((shop / ".hundredfold" / "logs").iterdir())
    assert any("a secret of the program" in log.read_text() for log in logs)


def test_an_action_leads_to_this_page_alone(shop: Path) -> None:
    def away(ask: Ask) -> Said:
        return Said("Done.", ask.form.text("goto"))

    app = build(shop, SEAL, (HOST,), (action("/away", away),))
    client = TestClient(app, base_url=ORIGIN, follow_redirects=False)
    client.cookies.set(COOKIE, SEAL.cookie, domain="127.0.0.1")
    client.headers.update({"origin": ORIGIN, "x-seal": SEAL.form})
    for goto in ("http://evil.example/", "//evil.example/", "/\\evil.example"):
        assert client.post("/away", data={"goto": goto}).headers["location"] == "/"


def test_what_a_seller_wrote_is_text_and_no_markup(shop: Path) -> None:
    def said(ask: Ask) -> Shown:
        raise ShopError("no-page", "<script>alert(1)</script>", "nothing")

    app = build(shop, SEAL, (HOST,), (screen("/said", said),))
    client = TestClient(app, base_url=ORIGIN)
    client.cookies.set(COOKIE, SEAL.cookie, domain="127.0.0.1")
    assert "<script>alert" not in client.get("/said").text


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.4", "::", "example.org", ""])
def test_only_this_computer_is_served(host: str) -> None:
    with pytest.raises(ShopError) as caught:
        loopback(host)
    assert caught.value.slug == "not-this-computer"


@pytest.mark.parametrize("host", ["127.0.0.1", "::1", "localhost", "127.0.0.9"])
def test_this_computer_has_several_names(host: str) -> None:
    assert loopback(host)


def test_a_port_in_use_is_said(shop: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        with pytest.raises(ShopError) as caught:
            serve(shop, "127.0.0.1", taken.getsockname()[1], browser=False, say=lambda _: None)
    assert caught.value.slug == "port-taken"


def test_the_note_of_the_address_is_for_its_owner_alone(shop: Path) -> None:
    note_page(shop, "http://127.0.0.1:1/start?key=x")
    note = shop / ".hundredfold" / "page-address.txt"
    assert note.stat().st_mode & 0o077 == 0
    assert noted_page(shop) == "http://127.0.0.1:1/start?key=x"


def test_a_note_of_a_start_that_is_gone_is_passed_over(shop: Path) -> None:
    note_page(shop, "http://127.0.0.1:1/start?key=x")
    told: list[Opened] = []

    def stop(opened: Opened) -> None:
        told.append(opened)
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        serve(shop, "127.0.0.1", 0, browser=False, say=stop)
    assert not told[0].found
    assert noted_page(shop) is None
