"""Queues of listeners: bounded, and honest about what was dropped."""

import threading

import numpy as np

from pullbench.live import Behind, Listener, NewsTold, Refreshed, StripColumns
from pullbench.model import News


def strip(at_s):
    return StripColumns(at_s, 0.01, np.zeros((1, 2), np.float32))


def news(text):
    return NewsTold(News("gap", text))


def test_strip_columns_are_dropped_first_and_everything_else_is_kept_in_order():
    listener = Listener(8)
    for k in range(40):
        listener.put(k, news(str(k)) if k % 10 == 0 else strip(k))
    waiting = [message for _, message in listener.take_all()]
    assert [one.news.sentence for one in waiting if isinstance(one, NewsTold)] == ["0", "10", "20", "30"]
    assert any(isinstance(one, Behind) for one in waiting)
    assert len(waiting) <= 8


def test_a_listener_that_drowns_in_news_is_told_to_take_everything_anew():
    listener = Listener(8)
    for k in range(40):
        listener.put(k, news(str(k)))
    waiting = [message for _, message in listener.take_all()]
    assert any(isinstance(one, Refreshed) for one in waiting)
    assert len(waiting) <= 8


def test_waiting_ends_when_the_bench_closes():
    listener = Listener()
    got = []
    thread = threading.Thread(target=lambda: got.extend(listener))
    thread.start()
    listener.put(1, news("last"))
    listener.close()
    thread.join(5)
    assert [message.news.sentence for _, message in got] == ["last"]
    listener.put(2, news("too late"))
    assert listener.get(0.0) is None
