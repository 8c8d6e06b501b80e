/**
 * The shapes of the answers that `--json` gives. Keys may be added in later versions; none is renamed, dropped or given another
 * unit. Volts, amperes, millimetres and seconds are plain numbers.
 */
import { z } from 'zod';
import { certificateSchema } from './certificate-schema.ts';
import { standingsSchema, trainsSchema } from './train-schemas.ts';

const lie = z.enum(['normal', 'reverse']);
const lies = z.record(z.string(), lie);
const position = z.enum(['normal', 'reverse', 'centre']);
const levers = z.record(z.string(), position);
const spot = z.tuple([z.number(), z.number()]);
const count = z.number().int().nonnegative();
const shown = z.enum(['lit', 'unlit']);

const head = <F extends string>(format: F) => ({
  format: z.literal(format),
  version: z.literal(1),
  panel: z.string().describe('The name of the panel; empty where the file gives none'),
});

const mend = z.looseObject({
  id: z.string(),
  text: z.string(),
  price: z.number().nullable().describe("In the user's own money; null where nothing has to be bought"),
});

const finding = z.looseObject({
  code: z.string(),
  severity: z.enum(['danger', 'wrong', 'caution', 'hint']),
  where: z.looseObject({
    ids: z.array(z.string()),
    at: spot.nullable().describe('Millimetres on the face; null where it has no one place'),
  }),
  message: z.string(),
  values: z.record(z.string(), z.union([z.number(), z.string()])),
  mends: z.array(mend),
});

const check = z.looseObject({
  ...head('mimic-check'),
  counts: z.looseObject({
    strips: count,
    points: count,
    crossings: count.describe('Diamonds and slips, not bridges'),
    places: count,
    levers: count,
    lamps: count,
    drives: count,
    circuits: count,
    connectors: count,
    wires: count,
  }),
  findings: z.array(finding),
});

const leg = {
  from: z.string(),
  to: z.string(),
  turns: z.boolean().describe('The train turns back before it'),
  points: lies,
  levers: lies.nullable().describe('Only the levers that it asks something of; null where they cannot set it'),
  why: z.string().optional().describe('Why the levers cannot set it'),
  through: z.array(z.string()),
  faceLength: z.number(),
  layoutLength: z.number().nullable(),
};

const provedLeg = {
  points: lies,
  way: z.enum(['facing', 'trailing', 'across']).describe('A slip is passed across'),
  from: z.string().describe('The span before it'),
  to: z.string().describe('The span after it'),
};

const routes = z.looseObject({
  ...head('mimic-routes'),
  places: z
    .array(z.looseObject({ id: z.string(), name: z.string().nullable() }))
    .describe('In the order of the file, then free ends without a record'),
  routes: z
    .array(
      z.looseObject({
        from: z.string(),
        to: z.string(),
        points: lies,
        levers: lies.nullable().describe('Only the levers that it asks something of; null where they cannot set it'),
        why: z.string().optional().describe('Why the levers cannot set it'),
        through: z.array(z.string()),
        faceLength: z.number(),
        layoutLength: z.number().nullable(),
      }),
    )
    .describe('One direction only, by from, to, fewest reverse lies, then lies by point'),
  conflicts: z
    .array(z.tuple([count, count, z.string()]))
    .describe('Pairs that cannot be set together, counted from 0 in routes: at most 2,000,000, the first'),
  conflictCount: count.describe('How many such pairs there are, listed or not'),
  grouping: z.looseObject({
    lost: z
      .looseObject({
        routes: z.array(count).describe('Those that the levers cannot set'),
        pairs: z.array(z.tuple([count, count])).describe('Both end to end'),
        meets: z.array(z.tuple([count, count])).describe('One of the two ends at a road'),
        counts: z
          .looseObject({ routes: count, pairs: count, meets: count })
          .describe('How many there are of each, listed or not'),
        cut: z
          .boolean()
          .describe('True where more pairs or meets are lost than are listed: 200,000 of each, the first'),
      })
      .describe(
        'What the present levers lose of the routes given, counted from 0 there: pairs could stand together, and either can still be set',
      ),
    least: count.describe(
      'Levers that lose no route, no pair and no meet: the fewest where proved, else the fewest found',
    ),
    proved: z.boolean().describe('False where the search had to stop, or the list of routes is cut'),
    atLeast: count.describe('No fewer levers will do'),
    groups: z
      .array(lies)
      .describe('Such levers: the points that each works, with the lie of each when the first lies normal'),
  }),
  proving: z
    .looseObject({
      moves: z.array(
        z.looseObject({
          ...leg,
          carried: z.boolean().describe('The train is carried over before it: nothing joins where it was'),
          throws: lies.describe('What is thrown before it, by lever, or by point where no lever works it'),
          takes: z.array(z.looseObject(provedLeg)).describe('What it takes for the first time'),
        }),
      ),
      legs: z
        .looseObject({ covered: count, all: count })
        .describe('Ways through points, each in both directions: those that the run takes, and all'),
      missed: z.array(z.looseObject({ ...provedLeg, why: z.string() })),
      reversals: count,
      throws: count.describe('From every lever normal'),
      bound: z.looseObject({ reversals: count, throws: count }).describe('No run has fewer'),
      proved: z.boolean().describe('True where no run has fewer reversals, nor as many and fewer throws'),
    })
    .describe('A train over every leg of every point, facing and trailing; always of the whole panel'),
  moves: z
    .looseObject({
      from: z.string(),
      to: z.string(),
      length: z.number().describe('Of the train, mm on the layout'),
      outcome: z.enum(['found', 'asked', 'refused']),
      reversals: count.nullable().describe('Null where no move is found'),
      legs: z.array(z.looseObject(leg)).describe('In order, each in its own direction'),
      asks: z
        .array(z.looseObject({ place: z.string(), question: z.string() }))
        .describe('Lengths not given: what no move does without, or beside a move what could make a better one'),
      why: z.array(z.string()).describe('Why it is refused'),
      complete: z.boolean().describe('False where the search was cut'),
    })
    .optional()
    .describe('Where --length asks for it: the move with the fewest reversals, then the shortest on the face'),
  trains: trainsSchema,
  standings: standingsSchema,
  cut: z.boolean().describe('True where there are more routes than are listed'),
  limit: count.describe('Routes that are listed at most'),
  count: z
    .string()
    .regex(/^\d+$/)
    .describe('How many routes there are between the places asked for, listed or not: a decimal number'),
  counted: z.enum(['exact', 'at least']).describe('At least: too tangled to be counted out'),
});

