"""Oil in petrol for a two-stroke engine, by volume."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from docgen.trade.errors import check_range


@dataclass(frozen=True)
class Mix:
    """Petrol with oil: litres of petrol, and parts of petrol to one of oil."""

    litres: Decimal
    ratio: Decimal

    @property
    def oil_ml(self) -> Decimal:
        r"""Oil to add, in whole millilitres: :math:`1000\,V / r`, half a millilitre upwards."""
        return (1000 * self.litres / self.ratio).quantize(Decimal(1), ROUND_HALF_UP)


def mix(litres: Decimal, ratio: Decimal) -> Mix:
    """A mix of `litres` of petrol at `ratio` parts of petrol to one of oil, both by volume.

    litres : 0.1 to 60, a can that one person carries
    ratio  : 10 to 100
    Errors: TradeError `out-of-range`.
    Source: the ratio is the engine maker's; that it counts petrol to oil by volume is common practice, no source.

    >>> mix(Decimal("5"), Decimal("25")).oil_ml
    Decimal('200')
    >>> mix(Decimal("10"), Decimal("24")).oil_ml
    Decimal('417')
    """
    check_range("petrol", float(litres), 0.1, 60, "l")
    check_range("ratio", float(ratio), 10, 100)
    return Mix(litres, ratio)
