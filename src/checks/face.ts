/** The sheet: holes, bodies, plates, tape. */
import { editOf } from '../panel/index.ts';
import { type RawFinding, raw } from './raw.ts';
import type { CheckInput, Mend } from './types.ts';

export function checkFace({ face, panel, catalogue }: CheckInput): readonly RawFinding[] {
  return face.problems.map((problem): RawFinding => {
    switch (problem.code) {
      case 'off-the-face':
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
        return raw(problem.code, [problem.id], problem.at, { size: problem.size, least: problem.least });
      case 'plates-overlap':
        return raw(problem.code, problem.ids, problem.at);
      case 'plate-hides':
        return raw(problem.code, [problem.plate, problem.id], problem.at);
      case 'box-too-shallow':
        return raw(problem.code, [problem.id], problem.at, { needs: problem.needs, has: problem.has });
      case 'tape-on-paint':
        return raw(problem.code, [problem.strip], null, { ratio: problem.ratio, least: problem.least });
    }
  });

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
