"""What an order takes from the record: weight of the fish, volume and flow of their water."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from core.catalogue import load
from core.dosing.flowing import minutes_of_oxygen, oxygen_fall_mg_l
from core.dosing.medicines import Medicine
from core.dosing.quantities import minutes
from core.dosing.quantity import Quantity
from core.numbers import figures, plain
from core.practice import feeding_view, redose, water
from core.practice.dose_parts import Ask
from core.practice.medicines import Place, typed
from core.practice.stock import fish_here
from core.records import read
from core.records.engine import query
from core.records.tables import FishGroup, Handling, Reading, System, Weighing
from core.water.flow import oxygen_used_g_h

OF_THE_WATER = frozenset({"plants", "biofilter", "invertebrates", "flow", "oxygen", "switch off"})
"""What a bath of its own does not reach."""
OWN_BATHS = ("sedation bath", "anaesthetic bath", "maintenance bath", "euthanasia bath", "egg bath")


def own_bath(row: Medicine, handling: str | None) -> bool:
    """Return whether a medicine goes into a bath of its own and not into the fishes' water."""
    return handling is not None or bool(set(OWN_BATHS) & set(row.routes))


def filled(
    visit_id: str,
    where: Place,
    row: Medicine,
    ask: Ask,
    group: str | None,
    handling: str | None,
) -> Ask:
    """Return what a dose is worked out from, with what was not typed taken from the record."""
    if row.in_water:
        system = where.system
        if own_bath(row, handling):
            return ask
        # A volume that is typed is no better known than the water it is of.
        ask = replace(ask, error_percent=ask.error_percent or system.volume_error_percent)
        if ask.volume or system.volume_l is None:
            return ask
        return replace(ask, volume=f"{plain(system.volume_l)} L")
    if ask.weight:
        return ask
    grams = weight_g(visit_id, where.system, ask.route, group, handling)
    return replace(ask, weight=f"{plain(grams)} g") if grams else ask


def approval(where: Place, row: Medicine) -> tuple[str, ...]:
    """Return that a medicine is approved for food fish; what else it is says its own line."""
    if not (where.system.food_fish and row.us_food_fish == "approved"):
        return ()
    if row.us_food_fish_note:
        return ()  # the note says it, and for which
    stands = row.food_fish_ground.removesuffix(".")
    return (f"Food fish: {row.name} is {stands} ({row.known.get('us_food_fish', 'unknown')}).",)


def after_change(
    where: Place, row: Medicine, ask: Ask, handling: str | None, amount: Quantity | None
) -> tuple[str, ...]:
    """Return what goes back into a lasting bath after a change of water; empty for the rest."""
    if amount is None or where.system.flow == "flowing" or own_bath(row, handling):
        return ()
    return redose.note(row, ask.route, amount, ask.steps)


def weight_g(
    visit_id: str, system: System, route: str, group: str | None, handling: str | None
) -> float | None:
    """Return the weight that a dose is reckoned for: one fish to inject, all of them to feed."""
    if handling is not None:
        fish = read.one(Handling, handling)
        return fish.weight_g / fish.count if fish.weight_g else None
    if route.startswith("injection"):
        return _each_g(visit_id, group) if group else None
    if group is None:
        biomass = feeding_view.view(visit_id, system.id).worked.biomass
        return biomass.likely_g if biomass and biomass.likely_g > 0 else None
    each = _each_g(visit_id, group)
    alive = next((h.alive for h in fish_here(system.id) if h.group.id == group), None)
    return each * alive if each and alive else None


_LAST = """
SELECT w."weight_g" FROM "weighing" w JOIN "visit" v ON v."id" = w."visit"
WHERE w."group" = ? AND w."struck" IS NULL AND v."day" <=
  (SELECT n."day" FROM "visit" n WHERE n."id" = ?)
ORDER BY v."day" DESC, w."id" DESC LIMIT 1
"""


def _each_g(visit_id: str, group: str) -> float | None:
    """Return the weight of one fish of a group: in hand today, else as last weighed."""
    if read.one(FishGroup, group).single:
        for fish in read.find(Handling, visit=visit_id, group=group):
            if fish.weight_g:
                return fish.weight_g / fish.count
    return last_g(visit_id, group)


