"""Three forecasts by Monte Carlo, fruit by fruit, for `tests/reference/ripening_monte.rs`.

Run: python3 -m venv v; v/bin/pip install numpy scipy; v/bin/python ripening.py > ../ripening.json
It takes half a minute. `tests/run` runs it again where a python3 with numpy and scipy is at hand
(LUGBOOK_PYTHON names it) with --check; without one the committed numbers stand.

It reads the published table and the documented priors from `data/ripening.json`, and shares
nothing else with the program: no quadrature, no grid, no rate sums. Each season draws what is not
known (rate, lag, share that never ripens, losses), then each fruit its maturity, and lives on by
two hours. Fruit of one lot are a little alike, as the book of evidence says.
"""

import json
import sys
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import scipy
from scipy.special import ndtri

DATA = Path(__file__).resolve().parents[3] / "data"
BOOK = json.loads((DATA / "ripening.json").read_text())
CROPS = {crop["slug"]: crop for crop in json.loads((DATA / "crops.json").read_text())}
TOMATO = next(model for model in BOOK["models"] if model["id"] == "tomato")
SEED = 20261009
SEASONS = 1500
QUANTILES = (0.1, 0.5, 0.9)
STAGES = ("breakers", "turning", "pink", "light_red")

# days to red by row, by column of temperature
COLUMNS = np.array([cell["celsius"] for cell in TOMATO["rows"][0]["cells"]])
ROWS = np.array([[cell["days"] for cell in row["cells"]] for row in TOMATO["rows"]])
SEGMENTS = ROWS - np.vstack([ROWS[1:], np.zeros_like(ROWS[:1])])


def days_of(row, celsius):
    """Days a row of the table takes: ln days straight between columns, 189 kJ/mol below, held above."""
    days = float(np.exp(np.interp(celsius, COLUMNS, np.log(row))))
    if celsius < COLUMNS[0]:
        per_kelvin = BOOK["below_table"]["activation_kj_per_mol"]["value"] / 0.008314462618
        days *= float(np.exp(per_kelvin * (1 / (celsius + 273.15) - 1 / (COLUMNS[0] + 273.15))))
    return days


def drying(celsius, humidity):
    saturated = 0.6108 * np.exp(17.27 * celsius / (celsius + 237.3))
    per_kpa = BOOK["loss"]["drying_percent_per_day_per_kpa"]["value"] / 100
    return per_kpa * saturated * (1 - humidity / 100)


def rot(celsius):
    loss = BOOK["loss"]
    tens = (celsius - loss["rot_at_celsius"]["value"]) / 10
    return loss["rot_percent_per_day"]["value"] / 100 * loss["rot_q10"]["value"] ** tens


STEPS = 12


def hours(room, day):
    """Temperatures of a day, every two hours."""
    if "min" in room:
        mean, swing = (room["min"] + room["max"]) / 2, (room["max"] - room["min"]) / 2
        return mean + swing * np.cos(2 * np.pi * (2 * np.arange(STEPS) + 1 - 15) / 24)
    if isinstance(room["celsius"], list):
        known = [step["celsius"] for step in room["celsius"] if step["day"] <= day.isoformat()]
        return np.full(STEPS, float(known[-1] if known else room["celsius"][0]["celsius"]))
    return np.full(STEPS, float(room["celsius"]))


def seasons(dice):
    prior = BOOK["belief"]
    spread = lambda row: row["median"] * np.exp(row["sd_log"] * dice.standard_normal(SEASONS))
    logit = np.log(prior["never"]["median"] / (1 - prior["never"]["median"]))
    never = 1 / (1 + np.exp(-(logit + prior["never"]["sd_log"] * dice.standard_normal(SEASONS))))
    return spread(prior["rate"]), spread(prior["lag_days"]), never, spread(prior["loss"])


