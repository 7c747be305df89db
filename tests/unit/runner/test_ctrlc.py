"""Ctrl-C comes out once for every press, and only where the holder looks."""

import signal
import threading
import time
from concurrent.futures import Future, ThreadPoolExecutor

import pytest

from hundredfold.runner.ctrlc import HeldCtrlC, kept_from_children


def press() -> None:
    signal.raise_signal(signal.SIGINT)


def test_a_press_waits_for_the_look() -> None:
    with HeldCtrlC() as held:
        press()
        with pytest.raises(KeyboardInterrupt):
            held.look()
        held.look()
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def pressed_once(also: Exception | None = None) -> None:
    with HeldCtrlC():
        press()
        if also is not None:
            raise also


def test_a_press_that_nobody_looked_for_comes_at_the_end() -> None:
    with pytest.raises(KeyboardInterrupt):
        pressed_once()


def test_an_error_is_not_hidden_by_a_press() -> None:
    with pytest.raises(ValueError, match="mine"):
        pressed_once(ValueError("mine"))
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


@pytest.mark.parametrize("looked", [True, False], ids=["each looked for", "none looked for"])
def test_the_second_press_comes_out_too_and_the_third_at_once(looked: bool) -> None:
    with HeldCtrlC() as held:
        for _ in range(2):
            press()
            if looked:
                with pytest.raises(KeyboardInterrupt):
                    held.look()
        with pytest.raises(KeyboardInterrupt):
            press()
        if not looked:
            for _ in range(2):
                with pytest.raises(KeyboardInterrupt):
                    held.look()
        held.look()


def test_waiting_ends_with_the_press_and_gives_every_lock_back() -> None:
    futures: list[Future[int]] = [Future() for _ in range(4)]
    with HeldCtrlC() as held:
        threading.Timer(0.2, press).start()
        with pytest.raises(KeyboardInterrupt):
            held.wait_for(futures)
        with ThreadPoolExecutor(4) as others:
            list(others.map(lambda future: future.set_result(1), futures, timeout=10))
        assert held.wait_for(futures) == set(futures)


def test_waiting_for_the_first_does_not_wait_for_the_rest() -> None:
    futures: list[Future[int]] = [Future(), Future()]
    futures[1].set_result(1)
    with HeldCtrlC() as held:
        assert held.wait_for(futures, first=True) == {futures[1]}
        threading.Timer(0.3, futures[0].set_result, [1]).start()
        began = time.monotonic()
        assert held.wait_for(futures) == set(futures)
        assert time.monotonic() - began >= 0.2
        assert held.wait_for([]) == set()


def test_a_handler_of_somebody_else_is_left_alone() -> None:
    heard: list[int] = []
    before = signal.signal(signal.SIGINT, lambda *_: heard.append(1))
    try:
        with HeldCtrlC() as held:
            press()
            held.look()
    finally:
        signal.signal(signal.SIGINT, before)
    assert heard == [1]


def test_in_another_thread_it_holds_nothing() -> None:
    def hold() -> bool:
        with HeldCtrlC() as held:
            held.look()
            return signal.getsignal(signal.SIGINT) is signal.default_int_handler

    with ThreadPoolExecutor(1) as other:
        assert other.submit(hold).result(timeout=10)


def pressed_while_blocked() -> None:
    with kept_from_children():
        press()
        assert signal.SIGINT in signal.pthread_sigmask(signal.SIG_BLOCK, ())


@pytest.mark.skipif(not hasattr(signal, "pthread_sigmask"), reason="Windows has no signal masks")
def test_what_is_started_does_not_hear_it_and_we_hear_it_late() -> None:
    with pytest.raises(KeyboardInterrupt):
        pressed_while_blocked()
    assert signal.SIGINT not in signal.pthread_sigmask(signal.SIG_BLOCK, ())
