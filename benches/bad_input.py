"""Times `dryhold check` on folders that are no handbook, or larger than any, and its memory.

Each folder is made up, checked once by the program, and taken away. What is refused ends with
status 5, what is only unusual with 0; never with anything else.

Run from the top of the project, with the program to measure:

    cargo build --release
    python benches/bad_input.py target/release/dryhold

Ends with status 1 if a check ends otherwise, takes more than 10 s or more than 300 MB.
"""

import os
import pathlib
import subprocess
import sys
import tempfile
import time

SECONDS, MEGABYTES = 10.0, 300
HEAD = "format: 1\nname: Trial\nversion: 1\n"
YES_NO = "  q{0}:\n    ask: Is number {0} so?\n    kind: yes/no\n"
NUMBER = "  q{0}:\n    ask: Number {0}?\n    kind: number\n    range: 0 to 10\n    basis: estimate\n"
TREE = "trees:\n  t:\n    title: T\n    start: s0\n    steps:\n"


def questions(count, text=YES_NO, start=0):
    return "questions:\n" + "".join(text.format(i) for i in range(start, start + count))


def row(count, step):
    """A tree of so many steps, each to the next."""
    steps = "".join(f"      s{i}:\n        {step(i)}\n        next: s{i + 1}\n" for i in range(count))
    return f"{TREE}{steps}      s{count}:\n        end: Done.\n"


def branch(condition, go, on):
    return (f"        next:\n          - if: {condition}\n            go: {go}\n"
            f"          - too_close: {on}\n          - unknown: {on}\n          - else: {on}\n")


def explosion(count, text, condition, last=""):
    """So many questions in a row, each with a branch, and each looked back at in the end."""
    tree = TREE
    for i in range(count):
        tree += f"      s{i}:\n        ask: q{i}\n{branch(condition(i), f'y{i}', f's{i + 1}')}"
        tree += f"      y{i}:\n        do: Do it.\n        next: s{i + 1}\n"
    tree += f"      s{count}:\n        do: Look back.\n        next: r0\n"
    for i in range(count):
        tree += f"      r{i}:\n        do: Look.\n{branch(condition(i), f'z{i}', f'r{i + 1}')}"
        tree += f"      z{i}:\n        do: Put back.\n        next: r{i + 1}\n"
    if last:
        tree += f"      r{count}:\n        do: All.\n{branch(last, 'odd', 'even')}"
        tree += "      odd:\n        end: Odd.\n      even:\n        end: Even.\n"
    else:
        tree += f"      r{count}:\n        end: Done.\n"
    return {"q.yaml": questions(count, text), "t.yaml": tree}


def formulas(is_):
    return {"q.yaml": questions(1, NUMBER) + f"formulas:\n  f:\n    is: {is_}\n"}


def links(folder):
    os.symlink(".", folder / "itself")
    os.symlink("a.yaml", folder / "b.yaml")
    os.symlink("b.yaml", folder / "a.yaml")


def deep(folder):
    here = os.getcwd()
    os.chdir(folder)
    for _ in range(1000):
        os.mkdir("d")
        os.chdir("d")
    os.chdir(here)


ANCHOR = "questions:\n  a: &a\n    ask: Is it so?\n    kind: yes/no\n"
ONE = questions(1)
BOMB = "a: &a [x, x, x]\n" + "".join(
    f"{chr(98 + i)}: &{chr(98 + i)} [{','.join([f'*{chr(97 + i)}'] * 9)}]\n" for i in range(9))
LAUGHS = '<!DOCTYPE lolz [\n <!ENTITY lol0 "lol">\n' + "".join(
    f' <!ENTITY lol{i} "{f"&lol{i - 1};" * 10}">\n' for i in range(1, 10)) + "]>\n<lolz>&lol9;</lolz>\n"
VISIT = ("  t{0}:\n    title: T\n    start: a\n    steps:\n      a:\n        visit: t{1}\n        next: b\n"
         "      b:\n        visit: t{1}\n        next: c\n      c:\n        end: Done.\n")
LAST = "  t{0}:\n    title: T\n    start: a\n    steps:\n      a:\n        end: Done.\n"
CHAIN = "".join(f"  f{i}:\n    is: f{i + 1}\n" for i in range(9000)) + "  f9000:\n    is: q0\n"
RULES = "".join(f"          - if: q0 > {i % 9}.5\n            go: s1\n" for i in range(10000))