def start(lot, n, dice, lag, never):
    """Position and lag of n fruit of every season, from an urn: each fruit is new, or like one before
    it. The share of a lot beyond any maturity then varies as p(1-p)(1/n + rho), rho as documented."""
    rho = BOOK["evidence"]["sorted_correlation" if "rounds" in lot else "lot_correlation"]["value"]
    others = 1 / rho - 1
    rank, luck = dice.random((SEASONS, n)), dice.random((SEASONS, n))
    season = np.arange(SEASONS)
    for i in range(1, n):
        like = dice.random(SEASONS) >= others / (others + i)
        of = dice.integers(0, i, SEASONS)
        rank[like, i] = rank[season[like], of[like]]
        luck[like, i] = luck[season[like], of[like]]
    position, wait = np.ones((SEASONS, n)), np.zeros((SEASONS, n))
    immature = np.zeros((SEASONS, n), dtype=bool)
    if "stages" in lot:
        counts = np.array([lot["stages"].get(stage, 0) for stage in STAGES], dtype=float)
        ends = np.cumsum(counts / counts.sum())
        which = np.searchsorted(ends, rank, side="right").clip(0, 3)
        begins = np.concatenate([[0], ends[:-1]])
        within = (rank - begins[which]) / np.maximum(ends[which] - begins[which], 1e-12)
        at = {row["stage"]: row for row in TOMATO["stages"]}
        low = np.array([at[stage]["position"] - at[stage]["half_width"] for stage in STAGES])
        high = np.array([min(at[stage]["position"] + at[stage]["half_width"], 4.0) for stage in STAGES])
        position = low[which] + within * (high - low)[which]
    elif lot["class"] == "colouring":
        span = TOMATO["colouring"]
        position = span["from"] + rank * (span["to"] - span["from"])
    else:
        sd = BOOK["belief"]["lag_fruit_sd_log"]["value"]
        wait = lag[:, None] * np.exp(-sd * ndtri(rank))
        immature = luck < never[:, None]
    return position, wait, immature


def live(lot, room, today, days, dice, drawn_seasons):
    """Grams ripe by the evening of each day, by season."""
    rate, lag, never, loss = drawn_seasons
    picked = date.fromisoformat(lot.get("picked", today.isoformat()))
    sorted_on = date.fromisoformat(lot["rounds"][-1]["day"]) if "rounds" in lot else None
    grams = 1000 * (lot["rounds"][-1]["left_kg"] if sorted_on else lot["kg"])
    n = max(1, round(grams / CROPS["tomato"]["fruit_grams"]["value"]))
    # Where fruit was sorted, more are drawn, and of those still unripe as many as were left stay.
    drawn = 4 * n if sorted_on else n
    position, wait, immature = start(lot, drawn, dice, lag, never)
    weight = np.full(position.shape, grams / n)
    sound = np.ones(position.shape, dtype=bool)
    ripe_by = np.zeros((SEASONS, days))
    humidity = room.get("humidity", BOOK["loss"]["humidity_percent"]["value"])
    day = picked
    while day < today + timedelta(days=days - 1):
        day += timedelta(days=1)
        new = np.zeros(position.shape, dtype=bool)
        for celsius in hours(room, day):
            m = rate[:, None] / STEPS
            # The lag's last two days are the table's first segment, at its own rate.
            tail = days_of(SEGMENTS[0], 20.0)
            waiting = wait > tail
            wait = np.where(waiting, wait - m * days_of(ROWS[0], 20.0) / days_of(ROWS[0], celsius), wait)
            nearly = (wait > 0) & ~waiting
            wait = np.where(nearly, wait - m * tail / days_of(SEGMENTS[0], celsius), wait)
            runs = (wait <= 0) & ~immature & (position < 4)
            speed = np.array([1 / days_of(SEGMENTS[0], celsius)] + [1 / days_of(SEGMENTS[s], celsius) for s in (1, 2, 3)] + [0.0])
            moved = position + np.where(runs, m * of_stage(speed, position), 0.0)
            turned = (moved >= 4) & (position < 4)
            position = np.minimum(moved, 4.0)
            if sorted_on is None or day > sorted_on:
                weight *= np.exp(-loss[:, None] * drying(celsius, humidity) / STEPS)
                sound &= dice.random(position.shape) >= 1 - np.exp(-loss[:, None] * rot(celsius) / STEPS)
                new |= turned
        # What turned on a day is weighed in its evening.
        since = max(0, (day - today).days)
        ripe_by[:, since] += np.where(new & sound, weight, 0.0).sum(axis=1)
        if day == sorted_on:
            unripe = position < 4
            rank = np.cumsum(unripe, axis=1)
            stays = unripe & (rank <= n)
            # A season in which too few are unripe is one in which every fruit is overdue.
            short = np.maximum(stays.sum(axis=1), 1)
            weight = np.where(stays, (grams / short)[:, None], 0.0)
            sound = stays
    return np.cumsum(ripe_by, axis=1)


