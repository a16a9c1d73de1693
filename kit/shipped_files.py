"""Where the notebooks, price lists and examples lie: the repository's folders first, else the copy in the wheel."""

from pathlib import Path

__all__ = ["shipped"]


def shipped(name: str) -> Path:
    """Folder `notebooks`, `price_lists` or `examples`.

    Parameters
    ----------
    name
        Which of the three.

    Raises
    ------
    FileNotFoundError
        If neither the repository nor the installed package holds such a folder.

    Examples
    --------
    >>> import kit
    >>> (kit.shipped("price_lists") / "company.csv").is_file()
    True
    """
    package = Path(__file__).resolve().parent
    repository = package.parent
    candidates = [package / "_shipped" / name]
    if (repository / "pyproject.toml").is_file():
        candidates.insert(0, repository / name)
    for folder in candidates:
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f'no folder "{name}" is shipped with this installation.')
