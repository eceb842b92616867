// The sheet in the middle: what it will hold, the sheet itself, or what stands in its way.
'use strict';

const paper = {
  showOutline(parts) {
    byId('outline-parts').replaceChildren(...parts.flatMap(({ heading, text }) => [made('dt', '', heading), made('dd', '', text)]));
  },

  // Only this puts markup into the page; the engine made it, and escaped what came from files.
  // `page` is the style text of the printed page's head and foot.
  showSheet(result) {
    const { head, html, page, fit } = result;
    paper.last = result;
    blanks.around(() => {
      byId('sheet').innerHTML = html;
    });
    byId('page-style').textContent = page ?? '';
    byId('paper').dataset.fit = String(fit);
    byId('outline').hidden = true;
    document.title = `${head.title} ${head.number}`;
  },

  // The sheet as it was shown last.
  showAgain() {
    if (paper.last) paper.showSheet(paper.last);
  },

  clear() {
    paper.last = null;
    blanks.open.clear();
    byId('sheet').replaceChildren();
    byId('page-style').textContent = '';
    byId('outline').hidden = false;
    document.title = words.get('title');
  },

  // What stands in the way, each with the file, and what to do.
  showProblems(heading, problems) {
    byId('notice').hidden = false;
    byId('notice-heading').textContent = heading;
    byId('problems').replaceChildren(...problems.map(({ file, text, hint }) => {
      const row = made('li');
      if (file) row.append(made('span', 'problem-file', file));
      row.append(made('span', 'problem-text', text));
      if (hint) row.append(made('span', 'problem-hint', hint));
      return row;
    }));
    byId('notice').scrollIntoView({ block: 'nearest' });
  },

  hideProblems() {
    byId('notice').hidden = true;
  },

  // Brings a finding's place on the sheet into view and marks it: where the list of all findings
  // says more of it.
  jumpTo({ code, index }) {
    const full = [...byId('sheet').querySelectorAll('.findings.full > .finding')];
    const same = (row) => row?.dataset.code === code;
    const place = same(full[index]) ? full[index] : full.find(same) ?? byId('paper');
    if (!place.hasAttribute('tabindex')) place.tabIndex = -1;
    const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
    place.scrollIntoView({ block: 'center', behavior: still ? 'instant' : 'smooth' });
    place.focus({ preventScroll: true });
  },
};
