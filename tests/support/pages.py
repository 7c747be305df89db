"""The page of a shop, asked without a browser."""

from pathlib import Path

from starlette.testclient import TestClient

from hundredfold.web.app import build
from hundredfold.web.seal import COOKIE, SEAL_HEADER, Seal

HOST = "127.0.0.1:8123"
ORIGIN = f"http://{HOST}"


SEAL = Seal("a key for tests")


def opened(shop: Path, seal: Seal = SEAL) -> TestClient:
    """A client that has been let in: cookie, origin and seal as the page's own script sends them."""
    client = TestClient(
        build(shop, seal, (HOST,)), base_url=ORIGIN, follow_redirects=False, raise_server_exceptions=False
    )
    client.cookies.set(COOKIE, seal.cookie, domain="127.0.0.1")
    client.headers.update({"origin": ORIGIN, SEAL_HEADER: seal.form})
    return client
