"""What the words in a report's column of types say a row is: a sale, a refund, a fee, an advert, a payout."""

from enum import StrEnum
from functools import lru_cache

from hundredfold.learning.words import split_words


class RowKind(StrEnum):
    """What a row of a report is about; the values of money are fields of ours as well."""

    SALE = "sale"
    REFUND = "refund"
    FEE = "fee"
    PAYMENT = "payment"
    ADVERT = "advert"
    POSTAGE = "postage"
    TAX = "tax"
    DISCOUNT = "discount"
    OTHER = "other"
    PAYOUT = "payout"  # money that only moves: to the bank, a reserve
    CANCELLED = "cancelled"
    UNKNOWN = ""


# In the order in which they count: a "refunded fee" is a fee that came back, "sales tax" is tax, "postage label" a fee.
_WORDS = (
    (RowKind.PAYOUT, "payout transfer disbursement withdrawal auszahlung uberweisung virement versement transferencia bonifico"
     " deposit reserve accredito retiro prelievo abhebung bank pago_a_cuenta opening closing balance saldo solde"),
    (RowKind.CANCELLED, "cancelled canceled storniert annule annulee cancelado annullato cancelada annullata void unpaid"
     " unbezahlt impagado abgebrochen abandoned pending failed"),
    (RowKind.ADVERT, "advert adverts advertising ads ad promoted sponsored campaign werbung werbe werbekosten werbegebuhr anzeige"
     " anzeigen publicite publicidad pubblicita marketing kampagne sponsorise campana sponsorizzata sponsorizzato offsite"),
    (RowKind.PAYMENT, "processing card zahlungsgebuhr zahlungsabwicklung bezahlgebuhr zahlungsabwicklungsgebuhr paiement tarjeta"
     " carta traitement procesamiento elaborazione kartengebuhr"),
    (RowKind.FEE, "fee fees commission commissions charge charges gebuhr gebuhren provision frais comision comisiones commissione"
     " commissioni tarifa tarifas tariffa tariffe subscription abo abonnement renewal referral verkaufsgebuhr"
     " verkaufsprovision angebotsgebuhr einstellgebuhr marktplatzgebuhr label suscripcion abbonamento courtage service"
     " grundgebuhr monatsgebuhr vermittlungsgebuhr standgebuhr gebuehr verkaufsgebuehr spese"),
    (RowKind.REFUND, "refund refunds refunded return returns returned erstattung ruckerstattung retoure rucksendung ruckgabe"
     " remboursement retour reembolso devolucion rimborso reso chargeback reversal ruckbuchung gutschrift avoir"
     " rucklastschrift devolution erstattet rembourse"),
    (RowKind.TAX, "tax vat mwst ust umsatzsteuer mehrwertsteuer steuer tva taxe iva impuesto imposta gst"),
    (RowKind.POSTAGE, "postage shipping delivery versand versandkosten porto livraison port envio spedizione expedition freight"
     " versandeinnahme carriage"),
    (RowKind.DISCOUNT, "discount rabatt remise descuento sconto coupon voucher gutschein promotion promo nachlass"),
    (RowKind.OTHER, "adjustment other miscellaneous correction anpassung korrektur ajustement ajuste rettifica sonstiges autre"
     " otro altro goodwill credit sonstige varios varie divers diverse"),
    (RowKind.SALE, "sale sales order orders purchase payment item items product price principal verkauf verkaufe bestellung bestellungen"
     " kauf zahlung artikelpreis artikel umsatz erlos vente ventes commande achat venta ventas pedido compra vendita"
     " vendite ordine ordini acquisto income goods ware warenwert charge_to_buyer completed complete paid dispatched"
     " shipped revenue verkaufspreis prix precio prezzo pago pagamento abgeschlossen bezahlt versandt"
     " termine terminee payee expediee completado pagado enviado completato pagato spedito sold verkauft vendu vendido"
     " venduto einnahme erlose recette ingreso ricavo produit articulo prodotto"),
)  # fmt: skip


_CHARGED = frozenset({RowKind.FEE, RowKind.PAYMENT, RowKind.ADVERT})


def both_say(kind: RowKind, detail: RowKind) -> RowKind:
    """What a movement is that has a type and a kind of amount: the commission of an order, a refund's fee."""
    if kind in (RowKind.UNKNOWN, RowKind.SALE, RowKind.OTHER) and detail:
        return detail
    if kind in (RowKind.REFUND, RowKind.FEE) and detail in _CHARGED:
        return detail
    return kind


@lru_cache(maxsize=4096)
def kind_of(text: str) -> RowKind:
    """What a row of this type is; UNKNOWN where no word of it is known."""
    words = set(split_words(text))
    for kind, known in _known():
        if words & known:
            return kind
    return RowKind.UNKNOWN


@lru_cache(maxsize=1)
def _known() -> tuple[tuple[RowKind, frozenset[str]], ...]:
    return tuple((kind, frozenset(words.split())) for kind, words in _WORDS)
