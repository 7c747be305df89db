"""The tables of shop.db as they stand after the newest migration.

The migrations make them; a test holds the two against each other. Times are text, UTC, ISO 8601, so that a
person can read them with any tool; JSON is text in canonical form.
"""

from sqlalchemy import BigInteger, Column, Index, Integer, MetaData, String, Table, Text

from hundredfold.results.entries import ITEM_MONEY, SUM_FIELDS

HEAD = "0005"  # the newest migration; opening a shop compares with it before anything else is loaded

metadata = MetaData()

events = Table(
    "events",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=True, comment="order of happening, no gaps"),
    Column("at", String(27), nullable=False, comment="UTC, from the shop's clock"),
    Column("happened", String(40), nullable=False, comment="kind of row, see ledger/events.py"),
    Column("subject", Text, nullable=False, comment="listing key, SKU, or channel/date of a pack"),
    Column("data", Text, nullable=False, comment="canonical JSON object"),
    Column("undoes", Integer, nullable=True, comment="number of the row that this one reverses"),
    Column(
        "decision", Integer, nullable=False, server_default="0", comment="first row that was decided with it"
    ),
    comment="the ledger: appended, never changed or deleted (triggers hold it)",
    sqlite_autoincrement=True,
)
Index("events_by_subject", events.c.subject)
Index("events_by_undoes", events.c.undoes)
Index("events_by_decision", events.c.decision)

runs = Table(
    "runs",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=True, comment="order of the runs"),
    Column("command", Text, nullable=False, comment="what was asked for"),
    Column("started", String(27), nullable=False, comment="UTC"),
    Column("ended", String(27), nullable=True, comment="UTC; empty where the run was cut off"),
    Column("summary", Text, nullable=False, comment="the closing line; empty until then"),
    Column("stage", Text, nullable=False, server_default="", comment="what it is doing, while it goes on"),
    Column("settled", Integer, nullable=False, server_default="0", comment="things of the stage done"),
    Column("of_all", Integer, nullable=False, server_default="0", comment="of so many; 0: not known"),
    Column("noted", String(27), nullable=False, server_default="", comment="UTC; when that was so"),
    comment="each run of a command that makes things",
    sqlite_autoincrement=True,
)

made = Table(
    "made",
    metadata,
    Column("item", Text, primary_key=True, comment="what a person asks about"),
    Column("step", String(80), primary_key=True, comment="name of the step that made it"),
    Column("key", String(64), nullable=False, comment="sha256 of the recipe"),
    Column("recipe", Text, nullable=False, comment="canonical JSON, kept to say why in words"),
    Column("output", String(64), nullable=False, comment="sha256 of the bytes in the cache"),
    Column("bytes", BigInteger, nullable=False, comment="size of the output"),
    Column("run", Integer, nullable=False, comment="number of the run that used it last"),
    Column(
        "made_in", Integer, nullable=False, server_default="0", comment="the run that made it; 0: not known"
    ),
    Column(
        "before", Text, nullable=False, server_default="", comment="recipe it took the place of; empty: none"
    ),
    comment="newest output of each step for each item; may be lost, then it is made again",
)
Index("made_by_output", made.c.output)

step_runs = Table(
    "step_runs",
    metadata,
    Column("step", String(80), primary_key=True, comment="name of a step"),
    Column("run", Integer, primary_key=True, autoincrement=False, comment="a run that asked for its outputs"),
    comment="which runs used which steps: what none of the last few of them used is let go",
)

failures = Table(
    "failures",
    metadata,
    Column("item", Text, primary_key=True, comment="what a person asks about"),
    Column("step", String(80), primary_key=True, comment="name of the step that failed"),
    Column("key", String(64), nullable=False, comment="sha256 of the recipe"),
    Column("recipe", Text, nullable=False, comment="canonical JSON"),
    Column("sentence", Text, nullable=False, comment="what went wrong, for the seller"),
    Column("log", Text, nullable=False, comment="file with the traceback; empty where there is none"),
    Column("run", Integer, nullable=False, comment="number of the run in which it failed"),
    comment="what could not be made; tried again by each run, gone once it is made",
)

stamps = Table(
    "stamps",
    metadata,
    Column("path", Text, primary_key=True, comment="relative to the shop folder, with slashes"),
    Column("size", BigInteger, nullable=False, comment="bytes"),
    Column("mtime_ns", BigInteger, nullable=False, comment="modification time, ns since 1970"),
    Column("inode", String(40), nullable=False, comment="text: Windows file ids exceed 64 bits"),
    Column("digest", String(64), nullable=False, comment="sha256 of the content"),
    Column("hashed_ns", BigInteger, nullable=False, comment="when it was hashed, ns since 1970"),
    comment="digests of files by size, time and inode, so that unchanged files are not read again",
)
Index("stamps_by_digest", stamps.c.digest)

