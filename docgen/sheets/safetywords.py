"""The words of the safety sheet, with what each hazard asks of its reader."""

from __future__ import annotations

from dataclasses import dataclass, field

from docgen.job.words import table
from docgen.sheets.pagewords import PageWords


@dataclass(frozen=True)
class SafetyWords(PageWords):
    """``keep`` says what to do about a hazard, in our own words, after the precautions of the same tables of CLP."""

    safety_sheet: str = "Safety sheet"
    safety_title: str = "What is used in this workshop"
    safety_first: str = (
        "The safety data sheet and the label of the product in hand come first, then local rules. Where they differ "
        "from this sheet, this sheet is wrong: have it mended."
    )
    safety_basis: str = (
        "Usual classification of such a product, as the club wrote it down. Standard words and signal words: "
        "Regulation (EC) No 1272/2008 (CLP), from the table named, or from memory where it says so."
    )
    safety_symbols: str = "The symbols are this workshop’s own and are not those of the label."
    safety_emergency: str = "Emergency number"
    safety_poison: str = "Poison centre"
    safety_extinguisher: str = "Extinguisher hangs"
    safety_eyewash: str = "Eye wash stands"
    safety_none: str = "No hazard statement is on record here; the label may say more."
    safety_waste: str = "Waste"
    safety_product: str = "Product"
    safety_dated: str = "Data sheet dated"
    safety_hand: str = "Data sheet kept at"
    safety_used: str = "Also named in the register, with nothing on record: {names}."
    from_memory: str = "from memory"
    own_words: str = "the club’s words"
    hazard_signs: dict[str, str] = field(
        default_factory=lambda: table(
            flame="Burns",
            can="Under pressure",
            mouth="Swallowed",
            skin="Skin",
            eye="Eyes",
            breath="Breathed in",
            long="Harms for life",
            water="Harms waters",
        )
    )
    keep: dict[str, str] = field(
        default_factory=lambda: table(
            flame="No flame, spark, heater or hot part near it, and nobody smokes. Can shut, wet cloths under a lid. "
            "On fire: everybody out, call the fire brigade. Never water on burning fuel.",
            can="Out of the sun and below 50 °C. Do not pierce or burn it, not even when it is empty.",
            mouth="Never siphon with the mouth. Swallowed: make nobody vomit; call the poison centre at once.",
            skin="Gloves that stand up to it. Wash splashes off at once, change soaked clothes. A rash: to a doctor.",
            eye="Eye protection. A splash: rinse with water for many minutes, lenses out, then a doctor.",
            breath="Outdoors or in moving air only. Dizzy: out into fresh air, and tell somebody.",
            long="As little as will do, gloves on, out of the breath. Never for cleaning parts or hands.",
            water="Nothing of it into drain, soil or water. Collect it, rags and all.",
        )
    )
