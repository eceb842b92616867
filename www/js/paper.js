// The sheet in the middle: what it will hold, the sheet itself, or what stands in its way.
'use strict';

const paper = {
  showOutline(parts) {
    byId('outline-parts').replaceChildren(...parts.flatMap(({ heading, text }) => [made('dt', '', heading), made('dd', '', text)]));
  },

  // Parts of the sheet as they came, each with its plain markup.
  parts: [],
  twins: new Twins(),

  // Only this makes markup; the engine wrote it, and escaped what came from files.
  plain(html) {
    const template = document.createElement('template');
    template.innerHTML = html;
    return template.content.firstElementChild;
  },

  // The parts of the sheet, each one element; only what differs from the sheet before is replaced.
  put({ parts, lang }) {
    const { twins } = paper;
    const article = byId('sheet').firstElementChild;
    if (article?.lang !== lang || parts.length !== paper.parts.length) {
      paper.parts = parts.map((html) => ({ html, plain: paper.plain(html) }));
      const fresh = made('article', 'sheet');
      fresh.lang = lang;
      fresh.append(...paper.parts.map(({ plain }) => twins.copy(plain)));
      byId('sheet').replaceChildren(fresh);
      return;
    }
    for (const note of article.querySelectorAll('.blank-note[id], .taken')) note.remove();
    paper.parts.forEach((part, at) => {
      if (part.html !== parts[at]) {
        part.html = parts[at];
        part.plain = twins.follow(part.plain, paper.plain(part.html));
      }
      for (const blank of part.plain.querySelectorAll('[data-path]')) twins.freshen(blank);
    });
  },

  // `page` is the style text of the printed page's head and foot.
  showSheet(result) {
    const { head, page, fit, settled } = result;
    paper.last = result;
    blanks.around(() => paper.put(result));
    pointing.dress();
    beside.refresh();
    // Nothing is printed before all of it is there.
    if (settled && byId('page-style').textContent !== page) byId('page-style').textContent = page;
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
    paper.parts = [];
    beside.close(false);
    byId('sheet').replaceChildren();
    blanks.tell();
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
