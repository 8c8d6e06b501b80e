/** What has changed since a version, marked on the sheet as it is, with a line that says so. Stands in the view, over the sheet. */
import { useMemo } from 'react';
import type { Spot } from '../../units/index.ts';
import { toView } from './camera.ts';
import { marksBetween } from './changes.ts';
import { useLay } from './use-lay.ts';

/** A ring round a spot: mm on the face, and px at least. */
const RING_MM = 7;
const RING_LEAST_PX = 12;

export function ChangeMarks() {
  const compared = useLay((lay) => lay.compared);
  const laid = useLay((lay) => lay.laid);
  const camera = useLay((lay) => lay.camera);
  const marks = useMemo(() => (compared === null ? [] : marksBetween(compared.panel, laid)), [compared, laid]);
  if (compared === null || camera === null) return null;
  const to = (spot: Spot): string => toView(camera, spot).join(' ');
  const r = Math.max(RING_LEAST_PX, RING_MM * camera.pxPerMm);
  return (
    <div className="change-marks">
      <svg aria-hidden="true" focusable="false" width="100%" height="100%">
        {marks.map(({ id, gone, at, path }) => {
          const name = gone ? 'change gone' : 'change';
          if (at === null) return <path key={id} className={`${name} along`} d={`M${path.map(to).join('L')}`} />;
          const [cx, cy] = toView(camera, at);
          return <circle key={id} className={name} cx={cx} cy={cy} r={r} />;
        })}
      </svg>
    </div>
  );
}
