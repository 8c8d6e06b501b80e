/** Kinds of drive, each with the trap that it sets, for all points at once. */
import { useState } from 'react';
import { helped } from '../help/switch.ts';
import { ChevronDown } from '../icons.tsx';
import { useFollows } from '../lay/use-lay.ts';
import { workWords } from '../words/work.ts';
import type { WorkDrive } from '../worker/work-view.ts';
import { useDeeds } from './deeds.ts';
import { useWork } from './use-work.ts';

/** Kinds that stand there before the rest is asked for; one that is in use always does. */
const FEW = 4;

export function Drives() {
  const view = useWork((work) => work.view);
  const deeds = useDeeds();
  const follows = useFollows();
  const [all, setAll] = useState(false);
  if (view === null || view.points.length === 0) return null;
  const { drives, points, feed } = view;
  const name = ({ part, name: own, what }: WorkDrive): string => workWords.kindOf(part, own, what);
  const shown = drives.filter((drive, i) => all || i < FEW || drive.points > 0);
  const rest = drives.filter((drive) => !shown.includes(drive));
  return (
    <fieldset className="drives" disabled={follows} {...helped('work.drives')}>
      <legend>
        <span>{workWords.drives}</span>
        <span>{workWords.forAll(points.length)}</span>
      </legend>
      {shown.map((drive) => (
        <label key={drive.part} className={drive.points === points.length ? 'drive-row on' : 'drive-row'}>
          <input
            type="radio"
            name="drive-of-all"
            value={drive.part}
            checked={drive.points === points.length}
            onChange={() =>
              deeds.setDrive(
                points.map(({ id }) => id),
                drive.part,
                name(drive),
              )
            }
          />
          <span>
            <b>{name(drive)}</b>
            <span className={drive.suits ? undefined : 'unsuited'}>
              {drive.suits ? '' : `${workWords.unsuited(feed)} `}
              {workWords.trap(drive.trap)}
            </span>
          </span>
          <em className={drive.points === 0 ? 'none' : undefined}>{drive.points}</em>
        </label>
      ))}
      {drives.length <= FEW ? null : (
        <button type="button" className="drive-more" aria-expanded={all} onClick={() => setAll(!all)}>
          <span>
            <b>{all ? workWords.fewerKinds : workWords.moreKinds(rest.length)}</b>
            {all ? null : (
              <span>{rest.map(({ part, name: own, what }) => workWords.shortKind(part, own, what)).join(', ')}</span>
            )}
          </span>
          <ChevronDown />
        </button>
      )}
    </fieldset>
  );
}
