/** What a hand does in this stage, as edits of the panel on the desk, told aloud. */
import { useMemo } from 'react';
import {
  arrangeLevers,
  type JoinAsked,
  joinUnder,
  ownLever,
  partLever,
  putUnder,
  setDrive,
  setSwitch,
} from '../../laying/index.ts';
import type { Lie, PanelFile, Transaction } from '../../panel/index.ts';
import type { LayStore } from '../lay/lay-store.ts';
import { useLayStore } from '../lay/use-lay.ts';
import { workWords } from '../words/work.ts';
import { useWorkStore } from './use-work.ts';
import type { WorkStore } from './work-store.ts';

export interface Deeds {
  put(point: string, lever: string, opposite?: boolean): void;
  own(point: string): void;
  join(join: JoinAsked): void;
  part(lever: string): void;
  arrange(groups: readonly Readonly<Record<string, Lie>>[]): void;
  /** `kind`: what is told of it. */
  setSwitch(lever: string, part: string | null, kind: string): void;
  setDrive(points: readonly string[], part: string | null, kind: string): void;
  hold(point: string | null): void;
}

function makeDeeds(lay: LayStore, work: WorkStore): Deeds {
  const edit = (make: (panel: PanelFile) => Transaction | null, subject: string, said: string): boolean => {
    const { laid, edit: accept, mayEdit, say } = lay.getState();
    if (!mayEdit()) return false;
    const tx = make(laid);
    if (tx === null) return false;
    accept(tx, subject);
    say(said);
    return true;
  };
  const { said } = workWords;
  return {
    put(point, lever, opposite = false) {
      work.getState().hold(null);
      work.getState().pick(lever);
      const done = edit((panel) => putUnder(panel, point, lever, opposite), lever, said.under(point, lever, opposite));
      if (!done) lay.getState().say(said.stays(point));
    },
    own(point) {
      work.getState().hold(null);
      edit((panel) => ownLever(panel, point), point, said.own(point));
    },
    join(join) {
      const [stays] = join.levers;
      if (edit((panel) => joinUnder(panel, join), join.levers.join(', '), said.joined(stays)))
        work.getState().pick(stays);
    },
    part(lever) {
      edit((panel) => partLever(panel, lever), lever, said.parted(lever));
    },
    arrange(groups) {
      edit((panel) => arrangeLevers(panel, groups), '', said.arranged(groups.length));
    },
    setSwitch(lever, part, kind) {
      edit((panel) => setSwitch(panel, [lever], part), lever, said.switch(lever, kind));
    },
    setDrive(points, part, kind) {
      const subject = points.length === 1 ? (points[0] ?? '') : '';
      edit((panel) => setDrive(panel, points, part), subject, said.drive(points, kind));
    },
    hold(point) {
      const { held } = work.getState();
      work.getState().hold(point);
      lay.getState().say(point === null ? (held === null ? '' : said.down(held)) : said.inHand(point));
    },
  };
}

/** The deeds on the panel on the desk. */
export function useDeeds(): Deeds {
  const lay = useLayStore();
  const work = useWorkStore();
  return useMemo(() => makeDeeds(lay, work), [lay, work]);
}
