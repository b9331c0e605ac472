"""The kinds of quantity in dosing: for each, what it weighs against what, and its spellings."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from core.dosing.quantity import Quantity


def _mass(what: str) -> dict[str, str]:
    return {
        "mg": f"milligram_{what}",
        "g": f"gram_{what}",
        "kg": f"kilogram_{what}",
        "ug": f"microgram_{what}",
        "lb": f"pound_{what}",
    }


class Dose(Quantity):
    """Active substance for a mass of fish, at one time."""

    word = "dose"
    units: ClassVar[Mapping[str, str]] = {
        "mg/kg": "milligram_active/kilogram_body",
        "ug/kg": "microgram_active/kilogram_body",
        "g/100 lb": "gram_active/hundredweight_body",
    }
    most: ClassVar[float] = 10_000.0


class DailyDose(Quantity):
    """Active substance for a mass of fish in a day, as doses in feed are published."""

    word = "daily dose"
    units: ClassVar[Mapping[str, str]] = {
        f"{name}/day": f"{unit}/day" for name, unit in Dose.units.items()
    }
    most: ClassVar[float] = 10_000.0


class UnitDose(Quantity):
    """International units for a mass of fish."""

    word = "dose in units"
    units: ClassVar[Mapping[str, str]] = {
        "IU/kg": "unit_active/kilogram_body",
        "IU/lb": "unit_active/pound_body",
    }


class VolumeDose(Quantity):
    """Product by volume for a mass of fish."""

    word = "dose by volume"
    units: ClassVar[Mapping[str, str]] = {"mL/kg": "millilitre_product/kilogram_body"}
    most: ClassVar[float] = 50.0


class Strength(Quantity):
    """Active substance in a volume of product (weight by volume)."""

    word = "strength"
    units: ClassVar[Mapping[str, str]] = {
        "mg/mL": "milligram_active/millilitre_product",
        "g/L": "gram_active/litre_product",
        "ug/mL": "microgram_active/millilitre_product",
        "% w/v": "centigram_active/millilitre_product",
        "g/gal": "gram_active/gallon_product",
    }
    most: ClassVar[float] = 3_000.0


class UnitStrength(Quantity):
    """International units in a volume of product."""

    word = "strength in units"
    units: ClassVar[Mapping[str, str]] = {"IU/mL": "unit_active/millilitre_product"}


class Purity(Quantity):
    """Active substance in a mass of product (weight by weight); pure is 100 %."""

    word = "purity"
    units: ClassVar[Mapping[str, str]] = {
        "%": "centigram_active/gram_product",
        "% w/w": "centigram_active/gram_product",
        "mg/g": "milligram_active/gram_product",
        "g/kg": "gram_active/kilogram_product",
    }
    most: ClassVar[float] = 100.0


class Density(Quantity):
    """Mass of a product in its volume."""

    word = "density"
    units: ClassVar[Mapping[str, str]] = {
        "g/mL": "gram_product/millilitre_product",
        "kg/L": "kilogram_product/litre_product",
    }
    most: ClassVar[float] = 3.0


class Concentration(Quantity):
    """Active substance in a volume of water."""

    word = "concentration"
    units: ClassVar[Mapping[str, str]] = {
        "mg/L": "milligram_active/litre_water",
        "g/L": "gram_active/litre_water",
        "ug/L": "microgram_active/litre_water",
    }
    most: ClassVar[float] = 300_000.0


class VolumeConcentration(Quantity):
    """Product by volume in a volume of water: never the same as mg/L."""

    word = "concentration by volume"
    units: ClassVar[Mapping[str, str]] = {"uL/L": "microlitre_product/litre_water"}
    most: ClassVar[float] = 100_000.0


class Body(Quantity):
    """Mass of the fish."""

    word = "body weight"
    units: ClassVar[Mapping[str, str]] = {
        name: _mass("body")[name] for name in ("kg", "g", "lb", "mg")
    }


class Water(Quantity):
    """Volume of water."""

    word = "water volume"
    units: ClassVar[Mapping[str, str]] = {
        "L": "litre_water",
        "mL": "millilitre_water",
        "m3": "kilolitre_water",
        "gal": "gallon_water",
        "ft3": "cubic_foot_water",
        "acre-ft": "acre_foot_water",
    }


class Flow(Quantity):
    """Water passing in a time."""

    word = "water flow"
    units: ClassVar[Mapping[str, str]] = {
        "L/min": "litre_water/minute",
        "L/s": "litre_water/second",
        "L/h": "litre_water/hour",
        "m3/h": "kilolitre_water/hour",
        "gal/min": "gallon_water/minute",
    }


class Minutes(Quantity):
    """A time."""

    word = "time"
    units: ClassVar[Mapping[str, str]] = {"min": "minute", "h": "hour", "s": "second"}


class Ration(Quantity):
    """Food for a mass of fish in a day."""

    word = "ration"
    units: ClassVar[Mapping[str, str]] = {
        "%": "centigram_food/gram_body/day",
        "g/kg": "gram_food/kilogram_body/day",
    }
    most: ClassVar[float] = 100.0


class FeedLevel(Quantity):
    """Active substance in a mass of food."""

    word = "level in food"
    units: ClassVar[Mapping[str, str]] = {
        "mg/kg": "milligram_active/kilogram_food",
        "g/kg": "gram_active/kilogram_food",
        "g/lb": "gram_active/pound_food",
        "g/100 lb": "gram_active/hundredweight_food",
        "g/ton": "gram_active/short_ton_food",
    }
    most: ClassVar[float] = 1_000_000.0


class Food(Quantity):
    """Mass of food."""

    word = "mass of food"
    units: ClassVar[Mapping[str, str]] = {
        name: _mass("food")[name] for name in ("g", "kg", "lb", "mg")
    }


class ActiveMass(Quantity):
    """Mass of active substance."""

    word = "mass of active substance"
    units: ClassVar[Mapping[str, str]] = _mass("active")


class ActiveUnits(Quantity):
    """International units of active substance."""

    word = "number of units"
    units: ClassVar[Mapping[str, str]] = {"IU": "unit_active"}


class ProductMass(Quantity):
    """Mass of a product as weighed out."""

    word = "mass of product"
    units: ClassVar[Mapping[str, str]] = _mass("product")


class ProductVolume(Quantity):
    """Volume of a product as drawn up or poured."""

    word = "volume of product"
    units: ClassVar[Mapping[str, str]] = {
        "mL": "millilitre_product",
        "L": "litre_product",
        "uL": "microlitre_product",
        "gal": "gallon_product",
    }
