"""The fields of a listing sheet and of a price list, each with the ways of saying it; see ``fields.field_of``."""

from hundredfold.learning.fields import catalogue_of

_GOODS = """
barcode: barcode, barcode code, barcode number, item barcode, barcode value | barcode
customs code: customs, customs code, customs number, customs reference~0.9 | customs
origin: origin, origin country, country~0.8, maker country~0.8, origin code, country code~0.6 | country
weight: weight, item weight, blank weight | measure
width: width, size width | measure
height: height, size height | measure
depth: depth, size depth | measure
diameter: diameter, size diameter | measure
capacity: capacity, size capacity | measure
care: care, care info | words
age group: age, parent age, age parent~0.9, age type~0.9, age gender~0.7 | age
gender: gender | gender
material: material, main material, blank material, material name, material type~0.9, material code~0.7 | words
materials percent: composition, composition rate, material rate, composition text, composition name, material composition | words
process: print method, method~0.9, print~0.6, print type, print name~0.6 | process
print position: print area, area~0.9, artwork area~0.9, print area name, design area~0.9, artwork area name~0.8 | words
form: item type~0.95, type~0.8, blank type~0.9, blank form~0.8 | words
brand: brand | words
category: category, main category, item category, blank category, category name, category list, category type~0.8, item group category | words
base cost: buy, buy price, cost price~0.8, buy cost, cost~0.6, cost sell~0.8, supplier price~0.9, supplier cost~0.9, blank cost, blank price~0.7, supplier buy price, net buy price, buy net, item cost~0.6, cost sell~0.8, gross buy price~0.8 | money
postage: delivery, delivery cost, delivery price, delivery value~0.9, delivery sell price~0.8 | money
stock: stock, item stock, stock time~0.5, stock value~0.9, stock number~0.9 | stock
pack quantity: pack, pack stock~0.9, pack value | number
colour: colour, colour name, colour value~0.9, blank colour, colour code~0.85, colour type~0.6, item colour name | colour
size: size, size name, size value~0.9, blank size, size code~0.9, size type~0.6 | size
"""

