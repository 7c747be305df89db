"""The proof sheet as one HTML file: no script, no other file, readable on a desk and on a telephone."""

from base64 import b64encode
from html import escape

from hundredfold.proofing.sheet.cards import (
    GLOSSARY,
    STATES,
    Card,
    Figure,
    ProofSheet,
    Strip,
    Swatch,
    totals_of,
)
from hundredfold.proofing.sheet.style import STYLE

_LEGEND = "".join(
    f'<span class="key"><i class="swatch {state}" style="--body:#8fa3b5"></i>{words}</span>'
    for state, words in STATES.items()
)

_GLOSSARY = "".join(
    f"<div><dt>{escape(word)}</dt> <dd>{escape(meaning)}</dd></div>" for word, meaning in GLOSSARY
)


def page(sheet: ProofSheet) -> str:
    """The whole page."""
    title = f"Proof sheet, {escape(sheet.shop)}"
    first = "".join(_card(card) for card in sheet.cards)
    more = (
        f'<p class="more">{sheet.left_out} more designs want a look; <code>hundredfold proof NAME</code> '
        "shows any of them.</p>"
        if sheet.left_out
        else ""
    )
    legend = f'<p class="legend">{_LEGEND}</p><dl class="glossary">{_GLOSSARY}</dl>'
    look = f"<h2>Look at these first</h2>{legend}{first}{more}" if first else ""
    ready = "".join(_ready(card) for card in sheet.ready)
    rest = f'<h2>Ready</h2><div class="ready">{ready}</div>' if ready else ""
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{title}</title><style>{STYLE}</style></head><body>"
        f"<header><p>Proof sheet</p><h1>{escape(sheet.shop)}</h1>{_totals(sheet)}</header>"
        f"<main>{look}{rest}</main></body></html>\n"
    )


def _totals(sheet: ProofSheet) -> str:
    numbers, sentence = totals_of(sheet)
    cells = "".join(f"<div><b>{number}</b><span>{words}</span></div>" for number, words in numbers)
    return f'<p>{sentence}</p><div class="totals">{cells}</div>'


def _card(card: Card) -> str:
    figures = "".join(_figure(figure) for figure in card.figures)
    word = {"stop": "Stopped", "warn": "Have a look", "fine": "Ready"}[card.severity]
    strips = "".join(_strip(strip) for strip in card.strips)
    also = "".join(f"<li>{escape(words)}</li>" for words in card.also)
    more = f'<ul class="also">{also}</ul>' if also else ""
    barred = (
        f'<p class="barred">Left out altogether: {escape("; ".join(card.barred))}.</p>' if card.barred else ""
    )
    return (
        f'<article class="{card.severity}"><div class="figures n{len(card.figures)}">{figures}</div>'
        '<div class="words">'
        f"<h3>{escape(card.name)}</h3>"
        f'<p class="say"><b>{word}.</b> {escape(card.sentence)}</p>'
        f'<p class="try">{escape(card.advice)}</p>{more}'
        f'<p class="file">{escape(card.file)}</p></div>'
        f"<details open><summary>{card.passed} colours to list, {card.stopped} left out</summary>"
        f'<div class="strips">{strips}</div>{barred}</details></article>'
    )


def _figure(figure: Figure) -> str:
    source = f"data:image/jpeg;base64,{b64encode(figure.jpeg).decode()}"
    words = escape(f"{figure.head}: {figure.caption}", quote=True)
    return (
        f'<figure class="{figure.mark}"><img src="{source}" alt="{words}" loading="lazy">'
        f"<figcaption><b>{escape(figure.head)}</b>{escape(figure.caption)}</figcaption></figure>"
    )


def _strip(strip: Strip) -> str:
    swatches = "".join(_swatch(swatch) for swatch in strip.swatches)
    name = escape(strip.blank)
    return f'<div class="strip"><span>{name}</span><span class="row">{swatches}</span></div>'


def _swatch(swatch: Swatch) -> str:
    words = escape(f"{swatch.name}: {STATES[swatch.state]}", quote=True)
    second = f";--second:{swatch.second}" if swatch.second else ""
    kind = f"{swatch.state} two" if swatch.second else swatch.state
    style = f"--body:{swatch.body}{second}"
    return f'<i class="swatch {kind}" style="{style}" title="{words}" role="img" aria-label="{words}"></i>'


def _ready(card: Card) -> str:
    picture = _figure(card.figures[0]) if card.figures else ""
    name = escape(card.name)
    return f'<article>{picture}<h3>{name}</h3><p class="file">{card.passed} colours to list</p></article>'
