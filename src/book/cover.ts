/** The cover: the face as it will look, what it is, and how much of each there is. The only page in colour. */
import type { Derived } from '../derive.ts';
import { formatAmps } from '../units/index.ts';
import { drawFace } from './face-drawing.ts';
import { drawSeverity, seriousWords } from './findings-pages.ts';
import { faradText, longDate, size as sizeText } from './format.ts';
import { pt } from './page.ts';
import { EDGE } from './pen.ts';
import { litLamps } from './pictures.ts';
import { type Leaf, newLeaf, type Setting } from './sheet.ts';

const INK = '#172023';
const SOFT = '#435054';

export function coverPage(derived: Derived, setting: Setting): Leaf {
  const { sheet, imprint } = setting;
  const { face, counts, wiring } = derived;
  const leaf = newLeaf(setting);
  leaf.bookmarks.push({ title: 'Cover', level: 0 });
  leaf.names.push('cover');
  const { pen } = leaf;

  pen.text([sheet.left, 24], 'Mimicwright', { font: 'plate-700', size: pt(15), fill: INK });
  pen.text([sheet.right, 24], 'Build book', { font: 'plate-500', size: pt(15), anchor: 'end', fill: SOFT });
  pen.line([sheet.left, 28.5], [sheet.right, 28.5], { stroke: INK, width: 0.35 });

  const size = pt(34);
  const lines = pen.measure.wrap(imprint.panel, 'plate-600', size, sheet.width);
  const shown =
    lines.length <= 2
      ? { lines, size }
      : { lines: pen.measure.wrap(imprint.panel, 'plate-600', pt(20), sheet.width).slice(0, 3), size: pt(20) };
  let y = 38;
  for (const line of shown.lines) {
    y += shown.size * 1.08;
    pen.text([sheet.left, y], line, { font: 'plate-600', size: shown.size, fill: INK, most: sheet.width });
  }
  y += 8.5;
  pen.text([sheet.left, y], `Revision ${imprint.revision}, ${longDate(imprint.date)}`, {
    size: pt(13),
    fill: SOFT,
    most: sheet.width,
  });

  // The face on a toned bench across the sheet, as large as the margins allow.
  const room: readonly [number, number] = [sheet.width, 112];
  const scale = Math.min(room[0] / face.width, room[1] / face.height, 1);
  const [w, h] = [face.width * scale, face.height * scale];
  const benchTop = y + 11;
  const benchHeight = h + 26;
  pen.rect([0, benchTop], [sheet.size[0], benchHeight], { fill: '#c8cbc6' });
  const at = [(sheet.size[0] - w) / 2, benchTop + 13] as const;
  for (const [k, opacity] of [
    [3.4, 0.05],
    [2.4, 0.07],
    [1.4, 0.09],
    [0.7, 0.12],
  ] as const) {
    pen.rect([at[0] - k * 0.5, at[1] - k * 0.2], [w + k, h + k * 1.5], { fill: '#1a241f', opacity, radius: 1.4 });
  }
  pen.group({ shift: at, scale }, (inner) => drawFace(inner, face, litLamps(derived), derived.panel.face?.colour));
  pen.text(
    [sheet.left, benchTop + benchHeight + 5.4],
    `${sizeText(face.width)} x ${sizeText(face.height)} mm, ${sizeText(face.thickness)} mm ${face.material}, shown at 1 : ${sizeText(1 / scale)} with every lever normal`,
    { size: pt(8.6), fill: SOFT, most: sheet.width },
  );

  // What there is, in a strip of figures.
  const figures: readonly (readonly [string, string])[] = [
    [String(counts.levers), counts.levers === 1 ? 'lever' : 'levers'],
    [String(counts.points), counts.points === 1 ? 'point' : 'points'],
    [String(counts.lamps), counts.lamps === 1 ? 'lamp' : 'lamps'],
    [String(counts.drives), counts.drives === 1 ? 'drive' : 'drives'],
    [String(face.holes.length), face.holes.length === 1 ? 'hole' : 'holes'],
    [String(counts.wires), counts.wires === 1 ? 'wire' : 'wires'],
    [String(counts.connectors), counts.connectors === 1 ? 'connector' : 'connectors'],
  ];
  const top = benchTop + benchHeight + 14;
  const cell = sheet.width / figures.length;
  pen.line([sheet.left, top], [sheet.right, top], { stroke: INK, width: 0.5 });
  for (const [i, [figure, word]] of figures.entries()) {
    const x = sheet.left + i * cell;
    pen.text([x, top + 11], figure, { font: 'plate-600', size: pt(24), fill: INK, most: cell - 2 });
    pen.text([x, top + 16], word, { size: pt(9.4), fill: SOFT, most: cell - 2 });
  }
  pen.line([sheet.left, top + 20.5], [sheet.right, top + 20.5], { stroke: INK, width: 0.25 });

  const supplies = wiring.supplies.map((supply) => {
    if (supply.kind === 'cdu')
      return `Capacitor unit ${supply.id}: ${faradText(supply.farads ?? 0)} at ${sizeText(supply.volts)} V, charged from ${supply.from ?? ''}. It holds its charge after switching off.`;
    const fuse = supply.fuse === null ? 'no fuse' : `fuse ${sizeText(supply.fuse.amps)} A ${supply.fuse.act}`;
    return `Supply ${supply.id}: ${sizeText(supply.volts)} V${supply.kind === 'ac' ? ' AC' : ''}, ${sizeText(supply.amps)} A, ${fuse}. At switch-on it gives up to ${formatAmps(supply.worstAmps)}.`;
  });
  const shells = wiring.connectors.map(
    (connector) =>
      `Connector ${connector.id}: ${connector.part.name}, ${connector.panelHalf} on the panel, ${connector.pins.length} of ${connector.part.ways} pins used.`,
  );
  // A panel that is dangerous or wrong says so before anything else.
  const serious = seriousWords(derived.findings());
  let line = top + 27.5;
  if (serious !== null) {
    const box = 12;
    pen.rect([sheet.left, line - 4.6], [sheet.width, box], { stroke: '#ad1f18', width: EDGE });
    drawSeverity(pen, [sheet.left + 5, line + 1.4], serious.includes('danger') ? 'danger' : 'wrong');
    pen.text([sheet.left + 9.5, line + 0.4], `The checks find ${serious}.`, {
      size: pt(11),
      font: 'text-700',
      fill: '#ad1f18',
      most: sheet.width - 12,
    });
    pen.text([sheet.left + 9.5, line + 5], 'Mend it and print again before you drill or wire: see the findings.', {
      size: pt(9.4),
      fill: '#ad1f18',
      most: sheet.width - 12,
    });
    line += box + 3.4;
  }
  const said = [...(serious === null ? ['The checks find nothing dangerous or wrong.'] : []), ...supplies, ...shells];
  const most = Math.max(1, Math.floor((sheet.bottom - line) / 5) + 1);
  const told =
    said.length <= most ? said : [...said.slice(0, most - 1), 'More connectors stand in their part of the book.'];
  for (const text of told) {
    pen.text([sheet.left, line], text, { size: pt(9.4), fill: INK, most: sheet.width });
    line += 5;
  }
  return leaf;
}
