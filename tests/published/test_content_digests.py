"""Outputs are named by SHA-256, as FIPS 180-4 defines it.

The digests of the one-block and the two-block message are NIST's examples for SHA-256 ("abc" and the 448-bit
message, NIST Cryptographic Standards and Guidelines, Examples with Intermediate Values); that of the empty
message is from memory of NIST's SHA test vectors (SHA256ShortMsg.rsp, Len = 0).
"""

from pathlib import Path

import pytest

from hundredfold.runner.cache import Vault
from hundredfold.runner.memo import PathMemo
from hundredfold.runner.recipes import Recipe
from hundredfold.store.shopstore import open_store

EXAMPLES = [
    (b"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
    (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    (
        b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ),
]


@pytest.mark.parametrize(("message", "digest"), EXAMPLES)
def test_vault_and_memo_name_content_by_sha256(tmp_path: Path, message: bytes, digest: str) -> None:
    assert Vault(tmp_path / "cache").put(message) == digest
    path = tmp_path / "design.png"
    path.write_bytes(message)
    memo = PathMemo(tmp_path, open_store(tmp_path / "shop.db").builds)
    assert memo.digest(path) == digest


def test_the_form_of_a_key_is_pinned() -> None:
    """A change here makes every shop make everything again: it must be meant."""
    recipe = Recipe(
        "print-file",
        (3,),
        {"libvips": "8.18"},
        {"width_mm": "80.0", "flat": True, "note": "é"},
        {"art": "ab"},
    )
    assert recipe.json() == (
        '{"engines":{"libvips":"8.18"},"inputs":{"art":"ab"},'
        '"params":{"flat":true,"note":"é","width_mm":"80.0"},"step":"print-file","version":[3]}'
    )
    assert recipe.key() == "f5ebdeff470bca94d7d4c4219615238c55d4be1c483d90e2099b333f3f7a14b2"
