"""What channels call an accepted and a refused listing, in five languages (common practice, no source)."""

from collections.abc import Mapping
from functools import lru_cache

from hundredfold.learning.words import fold, split_words
from hundredfold.ledger.events import Happened


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_ACCEPTED = _words(
    "accepted accept ok okay yes live active success successful succeeded published done added"
    " approved complete completed created passed valid angenommen akzeptiert aktiv erfolgreich"
    " veroffentlicht freigegeben genehmigt erstellt gultig ja online accepte acceptee actif active"
    " reussi publie publiee valide validee cree oui aceptado aceptada activo activa correcto publicado"
    " publicada aprobado aprobada creado si valido accettato accettata attivo attiva riuscito"
    " pubblicato pubblicata approvato approvata creato"
)
_REFUSED = _words(
    "refused refuse rejected reject no error errors failed fail failure invalid declined blocked"
    " suppressed denied abgelehnt fehler fehlgeschlagen fehlerhaft ungultig gesperrt nein"
    " zuruckgewiesen unterdruckt refusee rejete rejetee erreur echec echoue bloque bloquee invalide"
    " rechazado rechazada fallido denegado denegada bloqueado bloqueada incorrecto errores rifiutato"
    " rifiutata respinto respinta errore errori fallito bloccato bloccata negato"
)
_NOT = _words("not nicht kein keine pas non no")
# Words after which the outcome is only remarked upon: "accepted with warnings".
_WITH = _words("with mit avec con")
_OPEN = _words(
    "pending waiting review processing wartend prufung ausstehend attente pendiente revision attesa"
)


@lru_cache(maxsize=4096)
def outcome_of(text: str) -> Happened | None:
    """Accepted or refused; None where the words say neither, or both."""
    words = split_words(text)
    head = words[: next((at for at, word in enumerate(words) if word in _WITH), len(words))]
    if set(words) & _OPEN:
        return None
    yes, no = set(head) & _ACCEPTED, set(head) & _REFUSED
    if yes and any(word in _NOT for word in head):
        return Happened.REFUSED
    if bool(yes) == bool(no):
        return None
    return Happened.ACCEPTED if yes else Happened.REFUSED


def own_words(given: Mapping[str, str]) -> dict[str, Happened]:
    """The seller's own words. Raises ValueError unless each is accepted or refused."""
    both = {"accepted": Happened.ACCEPTED, "refused": Happened.REFUSED}
    for word, meant in given.items():
        if meant.strip().casefold() not in both:
            raise ValueError(f'"{word}" cannot be {meant!r}: it is accepted or refused')
    return {fold(word.strip()): both[meant.strip().casefold()] for word, meant in given.items()}
