"""The money of a manifest, read strictly: targets, fees, rates and costs a pack's prices follow from."""

from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

Amount = Annotated[str, Field(pattern=r"^-?[0-9]{1,12}(\.[0-9]{1,40})?$")]
OptionalAmount = Annotated[str, Field(pattern=r"^([0-9]{1,12}(\.[0-9]{1,40})?)?$")]


def _above_nothing(text: str) -> str:
    if not any(digit in "123456789" for digit in text):
        raise ValueError("nothing, where something is divided by it")
    return text


# Shares and rates are divided by one more than them, or by themselves: none is below nothing.
Share = Annotated[str, Field(pattern=r"^[0-9]{1,12}(\.[0-9]{1,40})?$")]
Positive = Annotated[Share, AfterValidator(_above_nothing)]
UnderOne = Annotated[str, Field(pattern=r"^0(\.[0-9]{1,40})?$")]
Whole = Annotated[int, Field(ge=0, lt=1 << 53)]  # what every reader of JSON holds exactly


class Strict(BaseModel):
    """Nothing is missing, nothing is added, nothing is of another kind."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class TargetEntry(Strict):
    """The profit wanted: an amount, and a share of what is paid without tax."""

    amount: Amount
    share: Share


class WantedEntry(TargetEntry):
    """Another target, for one size of a design on a blank."""

    design: str
    blank: str
    size: str


class TierEntry(Strict):
    """A step of the fee; without ``upto`` it has no end."""

    upto: OptionalAmount
    rate: Share


class FeesEntry(Strict):
    """The channel's fee."""

    tiers: Annotated[list[TierEntry], Field(min_length=1)]
    tiers_by: Literal["part", "whole"]
    minimum: Amount
    fixed: Amount
    on_postage: bool
    on_tax: bool
    tax: Share


class PaymentEntry(Strict):
    """The payment fee."""

    rate: Share
    fixed: Amount
    on_tax: bool


class ListingEntry(Strict):
    """What being listed costs, and how many sales share it."""

    fee: Amount
    renewal: Amount
    renewals: Whole
    expected_sales: Positive


class AdvertsEntry(Strict):
    """What adverts cost a sale."""

    amount: Amount
    share: Share
    on_sales: Share


class ReturnEntry(Strict):
    """One cause of returns."""

    sales: Share
    refund: Share
    fee_back: Share
    recovered: Share
    postage_back: Amount
    replaced: bool


class DestinationEntry(Strict):
    """Where goods go, with its tax and the postage charged."""

    code: str
    tax: Share
    tax_included: bool
    collected_by: Literal["seller", "channel", "buyer"]
    charged: Amount


class ChargesEntry(Strict):
    """All that a sale pays for besides the channel's fee."""

    payment: PaymentEntry
    listing: ListingEntry
    adverts: AdvertsEntry
    returns: list[ReturnEntry]
    destinations: Annotated[list[DestinationEntry], Field(min_length=1)]


class RateEntry(Strict):
    """What one unit of a currency buys of another."""

    rate: Positive
    spread: UnderOne
    day: Annotated[str, Field(pattern=r"^([0-9]{4}-[0-9]{2}-[0-9]{2})?$")]


class CostEntry(Strict):
    """What a variant costs, in its blank's currency; ``smaller`` holds the next smaller size, if any."""

    blank: str
    colour: str
    size: str
    currency: str
    base: Amount
    postage: Amount
    postage_to: dict[str, Amount]
    sides: Amount
    packaging: Amount
    tax: Share
    tax_included: bool
    smaller: Annotated[list[str], Field(max_length=1)]
