/**
 * The sheet on the bench, under the hand: pans, zooms and hands every touch to the tools. Drawn in layers, so that a drag leaves what it does
 * not touch as it was.
 */
import {
  memo,
  type ReactNode,
  type PointerEvent as ReactPointerEvent,
  useEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { Face } from '../../face/index.ts';
import type { Spot } from '../../units/index.ts';
import { lampColour } from '../face/colours.ts';
import { Defs } from '../face/defs.tsx';
import { Plates } from '../face/plates.tsx';
import { Sheet } from '../face/sheet.tsx';
import { Tape } from '../face/tapes.tsx';
import type { LayView } from '../worker/types.ts';
import { type Camera, panned, pinched, toFace, zoomed } from './camera.ts';
import { draftFace } from './draft.ts';
import type { Shown } from './lay-store.ts';
import { ButtonHoles, Fingers, Grid, LampHoles, LeverHoles, LooseEnds, Points } from './marks.tsx';
import { GhostMarks, OfferedMarks, PickedMarks, PickedStrip } from './picked-marks.tsx';
import { Rulers } from './rulers.tsx';
import { placeTags, type Tag } from './tags.ts';
import { useLay, useLayStore } from './use-lay.ts';

/** Tags and angles are drawn this high on the screen, whatever the size of the sheet: px. */
const TAG_PX = { width: 28, height: 15 };

/** One step of a wheel, as a share. */
const WHEEL_SHARE = 0.0016;

function Layer({
  face,
  name,
  children,
}: {
  readonly face: Pick<Face, 'width' | 'height'>;
  readonly name: string;
  readonly children: ReactNode;
}) {
  return (
    <svg
      className={`layer ${name}`}
      viewBox={`0 0 ${face.width} ${face.height}`}
      width={face.width}
      height={face.height}
      aria-hidden="true"
      focusable="false"
    >
      {children}
    </svg>
  );
}

export function Canvas({ label }: { readonly label: string }) {
  const shown = useLay((lay) => lay.shown);
  const camera = useLay((lay) => lay.camera);
  const size = useLay((lay) => lay.size);
  const tool = useLay((lay) => lay.tool);
  const table = useRef<HTMLDivElement>(null);
  const store = useLayStore();
  useEffect(() => {
    const element = table.current;
    if (element === null) return;
    const observer = new ResizeObserver(() => {
      store.getState().resize({ width: element.clientWidth, height: element.clientHeight });
    });
    observer.observe(element);
    // A wheel that would scroll the page zooms the sheet: React's own listeners cannot keep it from scrolling.
    const wheel = (event: WheelEvent): void => {
      event.preventDefault();
      const { camera: now, look } = store.getState();
      if (now === null) return;
      const box = element.getBoundingClientRect();
      if (event.shiftKey) look(panned(now, [-event.deltaY - event.deltaX, 0]));
      else
        look(zoomed(now, [event.clientX - box.left, event.clientY - box.top], Math.exp(-event.deltaY * WHEEL_SHARE)));
    };
    element.addEventListener('wheel', wheel, { passive: false });
    return () => {
      observer.disconnect();
      element.removeEventListener('wheel', wheel);
    };
  }, [store]);
  const fingers = useFingers();
  return (
    <div className="lay-view">
      <div
        ref={table}
        className={tool === 'pick' ? 'table' : 'table crosshair'}
        role="application"
        tabIndex={-1}
        aria-label={label}
        {...fingers}
      >
        {shown === null || camera === null ? null : <SheetUnderHand shown={shown} camera={camera} />}
      </div>
      {camera === null || size === null ? null : <RulersHere camera={camera} />}
    </div>
  );
}

function RulersHere({ camera }: { readonly camera: Camera }) {
  const size = useLay((lay) => lay.size);
  const unit = useLay((lay) => lay.unit);
  const pointer = useLay((lay) => lay.pointer);
  const picked = useLay((lay) => lay.picked);
  const panel = useLay((lay) => lay.panel);
  const stretch = useMemo(() => {
    const spots = picked.flatMap(({ list, id }) =>
      list === 'strips' ? (panel.strips.find((strip) => strip.id === id)?.path ?? []) : [],
    );
    if (spots.length === 0) return { across: null, down: null };
    const of = (k: 0 | 1): readonly [number, number] => {
      const values = spots.map((spot) => spot[k]);
      return [Math.min(...values), Math.max(...values)];
    };
    return { across: of(0), down: of(1) };
  }, [picked, panel]);
  return size === null ? null : <Rulers camera={camera} view={size} unit={unit} pointer={pointer} picked={stretch} />;
}

/** A scale that has been still for so long is drawn for: ms. */
const STILL_MS = 120;

/** A hand that zooms sees what was drawn, larger or smaller, up to these shares of its scale: beyond, it is too coarse or too much. */
const STRETCH = { least: 0.4, most: 3 };

/** The scale to draw at: the one that is looked at, once it is still. While a hand zooms all stays as it was drawn. */
function useStillScale(pxPerMm: number): number {
  const [still, setStill] = useState(pxPerMm);
  useEffect(() => {
    if (pxPerMm === still) return;
    const timer = setTimeout(() => setStill(pxPerMm), STILL_MS);
    return () => clearTimeout(timer);
  }, [pxPerMm, still]);
  const share = pxPerMm / still;
  if (share >= STRETCH.least && share <= STRETCH.most) return still;
  setStill(pxPerMm);
  return pxPerMm;
}

/** The face at the size that is seen, brought to its place by one transform. */
function SheetUnderHand({ shown, camera }: { readonly shown: Shown; readonly camera: Camera }) {
  const panel = useLay((lay) => lay.panel);
  const { view, base } = shown;
  const face = useMemo(() => draftFace(view.face, base, panel), [view, base, panel]);
  const { pxPerMm, at } = camera;
  // A browser paints what moves no smaller than it is laid out: laid out at the size that is seen, a large sheet costs no more than the screen.
  const drawn = useStillScale(pxPerMm);
  return (
    <div
      className="lay-sheet sheet"
      style={{
        width: face.width * drawn,
        height: face.height * drawn,
        transform: `translate(${-at[0] * pxPerMm}px, ${-at[1] * pxPerMm}px) scale(${pxPerMm / drawn})`,
      }}
    >
      <Still face={face} />
      <Rest face={face} />
      <Chosen />
      <Fitted face={face} view={view} pxPerMm={drawn} />
      <Understood view={view} face={face} pxPerMm={drawn} />
      <Held view={view} face={face} px={1 / pxPerMm} />
    </div>
  );
}

const Still = memo(
  function Still({ face }: { readonly face: Face }) {
    const colours = useMemo(() => [...new Set(face.lamps.map(({ colour }) => lampColour(colour)))].sort(), [face]);
    return (
      <>
        <Defs colours={colours} />
        <Layer face={face} name="paint">
          <Sheet face={face} />
          <Grid face={face} />
        </Layer>
      </>
    );
  },
  (before, after) =>
    before.face.width === after.face.width &&
    before.face.height === after.face.height &&
    before.face.fixings === after.face.fixings,
);

interface FittedProps {
  readonly face: Face;
  readonly view: LayView;
  readonly pxPerMm: number;
}

const Fitted = memo(
  function Fitted({ face, view, pxPerMm }: FittedProps) {
    const places = useMemo(() => view.places.map(({ id, name, at }) => ({ id, name: name ?? id, at })), [view.places]);
    const lamps = useMemo(() => face.holes.filter(({ what }) => what === 'lamp'), [face.holes]);
    return (
      <Layer face={face} name="fitted">
        <Plates face={face} places={places} pxPerMm={pxPerMm} />
        <LeverHoles levers={face.levers} />
        <ButtonHoles buttons={face.buttons} />
        <LampHoles holes={lamps} />
      </Layer>
    );
  },
  // Tape that a hand drags leaves all of this as it is.
  (before, after) =>
    before.view.places === after.view.places &&
    before.face.width === after.face.width &&
    before.face.height === after.face.height &&
    before.pxPerMm === after.pxPerMm &&
    before.face.plates === after.face.plates &&
    before.face.platforms === after.face.platforms &&
    before.face.levers === after.face.levers &&
    before.face.buttons === after.face.buttons &&
    before.face.holes === after.face.holes,
);

/** What was understood: fingers, toes, tags and ends that cannot be read. */
const Understood = memo(
  function Understood({ view, face, pxPerMm }: FittedProps) {
    const tags = useTags(view, pxPerMm);
    return (
      <Layer face={face} name="understood">
        <Fingers points={view.points} />
        <Points tags={tags} picked={NONE} />
        <LooseEnds loose={view.loose} size={TAG_PX.height / pxPerMm} />
      </Layer>
    );
  },
  (before, after) =>
    before.view === after.view &&
    before.pxPerMm === after.pxPerMm &&
    before.face.width === after.face.width &&
    before.face.height === after.face.height,
);

/**
 * The tags of all points. They are placed anew when points have moved, not when only tape has; while a hand drags, those alone whose points
 * it moves, so that the others stand still under it.
 */
function useTags(view: LayView, pxPerMm: number): readonly Tag[] {
  const store = useLayStore();
  const placed = useRef<{ readonly points: LayView['points']; readonly pxPerMm: number; tags: readonly Tag[] }>(null);
  const before = placed.current;
  if (before?.points === view.points && before.pxPerMm === pxPerMm) return before.tags;
  const size = { width: TAG_PX.width / pxPerMm, height: TAG_PX.height / pxPerMm };
  const lines = view.lines.map((line) => ({ ...line, width: 5 }));
  const boxes = [
    ...view.face.plates.map(({ at, width, height }) => ({ at, width, height })),
    ...view.face.platforms.map(({ at, size: [width, height] }) => ({
      at: [at[0] + width / 2, at[1] + height / 2] as const,
      width,
      height,
    })),
    ...view.face.holes.map(({ at, drill }) => ({ at, width: drill, height: drill })),
  ];
  const isDrag = store.getState().holding && before?.pxPerMm === pxPerMm;
  const tags = placeTags(view.points, { lines, boxes }, size, isDrag ? tagsOf(before, view.points) : undefined);
  placed.current = { points: view.points, pxPerMm, tags };
  return tags;
}

/** The tags of points that are the very same as they were. */
function tagsOf(
  before: { readonly points: LayView['points']; readonly tags: readonly Tag[] },
  points: LayView['points'],
): ReadonlyMap<string, Tag> {
  const same = new Set(points);
  return new Map(
    before.points.flatMap((point, i) => {
      const tag = before.tags[i];
      return tag !== undefined && same.has(point) ? [[point.id, tag] as const] : [];
    }),
  );
}

const NONE: ReadonlySet<string> = new Set();

/** All tape but that of picked strips, which lies on top: while those are dragged it is left as it was drawn. */
function Rest({ face }: { readonly face: Face }) {
  const picked = useLay((lay) => lay.picked);
  const strips = useMemo(() => {
    const ids = new Set(picked.flatMap(({ list, id }) => (list === 'strips' ? [id] : [])));
    return ids.size === 0 ? face.strips : face.strips.filter(({ id }) => !ids.has(id));
  }, [face.strips, picked]);
  const before = useRef(strips);
  const isSame = strips.length === before.current.length && strips.every((strip, i) => strip === before.current[i]);
  if (!isSame) before.current = strips;
  return <RestOfTape width={face.width} height={face.height} strips={before.current} />;
}

const RestOfTape = memo(function RestOfTape({ width, height, strips }: Pick<Face, 'width' | 'height' | 'strips'>) {
  return (
    <Layer face={{ width, height }} name="tapes">
      {strips.map((strip) => (
        <Tape key={strip.id} strip={strip} />
      ))}
    </Layer>
  );
});

/** The picked strips, outlined, on top of all other tape. */
function Chosen() {
  const panel = useLay((lay) => lay.panel);
  const picked = useLay((lay) => lay.picked);
  const view = useLay((lay) => lay.shown?.view ?? null);
  const ids = new Set(picked.flatMap(({ list, id }) => (list === 'strips' ? [id] : [])));
  if (view === null || ids.size === 0) return null;
  return (
    <Layer face={view.face} name="chosen">
      {panel.strips.map((strip) => (ids.has(strip.id) ? <PickedStrip key={strip.id} strip={strip} /> : null))}
    </Layer>
  );
}

/** What is picked and what the hand holds. */
function Held({ view, face, px }: { readonly view: LayView; readonly face: Face; readonly px: number }) {
  const panel = useLay((lay) => lay.panel);
  const picked = useLay((lay) => lay.picked);
  const ghost = useLay((lay) => lay.ghost);
  const drawn = useLay((lay) => lay.drawn);
  const finding = useLay((lay) => lay.finding);
  const typing = useLay((lay) => lay.typing);
  const unit = useLay((lay) => lay.unit);
  const offered = useLay((lay) => lay.offered);
  const would = useLay((lay) => lay.would);
  const edit = would ?? offered?.finding.mends.find(({ id }) => id === offered.mend)?.edit ?? null;
  return (
    <Layer face={face} name="held">
      {edit === null ? null : <OfferedMarks panel={panel} edit={edit} />}
      <PickedMarks panel={panel} view={view} picked={picked} px={px} />
      <GhostMarks {...{ ghost, drawn, typing, unit, px }} />
      {finding?.at == null ? null : (
        <circle className="ring" cx={finding.at[0]} cy={finding.at[1]} r="9" fill="none" strokeWidth="1.6" />
      )}
    </Layer>
  );
}

/** Twice on one spot within this is a second tap: ms and px. */
const AGAIN_MS = 350;
const AGAIN_PX = 8;

/** A palm is wider than a fingertip: px of the touch. */
const PALM_PX = 60;

/** A finger that has gone so far drags: one that comes down beside it frees what it drags, and does not zoom. px. */
const DRAG_PX = 8;

/**
 * Fingers, pen and mouse as what the hand does. One finger or the left button works the tool; two fingers, the middle button or a finger
 * beside a pen move the sheet.
 */
function useFingers() {
  const store = useLayStore();
  const down = useRef(new Map<number, { spot: Spot; start: Spot }>());
  const working = useRef<number | null>(null);
  // The finger that frees what another one drags.
  const freeing = useRef<number | null>(null);
  const pinch = useRef<{ camera: Camera; from: readonly [Spot, Spot] } | null>(null);
  const last = useRef<{ time: number; at: Spot } | null>(null);
  const penSeen = useRef(false);
  const spotOf = (event: ReactPointerEvent): Spot => {
    const box = event.currentTarget.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const faceOf = (spot: Spot): Spot | null => {
    const { camera } = store.getState();
    return camera === null ? null : toFace(camera, spot);
  };
  /** Where in the view the loupe is wanted: a finger that works, or a hand that moves a corner. */
  const withLoupe = (event: ReactPointerEvent, spot: Spot): void => {
    const { tool, picked, drawn } = store.getState();
    const corner = tool === 'pick' && drawn !== null && picked[0]?.part !== undefined;
    store.setState({ finger: event.pointerType === 'touch' || corner ? spot : null });
  };
  /** The finger that drags a thing, once it has gone far enough to mean it. */
  const dragging = (): { readonly spot: Spot } | null => {
    const held = working.current === null ? undefined : down.current.get(working.current);
    if (held === undefined || store.getState().drawn === null) return null;
    return Math.hypot(held.spot[0] - held.start[0], held.spot[1] - held.start[1]) >= DRAG_PX ? held : null;
  };
  const setFree = (finger: number | null): void => {
    freeing.current = finger;
    const at = faceOf(dragging()?.spot ?? [0, 0]);
    if (dragging() !== null && at !== null) store.getState().hand({ kind: 'move', at, free: finger !== null });
  };
  const startPinch = (): void => {
    const [one, two] = [...down.current.values()];
    const { camera, hand } = store.getState();
    if (one === undefined || camera === null) return;
    if (working.current !== null) hand({ kind: 'cancel' });
    working.current = null;
    pinch.current = { camera, from: [one.spot, (two ?? one).spot] };
  };
  return {
    onPointerDown(event: ReactPointerEvent<HTMLDivElement>) {
      const spot = spotOf(event);
      if (event.pointerType === 'touch' && Math.max(event.width, event.height) > PALM_PX) return;
      event.currentTarget.setPointerCapture(event.pointerId);
      // A hand sees where it is; the ring is for the keys.
      event.currentTarget.focus({ preventScroll: true, focusVisible: false });
      down.current.set(event.pointerId, { spot, start: spot });
      if (event.pointerType === 'pen') penSeen.current = true;
      const moves = event.button === 1 || (event.pointerType === 'touch' && (down.current.size > 1 || penSeen.current));
      if (event.pointerType === 'touch' && dragging() !== null) return setFree(event.pointerId);
      if (moves) return startPinch();
      if (event.button !== 0) return;
      const at = faceOf(spot);
      if (at === null) return;
      const again =
        last.current !== null &&
        event.timeStamp - last.current.time < AGAIN_MS &&
        Math.hypot(spot[0] - last.current.at[0], spot[1] - last.current.at[1]) < AGAIN_PX;
      last.current = { time: event.timeStamp, at: spot };
      working.current = event.pointerId;
      store.getState().hand({ kind: 'down', at, more: event.shiftKey, free: event.altKey, again });
    },
    onPointerMove(event: ReactPointerEvent<HTMLDivElement>) {
      const spot = spotOf(event);
      const at = faceOf(spot);
      if (at !== null && event.pointerType !== 'touch') store.getState().point(at);
      const held = down.current.get(event.pointerId);
      if (held !== undefined) held.spot = spot;
      if (pinch.current !== null && held !== undefined) {
        const [one, two] = [...down.current.values()];
        if (one === undefined) return;
        const { camera, from } = pinch.current;
        const to: readonly [Spot, Spot] = [one.spot, (two ?? one).spot];
        store
          .getState()
          .look(
            two === undefined
              ? panned(camera, [to[0][0] - from[0][0], to[0][1] - from[0][1]])
              : pinched(camera, from, to),
          );
        return;
      }
      if (at === null) return;
      if (freeing.current === event.pointerId) return;
      if (working.current === event.pointerId || working.current === null)
        store.getState().hand({ kind: 'move', at, free: event.altKey || freeing.current !== null });
      if (working.current === event.pointerId) withLoupe(event, spot);
    },
    onPointerUp(event: ReactPointerEvent<HTMLDivElement>) {
      const at = faceOf(spotOf(event));
      down.current.delete(event.pointerId);
      if (freeing.current === event.pointerId) return setFree(null);
      if (pinch.current !== null) {
        pinch.current = null;
        if (down.current.size > 0) startPinch();
        return;
      }
      if (working.current !== event.pointerId || at === null) return;
      working.current = null;
      store.getState().hand({ kind: 'up', at, free: event.altKey || freeing.current !== null });
    },
    onPointerCancel(event: ReactPointerEvent<HTMLDivElement>) {
      down.current.delete(event.pointerId);
      if (freeing.current === event.pointerId) return setFree(null);
      pinch.current = null;
      if (working.current !== event.pointerId) return;
      working.current = null;
      store.getState().hand({ kind: 'cancel' });
    },
    onPointerLeave() {
      store.getState().point(null);
    },
  };
}
