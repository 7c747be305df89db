"""One at a time changes a shop's settings files: read, changed and written without another between."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.store.filelock import locked_beside
from hundredfold.store.shopstore import SHORT_S
from hundredfold.workshop.shop.folder import require_shop


@contextmanager
def one_editor(folder: Path) -> Iterator[None]:
    """Hold the right to change the shop's files for this block. A run that goes on is not in its way.

    Raises ShopError ``no-shop``, and ``shop-in-use`` where another change takes long.
    """
    paths = require_shop(folder)
    with locked_beside(paths.hidden / "settings-files", SHORT_S) as ours:
        if not ours:
            what = "another window or command is just changing this shop's files"
            raise ShopError("shop-in-use", what, "try again", Where(str(paths.root)), ExitCode.PROBLEMS)
        yield
