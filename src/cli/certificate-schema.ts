/** The shape of the certificate in the answer of `truth`. */
import { z } from 'zod';

const lie = z.enum(['normal', 'reverse']);
const lies = z.record(z.string(), lie);
const position = z.enum(['normal', 'reverse', 'centre']);
const count = z.number().int().nonnegative();
const figure = z
  .union([z.number(), z.tuple([z.number(), z.number(), z.number()])])
  .describe('One, or at the low, the nominal and the high edge: high is the edge at which most flows');

const element = z.looseObject({
  kind: z.enum(['contact', 'resistor', 'lamp', 'diode', 'source', 'open']),
  id: z.string(),
  a: z.string().describe('Where current goes in: of a lamp its anode, of a source its plus'),
  b: z.string(),
  by: z
    .looseObject({ lever: z.string().optional(), carrier: z.string().optional(), lies: lie })
    .optional()
    .describe('Of a contact: closed when that lies so; absent: open while all is at rest'),
  ohms: figure.optional(),
  edge: z
    .enum(['lamps', 'draw'])
    .optional()
    .describe(
      'Whose edge its ohms take: that of its group of lamps, or of all else that draws; absent: they have no band',
    ),
  group: z.string().optional(),
  vf: figure.optional().describe('Forward volts at `at`'),
  at: z.number().optional().describe('A'),
  n: z.number().optional(),
  rs: z.number().optional().describe('Ohm'),
  beside: z
    .tuple([z.number(), z.number()])
    .optional()
    .describe('Forward volts at the low and the high edge while a lamp at the same resistor is judged'),
  volts: figure.optional(),
});

const state = z.looseObject({
  levers: z.record(z.string(), position),
  history: lies.describe('How points lie of which nothing is asked'),
  points: z.array(
    z.looseObject({
      edge: z.enum(['low', 'nominal', 'high']),
      group: z.string().optional().describe('The group at that edge; all else that draws stands at the other'),
      lamp: z.string().optional().describe('The one of its group that is judged'),
      dimmed: z.number().optional().describe('Share of their volts that supplies have behind a dimmer; absent: 1'),
      held: z.record(z.string(), z.number()).optional().describe('Volts to which their limits hold supplies'),
      volts: z
        .array(z.number().nullable())
        .describe('In the order of the nodes; null where a node floats or does not matter'),
    }),
  ),
  amps: z
    .record(z.string(), z.tuple([z.number(), z.number(), z.number()]))
    .describe('Of each lamp that this state tells: nominal, least, greatest'),
  residual: z.number().describe('Greatest sum of currents at a node of any corner, A'),
});

export const certificateSchema = z
  .looseObject({
    settings: z.string().regex(/^\d+$/),
    levers: z.array(
      z.looseObject({
        id: z.string(),
        positions: z.array(position),
        sprung: z.boolean().optional(),
        turns: z.string().optional().describe('Of a switch on another panel: the lever whose asking it turns over'),
      }),
    ),
    points: z.array(
      z.looseObject({
        id: z.string(),
        lever: z.string().nullable(),
        whenNormal: lie.nullable().describe('How it lies when its lever is normal'),
        of: z.string().describe('The first point on its drive'),
        opposite: z.boolean().describe('It lies against that'),
      }),
    ),
    carriers: z
      .array(z.looseObject({ id: z.string(), point: z.string(), whenNormal: lie }))
      .describe('Drives, blades and relays: each lies normal when its point lies so'),
    joints: z
      .array(z.tuple([z.string(), z.string(), z.string()]))
      .describe('What is one node for good: id and ends of each wire of no ohms, pin and fuse'),
    circuits: z.array(
      z.looseObject({
        circuits: z.array(z.string()),
        nodes: z.array(z.string()).describe('A terminal of each'),
        elements: z.array(element),
        states: z
          .array(state)
          .describe('Each holds for every position of levers, and every lie, that it does not name'),
        left: z.array(z.string()).optional().describe('Lamps with more states than are told'),
      }),
    ),
    lamps: z.array(
      z.looseObject({
        id: z.string(),
        claim: z.array(lies),
        speaksWhenDark: z.boolean(),
        seen: z.number().describe('A, from which it is lit'),
        dark: z.number().describe('A, up to which it is dark'),
        max: z.number().describe('A, above twice which it is destroyed'),
        circuit: count.nullable().describe('Counted from 0 in circuits; null where it is not wired'),
        states: z.array(count).describe('Counted from 0 there: those that tell of it'),
        cases: z
          .array(
            z.looseObject({
              levers: z.record(z.string(), position),
              history: lies,
              states: z.array(count),
              shown: z.enum(['lit', 'dark', 'doubtful']),
              should: z.enum(['lit', 'unlit']),
            }),
          )
          .describe('Every setting of what its claim hangs on; empty where there are more than 64'),
      }),
    ),
  })
  .describe('What another program needs to work the proof of the healthy panel out again');
