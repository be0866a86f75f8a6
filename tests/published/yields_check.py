#!/usr/bin/python3
"""What a cut gave, against JAGS: the model of section 1 of the mathematics, written down here in its language, for data
sets from none to many. Means, 5 % and 95 % of the clone's mean and of the next mother, and how much comes from records,
agree within what JAGS's own drawing leaves open. No code of ours in it. JAGS missing is a failure.

Counts of the trade: S01 (8 cm bulbs: in 4 gave 10 bulblets, in 8 gave 13), S04 (12 chips gave 20.4, 24 half-chips 28.5
a mother), S06 (4 sections gave 8.8); trade-values.csv, rows V003, V004, V018, V019, V035.
"""
import concurrent.futures
import json
import math
import os
import shutil
import subprocess
import sys
import tempfile

BINARY = os.environ["MOTHERBULB_BINARY"]
LONG = bool(os.environ.get("MOTHERBULB_LONG"))
CHAINS = 4
DRAWS = 120_000 if LONG else 12_000  # of each chain
BATCHES = 10  # of each chain, for the error of what is drawn
STANDARD_ERRORS = 4.5
OWN = 1.5e-3  # what ours may be off by

USUAL = {"u": {"mean": math.log(14), "sd": 0.5}, "b": {"mean": 0.45, "sd": 0.15}, "d": {"mean": 1, "sd": 0.5},
         "log_f": {"mean": math.log(3), "sd": 0.7}, "t": {"sd": 0.4}}


def pot(clone, k, c, s, y):
    return {"clone": clone, "k": k, "c": c, "s": s, "y": y}


def ask(clone, k, c):
    return {"clone": clone, "k": k, "c": c}


def spread_pots(clone, k, c, s, counts):
    return [pot(clone, k, c, s, y) for y in counts]


# Name, priors, pots, asks, and whether many pots of few clones hold the clones' levels (then they are drawn as such).
CASES = [
    ("no pots", USUAL, [], [ask(None, 8, 26), ask(None, 24, 18)], False),
    ("no pots, a weak source", dict(USUAL, u={"mean": 2, "sd": 1}), [], [ask(None, 4, 12)], False),
    ("one pot of nothing", USUAL, [pot("A", 8, 26, 8, 0)], [ask("A", 8, 26), ask(None, 8, 26)], False),
    ("S01, in 8", USUAL, [pot("A", 8, 25.1, 8, 13)], [ask("A", 8, 25.1), ask("A", 16, 30)], False),
    ("S01, S04 and S06", USUAL,
     [pot("S01", 4, 25.1, 4, 10), pot("S01", 8, 25.1, 8, 13), pot("S04", 12, 26, 120, 204), pot("S04", 24, 26, 240, 285),
      pot("S06", 4, 26, 40, 88)], [ask("S01", 8, 25.1), ask("S04", 12, 26), ask("S06", 4, 26), ask(None, 8, 26)], False),
    ("three clones, few pots", dict(USUAL, u={"mean": math.log(14), "sd": 1}),
     [pot("A", 8, 22, 8, 5), pot("B", 8, 28, 16, 41), pot("B", 4, 28, 4, 3), pot("C", 16, 24, 16, 30),
      pot("C", 16, 24, 16, 9), pot("C", 8, 24, 8, 12)], [ask("A", 8, 22), ask("C", 8, 30), ask("D", 8, 26)], False),
    ("ten pots of nothing", USUAL, spread_pots("A", 8, 26, 8, [0] * 10), [ask("A", 8, 26)], False),
    ("forty pots at 8, asked at 8 and 32", USUAL,
     spread_pots("A", 8, 26, 8, [11, 14, 9, 12, 7, 18, 13, 10, 12, 15] * 4), [ask("A", 8, 26), ask("A", 32, 26)], True),
    ("thousands", dict(USUAL, u={"mean": 2.5, "sd": 1}), spread_pots("A", 4, 22, 400, [1000, 1200, 800, 1500]),
     [ask("A", 4, 22)], True),
    ("whole, in 1", USUAL, [pot("A", 1, 26, 3, 2), pot("A", 1, 26, 2, 5)], [ask("A", 1, 26)], False),
    ("propagules: b is 1", dict(USUAL, u={"mean": 2, "sd": 1}, b={"mean": 1, "sd": 0}),
     [pot("A", 20, 24, 40, 31), pot("B", 60, 24, 60, 70)], [ask("A", 20, 24), ask("B", 30, 26)], False),
]


# ------------------------------------------------------------------------------------------------ JAGS

