"""What is a field of the job called where a person reads it?"""

import re

__all__ = ["label_of"]

ONE = {"bowls": "bowl", "runs": "run", "holes": "hole", "readings": "reading", "offcuts": "offcut"}
_NUMBERED = re.compile(r"(\w+)\[(\d+)\]")


def label_of(place: str, unit: str = "", *, part: bool = False) -> str:
    """What stands before a control: the field, after the group that it belongs to where several are alike; with `part`, always after its part.

    Examples
    --------
    >>> label_of("sink.bowls[2].depth", "in")
    'Bowl 2: depth [in]'
    >>> label_of("plumbing.stub_height", part=True)
    'Plumbing: stub height'
    """
    *way, last = place.split(".")
    way = way if part or (way and "[" in way[0]) else way[1:]  # the part itself stands above the controls already
    context = " ".join(_NUMBERED.sub(lambda group: f"{ONE.get(group[1], group[1])} {group[2]}", word).replace("_", " ") for word in way)
    name = last.replace("_", " ")
    words = f"{context}: {name}" if context else name
    return f"{words[0].upper()}{words[1:]} [{unit}]" if unit else f"{words[0].upper()}{words[1:]}"
