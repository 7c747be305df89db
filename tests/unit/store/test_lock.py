"""One run at a time; the dead do not hold the lock."""

import contextlib
import multiprocessing
import os
import threading
import time
from dataclasses import replace
from datetime import timedelta
from multiprocessing.connection import Connection
from pathlib import Path

import pytest
from sqlalchemy import update

from hundredfold.kernel.errors import ShopError
from hundredfold.store.lock import Holder, RunnerLock, alive, this_process
from hundredfold.store.mapping import time_of, time_text
from hundredfold.store.schema import runner_lock
from hundredfold.store.shopstore import open_store, restore_shop, utc_now

ELSEWHERE = Holder("the-laptop", 4711, "2026-11-25T13:00:00.000000Z")


def hold_and_wait(place: Path, ready: Connection) -> None:
    with open_store(place).lock.held("month"):
        ready.send("held")
        time.sleep(600)


def held_by_child(place: Path) -> multiprocessing.process.BaseProcess:
    here, there = multiprocessing.Pipe()
    child = multiprocessing.get_context("spawn").Process(target=hold_and_wait, args=(place, there))
    child.start()
    assert here.poll(30)
    here.recv()
    return child


def test_a_living_run_keeps_others_out_and_a_killed_one_does_not(tmp_path: Path) -> None:
    place = tmp_path / "shop.db"
    store = open_store(place)
    child = held_by_child(place)
    with pytest.raises(ShopError, match=rf"'month' .* this computer \(process {child.pid}\)") as caught:
        store.lock.refuse_if_used()
    assert caught.value.slug == "shop-in-use"
    with pytest.raises(ShopError), store.lock.held("deliver"):
        pytest.fail("both hold the lock")
    child.kill()
    child.join()
    with store.lock.held("deliver"):
        holder = store.lock.holder()
        assert holder is not None
        assert (holder.pid, holder.command) == (os.getpid(), "deliver")
    assert store.lock.holder() is None


def test_a_lock_that_this_process_could_not_give_back_is_free(tmp_path: Path) -> None:
    store = open_store(tmp_path / "shop.db")
    store.lock._take(this_process(), "month")  # what a disk leaves behind that is full at the end of a run
    with (
        store.lock.held("deliver"),
        pytest.raises(ShopError, match=r"since \d{4}-\d\d-\d\d \d\d:\d\d UTC on"),
    ):
        open_store(tmp_path / "shop.db").lock.refuse_if_used()


def test_a_reused_process_number_is_not_the_holder(tmp_path: Path) -> None:
    store = open_store(tmp_path / "shop.db")
    earlier = replace(this_process(), process_started="2020-01-01T00:00:00.000000Z")
    lock = RunnerLock(store.database, utc_now, lambda: earlier)
    lock._take(earlier, "month")
    with store.lock.held("month"):
        pass


@pytest.mark.parametrize(
    ("seconds", "same"), [(0, True), (4.9, True), (-4.9, True), (5.1, False), (-5.1, False), (3600, False)]
)
def test_a_start_that_shifted_a_little_is_the_same_and_another_is_not(seconds: float, same: bool) -> None:
    """A corrected clock moves the start a system works out; a process number given again starts later."""
    me = this_process()
    holder = replace(me, process_started=time_text(time_of(me.process_started) + timedelta(seconds=seconds)))
    assert alive(holder) is same


def test_a_living_holder_whose_start_shifted_keeps_the_lock(tmp_path: Path) -> None:
    place = tmp_path / "shop.db"
    store = open_store(place)
    child = held_by_child(place)
    try:
        holder = store.lock.holder()
        assert holder is not None
        shifted = time_text(time_of(holder.process_started) + timedelta(seconds=4))
        with store.database.writing() as connection:
            connection.execute(update(runner_lock).values(process_started=shifted))
        with pytest.raises(ShopError) as caught, store.lock.held("deliver"):
            pytest.fail("both hold the lock")
        assert caught.value.slug == "shop-in-use"
    finally:
        child.kill()
        child.join()


def test_a_run_on_another_computer_is_named_and_can_be_cleared(tmp_path: Path) -> None:
    store = open_store(tmp_path / "shop.db")
    RunnerLock(store.database, utc_now, lambda: ELSEWHERE)._take(ELSEWHERE, "month")
    with pytest.raises(ShopError) as caught, store.lock.held("month"):
        pytest.fail("both hold the lock")
    said = str(caught.value)
    assert "the computer the-laptop" in said
    assert "clear the lock" in said
    assert store.lock.clear() is not None
    with store.lock.held("month"):
        pass


def test_the_lock_is_given_back_after_a_failure(tmp_path: Path) -> None:
    store = open_store(tmp_path / "shop.db")

    def fail() -> None:
        with store.lock.held("month"):
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail()
    assert store.lock.holder() is None


def test_threads_of_one_process_are_kept_apart(tmp_path: Path) -> None:
    """Also where one is between writing the row and going on, which two holders slipped through once."""
    place, inside, most, taken = tmp_path / "shop.db", [0], [0], [0]
    open_store(place).close()
    guard = threading.Lock()

    def work() -> None:
        store = open_store(place)
        for _ in range(400):  # a busy lock refuses: how many tries find it free is the scheduler's affair
            if taken[0] >= 15:
                break
            with contextlib.suppress(ShopError), store.lock.held("month"):
                with guard:
                    inside[0] += 1
                    taken[0] += 1
                    most[0] = max(most[0], inside[0])
                time.sleep(0.001)
                with guard:
                    inside[0] -= 1

    threads = [threading.Thread(target=work) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most[0] == 1
    assert taken[0] >= 15


def test_the_row_being_written_is_no_moment_for_another_thread(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store, other = open_store(tmp_path / "shop.db"), open_store(tmp_path / "shop.db")
    really, refused = RunnerLock._take, []

    def take_and_look(lock: RunnerLock, me: Holder, command: str) -> None:
        really(lock, me, command)
        monkeypatch.setattr(RunnerLock, "_take", really)
        with pytest.raises(ShopError) as caught, other.lock.held("deliver"):
            pytest.fail("both hold the lock")
        refused.append(caught.value.slug)

    monkeypatch.setattr(RunnerLock, "_take", take_and_look)
    with store.lock.held("month"):
        pass
    assert refused == ["shop-in-use"]


def test_a_process_that_cannot_be_seen_from_here_keeps_the_lock(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As in two containers that share the folder: the number in the row says nothing here."""
    place = tmp_path / "shop.db"
    store = open_store(place)
    child = held_by_child(place)
    monkeypatch.setattr("hundredfold.store.lock.alive", lambda _: False)
    with pytest.raises(ShopError) as caught, store.lock.held("deliver"):
        pytest.fail("both hold the lock")
    assert caught.value.slug == "shop-in-use"
    with pytest.raises(ShopError):
        restore_shop(place, place)
    child.kill()
    child.join()
    with store.lock.held("deliver"):
        pass


def test_a_short_write_may_wait_for_its_turn(tmp_path: Path) -> None:
    place, order = tmp_path / "shop.db", []
    store = open_store(place)
    begun = threading.Event()

    def month() -> None:
        with open_store(place).lock.held("month"):
            begun.set()
            time.sleep(0.3)
            order.append("month")

    thread = threading.Thread(target=month)
    thread.start()
    begun.wait()
    with store.lock.held("choose", wait_s=20):
        order.append("choose")
    thread.join()
    assert order == ["month", "choose"]
