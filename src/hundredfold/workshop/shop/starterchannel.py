"""The beginning of a channel's file that only its seller can finish: money, limits, pictures."""

from hundredfold.catalogue.settings import ShopSettings
from hundredfold.catalogue.toml_edits import toml_value


def starter_channel(code: str, settings: ShopSettings) -> str:
    """Everything a channel needs beside its table. Each line that must be checked says so."""
    return f"""# The table below was learned. Lines marked CHECK are guesses: ask the channel.

code = {toml_value(code)}
name = {toml_value(code.replace("-", " ").title())}
currency = {toml_value(settings.currency)}
language = {toml_value(settings.language)}

[cap]
counts = "rows"
daily = 50  # CHECK: how much it takes a day

[fees]
rate = "0%"  # CHECK: what it takes of a sale; prices are wrong until this is right

[limits]
title_chars = 80  # CHECK
points = 5  # CHECK
point_chars = 200  # CHECK
story_chars = 2000  # CHECK
search_bytes = 200  # CHECK

[pictures]
width_px = 1500  # CHECK
height_px = 1500  # CHECK
max_count = 5  # CHECK
"""
