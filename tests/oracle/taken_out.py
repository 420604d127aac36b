"""Reads the archive of everything as files with Python's own readers of tar, CSV and JSON, and checks that it holds together.

Usage: taken_out.py ARCHIVE. `make oracle` makes the archive from the small shop of app/core/tests/store/taken_out.rs. Exit
status 1 if something does not hold.
"""

import csv
import hashlib
import io
import json
import sys
import tarfile

TABLES = ["customers", "pairs", "tickets", "jobs", "work", "money", "notes", "photographs", "prices"]


def read(path):
    """The files of the archive, by name."""
    with tarfile.open(path, "r:") as archive:
        return {member.name: archive.extractfile(member).read() for member in archive.getmembers()}


def table(files, name):
    """The lines of a table by heading. A reader that is strict refuses quotes where RFC 4180 has none."""
    text = files[f"{name}.csv"].decode("utf-8-sig")
    lines = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    head, rows = lines[0], lines[1:]
    for row in rows:
        assert len(row) == len(head), (name, row)
    return [dict(zip(head, row)) for row in rows]


def main():
    files = read(sys.argv[1])
    tables = {name: table(files, name) for name in TABLES}
    explained = files["README.txt"].decode("utf-8")
    ids = {name: {row[f"{name[:-1]}_id"] for row in tables[name]} for name in ["customers", "pairs", "tickets", "jobs"]}
    for name, column in [("pairs", "customer_id"), ("tickets", "customer_id"), ("jobs", "pair_id"), ("jobs", "ticket_id"),
                         ("work", "job_id"), ("money", "ticket_id"), ("photographs", "job_id")]:
        for row in tables[name]:
            assert row[column] in ids[f"{column[:-3]}s"] | {""}, (name, row)
    for photograph in tables["photographs"]:
        if photograph["stored"] == "full":
            assert hashlib.sha256(files[photograph["file"]]).hexdigest() == photograph["sha256"], photograph
    entries = [json.loads(line) for name in files if name.startswith("entries/") for line in files[name].splitlines()]
    for entry in entries:
        json.loads(entry["entry"]["body"])
    for name in TABLES:
        assert f"{name}.csv: " in explained, name
    assert {row["name"] for row in tables["customers"]} == {'Lea, "the" Example', "Ines Vell"}
    counts = ", ".join(f"{len(rows)} {name}" for name, rows in tables.items())
    print(f"everything as files: {len(files)} files, {len(entries)} entries, {counts}: read")


main()
