"""What the judges of a pack may find, as plain data. Belongs to the judges; the writer has its own."""

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Severity

MANIFEST_ITSELF = CheckRecord(
    id="pack/manifest",
    title="The manifest is there, whole, and says what it said when it was written.",
    looks_at="manifest.json of one pack, byte by byte and field by field",
    why="Everything else in a pack is judged by its manifest. One changed by hand, or cut off "
    "by a full disk, can make a wrong pack look right.",
    example="A price corrected in manifest.json with a text editor.",
    fix="Run the month again: what is wrong is made anew, unless the day was handed over.",
    known_limits="The seal shows that something was changed, not what. It keeps no one out who wants to "
    "forge it.",
    source="SHA-256 over canonical JSON; follows from the format of the manifest",
    codes={
        "missing": Severity.STOP,
        "unreadable": Severity.STOP,
        "not-canonical": Severity.STOP,
        "seal-broken": Severity.STOP,
        "wrong-field": Severity.STOP,
        "wrong-lines": Severity.STOP,
        "wrong-count": Severity.STOP,
    },
)
FILE = CheckRecord(
    id="pack/file",
    title="Every file that the manifest names is in the pack, once and unchanged, and no other is there.",
    looks_at="the tables and archives of one pack, as they lie in its folder",
    why="A file that is missing, old or too large is refused by the channel, or worse, taken in.",
    example="artwork.zip opened and saved again by another program.",
    fix="Run the month again: what is wrong is made anew, unless the day was handed over.",
    known_limits="A file that is not named is pointed out only: it is not handed over.",
    source="SHA-256 of each file; the channel's limits in bytes; for ZIP: APPNOTE 4.3, stored "
    "members without gaps",
    codes={
        "missing": Severity.STOP,
        "named-twice": Severity.STOP,
        "unlisted": Severity.WARN,
        "changed": Severity.STOP,
        "too-large": Severity.STOP,
        "unreadable": Severity.STOP,
        "unsorted": Severity.STOP,
        "padded": Severity.STOP,
    },
)
MEMBER = CheckRecord(
    id="pack/member",
    title="Every file inside an archive is the one the manifest names.",
    looks_at="each member of each ZIP: its name, bytes, and the head of the picture",
    why="The partner prints what is in the archive. A member exchanged for another prints "
    "another design on the goods.",
    example="Two print files that changed their names.",
    fix="Run the month again: what is wrong is made anew, unless the day was handed over.",
    known_limits="Reads the head of a picture (size, dpi, format), not what is drawn.",
    source="SHA-256 of each member; PNG, JPEG and TIFF headers by their standards",
    codes={
        "unlisted": Severity.STOP,
        "missing": Severity.STOP,
        "twice": Severity.STOP,
        "not-plain": Severity.STOP,
        "wrong-size": Severity.STOP,
        "damaged": Severity.STOP,
        "changed": Severity.STOP,
        "not-a-picture": Severity.STOP,
        "wrong-pixels": Severity.STOP,
        "wrong-dpi": Severity.STOP,
        "wrong-kind": Severity.STOP,
        "unused": Severity.STOP,
    },
)
ROW = CheckRecord(
    id="pack/row",
    title="Every row of a pack has its art and its pictures, of the right size, and stands there once.",
    looks_at="the rows of the manifest, beside its archives, print areas and picture rules",
    why="A row without its art cannot be made, and one with art of another size is printed wrongly.",
    example="A shirt in XXL whose art has the pixels of size M.",
    fix="Run the month again: what is wrong is made anew, unless the day was handed over.",
    known_limits="Judges names and numbers; whether the picture shows the goods is not seen here.",
    source="the print areas and the channel's picture rules, frozen in the manifest",
    codes={
        "sku-twice": Severity.STOP,
        "no-part": Severity.STOP,
        "art-not-wanted": Severity.STOP,
        "no-art": Severity.STOP,
        "no-area": Severity.STOP,
        "art-missing": Severity.STOP,
        "wrong-pixels": Severity.STOP,
        "wrong-dpi": Severity.STOP,
        "wrong-kind": Severity.STOP,
        "art-too-large": Severity.STOP,
        "too-many-pictures": Severity.STOP,
        "picture-missing": Severity.STOP,
        "picture-size": Severity.STOP,
        "picture-too-large": Severity.STOP,
    },
)
CAP = CheckRecord(
    id="pack/cap",
    title="A day holds no more than the channel takes a day.",
    looks_at="the rows or listings of one pack, beside the channel's daily cap",
    why="Channels stop accounts that send too much at once.",
    example="51 rows on a day for a channel that takes 50.",
    fix="Plan the month again; the surplus goes to the next days.",
    known_limits="Knows what Hundredfold hands over, not what you send by hand.",
    source="the channel's daily cap, frozen in the manifest",
    codes={"past-daily-cap": Severity.STOP},
)
PRICE = CheckRecord(
    id="pack/price",
    title="Every price earns the target under the terms of its pack, and is not higher than that needs.",
    looks_at="each row's price, beside the costs, fees, taxes, targets and endings frozen in the manifest",
    why="A price below the target sells at a loss; one of another currency or ending is refused "
    "or looks like a mistake.",
    example="14.59 in place of 14.95.",
    fix="Correct costs or fees in the shop's files and run the month again. A day handed over "
    "keeps its prices.",
    known_limits="Counts with the terms of the pack's own day. Where hardly anything is left of a further "
    "coin it gives up looking for a lower price.",
    source="the arithmetic of price, cost and fee, done a second time without the pricing room's code",
    codes={
        "price-not-wanted": Severity.STOP,
        "no-price": Severity.STOP,
        "wrong-currency": Severity.STOP,
        "no-cost": Severity.STOP,
        "no-rate": Severity.STOP,
        "not-whole": Severity.STOP,
        "wrong-ending": Severity.STOP,
        "below-target": Severity.STOP,
        "below-floor": Severity.STOP,
        "above-least": Severity.STOP,
        "above-ceiling": Severity.STOP,
    },
)
TABLE = CheckRecord(
    id="pack/table",
    title="The table is exactly the one the channel wants, with every row as the manifest has it.",
    looks_at="each table of a pack, read anew: header, lines above it, rows, cells, limits of texts",
    why="A channel refuses the whole file for one wrong column, and takes in a wrong cell without a word.",
    example="A table that a spreadsheet program saved again: codes without their leading noughts.",
    fix="Run the month again: what is wrong is made anew, unless the day was handed over.",
    known_limits="Knows the channel's rules as its file in the shop tells them.",
    source="RFC 4180; OWASP CSV injection (CWE-1236); the channel's columns and limits, frozen in "
    "the manifest",
    codes={
        "too-many-rows": Severity.STOP,
        "byte-order-mark": Severity.STOP,
        "unreadable": Severity.STOP,
        "line-ends": Severity.STOP,
        "foreign-part": Severity.STOP,
        "formula": Severity.STOP,
        "wrong-worksheet": Severity.STOP,
        "line-above": Severity.STOP,
        "header": Severity.STOP,
        "row-count": Severity.STOP,
        "row-missing": Severity.STOP,
        "row-width": Severity.STOP,
        "row-changed": Severity.STOP,
        "text-too-long": Severity.STOP,
        "wrong-cell": Severity.STOP,
        "required-empty": Severity.STOP,
    },
)
TERMS = CheckRecord(
    id="pack/terms",
    title="A pack that has not gone out was made under what the shop's files say now.",
    looks_at="the terms frozen in the manifest, beside the channel and the blanks as they are",
    why="Costs, fees or a print area that changed after the pack was made give wrong prices and wrong art.",
    example="The partner changed a print area from 2475 to 2400 px after the pack was made.",
    fix="Run the month again: what is wrong is made anew, unless the day was handed over.",
    known_limits="Looks at packs that are not handed over; those that are stay as they were.",
    source="follows from the shop's files; no threshold",
    codes={"area-twice": Severity.STOP, "other-channel": Severity.STOP, "out-of-date": Severity.STOP},
)
HISTORY = CheckRecord(
    id="pack/history",
    title="Nothing in a pack was handed over before, and what is new never existed.",
    looks_at="the rows of a pack, beside the shop's ledger",
    why="The same listing sent twice, or a SKU given to other goods, can cost the account.",
    example="Yesterday's pack copied into today's folder.",
    fix="Run the month again. If it stays, restore the shop's record from a backup before anything goes out.",
    known_limits="Knows what the ledger knows; what was sent by hand it does not.",
    source="follows from the ledger; no threshold",
    codes={
        "unknown-pack": Severity.STOP,
        "other-manifest": Severity.STOP,
        "handed-over-before": Severity.STOP,
        "new-but-exists": Severity.STOP,
        "never-existed": Severity.STOP,
        "sku-not-given": Severity.STOP,
        "sku-of-another": Severity.STOP,
    },
)
