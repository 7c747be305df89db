"""What a report says in its headings, in English, German, French, Spanish and Italian, and our fields of it.

As in ``learning/lexicon.py`` a line is a notion and the words for it, and a field is told once, as a set of notions.
Reports share few of a listing sheet's words and use some of them otherwise (an *item price* that is a line's total, a
*transaction fee*), so they have a list of their own. Common practice of sales, settlement, advert and view reports;
no source.
"""

from hundredfold.learning.fields import FieldCatalogue, catalogue_of

NOTIONS = """
order: order, orders, purchase, invoice, rechnung, facture, factura, fattura, bestellung, bestell, auftrag, auftrags, commande, commandes, pedido, orden, ordine, ordini, vente no, bestellungs, compra, achat, acquisto, verkaufsbeleg, receipt, beleg
line: line, position, posten, zeile, ligne, linea, riga, pos
item: item, product, article, listing, artikel, produkt, articulo, producto, articolo, prodotto, ware, annonce, anuncio, inserzione, angebot, goods, offer, produit, items, products, variation, variante, variant
code: id, number, no, nr, nummer, numero, num, ref, reference, code, kennung, identifiant, identificador, identificativo, referenz, referencia, riferimento, n, identifier, key, codigo, codice, kode, kennziffer
transaction: transaction, transaktion, transaktions, transaccion, transazione, movement, buchung, buchungs, operation, operacion, operazione, movimiento, movimento, entry, vorgang, ecriture, vorgangs, asiento
date: date, datum, fecha, data, day, tag, giorno, dia, jour, zeitpunkt, timestamp, date time, datetime, created, posted, sold on, paid on, ordered on, when, uhrzeit, time, am, booked, quand, erstellt, heure, hora, ora
type: type, typ, art, tipo, kind, genre, nature, tipologia, sorte
what: description, beschreibung, descripcion, descrizione, details, amount type, designation, libelle, concept, concepto, causale, verwendungszweck, text, betreff, memo, detail, particulars, amount description, buchungstext, reason, motif, grund, motivo, line type, intitule, fee name, charge name
sku: sku, skus, stock code, stockcode, stock keeping unit, bestandsnummer, bestandseinheit
seller: seller, merchant, your, our, own, my, handler, haendler, verkaufer, vendeur, vendedor, venditore, ihre, eigene, votre, marchand, mia, propria, interne, internal, vendor
title: title, name, titel, titre, titulo, titolo, bezeichnung, nom, nombre, nome, label, denominacion, denominazione, heading
quantity: quantity, qty, units, unit count, pieces, menge, anzahl, stuck, stueck, stuckzahl, quantite, cantidad, unidades, unites, quantita, pezzi, qta, cant, pcs, count, number of items, number sold, no of items, items sold, units sold, how many, stk, anz, uds, verkaufte stuck, quantity sold, quantity purchased, qte, nombre d articles, no sold, copies
currency: currency, wahrung, devise, moneda, divisa, valuta, monnaie, ccy, curr, waehrung
unit: unit, each, per item, per piece, einzel, unitaire, unitario, single, pro stuck, stuckpreis, per unit, a piece, unitaria, par unite, por unidad, cadauno, cad
price: price, preis, prix, precio, prezzo, stuckpreis
amount: amount, betrag, montant, importe, importo, value, wert, monto, valor, valore, amt, money
total: total, gesamt, totale, grand total, insgesamt, somme, sum, summe, overall, gesamtsumme, suma, somma, totaux, tot
gross: gross, brutto, brut, bruto, lordo, incl, including, inkl, ttc
net: net, netto, neto, payout, proceeds, auszahlung, paid out, nett, versement, abono neto, accredito, payable, settled, ausgezahlt, liquidation, your share, to you, earned, earnings, ganancias, guadagno, gutschriftbetrag, verse
sale: sale, sales, sold, revenue, income, turnover, umsatz, verkauf, verkaufs, erlos, erloes, vente, ventes, venta, ventas, vendita, vendite, subtotal, sub total, zwischensumme, sous total, subtotale, chiffre d affaires, ca, ricavi, ricavo, ingresos, ingreso, merchandise, waren, warenwert, line total, item total, takings, goods total, item subtotal, order value, product sales, paid by buyer, positionssumme, recette, bestellwert, artikelsumme, incasso
postage: postage, shipping, delivery, carriage, versand, porto, livraison, port, envio, envios, spedizione, gastos de envio, expedition, frais de port, p p, p&p, consegna, freight, shipment, frais de livraison, frais d envoi, envoi, liefer, lieferung, trasporto, postal charge
discount: discount, discounts, rabatt, rabatte, nachlass, remise, remises, reduction, descuento, descuentos, sconto, sconti, coupon, gutschein, voucher, promotion, promotional, promo, aktionsrabatt, money off, bon de reduction, cupon, buono, preisnachlass, rebate, promocion, promozione
tax: tax, vat, mwst, ust, umsatzsteuer, mehrwertsteuer, steuer, tva, taxe, taxes, iva, impuesto, impuestos, imposta, imposte, gst, sales tax, steuern, duty
fee: fee, fees, commission, commissions, gebuhr, gebuehr, gebuhren, provision, frais, comision, comisiones, commissione, commissioni, tarifa, tarifas, charge, charges, selling fee, referral, tariffa, tariffe, take, our cut, final value, marketplace, prelievo, courtage, vermittlung, vermittlungs, stall, pitch, marktplatz, verkaufsgebuhr, cut, gastos, spese
payment: payment, processing, card, zahlung, zahlungs, paiement, pago, pagamento, payment processing, kartenzahlung, carte, tarjeta, carta, bezahl, traitement, elaborazione, procesamiento, bancaire, acquiring
advert: advert, adverts, advertising, ads, ad, advertisement, werbung, werbe, werbekosten, anzeigen, anzeige, publicite, publicidad, pubblicita, promoted, spend, spent, campaign, sponsored, marketing, ad spend, promoted listing, pub, publicitaire, kampagne, kampagnen, werbeausgaben, campana, campagna, campagne, ausgaben, depense, depenses, gasto publicitario, spesa pubblicitaria, inserat
refund: refund, refunded, refunds, return, returns, returned, erstattung, ruckerstattung, rueckerstattung, erstattet, retoure, retouren, rucksendung, remboursement, rembourse, remboursements, retour, retours, reembolso, reembolsado, devolucion, devoluciones, rimborso, reso, resi, rimborsato, ruckgabe, gutschrift, credit note, credited back, given back, avoir, erstattungs, storno, reversal
views: views, impressions, visits, aufrufe, besuche, ansichten, vues, visites, impresiones, visitas, visualizaciones, vistas, visualizzazioni, visite, impressioni, sessions, page views, einblendungen, times shown, times seen, seen by, pageviews, sitzungen, seitenaufrufe, affichages, vista, eindrucke, besucher, visitors
clicks: clicks, klicks, clics, clic, click, taps
status: status, state, statut, estado, stato, etat, progress, situation
base: base cost, production, blank, manufacturing, product cost, print cost, produktions, herstellungs, herstellung, produktion, fabrication, produccion, produzione, druck, printing, wholesale, einkauf, einkaufs, base, making, base price, rohling, rohlings, cout de production, supplier price, item cost, garment, prix de base, precio base, prezzo base, grundpreis, blanko, impresion, stampa
cost: cost, costs, kosten, cout, couts, coste, costo, costi, costes
buyer: buyer, customer, recipient, ship to, shipping name, kunde, kunden, kaufer, kaeufer, empfanger, empfaenger, acheteur, client, destinataire, comprador, cliente, destinatario, acquirente, bill to, billing, compratore, shopper, purchaser, sold to, deliver to, username, user name, gift message, note from buyer, message, buyer note, kundin
address: address, street, city, town, postcode, zip, zipcode, postal code, country, email, e mail, phone, adresse, strasse, ort, plz, stadt, land, telefon, rue, ville, code postal, pays, direccion, calle, ciudad, pais, telefono, correo, indirizzo, via, citta, cap, paese, region, county, province, provincia, full name, first name, last name, vorname, nachname, prenom, apellido, apellidos, cognome, anschrift, telephone, mobile, codigo postal, courriel, lieferland, bundesland, lander, address line, company name, nom de famille, destination
rate: rate, satz, percent, percentage, taux, tasso, aliquota, porcentaje, prozent, pct, ctr, cpc, tipo impositivo, conversion, acos, roas, quote, pourcentage, percentuale
balance: balance, saldo, solde, running total, kontostand, remaining
colour: colour, color, farbe, couleur, colore
size: size, grosse, taille, talla, taglia, tamano, misura
dispatch: dispatched, dispatch, shipped, shipped on, versandt, expedie, enviado, spedito, due, deposit, available, verschickt, delivered, geliefert, livre, entregado, consegnato, cancelled, storniert am, updated, last, versanddatum
channel: channel, site, store, stall name, kanal, canal, canale, platform, shop name, marketplace name
tracking: tracking, carrier, sendungsnummer, suivi, seguimiento, tracciamento, trackingnummer, sendungsverfolgung, transporteur, transportista, corriere
page: page, seite, url, link, picture, image, bild, photo, keyword, search term, placement
"""