LISTING = catalogue_of("listing sheet", f"""
sku: sku, seller sku, seller reference, seller code, seller item code, reference~0.75, item reference~0.75, item code~0.7, item sku, code~0.4, seller item reference, sku code, code item~0.7, seller code reference, seller item name~0.4 | code
family sku: parent sku, parent, parent reference, parent code, parent item code, parent seller sku, parent item, reference main, sku main, item main~0.6, main code~0.6, parent name~0.7, parent seller code, parent seller reference, parent blank~0.6 | code
row kind: rowkind, parent type, rowkind type, parent action~0.5, item type~0.5, type~0.4 | row kind
action: action, action type, action code, action name | action
title: title, item title, item name~0.95, name~0.8, seller title, long title~0.9, short title~0.9, short name~0.9, long name~0.85, item short name~0.9, title text, title name, search title~0.8, design title~0.6 | title
story: story, item story, long story, long text~0.8, text~0.5, long item story, story text, story list~0.8, short story~0.95, long item text, text long story, item info~0.4, long~0.6 | story
point: point, short story~0.9, short info~0.8, point text, short text~0.7, point item, point title~0.9, point story~0.9, short point | words #
search words: search, search list, tag list, search text, search item~0.8 | words
search word: tag, search tag, search~0.93, tagword~0.9 | words #search words
price: price, seller price, sell price, gross price, sell gross price, price value~0.9, sell gross~0.9, price sell item, sell price gross item, price code~0.5 | money
price without tax: net price, net sell price, net, net item price, price before~0.4 | money
reference price: old price, old, old sell price, old gross price, reference price, old price value, old gross sell price, old item price, old net price~0.8 | money
currency: currency, price currency, currency code, price currency code, currency name~0.9 | currency
tax rate: tax rate, tax, rate tax, rate tax code, tax code~0.8, tax type~0.8, tax value~0.8 | number
design name: design name, design title, design, design text~0.8, design code~0.7, design reference~0.7, artwork name~0.5, artwork title, design item~0.6 | title
niche: niche, design parent~0.9, niche name, niche design, design category~0.8, design type~0.6, niche type~0.8, parent niche | words
occasion: occasion, occasion name, occasion type, occasion item | occasion
blank code: blank code, blank~0.9, blank sku~0.8, blank reference, blank item code, code blank name~0.9 | code
blank name: blank name, blank, blank title, blank item, item type name~0.5, item~0.57, blank type~0.6, blank item name, blank story~0.95, blank item story~0.95 | name
partner code: supplier sku, supplier code, supplier item code, supplier reference, maker code, maker item code, maker reference, supplier item, supplier blank code, supplier blank, supplier number, item code~0.58, supplier item name~0.6, supplier blank code, supplier variant code, supplier variant | code
colour family: basic colour, main colour~0.9, basic, parent colour, colour type~0.7, basic name, basic type, basic code | colour
language: language, language code, language type~0.8 | language
date: date, action date, dispatch date, date time~0.9, delivery date~0.9 | date
artwork: artwork, artwork file, design file, print file, artwork url, print artwork, artwork name~0.7, design url~0.9, artwork code~0.5, print url~0.8, print design~0.7, print design file, artwork list~0.9, design file name, print picture~0.7, print item file~0.9 | file
artwork front: artwork front, front file, front design, front print~0.9, design file front, front artwork file, front~0.5, front artwork url, front design url, print front file, artwork print front, print area front~0.6, front picture print | file
artwork back: artwork back, back file, back design, back print~0.9, design file back, back artwork file, back~0.5, back artwork url, back design url, print back file, artwork print back, print area back~0.6, back picture print | file
picture: picture, title picture, area picture, other url~0.9, other file~0.8, main picture, other picture, picture url, picture file, main picture url, other picture url, main~0.6, other~0.6, main picture file, other picture file, picture code~0.6, main picture list~0.5, picture name, item picture, front picture~0.6 | picture #pictures
pictures: picture list, other picture list, picture url list, other picture url list, picture file list | picture
maker: maker, maker name, maker code~0.6 | words
maker address: maker address, address~0.56 | words
maker contact: maker contact, contact~0.56, maker contact url, maker url~0.8 | words
responsible name: responsible, responsible name, responsible supplier~0.8 | words
responsible address: responsible address | words
responsible contact: responsible contact, responsible contact url, responsible url~0.8 | words
safety: safety, safety info, safety text, safety list | words
condition: condition | words
dispatch days: dispatch time, dispatch, time~0.75, delivery time, delivery time, delivery dispatch time, dispatch delivery | number
{_GOODS}
""".splitlines())  # fmt: skip

PRICE_LIST = catalogue_of("price list", f"""
blank: blank code, blank, blank reference, blank sku~0.8, item code~0.5, category~0.3, parent code~0.9, parent sku~0.9, parent~0.8 | code
name: item name, name~0.9, blank name, title, story~0.7, item~0.8, item story~0.7, item title | words
colour code: colour code | code
hex: hex, colour hex, hex code, colour hex code | hex
second hex: second hex, second colour hex, second colour | hex
underbase: underbase | yes
currency: currency, price currency, currency code | currency
partner code: sku, item code~0.95, code~0.8, reference~0.9, item reference, supplier code, supplier sku, supplier item code, item sku | code
orientation: orientation | words
area: print area, area~0.9 | words
width px: pixels width, print width~0.9, print pixels width, print width pixels, area width | number
height px: pixels height, print height~0.9, print pixels height, area height | number
dpi: dpi, print dpi | number
diameter mm: diameter | measure
body height mm: height | measure
body width mm: width | measure
capacity ml: capacity | measure
{_GOODS.replace("base cost: buy,", "base cost: buy, price~0.8, item price~0.8, sell price~0.55, net price~0.95,")
       .replace("stock: stock,", "stock: stock, status~0.6,")}
""".splitlines())  # fmt: skip