const lampReading = {
  id: z.string(),
  amps: z.number(),
  low: z.number(),
  high: z.number(),
  look: z.enum(['unlit', 'faint', 'good', 'bright', 'destroyed']),
  reverseVolts: z.number(),
};

const solve = z.looseObject({
  ...head('mimic-solve'),
  levers,
  history: lies.describe('How points lie that nothing asks about, as far as that was given'),
  faults: z.array(z.string()),
  supplies: z.array(
    z.looseObject({ id: z.string(), volts: z.number(), amps: z.number().describe('Positive when it delivers') }),
  ),
  drives: z.array(
    z.looseObject({
      point: z.string(),
      drive: z.string(),
      volts: z.number().describe('Positive when it is asked to go normal'),
      amps: z.number(),
      moves: lie.nullable(),
      pulse: z
        .looseObject({
          amps: z.number().describe('At its peak'),
          joules: z.number().describe('Stored at the start'),
          seconds: z.number().describe('Above what throws it'),
        })
        .optional()
        .describe('Of a pulse or charge feed: what a throw gives it'),
    }),
  ),
  lamps: z.array(
    z.looseObject({
      ...lampReading,
      elements: z.array(z.looseObject(lampReading)).optional().describe('Of a lamp of two colours, each element'),
    }),
  ),
  nodes: z.array(
    z.looseObject({
      circuit: z.string(),
      node: z.string(),
      volts: z.number().nullable().describe('Null where the node floats'),
    }),
  ),
  residual: z.number().describe('Worst sum of currents at a node, A'),
  problems: z.array(z.looseObject({ code: z.string() })),
});

const entry = {
  levers: levers.describe('Holds for every setting of the levers that are not named'),
  history: lies,
  lamp: z.string(),
};

