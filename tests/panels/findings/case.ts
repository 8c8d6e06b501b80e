import type { Code, Severity } from '../../../src/checks/index.ts';

/** What `<code>.mimic.json` must show, and `<code>.sound.mimic.json`, just on the other side of it, must not. */
export interface Case {
  readonly code: Code;
  readonly severity: Severity;
  readonly ids: readonly string[];
  /** Where on the face, mm; null: it has no place there. */
  readonly at: readonly [x: number, y: number] | null;
  /** The sum by hand, or what to look at. A figure of the trade says where it comes from. */
  readonly note: string;
  /** Words as they stand; numbers as summed by hand, and how far off they may be. */
  readonly values?: Readonly<Record<string, string | readonly [value: number, within: number]>>;
}
