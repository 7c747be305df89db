"""The fields of a listing sheet and of a price list, each with the ways of saying it; see ``fields.field_of``."""

from hundredfold.learning.fields import catalogue_of

_GOODS = """
barcode: barcode, barcode code | barcode
customs code: customs, customs code | customs
origin: origin, origin country, country~0.8, maker country~0.8 | country
weight: weight, item weight | measure
width: width | measure
height: height | measure
depth: depth | measure
diameter: diameter | measure
capacity: capacity | measure
care: care, care info | words
age group: age, parent age | age
gender: gender | gender
material: material | words
materials percent: composition, material composition | words
process: print method, method~0.9, print~0.6, print type | process
print position: print area, area~0.9, artwork area~0.9 | words
form: item type~0.95, type~0.8, blank type~0.9 | words
brand: brand | words
category: category, item category | words
base cost: buy, buy price, cost price~0.8, buy cost, cost~0.6, supplier price~0.9, supplier cost~0.9 | money
postage: delivery, delivery cost, delivery price | money
stock: stock, item stock | stock
pack quantity: pack, pack stock~0.9 | number
colour: colour, colour name, colour value~0.9 | colour
size: size, size name, size value~0.9 | size
"""

LISTING = catalogue_of("listing sheet", f"""
sku: sku, seller sku, seller reference, seller code, seller item code, reference~0.75, item reference~0.75, item code~0.7, item sku, code~0.4, seller item reference | code
family sku: parent sku, parent, parent reference, parent code, parent item code, parent seller sku | code
row kind: rowkind, parent type | row kind
action: action | action
title: title, item title, item name~0.95, name~0.8, seller title | title
story: story, item story, long story, long text~0.8, text~0.5 | story
point: point, short story~0.7, point text | words #
search words: search, search list, tag list | words
search word: tag, search~0.9 | words #search words
price: price, sell price, gross price, sell gross price, price value~0.9 | money
price without tax: net price, net sell price, net | money
reference price: old price, old, old sell price, old gross price, reference price | money
currency: currency, price currency, currency code | currency
tax rate: tax rate, tax, rate tax | number
design name: design name, design title, design, design text~0.8 | title
niche: niche | words
occasion: occasion | occasion
blank code: blank code, blank, blank sku~0.8, blank reference | code
blank name: blank name, blank~0.95, blank title | words
partner code: supplier sku, supplier code, supplier item code, supplier reference, maker code, maker item code, maker reference, supplier item, supplier~0.6 | code
colour family: basic colour, basic, parent colour, colour type~0.7 | colour
language: language | language
date: date | date
artwork: artwork, artwork file, design file, print file, artwork url, print artwork | file
artwork front: artwork front, front file, front design, front print~0.9, design file front, front artwork file, front~0.5 | file
artwork back: artwork back, back file, back design, back print~0.9, design file back, back artwork file, back~0.5 | file
picture: picture, main picture, other picture, picture url, picture file, main picture url, other picture url, main~0.6 | picture #pictures
pictures: picture list, other picture list | picture
maker: maker, maker name | words
maker address: maker address | words
maker contact: maker contact | words
responsible name: responsible, responsible name | words
responsible address: responsible address | words
responsible contact: responsible contact | words
safety: safety, safety info | words
condition: condition | words
dispatch days: dispatch time, dispatch, delivery time, delivery dispatch time, dispatch delivery | number
{_GOODS}
""".splitlines())  # fmt: skip

PRICE_LIST = catalogue_of("price list", f"""
blank: blank code, blank, blank reference, blank sku~0.8, item code~0.5, category~0.3, parent code~0.9, parent sku~0.9, parent~0.8 | code
name: item name, name~0.9, blank name, title, story~0.7, item~0.8, item story~0.7, item title | words
colour code: colour code | code
hex: hex, colour hex, hex code, colour hex code | hex
second hex: second hex, second colour hex, second colour | hex
underbase: underbase | yes
partner code: sku, item code~0.95, code~0.8, reference~0.9, item reference, supplier code, supplier sku, supplier item code, item sku | code
orientation: orientation | words
area: print area, area~0.9 | words
width px: pixels width, print pixels width, print width pixels, area width | number
height px: pixels height, print pixels height, area height | number
dpi: dpi, print dpi | number
diameter mm: diameter | measure
body height mm: height | measure
body width mm: width | measure
capacity ml: capacity | measure
{_GOODS.replace("base cost: buy,", "base cost: buy, price~0.8, item price~0.8, sell price~0.55, net price~0.95,")
       .replace("stock: stock,", "stock: stock, status~0.6,")}
""".splitlines())  # fmt: skip