const truth = z.looseObject({
  ...head('mimic-truth'),
  settings: z.string().regex(/^\d+$/).describe('How many settings the proof covers'),
  lamps: z.array(
    z.looseObject({
      id: z.string(),
      claim: z
        .union([lies, z.array(lies)])
        .describe('As `shows` in the file: one object, or a list of which any; empty where it could not be read'),
      kind: z.string(),
      basis: z.enum(['asked', 'drive', 'blades']),
    }),
  ),
  untruths: z.array(z.looseObject({ ...entry, shown, should: shown })),
  doubtful: z.array(z.looseObject({ ...entry, side: z.enum(['right', 'wrong']) })),
  contradictions: z.array(z.looseObject(entry)),
  silent: z.array(z.looseObject(entry)),
  leads: z.array(z.looseObject({ lamp: z.string(), seconds: z.number() })),
  faults: z
    .looseObject({ tried: count, rightSide: count, wrongSide: count, latent: count })
    .describe('Single faults, each in every setting with every history, by the worst that it does'),
  wrongSide: z
    .array(
      z.looseObject({
        fault: z.string(),
        ...entry,
        shown,
        should: shown,
        mark: z
          .enum(['doubtful', 'shows itself'])
          .nullable()
          .describe('The lamp may be lit or not; lamps of both legs are lit together'),
      }),
    )
    .describe('One witness for each fault that makes a lamp lie'),
  outcomes: z.array(z.looseObject({ fault: z.string(), class: z.enum(['rightSide', 'wrongSide', 'latent']) })),
  share: z.number().describe('Of all faults tried, how many make a lamp lie'),
  weightedShare: z.number().describe('The same, each fault weighted by how often it is met'),
  suggestions: z
    .array(
      z.looseObject({
        id: z.enum(['drive-contact', 'blade-contact', 'relay', 'in-series', 'more-current']),
        text: z.string(),
        lamps: z.array(z.string()),
        cures: count.describe('Faults that make a lamp lie now and would no more; faults of what is added come on top'),
        price: z.looseObject({
          money: z
            .number()
            .nullable()
            .describe(
              "In the user's own money; 0 where nothing has to be bought, null where the catalogue has no such part",
            ),
          parts: z.array(z.looseObject({ part: z.string(), count })),
          wires: count,
          pins: count,
        }),
      }),
    )
    .describe('What would turn faults that make a lamp lie, the most cured first'),
  certificate: certificateSchema,
  powerUp: z
    .looseObject({
      drives: z.array(
        z.looseObject({
          point: z.string(),
          drive: z.string(),
          does: z
            .enum(['home', 'charges', 'stays'])
            .describe(
              'Home: goes where its lever asks; charges: goes normal where its lever lies so; stays: nothing moves it',
            ),
          amps: z.number().describe('While it moves'),
          seconds: z.number().describe('At most'),
        }),
      ),
      supplies: z.array(
        z.looseObject({
          id: z.string(),
          amps: z.number().describe('All that may move at once, and lamps'),
          steady: z.number().describe('When all have come home'),
        }),
      ),
      settles: z
        .array(z.looseObject({ lamp: z.string(), seconds: z.number() }))
        .describe('Lamps that are true once every drive has come home'),
      lies: z
        .array(
          z.looseObject({
            ...entry,
            latches: z.record(z.string(), z.enum(['set', 'reset'])),
            shown,
            should: shown,
          }),
        )
        .describe('Lamps that may lie until the first throw, one witness for each'),
    })
    .describe('When the supply comes on: any point may lie either way, any latch stand either way'),
});

const build = z.looseObject({
  ...head('mimic-build'),
  files: z.array(
    z.looseObject({
      path: z.string(),
      kind: z.enum(['pdf', 'svg', 'dxf', 'csv', 'spice', 'json']),
      pages: count.nullable(),
      bytes: count,
    }),
  ),
});

const compare = z.looseObject({
  ...head('mimic-compare'),
  options: z
    .array(
      z.looseObject({
        name: z.string(),
        parts: count.describe('Pieces of the list of parts; wire and tape are not counted'),
        wires: count.describe('Every wire with a name, as `check` counts them'),
        pins: count.describe('Ways of connectors that carry a wire: as many wires pass them'),
        joints: count.describe('Soldered ends of wires: two a wire, but for those that a screw of a connector holds'),
        amps: z
          .number()
          .describe('At switch-on, every supply at its worst, together; decoders on the bus are counted with them'),
        cost: z
          .number()
          .nullable()
          .describe("In the user's own money, of all that has a price; null where nothing has"),
        wrongSideShare: z
          .number()
          .nullable()
          .describe(
            'Of all single faults tried, how many make a lamp lie; null where trying them takes long and --all-faults does not ask for it',
          ),
        id: z.string().describe('Stays the same whatever else is offered'),
        says: z.array(z.string()).describe('What it does and brings with it'),
        throughConnectors: count.describe('Wires that pass a connector'),
        unpriced: count.describe('Lines of the list of parts without a price: they come on top of the cost'),
        faults: z.looseObject({ tried: count, wrongSide: count }).nullable(),
        lampsKnow: z
          .looseObject({ lever: count, drive: count, blades: count })
          .describe('How many lamps know what the lever asks, how the drive lies, how the blades lie'),
        obstacles: z
          .array(
            z.looseObject({
              code: z.string(),
              severity: z.enum(['danger', 'wrong']),
              ids: z.array(z.string()),
              message: z.string(),
              count,
            }),
          )
          .describe('What is danger or wrong in it and not in the panel as it is; empty where it can be built'),
      }),
    )
    .describe('The panel as it is, then by drives, by feed and by lamps'),
});

/** A schema for each command that answers in JSON, by the command's name. */
export const answerSchemas = { build, check, compare, routes, solve, truth };

export type BuildAnswer = z.infer<typeof build>;
export type CheckAnswer = z.infer<typeof check>;
export type CompareAnswer = z.infer<typeof compare>;
export type RoutesAnswer = z.infer<typeof routes>;
export type SolveAnswer = z.infer<typeof solve>;
export type TruthAnswer = z.infer<typeof truth>;
