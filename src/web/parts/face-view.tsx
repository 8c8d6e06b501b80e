import type { ReactNode } from 'react';
import { useMemo } from 'react';
import type { Face } from '../../face/index.ts';
import { PushButtons } from '../face/buttons.tsx';
import { lampColour } from '../face/colours.ts';
import { Defs } from '../face/defs.tsx';
import { GuideAsked, GuideBarred, GuideGlow, GuideLine } from '../face/guide.tsx';
import { DarkLamps, LitLamps } from '../face/lamps.tsx';
import { Bats, Bushes } from '../face/levers.tsx';
import { Plates } from '../face/plates.tsx';
import { Sheet } from '../face/sheet.tsx';
import { Tapes } from '../face/tapes.tsx';
import { lineOf, type Picked } from '../run/routes.ts';
import { useApp } from '../use-app.ts';
import { words } from '../words/run.ts';
import type { View } from '../worker/types.ts';
import { LeverButtons } from './lever-buttons.tsx';
import { PlaceButtons } from './place-buttons.tsx';
import { PressButtons } from './push-buttons.tsx';

/** One layer of the picture: apart from the others, so that a lamp that lights leaves paint and tape as they were drawn. */
function Layer({ face, name, children }: { readonly face: Face; readonly name: string; readonly children: ReactNode }) {
  return (
    <svg className={`layer ${name}`} viewBox={`0 0 ${face.width} ${face.height}`} aria-hidden="true" focusable="false">
      {children}
    </svg>
  );
}

/** The panel as it hangs at the layout, at a scale of so many px to the millimetre. */
export function FaceView({
  view,
  picked,
  set,
  pxPerMm,
  onPlace,
  children,
}: {
  readonly view: View;
  readonly picked: Picked | null;
  /** Do all levers lie as the picked route asks? */
  readonly set: boolean;
  readonly pxPerMm: number;
  /** Takes the press of a place that means something else than a route. */
  readonly onPlace: (place: string) => boolean;
  /** What lies over the levers. */
  readonly children?: ReactNode;
}) {
  const { face, places } = view;
  const levers = useApp((app) => app.levers);
  const looks = useApp((app) => app.reading?.looks) ?? view.reading.looks;
  const ringed = useApp((app) => app.ringed);
  const colours = useMemo(() => [...new Set(face.lamps.map(({ colour }) => lampColour(colour)))].sort(), [face]);
  const line = useMemo(() => (picked === null ? null : lineOf(picked)), [picked]);
  const barred = picked?.route.levers === null;
  const route = picked === null ? '' : `${picked.index} ${picked.backwards}`;
  return (
    <section
      className="sheet"
      aria-label={words.faceOf(view.name)}
      style={{
        width: face.width * pxPerMm,
        height: face.height * pxPerMm,
        aspectRatio: `${face.width} / ${face.height}`,
      }}
    >
      <Defs colours={colours} />
      <Layer face={face} name="paint">
        <Sheet face={face} />
      </Layer>
      {line === null || !set ? null : (
        <Layer key={`glow ${route}`} face={face} name="glow">
          <GuideGlow line={line} />
        </Layer>
      )}
      <Layer face={face} name="tapes">
        <Tapes face={face} />
      </Layer>
      {line === null ? null : (
        <Layer key={`guide ${route} ${set}`} face={face} name="guide">
          {set ? <GuideLine line={line} /> : barred ? <GuideBarred line={line} /> : <GuideAsked line={line} />}
        </Layer>
      )}
      <Layer face={face} name="fitted">
        <Plates face={face} places={places} pxPerMm={pxPerMm} />
        <DarkLamps face={face} />
        <Bushes face={face} />
        <PushButtons buttons={face.buttons} />
      </Layer>
      <Layer face={face} name="moving">
        <Bats face={face} levers={levers} />
        <LitLamps face={face} looks={looks} />
        {ringed === null ? null : (
          <circle className="ring" cx={ringed[0]} cy={ringed[1]} r="9" fill="none" strokeWidth="1.6" />
        )}
      </Layer>
      <PlaceButtons view={view} pxPerMm={pxPerMm} taken={onPlace} />
      <LeverButtons view={view} face={face} pxPerMm={pxPerMm} />
      <PressButtons view={view} pxPerMm={pxPerMm} />
      {children}
    </section>
  );
}
