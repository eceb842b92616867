// What was typed before a file is read otherwise: it stays, but for what is answered anew.
'use strict';

const isMap = (value) => value !== null && typeof value === 'object' && !Array.isArray(value);

// `after` laid over `before`. A response is one statement: the new one takes the place of the old.
const laidOver = (before, after, key = '') => {
  if (!isMap(before) || !isMap(after) || key === 'response') return after;
  const both = { ...before };
  for (const [name, value] of Object.entries(after)) both[name] = name in before ? laidOver(before[name], value, name) : value;
  return both;
};

// Single values below a path that differ, as the record keeps changes; of a response and of samples' volts
// alone: they bear on every verdict.
const differing = (path, before, after, time) => {
  if (isMap(before) && isMap(after)) {
    const names = [...new Set([...Object.keys(before), ...Object.keys(after)])];
    return names.flatMap((name) => differing(`${path}.${name}`, before[name] ?? null, after[name] ?? null, time));
  }
  return JSON.stringify(before) === JSON.stringify(after) ? [] : [{ time, field: path, old: before, new: after }];
};

const logged = (before, after, time) => [
  ...differing('sensor.response', before.sensor?.response ?? null, after.sensor?.response ?? null, time),
  ...(after.scans ?? []).flatMap((scan, i) =>
    differing(`scans[${i}].layout.volts`, before.scans?.[i]?.layout?.volts ?? null, scan.layout?.volts ?? null, time)),
];

const carried = {
  text: null,

  keep(text) {
    carried.text = text;
  },

  forget() {
    carried.text = null;
  },

  // The draft with what was kept below it, and what it changed of the calibration at that time.
  onto(draft, time) {
    if (carried.text === null) return draft;
    const before = JSON.parse(carried.text);
    const whole = laidOver(before, JSON.parse(draft));
    const changes = logged(before, whole, time);
    if (changes.length > 0) whole.changes = [...(whole.changes ?? []), ...changes];
    carried.forget();
    return JSON.stringify(whole, null, 2);
  },
};
