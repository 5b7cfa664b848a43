"""How numbers, days and chances are written for a person, in one place."""

from __future__ import annotations

from datetime import date
from typing import Final

MINUS: Final = "−"
MONTHS: Final = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def signed(value: float, *, decimals: int = 2) -> str:
    """Return a power or refraction with its sign and a true minus.

    Examples
    --------
    >>> signed(20.5), signed(-0.25), signed(-0.001)
    ('+20.50', '−0.25', '+0.00')
    """
    rounded = round(value, decimals) + 0.0
    return f"{rounded:+.{decimals}f}".replace("-", MINUS)


def dioptres(value: float) -> str:
    """Return a power or refraction with sign and unit.

    Examples
    --------
    >>> dioptres(-0.25)
    '−0.25 D'
    """
    return f"{signed(value)} D"


def span(low: float, high: float) -> str:
    """Return a band of refractions.

    Examples
    --------
    >>> span(-0.97, 0.55)
    '−0.97 to +0.55'
    """
    return f"{signed(low)} to {signed(high)}"


def of_100(chance: float) -> str:
    """Return a chance as people of a hundred.

    Examples
    --------
    >>> of_100(0.907), of_100(0.004), of_100(0.999), of_100(0.0)
    ('91 of 100', 'fewer than 1 of 100', 'more than 99 of 100', 'fewer than 1 of 100')
    """
    if chance < 0.01:
        return "fewer than 1 of 100"
    if chance > 0.99:
        return "more than 99 of 100"
    return f"{round(100 * chance)} of 100"


def of_people(chance: float, of: int) -> str:
    """Return a chance as people of a hundred or of a thousand.

    Examples
    --------
    >>> of_people(0.0712, 100), of_people(0.0035, 1000), of_people(0.0002, 1000)
    ('7 of 100', '4 of 1,000', 'fewer than 1 of 1,000')
    """
    if of == 100:
        return of_100(chance)
    if chance < 0.001:
        return "fewer than 1 of 1,000"
    if chance > 0.999:
        return "more than 999 of 1,000"
    return f"{round(1000 * chance)} of 1,000"


def between_people(low: float, high: float, of: int) -> str:
    """Return a range of chances as people; one number where both ends round to it.

    Examples
    --------
    >>> between_people(0.031, 0.152, 100), between_people(0.0002, 0.004, 1000)
    ('3 to 15 of 100', 'fewer than 1 to 4 of 1,000')
    >>> between_people(0.071, 0.074, 100), between_people(0.001, 0.002, 100)
    ('7 of 100', 'fewer than 1 of 100')
    """
    ends = [of_people(end, of).removesuffix(f" of {of:,}") for end in (low, high)]
    said = ends[0] if ends[0] == ends[1] else " to ".join(ends)
    return f"{said} of {of:,}"


def day(value: date) -> str:
    """Return a day in words.

    Examples
    --------
    >>> day(date(1946, 5, 2))
    '2 May 1946'
    """
    return f"{value.day} {MONTHS[value.month - 1]} {value.year}"


def age_on(born: date, on: date) -> int:
    """Return the age in whole years.

    Examples
    --------
    >>> age_on(date(1946, 5, 2), date(2026, 5, 1))
    79
    """
    return on.year - born.year - ((on.month, on.day) < (born.month, born.day))


def kept(where: str) -> str:
    """Return where a lens is kept, as a person says it.

    Examples
    --------
    >>> kept("in_room")
    'in the room, sealed'
    """
    return {"in_room": "in the room, sealed", "to_fetch": "to fetch", "to_order": "to order"}[where]


def clock_hour(hour: float) -> str:
    """Return a clock hour as it is read: full hours plain, the rest with minutes, 12 and never 0.

    Examples
    --------
    >>> clock_hour(12.0), clock_hour(4.5), clock_hour(0.75), clock_hour(11.999)
    ('12', '4:30', '12:45', '12')
    """
    minutes = round(hour * 60.0) % 720
    whole, rest = divmod(minutes, 60)
    return f"{whole or 12}:{rest:02d}" if rest else f"{whole or 12}"


def underscored(name: str) -> str:
    """Return a name of the files as words.

    Examples
    --------
    >>> underscored("slit_lamp")
    'slit lamp'
    """
    return name.replace("_", " ")


def sentence_case(text: str) -> str:
    """Return a text with its first letter large and the rest as it stands.

    Examples
    --------
    >>> sentence_case("waits for Haigis")
    'Waits for Haigis'
    """
    return text[:1].upper() + text[1:]


def within(label: str) -> str:
    """Return a label as it stands within a sentence; capitals that belong to it stay.

    Examples
    --------
    >>> within("Macular oedema"), within("OCT"), within("K, flat")
    ('macular oedema', 'OCT', 'K, flat')
    """
    return label if label[1:2].isupper() or label[1:2] == "," else label[:1].lower() + label[1:]
