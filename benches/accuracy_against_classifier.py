"""Holds the assistant against classifiers that were trained on the same answers.

Both sides see what the findings came to in plays of simulated rigs and what was seen first. A
classifier learns from other rigs, of another seed, what each cause looks like; the assistant has
the handbook's shares. What a classifier can tell that the assistant can't is what better shares
could still bring; what neither can tell isn't in the answers.

Run from the top of the project, with numpy and scikit-learn installed and the program built:

    python benches/accuracy_against_classifier.py target/release/dryhold

Takes some minutes. Writes nothing.
"""

import json
import platform
import subprocess
import sys

import numpy
import sklearn
from sklearn.ensemble import HistGradientBoostingClassifier
from sklearn.linear_model import LogisticRegression
from sklearn.model_selection import cross_val_predict

TRAIN, TEST = (3000, 11), (1000, 2)
SMALL = 1e-4


def played(program, number, seed):
    command = [program, "rehearse", "--population", str(number), "--seed", str(seed)]
    told = subprocess.run(command + ["--format", "json"], check=True, capture_output=True, text=True)
    return json.loads(told.stdout)


def columns(populations):
    """What findings came to and what was seen first: a column for each outcome ever met."""
    plays = [play for population in populations for play in population["plays"]]
    outcomes = {}
    for play in plays:
        for finding, shares in play["shown"].items():
            outcomes[finding] = max(outcomes.get(finding, 0), len(shares))
    names = [(finding, place) for finding in sorted(outcomes) for place in range(outcomes[finding])]
    symptoms = sorted({play["symptom"] for play in plays})
    return names, symptoms


def features(population, names, symptoms):
    """A finding that said nothing is 0 in all of its columns."""
    rows = []
    for play in population["plays"]:
        shown = play["shown"]
        row = [shown[f][p] if f in shown and p < len(shown[f]) else 0.0 for f, p in names]
        rows.append(row + [float(play["symptom"] == symptom) for symptom in symptoms])
    return numpy.array(rows)


def truths(population, key):
    return numpy.array([play[key] for play in population["plays"]], dtype=int)


def log_loss(held, so):
    held = numpy.clip(held, SMALL, 1 - SMALL)
    return float(numpy.mean(-(so * numpy.log(held) + (1 - so) * numpy.log(1 - held))))


def brier(held, so):
    return float(numpy.mean((held - so) ** 2))


def learned(make, train, so, test):
    """How probable each column of truths is held to be in the test, one classifier a column."""
    held = []
    for column in so.T:
        if column.min() == column.max():
            held.append(numpy.full(len(test), float(column[0])))
        else:
            held.append(make().fit(train, column).predict_proba(test)[:, 1])
    return numpy.array(held).T


def cross_validated(make, train, so):
    losses = []
    for column in so.T:
        if 5 <= column.sum() <= len(column) - 5:
            told = cross_val_predict(make(), train, column, cv=5, method="predict_proba")[:, 1]
            losses.append(log_loss(told, column))
    return float(numpy.mean(losses))


def ways():
    yield from (
        (f"logistic regression, C {c}", lambda c=c: LogisticRegression(C=c, max_iter=2000))
        for c in (0.1, 0.3, 1.0, 3.0)
    )
    yield "boosted trees", lambda: HistGradientBoostingClassifier(
        max_iter=60, learning_rate=0.1, max_leaf_nodes=8, min_samples_leaf=10, random_state=1
    )


def right_within(held, so, first):
    best = numpy.argsort(-held, axis=1)[:, :first]
    return numpy.take_along_axis(so, best, axis=1).any(axis=1)


def main():
    program = sys.argv[1] if len(sys.argv) > 1 else "target/release/dryhold"
    if len(sys.argv) > 3:
        train, test = (json.load(open(path)) for path in sys.argv[2:4])
    else:
        train, test = played(program, *TRAIN), played(program, *TEST)
    names, symptoms = columns([train, test])
    seen, unseen = (features(population, names, symptoms) for population in (train, test))
    causes, groups = truths(train, "is_there"), truths(train, "are_so")
    is_there, are_so = truths(test, "is_there"), truths(test, "are_so")
    own, own_groups = (
        numpy.array([play[key] for play in test["plays"]]) for key in ("held", "groups")
    )
    tried = [(cross_validated(make, seen, causes), name, make) for name, make in ways()]
    for loss, name, _ in tried:
        print(f"{name}: log loss {loss:.4f} per cause, five-fold on {len(seen)} rigs")
    _, name, make = min(tried, key=lambda one: one[0])
    theirs = learned(make, seen, causes, unseen)
    their_groups = learned(make, seen, groups, unseen)
    print(f"\n{len(unseen)} rigs of seed {test['seed']}: the assistant, and {name} learned on "
          f"{len(seen)} rigs of seed {train['seed']}")
    print(f"Python {platform.python_version()}, numpy {numpy.__version__}, "
          f"scikit-learn {sklearn.__version__}\n")
    rows = [
        ("leading group right, %", *(100 * right_within(held, are_so, 1).mean()
                                     for held in (own_groups, their_groups))),
        ("one of the first two right, %", *(100 * right_within(held, are_so, 2).mean()
                                            for held in (own_groups, their_groups))),
        ("Brier score per cause", brier(own, is_there), brier(theirs, is_there)),
        ("log loss per cause, nat", log_loss(own, is_there), log_loss(theirs, is_there)),
    ]
    print("what | assistant | classifier\n--- | --- | ---")
    for what, one, other in rows:
        digits = 1 if "%" in what else 4
        print(f"{what} | {one:.{digits}f} | {other:.{digits}f}")
    print("\ncause | rigs | leading group right, % | classifier | points\n"
          "--- | --- | --- | --- | ---")
    for place, cause in enumerate(test["causes"]):
        of_it = is_there[:, place] == 1
        cause = cause if isinstance(cause, str) else cause["id"]
        if of_it.sum() == 0:
            continue
        one, other = (100 * right_within(held[of_it], are_so[of_it], 1).mean()
                      for held in (own_groups, their_groups))
        print(f"{cause} | {of_it.sum()} | {one:.0f} | {other:.0f} | {one - other:+.0f}")


if __name__ == "__main__":
    main()
