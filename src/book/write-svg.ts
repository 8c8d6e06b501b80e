/** A page to SVG at its true size, fonts inside. Knows pages and nothing of railways. */
import type { Spot } from '../units/index.ts';
import { FONT_CSS, FONT_ROLES, type FontFiles, type FontRole } from './fonts.ts';
import type { Ink, Op, Page, Step } from './page.ts';

/** Decimals of a millimetre kept: a hundredth of what a printer or cutter resolves (common practice, no source). */
const DECIMALS = 4;
const n = (value: number): string => {
  const text = value.toFixed(DECIMALS).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
};
const escaped = (text: string): string =>
  text.replace(/[&<>"']/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' })[c] ?? c);

function inked(op: Ink): string {
  const parts = [`fill="${op.fill ?? 'none'}"`];
  if (op.stroke !== undefined) {
    parts.push(`stroke="${op.stroke}" stroke-width="${n(op.width ?? 0.18)}"`);
    if (op.dash !== undefined) parts.push(`stroke-dasharray="${op.dash.map(n).join(' ')}"`);
    if (op.cap !== undefined && op.cap !== 'butt') parts.push(`stroke-linecap="${op.cap}"`);
    if (op.join !== undefined && op.join !== 'miter') parts.push(`stroke-linejoin="${op.join}"`);
  }
  if (op.opacity !== undefined) parts.push(`opacity="${n(op.opacity)}"`);
  return parts.join(' ');
}

function stepsOf(steps: readonly Step[]): string {
  let last: Spot = [0, 0];
  return steps
    .map((step) => {
      if (step.go === 'close') return 'Z';
      const from = last;
      last = step.to;
      const to = `${n(step.to[0])} ${n(step.to[1])}`;
      if (step.go === 'move') return `M${to}`;
      if (step.go === 'line') return `L${to}`;
      const [cx, cy] = step.centre;
      const turn = 2 * Math.PI;
      const raw = Math.atan2(step.to[1] - cy, step.to[0] - cx) - Math.atan2(from[1] - cy, from[0] - cx);
      const sweep = (((step.clockwise ? raw : -raw) % turn) + turn) % turn;
      return `A${n(step.radius)} ${n(step.radius)} 0 ${sweep > Math.PI ? 1 : 0} ${step.clockwise ? 1 : 0} ${to}`;
    })
    .join('');
}

/** How ids are told apart where several pages stand in one document; null: the page is a file of its own and keeps its layers' names. */
interface Ids {
  readonly prefix: string | null;
  count: number;
}

function write(ops: readonly Op[], ids: Ids): string {
  return ops
    .map((op): string => {
      switch (op.op) {
        case 'line':
          return `<path d="M${n(op.from[0])} ${n(op.from[1])}L${n(op.to[0])} ${n(op.to[1])}" ${inked(op)}/>`;
        case 'polyline':
          return `<path d="${op.points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${n(x)} ${n(y)}`).join('')}${op.closed ? 'Z' : ''}" ${inked(op)}/>`;
        case 'path':
          return `<path d="${stepsOf(op.steps)}" ${inked(op)}/>`;
        case 'rect':
          return `<rect x="${n(op.at[0])}" y="${n(op.at[1])}" width="${n(op.size[0])}" height="${n(op.size[1])}"${op.radius > 0 ? ` rx="${n(op.radius)}"` : ''} ${inked(op)}/>`;
        case 'circle':
          return `<circle cx="${n(op.at[0])}" cy="${n(op.at[1])}" r="${n(op.radius)}" ${inked(op)}/>`;
        case 'text': {
          const total = op.runs.reduce((sum, run) => sum + run.width, 0) - op.spacing;
          let x = op.at[0] - (op.anchor === 'start' ? 0 : op.anchor === 'middle' ? total / 2 : total);
          const spans = op.runs.map((run) => {
            const css = FONT_CSS[run.font];
            const span = `<tspan x="${n(x)}" font-family="${ids.prefix === null ? css.family : `${css.family}, sans-serif`}" font-weight="${css.weight}">${escaped(run.text)}</tspan>`;
            x += run.width;
            return span;
          });
          const turned = op.turn === 0 ? '' : ` transform="rotate(${n(op.turn)} ${n(op.at[0])} ${n(op.at[1])})"`;
          const spaced = op.spacing === 0 ? '' : ` letter-spacing="${n(op.spacing)}"`;
          return `<text y="${n(op.at[1])}" font-size="${n(op.size)}" fill="${op.fill}"${spaced}${turned} xml:space="preserve">${spans.join('')}</text>`;
        }
        case 'group': {
          const moves = [
            op.shift[0] !== 0 || op.shift[1] !== 0 ? `translate(${n(op.shift[0])} ${n(op.shift[1])})` : '',
            op.scale === 1 ? '' : `scale(${n(op.scale)})`,
            op.turn === 0 ? '' : `rotate(${n(op.turn)})`,
          ].filter((move) => move !== '');
          const named = op.layer === null || ids.prefix !== null ? '' : ` id="${escaped(op.layer)}"`;
          const moved = moves.length === 0 ? '' : ` transform="${moves.join(' ')}"`;
          if (op.clip === null) return `<g${named}${moved}>${write(op.ops, ids)}</g>`;
          ids.count += 1;
          const id = `${ids.prefix ?? ''}clip-${ids.count}`;
          const { at, size } = op.clip;
          return `<g${named}${moved}><clipPath id="${id}"><rect x="${n(at[0])}" y="${n(at[1])}" width="${n(size[0])}" height="${n(size[1])}"/></clipPath><g clip-path="url(#${id})">${write(op.ops, ids)}</g></g>`;
        }
        case 'link':
          return '';
      }
    })
    .filter((line) => line !== '')
    .join('\n');
}

