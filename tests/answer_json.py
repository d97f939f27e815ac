"""The answer of the library in JSON against `coiltrim sweep --json --si` for each example, and for
texts that are wrong. What both have under one name must be the same.
Usage: answer_json.py PROGRAM EXAMPLES; COILTRIM_LIBRARY names the library."""
import json
import math
import pathlib
import subprocess
import sys

program, examples = sys.argv[1], pathlib.Path(sys.argv[2])
sys.path.insert(0, str(examples / "library"))
import pick  # noqa: E402: the example is what is tested

faults = 0


def fault(*words):
    global faults
    faults += 1
    if faults <= 20:
        print(*words)


def same(a, b):
    if isinstance(a, float) or isinstance(b, float):
        # Nine digits are written.
        return math.isclose(a, b, rel_tol=2e-8, abs_tol=1e-12)
    return a == b


def compare(place, ours, theirs, at_least):
    shared = set(ours) & set(theirs)
    if len(shared) < at_least:
        fault(place, "shares only", sorted(shared))
    for name in shared:
        a, b = ours[name], theirs[name]
        if isinstance(a, dict) or isinstance(a, list):
            continue
        if not same(a, b):
            fault(place, name, a, "in the library,", b, "in the program")


def check(path):
    ran = subprocess.run([program, "sweep", path, "--json", "--si"], capture_output=True, check=False)
    answer = pick.answer(path.read_bytes())
    if ran.returncode not in (0, 10):
        if answer["status"] == "done" or not answer["why"]:
            fault(path.name, "is wrong, and the library says", answer["status"])
        return 0
    if answer["status"] != "done":
        fault(path.name, answer["status"], answer["why"])
        return 0
    theirs = json.loads(ran.stdout)
    compare(f"{path.name}: pick:", answer["pick"], theirs["pick"], 2)
    if answer["pick"]["found"] != (ran.returncode == 0):
        fault(path.name, "pick found", answer["pick"]["found"], "but exit code", ran.returncode)
    compare(f"{path.name}: fails_on:", answer["pick"]["fails_on"], theirs["pick"]["fails_on"], 0)
    if answer.get("fits") != theirs.get("fits"):
        fault(path.name, "fits", answer.get("fits"), "in the library")
    if [f["check"] for f in answer["findings"]] != [f["check"] for f in theirs["findings"]]:
        fault(path.name, "has other findings")
    if [a["key"] for a in answer["assumed"]] != [a["key"] for a in theirs["assumed"]]:
        fault(path.name, "assumes something else")
    for kind in ("taps", "points"):
        if len(answer[kind]) != len(theirs[kind]):
            fault(path.name, kind, len(answer[kind]), len(theirs[kind]))
        for i, (a, b) in enumerate(zip(answer[kind], theirs[kind])):
            compare(f"{path.name}: {kind} {i}:", a, b, 15 if b["status"] == "balanced" else 4)
            if set(a["limits"]) != set(b["limits"]):
                fault(path.name, kind, i, "has other limits")
    return 1


done = sum(check(path) for path in sorted(examples.glob("*.yaml")))
if done < 3:
    fault("only", done, "examples were compared")

wrong = pick.answer("site: {outdoor_dry_bulb: 95 bogus\u00e9\U0001f600}".encode())
if wrong["status"] != "wrong_input" or not any("bogus" in f["given"] for f in wrong["faults"]):
    fault("a wrong text:", wrong)
for text in (b"", b"\0", b"\xff\xfe", b"[", b"a: " + b"[" * 3000, b"x" * 100000):
    if pick.answer(text)["status"] != "wrong_input":
        fault("taken:", text[:20])
print(done, "examples compared")
sys.exit(faults > 0)
