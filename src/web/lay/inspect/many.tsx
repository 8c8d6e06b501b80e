import { useState } from 'react';
import {
  type Alignment,
  alignThings,
  duplicateThings,
  mirrorThings,
  PICK_LISTS,
  type Picked,
  removeThings,
  spaceThings,
  turnThings,
} from '../../../laying/index.ts';
import type { Transaction } from '../../../panel/index.ts';
import type { Degree } from '../../../units/index.ts';
import { kindCounts, layWords } from '../../words/lay.ts';
import { useLay } from '../use-lay.ts';
import { DegreesField, Section } from './fields.tsx';

const ALIGNMENTS: readonly Alignment[] = ['left', 'across', 'right', 'top', 'down', 'bottom'];

/** Several things at once: lined up, spaced, mirrored, turned. */
export function ManyInspector({ picked }: { readonly picked: readonly Picked[] }) {
  const panel = useLay((lay) => lay.laid);
  const edit = useLay((lay) => lay.edit);
  const pick = useLay((lay) => lay.pick);
  const [turns, setTurns] = useState(0);
  const whole = [...new Map(picked.map((each) => [`${each.list} ${each.id}`, each])).values()];
  const counts = PICK_LISTS.map((list) => [list, whole.filter((each) => each.list === list).length] as const);
  const act = (tx: () => Transaction | null) => () => edit(tx());
  const buttons = (list: readonly (readonly [word: string, act: () => void, off?: boolean])[], deal = 'deal') => (
    <div className={deal}>
      {list.map(([word, go, off = false]) => (
        <button key={word} type="button" className="btn" disabled={off} onClick={go}>
          {word}
        </button>
      ))}
    </div>
  );
  const few = whole.length < 3;
  const turn = (by: Degree) => turnThings(panel, picked, by);
  return (
    <>
      <p className="side-note">{kindCounts(counts.filter(([, n]) => n > 0))}</p>
      <Section help="sec.align" head={layWords.align}>
        {buttons(
          ALIGNMENTS.map((to) => [layWords.alignments[to], act(() => alignThings(panel, picked, to))] as const),
          'deal three',
        )}
      </Section>
      <Section help="sec.space" head={layWords.space} {...(few ? { note: layWords.spaceWhy } : {})}>
        {buttons([
          [layWords.spaceAcross, act(() => spaceThings(panel, picked, 'across')), few],
          [layWords.spaceDown, act(() => spaceThings(panel, picked, 'down')), few],
        ])}
      </Section>
      <Section help="sec.mirror" head={layWords.mirror}>
        {buttons([
          [layWords.mirrorAcross, act(() => mirrorThings(panel, picked, 'left-right'))],
          [layWords.mirrorDown, act(() => mirrorThings(panel, picked, 'up-down'))],
        ])}
      </Section>
      <Section help="sec.turn" head={layWords.turn}>
        {buttons([
          [layWords.turnLeft, act(() => turn(-90))],
          [layWords.turnRight, act(() => turn(90))],
        ])}
        <DegreesField
          key={turns}
          label={layWords.turnBy}
          value={0}
          subject=""
          set={(by) => {
            const tx = by === undefined ? null : turn(by);
            // The field begins at nought again.
            if (tx !== null) setTurns(turns + 1);
            return tx;
          }}
        />
      </Section>
      <Section help="sec.other" head={layWords.other}>
        {buttons([
          [
            layWords.duplicate,
            () => {
              const made = duplicateThings(panel, picked);
              edit(made.edit);
              if (made.edit !== null) pick(made.made);
            },
          ],
          [
            layWords.liftAll(whole.length),
            () => {
              edit(removeThings(panel, picked));
              pick([]);
            },
          ],
        ])}
      </Section>
    </>
  );
}
