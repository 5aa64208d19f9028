#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""exchange_rival.py FILE CODE_LIST [SCHEME]: what one would write in an afternoon: csv rows into dicts by caption,
numbers made numbers, codes and letters looked up in a dict, and with SCHEME each pipe graded by the three goals,
written down once more from the published steps. It reads in a stream too, and it gives no places, units, reasons
or suggestions, so it has less to do than what it is held against."""

import csv
import json
import os
import resource
import sys
import time


def letters(code_list):
    """code -> letters of characterisation 1 and 2."""
    with open(code_list, encoding="utf-8") as file:
        whole = json.load(file)

    def allowed(one, place):
        own = one.get(("ch1", "ch2")[place]) or {}
        if isinstance(own, str):  # the name of another list: "nodes"
            own = [named["code"] for named in whole[own]]
        habits = {pair[place:place + 1] for habit in one.get("habits", ()) for pair in habit["pairs"]}
        return set(own) | habits

    return {one["code"]: (allowed(one, 0), allowed(one, 1)) for one in whole["codes"]}


def errors_of(observation, known):
    """How much is wrong with one observation."""
    errors = 0
    entry = known.get(observation["A"])
    if entry is None:
        return 1
    for letter, allowed in (("B", entry[0]), ("C", entry[1])):
        if observation[letter] and observation[letter] not in allowed:
            errors += 1
    for hour in (observation["G"], observation["H"]):
        if hour is not None and not 1 <= hour <= 12:
            errors += 1
    if observation["I"] is None or observation["I"] < 0:
        errors += 1
    return errors


def inspections(file):
    """One after another: header as a dict, observations as a list of dicts."""
    separator, quote = ";", '"'
    header, observations, columns, codes = {}, [], None, None
    for line in file:
        if line.startswith("#"):
            mark, _, rest = line.rstrip("\r\n").partition("=")
            if mark == "#A3":
                separator = rest
            elif mark == "#A5":
                quote = rest
            elif mark == "#Z":
                yield header, observations
                header, observations, columns = {}, [], None
            elif mark.startswith("#B"):
                codes = rest.split(separator)
            elif mark == "#C":
                columns = rest.split(separator)
                # The same iterator goes on: this loop takes the rows, the outer one what follows #Z.
                rows = csv.reader(file, delimiter=separator, quotechar=quote)
                for row in rows:
                    if row[0] == "#Z":
                        yield header, observations
                        header, observations, columns = {}, [], None
                        break
                    one = dict(zip(columns, row))
                    for number in ("I", "D", "E"):
                        try:
                            one[number] = float(one[number]) if one[number] else None
                        except ValueError:
                            pass  # node references stand in D by habit
                    for hour in ("G", "H"):
                        one[hour] = int(one[hour]) if one[hour] else None
                    observations.append(one)
        elif codes is not None:
            values = next(csv.reader([line], delimiter=separator, quotechar=quote))
            header.update(zip(codes, values))
            codes = None


class Grader:
    """Rows and points of a three-goals scheme file, laid out for looking up."""

    def __init__(self, scheme, code_list):
        with open(scheme, encoding="utf-8") as file:
            whole = json.load(file)
        with open(code_list, encoding="utf-8") as file:
            self.stiffness = {one["code"]: one.get("stiffness") for one in json.load(file)["materials"]}
        self.goals = whole["goals"]
        self.numbers = {int(grade): number for grade, number in whole["class_numbers"]["numbers"].items()}
        self.conditions = whole["boundary_points"]["conditions"]
        self.least = whole["least_final_number"]["value"]
        self.bounds = {int(grade): low for grade, low in whole["object_class"]["from"].items()}
        self.otherwise = whole["object_class"]["otherwise"]
        self.not_graded = {code for one in whole["not_graded"] for code in one["codes"]}
        self.rows = {}
        for row in whole["rows"]:
            self.rows.setdefault((row["code"], row["goal"]), []).append(row)

    def class_of(self, seen, goal, pipe, bore):
        for row in self.rows.get((seen["A"], goal), ()):
            if "ch1" in row and seen["B"] not in row["ch1"] or "ch2" in row and seen["C"] not in row["ch2"]:
                continue
            when = row.get("when", {})
            if "pipe" in when and pipe != when["pipe"]:
                continue
            if "bore_above_mm" in when and not bore > when["bore_above_mm"]:
                continue
            if "bore_to_mm" in when and not bore <= when["bore_to_mm"]:
                continue
            if "class" in row:
                return row["class"]
            size = seen["D" if row["quantity"] == "q1" else "E"]
            if size is None:
                return None
            reached = [int(grade) for grade, low in row["from"].items() if size >= low]
            return max(reached) if reached else row.get("otherwise")
        return None

    def points(self, seen, goal, system):
        total = 0
        for condition in self.conditions:
            field = condition["field"]
            if field == "place":
                holding = places(seen["G"], seen["H"])
            elif field == "joint":
                holding = ("yes" if seen["K"] == "A" else "no",)
            else:
                holding = (system,) if field == "system" else ()
            total += max((option["points"][goal] for option in condition["options"]
                          if option["when"] in holding and goal in option["points"]), default=0)
        return total

    def grade(self, header, observations):
        """How many findings have a class, and the class of the pipe."""
        system = {"A": "foul water", "B": "surface water", "C": "combined"}.get(header.get("ACK"))
        pipe, bore = self.stiffness.get(header.get("ACD")), float(header["ACB"])
        classed, worst = 0, None
        begun = {}
        for one in observations:
            if one["J"][:1] == "A":
                begun[one["J"][1:]] = one
            elif one["J"][:1] == "B" and one["J"][1:] in begun:
                begin = begun.pop(one["J"][1:])
                for size in ("D", "E"):
                    if one[size] is not None and one["A"] not in self.not_graded:
                        begin[size] = max(begin[size], one[size])
                one["ends"] = True
        for one in observations:
            if one["A"] in self.not_graded or "ends" in one:
                continue
            has_class = False
            for goal in self.goals:
                grade = self.class_of(one, goal, pipe, bore)
                if grade is None:
                    continue
                has_class = True
                number = max(self.least, self.numbers[grade] + self.points(one, goal, system))
                worst = number if worst is None else max(worst, number)
            classed += has_class
        if worst is None:
            return classed, None
        return classed, max([grade for grade, low in self.bounds.items() if worst >= low], default=self.otherwise)


def places(first, last):
    """The halves of the circumference that an arc touches, as the table of points names them."""
    if first is None:
        return ()
    if last is None:
        last = first
    elif (first, last) == (12, 12):
        return ("whole",)
    if (first, last) in ((3, 9), (9, 3)):
        return ("lower",) if first == 3 else ("upper",)
    hours = [(first + step - 1) % 12 + 1 for step in range((last - first) % 12 + 1)]
    return [half for half, there in (("lower", any(3 <= hour <= 9 for hour in hours)),
                                     ("upper", any(hour >= 9 or hour <= 3 for hour in hours))) if there]


def main():
    start = time.perf_counter()
    known = letters(sys.argv[2])
    grader = Grader(sys.argv[3], sys.argv[2]) if len(sys.argv) > 3 else None
    count = observed = errors = classed = 0
    pipes = {}
    metres = 0.0
    with open(sys.argv[1], encoding="utf-8", newline="") as file:
        for header, observations in inspections(file):
            count += 1
            observed += len(observations)
            for one in observations:
                metres += one["I"] or 0
                errors += errors_of(one, known)
            if grader is not None:
                here, grade = grader.grade(header, observations)
                classed += here
                pipes[grade] = pipes.get(grade, 0) + 1
    seconds = time.perf_counter() - start
    megabytes = os.path.getsize(sys.argv[1]) / 1e6
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
    print(f"inspections {count} observations {observed} metres {metres:.2f} errors {errors}")
    if grader is not None:
        by_class = " ".join(f"{grade}: {pipes[grade]}" for grade in sorted(pipes, key=lambda one: (one is None, one)))
        print(f"classed {classed} pipes by class {by_class}")
    print(f"{megabytes:.1f} MB in {seconds:.2f} s, {megabytes / seconds:.1f} MB/s, peak {peak:.1f} MB resident")


if __name__ == "__main__":
    main()
