"""Solves instances written by the bench `exact` with OR-tools SimpleMinCostFlow on colour classes.

    pip install ortools numpy
    python solve.py FOLDER

Prints the optimum and the seconds of the solver alone, and of building its graph.
"""

import sys
import time
from pathlib import Path

import numpy as np
from ortools.graph.python import min_cost_flow

FORBIDDEN = 2**31 - 1


def read(path):
    data = path.read_bytes()
    classes, colours = np.frombuffer(data, "<u4", 2)
    place = 8
    counts = np.frombuffer(data, "<u4", classes, place)
    place += 4 * int(classes)
    stock = np.frombuffer(data, "<u8", colours, place)
    place += 8 * int(colours)
    costs = np.frombuffer(data, "<i4", int(classes) * int(colours), place)
    return counts.astype(np.int64), stock.astype(np.int64), costs.reshape(classes, colours).astype(np.int64)


def solve(counts, stock, costs):
    """Nodes: classes, then colours, then one sink that takes exactly the cells."""
    n, k = costs.shape
    begin = time.perf_counter()
    flow = min_cost_flow.SimpleMinCostFlow()
    tails = np.repeat(np.arange(n), k)
    heads = n + np.tile(np.arange(k), n)
    open_arcs = costs.ravel() != FORBIDDEN
    capacity = np.repeat(counts, k)
    flow.add_arcs_with_capacity_and_unit_cost(
        tails[open_arcs], heads[open_arcs], capacity[open_arcs], costs.ravel()[open_arcs]
    )
    total = int(counts.sum())
    flow.add_arcs_with_capacity_and_unit_cost(
        n + np.arange(k), np.full(k, n + k), np.minimum(stock, total), np.zeros(k, dtype=np.int64)
    )
    supplies = np.concatenate([counts, np.zeros(k, dtype=np.int64), [-total]])
    flow.set_nodes_supplies(np.arange(n + k + 1), supplies)
    built = time.perf_counter()
    status = flow.solve()
    done = time.perf_counter()
    assert status == flow.OPTIMAL, status
    return flow.optimal_cost(), done - built, built - begin


if __name__ == "__main__":
    print("instance      classes  colours  solve s  build s  optimum")
    for path in sorted(Path(sys.argv[1]).glob("*.bin"), key=lambda p: p.stat().st_size):
        counts, stock, costs = read(path)
        optimum, seconds, building = solve(counts, stock, costs)
        print(f"{path.stem:12} {len(counts):8} {len(stock):8}  {seconds:7.3f}  {building:7.3f}  {optimum}", flush=True)
