"""The kinds of value that rows of the open format hold, with their ranges, and what all rows share."""

from typing import Annotated

from msgspec import Meta, Struct

Key = Annotated[str, Meta(min_length=1, max_length=200)]
Name = Annotated[str, Meta(min_length=1, max_length=200)]
Words = Annotated[str, Meta(max_length=10_000)]
Grams = Annotated[float, Meta(ge=0.0, le=1e9)]
Millilitres = Annotated[float, Meta(ge=0.0, le=1e9)]
Percent = Annotated[float, Meta(ge=0.0, le=100.0)]
Acidity = Annotated[float, Meta(ge=-2.0, le=16.0)]
Share = Annotated[float, Meta(ge=0.0, le=1.0)]
IceCelsius = Annotated[float, Meta(ge=-100.0, le=0.0)]
Kilopascal = Annotated[float, Meta(ge=0.0, le=5_000.0)]
Brix = Annotated[float, Meta(ge=-100.0, le=200.0)]
Celsius = Annotated[float, Meta(ge=-273.15, le=1000.0)]
Seconds = Annotated[float, Meta(ge=0.0, le=1e9)]
PercentMoreOrLess = Annotated[float, Meta(ge=-100.0, le=1000.0)]
TimeOfDay = Annotated[str, Meta(pattern="^([01][0-9]|2[0-3]):[0-5][0-9]$")]
Positive = Annotated[float, Meta(ge=0.0, le=1e9)]
ReadingValue = Annotated[float, Meta(ge=-1e6, le=1e6)]
Days = Annotated[int, Meta(ge=0, le=100_000)]
HouseScale = Annotated[float, Meta(ge=0.0, le=10.0)]
StepNumber = Annotated[int, Meta(ge=1, le=100_000)]


class FileRow(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What all rows have: fields that nobody knows are refused, and those at their usual value need not be written."""