REPORT: FieldCatalogue = catalogue_of("report", """
order: order code, order~0.8, sale code~0.8, order line order, sale order code | code
item: order item code, order line, order line code, line code, line item code, transaction item code~0.8, order line item code, line~0.7 | code
transaction: transaction code, transaction order code~0.7, payment code~0.7, refund code~0.8, fee code~0.6, advert code~0.6 | code
date: date, order date, sale date, payment date~0.9, transaction date, date transaction, refund date~0.95, advert date, date order line~0.8 | date
kind: type, transaction type, order type~0.8, type what~0.9, transaction what~0.7, transaction~0.6 | words
what: what, transaction what, type amount, fee type, fee what, amount what, type cost, fee title~0.8, line type | words
sku: sku, seller sku, item sku, seller code, seller item code, item seller code, item code~0.6, item order code~0.4, sku code, sku item code, seller sku code | code
title: title, item title, item~0.7, item what~0.8, item title what | title
identifier: item code~0.8, item seller code~0.3, code~0.5 | code
units: quantity, item quantity, quantity order, sale quantity, quantity sale, refund quantity~0.8 | count
currency: currency, transaction currency, order currency, amount currency | currency
unit price: unit price, unit item price, unit sale price, unit amount~0.8, unit gross price, unit price gross, unit net price~0.7 | money
price: price, item price, sale price, gross price~0.9, order price~0.8, item amount~0.8, price gross~0.9 | money
paid: sale, item total, sale amount, gross sale, sale gross, price total, item price total, item sale, sale total, total sale price, order sale, total item amount, order item amount~0.9, gross item amount~0.9, line amount, line total, line price, sale value | money
total: total, order total, total amount, gross total, order amount, gross~0.8, total gross, total order amount, order gross amount, total price order, gross amount~0.8, total paid | money
amount: amount, transaction amount, amount transaction, total transaction amount~0.8, item cost amount~0.4 | money
net: net, net amount, net total, net sale~0.8, total net, net order~0.8, net transaction, net payment~0.8 | money
postage: postage, postage amount, postage price, postage total, postage cost, postage fee~0.8, postage sale~0.9, order postage, postage buyer~0.8, postage gross | money
base cost: base, base cost, item cost~0.9, cost~0.75, base price, base amount, unit cost~0.8, cost total~0.7, base total, item base cost, total base cost | money
discount: discount, discount amount, item discount, order discount, discount total, discount sale, postage discount, seller discount, price discount~0.8 | money
tax: tax, tax amount, sale tax, tax total, order tax, item tax, postage tax, price tax, tax sale | money
fee: fee, sale fee, item fee, transaction fee, order fee, fee amount, fee total, seller fee, fee cost, item fee cost, cost transaction~0.6, fixed fee, net fee~0.7, fee tax~0.8, channel fee | money
payment: payment fee, payment cost, payment amount~0.4, payment fee amount, payment transaction fee, payment fee cost | money
advert: advert, advert cost, advert fee, advert amount, advert total, item advert cost | money
refund: refund, refund amount, refund total, order refund, item refund, refund sale, refund price, buyer refund~0.8 | money
views: views, item views, views quantity~0.9, total views, views advert | count
clicks: clicks, advert clicks, total clicks, clicks quantity | count
status: status, order status, payment status~0.9, item status | words
colour: colour, item colour~0.95
size: size, item size~0.95
private: buyer, buyer title, buyer address, address, buyer code, address postage, title address, order address, buyer title address, postage title, postage address title, buyer order~0.8, postage buyer address, buyer what, item address~0.7, postage what~0.5
""".splitlines())  # fmt: skip

# Columns of one report that say parts of the same: several fees are one sum.
ADDING = frozenset({"fee", "tax", "discount", "advert", "private", "payment"})
MONEY = ("unit price", "price", "paid", "total", "amount", "postage", "base cost", "discount", "tax", "fee", "payment",
         "advert", "refund", "net")  # fmt: skip
