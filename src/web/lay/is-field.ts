/** Is it typed into? Then keys and the clipboard belong to it, not to the sheet. */
export function isField(target: EventTarget | null): boolean {
  const { tagName, isContentEditable } = (target ?? {}) as Partial<HTMLElement>;
  return isContentEditable === true || /^(INPUT|TEXTAREA|SELECT)$/.test(tagName ?? '');
}
