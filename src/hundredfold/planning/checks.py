"""What may be found while listings are adopted and planned, as plain data."""

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Severity

HELD_BACK = CheckRecord(
    id="plan/held-back",
    title="No listing is held back that could go out.",
    looks_at="the listings that could be planned, beside what the channel answered of them",
    why="A listing that was refused, or of which it is not known whether it arrived, is not sent again by "
    "itself: the same mistake twice can cost the account. So it waits for you.",
    example="A listing that the channel refused for its title, whose title is still the same.",
    fix="Answer what it says. A refused listing goes out again once its art, price or words have changed.",
    known_limits="GroupedFinding once for each channel and reason, with the number of listings.",
    source="follows from the ledger; no threshold",
    codes={"held-back": Severity.NOTE},
)
ADOPTED_ROW = CheckRecord(
    id="adopt/row",
    title="Every row of what is already live says which design, blank, colour and size it is.",
    looks_at="the rows of a table of live listings, beside the shop's designs, blanks and SKUs",
    why="What is live and not adopted would be planned again as new, and stand twice in the channel.",
    example="A row with a SKU that follows no pattern, and no column with the design's file.",
    fix="Add columns with the design's file, blank, colour and size, or correct the row, and adopt again.",
    known_limits="Goes by file names, codes and names of the shop; it does not look at the live pictures.",
    source="follows from the table and the shop's files; names of fewer than four letters are not sought in "
    "SKUs (our choice)",
    codes={"not-told": Severity.WARN},
)
