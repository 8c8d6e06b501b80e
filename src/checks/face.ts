/** The sheet: holes, bodies, plates, tape. */
import { contrastRatio, type FaceProblem, PAINTS, TAPES } from '../face/index.ts';
import { DEFAULTS, editOf, faceOf } from '../panel/index.ts';
import { formatMillimetres, type Spot } from '../units/index.ts';
import { mend } from './mends.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

/** Words for a sheet that conducts. */
const METAL = /\b(alumini?um|steel|brass|copper|zinc|tin|tinplate|iron|metal)\b/i;

export function checkFace({ face, panel, catalogue }: CheckInput): readonly RawFinding[] {
  return [...face.problems.map(ofProblem), ...metal()];

  function ofProblem(problem: FaceProblem): RawFinding {
    switch (problem.code) {
      case 'off-the-face':
        return raw(problem.code, [problem.id], problem.at, {}, largerSheet(problem.at));
      case 'in-keep-out':
        return raw(problem.code, [problem.id], problem.at);
      case 'holes-clash':
        return raw(problem.code, problem.ids, problem.at, { gap: problem.gap, least: problem.least });
      case 'hole-near-edge':
        return raw(problem.code, [problem.id], problem.at, { gap: problem.gap, least: problem.least });
      case 'bodies-clash':
        return raw(problem.code, problem.ids, problem.at, { overlap: problem.overlap });
      case 'body-over-hole':
        return raw(problem.code, [problem.id, problem.hole], problem.at);
      case 'nut-driver-fouls':
        return raw(problem.code, [problem.id, problem.other], problem.at, { gap: problem.gap });
      case 'bats-too-close':
        return raw(problem.code, problem.ids, problem.at, { clear: problem.clear, least: problem.least });
      case 'hole-cuts-tape':
        return raw(
          problem.code,
          [problem.id],
          problem.at,
          { strip: problem.strip, drill: problem.drill, width: problem.width, left: problem.left },
          smallerLamp(problem.id),
        );
      case 'lettering-small':
        return raw(
          problem.code,
          [problem.id],
          problem.at,
          { size: problem.size, least: problem.least },
          largerType(problem.at, problem.least),
        );
      case 'plates-overlap':
        return raw(problem.code, problem.ids, problem.at);
      case 'plate-hides':
        return raw(problem.code, [problem.plate, problem.id], problem.at);
      case 'box-too-shallow':
        return raw(problem.code, [problem.id], problem.at, { needs: problem.needs, has: problem.has });
      case 'tape-on-paint':
        return raw(
          problem.code,
          [problem.strip],
          null,
          { ratio: problem.ratio, least: problem.least },
          otherTape(problem.strip, problem.least),
        );
    }
  }

  /** A sheet that conducts lies between the poles of every switch. */
  function metal(): readonly RawFinding[] {
    const { material } = face;
    return METAL.test(material) ? [raw('face-metal', [], null, { material })] : [];
  }

  /** A sheet without a size of its own is as large as what lies on it; nothing helps what lies left of it or above. */
  function largerSheet([x, y]: Spot): readonly Mend[] {
    const sized = panel.face?.width !== undefined || panel.face?.height !== undefined;
    if (!sized || x < 0 || y < 0) return [];
    const edit = editOf(panel)
      .set('face', { ...panel.face, width: undefined, height: undefined })
      .done('face.size');
    return [mend('larger-sheet', 'Make the sheet as large as what lies on it', edit)];
  }

  function largerType(at: Spot, least: number): readonly Mend[] {
    const index = (panel.plates ?? []).findIndex((plate) => plate.at[0] === at[0] && plate.at[1] === at[1]);
    if (index < 0) return [];
    const edit = editOf(panel)
      .update('plates', index, { size: least, width: undefined, height: undefined })
      .done('plate.size');
    return [mend('larger-type', `Letter it ${formatMillimetres(least)} high`, edit)];
  }

  /** The usual tape, or else the one that stands out most. */
  function otherTape(id: string, least: number): readonly Mend[] {
    const paint = PAINTS[faceOf(panel).colour];
    if (paint === undefined) return [];
    const ratio = (tape: string) => contrastRatio(TAPES[tape] ?? paint, paint);
    const usual = DEFAULTS.strip.tape;
    const best = Object.keys(TAPES).reduce((a, b) => (ratio(b) > ratio(a) ? b : a), usual);
    const tape = ratio(usual) >= least ? usual : best;
    if (ratio(tape) < least) return [];
    const edit = editOf(panel).update('strips', id, { tape }).done('strip.tape');
    return [mend('other-tape', `Lay it in ${tape} tape`, edit)];
  }

  function smallerLamp(id: string): readonly Mend[] {
    const record = panel.lamps?.find((each) => each.id === id);
    const smaller = record?.part?.replace('led-5-', 'led-3-');
    if (record === undefined || smaller === undefined || smaller === record.part) return [];
    const part = catalogue.find('lamp', smaller);
    if (part === undefined) return [];
    const edit = editOf(panel)
      .update('lamps', id, { ...record, part: smaller })
      .done('lamp.part');
    return [{ id: 'smaller-lamp', text: 'Use a 3 mm lamp', price: part.price, edit }];
  }
}
