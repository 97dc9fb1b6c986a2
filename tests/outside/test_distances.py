"""Distance and bearing to a plant, as the phone reckons them, against published geodesics."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).parent

# Twenty geodesics on WGS84 in high precision: C. F. F. Karney, GeographicLib, test suite
# (tests/geodtest.c, "testcases", MIT licence), https://geographiclib.sourceforge.io/.
# lat1, lon1 [degrees], azimuth at 1 [degrees], lat2, lon2 [degrees], distance [m].
KARNEY = [
    (35.60777, -139.44815, 111.098748429560326, -11.17491, -69.95921, 8935244.5604818305),
    (55.52454, 106.05087, 22.020059880982801, 77.03196, 197.18234, 4105086.1713924406),
    (-21.97856, 142.59065, -32.44456876433189, 41.84138, 98.56635, 8394328.894657671),
    (-66.99028, 112.2363, 173.73491240878403, -12.70631, 285.90344, 11150344.2312080241),
    (-17.42761, 173.34268, -159.033557661192928, -15.84784, 5.93557, 16076603.1631180673),
    (32.84994, 48.28919, 150.492927788121982, -56.28556, 202.29132, 16727068.9438164461),
    (6.96833, 52.74123, 92.581585386317712, -7.39675, 206.17291, 17102477.2496958388),
    (-50.56724, -16.30485, -105.439679907590164, -33.56571, -94.97412, 6455670.5118668696),
    (-58.93002, -8.90775, 140.965397902500679, -8.91104, 133.13503, 11756066.0219864627),
    (-68.82867, -74.28391, 93.774347763114881, -50.63005, -8.36685, 3956936.926063544),
    (-10.62672, -32.0898, -86.426713286747751, 5.883, -134.31681, 11470869.3864563009),
    (-21.76221, 166.90563, 29.319421206936428, 48.72884, 213.97627, 9098627.3986554915),
    (-19.79938, -174.47484, 71.167275780171533, -11.99349, -154.35109, 2319004.8601169389),
    (-11.95887, -116.94513, 92.712619830452549, 4.57352, 7.16501, 13834722.5801401374),
    (-87.85331, 85.66836, -65.120313040242748, 66.48646, 16.09921, 17286615.3147144645),
    (1.74708, 128.32011, -101.584843631173858, -11.16617, 11.87109, 12942901.1241347408),
    (-25.72959, -144.90758, -153.647468693117198, -57.70581, -269.17879, 9413446.7452453107),
    (-41.22777, 122.32875, 14.285113402275739, -7.57291, 130.37946, 3812686.035106021),
    (11.01307, 138.25278, 79.43682622782374, 6.62726, 247.05981, 11911190.819018408),
    (-29.47124, 95.14681, -163.779130441688382, -27.46601, -69.15955, 13487015.8381145492),
]


def position(lat: float, lon: float) -> dict[str, int]:
    """As the logbook writes it; five decimals lose nothing in 1e-7 degrees."""
    return {"lat_e7": round(lat * 1e7), "lon_e7": round(lon * 1e7)}


@pytest.fixture(scope="module")
def courses() -> list[dict[str, Any]]:
    """What the phone's own code answers."""
    pairs = [[position(one[0], one[1]), position(one[3], one[4])] for one in KARNEY]
    command = ["node", "--no-warnings", str(HERE / "course.mjs")]
    done = subprocess.run(
        command, input=json.dumps(pairs), capture_output=True, text=True, check=True, timeout=60
    )
    answer: list[dict[str, Any]] = json.loads(done.stdout)
    return answer


def test_distances_to_a_tenth_of_a_millimetre(courses: list[dict[str, Any]]) -> None:
    assert [course["metres"] for course in courses] == pytest.approx(
        [line[5] for line in KARNEY], abs=1e-4
    )


def test_bearings_to_a_millionth_of_a_degree(courses: list[dict[str, Any]]) -> None:
    assert [course["degrees"] for course in courses] == pytest.approx(
        [line[2] % 360 for line in KARNEY], abs=1e-6
    )
