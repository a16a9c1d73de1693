"""Answers of identical demand, remembered: most ticks of a slider do not change the cut list."""

from collections import OrderedDict
from collections.abc import Hashable
from threading import Lock
from typing import Generic, TypeVar

__all__ = ["Memory"]

Answer = TypeVar("Answer")


class Memory(Generic[Answer]):
    """The latest answers by key, `most` of them; safe between threads."""

    def __init__(self, most: int) -> None:
        self.most = most
        self._lock = Lock()
        self._answers: OrderedDict[Hashable, Answer] = OrderedDict()

    def get(self, key: Hashable) -> Answer | None:
        """The answer kept under a key."""
        with self._lock:
            answer = self._answers.get(key)
            if answer is not None:
                self._answers.move_to_end(key)
            return answer

    def put(self, key: Hashable, answer: Answer) -> None:
        """Keep an answer, and forget the one that was asked for longest ago when there are too many."""
        with self._lock:
            self._answers[key] = answer
            while len(self._answers) > self.most:
                self._answers.popitem(last=False)

    def clear(self) -> None:
        """Forget everything."""
        with self._lock:
            self._answers.clear()
