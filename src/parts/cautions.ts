import type { Part } from './types.ts';

/** How a capacitor is emptied, as part of a sentence. Common practice, no source. */
export const DISCHARGE = 'discharge it through 100 ohm, 2 W, for three seconds, not with a screwdriver';
const KEEPS = `It keeps its charge after the supply is off: ${DISCHARGE}.`;
const FLYBACK = 'A coil kicks when it is switched off: a diode across it, cathode to plus, close to the coil.';

/** What must be heeded with a part, in sentences; the worst first, none where there is nothing. Common practice, no source. */
export function partCautions(part: Part): readonly string[] {
  switch (part.kind) {
    case 'lamp':
      return [
        `It stands ${part.reverse} V in reverse; where it breaks down above that no data sheet says. Guard it with a lamp or a diode that faces the other way across it; a diode in series is no sure guard.`,
        ...(part.elements === 2 && part.leads === 2 ? ['With two leads each element guards the other.'] : []),
        'Never without a resistor.',
      ];
    case 'drive':
      return part.what === 'twin-coil' || part.what === 'twin-coil-end-off' ? [part.trap, FLYBACK] : [part.trap];
    case 'relay':
      return [
        part.latching && part.coils === 1
          ? 'No diode across its coil: it is worked with both polarities, and the diode would short one of them. Judge the kick at the contact that breaks it.'
          : FLYBACK,
      ];
    case 'switch':
    case 'button':
    case 'contact':
      return [
        `A discharge unit asks for 4 to 20 A at the moment of closing. A lamp current below ${part.plating === 'gold' ? 'a hundredth of a milliamp' : 'a milliamp'} may not get through the film on ${part.plating}; gold that has switched more than about 0.1 A is gold no more.`,
      ];
    case 'connector':
      return ['Numbers are those of the mating face of the plug; its solder side and the socket are the mirror image.'];
    case 'wire':
      return ['The fuse is rated no higher than the thinnest wire that it feeds; in a loom a wire carries less.'];
    case 'capacitor':
      return [KEEPS, 'The wrong way round it bursts: plus to plus.'];
    case 'cdu':
      return [KEEPS];
    case 'resistor':
    case 'diode':
      return [];
  }
}
