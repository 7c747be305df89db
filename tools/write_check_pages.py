"""Write docs/checks from the registry of checks. A test fails while a page is stale."""

from pathlib import Path

from hundredfold.proofing.pages import pages
from hundredfold.workshop.proof.everycheck import EVERY_CHECK

FOLDER = Path(__file__).parents[1] / "docs" / "checks"


def main() -> None:
    """Write every page and remove those of checks that are gone."""
    wanted = pages(EVERY_CHECK)
    FOLDER.mkdir(parents=True, exist_ok=True)
    for old in FOLDER.glob("*.md"):
        if old.name not in wanted:
            old.unlink()
    for name, text in wanted.items():
        (FOLDER / name).write_text(text, encoding="utf-8", newline="\n")
    print(f"wrote {len(wanted)} pages to {FOLDER}")


if __name__ == "__main__":
    main()
