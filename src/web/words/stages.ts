/** Words of the six stages, for the bar. */

export const stageNames = { lay: 'Lay', work: 'Work', wire: 'Wire', make: 'Make', prove: 'Prove', run: 'Run' } as const;
export type Stage = keyof typeof stageNames;

/** Why a stage cannot be gone to. */
export const stageWhy: Readonly<Partial<Record<Stage, string>>> = {
  make: 'Make is not there yet: templates are in the build book',
  prove: 'Prove is not there yet',
};

export const stageWords = {
  stages: 'Stages',
  notYet: 'not there yet',
  /** What the small lamp of a stage says; empty where it is unlit. */
  lamp: (pip: 'none' | 'ok' | 'warn' | 'bad'): string => (pip === 'none' ? '' : pips[pip]),
  /** What stands behind the count. */
  counted: (n: number): string => (n === 1 ? 'finding' : 'findings'),
} as const;

const pips = { ok: 'clear', warn: 'worth a look', bad: 'danger' } as const;

/** In the place of a stage that finds no room. */
export const narrowWords = {
  head: {
    lay: 'Laying needs a wider screen',
    work: 'Levers need a wider screen',
    wire: 'Circuits need a wider screen',
  },
  what: {
    lay: 'The sheet, its tools and the findings do not fit side by side here.',
    work: 'The face with its points and the control table do not fit here.',
    wire: 'A circuit with its volts and sums cannot be read here.',
  },
  more: 'Turn the device, or use a screen at least 820 px wide. Run and the build book are there on every screen.',
  toRun: 'Go to Run',
} as const;
