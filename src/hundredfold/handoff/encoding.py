"""What a table's encoding cannot say."""

from hundredfold.catalogue.sheets import Sheet, TableKind


def unsayable(sheet: Sheet, text: str) -> str:
    """The first letter the sheet's encoding lacks; "" where it holds the text."""
    if sheet.kind is not TableKind.CSV or sheet.encoding.startswith("utf") or text.isascii():
        return ""
    try:
        text.encode(sheet.encoding)
    except UnicodeEncodeError as error:
        return text[error.start]
    return ""
