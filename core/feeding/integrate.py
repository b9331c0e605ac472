"""A small integrator for the filter model: fourth-order Runge-Kutta that halves its own step."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from core.errors import Refusal

State = tuple[float, ...]
Rate = Callable[[float, State], State]

MOST_STEPS = 200_000
_SAFETY, _LEAST, _MOST = 0.9, 0.2, 4.0


def integrate(
    rate: Rate,
    start: float,
    end: float,
    state: State,
    tolerance: float = 1e-7,
    longest: float = 0.2,
) -> Iterator[tuple[float, State]]:
    """Give the state after each accepted step from `start` to `end`, both in the unit of `rate`.

    A step is taken whole and in two halves; their difference steers the next one, which keeps
    stiff systems stable by small steps. Sums that the rates conserve stay conserved.

    Parameters
    ----------
    rate : callable
        Change of each state per unit of time, from time and state.
    tolerance : float
        Error allowed in a step, relative and, below 1, absolute.
    longest : float
        Longest step, so that peaks are not stepped over.

    Raises
    ------
    Refusal
        When the system is too stiff for `MOST_STEPS` steps.
    """
    now, step = start, min(longest, end - start)
    for _ in range(MOST_STEPS):
        if end - now <= 1e-12 * max(1.0, abs(end)):
            return
        step = min(step, longest, end - now)
        whole = _runge_kutta(rate, now, state, step)
        half = _runge_kutta(rate, now, state, step / 2)
        twice = _runge_kutta(rate, now + step / 2, half, step / 2)
        error = max(
            abs(a - b) / (15 * tolerance * max(1.0, abs(b)))
            for a, b in zip(whole, twice, strict=True)
        )
        if error <= 1:
            now, state = now + step, twice
            yield now, state
        step *= min(_MOST, max(_LEAST, _SAFETY * max(error, 1e-12) ** -0.2))
    raise Refusal(
        "This system changes too fast for the filter model.", "Check volume and exchange."
    )


def _runge_kutta(rate: Rate, now: float, state: State, step: float) -> State:
    k1 = rate(now, state)
    k2 = rate(now + step / 2, _moved(state, k1, step / 2))
    k3 = rate(now + step / 2, _moved(state, k2, step / 2))
    k4 = rate(now + step, _moved(state, k3, step))
    return tuple(
        s + step / 6 * (a + 2 * b + 2 * c + d)
        for s, a, b, c, d in zip(state, k1, k2, k3, k4, strict=True)
    )


def _moved(state: State, by: State, step: float) -> State:
    return tuple(s + step * k for s, k in zip(state, by, strict=True))
