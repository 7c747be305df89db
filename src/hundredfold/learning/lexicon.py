"""The trade's header words in English, German, French, Spanish and Italian, by what they mean.

A line is a notion and the words for it. Words of one notion say the same thing in any of the languages, so that
a field is told once, as a set of notions, and holds for all five. Common practice of price lists, upload sheets
and sales reports; no source. A phrase counts before its words do, and a German compound is taken apart.
"""

from collections.abc import Mapping
from functools import lru_cache

from hundredfold.learning.wordlists import STOP
from hundredfold.learning.words import split_words

# Notions that say little by themselves; a header may hold them without being explained by them.
GENERIC = frozenset(
    {"item", "text", "value", "file", "url", "name", "code", "number", "list", "info", "cost"}
)

NOTIONS = """
item: item, product, article, goods, listing, offer, artikel, produkt, ware, angebot, produit, articulo, producto, anuncio, articolo, prodotto, inserzione, annonce
text: text, texte, texto, testo, copy, wording
value: value, wert, valeur, valor, valore
file: file, filename, datei, dateiname, fichier, archivo, fichero, nome file
url: url, link, web address, lien, enlace, href, uri
list: list, liste, lista
info: info, information, informations, details, data, angaben, daten, donnees, datos, dati, instructions, instruction, hinweis, hinweise, instrucciones, conseil, conseils, consignes, istruzioni, notes
name: name, bezeichnung, nom, nombre, nome, denominacion, denominazione, designation, libelle, label, benennung
code: code, nummer, nr, no, number, num, numero, codigo, codice, id, identifier, kennung, identifiant, identificador, cod, cod., kode, key
sku: sku, bestandsnummer, skus, stock keeping unit
reference: reference, ref, referencia, riferimento, referenz
seller: seller, merchant, your, our, own, my, vendor, haendler, handler, verkaufer, anbieter, vendeur, vendedor, venditore, ihre, ihr, votre, eigene, shop sku, marchand, tienda sku
supplier: supplier, partner, factory, fulfilment, fulfillment, lieferant, lieferanten, fournisseur, proveedor, fornitore, print house, printer, hersteller artikel, druckerei, imprimeur, stampatore, lieferer, production
parent: parent, family, group, master, vater, eltern, parente, padre, famille, familia, famiglia, gruppe, gruppo, grupo, groupe, variation group, variantengruppe, item group, style group
rowkind: row type, line type, type of row, row kind, record type, parentage, parent child, parent or child, parent/child, relationship type, relation type, zeilentyp, zeilenart, satzart, datensatztyp, typ der zeile, artikelart, type de ligne, type ligne, parente enfant, filiation, tipo de fila, tipo fila, tipo de linea, tipo di riga, tipo riga, parentela, child parent, eltern kind, eltern/kind, padre hijo, padre figlio, parent enfant, entry type, hierarchy level, variant type
action: action, operation, what to do, update delete, update/delete, command, aktion, vorgang, accion, azione, operacion, operazione, mode, change type, to do, transaction type, type of change, anderungsart, aenderungsart, verarbeitung, do what, row action, request, modification type, instruction type, type d operation, type operation
title: title, titel, titre, titulo, titolo, heading, headline, uberschrift, intitule, encabezado, kopfzeile
long: long, lang, langer, longue, larga, lungo, lunga, full, complete, ausfuhrlich, detaillee, detailed, detallada, dettagliata, extended
short: short, kurz, kurzer, court, courte, corta, breve, brief, kurze
story: description, beschreibung, descripcion, descrizione, descriptif, desc, story, body text, body, about, about this item, details text, artikeltext, produkttext, fliesstext, texto descriptivo, testo descrittivo, descriptive text, artikelbeschreibung, presentation, body copy
point: bullet, bullets, bullet point, bulletpoint, selling point, sales point, key feature, feature, highlight, key point, stichpunkt, stichpunkte, aufzahlungspunkt, aufzahlung, verkaufsargument, produktmerkmal, merkmal, attributpunkt, vorteil, benefit, point fort, points forts, point cle, puce, puces, caracteristique, argument, caracteristica, vineta, ventaja, punto destacado, punto clave, punto elenco, elenco puntato, punto chiave, punto di forza, caratteristica, eigenschaft, unique selling point, usp, selling points, reason to buy, atout, argument de vente
search: search term, search terms, search words, search word, search keywords, keyword, keywords, key words, key word, suchbegriff, suchbegriffe, suchwort, suchworter, schlagwort, schlagworter, schlagworte, schlusselwort, schlusselworter, stichwort, stichworter, mot cle, mots cles, termes de recherche, terme de recherche, palabra clave, palabras clave, terminos de busqueda, termino de busqueda, parola chiave, parole chiave, termini di ricerca, termine di ricerca, hidden keywords, backend keywords, finding words, meta keywords
tag: tag, tags, etiqueta, etiquetas, etichetta, etichette, etiquette, etiquettes, hashtag, hashtags
price: price, preis, prix, precio, prezzo, pvp, amount charged
sell: sell, selling, sale, retail, verkauf, vente, venta, vendita, asking, buy now, publico, endkunden, consumer, kunden, standard, unit, regular, normal, per item, list price of item, shop
gross: gross, brutto, inc vat, incl vat, including vat, inc tax, incl tax, including tax, inkl mwst, inklusive mwst, inkl. mwst, ttc, con iva, iva inclusa, iva incluido, iva inc, iva incl, impuestos incluidos, tasse incluse, lordo, mit mwst, tax included, tax inclusive, vat included
net: net, netto, ex vat, excl vat, excluding vat, exc vat, ex tax, excl tax, exkl mwst, exkl. mwst, zzgl mwst, ohne mwst, ht, hors taxe, hors taxes, hors tva, sin iva, iva esclusa, senza iva, iva excluido, iva no incluido, sin impuestos, without vat, without tax, imponible, imponibile, neto, before tax, vat excluded
tax: tax, vat, mwst, ust, umsatzsteuer, mehrwertsteuer, steuer, tva, taxe, iva, impuesto, imposta, gst, sales tax, duty vat
rate: rate, satz, steuersatz, taux, tipo impositivo, aliquota, percent, percentage, prozent, pourcentage, porcentaje, percentuale, class, klasse, classe, code class
old: was, strike, barre, anterior, statt, previous, rrp, uvp, srp, msrp, recommended, recommended retail, suggested, suggested retail, empfohlener, unverbindliche, compare at, comparison, reference price of, conseille, recomendado, consigliato, original, old, ancien, avant remise, tachado, barrato, listino, streichpreis, strikethrough, full price, crossed out, list price, prix public, listenpreis
currency: currency, wahrung, devise, moneda, divisa, valuta, monnaie, currency code, iso currency
stock: stock, quantity, qty, inventory, available, availability, available units, units available, on hand, lagerbestand, bestand, menge, verfugbar, verfugbarkeit, stuckzahl, lager, anzahl, existencias, cantidad, disponible, disponibles, disponibilidad, inventario, quantite, en stock, disponibile, disponibilita, giacenza, quantita, scorta, scorte, magazzino, unidades, stock level, disponibilite
colour: colour, color, farbe, farbname, couleur, coloris, colore, shade, tint, farbton, teinte, colourway, colorway, farbvariante, tono
basic: map, family colour, base, primary, main colour, basic, standard colour, normalised, normalized, generic, grund, grundfarbe, farbfamilie, farbgruppe, hauptfarbe, couleur principale, couleur de base, famille de couleur, familia de color, color principal, color basico, color base, famiglia colore, colore principale, colore base, colour group, color group, filter colour, filter color, filterfarbe, colour family, color family, dominant
size: size, sizes, grosse, taille, talla, taglia, konfektionsgrosse, kleidergrosse, tamano, misura, grossen, misure, pointure, size name, dimension label
material: material, fabric, stoff, matiere, tissu, tejido, tessuto, materiale, made of, made from, werkstoff, materiau, obermaterial, materials, materialien, matieres, substrate, surface
composition: composition, zusammensetzung, composicion, composizione, fibre content, fiber content, fabric content, materialzusammensetzung, faserzusammensetzung, fibre composition, textile composition, fasergehalt, material content
print: print, printing, druck, impression, impresion, stampa, decoration, veredelung, marquage, personnalisation, printed, estampado, estampacion, bedruckung, marcaje, imprint
method: method, technique, process, verfahren, technik, tecnica, procede, methode, metodo, technology, type of print, procedimiento, art der bedruckung, druckart
area: position, location, placement, area, side, emplacement, ubicacion, posicion, posizione, zone, zona, stelle, druckposition, druckbereich, druckflache, lieu, localisation, platzierung
front: front, recto, vorne, vorderseite, avant, devant, delantera, delantero, frente, fronte, davanti, anverso, vorder, brust, chest, wrap
back: back, verso, hinten, ruckseite, arriere, dos, trasera, trasero, espalda, reverso, retro, dietro, rucken
artwork: artwork, art, print file, print ready, druckdatei, druckdaten, design file, art file, visuel, visuels, fichier d impression, fichier impression, archivo de impresion, archivo impresion, fichero de impresion, arte, file di stampa, file stampa, transfer, print data, motivdatei, grafik, grafica, graphic, graphics, motif, druckvorlage, pdf, diseno archivo, maquette, print ready file, print-ready, motivo
picture: image, picture, photo, bild, foto, imagen, immagine, img, mockup, mock up, abbildung, vorschaubild, pic, photograph, images, pictures, photos, bilder, fotos, imagenes, immagini, visual, bild url, produktbild, apercu, mock-up, mockups, picture file, image file
main: main, lead, primary picture, first, haupt, principal, principale, cover, hero, default, thumbnail, vorschau, principales, titelbild, hauptbild, copertina, portada, couverture, startbild, front image, erstes
other: other, additional, extra, more, weitere, zusatzliche, autre, autres, adicional, adicionales, altra, altre, otras, otra, alternate, alternative, gallery, secondary, supplementaire, supplementaires, zusatz, zusatzbild, galerie, galeria, galleria, further, detail, complementaire, secundaria, secundarias, secondaria
barcode: ean, gtin, upc, barcode, strichcode, code barres, codes barres, code a barres, codigo de barras, codice a barre, isbn, ean13, ean 13, gtin13, european article number, ean/upc, gtin/ean, upc/ean, ean/gtin, barcodes
customs: hs, hs code, commodity, commodity code, tariff, tariff code, customs, customs code, customs tariff, zolltarif, zolltarifnummer, zoll, warennummer, warentarifnummer, statistische warennummer, douanier, douaniere, code douane, nomenclature douaniere, nomenclature, nomenclatura, arancelario, arancelaria, partida arancelaria, doganale, intrastat, taric, harmonised, harmonized, harmonised system, sh code, code sh, tarif douanier, cn code, kn code, kn nummer, hts
origin: origin, herkunft, ursprung, origine, origen, provenienza, made in, country of manufacture, manufactured in, herstellungsland, produktionsland, pays de fabrication, pays fabrication, fabricado en, pais de fabricacion, paese di produzione, fabrique en, provenance, coo, procedencia, paese di fabbricazione, production country
country: country, land, pays, pais, paese
weight: weight, gewicht, poids, peso, mass, masse, ship weight, shipping weight, versandgewicht, item weight, grammage, artikelgewicht
width: width, breite, largeur, anchura, ancho, larghezza, wide
height: height, hohe, hauteur, altura, alto, altezza, tall
depth: depth, tiefe, lange, length, profondeur, longueur, profundidad, longitud, largo, lunghezza, profondita
diameter: diameter, durchmesser, diametre, diametro, dia
capacity: capacity, volume, fullmenge, fassungsvermogen, contenance, capacite, capacidad, volumen, capienza, capacita, inhalt, content volume, fullvolumen, nennvolumen, fluid volume
care: care, washing, wash, laundry, pflege, pflegehinweis, pflegehinweise, pflegeanleitung, waschanleitung, waschen, entretien, lavage, cuidado, cuidados, lavado, cura, lavaggio, manutenzione, mantenimiento, waschhinweis
age: age, alter, altersgruppe, edad, eta, age range, recommended age, tranche d age, altersempfehlung, target age
gender: gender, sex, geschlecht, genre, sexe, genero, sexo, genere, sesso, target gender, department, zielgruppe, public cible
maker: manufacturer, maker, producer, hersteller, fabricant, fabricante, produttore, fabbricante, produzent, producteur, productor, manufacturer name, herstellername
address: address, anschrift, adresse, direccion, indirizzo, postal address, street, strasse, rue, calle, via, domicilio, postanschrift
contact: email, e mail, contact, phone, telephone, website, kontakt, telefon, contacto, correo, courriel, contatto, telefono, electronic address, mail, e-mail, web site, webseite
responsible: responsible, responsible person, eu representative, authorised representative, authorized representative, verantwortlich, verantwortliche, verantwortliche person, verantwortlicher, bevollmachtigter, responsable, persona responsable, personne responsable, persona responsabile, responsabile, rp, inverkehrbringer, mandataire, importer, importeur, importateur, importador, importatore, eu responsible
safety: safety, warning, warnings, sicherheit, warnhinweis, warnhinweise, warnung, sicherheitshinweis, sicherheitshinweise, securite, avertissement, avertissements, mises en garde, seguridad, advertencia, advertencias, sicurezza, avvertenza, avvertenze, safety warning, produktsicherheit, compliance, mise en garde
condition: condition, zustand, etat, estado, condizione, condizioni, artikelzustand, item condition, stato
delivery: shipping, postage, delivery, carriage, versand, porto, livraison, envio, envios, spedizione, lieferung, port, frais de port, transport, freight, gastos de envio, consegna, p p, liefer, expedition, ship, entrega, p&p
dispatch: dispatch, despatch, handling, processing, lead, lieferzeit, bearbeitung, bearbeitungszeit, versandzeit, preparation, evasione, production time, produktionszeit, turnaround, lieferfrist, plazo de entrega, delai de livraison, delai d expedition, delai de preparation, tempi di consegna, tempo di consegna, handling time, vorlaufzeit, ready in, tiempo de preparacion, plazo de envio, tempi di spedizione, tempo di evasione
time: time, days, day, zeit, tage, delai, plazo, tempo, tempi, dias, jours, giorni, dauer, working days, werktage, frist, duration, tiempo
cost: cost, costs, kosten, charge, fee, frais, coste, costo, costi, costes, gebuhr, gastos, spese
buy: purchase, einkauf, einkaufspreis, achat, compra, acquisto, trade, wholesale, base cost, cost price, unit cost, grosshandel, ek, coste unitario, costo unitario, prix d achat, prix coutant, handler preis, dealer, blank cost, net cost, handlerpreis, haendlerpreis, prix revendeur, mayorista, ingrosso
pack: pack size, pack quantity, units per pack, pieces per pack, verpackungseinheit, packungsgrosse, stuck pro packung, packungsinhalt, unites par lot, unidades por paquete, pezzi per confezione, multipack, package quantity, item package quantity, number of items, anzahl der artikel, lot de, nombre de pieces, numero de piezas, numero di pezzi, unit count, set of, number of pieces, ve, pack of
brand: brand, marke, marque, marca, marchio, label name, brand name, markenname, nom de marque
category: category, kategorie, categorie, categoria, department path, produktkategorie, warengruppe, product group, produktgruppe, taxonomy, rubrik, rubrique, rayon, seccion, reparto, shop category, category path, sparte, catalogue section, node, browse node
niche: niche, theme, thema, topic, subject, interest, hobby, nische, tema, thematique, interests, centre d interet, collection, kollektion, coleccion, collezione
occasion: occasion, anlass, ocasion, occasione, season, saison, temporada, event, holiday, fete, evento, gelegenheit, stagione
design: design, motiv, diseno, disegno, dessin, artwork title, art title, entwurf, creation, designname, disegni
blank: blank, style, model, garment, base product, modele, modell, modelo, modello, rohling, rohartikel, textil, vetement, prenda, capo, vierge, style no, base item, blank product, support, product range, supporto, range, articulo base, grundartikel, articolo base
type: type, kind, typ, art, tipo, sorte, sort, tipologia, form, gattung
language: language, sprache, langue, idioma, lingua, locale, listing language
date: date, datum, fecha, data di, launch date, day, start date, startdatum, fecha de inicio, publish date, verkaufsstart, date de debut, data, go live date, release date
hex: hex, hex code, hexcode, rgb, html colour, web colour, srgb, colour hex, farbcode hex, farbwert, code hexa, hexadecimal
second: second, inside, inner, trim, rim, handle, innen, zweite, zweit, interieur, interior, interno, manico
underbase: underbase, white base, white ink, white underbase, weissunterdruck, unterdruck, sous couche, sous couche blanche, base blanca, base bianca, fondo blanco
pixels: px, pixel, pixels
dpi: dpi, resolution, auflosung, ppp, resolucion, risoluzione
orientation: orientation, ausrichtung, orientacion, orientamento
status: status, state, result, outcome, ergebnis, statut, resultat, resultado, stato, esito, estado del articulo, decision, response
"""


@lru_cache(maxsize=1)
def phrases() -> Mapping[tuple[str, ...], str]:
    """Each known phrase as folded words, and the notion it stands for; the first notion that has it wins."""
    found: dict[tuple[str, ...], str] = {}
    short: dict[tuple[str, ...], str] = {}
    for line in NOTIONS.strip().splitlines():
        notion, _, words = line.partition(":")
        for phrase in words.split(","):
            whole = split_words(phrase)
            found.setdefault(whole, notion)
            short.setdefault(tuple(word for word in whole if word not in STOP), notion)
    for phrase_words, notion in short.items():
        found.setdefault(phrase_words, notion)
    found.pop((), None)
    return found


@lru_cache(maxsize=1)
def longest_phrase() -> int:
    """How many words the longest known phrase has."""
    return max(map(len, phrases()))
