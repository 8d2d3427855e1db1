"""The kernel's process-wide settings are as they were after a session, whatever happened in it."""

from __future__ import annotations

import pytest
from OCP.Interface import Interface_Static
from OCP.Message import Message

from panelgen.solids.sessions import kernel_session

INTEGERS, WORDS = {"write.surfacecurve.mode": 0}, {"write.step.schema": "AP203"}


def state() -> tuple[int, str, list[object]]:
    levels = [printer.GetTraceLevel() for printer in Message.DefaultMessenger_s().Printers()]
    return Interface_Static.IVal_s("write.surfacecurve.mode"), Interface_Static.CVal_s("write.step.schema"), levels


def test_settings_hold_inside_and_are_put_back() -> None:
    with kernel_session():
        before = state()[:2]
    with kernel_session(INTEGERS, WORDS):
        assert state()[:2] == (0, "AP203")
    assert state()[:2] == before != (0, "AP203")


def test_settings_are_put_back_after_an_error() -> None:
    with kernel_session():
        pass
    before = state()
    with pytest.raises(ZeroDivisionError), kernel_session(INTEGERS, WORDS):
        raise ZeroDivisionError
    assert state() == before