settings = Table(
    "settings",
    metadata,
    Column("name", String(120), primary_key=True, comment="dotted name"),
    Column("value", Text, nullable=False, comment="canonical JSON"),
    comment="settings made on the page; those of the files are not here",
)

kept = Table(
    "kept",
    metadata,
    Column("name", Text, primary_key=True, comment="plan, proofs, month"),
    Column("output", String(64), nullable=False, comment="sha256 of the record's bytes in the cache"),
    Column("files", String(64), nullable=False, comment="sha256 of the notes of the files it was made from"),
    Column("run", Integer, nullable=False, comment="number of the run that left it"),
    Column("at", String(27), nullable=False, comment="UTC"),
    comment="newest record of each kind, for whoever looks; may be lost, the next run leaves another",
)

runner_lock = Table(
    "runner_lock",
    metadata,
    Column("id", Integer, primary_key=True, autoincrement=False, comment="always 1: there is one lock"),
    Column("host", Text, nullable=False, comment="name of the computer that holds it"),
    Column("pid", Integer, nullable=False, comment="its process"),
    Column("process_started", String(27), nullable=False, comment="UTC; tells a re-used pid from the holder"),
    Column("taken", String(27), nullable=False, comment="UTC"),
    Column("command", Text, nullable=False, comment="what it is doing"),
    comment="who runs this shop now; one row at most",
)

sales_files = Table(
    "sales_files",
    metadata,
    Column("number", Integer, primary_key=True, autoincrement=True, comment="order of reading"),
    Column("digest", String(64), nullable=False, comment="sha256 of the file and of how it was read"),
    Column("name", Text, nullable=False, comment="the file's name"),
    Column("channel", String(40), nullable=False, comment="whose report it is"),
    Column("at", String(27), nullable=False, comment="UTC"),
    comment="reports of sales that were read",
    sqlite_autoincrement=True,
)
Index("sales_files_by_digest", sales_files.c.digest)

order_items = Table(
    "order_items",
    metadata,
    Column("channel", String(40), primary_key=True, comment="where it was sold"),
    Column("key", Text, primary_key=True, comment="the order and the item in it"),
    Column("sku", Text, nullable=False, comment="as the report has it"),
    Column("day", String(10), nullable=False, comment="YYYY-MM-DD"),
    Column("units", Integer, nullable=True, comment="pieces"),
    Column("currency", String(3), nullable=False, comment="ISO 4217"),
    *(
        Column(name, BigInteger, nullable=True, comment="ten-thousandths of a unit; empty: not told")
        for name in ITEM_MONEY
    ),
    Column("file", Integer, nullable=False, comment="number of the report that said it last"),
    Column("order_no", Text, nullable=False, comment="the order's number; empty where the report has none"),
    Column("line", Integer, nullable=False, comment="and the row of it"),
    comment="what was sold: one SKU of one order; never who bought it",
)
Index("order_items_by_order", order_items.c.channel, order_items.c.order_no)

money_entries = Table(
    "money_entries",
    metadata,
    Column("channel", String(40), primary_key=True, comment="whose report it is"),
    Column("key", Text, primary_key=True, comment="the movement's number, or what tells it from others"),
    Column("item", Text, nullable=False, comment="key of the order item; empty where it belongs to none"),
    Column("field", String(20), nullable=False, comment="fee, refund, advert, base cost, views ..."),
    Column("sku", Text, nullable=False, comment="as the report has it; may be empty"),
    Column("day", String(10), nullable=False, comment="YYYY-MM-DD"),
    Column("units", Integer, nullable=False, comment="pieces, or how often looked at"),
    Column("currency", String(3), nullable=False, comment="ISO 4217"),
    Column("amount", BigInteger, nullable=False, comment="ten-thousandths of a unit; a cost is positive"),
    Column("file", Integer, nullable=False, comment="number of the report that said it last"),
    Column("order_no", Text, nullable=False, comment="the order's number; empty where the report has none"),
    Column("line", Integer, nullable=False, comment="and the row of it"),
    comment="money taken or given back, and counts of views",
)
Index("money_entries_by_order", money_entries.c.channel, money_entries.c.order_no)

sales_sums = Table(
    "sales_sums",
    metadata,
    Column("month", String(7), primary_key=True, comment="YYYY-MM"),
    Column("channel", String(40), primary_key=True, comment="where it was sold"),
    Column("sku", Text, primary_key=True, comment="as reports have it; may be empty"),
    Column("currency", String(3), primary_key=True, comment="ISO 4217; empty of counts alone"),
    *(
        Column(
            name, BigInteger, nullable=True, comment="ten-thousandths of a unit, or a count; empty: not told"
        )
        for name in SUM_FIELDS
    ),
    comment="the two tables above added up, made anew with each report; may be lost",
)
