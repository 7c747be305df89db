"""File names from words."""

import re
import unicodedata


def slug(text: str) -> str:
    """Lower-case words joined by hyphens; letters of any script stay, Latin accents go."""
    plain = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
    return "-".join(re.findall(r"[^\W_]+", unicodedata.normalize("NFC", plain).replace("'", "").casefold()))
