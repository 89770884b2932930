"""A survey of five thousand points: read, laid into its plane, put in order, fitted and joined, next to reading its figures alone."""

from __future__ import annotations

import io

import numpy as np

from geometry.incoming.survey import read_survey
from geometry.outline import perimeter, rectangle, station_at

POINTS = 5000


def survey() -> bytes:
    generator = np.random.default_rng(7)
    outline = rectangle(1200, 600, radius=60)
    rows = ["x;y;z;station;depth"]
    for number in range(POINTS):
        station = station_at(outline, perimeter(outline) * number / POINTS)
        off, out, deep = generator.normal(0.0, 0.2, 3)
        x, y = station.point.x + off * station.outward.x, station.point.y + off * station.outward.y
        rows.append(f"{4000 - x:.3f};{2000 + out:.3f};{1500 + y:.3f};{number};{16 + deep:.2f}")
    return "\n".join(rows).encode()


def test_a_survey_of_five_thousand_points(compare):
    data = survey()
    compare(
        f"a survey of {POINTS} points in space, to its outline",
        lambda: read_survey(data, name="scan.csv", seen_from="+y"),
        "numpy reads its figures",
        lambda: np.genfromtxt(io.BytesIO(data), delimiter=";", skip_header=1),
        target=20,
    )
