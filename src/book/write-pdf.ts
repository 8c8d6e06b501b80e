/**
 * Pages to PDF: vectors, embedded subsets of the fonts, an outline, links, fixed dates. Knows pages and nothing of
 * railways. The same pages give the same bytes. Loads pdfkit at the first call.
 */
import type { Spot } from '../units/index.ts';
import type { Faces } from './faces.ts';
import { FONT_ROLES, type FontRole } from './fonts.ts';
import type { Ink, Op, Paged, Step } from './page.ts';

type Doc = PDFKit.PDFDocument;

const POINTS_PER_MM = 72 / 25.4;
/** The date in a file whose panel gives none: never the clock. */
const NO_DATE = '2000-01-01';

/** Arcs as cubic curves of at most a quarter turn each: within 0.03 % of the radius (common practice, no source). */
function arc(doc: Doc, from: Spot, step: Extract<Step, { go: 'arc' }>): void {
  const [cx, cy] = step.centre;
  const start = Math.atan2(from[1] - cy, from[0] - cx);
  const end = Math.atan2(step.to[1] - cy, step.to[0] - cx);
  const turn = 2 * Math.PI;
  const sweep = step.clockwise ? (((end - start) % turn) + turn) % turn : -((((start - end) % turn) + turn) % turn);
  const pieces = Math.max(1, Math.ceil(Math.abs(sweep) / (Math.PI / 2)));
  const each = sweep / pieces;
  const handle = (4 / 3) * Math.tan(each / 4) * step.radius;
  for (let i = 0; i < pieces; i++) {
    const a = start + i * each;
    const b = a + each;
    const p = (angle: number): Spot => [cx + step.radius * Math.cos(angle), cy + step.radius * Math.sin(angle)];
    const [ax, ay] = p(a);
    const [bx, by] = i === pieces - 1 ? step.to : p(b);
    doc.bezierCurveTo(
      ax - handle * Math.sin(a),
      ay + handle * Math.cos(a),
      bx + handle * Math.sin(b),
      by - handle * Math.cos(b),
      bx,
      by,
    );
  }
}

function trace(doc: Doc, op: Op): void {
  switch (op.op) {
    case 'line':
      doc.moveTo(...op.from).lineTo(...op.to);
      return;
    case 'polyline':
      op.points.forEach((p, i) => void (i === 0 ? doc.moveTo(...p) : doc.lineTo(...p)));
      if (op.closed) doc.closePath();
      return;
    case 'path': {
      let last: Spot = [0, 0];
      for (const step of op.steps) {
        if (step.go === 'close') doc.closePath();
        else {
          if (step.go === 'move') doc.moveTo(...step.to);
          else if (step.go === 'line') doc.lineTo(...step.to);
          else arc(doc, last, step);
          last = step.to;
        }
      }
      return;
    }
    case 'rect':
      if (op.radius > 0) doc.roundedRect(...op.at, ...op.size, op.radius);
      else doc.rect(...op.at, ...op.size);
      return;
    case 'circle':
      doc.circle(...op.at, op.radius);
      return;
    default:
      return;
  }
}

function ink(doc: Doc, op: Op & Ink): void {
  if (op.stroke === undefined && op.fill === undefined) return;
  const special = op.opacity !== undefined || op.dash !== undefined;
  if (special) doc.save();
  if (op.opacity !== undefined) doc.opacity(op.opacity);
  if (op.stroke !== undefined) {
    doc.lineWidth(op.width ?? 0.18);
    doc.lineCap(op.cap ?? 'butt');
    doc.lineJoin(op.join ?? 'miter');
    if (op.dash !== undefined) {
      const [on = 1, off = on] = op.dash;
      doc.dash(on, { space: off });
    }
  }
  trace(doc, op);
  if (op.fill !== undefined && op.stroke !== undefined) doc.fillAndStroke(op.fill, op.stroke);
  else if (op.fill !== undefined) doc.fill(op.fill);
  else if (op.stroke !== undefined) doc.stroke(op.stroke);
  if (special) doc.restore();
}

