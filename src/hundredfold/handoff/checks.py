"""What may be found while a pack is written, as plain data."""

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Severity

CELLS = CheckRecord(
    id="pack/cells",
    title="A row's cells are filled and short enough for the channel's table.",
    looks_at="each cell of a row before it is written",
    why="A channel refuses a row with an empty required cell or a text that is too long; we cut "
    "nothing silently.",
    example="A title of 84 characters in a column that takes 80.",
    fix="Give the value in the shop's files, shorten the text, or mark the column as not required.",
    known_limits="Knows the columns as the channel's file tells them.",
    source="the channel's columns, from the shop's file",
    codes={"required-empty": Severity.STOP, "too-long": Severity.STOP},
)
PARTS = CheckRecord(
    id="pack/parts",
    title="A listing fits into one part of a pack.",
    looks_at="each listing, beside the channel's limits for rows and bytes of a table and bytes of "
    "an archive",
    why="A listing cannot be torn apart over two files, and a file past its limit is refused.",
    example="A shirt in 20 colours and 6 sizes for a channel that takes tables of 100 rows.",
    fix="Ask the channel for a higher limit, or offer fewer colours and sizes in this listing.",
    known_limits="Archives are measured exactly, below 4 GiB.",
    source="the channel's limits, from the shop's file",
    codes={"past-limit": Severity.STOP},
)
