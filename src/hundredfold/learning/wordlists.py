"""Lists of words the learner goes by: small words, units, currencies, and what drop-down lists offer."""


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


# Small words that carry no meaning in a header, in the five languages.
STOP = _words(
    "the a an of for and or in on to is it this per pro with by at from de du des d l le la les un une et ou en pour par der die das des dem den ein eine und oder fur mit von vom zu zum im am el los las del y o para con di il lo gli i e delle dei della degli do da da dal al s please optional mandatory required pflichtfeld obligatoire obligatorio obbligatorio erforderlich max maximum chars characters zeichen caracteres caratteri facultatif opcional opzionale enter field feld champ campo column spalte eg ie their your my me its each pro je chaque cada ogni fr uk us eng deu fra esp ita engl dell nell all sull dall dello nella deutsch deutsche deutscher englisch english german french spanish italian francais espagnol espanol ingles anglais italiano italien inglese"
)
# What a row under the headings says of a column's kind.
KINDS = _words(
    "text string number integer decimal date list dropdown url zahl texte nombre numero texto testo liste auswahl"
    " recommended empfohlen recommande recomendado consigliato alphanumeric boolean conditional enum freitext"
)
UNITS = {
    "g": "g", "gr": "g", "gram": "g", "grams": "g", "gramm": "g", "grammes": "g", "gramos": "g", "grammi": "g",
    "kg": "kg", "kilo": "kg", "oz": "oz", "ounce": "oz", "ounces": "oz", "lb": "lb", "lbs": "lb", "pounds": "lb",
    "mm": "mm", "cm": "cm", "inch": "in", "inches": "in", "zoll": "in", "pouces": "in", "pulgadas": "in",
    "pollici": "in", "m": "m", "ml": "ml", "cl": "cl", "litre": "l", "liter": "l", "litres": "l", "ltr": "l",
    "floz": "fl oz", "px": "px", "pixel": "px", "pixels": "px",
}  # fmt: skip
CURRENCIES = {
    "gbp": "GBP", "usd": "USD", "eur": "EUR", "euro": "EUR", "euros": "EUR", "chf": "CHF", "sek": "SEK", "dkk": "DKK",
    "nok": "NOK", "pln": "PLN", "cad": "CAD", "aud": "AUD", "czk": "CZK", "jpy": "JPY", "nzd": "NZD",
}  # fmt: skip

# Words a drop-down offers, by the kind of field that has such choices (common practice, no source).
CHOICES = {
    "action": "new add create insert update change amend modify edit partial partialupdate delete remove end withdraw"
    " neu anlegen hinzufugen andern aktualisieren loschen entfernen beenden creer ajouter modifier modification"
    " supprimer suppression retirer nouveau alta nuevo anadir crear modificar modificacion baja eliminar borrar"
    " nuovo aggiungi aggiungere creare crea modifica elimina eliminare cancella rimuovi full replace a d u",
    "row kind": "parent child variation variant single product family head member simple configurable standalone master"
    " vater kind eltern variante einzeln artikel produit enfant declinaison padre hijo simple producto hija variante"
    " genitore figlio prodotto singolo unique simple group line",
    "process": "sublimation dtg dtf uv embroidery engraving laser screen printing print vinyl transfer direct to garment"
    " film druck siebdruck stickerei gravur sublimationsdruck broderie gravure serigraphie sublimacion bordado grabado"
    " serigrafia sublimazione ricamo incisione digital digitaldruck flock flex",
    "gender": "men women man woman unisex male female boys girls herren damen manner frauen homme femme hommes femmes"
    " mixte hombre mujer hombres mujeres uomo donna uomini donne jungen madchen garcon fille nino nina bambino mens womens",
    "age": "adult adults kid kids child children baby toddler infant teen erwachsene kinder adulte enfant enfants bebe"
    " adulto nino ninos bambini adulti all ages junior jugendliche",
    "occasion": "christmas birthday wedding easter halloween anniversary valentines day mothers fathers weihnachten"
    " geburtstag hochzeit ostern noel anniversaire mariage paques navidad cumpleanos boda natale compleanno matrimonio"
    " muttertag vatertag graduation baby shower retirement",
    "size": "xs s m l xl xxl xxxl one size onesize unica einheitsgrosse taille unique xxs",
    "colour": "black white red blue navy green grey gray yellow pink purple orange brown natural cream schwarz weiss rot"
    " blau grun grau gelb rosa lila braun marine noir blanc rouge bleu vert gris jaune rose violet marron negro blanco"
    " rojo azul verde amarillo rosa morado nero bianco rosso blu verde grigio giallo viola marrone ecru beige sky sage"
    " royal heather forest burgundy multi mehrfarbig multicolore turquoise gold silver khaki olive mint",
    "yes": "yes no true false y n ja nein oui non si 0 1",
}
