"""Checks and times the posterior of the network against pyAgrum's exact engines.

The network that is timed is the one of `posterior_against_numpy.py`: 12 causes, 40 yes/no
findings all answered. Its findings are pyAgrum's own noisy-OR nodes, told the background and what
each cause does by itself, so that nothing of the arithmetic is shared. Both sides have their
network ready and give the posterior of every cause. A second network, which is only compared,
has causes that bring others, findings of three outcomes, causes that hide them, and answers that
are only likely.

Run from the top of the project, with pyAgrum installed:

    python benches/posterior_against_pyagrum.py

Ends with status 1 if the answers differ by more than 1e-9 or pyAgrum is faster; without pyAgrum
it says so and ends with status 0.
"""

import ast
import platform
import statistics
import subprocess
import sys
import time

try:
    import pyagrum
except ImportError:
    print("skipped: pyAgrum is not installed (pip install pyagrum)")
    sys.exit(0)

from posterior_against_numpy import CAUSES, FINDINGS, Draws, rust_side, version

TURNS, TOLERANCE = 5, 1e-9
ENGINES = {
    "lazy propagation": pyagrum.LazyPropagation,
    "Shafer-Shenoy": pyagrum.ShaferShenoyInference,
    "variable elimination": pyagrum.VariableElimination,
}


def binary(name):
    return pyagrum.LabelizedVariable(name, name, 2)


def network(parents):
    """The network, and the outcome of every finding."""
    draws = Draws(1)
    net = pyagrum.BayesNet()
    causes = [net.add(binary(f"cause{place}")) for place in range(CAUSES)]
    for cause in causes:
        prior = 0.02 + 0.28 * draws.chance()
        net.cpt(cause).fillWith([1.0 - prior, prior])
    for place in range(FINDINGS):
        background = 0.01 + 0.09 * draws.chance()
        first = int(draws.chance() * CAUSES)
        finding = net.addNoisyORNet(binary(f"finding{place}"), background)
        for offset in range(parents):
            strength = 0.05 + 0.9 * draws.chance()
            net.addWeightedArc(causes[(first + offset) % CAUSES], finding, strength)
    return net, {f"finding{place}": int(draws.chance() < 0.5) for place in range(FINDINGS)}


def distribution(draws, most):
    some, much = most * draws.chance(), most * draws.chance()
    return [1.0 - some - much, some, much]


def every_kind():
    """Eight causes, some brought by others; twelve findings of three outcomes, each told as the
    story behind it: what every cause shows is a node of its own, the one furthest from normal is
    taken, and a cause may hide it.
    """
    draws, net, evidence = Draws(3), pyagrum.BayesNet(), {}
    for cause in range(8):
        prior = 0.02 + 0.28 * draws.chance()
        node = net.addNoisyORNet(binary(f"cause{cause}"), prior)
        if cause > 2 and cause % 2 == 1:
            for by in (cause - 1, cause - 3):
                net.addWeightedArc(by, node, 0.8 * draws.chance())
    for finding in range(12):
        background = net.add(pyagrum.LabelizedVariable(f"background{finding}", "", 3))
        net.cpt(background).fillWith(distribution(draws, 0.2))
        first = int(draws.chance() * 8)
        worst = net.addMAX(pyagrum.LabelizedVariable(f"worst{finding}", "", 3))
        net.addArc(background, worst)
        for place in range(3):
            cause = (first + place) % 8
            shown = net.add(pyagrum.LabelizedVariable(f"shown{finding}by{cause}", "", 3))
            net.addArc(cause, shown)
            net.cpt(shown)[{f"cause{cause}": 0}] = [1.0, 0.0, 0.0]
            net.cpt(shown)[{f"cause{cause}": 1}] = distribution(draws, 0.5)
            net.addArc(shown, worst)
        hidden = net.addNoisyORNet(binary(f"hidden{finding}"), 0.0)
        for by in ((first + 3) % 8, first):
            net.addWeightedArc(by, hidden, draws.chance())
        seen = net.add(pyagrum.LabelizedVariable(f"finding{finding}", "", 3))
        net.addArc(worst, seen)
        net.addArc(hidden, seen)
        for outcome in range(3):
            for is_hidden in range(2):
                shares = [0.0, 0.0, 0.0]
                shares[0 if is_hidden else outcome] = 1.0
                net.cpt(seen)[{f"worst{finding}": outcome, f"hidden{finding}": is_hidden}] = shares
        is_seen = finding % 2 == 0
        evidence[f"finding{finding}"] = (
            int(3 * draws.chance()) if is_seen else [draws.chance() for _ in range(3)]
        )
    return net, evidence


def of_every_kind():
    """The marginals of that network as this program has them."""
    command = ["cargo", "bench", "--quiet", "--bench", "posterior", "--", "nothing is timed"]
    text = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    line = next(line for line in text.splitlines() if line.startswith("every kind "))
    return ast.literal_eval(line.removeprefix("every kind "))


def posteriors(engine, evidence, causes):
    engine.eraseAllEvidence()
    engine.setEvidence(evidence)
    engine.makeInference()
    return [engine.posterior(f"cause{cause}")[1] for cause in range(causes)]


def measured(engine, evidence):
    """The posteriors and the median microseconds."""
    found, times = posteriors(engine, evidence, CAUSES), []
    for _ in range(TURNS):
        start = time.perf_counter_ns()
        found = posteriors(engine, evidence, CAUSES)
        times.append(time.perf_counter_ns() - start)
    return found, statistics.median(times) / 1000


def furthest_apart(one, other):
    return max(abs(a - b) for a, b in zip(one, other, strict=True))


def main():
    marginals, medians = rust_side()
    print(f"python {platform.python_version()}, pyAgrum {pyagrum.__version__}, {version(['rustc', '-V'])}")
    print(f"{CAUSES} causes, {FINDINGS} findings all answered; microseconds, median of {TURNS}")
    print("parents | this | engine | pyAgrum | times faster | answers differ by")
    is_met = True
    for parents in (12, 4):
        net, evidence = network(parents)
        for name, kind in ENGINES.items():
            found, microseconds = measured(kind(net), evidence)
            apart = furthest_apart(found, marginals[parents])
            ratio = microseconds / medians[parents]
            is_met = is_met and apart <= TOLERANCE and ratio > 1
            print(f"{parents} | {medians[parents]:.1f} | {name} | {microseconds:.0f} | {ratio:.0f} | {apart:.0e}")
    net, evidence = every_kind()
    expected = of_every_kind()
    for name, kind in ENGINES.items():
        apart = furthest_apart(posteriors(kind(net), evidence, len(expected)), expected)
        is_met = is_met and apart <= TOLERANCE
        print(f"every kind | {name} | answers differ by {apart:.0e}")
    sys.exit(0 if is_met else 1)


if __name__ == "__main__":
    main()
