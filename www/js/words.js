// The page's own words, given by the engine in the sheet's language. An element that holds one
// names it: `data-word` for its text, `data-word-label` for its accessible name.
'use strict';

const words = {
  all: {},

  fill(all) {
    words.all = all;
    if (all.lang) document.documentElement.lang = all.lang;
    for (const element of document.querySelectorAll('[data-word]')) {
      element.textContent = words.get(element.dataset.word);
    }
    for (const element of document.querySelectorAll('[data-word-label]')) {
      element.setAttribute('aria-label', words.get(element.dataset.wordLabel));
    }
  },

  // A word by its key; a key that is missing shows itself rather than nothing.
  get(key) {
    return words.all[key] ?? key;
  },
};
