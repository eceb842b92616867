// Markup on the page, each element with the one that it was made from. What is shown is dressed, typed
// into and added to; a fresh sheet is compared with the plain one before it, and only what differs is
// put in place.
'use strict';

class Twins {
  constructor() {
    this.shown = new WeakMap();
  }

  // A copy of plain markup to be shown.
  copy(plain) {
    const copy = plain.cloneNode(true);
    this.pair(plain, copy);
    return copy;
  }

  pair(plain, copy) {
    this.shown.set(plain, copy);
    // A drawing is replaced as a whole.
    if (plain.nodeName === 'svg') return;
    for (let a = plain.firstChild, b = copy.firstChild; a && b; a = a.nextSibling, b = b.nextSibling) this.pair(a, b);
  }

  replace(before, fresh) {
    this.shown.get(before).replaceWith(this.copy(fresh));
  }

  // Brings what is shown of `before` to `fresh`; returns the plain markup of what is then shown.
  follow(before, fresh) {
    if (before.isEqualNode(fresh)) return before;
    const rest = [...before.childNodes];
    const news = [...fresh.childNodes];
    const alike = before.nodeType === Node.ELEMENT_NODE && before.cloneNode().isEqualNode(fresh.cloneNode())
      && rest.length === news.length && before.nodeName !== 'svg' && !before.hasAttribute('data-path');
    if (!alike) {
      this.replace(before, fresh);
      return fresh;
    }
    rest.forEach((child, at) => {
      const now = this.follow(child, news[at]);
      if (now !== child) child.replaceWith(now);
    });
    return before;
  }

  // Puts a place that was typed into back to its plain markup.
  freshen(plain) {
    const shown = this.shown.get(plain);
    if (shown.textContent === plain.textContent && shown.className === plain.className) return;
    shown.replaceWith(this.copy(plain));
  }
}
