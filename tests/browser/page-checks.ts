/** What a page is checked for wherever it stands: accessibility, and words and boxes that do not fit. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
/** WCAG 2.2, levels A and AA, as axe-core 4.14 tags its rules. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** What axe-core finds on the page as it stands, a line each. */
export async function audit(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe);
  return page.evaluate(async (tags) => {
    const runner = (
      globalThis as unknown as {
        axe: {
          run(
            context: Document,
            options: object,
          ): Promise<{ violations: { id: string; nodes: { target: unknown; failureSummary: string }[] }[] }>;
        };
      }
    ).axe;
    const { violations } = await runner.run(document, { runOnly: { type: 'tag', values: tags } });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map((node) => `${id}: ${JSON.stringify(node.target)} ${node.failureSummary}`),
    );
  }, TAGS);
}

/** Nothing on the page is on its way from one colour or place to another; what goes on for ever is not waited for. */
export const still = (page: Page): Promise<unknown> =>
  page.waitForFunction(() =>
    document
      .getAnimations()
      .every(
        ({ playState, effect }) =>
          playState !== 'running' || effect?.getComputedTiming().endTime === Number.POSITIVE_INFINITY,
      ),
  );

/** Text that is cut off or runs out of its box, and boxes to press that lie over one another. */
export const misfits = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const found: string[] = [];
    const name = (element: Element): string =>
      `${element.tagName}.${element.getAttribute('class') ?? ''} "${element.textContent?.slice(0, 40) ?? ''}"`;
    const unseen = (element: Element): boolean =>
      element.closest(
        '.unseen, .route-card, [aria-hidden="true"] option, [data-rac-hidden], .lever-buttons, .place-buttons, .train-button, .outline:not(:focus-within)',
      ) !== null;
    // What is seen of an element: what scrolls out of a box is not there.
    const seen = (element: Element): DOMRect => {
      let { left, top, right, bottom } = element.getBoundingClientRect();
      for (let box = element.parentElement; box !== null; box = box.parentElement) {
        if (getComputedStyle(box).overflow === 'visible') continue;
        const around = box.getBoundingClientRect();
        [left, top] = [Math.max(left, around.left), Math.max(top, around.top)];
        [right, bottom] = [Math.min(right, around.right), Math.min(bottom, around.bottom)];
      }
      return new DOMRect(left, top, Math.max(0, right - left), Math.max(0, bottom - top));
    };
    const wide = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth > wide)
      found.push(`page is ${document.documentElement.scrollWidth} wide in ${wide}`);
    for (const element of document.querySelectorAll('body *')) {
      if (unseen(element) || element.closest('svg') !== null || !(element instanceof HTMLElement)) continue;
      const words = [...element.childNodes].some(
        (node) => node.nodeType === Node.TEXT_NODE && (node.textContent ?? '').trim() !== '',
      );
      if (!words) continue;
      const box = element.getBoundingClientRect();
      if (box.width < 3) continue;
      if (element.scrollWidth > element.clientWidth + 1 && getComputedStyle(element).display !== 'inline')
        found.push(`cut: ${name(element)}`);
      const part = seen(element);
      if (part.width > 0 && (part.right > wide + 0.5 || part.left < -0.5)) found.push(`off the page: ${name(element)}`);
      const holder = element.closest('.card, .btn, .sel-field, .tag, .side-row');
      if (holder !== null) {
        const around = holder.getBoundingClientRect();
        if (
          box.left < around.left - 0.5 ||
          box.right > around.right + 0.5 ||
          box.top < around.top - 0.5 ||
          box.bottom > around.bottom + 0.5
        )
          found.push(`out of its box: ${name(element)}`);
      }
    }
    for (const text of document.querySelectorAll('.fitted text')) {
      const plate = text.parentElement?.querySelector('rect.plate, rect.platform');
      if (plate === null || plate === undefined) continue;
      const box = text.getBoundingClientRect();
      const around = plate.getBoundingClientRect();
      if (box.left < around.left - 0.5 || box.right > around.right + 0.5)
        found.push(`wider than its plate: ${name(text)}`);
    }
    const pressable = [
      ...document.querySelectorAll(
        '.work button:not(.face-spot), .work input, .route-bar button, .cards button, .cards label, .bar button, .lay-foot button, .tray button, .rail button, .formations button, .lay-side button, .lay-side input, .lay-side select, .help button',
      ),
    ].filter((element) => !unseen(element));
    pressable.forEach((element, i) => {
      const a = seen(element);
      if (a.width === 0 || a.height === 0) return;
      for (const other of pressable.slice(i + 1)) {
        if (
          element.contains(other) ||
          other.contains(element) ||
          element.closest('.route-bar, .help') !== other.closest('.route-bar, .help')
        )
          continue;
        const b = seen(other);
        if (b.width === 0 || b.height === 0) continue;
        if (a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1)
          found.push(`${name(element)} lies over ${name(other)}`);
      }
    });
    // Words that are cut off below, where nothing scrolls.
    for (const element of document.querySelectorAll<HTMLElement>('main *, .help *, .bar *')) {
      if (unseen(element) || element.closest('svg') !== null) continue;
      const { overflowY } = getComputedStyle(element);
      if ((overflowY === 'hidden' || overflowY === 'clip') && element.clientHeight > 2)
        if (!element.matches('.lay-view, .table') && element.scrollHeight > element.clientHeight + 1)
          found.push(`cut below: ${name(element)}`);
    }
    return found;
  });
