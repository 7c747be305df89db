"""A run that meets a kept output whose bytes have rotted begins again: what is gone is then made anew."""

from collections.abc import Callable
from typing import TypeVar

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.runner.cache import RottenOutputError, Vault

_MOST = 12  # more times than one output can follow from another
Kind = TypeVar("Kind")


def with_sound_cache(vault: Vault, work: Callable[[], Kind], stage: Callable[[str], None]) -> Kind:
    """The answer of ``work``, which calls ``vault.check_read`` before it keeps anything.

    Raises ShopError ``cache-rotten`` where the disk goes on giving back other bytes than were written.
    """
    for _ in range(_MOST):
        try:
            return work()
        except RottenOutputError:
            stage("making anew what had rotted on the disk")
    what = "the disk gives back other bytes than were written, again and again"
    fix = "check that disk; then delete the shop's folder .hundredfold/cache, and run this again"
    raise ShopError("cache-rotten", what, fix, Where(str(vault.root)), ExitCode.PROBLEMS)
