"""The secrets of one start of the page: the key in the first address, the cookie, the seal of forms."""

import hashlib
import hmac
from dataclasses import dataclass

COOKIE = "hundredfold"
SEAL_FIELD = "seal"
SEAL_HEADER = "x-seal"


@dataclass(frozen=True)
class Seal:
    """What proves that a request comes from the page that this start has opened.

    The cookie and the forms carry different digests of the key, so that neither tells the other.
    """

    key: str

    def _digest(self, purpose: str) -> str:
        return hmac.new(self.key.encode(), purpose.encode(), hashlib.sha256).hexdigest()

    @property
    def cookie(self) -> str:
        """The value of the session's cookie."""
        return self._digest("cookie")

    @property
    def form(self) -> str:
        """The value that every form and every script's request brings back."""
        return self._digest("form")

    def opens(self, key: str) -> bool:
        """Whether this is the key of the first address."""
        return hmac.compare_digest(self.key.encode(), key.encode())

    def knows(self, cookie: str) -> bool:
        """Whether this is the session's cookie."""
        return hmac.compare_digest(self.cookie.encode(), cookie.encode())

    def signed(self, form: str) -> bool:
        """Whether a form or a script's request was given out by this start."""
        return hmac.compare_digest(self.form.encode(), form.encode())