# What it is, the expected exit status, a maker of its files by name, what else is done to the folder.
CASES = [
    ("an empty folder", 5, None),
    ("10,000 files", 0, lambda: {f"{i}.yaml": questions(1, start=i) for i in range(10000)}),
    ("10,000 files, a misspelt key each", 5,
     lambda: {f"{i}.yaml": questions(1, start=i).replace("ask:", "asc:") for i in range(10000)}),
    ("20,001 files", 5, lambda: {f"{i}.yaml": "" for i in range(20001)}),
    ("a file of 50 MB", 5, lambda: {"big.yaml": ("# " + "x" * 97 + "\n") * 500000}),
    ("100 files of 1 MB", 5,
     lambda: {f"{i}.yaml": ("# " + "x" * 97 + "\n") * 10000 for i in range(100)}),
    ("an anchor and its alias", 5, lambda: {"q.yaml": ANCHOR + "  b: *a\n"}),
    ("a merge key", 5, lambda: {"q.yaml": ANCHOR + "  b:\n    <<: *a\n    say: So?\n"}),
    ("a tag", 5, lambda: {"q.yaml": ONE.replace("Is", "!!str Is")}),
    ("tabs", 5, lambda: {"q.yaml": ONE.replace("  ", "\t")}),
    ("a key one column to the left", 5, lambda: {"q.yaml": ONE.replace("    kind", "   kind")}),
    ("a key twice", 5, lambda: {"q.yaml": ONE + "    ask: Is it?\n"}),
    ("a byte order mark", 0, lambda: {"q.yaml": "\ufeff" + ONE}),
    ("UTF-16", 5, lambda: {"q.yaml": ONE.encode("utf-16")}),
    ("Latin-1", 5, lambda: {"q.yaml": ONE.replace("so", "fähig").encode("latin-1")}),
    ("links in circles", 5, lambda: {"q.yaml": ONE}, links),
    ("folders 1,000 deep", 5, lambda: {"q.yaml": ONE}, deep),
    ("10,000 brackets in each other", 5,
     lambda: {"q.yaml": "questions: " + "[" * 10000 + "]" * 10000}),
    ("10,000 maps in each other", 5,
     lambda: {"q.yaml": "questions: " + "{a: " * 10000 + "x" + "}" * 10000}),
    ("an alias bomb", 5, lambda: {"q.yaml": BOMB}),
    ("the text of a billion laughs", 5, lambda: {"q.yaml": LAUGHS}),
    ("a formula of 3,900 terms", 0, lambda: formulas(" + ".join(["q0"] * 3900))),
    ("a formula of 10,000 terms", 5, lambda: formulas(" + ".join(["q0"] * 10000))),
    ("a formula of 9,000 brackets", 5, lambda: formulas("(" * 9000 + "q0" + ")" * 9000)),
    ("a formula of 10,000 brackets", 5, lambda: formulas("(" * 10000 + "q0" + ")" * 10000)),
    ("a chain of 9,000 formulas", 0,
     lambda: {"q.yaml": questions(1, NUMBER) + "formulas:\n" + CHAIN}),
    ("100,000 questions", 5,
     lambda: {f"{i}.yaml": questions(10000, start=10000 * i) for i in range(10)}),
    ("a tree of 10,000 steps", 0, lambda: {"t.yaml": row(10000, lambda i: f"do: Part {i}.")}),
    ("10,000 steps that ask", 0,
     lambda: {"q.yaml": questions(10000), "t.yaml": row(10000, lambda i: f"ask: q{i}")}),
    ("10,000 conditions in a step", 0,
     lambda: {"q.yaml": questions(1, NUMBER),
      "t.yaml": f"{TREE}      s0:\n        ask: q0\n        next:\n{RULES}"
      "          - too_close: s1\n          - unknown: s1\n          - else: s1\n      s1:\n        end: E.\n"}),
    ("40 yes or no in a row, looked back at", 0, lambda: explosion(40, YES_NO, lambda i: f"q{i}")),
    ("the same, then all in one condition", 0,
     lambda: explosion(40, YES_NO, lambda i: f"q{i}",
      " or ".join(f"(q{i} and not q{i + 1})" for i in range(39)))),
    ("40 numbers, then their sum", 0,
     lambda: explosion(40, NUMBER, lambda i: f"q{i} > 5", " + ".join(f"q{i}" for i in range(40)) + " > 200")),
    ("400 yes or no in a row", 0, lambda: explosion(400, YES_NO, lambda i: f"q{i}")),
    ("1,500 yes or no in a row", 0, lambda: explosion(1500, YES_NO, lambda i: f"q{i}")),
    ("40 trees, each visiting the next twice", 0,
     lambda: {"t.yaml": "trees:\n" + "".join(VISIT.format(i, i + 1) for i in range(40)) + LAST.format(40)}),
    ("501 trees", 5, lambda: {"t.yaml": "trees:\n" + "".join(LAST.format(i) for i in range(501))}),
]


def fill(folder, files, more=None):
    """Fills a folder from another process: the most memory of a child counts from its parent's."""
    maker = os.fork()
    if maker == 0:
        if files is not None:
            (folder / "handbook.yaml").write_text(HEAD, encoding="utf-8")
            for name, text in files().items():
                (folder / name).write_bytes(text if isinstance(text, bytes) else text.encode())
        if more:
            more(folder)
        os._exit(0)
    os.waitpid(maker, 0)


def measure(program, folder):
    """The exit status, the seconds, the most memory in MB and the first line of one check."""
    start = time.monotonic()
    child = subprocess.Popen([program, "check", "trial"], cwd=folder.parent,
                             stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    first = child.stdout.readline().decode("utf-8", "replace").strip()
    while child.stdout.read(1 << 16):
        pass
    _, status, used = os.wait4(child.pid, 0)
    return os.waitstatus_to_exitcode(status), time.monotonic() - start, used.ru_maxrss / 1024, first


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    is_good = True
    print("| folder | exit | s | MB | first |\n| --- | --- | --- | --- | --- |")
    for what, wanted, files, *more in CASES:
        with tempfile.TemporaryDirectory() as parent:
            folder = pathlib.Path(parent) / "trial"
            folder.mkdir()
            fill(folder, files, *more)
            status, seconds, memory, first = measure(program, folder)
            subprocess.run(["rm", "-rf", str(folder)], check=True)
        is_met = status == wanted and seconds <= SECONDS and memory <= MEGABYTES
        is_good = is_good and is_met
        mark = "" if is_met else " **bar**"
        print(f"| {what} | {status} | {seconds:.2f} | {memory:.0f} | {first[:60]}{mark} |", flush=True)
    sys.exit(0 if is_good else 1)


if __name__ == "__main__":
    main()