function usedFonts(ops: readonly Op[], into: Set<FontRole>): Set<FontRole> {
  for (const op of ops) {
    if (op.op === 'text') for (const run of op.runs) into.add(run.font);
    if (op.op === 'group') usedFonts(op.ops, into);
  }
  return into;
}

const BASE64 = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
function base64(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let i = 0; i < bytes.length; i += 3) {
    const [a = 0, b = 0, c = 0] = bytes.subarray(i, i + 3);
    const left = bytes.length - i;
    const word = (a << 16) | (b << 8) | c;
    parts.push(
      BASE64.charAt(word >> 18) +
        BASE64.charAt((word >> 12) & 63) +
        (left > 1 ? BASE64.charAt((word >> 6) & 63) : '=') +
        (left > 2 ? BASE64.charAt(word & 63) : '='),
    );
  }
  return parts.join('');
}

/** One page as SVG text: `width` and `height` in millimetres, user units are millimetres. */
export function writeSvg(page: Page, title: string, fonts: FontFiles): string {
  const used = usedFonts(page.ops, new Set());
  const faces = FONT_ROLES.filter((role) => used.has(role)).map((role) => {
    const css = FONT_CSS[role];
    return `@font-face{font-family:"${css.family}";font-weight:${css.weight};src:url(data:font/woff;base64,${base64(fonts[role])}) format("woff")}`;
  });
  const [width, height] = page.size;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${n(width)}mm" height="${n(height)}mm" viewBox="0 0 ${n(width)} ${n(height)}">`,
    `<title>${escaped(title)}</title>`,
    `<style>text{font-variant-numeric:tabular-nums}${faces.join('')}</style>`,
    write(page.ops, { prefix: null, count: 0 }),
    '</svg>',
    '',
  ].join('\n');
}

/**
 * One page as SVG text to be shown among others in a document that has the fonts: no style and no font inside, ids begin with `prefix`.
 * Letters of faces that the document has not fall back to its sans serif.
 */
export function pageSvg(page: Page, prefix: string): string {
  const [width, height] = page.size;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${n(width)}mm" height="${n(height)}mm" viewBox="0 0 ${n(width)} ${n(height)}">${write(page.ops, { prefix, count: 0 })}</svg>`;
}
