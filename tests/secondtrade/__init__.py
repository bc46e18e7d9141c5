"""A club of another trade: the workshop of allotment gardeners, with the four-stroke engine of a rotary tiller.

Nothing here is of a kart engine: oil that is drained and filled, valves set by shims, a float carburettor with jets.
All names and figures are invented; the figures are of the size that such engines have (common practice, no source).
"""

from pathlib import Path

FILES = Path(__file__).parent / "files"
