#!/usr/bin/env python3
"""The pick of a case file from Python, by one call of the shared library.

    python3 pick.py r22-larger-coil.yaml

The library is looked for where the system keeps libraries; COILTRIM_LIBRARY names another file.
"""
import ctypes
import json
import os
import sys

library = ctypes.CDLL(os.environ.get("COILTRIM_LIBRARY", "libcoiltrim.so.0"))
library.ct_answer_json.argtypes = [
    ctypes.c_char_p, ctypes.c_size_t, ctypes.POINTER(ctypes.c_void_p), ctypes.c_void_p]
library.ct_answer_json.restype = ctypes.c_int
library.ct_answer_free.argtypes = [ctypes.c_void_p]
library.ct_answer_free.restype = None


def answer(case_text):
    """The answer to the text of a case file, given as bytes. Raises MemoryError."""
    text = ctypes.c_void_p()
    library.ct_answer_json(case_text, len(case_text), ctypes.byref(text), None)
    if not text:
        raise MemoryError("no memory for the answer")
    try:
        return json.loads(ctypes.string_at(text))
    finally:
        library.ct_answer_free(text)


def main():
    if len(sys.argv) != 2:
        sys.exit("usage: pick.py CASE")
    with open(sys.argv[1], "rb") as case:
        result = answer(case.read())
    for fault in result["faults"]:
        place = f"line {fault['line']}: " if fault["line"] else ""
        print(f"{place}{fault['key']}: {fault['what']}", file=sys.stderr)
    if result["status"] != "done":
        sys.exit(f"{sys.argv[1]}: {result['why']}")
    pick = result["pick"]
    if not pick["found"]:
        print("no speed passes")
        return
    speed = result[pick["among"]][pick["index"]]
    print(f"pick: {speed['tap'] or 'an airflow'}, {speed['airflow_actual_m3_per_s'] * 1000:.0f} L/s, "
          f"{speed['net_sensible_w'] / 1000:.2f} kW sensible")


if __name__ == "__main__":
    main()
