"""The workloads in vectors of numpy: only units that fail cost anything, all draws at once.

Cover is decided at detection (W1). It leaves out what the workloads leave out too: call-out, exits of providers, refused
claims, days of claims; and, beyond them, months of their true length, reserves, parameter sets, every analysis and the
report. Overlapping outages count in full. Random numbers, delays and lives are of single precision.

    peer.py WORLD DRAWS SEED [SITES | means]

WORLD as peers.ts writes it. With SITES the draws are those of a fleet of one option; with `means` no percentile is asked.
"""
import json
import resource
import sys

import numpy as np

F = np.float32


def read(path):
    numbers = iter(open(path).read().split())
    real = lambda: float(next(numbers))
    whole = lambda: int(next(numbers))
    world = {"horizon": real(), "discount": real(), "parts": real(), "labour": real()}
    months, options = whole(), whole()
    world["worth"] = np.array([real() for _ in range(months + 1)])
    world["options"] = [[population(real, whole) for _ in range(whole())] for _ in range(options)]
    return world


def population(real, whole):
    names = ("parts", "labour", "warranty", "share", "detect", "detectSigma", "respond", "respondSigma")
    found = {"count": whole(), **{name: real() for name in names}}
    found["modes"] = [(real(), real()) for _ in range(whole())]
    return found


class Life:
    """Ages at failure: closed form for one mode, else a table of ages by probability."""

    def __init__(self, modes, horizon):
        self.modes = modes
        hazard = lambda t: sum((t / life) ** shape for shape, life in modes)
        self.byHorizon = float(-np.expm1(-hazard(horizon)))
        if len(modes) > 1:
            self.ages = np.concatenate([[0], np.geomspace(1e-7, horizon, 20000)])
            self.levels = hazard(self.ages)

    def below(self, rng, n):
        """Ages of units that fail before the horizon."""
        uniform = rng.random(n, dtype=F)
        level = -np.log1p(-(uniform * F(self.byHorizon)))
        if len(self.modes) > 1:
            return np.interp(level, self.levels, self.ages).astype(F)
        shape, life = self.modes[0]
        return F(life) * level ** F(1 / shape)


def play(world, unit, draws, rng):
    """Draw, moment of payment or nothing, bill, worth of the outage, of every failure."""
    horizon = world["horizon"]
    worth = world["worth"]
    life = Life(unit["modes"], horizon)
    failing = np.full(draws, unit["count"]) if life.byHorizon >= 1 else rng.binomial(unit["count"], life.byHorizon, draws)
    draw = np.repeat(np.arange(draws, dtype=np.int32), failing)
    at = life.below(rng, len(draw))
    rounds = []
    while len(draw) > 0:
        detected = at + F(unit["detect"] / 365) * np.exp(F(unit["detectSigma"]) * rng.standard_normal(len(at), dtype=F))
        back = detected + F(unit["respond"] / 365) * np.exp(F(unit["respondSigma"]) * rng.standard_normal(len(at), dtype=F))
        paid = back < horizon
        lost = F(unit["share"]) * (until(worth, np.minimum(back, F(horizon))) - until(worth, at))
        bill = F(unit["labour"]) * np.exp(F(world["labour"]) * back)
        bill += np.where(detected >= F(unit["warranty"]), F(unit["parts"]) * np.exp(F(world["parts"]) * back), F(0))
        bill *= paid
        rounds.append((draw, back, bill, lost))
        again = paid & (rng.random(len(at), dtype=F) < F(life.byHorizon))
        draw, back = draw[again], back[again]
        at = back + life.below(rng, len(draw))
        soon = at < horizon
        draw, at = draw[soon], at[soon]
    return [np.concatenate(column) for column in zip(*rounds)]


def until(worth, at):
    place = at * F(12)
    month = np.minimum(place.astype(np.int32), len(worth) - 2)
    low = worth[month]
    return low + (place - month) * (worth[month + 1] - low)


def option(world, units, draws, sites, rng, ranks):
    years = int(world["horizon"])
    total = np.zeros(draws)
    cash = np.zeros((years, draws)) if ranks else None
    failures = 0
    # some draws at a time, so that the columns stay near the processor
    step = max(1, 100_000 // sum(unit["count"] * sites for unit in units), min(draws, 5_000 // sites))
    for first in range(0, draws, step):
        n = min(step, draws - first)
        for unit in units:
            draw, back, bill, lost = play(world, {**unit, "count": unit["count"] * sites}, n, rng)
            failures += len(draw)
            worth = bill * np.exp(F(-world["discount"]) * back) + lost
            total[first : first + n] += np.bincount(draw, weights=worth, minlength=n)
            if ranks:
                place = np.minimum(back.astype(np.int32), years - 1) * n + draw
                cash[:, first : first + n] += np.bincount(place, weights=bill, minlength=n * years).reshape(years, n)
    found = {
        "failures": failures / draws / sites,
        "cost": float(total.mean()) / sites,
        "error": float(total.std() / np.sqrt(draws)) / sites,
        "percentiles": [],
        "cash": [],
    }
    if ranks:
        found["percentiles"] = at_ranks(total, (0.05, 0.1, 0.5, 0.9, 0.95))
        np.cumsum(cash, axis=0, out=cash)
        found["cash"] = [value for year in cash for value in at_ranks(year, (0.5, 0.8, 0.9, 0.95))]
    return found


def at_ranks(values, shares):
    places = [int(share * (len(values) - 1)) for share in shares]
    return [float(value) for value in np.partition(values, places)[places]]


def main():
    world = read(sys.argv[1])
    draws, seed = int(sys.argv[2]), int(sys.argv[3])
    last = sys.argv[4] if len(sys.argv) > 4 else ""
    rng = np.random.Generator(np.random.SFC64(seed))
    sites = int(last) if last.isdigit() else 1
    found = [option(world, units, draws, sites, rng, last != "means") for units in world["options"]]
    used = resource.getrusage(resource.RUSAGE_SELF)
    cpu = used.ru_utime + used.ru_stime
    print(json.dumps({"options": found, "cpuSeconds": cpu, "peakMb": used.ru_maxrss / 1024}))


main()
