"""Makes tests/data/optima.csv: small matching problems with their optimum by two independent solvers.

    pip install ortools scipy scikit-image numpy
    python optima.py > ../data/optima.csv

Lab: IEC 61966-2-1 transfer curve and primaries, D65 white, CIE 15. CIEDE2000: scikit-image.
Optimum: OR-tools SimpleMinCostFlow, and HiGHS through scipy as a linear program; both must agree.
"""

import numpy as np
from ortools.graph.python import min_cost_flow
from scipy.optimize import linprog
from skimage.color import deltaE_ciede2000

MATRIX = np.array(
    [
        [0.41239079926595923, 0.357584339383878, 0.1804807884018343],
        [0.21263900587151022, 0.715168678767756, 0.07219231536073371],
        [0.019330818715591853, 0.11919477979462612, 0.9505321522496607],
    ]
)


def lab(rgb):
    v = np.asarray(rgb, dtype=float) / 255
    linear = np.where(v <= 0.04045, v / 12.92, ((v + 0.055) / 1.055) ** 2.4)
    t = linear @ MATRIX.T / MATRIX.sum(axis=1)
    f = np.where(t > 216 / 24389, np.cbrt(t), (24389 / 27 * t + 16) / 116)
    return np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], axis=-1)


def costs(wanted, palette):
    a, b = np.meshgrid(np.arange(len(wanted)), np.arange(len(palette)), indexing="ij")
    difference = deltaE_ciede2000(lab(wanted)[a], lab(palette)[b])
    scaled = 1000 * difference
    # Nothing may hang on the last bit of a rounding.
    assert (np.abs(scaled % 1 - 0.5) > 1e-5).all()
    return np.rint(scaled).astype(np.int64)


def by_flow(cost, counts, stock):
    n, k = cost.shape
    flow = min_cost_flow.SimpleMinCostFlow()
    for i in range(n):
        for j in range(k):
            flow.add_arc_with_capacity_and_unit_cost(i, n + j, int(counts[i]), int(cost[i, j]))
    for j in range(k):
        flow.add_arc_with_capacity_and_unit_cost(n + j, n + k, int(stock[j]), 0)
    for i in range(n):
        flow.set_node_supply(i, int(counts[i]))
    flow.set_node_supply(n + k, -int(counts.sum()))
    assert flow.solve() == flow.OPTIMAL
    return flow.optimal_cost()


def by_highs(cost, counts, stock):
    n, k = cost.shape
    equal = np.kron(np.eye(n), np.ones(k))
    most = np.kron(np.ones(n), np.eye(k))
    found = linprog(cost.ravel(), A_ub=most, b_ub=stock, A_eq=equal, b_eq=counts, method="highs")
    assert found.status == 0
    return round(found.fun)


def instance(rng, number):
    k = int(rng.integers(2, 13))
    n = int(rng.integers(1, 60))
    palette = rng.integers(0, 256, (k, 3))
    if number % 4 == 0:  # greys among them
        palette[0] = [palette[0, 0]] * 3
    centre = rng.integers(0, 256, 3)
    spread = [10, 60, 255][number % 3]
    wanted = np.unique(np.clip(centre + rng.integers(-spread, spread + 1, (n, 3)), 0, 255), axis=0)
    counts = rng.integers(1, [2, 30, 400][number % 3], len(wanted), endpoint=True)
    need = int(counts.sum())
    share = rng.dirichlet(np.ones(k) * 0.7)
    stock = np.floor(share * need * rng.uniform(1.0, 1.3)).astype(int)
    stock[int(rng.integers(k))] += max(0, need - int(stock.sum())) + int(rng.integers(0, 3))
    return wanted, counts, palette, stock


def hexes(colours):
    return "|".join("%02x%02x%02x" % tuple(c) for c in colours)


def numbers(values):
    return "|".join(str(int(v)) for v in values)


if __name__ == "__main__":
    rng = np.random.default_rng(20)
    print("wanted,counts,palette,stock,optimum")
    made = 0
    while made < 60:
        wanted, counts, palette, stock = instance(rng, made)
        try:
            cost = costs(wanted, palette)
        except AssertionError:
            continue
        optimum = by_flow(cost, counts, stock)
        assert optimum == by_highs(cost, counts, stock)
        print(f"{hexes(wanted)},{numbers(counts)},{hexes(palette)},{numbers(stock)},{optimum}")
        made += 1
