"""Search words against the proven optimum.

The same instances are solved to the end by the CP-SAT solver of OR-Tools, which shares no code with the
solver that the room uses: a Boolean a word and a phrase, a phrase only with all its words, sizes within
the limits.
"""

import random

import pytest
from ortools.sat.python import cp_model

from hundredfold.wording.searching import WordChoice, best_words

INSTANCES = 60  # the proof of one takes a fifth of a second
WORST, MEAN = 0.995, 0.999


def instance(seed: int) -> WordChoice:
    """Up to 60 words and 40 phrases of two to four words, gains and lengths as listings have them."""
    rng = random.Random(seed)
    words, phrases = rng.randint(10, 60), rng.randint(0, 40)
    chars = [rng.randint(3, 14) for _ in range(words)]
    wide = [rng.random() < 0.2 for _ in range(words)]  # letters of two bytes
    costs = [(n + 1, n + 1 + (n // 2 if w else 0), 1) for n, w in zip(chars, wide, strict=True)]
    gains = [rng.choice((0.0, rng.uniform(1, 10))) for _ in range(words)]
    groups = {frozenset(rng.sample(range(words), rng.randint(2, min(4, words)))) for _ in range(phrases)}
    together = [(group, rng.uniform(1, 10)) for group in sorted(groups, key=sorted)]
    total = sum(cost for cost, _, _ in costs)
    share = rng.uniform(0.15, 0.9)
    limits = (int(total * share) + 1, rng.choice((10**6, int(total * share * 1.1) + 1)))
    return WordChoice(
        tuple(gains),
        tuple(costs),
        tuple(together),
        (*limits, rng.choice((10**6, max(2, int(words * share))))),
    )


def proven(choice: WordChoice) -> float:
    """The most that any choice can gain, to a millionth."""
    model = cp_model.CpModel()
    words = [model.new_bool_var(f"word {number}") for number in range(len(choice.gains))]
    phrases = [model.new_bool_var(f"phrase {number}") for number in range(len(choice.phrases))]
    for kind in range(3):
        costs = [cost[kind] for cost in choice.costs]
        model.add(cp_model.LinearExpr.weighted_sum(words, costs) <= choice.capacity[kind])
    for has, (group, _) in zip(phrases, choice.phrases, strict=True):
        for word in group:
            model.add_implication(has, words[word])
    gains = [*choice.gains, *(gain for _, gain in choice.phrases)]
    scaled = [round(gain * 1_000_000) for gain in gains]
    model.maximize(cp_model.LinearExpr.weighted_sum([*words, *phrases], scaled))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return solver.objective_value / 1_000_000


@pytest.fixture(scope="module")
def shares() -> list[float]:
    """Of each instance, what ours gains of the optimum."""
    found = []
    for seed in range(INSTANCES):
        choice = instance(seed)
        chosen = best_words(choice)
        for kind in range(3):
            assert sum(choice.costs[word][kind] for word in chosen) <= choice.capacity[kind]
        best = proven(choice)
        found.append(choice.value(chosen) / best if best else 1.0)
    return found


def test_no_instance_is_far_from_the_optimum(shares: list[float]) -> None:
    assert max(shares) <= 1 + 1e-6
    assert min(shares) >= WORST


def test_most_instances_are_solved(shares: list[float]) -> None:
    assert sum(shares) / len(shares) >= MEAN
