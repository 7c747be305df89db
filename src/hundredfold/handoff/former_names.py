"""A channel file's former names: settings and fields that are called otherwise now."""

import re

SETTINGS = {"bullets": "points", "bullet_chars": "point_chars", "description_chars": "story_chars"}
_SETTING = re.compile(rf"(?m)^([ \t]*)({'|'.join(SETTINGS)})(?=[ \t]*=)")
_IN_LINE = re.compile(rf"(?<=[{{,])([ \t]*)({'|'.join(SETTINGS)})(?=[ \t]*=)")
_FIELD = re.compile(r"(?<!\{)\{[ \t]*(?:(description)|(search terms)|bullet[ \t]+(\d+))[ \t]*\}(?!\})")


def with_new_names(text: str) -> tuple[str, int]:
    """The file's text with former names replaced and all else as it was; how many there were."""
    count = 0

    def setting(found: re.Match[str]) -> str:
        nonlocal count
        count += 1
        return f"{found[1]}{SETTINGS[found[2]]}"

    def field(found: re.Match[str]) -> str:
        nonlocal count
        count += 1
        return "{story}" if found[1] else "{search words}" if found[2] else f"{{point {found[3]}}}"

    return _FIELD.sub(field, _IN_LINE.sub(setting, _SETTING.sub(setting, text))), count
