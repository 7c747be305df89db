"""Words that file names hold besides what the art says. Common practice, no source."""


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


# Words a drawing program, a phone or a hurried person leaves in a file name. They say nothing of the design.
BY_PRODUCTS = _words(
    "final finished done new old copy edit edited export exported draft rev revised version ver fixed"
    " updated use this print printready ready web hires lowres highres transparent png jpg jpeg svg webp"
    " tif tiff rgb cmyk psd eps pdf img image pic picture untitled artboard layer design artwork file"
    " scan screenshot dsc dscn dcim asset upload download cropped resized upscaled nobg bg ok kopie"
    " entwurf fertig endgültig neu bearbeitet copie définitif definitif copia definitivo definitiva"
)
# How the art was saved or drawn ("outlined", "palette"), where a name ends in it.
ABOUT_THE_FILE = _words(
    "outlined outlines vector vectors vectorised vectorized palette greyscale grayscale monochrome"
    " mockup mock-up flattened merged dtf dtg sublimation sublimated clipart cutfile printable hd uhd 4k"
    " alpha cmyk300 bitmap halftone wrap mirrored flipped inverted dpi px artfile masterfile master"
    " proof sticker graphic illustration"
)
CAMERA = _words(
    "asset img dsc dscn dcim pxl scan screenshot artboard untitled layer unbenannt whatsapp photo foto"
    " mvimg vid"
)
SELLING = _words(
    "gift gifts present funny cute cool hilarious novelty trendy trending bestseller bestselling"
    " popular unique perfect awesome amazing geschenk lustig cadeau regalo idea ideas sale handmade"
    " organic premium exclusive limited"
)
GOODS = (
    *(
        "t shirt",
        "tee shirt",
        "t-shirt",
        "tshirt",
        "tee",
        "shirt",
        "tank top",
        "hoodie",
        "sweatshirt",
        "jumper",
    ),
    *(
        "coffee mug",
        "mug",
        "mugs",
        "travel mug",
        "enamel mug",
        "cup",
        "tumbler",
        "shot glass",
        "bottle",
        "glass",
    ),
    *("cushion cover", "cushion", "pillow", "pillow cover", "tote bag", "tote", "bag", "shopper", "apron"),
    *(
        "tea towel",
        "towel",
        "poster",
        "magnet",
        "keyring",
        "coaster",
        "tasse",
        "becher",
        "kissen",
        "beutel",
        "taza",
    ),
    *("camiseta", "bolsa", "cojín", "tasse", "coussin", "torchon", "sac"),
)
# Colours that name cloth and glazes rather than what art shows; a shop's own colours come on top.
COLOURS = _words(
    "navy heather burgundy oatmeal charcoal black white natural schwarz weiss weiß noir blanc negro blanco"
)
SMALL = _words("a an and as at but by for from in nor of on or so the to up with yet vs")
STOP = SMALL | _words("is are be am was it its it's this that my your our i i'm you me we im")
LEADS_TO_A_PERSON = _words("for für pour para")  # behind a selling word: "gift for grandad"
# What file names leave the apostrophe out of, where no other word is spelt so.
CONTRACTIONS = {
    whole.replace("'", ""): whole
    for whole in _words(
        "don't doesn't didn't isn't aren't wasn't can't couldn't wouldn't shouldn't haven't hasn't won't i'm"
        " i've you're you've they're that's what's there's here's who's let's ain't y'all"
    )
}
# Before these, "its" is "it's" and "worlds" is "world's".
AFTER_IT_IS = _words("a an the my not only just all in never always time so too your our been")
AFTER_WORLDS = _words("best greatest okayest worst kindest loudest slowest fastest")
BEFORE_NUMBERS = _words(
    "over turning is at the since class happy only about nearly number no channel route apollo"
)
BEFORE_YEARS = _words(
    "of in since est established class born from the year retired seit depuis desde promo abi graduate"
    " graduated"
)
OCCASIONS = _words(
    "birthday christmas xmas easter valentine valentines wedding anniversary retirement geburtstag"
    " weihnachten ostern anniversaire noël navidad cumpleaños"
)
VERSIONS = _words("LIGHT DARK FRONT BACK WHITE BLACK SMALL LARGE")  # in capitals, after words that are not
# How art is made up, said behind what it says.
ART_FORMS = _words(
    "badge crest seal list arch wreath label joke pun quote saying lettering typography emblem logo"
    " stamp pattern definition noun ribbon banner circle retro vintage doodle watercolour watercolor"
    " cartoon"
) | {"big word", "noun definition"}
