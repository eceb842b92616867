// The page's language: the browser's at first, then the one that was chosen, which this browser keeps.
// The words themselves, and what else is said of a language, come from the engine.
'use strict';

const LANGUAGE_KEY = 'focalsheet-language';

const language = {
  // The tag of the language in use; the engine answers in English where it does not know it.
  get tag() {
    return language.chosen ?? language.stored() ?? navigator.language ?? 'en';
  },

  // Nothing where the browser keeps nothing for this page.
  stored() {
    try {
      return localStorage.getItem(LANGUAGE_KEY);
    } catch {
      return null;
    }
  },

  choose(tag) {
    language.chosen = tag;
    try {
      localStorage.setItem(LANGUAGE_KEY, tag);
    } catch {
      // It lasts as long as the page then.
    }
  },

  // The word of the other language stands in that language.
  mark() {
    byId('other-language').lang = words.get('other_tag');
  },
};