function text(doc: Doc, op: Extract<Op, { op: 'text' }>): void {
  const total = op.runs.reduce((sum, run) => sum + run.width, 0) - op.spacing;
  const back = op.anchor === 'start' ? 0 : op.anchor === 'middle' ? total / 2 : total;
  doc.save();
  if (op.turn !== 0) doc.rotate(op.turn, { origin: [op.at[0], op.at[1]] });
  doc.fillColor(op.fill);
  let x = op.at[0] - back;
  for (const run of op.runs) {
    doc.font(run.font).fontSize(op.size);
    doc.text(run.text, x, op.at[1], {
      lineBreak: false,
      baseline: 'alphabetic',
      ...(op.spacing === 0 ? {} : { characterSpacing: op.spacing }),
    });
    x += run.width;
  }
  doc.restore();
}

function draw(doc: Doc, ops: readonly Op[]): void {
  for (const op of ops) {
    if (op.op === 'text') text(doc, op);
    else if (op.op === 'group') {
      doc.save();
      doc.translate(...op.shift);
      if (op.scale !== 1) doc.scale(op.scale);
      if (op.turn !== 0) doc.rotate(op.turn);
      if (op.clip !== null) doc.rect(...op.clip.at, ...op.clip.size).clip();
      draw(doc, op.ops);
      doc.restore();
    } else if (op.op === 'link') {
      // Links lie on the page itself, in points: the transformation of the page does not reach them.
      const k = POINTS_PER_MM;
      doc.save();
      doc.scale(1 / k);
      doc.goTo(op.at[0] * k, op.at[1] * k, op.size[0] * k, op.size[1] * k, op.to);
      doc.restore();
    } else ink(doc, op);
  }
}

function usedFonts(ops: readonly Op[], into: Set<FontRole>): Set<FontRole> {
  for (const op of ops) {
    if (op.op === 'text') for (const run of op.runs) into.add(run.font);
    if (op.op === 'group') usedFonts(op.ops, into);
  }
  return into;
}

/** The bytes of a PDF with these pages. */
export async function writePdf(paged: Paged, faces: Faces): Promise<Uint8Array> {
  const { default: PDFDocument } = await import('pdfkit');
  const date = new Date(`${paged.date ?? NO_DATE}T00:00:00Z`);
  const doc = new PDFDocument({
    autoFirstPage: false,
    compress: true,
    pdfVersion: '1.7',
    lang: 'en-GB',
    displayTitle: true,
    // No standard font: everything is embedded.
    font: '',
    info: {
      Title: paged.title,
      Subject: paged.subject,
      Author: '',
      Creator: 'Mimicwright',
      Producer: 'Mimicwright',
      CreationDate: date,
      ModDate: date,
    },
  });
  const used = usedFonts(
    paged.pages.flatMap((page) => page.ops),
    new Set(),
  );
  // A font already opened may be given in place of its bytes; the types do not say so.
  for (const role of FONT_ROLES) if (used.has(role)) doc.registerFont(role, faces.font(role) as unknown as ArrayBuffer);

  const chunks: Uint8Array[] = [];
  const done = new Promise<void>((resolve, reject) => {
    doc.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    doc.on('end', () => resolve());
    doc.on('error', reject);
  });

  let part = doc.outline;
  for (const page of paged.pages) {
    doc.addPage({ size: [page.size[0] * POINTS_PER_MM, page.size[1] * POINTS_PER_MM], margin: 0 });
    for (const mark of page.bookmarks) {
      if (mark.level === 0) part = doc.outline.addItem(mark.title, { expanded: false });
      else part.addItem(mark.title);
    }
    for (const name of page.names) doc.addNamedDestination(name, 'Fit');
    doc.scale(POINTS_PER_MM);
    draw(doc, page.ops);
  }
  doc.end();
  await done;

  const bytes = new Uint8Array(chunks.reduce((sum, chunk) => sum + chunk.length, 0));
  let at = 0;
  for (const chunk of chunks) {
    bytes.set(chunk, at);
    at += chunk.length;
  }
  return bytes;
}
