"""The order in which areas are coated: farthest from the exit first."""

from collections import deque

from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff.edges import Edges


def placing_order(site: Site, edges: list[Edges]) -> list[int]:
    """1 for the area that is coated first, for each area in the site's order.

    Distance is counted in doorways passed on the way to the nearest exit. Areas from which no
    exit is reached through joined edges come first, as they are left by a door of their own;
    areas equally far keep the site's order.
    """
    numbers = {area.id: index for index, area in enumerate(site.areas)}
    neighbours: list[list[int]] = [[] for _ in site.areas]
    for index, one in enumerate(edges):
        for name in one.joins:
            other = numbers.get(name)
            if other is not None:
                neighbours[index].append(other)
                neighbours[other].append(index)
    unreached = len(site.areas)
    distance = [unreached] * len(site.areas)
    queue = deque(index for index, one in enumerate(edges) if one.exits)
    for index in queue:
        distance[index] = 0
    while queue:
        index = queue.popleft()
        for other in neighbours[index]:
            if distance[other] == unreached:
                distance[other] = distance[index] + 1
                queue.append(other)
    ranked = sorted(range(len(distance)), key=lambda index: -distance[index])
    order = [0] * len(ranked)
    for rank, index in enumerate(ranked, start=1):
        order[index] = rank
    return order
