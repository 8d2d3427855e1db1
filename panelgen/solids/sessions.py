"""The kernel's process-wide settings and its chatter, held still while files are written or read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager

__all__ = ["kernel_session"]


@contextmanager
def kernel_session(integers: Mapping[str, int] | None = None, words: Mapping[str, str] | None = None) -> Iterator[None]:
    """Set parameters of the kernel's translators and keep it from printing; put all back afterwards.

    The translators read their parameters from one table a process, so two sessions must not overlap.
    """
    from OCP.Interface import Interface_Static
    from OCP.Message import Message, Message_Gravity
    from OCP.STEPControl import STEPControl_Controller

    STEPControl_Controller.Init_s()
    integers, words = integers or {}, words or {}
    old_integers = {name: Interface_Static.IVal_s(name) for name in integers}
    old_words = {name: Interface_Static.CVal_s(name) for name in words}
    printers = list(Message.DefaultMessenger_s().Printers())
    levels = [printer.GetTraceLevel() for printer in printers]
    try:
        for printer in printers:
            printer.SetTraceLevel(Message_Gravity.Message_Fail)
        _set(integers, words)
        yield
    finally:
        _set(old_integers, old_words)
        for printer, level in zip(printers, levels, strict=True):
            printer.SetTraceLevel(level)


def _set(integers: Mapping[str, int], words: Mapping[str, str]) -> None:
    from OCP.Interface import Interface_Static

    for name, number in integers.items():
        Interface_Static.SetIVal_s(name, number)
    for name, word in words.items():
        Interface_Static.SetCVal_s(name, word)