def model_text(priors, pots, asks, levels):
    def normal(name, bounds=""):
        prior = priors[name]
        if prior["sd"] == 0:
            return f"  {name} <- {prior['mean']!r}\n"
        return f"  {name} ~ dnorm({prior['mean']!r}, {prior['sd'] ** -2!r}){bounds}\n"

    clones = max(1, len(clone_numbers(pots, asks)))
    text = "model {\n" + normal("u") + normal("b", " T(0,1)") + normal("d") + normal("log_f")
    text += f"  t ~ dnorm(0, {priors['t']['sd'] ** -2!r}) T(0,)\n  f <- exp(log_f)\n"
    text += f"  for (j in 1:{clones}) {{\n"
    text += "    a[j] ~ dnorm(u, 1 / (t * t))\n" if levels else "    h[j] ~ dnorm(0, 1)\n    a[j] <- u + t * h[j]\n"
    text += "  }\n"
    if pots:
        text += (f"  for (i in 1:{len(pots)}) {{\n"
                 "    mu[i] <- s[i] / k[i] * exp(a[clone[i]]) * (k[i] / 8)^b * (c[i] / 26)^d\n"
                 "    p[i] <- f / (f + mu[i] / s[i])\n    r[i] <- s[i] * f\n    y[i] ~ dnegbin(p[i], r[i])\n  }\n")
    text += (f"  for (i in 1:{len(asks)}) {{\n"
             "    m[i] <- exp(a[ask_clone[i]]) * (ask_k[i] / 8)^b * (ask_c[i] / 26)^d\n"
             "    q[i] <- ask_k[i] * f / (ask_k[i] * f + m[i])\n    z[i] <- ask_k[i] * f\n"
             "    next_y[i] ~ dnegbin(q[i], z[i])\n  }\n}\n")
    return text


def clone_numbers(pots, asks):
    numbers = {}
    for one in pots + asks:
        numbers.setdefault(one["clone"], len(numbers) + 1)
    return numbers


def data_text(pots, asks):
    numbers = clone_numbers(pots, asks)

    def column(name, values):
        values = [repr(value) for value in values]
        return f"{name} <- c({', '.join(values)})\n" if len(values) != 1 else f"{name} <- structure(c({values[0]}), .Dim = c(1))\n"

    text = ""
    if pots:
        text += column("clone", [numbers[one["clone"]] for one in pots])
        text += "".join(column(name, [one[name] for one in pots]) for name in ("k", "c", "s", "y"))
    text += column("ask_clone", [numbers[one["clone"]] for one in asks])
    return text + column("ask_k", [one["k"] for one in asks]) + column("ask_c", [one["c"] for one in asks])


def drawn_by_jags(folder, priors, pots, asks, levels):
    """For each ask, the chains of m and of next_y."""
    def write(name, text):
        with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
            file.write(text)

    write("model.bug", model_text(priors, pots, asks, levels))
    write("data.R", data_text(pots, asks))
    script = f"model in model.bug\ndata in data.R\ncompile, nchains({CHAINS})\n"
    for chain in range(1, CHAINS + 1):
        write(f"start{chain}.R", f'".RNG.name" <- "base::Mersenne-Twister"\n".RNG.seed" <- {1000 + chain}\n')
        script += f"parameters in start{chain}.R, chain({chain})\n"
    script += f"initialize\nupdate 4000\nmonitor m\nmonitor next_y\nupdate {DRAWS}\ncoda *\n"
    write("script.txt", script)
    ran = subprocess.run(["jags", "script.txt"], cwd=folder, capture_output=True, text=True, timeout=3000)
    if ran.returncode != 0 or not os.path.exists(os.path.join(folder, "CODAindex.txt")):
        raise RuntimeError("JAGS: " + ran.stdout + ran.stderr)
    with open(os.path.join(folder, "CODAindex.txt"), encoding="utf-8") as file:
        index = {name: (int(first), int(last)) for name, first, last in (line.split() for line in file)}
    chains = []
    for chain in range(1, CHAINS + 1):
        with open(os.path.join(folder, f"CODAchain{chain}.txt"), encoding="utf-8") as file:
            chains.append([float(line.split()[1]) for line in file])

    def of(name, which):
        first, last = index.get(f"{name}[{which}]") or index[name]
        return [values[first - 1:last] for values in chains]

    return [(of("m", i), of("next_y", i)) for i in range(1, len(asks) + 1)]


# ------------------------------------------------------------------------------------------------ comparing

def mean(values):
    return sum(values) / len(values)


def variance(values):
    middle = mean(values)
    return sum((value - middle) ** 2 for value in values) / len(values)


