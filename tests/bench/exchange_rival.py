#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""exchange_rival.py FILE CODE_LIST: what one would write in an afternoon: csv rows into dicts by caption, numbers
made numbers, codes and letters looked up in a dict. It reads in a stream too, and it neither grades nor gives
places, units, runs or suggestions, so it has less to do than what it is held against."""

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

    def allowed(one, which):
        own = one.get(which) or {}
        if isinstance(own, str):  # the name of another list: "nodes"
            own = [named["code"] for named in whole[own]]
        return set(own) | set(one.get("habits", {}).get(which, {}))

    return {one["code"]: (allowed(one, "ch1"), allowed(one, "ch2")) for one in whole["codes"]}


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


def main():
    start = time.perf_counter()
    known = letters(sys.argv[2])
    count = observed = errors = 0
    metres = 0.0
    with open(sys.argv[1], encoding="utf-8", newline="") as file:
        for _header, observations in inspections(file):
            count += 1
            observed += len(observations)
            for one in observations:
                metres += one["I"] or 0
                errors += errors_of(one, known)
    seconds = time.perf_counter() - start
    megabytes = os.path.getsize(sys.argv[1]) / 1e6
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
    print(f"inspections {count} observations {observed} metres {metres:.2f} errors {errors}")
    print(f"{megabytes:.1f} MB in {seconds:.2f} s, {megabytes / seconds:.1f} MB/s, peak {peak:.1f} MB resident")


if __name__ == "__main__":
    main()
