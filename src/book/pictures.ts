/** The face and its back as pages of their true size: for SVG, and in layers for DXF. */
import type { Derived } from '../derive.ts';
import { drawBack } from './back-drawing.ts';
import { drawFace, stepsOfStrokes } from './face-drawing.ts';
import type { Measure } from './measure.ts';
import type { Page } from './page.ts';
import { type Pen, startPen } from './pen.ts';

function pageOf(derived: Derived, measure: Measure, draw: (pen: Pen) => void): Page {
  const pen = startPen(measure);
  draw(pen);
  return { size: [derived.face.width, derived.face.height], ops: pen.ops, bookmarks: [], names: [] };
}

/** Lamps that are seen lit with every lever normal. */
export function litLamps(derived: Derived): ReadonlySet<string> {
  return new Set(
    derived
      .operate({})
      .lamps.filter((lamp) => lamp.look === 'good' || lamp.look === 'bright' || lamp.look === 'faint')
      .map((lamp) => lamp.id),
  );
}

/** The face in colour, every lever normal. */
export function facePage(derived: Derived, measure: Measure): Page {
  return pageOf(derived, measure, (pen) => drawFace(pen, derived.face, litLamps(derived), derived.panel.face?.colour));
}

/** The back as it is wired: left and right exchanged, letters readable. */
export function backPage(derived: Derived, measure: Measure): Page {
  return pageOf(derived, measure, (pen) => drawBack(pen, derived.face));
}

/** Layers for a machine: OUTLINE, HOLES (circles), TAPE (centre lines as broad as the tape), ENGRAVE (plates and lettering). */
export function layeredPage(derived: Derived, measure: Measure): Page {
  const { face } = derived;
  return pageOf(derived, measure, (pen) => {
    pen.group({ layer: 'OUTLINE' }, (inner) => inner.rect([0, 0], [face.width, face.height]));
    pen.group({ layer: 'HOLES' }, (inner) => {
      for (const hole of face.holes) inner.circle(hole.at, hole.drill / 2);
    });
    pen.group({ layer: 'TAPE' }, (inner) => {
      for (const strip of face.strips)
        inner.path(stepsOfStrokes(strip.strokes), { stroke: '#000000', width: strip.width });
    });
    pen.group({ layer: 'ENGRAVE' }, (inner) => {
      for (const platform of face.platforms) {
        inner.rect(platform.at, platform.size);
        for (const name of platform.names)
          inner.text(name.at, name.text, { font: 'plate-600', size: 5, anchor: name.anchor });
      }
      for (const plate of face.plates) {
        const at = [plate.at[0] - plate.width / 2, plate.at[1] - plate.height / 2] as const;
        inner.rect(at, [plate.width, plate.height]);
        for (const line of plate.lines)
          inner.text([plate.at[0], at[1] + line.y], line.text, {
            font: 'plate-600',
            size: line.size,
            anchor: 'middle',
          });
      }
    });
  });
}