def quantile(part):
    return lambda values: sorted(values)[int(part * len(values))]


def told(chains, figure):
    """A figure of all draws, and its error from how it differs between batches."""
    all_draws = [value for chain in chains for value in chain]
    batches = []
    for chain in chains:
        size = len(chain) // BATCHES
        batches += [figure(chain[i * size:(i + 1) * size]) for i in range(BATCHES)]
    return figure(all_draws), math.sqrt(variance(batches) / (len(batches) - 1))


def faults_of(name, ask_, answer, draws, priors):
    m, next_y = draws
    where = f"{name}: {ask_['clone']} in {ask_['k']} at {ask_['c']} cm"
    faults = []

    def compare(what, ours, chains, figure, own=None):
        theirs, error = told(chains, figure)
        allowed = STANDARD_ERRORS * error + (OWN * abs(theirs) if own is None else own)
        print(f"  {where}: {what} ours {ours:.5g} JAGS {theirs:.5g} +- {error:.2g}")
        if not abs(ours - theirs) <= allowed:
            faults.append(f"{where}: {what} is {ours}, JAGS has {theirs} with an error of {error}")

    compare("mean of m", answer["clone_mean"]["mean"], m, mean)
    compare("5 % of m", answer["clone_mean"]["p5"], m, quantile(0.05))
    compare("95 % of m", answer["clone_mean"]["p95"], m, quantile(0.95))
    compare("mean of the next mother", answer["per_mother"]["mean"], next_y, mean)
    logs = [[math.log(value) for value in chain] for chain in m]
    from_records = lambda values: min(1, max(0, 1 - variance(values) / prior_variance(priors, ask_)))
    compare("from records", answer["from_records"], logs, from_records, own=2e-3)
    # The smallest whole y whose chance of y or fewer reaches the part: reached there, and not one below.
    for part, key in ((0.05, "p5"), (0.95, "p95")):
        y = answer["per_mother"][key]
        reached, error = told(next_y, lambda values: mean([value <= y for value in values]))
        below, error_below = told(next_y, lambda values: mean([value < y for value in values]))
        print(f"  {where}: next mother {key} is {y}: JAGS has {below:.4f} below, {reached:.4f} up to it")
        if reached < part - STANDARD_ERRORS * error - OWN or below > part + STANDARD_ERRORS * error_below + OWN:
            faults.append(f"{where}: {key} of the next mother is {y}, of which JAGS has {below} to {reached}")
    return faults


def prior_variance(priors, ask_):
    """As section 1 gives it; of b cut to (0, 1) by summing over a fine line."""
    b = priors["b"]
    spread_b = 0
    if b["sd"] > 0:
        line = [(i + 0.5) / 20_000 for i in range(20_000)]
        weights = [math.exp(-0.5 * ((x - b["mean"]) / b["sd"]) ** 2) for x in line]
        middle = sum(w * x for w, x in zip(weights, line)) / sum(weights)
        spread_b = sum(w * (x - middle) ** 2 for w, x in zip(weights, line)) / sum(weights)
    return (priors["u"]["sd"] ** 2 + priors["t"]["sd"] ** 2 + spread_b * math.log(ask_["k"] / 8) ** 2
            + priors["d"]["sd"] ** 2 * math.log(ask_["c"] / 26) ** 2)


def check(case):
    name, priors, pots, asks, levels = case
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "yields.json")
        with open(path, "w", encoding="utf-8") as file:
            json.dump({"name": name, "priors": priors, "pots": pots, "ask": asks}, file)
        ran = subprocess.run([BINARY, "yields", "--model", path, "--format", "json"], capture_output=True, text=True,
                             timeout=60)
        if ran.returncode != 0:
            return [f"{name}: motherbulb yields ended with {ran.returncode}: {ran.stderr}"]
        answers = json.loads(ran.stdout)
        if [(one["clone"], one["k"], one["c"]) for one in answers] != [(one["clone"], one["k"], one["c"]) for one in asks]:
            return [f"{name}: the answers are not in the order of the asks"]
        draws = drawn_by_jags(folder, priors, pots, asks, levels)
    faults = []
    for ask_, answer, drawn in zip(asks, answers, draws):
        faults += faults_of(name, ask_, answer, drawn, priors)
    return faults


def main():
    if not shutil.which("jags"):
        print("jags is missing; install it (tests/install_packages)")
        return 1
    with concurrent.futures.ProcessPoolExecutor(max_workers=2) as pool:
        faults = [fault for found in pool.map(check, CASES) for fault in found]
    for fault in faults:
        print("FAULT", fault)
    print(f"{len(CASES)} data sets, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
