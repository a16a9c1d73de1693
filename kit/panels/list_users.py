"""Which of the person's own jobs are to use the new lists? They are marked in a list, which is shown where there are any."""

from collections.abc import Mapping
from typing import Any

import ipywidgets as widgets

from kit.panels.job_files import FROM_EXAMPLES
from kit.panels.screen import lay_box, lay_words

__all__ = ["ListUsers"]


class ListUsers:
    """The choice of jobs, in its box."""

    def __init__(self) -> None:
        self._jobs = widgets.SelectMultiple(description="Jobs that are to use them", rows=6, layout={"width": "560px"}, style={"description_width": "200px"})
        self.box: Any = lay_box("sk-users", lay_words("h2", "Who uses the new lists"), self._jobs)

    @property
    def marked(self) -> list[str]:
        """The names of the jobs that are marked."""
        return list(self._jobs.value)

    def follow(self, titles: Mapping[str, str]) -> None:
        """The jobs that there are now, each by its name with what people call it; marks stay, and examples are not among them."""
        marked, own = self.marked, {name: title for name, title in titles.items() if not name.startswith(FROM_EXAMPLES)}
        self._jobs.options = [(title, name) for name, title in own.items()]
        self._jobs.value = [name for name in marked if name in own]
        self.box.layout.display = "" if own else "none"
