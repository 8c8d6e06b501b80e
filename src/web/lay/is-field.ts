/** Inputs that take no text. */
const TEXTLESS = /^(?:button|checkbox|color|file|image|radio|range|reset|submit)$/;

/**
 * Is text typed there that nothing has taken yet? Then undo and redo are the field's own, letter by letter. A field says with `data-taken` that all
 * that stands in it is taken, or that it is empty.
 */
export function isTyping(target: EventTarget | null): boolean {
  const { tagName, isContentEditable, type, dataset } = (target ?? {}) as Partial<HTMLInputElement>;
  if (isContentEditable === true) return true;
  const takesText = tagName === 'TEXTAREA' || (tagName === 'INPUT' && !TEXTLESS.test(type ?? 'text'));
  return takesText && dataset?.taken === undefined;
}

/** Is it typed into? Then keys and the clipboard belong to it, not to the sheet. */
export function isField(target: EventTarget | null): boolean {
  const { tagName, isContentEditable } = (target ?? {}) as Partial<HTMLElement>;
  return isContentEditable === true || /^(INPUT|TEXTAREA|SELECT)$/.test(tagName ?? '');
}
