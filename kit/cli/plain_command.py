"""A command whose help and refusals are in plain words: no types, no signs of a grammar; a number's limits as a person says them."""

import re
from typing import Any

import typer
from typer.core import TyperCommand

__all__ = ["PlainCommand"]

_TYPE = re.compile(r" <[\w ]+>")
_LIMITS = ((re.compile(r"(\d+)<=x<=(\d+)"), r"\1 to \2"), (re.compile(r"x>=(\d+)"), r"\1 or more"))


class PlainCommand(TyperCommand):
    """A command of the shell; the library names types in its help and says refusals in the words of its own checks."""

    def collect_usage_pieces(self, ctx: Any) -> list[str]:
        """What is wanted by its name, what may be left out in brackets."""
        return [piece.strip("{}") for piece in super().collect_usage_pieces(ctx)]

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Arguments and options with what they say."""
        for title, kind in (("Arguments", "argument"), ("Options", "option")):
            records = [param.get_help_record(ctx) for param in self.get_params(ctx) if param.param_type_name == kind]
            if rows := [(_TYPE.sub("", name), _in_words(said)) for name, said in filter(None, records)]:
                with formatter.section(title):
                    formatter.write_dl(rows)

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """As the library does, with a number out of its limits or an amount below 0 refused in words."""
        typed = list(args)
        try:
            return list(super().parse_args(ctx, args))
        except typer.BadParameter as error:
            least, most = (getattr(error.param, limit, None) for limit in ("min", "max"))
            if least is not None and error.message.startswith("Input should be"):
                error.message = f"give a whole number, {f'{least} or more' if most is None else f'{least} to {most}'}."
            raise
        except Exception as error:
            option = getattr(error, "option_name", "")
            if re.match(r"-\d", option):
                amount = next((word for word in typed if word.startswith(option)), option)
                names = {name for param in self.params for name in param.opts}
                instead = "after --amount" if "--amount" in names else f"without the minus{', and --back if the money went back' if '--back' in names else ''}"
                error.message = f'"{amount}" begins with a minus: give it {instead}.'  # type: ignore[attr-defined]
            raise


def _in_words(said: str) -> str:
    for limits, words in _LIMITS:
        said = limits.sub(words, said)
    return said
