"""Reference plans for the generated kitchens, by HiGHS through scipy.optimize.milp.

    cargo run --release -p shared-types --example plan -- write DIR
    python3 tests/reference/plan_model.py DIR tests/reference/plan_table.json --time 20

For each problem of DIR it solves two models, one thread each:

- `written`: the model that Lugbook writes (NN.lp), read as text;
- `python`: a model of the problem (NN.json) written down here without a look at Lugbook's. Its
  fruit is not balanced in sums: every kilogram goes from the day it turns ready to the day it is
  used, within the days it keeps, or is lost.

The table holds, for each, the best value found, the bound that was proven, and the seconds spent.
Needs numpy and scipy. A table that is there already is taken up where it ended.
"""

import argparse
import datetime
import json
import math
import pathlib
import time

import numpy as np
from scipy import optimize, sparse


class Model:
    """Columns and rows; the value is to be as great as can be."""

    def __init__(self):
        self.worth, self.least, self.most, self.whole = [], [], [], []
        self.rows, self.low, self.high = [], [], []
        self.constant = 0.0

    def column(self, worth=0.0, most=math.inf, least=0.0, whole=False):
        for held, value in zip(
            (self.worth, self.least, self.most, self.whole), (worth, least, most, whole)
        ):
            held.append(value)
        return len(self.worth) - 1

    def row(self, terms, low=-math.inf, high=math.inf):
        if terms:
            self.rows.append(terms)
            self.low.append(low)
            self.high.append(high)

    def solve(self, seconds):
        data, at, columns = [], [0], []
        for terms in self.rows:
            for column, factor in terms:
                columns.append(column)
                data.append(factor)
            at.append(len(columns))
        matrix = sparse.csr_matrix((data, columns, at), shape=(len(self.rows), len(self.worth)))
        matrix.sum_duplicates()
        began = time.monotonic()
        found = optimize.milp(
            -np.array(self.worth),
            constraints=optimize.LinearConstraint(matrix, self.low, self.high),
            bounds=optimize.Bounds(self.least, self.most),
            integrality=np.array(self.whole, dtype=int),
            options={"time_limit": seconds, "mip_rel_gap": 1e-4},
        )
        told = {"seconds": round(time.monotonic() - began, 2)}
        if found.x is not None:
            told["objective"] = round(-found.fun + self.constant, 6)
        if found.mip_dual_bound is not None:
            told["bound"] = round(-found.mip_dual_bound + self.constant, 6)
        return told


def written(text):
    """Reads the LP text, as much of the format as Lugbook writes."""
    model, names, section, words = Model(), {}, None, []

    def column(name):
        if name not in names:
            names[name] = model.column()
        return names[name]

    def terms(words):
        found = []
        for sign, factor, name in zip(words[::3], words[1::3], words[2::3]):
            found.append((column(name), float(factor) * (-1.0 if sign == "-" else 1.0)))
        return found

    statements, current = [], []
    for line in text.splitlines():
        if line.startswith("\\"):
            continue
        if line in ("Maximize", "Subject To", "Bounds", "Generals", "End"):
            statements.append((section, current))
            section, current = line, []
        elif line.startswith("   "):
            current[-1] += line
        else:
            current.append(line)
    for section, lines in statements:
        for line in lines:
            words = line.split()
            if section == "Maximize":
                for at, factor in terms(words[1:]):
                    model.worth[at] += factor
            elif section == "Subject To":
                sense, right = words[-2], float(words[-1])
                low = right if sense in (">=", "=") else -math.inf
                high = right if sense in ("<=", "=") else math.inf
                model.row(terms(words[1:-2]), low, high)
            elif section == "Bounds" and words[1] == "=":
                at = column(words[0])
                model.least[at] = model.most[at] = float(words[2])
            elif section == "Bounds":
                at = column(words[2])
                model.least[at], model.most[at] = float(words[0]), float(words[4])
            elif section == "Generals":
                model.whole[column(words[0])] = True
    return model


