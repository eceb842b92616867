// Workers that misbehave, for tests: runs in the page before its own scripts and stands between
// the page and its workers. `window.planted` says what goes wrong:
//   trap(call, argument): whether this call breaks the worker
//   lost(call, argument): whether this call is never answered
//   delay: milliseconds before a band is passed on
export const planted = () => {
  window.planted = { trap: () => false, lost: () => false, delay: 0, cut: 0 };
  const Honest = window.Worker;
  window.Worker = class extends Honest {
    postMessage(message, ...rest) {
      const { id, call, argument } = message;
      const plan = window.planted;
      if (plan.trap(call, argument)) {
        setTimeout(() => this.onmessage?.({ data: { id, trap: 'planted' } }), 0);
      } else if (!plan.lost(call, argument)) {
        setTimeout(() => super.postMessage(message, ...rest), call === 'band' ? plan.delay : 0);
      }
    }

    terminate() {
      window.planted.cut++;
      super.terminate();
    }
  };
};
