"""A place on a screen where a paper is shown; any other file goes to the browser's downloads."""

from pathlib import Path

import anywidget

from kit.panels.screen import PDF, DownloadFile

__all__ = ["PaperView"]


class PaperView(anywidget.AnyWidget):
    """Shows the last paper that was handed to it."""

    _esm = (Path(__file__).parent / "paper_view.js").read_text(encoding="utf-8")
    _css = ".sk-paper { margin-top: 8px; width: 100%; height: min(80vh, 1100px); border: 1px solid var(--sk-edge); }"

    def show(self, file: DownloadFile, title: str) -> None:
        """Show a paper under its title, or hand another file to the downloads."""
        self.send({"type": "file", "name": file.name, "mime": file.mime, "title": title, "show": file.mime == PDF}, [file.content])

    def clear(self) -> None:
        """Take the paper away: it is no longer that of the job."""
        self.send({"type": "clear"})
