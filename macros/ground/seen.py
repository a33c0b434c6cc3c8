"""What an eye can see of a text: characters nobody sees, texts that show nothing, and words of others made fit to be shown."""

from __future__ import annotations

import re
import unicodedata

# Controls, other ends of line than \n, halves of letters, what turns the reading order of its neighbours, and what takes no room:
# after Unicode UAX 9, TR 36 and the property Default_Ignorable_Code_Point. U+200C and U+200D stay: scripts and emoji need them.
UNSEEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u00ad\u061c\u180e\u200b\u200e\u200f\u2028\u2029\u202a-\u202e\u2060-\u206f"
    "\ud800-\udfff\ufeff\ufff9-\ufffb]"
)
_FILLERS = frozenset("\u115f\u1160\u2800\u3164\uffa0")
"""Letters and symbols by their kind, which are drawn as nothing."""


def shows_nothing(text: str) -> bool:
    """Whether a text has no letter, digit, mark or symbol that is drawn: it is empty, blank or made of what nobody sees."""
    return not any(unicodedata.category(one)[0] in "LNPS" and one not in _FILLERS for one in text)


def as_seen(text: str) -> str:
    """The text as an eye compares it: texts that look alike are equal, whatever they are made of and however spaced."""
    plain = unicodedata.normalize("NFKC", text)
    drawn = "".join(one for one in plain if unicodedata.category(one) != "Cf" and one not in _FILLERS)
    return " ".join(drawn.casefold().split())


def visible(text: str, most: int = 0) -> str:
    """Words of others for a terminal, a page or paper: what nobody sees is written as <U+001B>; line ends and tabs stay.

    Parameters
    ----------
    most : characters; of a longer text the beginning and the end. 0 for all of it
    """
    if most and len(text) > most:
        text = f"{text[: most // 2]} ... {text[-most // 2 :]}"
    return UNSEEN.sub(lambda found: f"<U+{ord(found.group()):04X}>", text)


def visible_line(text: str, most: int = 0) -> str:
    """The same on one line."""
    return visible(text.replace("\n", " ").replace("\t", " "), most)