def last_g(visit_id: str, group: str) -> float | None:
    """Return the weight of one fish of a group as it was last weighed."""
    rows = read.find(Weighing, visit=visit_id, group=group)
    known = [r for r in rows if r.count]
    if known:
        whole = sum((r.count or 0) * r.weight_g for r in known)
        return whole / sum(r.count or 0 for r in known)
    found = query(_LAST, (group, visit_id))
    return float(found[0][0]) if found else None


def alkalinity_mg_l(visit_id: str, system: System) -> float | None:
    """Return the alkalinity that was measured where a water is judged."""
    seen = water.view(visit_id, system.id)
    return water.as_readings(seen.readings(seen.judged_place)).alkalinity_mg_l


def temperature_c(visit_id: str, system: System) -> float | None:
    """Return the temperature that was measured where a water is judged."""
    seen = water.view(visit_id, system.id)
    return water.as_readings(seen.readings(seen.judged_place)).temperature_c


def standing_bath(
    visit_id: str, where: Place, row: Medicine, ask: Ask, handling: str | None
) -> tuple[str, str]:
    """Return why a bath in flowing water may not stand: what refuses it, or what is not known.

    Both are empty when the water does not flow, the bath is one of its own, or it is reckoned
    for running water.
    """
    system = where.system
    if system.flow != "flowing" or not row.in_water or ask.flow or own_bath(row, handling):
        return "", ""
    used = _used_g_h(visit_id, system)
    seen = water.view(visit_id, system.id)
    now = water.as_readings(seen.readings(seen.judged_place)).oxygen_mg_l
    limit = water.system_kinds()[system.kind].limits.get("oxygen")
    if used is None or now is None or limit is None or limit.low is None or not system.volume_l:
        return "", (
            "The water would stand, and how fast the oxygen then falls is not known: measure "
            "oxygen at inlet and outlet, and the flow."
        )
    if not ask.minutes:
        return "", "The water would stand, and how long is not said: type for example 60 min."
    lasting = minutes(*typed(ask.minutes, "60 min")).m_as("min")
    fall = oxygen_fall_mg_l(used, system.volume_l, lasting)
    if now - fall >= limit.low:
        return "", ""
    return (
        f"Standing water is refused: in {plain(lasting)} min the oxygen would fall by "
        f"{figures(fall, 2)} mg/L, from {figures(now, 2)} to under the limit of "
        f"{plain(limit.low)} mg/L. Reckon it for running water."
    ), ""


def air_lasts(visit_id: str, where: Place, row: Medicine, handling: str | None) -> tuple[str, ...]:
    """Return for how long the oxygen of a bath lasts when its water stands without air.

    Empty when there are no fish, or it is no bath in their water.
    """
    system = where.system
    if not row.bathes or own_bath(row, handling) or not where.fish:
        return ()
    use = load.table("bath")["oxygen_use"]
    now = water.as_readings(_judged_rows(visit_id, system)).oxygen_mg_l
    grams = weight_g(visit_id, system, row.routes[0], None, None)
    used = _used_g_h(visit_id, system)
    if used is None and grams:
        used = use["mg_kg_h"] * grams / 1e6
    if now is None or not used or not system.volume_l:
        return (
            "If air and flow stop, how long the oxygen lasts is not known: measure oxygen, and "
            "weigh or count the fish. Keep the air on.",
        )
    lasts = minutes_of_oxygen(now, use["lowest_mg_l"], used, system.volume_l)
    how = "as measured" if _used_g_h(visit_id, system) else f"{use['how']}: {use['note']}"
    return (
        f"If air and flow stop, the oxygen falls from {figures(now, 2)} to "
        f"{plain(use['lowest_mg_l'])} mg/L in about {figures(lasts, 2)} min ({how}). "
        "Keep the air on.",
    )


def _judged_rows(visit_id: str, system: System) -> Mapping[str, Reading]:
    seen = water.view(visit_id, system.id)
    return seen.readings(seen.judged_place)


def _used_g_h(visit_id: str, system: System) -> float | None:
    seen = water.view(visit_id, system.id)
    inlet, outlet = (seen.readings(p).get("oxygen") for p in ("inlet", "outlet"))
    if inlet is None or outlet is None or not system.flow_l_s or inlet.value <= outlet.value:
        return None
    return oxygen_used_g_h(system.flow_l_s, inlet.value, outlet.value)
