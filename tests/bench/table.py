"""Says whether all did the same job, and prints the benchmark's table.

    python table.py FOLDER

Reads what native.rs, peer.py and page.mjs left in FOLDER. Exit status 1 when results disagree; no
time is ever a failure.
"""

import json
import os
import sys
from pathlib import Path

# Program against peer, relative. Wider where the two follow different but equally good rules: peaks
# between samples, steady windows, contours; narrower where they compute the same sum.
AGREE = {
    "pc": 2e-3, "pr": 2e-3, "ppsi": 5e-4, "pii": 5e-4, "td": 2e-3, "i_on": 2e-3, "isppa": 2e-3, "ispta": 2e-3,
    "f_awf_zero": 5e-4, "f_awf_mean": 1e-3, "bandwidth": 1e-2, "p1": 2e-3, "h2": 2e-3, "h3": 2e-3,
    "width_x_3": 2e-3, "width_x_6": 2e-3, "width_x_12": 2e-3, "width_y_3": 2e-3, "width_y_6": 2e-3, "width_y_12": 2e-3,
    "area_6": 3e-3, "power_on_plane_wave": 1e-3, "power_ta_plane_wave": 1e-3,
}
# The same, absolute: positions re a step of 0.1 to 0.2 mm; a ratio of noise from few samples.
AGREE_ABSOLUTE = {"x_peak": 2e-6, "y_peak": 2e-6, "snr_db": 0.5}
# Page against command line: the same program with other vector lanes.
SAME_RELATIVE, SAME_POSITION_M = 1e-5, 1e-8


def values(path):
    """Values by id; of temporal averages that of the tank. Before corrections that the peer leaves out."""
    sheet = json.loads(path.read_text(encoding="utf-8"))
    kept = [q for q in sheet["quantities"] if q["time_base"] != "exposure"]
    noise_only = lambda q: all(c["name"] == "noise-energy" for c in q["corrections"])
    return {q["id"]: q["value"] if noise_only(q) else q["value_uncorrected"] for q in kept}


def disagreements(ours, peer):
    for key in sorted(AGREE.keys() | AGREE_ABSOLUTE.keys()):
        a, b = ours.get(key), peer.get(key)
        limit = AGREE_ABSOLUTE[key] if key in AGREE_ABSOLUTE else AGREE[key] * abs(b or 0.0)
        if a is None or b is None or not abs(a - b) <= limit:
            yield f"{key}: program {a}, peer {b}, allowed difference {limit:.3g}"


def differences(native, page):
    for key in sorted(native.keys() | page.keys()):
        a, b = native.get(key), page.get(key)
        limit = SAME_POSITION_M if key in ("x_peak", "y_peak") else SAME_RELATIVE * abs(a or 0.0)
        if (a is None) != (b is None) or (a is not None and not abs(a - b) <= limit):
            yield f"{key}: command line {a}, page {b}, allowed difference {limit:.3g}"


def rows(native, peers, page):
    """What; native, page with 1 and 2 workers, peer with 1 and 2; how to print it; whether less is better
    (None: nothing to compare)."""
    one, two = page["workers"]["1"], page["workers"]["2"]
    columns = [native, one, two, peers[1]["figures"], peers[2]["figures"]]
    pick = lambda key: [c.get(key) for c in columns]
    yield "waveforms a second, bands", pick("waveforms_per_s"), "{:,.0f}", False
    yield "MB a second, bands", pick("mb_per_s"), "{:,.0f}", False
    yield "files to sheet, s", pick("to_sheet_s"), "{:.3f}", True
    memory = [native["peak_mib"], one["resident_mib"], two["resident_mib"], *pick("peak_mib")[3:]]
    yield "peak memory of the process, MiB", memory, "{:,.0f}", True
    yield "engines (wasm memory), MiB", pick("engines_mib"), "{:,.1f}", None


def table(native, peers, page):
    print(f"{'':33}{'native':>9}{'page 1w':>9}{'page 2w':>9}{'peer 1w':>9}{'peer 2w':>9} | peer / ours: {'native':>7}{'page 2w':>9}")
    for what, numbers, form, less in rows(native, peers, page):
        cells = "".join(f"{'–' if n is None else form.format(n):>9}" for n in numbers)
        ratios = ""
        known = [n for n in numbers[3:] if n is not None]
        if less is not None and known and numbers[0] and numbers[2]:
            # The better of the two peers; above 1 means that ours is better.
            best = min(known) if less else max(known)
            ratio = (lambda n: best / n) if less else (lambda n: n / best)
            ratios = f" |{'':13}{ratio(numbers[0]):>8.2f}{ratio(numbers[2]):>9.2f}"
        print(f"{what:33}{cells}{ratios}")


def page_only(native, page):
    for workers, figures in page["workers"].items():
        times = figures["to_sheet_s"] / figures["read_s"]
        print(f"page, {workers} worker(s): sheet after {times:.2f} times the reading alone ({figures['read_s']:.3f} s); "
              f"{native['waveforms_per_s'] / figures['waveforms_per_s']:.2f} times native's time a waveform")
    example = page["example"]
    print(f"example: sheet {example['ready_s'] + example['sheet_s']:.3f} s after opening the page "
          f"({example['ready_s']:.3f} s to ready, {example['sheet_s']:.3f} s from the click); page {page['page_bytes'] / 1e6:.2f} MB")


def main():
    folder = Path(sys.argv[1])
    load = lambda name: json.loads((folder / name).read_text(encoding="utf-8"))
    native, peers = load("native.json"), {n: load(f"peer-{n}.json") for n in (1, 2)}
    page = load("page.json")
    print(f"\n{native['waveforms']:,} waveforms, {native['bytes'] / 1e6:.1f} MB; best runs; files in the system's cache; "
          f"{os.cpu_count()} cores" + (f", load {os.getloadavg()[0]:.2f}" if hasattr(os, "getloadavg") else ""))
    ours = values(folder / "sheet.json")
    wrong = [line for n in peers for line in disagreements(ours, peers[n]["quantities"])]
    for n in page["workers"]:
        wrong += differences(ours, values(folder / f"page-sheet-{n}.json"))
    table(native, peers, page)
    page_only(native, page)
    print(f"{len(AGREE) + len(AGREE_ABSOLUTE)} quantities compared: " + ("program, page and peer agree" if not wrong else "results DISAGREE"))
    print("".join(f"  {line}\n" for line in wrong), end="")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
