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

const carried = {
  text: null,

  keep(text) {
    carried.text = text;
  },

  forget() {
    carried.text = null;
  },

  // The draft with what was kept below it.
  onto(draft) {
    if (carried.text === null) return draft;
    const whole = JSON.stringify(laidOver(JSON.parse(carried.text), JSON.parse(draft)), null, 2);
    carried.forget();
    return whole;
  },
};
