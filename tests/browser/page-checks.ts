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

/** Text that is cut off or runs out of its box, and boxes to press that lie over one another. */
export const misfits = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const found: string[] = [];
    const name = (element: Element): string =>
      `${element.tagName}.${element.getAttribute('class') ?? ''} "${element.textContent?.slice(0, 40) ?? ''}"`;
    const unseen = (element: Element): boolean =>
      element.closest(
        '.unseen, .route-card, [aria-hidden="true"] option, [data-rac-hidden], .lever-buttons, .outline:not(:focus-within)',
      ) !== null;
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
      if (box.right > wide + 0.5 || box.left < -0.5) found.push(`off the page: ${name(element)}`);
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
        '.route-bar button, .cards button, .cards label, .bar button, .lay-foot button, .tray button, .rail button',
      ),
    ].filter((element) => !unseen(element));
    pressable.forEach((element, i) => {
      const a = element.getBoundingClientRect();
      if (a.width === 0) return;
      for (const other of pressable.slice(i + 1)) {
        if (
          element.contains(other) ||
          other.contains(element) ||
          (element.closest('.route-bar') === null) !== (other.closest('.route-bar') === null)
        )
          continue;
        const b = other.getBoundingClientRect();
        if (a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1)
          found.push(`${name(element)} lies over ${name(other)}`);
      }
    });
    return found;
  });
