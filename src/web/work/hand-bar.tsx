/** What can be done with the point that is in the hand. */
import { useEffect, useRef } from 'react';
import { helped } from '../help/switch.ts';
import { Choice } from '../parts/choice.tsx';
import { leverName } from '../words/run.ts';
import { workWords } from '../words/work.ts';
import type { WorkLever } from '../worker/work-view.ts';
import { useDeeds } from './deeds.ts';
import { useWork } from './use-work.ts';

const NO_LEVERS: readonly WorkLever[] = [];

export function HandBar() {
  const held = useWork((work) => work.held);
  return held === null ? null : <Bar key={held} point={held} />;
}

function Bar({ point }: { readonly point: string }) {
  const deeds = useDeeds();
  const levers = useWork((work) => work.view?.levers ?? NO_LEVERS);
  const bar = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const before = document.activeElement;
    // Whoever took it up with the keys, in the list, goes on here; on the face the levers are an arrow key away.
    if (before instanceof HTMLElement && before.matches('.point-tag:focus-visible'))
      bar.current?.querySelector<HTMLElement>('button')?.focus();
  }, []);
  const own = levers.find(({ works }) => works.some((each) => each.point === point));
  const done = (lever: string | null): void => {
    // The bar goes, and what had the focus with it: the keys go on in the list of levers.
    const row = document.querySelector<HTMLElement>(`[data-lever-row="${lever ?? own?.id ?? ''}"]`);
    if (bar.current?.contains(document.activeElement) === true) row?.focus({ preventScroll: true });
  };
  return (
    <div ref={bar} className="hand-bar" {...helped('work.hand')}>
      <p>
        <b>{workWords.inHand(point)}</b> <span>{workWords.inHandHow}</span>
      </p>
      <Choice
        label={workWords.putUnder}
        seen
        items={levers.flatMap(({ id, name }) => (id === own?.id ? [] : [{ id, name: leverName({ id, name }) }]))}
        chosen={null}
        empty={workWords.putWhich}
        onChoose={(lever) => {
          done(lever);
          deeds.put(point, lever);
        }}
      />
      {own?.works.length === 1 ? null : (
        <button
          type="button"
          className="btn"
          onClick={() => {
            done(null);
            deeds.own(point);
          }}
        >
          {workWords.ownLever}
        </button>
      )}
      <button
        type="button"
        className="btn quiet"
        onClick={() => {
          done(null);
          deeds.hold(null);
        }}
      >
        {workWords.putDown}
      </button>
    </div>
  );
}
