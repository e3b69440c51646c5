"""Intervals, Fisher's test, survival and dew points by general libraries, for `tests/reference`.

Run once: pip install scipy==1.17.1 statsmodels==0.15.0 psychrolib==2.5.0; python chances.py > ../chances.json
"""

import json
import sys
from importlib.metadata import version

import psychrolib
from scipy import stats
from statsmodels.duration.survfunc import SurvfuncRight
from statsmodels.stats.proportion import proportion_confint

psychrolib.SetUnitSystem(psychrolib.SI)


def interval(k, n):
    lower, upper = proportion_confint(k, n, alpha=0.05, method="beta")
    if k != int(k) or n != int(n):
        lower = 0.0 if k == 0 else stats.beta.ppf(0.025, k, n - k + 1)
        upper = 1.0 if k == n else stats.beta.ppf(0.975, k + 1, n - k)
    return {"k": k, "n": n, "from": float(lower), "to": float(upper)}


def fisher(a, all_a, b, all_b):
    p = stats.fisher_exact([[a, all_a - a], [b, all_b - b]]).pvalue
    return {"a": [a, all_a], "b": [b, all_b], "p": float(p)}


def survival(count, looks):
    times, status, left = [], [], count
    for day, lost, taken in looks:
        # Lost in a round, then taken out sound: taken ones count as at risk in that round.
        times += [day] * (lost + taken)
        status += [1] * lost + [0] * taken
        left -= lost + taken
    times += [looks[-1][0] + 1] * left
    status += [0] * left
    found = SurvfuncRight(times, status)
    points = [
        {"day": int(t), "sound": float(s), "error": float(e) if s > 0 else None, "at_risk": int(r)}
        for t, s, e, r in zip(found.surv_times, found.surv_prob, found.surv_prob_se, found.n_risk)
    ]
    looks = [{"day": d, "lost": lost, "taken": taken} for d, lost, taken in looks]
    return {"count": count, "looks": looks, "points": points}


out = {
    "by": {name: version(name) for name in ["scipy", "statsmodels", "psychrolib"]},
    "intervals": [interval(k, n) for k, n in [(0, 2), (2, 2), (1, 10), (0, 30), (30, 30), (3, 40), (12, 40), (50, 500), (450, 500), (1.5, 12.5), (0.4, 7.25), (11.8, 12.0), (99, 100), (1, 1000)]],
    "fisher": [fisher(*case) for case in [(1, 2, 0, 2), (3, 10, 0, 10), (8, 10, 1, 10), (12, 40, 1, 44), (0, 5, 0, 5), (5, 5, 5, 5), (30, 100, 10, 100), (2, 7, 6, 9), (1, 100, 99, 100)]],
    "survival": [survival(40, [(14, 0, 2), (35, 2, 3), (63, 1, 4), (90, 6, 0), (105, 5, 2), (140, 4, 3)]), survival(8, [(60, 1, 0), (100, 3, 1), (140, 3, 0)])],
    "dew_points": [{"celsius": t, "humidity": h, "dew_point": psychrolib.GetTDewPointFromRelHum(t, h / 100)} for t in [1.0, 5.0, 10.0, 15.0, 25.0] for h in [30, 50, 70, 95]],
}
print(json.dumps(out, indent=1))
print("written", file=sys.stderr)
