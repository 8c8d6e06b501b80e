/**
 * What has the focus never vanishes from under the keys: where it does, the part of the stage that it stood in takes the focus. A part is no
 * deed: a second press of Enter there does nothing. In Lay the sheet takes the keys.
 */

/** Parts of a stage, the innermost first: what may take the focus for what stood in it. */
const PARTS = ['section', 'fieldset', 'aside', 'nav', 'main'].join();

/** The parts that an element stands in. */
function partsOf(element: Element): readonly HTMLElement[] {
  const parts: HTMLElement[] = [];
  for (let part = element.closest<HTMLElement>(PARTS); part !== null; ) {
    parts.push(part);
    part = part.parentElement?.closest<HTMLElement>(PARTS) ?? null;
  }
  return parts;
}

/** From now on, for as long as the window is open. */
export function keepFocus(): void {
  let last: { readonly element: Element; readonly parts: readonly HTMLElement[] } | null = null;
  const came = (element: unknown): void => {
    const is = element instanceof Element && element.closest('main:not(.lay), .stages') !== null;
    last = is ? { element, parts: partsOf(element) } : null;
  };
  const left = (): void =>
    // What is taken down is still there while it is told of: whether it goes is known once that is done.
    queueMicrotask(() => {
      if (last !== null && !isGone(last.element) && document.activeElement !== last.element) last = null;
    });
  const seen = new MutationObserver(() => {
    if (last === null || !isGone(last.element) || !isNowhere()) return;
    const { element, parts } = last;
    const goal = element.matches('.stage')
      ? document.querySelector<HTMLElement>('.stage[aria-current]')
      : parts.find(({ isConnected }) => isConnected);
    last = null;
    if (goal == null) return;
    if (goal.tabIndex < 0) goal.tabIndex = -1;
    goal.focus({ preventScroll: true });
  });
  came(document.activeElement);
  document.addEventListener('focusin', ({ target }) => came(target));
  document.addEventListener('focusout', left);
  seen.observe(document.body, { subtree: true, childList: true, attributeFilter: ['disabled'] });
}

const isGone = (element: Element): boolean => !element.isConnected || element.matches(':disabled');
const isNowhere = (): boolean => {
  const { activeElement, body } = document;
  return activeElement === null || activeElement === body || isGone(activeElement);
};
