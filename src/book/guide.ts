/** How to use the book, in the order of work, and the cautions that apply to this panel. */
import type { Derived } from '../derive.ts';
import { seriousWords } from './findings-pages.ts';
import { size as sizeText } from './format.ts';
import { pt } from './page.ts';
import { type Leaf, type Setting, startFlow } from './sheet.ts';
import { ranges } from './words.ts';

/** A part of the book and the page that it begins on. */
export interface Contents {
  readonly title: string;
  readonly name: string;
  readonly page: number;
  readonly what: string;
}

/** Height of a line of the contents, mm. */
const ROW = 5.4;
/** Small enough for the cautions of most panels to end on the first page. */
const SET = { indent: 5, size: pt(9.2), after: 1.1 };

export function guidePages(derived: Derived, setting: Setting, contents: readonly Contents[]): Leaf[] {
  const { sheet } = setting;
  const flow = startFlow(setting, {
    title: 'How to use this book',
    lead: 'The parts stand in the order of work. Tick as you go; every page says which revision it belongs to.',
    name: 'guide',
    bookmark: { title: 'How to use this book', level: 0 },
  });
  flow.y += 1;
  for (const part of contents) {
    flow.need(ROW);
    const pen = flow.pen();
    const y = flow.y + 3.9;
    const number = pen.text([sheet.right, y], String(part.page), { font: 'text-600', size: 3.5, anchor: 'end' });
    const title = pen.text([sheet.left, y], part.title, { font: 'text-700', size: 3.5, most: 60 });
    pen.text([sheet.left + Math.max(44, title + 4), y], part.what, {
      size: pt(9.4),
      most: sheet.width - Math.max(44, title + 4) - number - 4,
    });
    pen.line([sheet.left, y + 1.5], [sheet.right, y + 1.5], { stroke: '#9a9a9a', width: 0.18 });
    pen.link([sheet.left, flow.y], [sheet.width, ROW], part.name);
    flow.y += ROW;
  }

  flow.heading('Before you begin');
  const steps = [
    'Print the drilling templates at 100 %, never fitted to the page, and measure the bar of 100 mm on every sheet. Where it is not 100.0, say what it measures and print again.',
    'Work in this order: drill, deburr, paint, tape, pierce the tape at the holes, plates, lamps, switches. Then links and resistors, lamps, wires to the connectors, and the supply last.',
    'What is drilled from the front is wired from the back. Every drawing says from which side it is seen; those of tags and pins are seen from the wiring side and so are mirrored.',
    ...(derived.wiring.circuits.some((circuit) => circuit.feed === 'reversing')
      ? [
          'In the circuits A and B are the rails behind the two poles of a lever: in normal A is plus, in reverse B is plus. Arrows show the current in normal. Symbols are in the manner of IEC 60617; t2 is tag 2 of a switch, A.1 is pin 1 of connector A.',
        ]
      : [
          'In the circuits plus is at the left. Symbols are in the manner of IEC 60617; t2 is tag 2 of a switch, A.1 is pin 1 of connector A; a word in a rounded box is a wire that comes from a supply.',
        ]),
    'Wires carry their number on a sleeve at both ends and the letters of their colour (IEC 60757): BK black, BN brown, RD red, OG orange, YE yellow, GN green, BU blue, VT violet, GY grey, WH white, PK pink, TQ turquoise. Four letters are two colours on one wire.',
    'Test in stages, and never plug the panel in before the stage that says so. A reading is a band: between low and high it is right.',
    'The figures of parts are typical of the kind. Where your own data sheet or meter says otherwise, type it in and print again.',
  ];
  for (const [i, step] of steps.entries()) flow.paragraph(step, { ...SET, bullet: `${i + 1}` });

  flow.heading('Cautions');
  for (const caution of cautionsOf(derived)) flow.paragraph(caution, { ...SET, bullet: '!' });
  return flow.leaves;
}

/** Cautions where work can hurt someone or burn something; those that do not apply to this panel are left out. */
function cautionsOf(derived: Derived): readonly string[] {
  const { panel, wiring, face } = derived;
  const says = [
    'Extra-low voltage only. Use plug-in, isolated, certified supplies. Nothing of this panel is ever joined to the mains: mains work belongs to a licensed electrician and to local codes.',
  ];
  // A capacitor unit is charged through its resistor, behind the fuse of what charges it.
  for (const supply of wiring.supplies.filter((each) => each.kind !== 'cdu')) {
    const limits = supply.limit !== 'none';
    if (supply.fuse === null) {
      says.push(
        `Supply ${supply.id} has no fuse. ${limits ? `It limits itself at ${sizeText(supply.amps)} A: every wire behind it must carry that.` : 'A short can heat thin wire until its insulation melts before the supply notices: fit one.'}`,
      );
    } else {
      says.push(
        `Supply ${supply.id} is fused at ${sizeText(supply.fuse.amps)} A. A fuse is rated no higher than the thinnest wire behind it: never put in a larger one, or a piece of wire.${limits && supply.amps <= supply.fuse.amps ? ' The supply limits itself at its rating and may never blow the fuse: then that limit is the protection.' : ''}`,
      );
    }
  }
  if (wiring.supplies.filter((each) => each.kind !== 'cdu').length > 1)
    says.push('Never join two outputs of one transformer, nor two supplies whose minus is earthed.');
  says.push(
    'Never join this supply to the rails or to the digital bus, and put no battery to a rail with a locomotive’s decoder on it.',
  );
  const charged = wiring.capacitors.map((each) => each.id);
  if (charged.length > 0)
    says.push(
      `${ranges(charged)} ${charged.length === 1 ? 'holds its' : 'hold their'} charge after switching off: discharge ${charged.length === 1 ? 'it' : 'each'} through 100 ohm, 2 W, for three seconds, not with a screwdriver.`,
    );
  if (wiring.drives.some((drive) => drive.feed !== null && drive.part.coilOhms !== null))
    says.push(
      'The coils of a point motor stand their current for the throw alone: held longer they burn. A coil kicks when its current is broken: touch no bare tag of it while it is thrown.',
    );
  if (wiring.relays.length > 0)
    says.push(
      'The coil of a relay kicks when it is switched off: the diode across it, its ring to plus, is never left away.',
    );
  if ((panel.supplies ?? []).some((supply) => supply.kind === 'battery'))
    says.push('Lithium batteries are charged only with the charger made for them, never unwatched.');
  if (/alumin|steel|brass|metal/i.test(face.material))
    says.push(
      'The face is metal: it is joined to neither pole. Sleeve every joint near it, put grommets where wires pass, and leave extra-low isolated voltage unearthed.',
    );
  says.push(
    'Solder in fresh air with the iron in its stand. Wear eye protection when you drill and when you clip leads. Clamp the sheet; deburr before you handle it.',
  );
  const traps = [...new Map(wiring.drives.map((drive) => [drive.part.id, drive.part])).values()];
  for (const part of traps) says.push(`${part.name.charAt(0).toUpperCase()}${part.name.slice(1)}: ${part.trap}`);
  const serious = seriousWords(derived.findings());
  if (serious !== null) says.push(`The checks find ${serious} in this panel. Mend first.`);
  says.push('The sums in this book are an aid. Data sheets, local codes and licensed practice come first.');
  return says;
}
