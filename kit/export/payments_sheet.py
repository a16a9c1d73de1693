"""Payments on the sheet "Build-up": when the customer pays, and how much; each follows the price, the last pays what is left."""

from kit.estimating import Estimate
from kit.export.build_up_sheet import NAME
from kit.export.sheet_cells import Page, Place, add_up
from kit.export.terms_sheet import cell_name, round_formula
from kit.money import CENT_PLACES, sum_money
from kit.pricing.draws import Draw, plan_draws
from kit.pricing.priced import step_of_purchase, work_order

__all__ = ["place_payments", "write_payments"]

_HEADS = ("Payments", "Due", "Earned by then", "Earned", "Held back", "Work and goods by then", "Paid before", "How it is counted")
_WHEN, _DUE, _SHARE, _EARNED, _HELD, _WORTH, _BEFORE, _HOW = range(len(_HEADS))
_GAP = 3  # a sum, a blank row and heads stand between what comes before and after


def _draws(estimate: Estimate) -> tuple[Draw, ...]:
    return plan_draws(estimate, keep_empty=True).draws


def _terms(estimate: Estimate) -> list[tuple[str, str]]:
    """The terms that the payments read, by the key of their cell and in words."""
    preset = estimate.terms.preset
    terms = [("pay:deposit", "Deposit, share of the price"), ("pay:hold", "Share of what is earned, held back until the punch list is done")]
    terms += [("pay:cap-share", "Deposit at most, share of the price (state's preset)")] if preset and preset.deposit_share is not None else []
    return terms + ([("pay:cap-amount", "Deposit at most (state's preset)")] if preset and preset.deposit_amount is not None else [])


def place_payments(estimate: Estimate, above: int) -> dict[str, Place]:
    """What each payment comes to, `due:<draw>`, their sum, `all:due`, and the terms that they read, `pay:<term>`; `above` is the last row before."""
    draws, first = _draws(estimate), above + _GAP
    places = {f"due:{draw.id}": Place(NAME, row, _DUE) for row, draw in enumerate(draws, first)}
    end = first + len(draws)
    return places | {"all:due": Place(NAME, end, _DUE)} | {key: Place(NAME, row, _DUE) for row, (key, _) in enumerate(_terms(estimate), end + _GAP)}


def write_payments(page: Page, estimate: Estimate) -> int:
    """The payments, their sum and their terms, below the checks of the build-up; gives the last row."""
    book, draws = page.book, _draws(estimate)
    for column, head in enumerate(_HEADS):
        page.text(book.places[f"due:{draws[0].id}"].row - 1, column, head, "head", right=column not in {_WHEN, _HOW})
    for draw in draws:
        _write_draw(page, estimate, draw, last=draw is draws[-1], before=draws[: draws.index(draw)])
    total = book.places["all:due"]
    page.rule(total.row, _HOW)
    page.text(total.row, _WHEN, "Total", bold=True, topped=True)
    page.formula(total.row, _DUE, add_up([book.places[f"due:{draw.id}"] for draw in draws], NAME), estimate.price, "money", bold=True, topped=True)
    return _write_terms(page, estimate)


def _write_terms(page: Page, estimate: Estimate) -> int:
    terms, preset = _terms(estimate), estimate.terms.preset
    values = {"pay:deposit": estimate.terms.deposit_share, "pay:hold": estimate.terms.hold_share}
    page.text(page.book.places[terms[0][0]].row - 1, _WHEN, "Terms of the payments; state law may cap them: ask", bold=True)
    for key, says in terms:
        row = page.book.places[key].row
        page.text(row, _WHEN, says, "words")
        if key in values:
            page.number(row, _DUE, values[key], "share")
        elif preset and key == "pay:cap-share" and preset.deposit_share is not None:
            page.number(row, _DUE, preset.deposit_share, "share")
        elif preset and preset.deposit_amount is not None:
            page.number(row, _DUE, preset.deposit_amount, "money")
    return page.book.places[terms[-1][0]].row


def _write_draw(page: Page, estimate: Estimate, draw: Draw, *, last: bool, before: tuple[Draw, ...]) -> None:
    places = page.book.places
    row, price = places[f"due:{draw.id}"].row, places["row:price"].seen_from(NAME)
    share, earned, held, worth, paid = (Place(NAME, row, column).cell for column in (_SHARE, _EARNED, _HELD, _WORTH, _BEFORE))
    page.text(row, _WHEN, draw.label, "words")
    page.formula(row, _BEFORE, add_up([places[f"due:{one.id}"] for one in before], NAME), sum_money([one.due for one in before]), "money")
    if draw.step is None and not last:
        formula, how = _deposit(page, price)
    else:
        page.number(row, _SHARE, next(listed.earned for listed in estimate.lists.draws if listed.draw == draw.id), "share")
        page.formula(row, _EARNED, round_formula(f"{price}*{share}", CENT_PLACES), draw.earned, "money")
        formula, how = f"{price}-{paid}", "what is left of the price"
    if draw.step is not None and not last:
        page.formula(row, _HELD, round_formula(f"{earned}*{places['pay:hold'].cell}", CENT_PLACES), draw.held, "money")
        formula, how = f"MAX({earned}-{held}-{paid},0)", "what is earned, less what is held back and what was paid before"
        if estimate.terms.preset and estimate.terms.preset.draws_follow_work:
            page.formula(row, _WORTH, _worth(page, estimate, draw, price), draw.worth, "money")
            formula, how = f"MIN({formula},MAX({worth}-{paid},0))", f"{how}; never ahead of work done and goods delivered (state's preset)"
    page.formula(row, _DUE, round_formula(formula, CENT_PLACES), draw.due, "money", bold=True)
    page.text(row, _HOW, how)


def _deposit(page: Page, price: str) -> tuple[str, str]:
    """The share of the price, under the caps of the preset; what is a share of the price in law is rounded down."""
    places = page.book.places
    parts = [round_formula(f"{price}*{places['pay:deposit'].cell}", CENT_PLACES)]
    parts += [_round_down(f"{price}*{places['pay:cap-share'].cell}")] if "pay:cap-share" in places else []
    parts += [places["pay:cap-amount"].cell] if "pay:cap-amount" in places else []
    return f"MIN({','.join(parts)})", "share of the price" + (", at most what the state's preset lets us ask for" if len(parts) > 1 else "")


def _worth(page: Page, estimate: Estimate, draw: Draw, price: str) -> str:
    """The part of the price for work done and goods delivered by then, by their share of the cost of all of them."""
    places, order = page.book.places, work_order(estimate)
    reached = set(order[: order.index(draw.step) + 1]) if draw.step in order else set(order)
    bought = [places[f"buy:{one.id}"] for one in estimate.purchases if step_of_purchase(estimate, one, order) in reached]
    done = [places[f"task:{task.step}"] for task in estimate.tasks if task.step in reached]
    whole = f"({places['all:buy'].seen_from(NAME)}+{places['all:task'].seen_from(NAME)})"
    part = f"({add_up(bought, NAME)}+{add_up(done, NAME)})"
    return f"IF({whole}>0,{_round_down(f'{price}*{part}/{whole}')},{price})"


def _round_down(formula: str) -> str:
    """To the cent, down; the noise of floats is rounded away first."""
    return f"ROUNDDOWN(ROUND({formula},6),{cell_name(f'decimals:{CENT_PLACES}')})"
