"""Keeps linear algebra to one thread: more are slower on arrays of the model's size."""

from contextlib import AbstractContextManager
from functools import lru_cache

from threadpoolctl import ThreadpoolController


def one_thread() -> AbstractContextManager[object]:
    """A block within which numpy's linear algebra uses one thread."""
    return _pools().limit(limits=1)


@lru_cache(maxsize=1)
def _pools() -> ThreadpoolController:
    """The libraries with threads of their own; looking for them takes longer than a session."""
    return ThreadpoolController()
