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
    codes={
        "required-empty": Severity.STOP,
        "too-long": Severity.STOP,
        "cannot-say": Severity.STOP,
        "not-a-choice": Severity.STOP,
        "no-such-sign": Severity.STOP,
    },
)
FILES = CheckRecord(
    id="pack/files",
    title="Each file of a pack has a name of its own.",
    looks_at="the names that the patterns under [files] give to print files and pictures",
    why="Of two files with one name the channel would take one, and print it on the other's goods.",
    example='picture = "{design}-{number}" on a channel that sells a design in eight colours.',
    fix="Put {sku}, {area} or {number} into the pattern.",
    known_limits="Names that differ in capitals only count as one, since some disks mix them up.",
    source="follows from what a file's name is for; no threshold",
    codes={"name-twice": Severity.STOP},
)
ASKING = CheckRecord(
    id="channel/cannot-say",
    title="A channel's tables can say what is to be changed and ended.",
    looks_at="the columns of a channel's tables, when the shop is opened",
    why="Where no column says what a row is for, a row to end or change a listing looks like a new one, "
    "and the channel lists it twice.",
    example="A partner's sheet for new goods only, without a column for the action.",
    fix='Write ends = "by hand" (a list tells you what to do), "stock 0" or "table" in the channel\'s file.',
    known_limits="Sees whether a column holds {action} or {stock}, not what the channel makes of it.",
    source="common practice, no source",
    codes={"no-end": Severity.WARN, "no-change": Severity.WARN},
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
