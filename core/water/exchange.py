"""Water changes: what is left after them, and how much to change."""

from __future__ import annotations

from math import exp, log

from core.errors import BadInput
from core.sourced import sourced


@sourced(
    equation="C = incoming + (start - incoming) (1 - fraction)^times",
    source="ARITHMETIC",
    valid={"fraction": (0, 1), "times": (0, 10000)},
    gives="",
)
def concentration_after(start: float, incoming: float, fraction: float, times: float = 1) -> float:
    """Return what stands in the water after changing a share of it so many times.

    Parameters
    ----------
    start : float
        What stands in it now.
    incoming : float
        What stands in the new water, in the same unit.
    fraction : float
        Share changed each time, 0 to 1.
    times : float
        How many times.

    Raises
    ------
    OutOfRange
        For a share outside 0 to 1.

    Examples
    --------
    >>> concentration_after(50.0, 10.0, 0.2)
    42.0
    """
    return float(incoming + (start - incoming) * (1 - fraction) ** times)


@sourced(
    equation="fraction = (start - target) / (start - incoming)",
    source="ARITHMETIC",
    gives="",
)
def fraction_to_reach(start: float, incoming: float, target: float) -> float:
    """Return the share to change at once to reach a target; 0 when it is there already.

    Parameters
    ----------
    start : float
        What stands in the water now.
    incoming : float
        What stands in the new water, in the same unit.
    target : float
        What should stand in it.

    Raises
    ------
    BadInput
        When no change with this new water reaches the target.

    Examples
    --------
    >>> fraction_to_reach(50.0, 10.0, 42.0)
    0.2
    """
    _reachable(start, incoming, target)
    return 0.0 if start == target else (start - target) / (start - incoming)


@sourced(
    equation="times = ln((target - incoming) / (start - incoming)) / ln(1 - fraction)",
    source="ARITHMETIC",
    valid={"fraction": (1e-6, 0.999999)},
    gives="",
)
def changes_to_reach(start: float, incoming: float, fraction: float, target: float) -> float:
    """Return how many changes of one size reach a target (not rounded).

    Parameters
    ----------
    start : float
        What stands in the water now.
    incoming : float
        What stands in the new water, in the same unit.
    fraction : float
        Share changed each time, over 0 and under 1.
    target : float
        What should stand in it.

    Raises
    ------
    BadInput
        When no number of changes with this new water reaches the target.

    Examples
    --------
    >>> round(changes_to_reach(100.0, 0.0, 0.1, 20.0), 2)
    15.28
    """
    _reachable(start, incoming, target)
    if start == target:
        return 0.0
    if target == incoming:
        raise BadInput("Changes come ever nearer to the new water and never quite reach it.")
    return log((target - incoming) / (start - incoming)) / log(1 - fraction)


def _reachable(start: float, incoming: float, target: float) -> None:
    low, high = sorted((start, incoming))
    if not low <= target <= high:
        raise BadInput(
            "No change of water reaches this.",
            "What is wanted must lie between what stands in the water and in the new water.",
        )


@sourced(
    equation="C = incoming + (start - incoming) exp(-flow x time / volume)",
    source="ARITHMETIC",
    valid={"flow_l_min": (0, 1e7), "minutes": (0, 1e7), "volume_l": (1e-3, 1e9)},
    gives="",
)
def concentration_flowing(
    start: float, incoming: float, flow_l_min: float, minutes: float, volume_l: float
) -> float:
    """Return what stands in a mixed water after new water has flowed through it.

    Parameters
    ----------
    start : float
        What stands in it now.
    incoming : float
        What stands in the water flowing in, in the same unit.
    flow_l_min : float
        Flow in L/min.
    minutes : float
        For how long, in min.
    volume_l : float
        Volume of water in L.

    Raises
    ------
    OutOfRange
        For a negative flow or time, or no volume.

    Examples
    --------
    >>> round(concentration_flowing(10.0, 0.0, 10.0, 100.0, 1000.0), 3)
    3.679
    """
    return incoming + (start - incoming) * exp(-flow_l_min * minutes / volume_l)