def of_stage(speed, position):
    """Segments per day where a fruit stands; before breakers (a stage's lower half) at the first segment's pace."""
    return np.where(position < 1, speed[0], speed[np.clip(position, 1, 4).astype(int)])


CASES = [
    {"today": "2026-10-09", "days": 11, "learn": False, "lots": [
        {"crop": "tomato", "class": "colouring", "kg": 25, "room": {"celsius": 20}}]},
    {"today": "2026-10-12", "days": 24, "learn": False, "lots": [
        {"crop": "tomato", "class": "green", "kg": 40, "picked": "2026-10-09", "room": {
            "celsius": [{"day": "2026-10-09", "celsius": 12}, {"day": "2026-10-15", "celsius": 20}], "humidity": 60}}]},
    {"today": "2026-10-13", "days": 12, "learn": False, "lots": [
        {"crop": "tomato", "stages": {"breakers": 40, "turning": 30, "pink": 20, "light_red": 10}, "kg": 11, "picked": "2026-10-11",
         "room": {"min": 11, "max": 19, "humidity": 85}},
        {"crop": "tomato", "class": "colouring", "kg": 18, "picked": "2026-10-09", "room": {"celsius": 18.5},
         "rounds": [{"day": "2026-10-13", "ripe_kg": 5.5, "left_kg": 12}]}]},
]


def told(case):
    dice = np.random.default_rng(SEED)
    drawn = seasons(dice)
    today, days = date.fromisoformat(case["today"]), case["days"]
    total = sum(live(lot, lot["room"], today, days, dice, drawn) for lot in case["lots"])
    by_day = []
    for i in range(days):
        grams = total[:, i]
        row = {"by_then": [], "error": []}
        for share in QUANTILES:
            off = np.sqrt(share * (1 - share) / SEASONS)
            low, at, high = np.quantile(grams, [share - off, share, share + off])
            row["by_then"].append(round(float(at), 1))
            row["error"].append(round(float(high - low) / 2, 1))
        by_day.append(row)
    return {"case": case, "days": by_day}


def check(answer):
    """Holds what was drawn now against what is committed: the same seed may draw otherwise in another
    version of numpy, but not further off than its own error allows."""
    committed = json.loads((Path(__file__).parents[1] / "ripening.json").read_text())
    for was, now in zip(committed["cases"], answer["cases"], strict=True):
        if was["case"] != now["case"]:
            sys.exit("the cases have changed: write ripening.json anew")
        for day, (old, new) in enumerate(zip(was["days"], now["days"], strict=True)):
            for a, b, error in zip(old["by_then"], new["by_then"], old["error"]):
                if abs(a - b) > 6 * error + 150:
                    sys.exit(f"day {day}: {b} g now, {a} g committed: write ripening.json anew")
    print("the Monte Carlo draws what is committed")


if __name__ == "__main__":
    answer = {
        "made_by": "generate/ripening.py",
        "numpy": np.__version__,
        "scipy": scipy.__version__,
        "seed": SEED,
        "seasons": SEASONS,
        "cases": [told(case) for case in CASES],
    }
    if "--check" in sys.argv:
        check(answer)
    else:
        json.dump(answer, sys.stdout, indent=1)
        print()
