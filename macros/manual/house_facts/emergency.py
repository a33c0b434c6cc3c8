"""What a person needs at once: whom to ring, what to switch or shut, where the water for eyes is."""

from __future__ import annotations

from macros.house import House

NOT_GIVEN = "NOT GIVEN: ask the responsible person"


def emergency_line(house: House) -> str:
    """The line under the head of every page."""
    emergency, places = house.house.emergency, house.house.places
    pieces = [f"Emergency {emergency.ambulance_fire}", f"poison line {emergency.poison_line}"]
    if places.eyewash:
        pieces.append(f"eyes: {places.eyewash}")
    return " · ".join(pieces)


def phones(house: House) -> tuple[str, ...]:
    """The numbers of the house as they are written, the longest first: one may begin with another."""
    emergency = house.house.emergency
    numbers = {str(one) for one in (emergency.ambulance_fire, emergency.poison_line, emergency.owner_phone)}
    return tuple(sorted(numbers, key=lambda one: (-len(one), one)))


def urgent_facts(house: House) -> tuple[tuple[str, str], ...]:
    """Numbers and places in large type on an emergency page. What the house does not say is said to be missing."""
    emergency, places = house.house.emergency, house.house.places
    return (
        ("Ambulance, fire", str(emergency.ambulance_fire)),
        ("Poison line", str(emergency.poison_line)),
        ("Owner", str(emergency.owner_phone)),
        ("Breakers", places.breaker_panel or NOT_GIVEN),
        ("Water shut-off", places.water_shutoff or NOT_GIVEN),
        ("Water for eyes", places.eyewash or NOT_GIVEN),
        ("Spill kit", places.spill_kit or NOT_GIVEN),
    )
