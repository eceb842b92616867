// Explanations of quantities show by the sheet's style alone; Escape puts one away until it is asked for
// again.
'use strict';

const asks = {
  listen() {
    addEventListener('keydown', ({ key }) => {
      if (key !== 'Escape') return;
      for (const name of byId('sheet').querySelectorAll('.asks:is(:hover, :focus)')) name.classList.add('put-away');
    });
    for (const moved of ['mouseover', 'mouseout', 'focusin', 'focusout']) {
      byId('sheet').addEventListener(moved, () => {
        for (const name of byId('sheet').querySelectorAll('.put-away:not(:hover, :focus)')) name.classList.remove('put-away');
      });
    }
  },
};
