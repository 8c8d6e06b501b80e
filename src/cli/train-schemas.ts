/** The shapes of what `routes` answers about trains. */
import { z } from 'zod';

const lie = z.enum(['normal', 'reverse']);
const lies = z.record(z.string(), lie);
const count = z.number().int().nonnegative();

const standing = z.looseObject({
  id: z.string(),
  name: z.string().nullable(),
  length: z.number().nullable().describe('Over all, mm on the layout; null where it is not given'),
  stands: z.string().describe('A place; of several trains at one place the first stands furthest left on the face'),
  heads: z.string().nullable().describe('A place that its head points to; null where that is not known'),
});

const asks = z
  .array(z.looseObject({ train: z.string(), place: z.string().nullable(), question: z.string() }))
  .describe('Lengths that are not given');

const move = {
  train: z.string(),
  from: z.string(),
  to: z.string(),
  through: z.array(z.string()),
  points: lies,
  levers: lies
    .nullable()
    .describe('Only the levers that it asks something of; null where they cannot set it by themselves'),
  why: z.string().optional().describe('Why the levers cannot set it by themselves'),
  head: z.enum(['first', 'last']).nullable().describe('Pulled or pushed; null where it is not known how it heads'),
  faceLength: z.number(),
  layoutLength: z.number().nullable(),
};

export const trainsSchema = z
  .looseObject({
    standing: z.array(standing),
    moves: z
      .array(
        z.looseObject({
          ...move,
          throws: lies
            .nullable()
            .describe(
              'What has to be thrown first, by lever, or by point where no lever works it; null: cannot be set',
            ),
          now: z.boolean().describe('Nothing has to be thrown, nothing bars it, and it fits where it ends'),
          fouledBy: z
            .array(z.looseObject({ train: z.string(), place: z.string(), span: z.string() }))
            .describe('Trains in the way, in the order in which it meets them'),
          asks,
          full: z.string().nullable().describe('Why it does not fit where it ends'),
        }),
      )
      .describe('Every route of every train from where it stands, by train'),
    fouled: z
      .array(z.looseObject({ train: z.string(), by: z.string(), place: z.string(), moves: count }))
      .describe('Who fouls whom: how many of its moves one train takes from another by standing where it does'),
    conflicts: z
      .array(z.tuple([count, count, z.string()]))
      .describe('Moves of two trains, counted from 0 in moves, barred by nobody, that cannot run at the same time'),
    cut: z.boolean().describe('True where there are more moves or conflicts than are listed'),
  })
  .optional()
  .describe('Where trains of the file stand on the plan: what each can do, and who fouls whom');

export const standingsSchema = z
  .looseObject({
    outcome: z
      .enum(['found', 'asked', 'refused', 'stopped'])
      .describe('asked: the moves hang on lengths that are not given; stopped: none found in the standings looked at'),
    moves: z.array(
      z.looseObject({
        ...move,
        throws: lies.describe('What is thrown before it, by lever, or by point where no lever works it'),
      }),
    ),
    throws: count.nullable().describe('In all; null where there are no moves to tell'),
    bound: z
      .looseObject({ moves: count, throws: count })
      .describe('No plan has fewer moves; none of so few moves has fewer throws'),
    proved: z.boolean().describe('True where the plan meets its bound, and where it is proved that there is none'),
    ends: z.array(standing),
    asks: asks.describe('With asked what the moves hang on; with found what could make fewer'),
    why: z.array(z.string()).describe('Why it is refused, or where the search gave up'),
    standings: count.describe('Standings looked at'),
  })
  .optional()
  .describe('Where --stand asks for it: the fewest moves, then the fewest throws');
