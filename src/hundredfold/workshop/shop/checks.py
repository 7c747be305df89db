"""What the workshop itself may find, where the shop meets its files: plain data, in the order of the work."""

from hundredfold.kernel.checks import COMMON, CheckRecord
from hundredfold.kernel.findings import Severity

NOTHING_TO_LIST = CheckRecord(
    id="shop/nothing-to-list",
    title="The shop has blanks, channels and designs.",
    looks_at="a shop folder that is only begun",
    why="Without one of the three nothing can be listed, and an empty month would not say why.",
    example="A new shop folder whose `channels` folder is still empty.",
    fix="Copy one from `examples` and edit it; put finished art into `designs`, or make some "
    "with `hundredfold typeset`.",
    known_limits="Says that a kind is missing, not whether what is there suits.",
    source="follows from the files; no threshold",
    codes={"no-blanks": Severity.STOP, "no-channels": Severity.STOP, "no-designs": Severity.STOP},
)
BARCODES = CheckRecord(
    id="shop/barcodes",
    title="The bought barcodes are sound, and there are enough of them.",
    looks_at="barcodes.csv, beside the goods that a channel wants a barcode for",
    why="A barcode belongs to one thing for good. A wrong digit is refused by the channel, one used twice "
    "makes two things one, and goods for which none is left go without.",
    example="60 new listings for a channel with a barcode column, and 45 barcodes left.",
    fix="Correct the line, or buy more and add them at the end of barcodes.csv.",
    known_limits="Looks at digits and use in this shop; whether a barcode is yours, and was never used "
    "elsewhere, only its issuer can say.",
    source="check digit: GS1 General Specifications, 7.9",
    codes={"not-a-barcode": Severity.WARN, "used-up": Severity.WARN},
)
BLANK_GONE = CheckRecord(
    id="catalogue/blank-gone",
    title="Every blank that is live still has its file.",
    looks_at="the blanks of live listings, beside the blanks folder",
    why="Without the blank's file its live listings can be neither changed nor ended, and keep selling.",
    example="`mug-325.toml` moved out of the folder while 40 listings of it are live.",
    fix="Put the file back. To end what is live, write `discontinued = true` for each of its variants.",
    known_limits="Knows as live what the ledger says; what was listed by hand and never adopted it does "
    "not know.",
    source="follows from the ledger and the files; no threshold",
    codes={"file-missing": Severity.WARN},
)
COLUMNS = CheckRecord(
    id="words/columns",
    title="A word list has a column for every slot of its layout, and no others.",
    looks_at="the header of a word list, beside the slots of a layout",
    why="A slot without its column cannot be filled, and a column that no slot takes is often a "
    "slip of the pen.",
    example="A column `tilte` where the layout asks for `title`.",
    fix="Add the column, correct its name, or take the slot out of the layout.",
    known_limits="Columns that another layout uses are pointed out too; that does no harm.",
    source="follows from the files; no threshold",
    codes={"slot-without-column": Severity.STOP, "column-without-slot": Severity.NOTE},
)
FONTS = CheckRecord(
    id="words/fonts",
    title="Every font of a layout can be had and may be used.",
    looks_at="the fonts a layout names, in the shop's `fonts` folder and the installed font packages",
    why="A font that is missing would be replaced by another, and the design would not be the one you drew.",
    example="A layout that names a font which only stands on another computer.",
    fix="Put the font's .ttf or .otf file into the `fonts` folder, or name one that is there.",
    known_limits="Reads what the font file says of embedding; its licence is yours to read. Fonts of the "
    "system are not used, since they differ from machine to machine.",
    source="follows from the files; embedding: OpenType OS/2 fsType",
    codes={
        "unknown-font": Severity.STOP,
        "bad-font": Severity.STOP,
        "font-axis": Severity.STOP,
        "font-embedding": Severity.STOP,
    },
)
NO_LONGER_MADE = CheckRecord(
    id="words/made",
    title="Every design that was made from a word list still has its row.",
    looks_at="the designs that a word list made the last time, beside what it makes now",
    why="A row that was deleted or renamed leaves its design behind, which goes on being listed.",
    example="Row 12 was renamed: the design of the old name is still in the folder.",
    fix="Delete it if it is not sold; a design that is live should stay.",
    known_limits="Goes by file names.",
    source="follows from the files; no threshold",
    codes={"no-longer-made": Severity.NOTE},
)
MADE_LIST = CheckRecord(
    id="designs/made-list",
    title="The lists of designs made from word lists can be read.",
    looks_at="the list that `hundredfold typeset` keeps beside the designs it made",
    why="The list tells the titles, keywords and rights of those designs. Without it they go on "
    "under their file names' words.",
    example="The list opened in a spreadsheet program, its columns sorted, and saved.",
    fix="Run `hundredfold typeset`: the list is written anew.",
    known_limits="A list whose columns are right and whose words were changed by hand is believed.",
    source="follows from the files; no threshold",
    codes={"bad-made-list": Severity.WARN, "file-unreadable": Severity.WARN, "made-anew": Severity.NOTE},
)
UNUSABLE_FILE = CheckRecord(
    id="designs/unusable-file",
    title="Every file of art can be used.",
    looks_at="each picture and SVG in the designs folder",
    why="Art that is damaged, empty, too large or of a kind we cannot print is not listed; the others go on.",
    example="A PNG that was cut short while it was copied.",
    fix="Export it again from the master, and replace the file.",
    known_limits="An SVG that would load other files, run scripts or take too long is refused, whatever "
    "it shows.",
    source="follows from the files; no threshold, apart from the limits of docs/messages.md",
    codes={"unusable": Severity.STOP},
)
NOT_ART = CheckRecord(
    id="designs/not-art",
    title="Everything in the designs folder is art.",
    looks_at="the files in the designs folder, by their endings",
    why="A file of another kind is passed over, which is only right if you meant it so.",
    example="A drawing program's own file left beside the PNG.",
    fix="Nothing, if it is meant; else export it as PNG, JPEG, WebP, TIFF or SVG.",
    known_limits="Goes by the ending of the name. A few usual companions (notes, thumbnails) are passed "
    "over in silence.",
    source="follows from the files; no threshold",
    codes={"other-kind": Severity.NOTE},
)
COPY = CheckRecord(
    id="designs/copy",
    title="No design is in the folder twice.",
    looks_at="the contents and the pixels of all designs",
    why="The same picture in two files would be listed twice, and marketplaces count such "
    "listings as copies.",
    example="`bees.png` and `bees final.png` with the same picture.",
    fix="Delete one of them, or change the art.",
    known_limits="The very same file is used once. Of the same picture in another file you decide.",
    source="SHA-256 of the files; exact pixels",
    codes={"same-art": Severity.NOTE, "same-pixels": Severity.WARN},
)
LOOK_ALIKE = CheckRecord(
    id="designs/look-alike",
    title="No two designs look almost the same.",
    looks_at="the designs, pair by pair, by a fingerprint of how they look",
    why="Buyers who cannot tell two listings apart see one shop that repeats itself, and so do marketplaces.",
    example="The same joke with another shade of yellow.",
    fix="List only one of them if buyers could not tell them apart.",
    known_limits="Designs of one layout look alike by intent and are not reported.",
    source=COMMON,
    codes={"near-twin": Severity.NOTE},
)
RETIRED = CheckRecord(
    id="designs/retired",
    title="No design that you retired is still in the folder.",
    looks_at="the retired designs, beside the designs folder",
    why="It explains why a file that is there is not listed.",
    example="A design that was retired in spring and never deleted.",
    fix="Delete the file, or bring the design back with the `hundredfold undo` that the finding names.",
    known_limits="Changes nothing by itself.",
    source="follows from the ledger and the files; no threshold",
    codes={"still-there": Severity.NOTE},
)
GONE = CheckRecord(
    id="designs/gone",
    title="Every design that is live still has its file.",
    looks_at="the designs of live listings, beside the designs folder",
    why="Its live listings go on selling, and cannot be changed or made again without the file.",
    example="A folder of designs moved to another disk.",
    fix="Put the files back, or end what is live with `hundredfold retire`.",
    known_limits="Many at once are told as one, since that is most often a folder that was moved.",
    source="follows from the ledger and the files; no threshold",
    codes={"file-missing": Severity.WARN, "files-missing": Severity.WARN},
)
NOT_MADE = CheckRecord(
    id="build/not-made",
    title="Everything that was to be made was made.",
    looks_at="each print file, picture and reading that a month needs",
    why="A listing without its files cannot go out. The others go on, and this one is tried again next time.",
    example="A disk that filled up half way.",
    fix="Mend what it says, and run the month again.",
    known_limits="What happened is told in one sentence, without what a programmer would want to know.",
    source="follows from the files; no threshold",
    codes={"failed": Severity.STOP},
)
STRAY_PACK = CheckRecord(
    id="build/stray-pack",
    title="No pack's folder holds files that belong to no pack.",
    looks_at="the folders of days that have no pack any more",
    why="They could be handed over by mistake. What we wrote ourselves is removed; what a "
    "person put there stays.",
    example="A note of yours in the folder of a day that was planned anew.",
    fix="Look at the files, then delete the folder.",
    known_limits="Looks at days that had a pack; other folders are not looked into.",
    source="follows from the files; no threshold",
    codes={"kept": Severity.WARN},
)
NAME = CheckRecord(
    id="designs/name",
    title="Every design has a name that says something.",
    looks_at="the words of each design: its layout's row, its row in names.csv, or its file's name",
    why="A title such as “Ceramic mug” is found by nobody and clicked by nobody.",
    example="`DSC00123.png`, saved straight from the camera.",
    fix="Run `hundredfold words --names`, fill the row in `names.csv`, and run the month again.",
    known_limits="A name that says something else than the art is believed.",
    source="follows from the names; no threshold",
    codes={"says-nothing": Severity.STOP},
)
LANGUAGE = CheckRecord(
    id="wording/language",
    title="Every channel has words of its own language.",
    looks_at="each channel's language, the phrase books and the designs' own words",
    why="A listing in the wrong language sells to nobody, and a channel may refuse it.",
    example='`language = "it-IT"` without a book of Italian.',
    fix="Write a book (docs/words.md), or give a language there is a book of.",
    known_limits="What the art itself says is never translated.",
    source="follows from the files; no threshold",
    codes={"no-book": Severity.STOP, "no-own-words": Severity.NOTE},
)
REFUSED_WORDS = CheckRecord(
    id="wording/refused",
    title="No text says what the channel or you refuse, or claims what the blank's file does not prove.",
    looks_at="every phrase that a listing's texts are made of",
    why="A forbidden word costs the listing; an unproved claim can cost more than that.",
    example="“Dishwasher safe mug” as a search word of a mug whose file does not say so.",
    fix="Nothing, if the phrase should stay out. Else prove the claim under [claims] in the blank's file.",
    known_limits="Knows a list of usual claims in five languages; it is a reminder, no legal advice: "
    "local rules on advertising have the last word.",
    source=COMMON,
    codes={"left-out": Severity.NOTE, "own-words": Severity.STOP},
)
BY_HAND = CheckRecord(
    id="wording/by-hand",
    title="Every text written by hand still suits what it was written over.",
    looks_at="the texts you wrote by hand, beside what would stand there without them",
    why="A text that was mended once must not hide for ever what changed below it.",
    example="A title of yours over a mug that holds 325 ml, and the blank's file now says 350 ml.",
    fix="Read both, then write yours again or give it back: `hundredfold words DESIGN --give-back title`.",
    known_limits="Tells that the text below changed, not whether yours is still true.",
    source="follows from the ledger; no threshold",
    codes={"below-changed": Severity.NOTE, "fits-no-more": Severity.WARN},
)