def python(problem):
    """The problem, kilogram by kilogram."""
    model = Model()
    days = problem.get("days", 14)
    today = datetime.date.fromisoformat(problem["today"])
    worth = {"waste": 0.25, "waiting_a_day": 0.001, "moving_kg": 0.05, **problem.get("worth", {})}
    stands = {}  # lot, room -> column that is 1 when it stands there
    for lot in problem["lots"]:
        for room in lot["rooms"]:
            away = lot.get("standing") not in (None, room["room"])
            known = any(one["room"] == lot.get("standing") for one in lot["rooms"])
            cost = -worth["moving_kg"] if away and known else 0.0
            stands[lot["id"], room["room"]] = model.column(cost, 1.0, whole=True)
        model.row([(stands[lot["id"], room["room"]], 1.0) for room in lot["rooms"]], 1.0, 1.0)
    for room in problem.get("rooms", []):
        if room.get("holds_grams") is not None:
            here = []
            for lot in problem["lots"]:
                if (lot["id"], room["id"]) in stands:
                    most = max(sum(one.get("ready_grams", [])) for one in lot["rooms"])
                    heavy = (most + lot.get("waiting_grams", 0)) / 1000
                    here.append((stands[lot["id"], room["id"]], heavy))
            model.row(here, high=room["holds_grams"] / 1000)

    # Ways from the day fruit turns ready to the day it is used: columns by where they come from.
    flows = {}  # (lot index, is waiting, day of use) -> columns

    def source(kg, depends, key, first, last):
        if kg <= 0 or first >= days:
            return
        ends = last <= days - 1
        columns = []
        for day in range(first, min(last, days - 1) + 1):
            use = model.column(0.0, kg)
            flows.setdefault((*key, day), []).append(use)
            columns.append(use)
        lost = model.column(-worth["waste"] if ends else 0.0, kg)
        terms = [(one, 1.0) for one in columns] + [(lost, 1.0)]
        if depends is None:
            model.row(terms, kg, kg)
        else:
            model.row([*terms, (depends, -kg)], 0.0, 0.0)

    def ready_class(lot):
        return lot.get("ready_class", lot["class"])

    for at, lot in enumerate(problem["lots"]):
        for room in lot["rooms"]:
            for day, grams in enumerate(room.get("ready_grams", [])):
                depends = stands[lot["id"], room["room"]]
                source(grams / 1000, depends, (at, False), day, day + room["keeps_days"])
        keeps = lot.get("waiting_keeps_days")
        last = days if keeps is None else keeps
        source(lot.get("waiting_grams", 0) / 1000, None, (at, True), 0, last)

    hands, burners, loads, dried, frozen = ([[] for _ in range(days)] for _ in range(5))
    freezer, jars, lids = [], {}, []
    taken = {}  # (lot index, is waiting, day) -> columns that take from it
    for method in problem["methods"]:
        of_method, of_day = [], [[] for _ in range(days)]
        evening = method.get("evening")
        jar = method.get("jar")
        beyond = method["weight"]
        if method.get("wanted_grams") is not None:
            beyond = method.get("weight_beyond", method["weight"] / 5)
        groups = {}
        for at, lot in enumerate(problem["lots"]):
            if method["kind"] != "compost" and method["kind"] not in lot["uses"]:
                continue
            for waiting in (False, True):
                kind = lot["class"] if waiting else ready_class(lot)
                takes = method.get("any") or any(
                    one["crop"] == lot["crop"] and kind in one["classes"]
                    for one in method.get("takes", [])
                )
                if takes:
                    key = (lot["crop"], kind, tuple(lot["uses"]), lot.get("fitness"), waiting)
                    groups.setdefault(key, []).append((at, waiting))
        for members in groups.values():
            for day in range(1 if evening else 0, days):
                when = day - 1 if evening else day
                total = []
                for at, waiting in members:
                    value = beyond - worth["waiting_a_day"] * day
                    column = model.column(value)
                    taken.setdefault((at, waiting, when), []).append(column)
                    total.append(column)
                all_of = [(column, 1.0) for column in total]
                fruit = sum(problem["lots"][at]["waiting_grams"] if waiting else max(
                    sum(room.get("ready_grams", [])) for room in problem["lots"][at]["rooms"]
                ) for at, waiting in members) / 1000
                most = min(fruit, (method.get("most_grams") or 1e9) / 1000)
                made = model.column(0.0, 1.0, whole=True)
                model.row([*all_of, (made, -most)], high=0.0)
                model.row([*all_of, (made, -method.get("least_grams", 0) / 1000)], low=0.0)
                load = None
                if jar:
                    load = model.column(0.0, 60, whole=True)
                    model.row([*all_of, (load, -jar["grams"] * jar["a_load"] / 1000)], high=0.0)
                    loads[day].append((load, 1.0))
                    a_kg = [(column, 1000 / jar["grams"]) for column in total]
                    jars.setdefault(jar["size"], []).extend(a_kg)
                    lids.extend(a_kg)
                for where, minutes, on in (
                    (hands, method.get("hands"), day),
                    (hands, evening, when),
                    (burners, method.get("burners"), day),
                ):
                    if minutes:
                        where[on].append((made, minutes.get("a_batch", 0)))
                        where[on].extend((c, minutes.get("a_kg", 0)) for c in total)
                        if load is not None:
                            where[on].append((load, minutes.get("a_load", 0)))
                if method["kind"] == "dry":
                    dried[day].extend(all_of)
                if method["kind"] == "freeze":
                    frozen[day].extend(all_of)
                    freezer.extend(all_of)
                of_day[day].extend(all_of)
                of_method.extend(all_of)
        if method.get("most_a_day_grams") is not None:
            for terms in of_day:
                model.row(terms, high=method["most_a_day_grams"] / 1000)
        if method.get("wanted_grams") is not None and of_method:
            wanted = model.column(method["weight"] - beyond, method["wanted_grams"] / 1000)
            model.row([*of_method, (wanted, -1.0)], low=0.0)
    for key in set(taken) | set(flows):
        terms = [(column, 1.0) for column in taken.get(key, [])]
        terms += [(column, -1.0) for column in flows.get(key, [])]
        model.row(terms, 0.0, 0.0)
    for day in range(days):
        date = (today + datetime.timedelta(days=day)).isoformat()
        limit = {"hands_minutes": 180, "canner_loads": 2, "dryer_grams": 0}
        for told in (problem.get("a_day", {}), problem.get("by_day", {}).get(date, {})):
            limit.update({name: value for name, value in told.items() if value is not None})
        model.row(hands[day], high=limit["hands_minutes"])
        model.row(loads[day], high=limit["canner_loads"])
        model.row(dried[day], high=limit["dryer_grams"] / 1000)
        if "burner_minutes" in limit:
            model.row(burners[day], high=limit["burner_minutes"])
        if "freezer_grams" in limit:
            model.row(frozen[day], high=limit["freezer_grams"] / 1000)
    stock = problem.get("stock", {})
    if stock.get("freezer_grams") is not None:
        model.row(freezer, high=stock["freezer_grams"] / 1000)
    for size, many in stock.get("jars", {}).items():
        model.row(jars.get(size, []), high=many)
    if stock.get("lids") is not None:
        model.row(lids, high=stock["lids"])
    return model


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("folder", type=pathlib.Path)
    arguments.add_argument("table", type=pathlib.Path)
    arguments.add_argument("--time", type=float, default=20.0)
    arguments.add_argument("--only", nargs="*", default=["written", "python"])
    arguments.add_argument("--last", type=int, default=50)
    asked = arguments.parse_args()
    table = json.loads(asked.table.read_text()) if asked.table.exists() else {}
    for file in sorted(asked.folder.glob("[0-9][0-9].json"))[: asked.last]:
        number = file.stem
        row = table.setdefault(number, {})
        problem = json.loads(file.read_text())
        if "written" in asked.only and "written" not in row:
            row["written"] = written(file.with_suffix(".lp").read_text()).solve(asked.time)
        if "python" in asked.only and "python" not in row:
            row["python"] = python(problem).solve(asked.time)
        print(number, row, flush=True)
        lines = [f'  "{key}": {json.dumps(value)}' for key, value in sorted(table.items())]
        asked.table.write_text("{\n" + ",\n".join(lines) + "\n}\n")


if __name__ == "__main__":
    main()
