// Explanations of quantities show by the sheet's style alone; Escape puts one away until it is asked for
// again.
'use strict';

const asks = {
  listen() {
    addEventListener('keydown', ({ key }) => {
      if (key !== 'Escape') return;
      for (const name of byId('sheet').querySelectorAll('.asks:is(:hover, :focus)')) name.classList.add('put-away');
    });
    for (const left of ['pointerout', 'focusout']) {
      byId('sheet').addEventListener(left, ({ target }) => target.closest?.('.asks')?.classList.remove('put-away'));
    }
  },
};
