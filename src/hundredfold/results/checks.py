"""What reading a report may find, and what sales may show: plain data."""

from hundredfold.kernel.checks import COMMON, CheckRecord
from hundredfold.kernel.findings import Severity

ROW = CheckRecord(
    id="sales/row",
    title="Every row of a report can be read.",
    looks_at="the rows of a report of sales, money, adverts or views",
    why="A row that is passed over is money that no sum holds.",
    example="A row whose date is `32/01/2027`, or whose type `sundry` is no word we know.",
    fix="Correct the row and add the file again: the other rows are counted once. A word of your "
    "channel's own is "
    'told with `--word "sundry=fee"`.',
    known_limits="Cells are never quoted but for dates, amounts, types and SKUs: a row may hold a "
    "buyer's name.",
    source="follows from the file; no threshold",
    codes={"unusable": Severity.WARN},
)
DATES = CheckRecord(
    id="sales/dates",
    title="The dates of a report say whether the day or the month comes first.",
    looks_at="all dates of a report together: one 31/01 tells the order of them all",
    why="03/04 read the wrong way round puts a sale into another month's statement.",
    example="A report of 1 to 12 March alone, in which each number could be the day or the month.",
    fix="Say it: `--dates day-first` or `--dates month-first`; it is remembered for the channel's reports.",
    known_limits="Where no date tells, the order that puts no sale into the future is taken, then the "
    "one that keeps the "
    "report to the shorter time, then that of the channel's language.",
    source="ISO 8601 dates are always read as they are; the rest is common practice, no source",
    codes={"contradiction": Severity.WARN, "guessed": Severity.NOTE},
)
AMOUNTS = CheckRecord(
    id="sales/amounts",
    title="The amounts of a report have one decimal mark, and its prices are one thing.",
    looks_at="all amounts of a report together",
    why="1.234 read the wrong way round is a thousand times too much or too little; a price of three "
    "pieces taken for "
    "that of one is three times too much.",
    example="A column with `1,234.50` and `1.234,50`.",
    fix='Save the report from one place only, or say what a price is: `--column "paid=Item price"` '
    "where it is for all "
    'pieces of the row, `--column "unit price=Item price"` where it is for one.',
    known_limits="Where no amount tells, a full stop is the decimal mark, or the comma in a channel "
    "whose language "
    "writes it so.",
    source=COMMON,
    codes={"marks": Severity.WARN, "price-guessed": Severity.NOTE},
)
FORM = CheckRecord(
    id="sales/form",
    title="A report is one table with one row of headings.",
    looks_at="rows that are no sales: totals, headings in mid-file, an order's item told twice",
    why="A total counted as a sale doubles the month.",
    example="Two months' files copied under one another, each with its headings and its total.",
    fix="Nothing, if what is said is right: totals are left out, new headings are read as such, and of "
    "two rows about "
    "one item of an order the later counts.",
    known_limits="Two rows of the same order and SKU without a number of the item are taken for one.",
    source=COMMON,
    codes={"totals-left-out": Severity.NOTE, "headings-again": Severity.NOTE, "item-again": Severity.NOTE},
)
UNKNOWN = CheckRecord(
    id="sales/unknown",
    title="Every sale belongs to a listing of the shop.",
    looks_at="the SKUs of reports, beside those the shop gave or adopted",
    why="What sold under another SKU is counted in no design's result.",
    example="A SKU from before the shop, `OLD-BEE-1`.",
    fix="Tie it to one of your SKUs: `hundredfold sales tie OLD-BEE-1 PG-7GQ2K4XA`. Its sales are kept "
    "meanwhile.",
    known_limits="Compares SKUs and the channel's own numbers exactly as they are written.",
    source="follows from the ledger; no threshold",
    codes={"sku": Severity.WARN},
)
DRIFT = CheckRecord(
    id="sales/drift",
    title="Fees, postage and base costs are what the prices were reckoned with.",
    looks_at="what was really charged for a channel's sales or a blank, month by month, beside what the "
    "shop's files say",
    why="A fee that rose by 2 % of the price comes out of every sale's profit until the prices follow.",
    example="The channel's file says 12.5 %, and 14.6 % was taken in March.",
    fix="Put the new figure into the channel's or the blank's file; the next month plans the changed prices.",
    known_limits="Tells a difference of more than 2 % of the charge and a coin a piece, from five pieces on.",
    source=COMMON,
    codes={"fee": Severity.WARN, "postage": Severity.WARN, "base-cost": Severity.WARN},
)
RATE = CheckRecord(
    id="sales/rate",
    title="There is a rate for every currency that something was sold in.",
    looks_at="the currencies of the reports, beside the rates in shop.toml",
    why="Without a rate its sales stand in no sum of the shop.",
    example="Sales in SEK, and no rate for it.",
    fix='Write one under [rates] in shop.toml, like `GBP-SEK = "13.2"`; look it up on the day you do '
    "your books.",
    known_limits="One rate for the whole time; for accounts, rates of the day or of your tax office may "
    "be asked for.",
    source="follows from the settings; no threshold",
    codes={"missing": Severity.WARN},
)
