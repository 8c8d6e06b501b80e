import { type ReactNode, useLayoutEffect, useRef, useState } from 'react';
import {
  addBend,
  boxOfThings,
  cornerLength,
  duplicateThings,
  liftStrips,
  type Picked,
  removeThings,
  splitStripAt,
  spotAlongPath,
  stripAt,
  swapLies,
  takeOutBend,
} from '../../laying/index.ts';
import { type PanelFile, type Strip, stripWidth } from '../../panel/index.ts';
import type { Spot } from '../../units/index.ts';
import { helped } from '../help/switch.ts';
import { goAlong } from '../parts/go-along.ts';
import type { HelpKey } from '../words/help.ts';
import { layWords } from '../words/lay.ts';
import { type Extent, toView } from './camera.ts';
import { deedsSpot, type Pane } from './deeds-spot.ts';
import { Bend, Copy, Lift, Split, SwapLegs } from './lay-icons.tsx';
import { stripFacts } from './strip-facts.ts';
import { subjectOf } from './thing-names.ts';
import { useFollows, useLay, useLayStore } from './use-lay.ts';

/** px at the bottom of the view where the foot floats. */
const FOOT_PX = 64;
/** px around a thing without a size: a nut driver's circle and a finger. */
const AROUND_PX = 18;

/** The dark bar beside what is picked: what can be done with it. Stands in the view, over the sheet. */
export function Deeds() {
  const picked = useLay((lay) => lay.picked);
  const panel = useLay((lay) => lay.laid);
  const camera = useLay((lay) => lay.camera);
  const size = useLay((lay) => lay.size);
  const tool = useLay((lay) => lay.tool);
  // Out of the way while a hand drags.
  const dragged = useLay((lay) => lay.drawn !== null);
  const bar = useRef<HTMLDivElement>(null);
  const [extent, setExtent] = useState<Extent | null>(null);
  const follows = useFollows();
  const box = tool === 'pick' && picked.length > 0 && !follows ? boxOfThings(panel, picked) : null;
  const shown = box !== null && camera !== null && size !== null;
  useLayoutEffect(() => {
    const element = bar.current;
    if (!shown || element === null) return;
    const measure = (): void => setExtent({ width: element.offsetWidth, height: element.offsetHeight });
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, [shown]);
  if (box === null || camera === null || size === null) return null;
  const [left, top] = toView(camera, [box.left, box.top]);
  const [right, bottom] = toView(camera, [box.right, box.bottom]);
  const around = Math.max(AROUND_PX, widestOf(panel, picked) * camera.pxPerMm);
  const thing: Pane = { left: left - around, top: top - around, right: right + around, bottom: bottom + around };
  const spot = extent === null ? { left: 0, top: 0 } : deedsSpot(thing, extent, size, FOOT_PX);
  const [one] = picked;
  const strip =
    one?.list === 'strips' && picked.every(({ list, id }) => list === 'strips' && id === one.id)
      ? panel.strips.find(({ id }) => id === one.id)
      : undefined;
  return (
    <div className="deeds-room">
      <div
        ref={bar}
        className="deeds"
        role="toolbar"
        aria-label={layWords.deeds}
        {...helped('deeds')}
        style={{ ...spot, visibility: extent === null || dragged ? 'hidden' : 'visible', maxWidth: size.width - 16 }}
        onKeyDown={goAlong}
        onPointerDown={(event) => event.stopPropagation()}
      >
        {strip === undefined ? (
          <ThingDeeds picked={picked} />
        ) : (
          <StripDeeds key={strip.id} strip={strip} picked={picked} />
        )}
      </div>
    </div>
  );
}

/** The widest tape among what is picked, mm. */
function widestOf(panel: PanelFile, picked: readonly Picked[]): number {
  const ids = new Set(picked.filter(({ list }) => list === 'strips').map(({ id }) => id));
  return panel.strips.reduce((most, strip) => (ids.has(strip.id) ? Math.max(most, stripWidth(strip)) : most), 0);
}

/** Where a strip is split or bent: where the hand last went down on it, else half way along. */
export function spotOnStrip(panel: PanelFile, strip: Strip, pressed: Spot | null): Spot | null {
  const on = pressed === null ? null : stripAt(panel, pressed, undefined, others(panel, strip.id));
  return on?.at ?? spotAlongPath(strip.path, cornerLength(strip) / 2);
}

function others(panel: PanelFile, id: string): ReadonlySet<string> {
  return new Set(panel.strips.filter((strip) => strip.id !== id).map((strip) => strip.id));
}

function StripDeeds({ strip, picked }: { readonly strip: Strip; readonly picked: readonly Picked[] }) {
  const store = useLayStore();
  const panel = useLay((lay) => lay.laid);
  const view = useLay((lay) => lay.laidView);
  const pressed = useLay((lay) => lay.pressed);
  const edit = useLay((lay) => lay.edit);
  const pick = useLay((lay) => lay.pick);
  const [asking, setAsking] = useState(false);
  const parts = picked.flatMap(({ part }) => (part === undefined ? [] : [part]));
  const [part] = parts;
  const subject = subjectOf(panel, picked);
  const facts = stripFacts(panel, view, strip);
  // The point of the picked end alone; else of both ends; else those on the strip.
  const atEnds = facts.ends.filter(({ corner }) => parts.length === 0 || parts.includes(corner));
  const ended = atEnds.flatMap(({ point }) => (point === null ? [] : [point]));
  const points = ended.length > 0 ? ended : parts.length === 0 ? facts.points : [];
  const at = spotOnStrip(panel, strip, pressed);
  const swap = (point: string): void => {
    edit(swapLies(panel, point), point);
    setAsking(false);
  };
  if (asking)
    return (
      <>
        <span className="deeds-word">{layWords.swapWhich}</span>
        {points.map((point) => (
          <button key={point} type="button" aria-label={layWords.swapLiesOf(point)} onClick={() => swap(point)}>
            {point}
          </button>
        ))}
        <button type="button" onClick={() => setAsking(false)}>
          {layWords.back}
        </button>
      </>
    );
  const [only] = points;
  const inner = part !== undefined && part > 0 && part < strip.path.length - 1 && parts.length === 1;
  return (
    <>
      <Deed
        help="deed.split"
        word={layWords.split}
        sign={<Split />}
        off={at === null}
        act={() => {
          const where = inner ? strip.path[part] : at;
          if (where !== null && where !== undefined) edit(splitStripAt(panel, strip.id, where), subject);
        }}
      />
      {inner ? (
        <Deed
          help="deed.unbend"
          word={layWords.takeOutBend}
          sign={<Bend />}
          act={() => {
            edit(takeOutBend(panel, strip.id, part), subject);
            pick([{ list: 'strips', id: strip.id }]);
          }}
        />
      ) : (
        <Deed
          help="deed.bend"
          word={layWords.addBend}
          sign={<Bend />}
          off={at === null}
          act={() => {
            if (at === null) return;
            edit(addBend(panel, strip.id, at), subject);
            const now = store.getState().panel.strips.find(({ id }) => id === strip.id);
            const corner = now?.path.findIndex((each) => Math.hypot(each[0] - at[0], each[1] - at[1]) < 0.01) ?? -1;
            if (corner >= 0) pick([{ list: 'strips', id: strip.id, part: corner }]);
          }}
        />
      )}
      <Deed
        help="deed.swap"
        word={layWords.swapLies}
        sign={<SwapLegs />}
        off={only === undefined}
        why={only === undefined ? layWords.noPoint : points.length === 1 ? layWords.swapLiesOf(only) : undefined}
        act={() => {
          if (points.length > 1) setAsking(true);
          else if (only !== undefined) swap(only);
        }}
      />
      <Deed
        help="deed.lift"
        word={layWords.lift}
        sign={<Lift />}
        act={() => {
          edit(liftStrips(panel, [strip.id], { lamps: true }).edit, subject);
          pick([]);
        }}
      />
    </>
  );
}

function ThingDeeds({ picked }: { readonly picked: readonly Picked[] }) {
  const panel = useLay((lay) => lay.laid);
  const edit = useLay((lay) => lay.edit);
  const pick = useLay((lay) => lay.pick);
  const subject = subjectOf(panel, picked);
  return (
    <>
      <Deed
        help="deed.duplicate"
        word={layWords.duplicate}
        sign={<Copy />}
        act={() => {
          const made = duplicateThings(panel, picked);
          edit(made.edit, subject);
          if (made.edit !== null) pick(made.made);
        }}
      />
      <Deed
        help="deed.lift"
        word={picked.length > 1 ? layWords.liftAll(picked.length) : layWords.lift}
        sign={<Lift />}
        act={() => {
          edit(removeThings(panel, picked), subject);
          pick([]);
        }}
      />
    </>
  );
}

interface DeedProps {
  readonly help: HelpKey;
  readonly word: string;
  readonly sign: ReactNode;
  readonly off?: boolean;
  readonly why?: string | undefined;
  readonly act: () => void;
}

function Deed({ help, word, sign, off = false, why, act }: DeedProps) {
  return (
    <button {...helped(help)} type="button" disabled={off} title={why} onClick={act}>
      {sign}
      {word}
    </button>
  );
}
