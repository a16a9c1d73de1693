"""What is a field of the job, or a part of the kitchen, called where a person reads it?"""

import re

__all__ = ["label_of", "part_name"]

ONE = {"bowls": "bowl", "runs": "run", "holes": "hole", "readings": "reading", "offcuts": "offcut"}
_NAMES = {"counter": "countertop", "splash": "backsplash"}
_FIELDS = {
    "stops_to_renew": "shutoff valves to replace",
    "stop_joint": "joint of the shutoff valves",
    "stop_age": "age of the shutoff valves",
    "stop_height": "height of the shutoff valves",
    "stops_apart": "distance between the shutoff valves",
}
_NUMBERED = re.compile(r"(\w+)\[(\d+)\]")


def part_name(name: str) -> str:
    """The words for an id of a part, a body or a field: "splash_height" is the backsplash height."""
    return _FIELDS.get(name) or " ".join(_NAMES.get(word, word) for word in name.replace("_", " ").split(" "))


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
    context = " ".join(part_name(_NUMBERED.sub(lambda group: f"{ONE.get(group[1], group[1])} {group[2]}", word)) for word in way)
    name = part_name(last)
    words = f"{context}: {name}" if context else name
    return f"{words[0].upper()}{words[1:]} [{unit}]" if unit else f"{words[0].upper()}{words[1:]}"
