/** The face with who works what: a mark on every point and lever, ties between points of one lever, and the picked route along the tape. */
import {
  memo,
  type KeyboardEvent as ReactKeyboardEvent,
  type PointerEvent as ReactPointerEvent,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { Spot } from '../../units/index.ts';
import { PushButtons } from '../face/buttons.tsx';
import { Defs } from '../face/defs.tsx';
import { Plates } from '../face/plates.tsx';
import { Sheet } from '../face/sheet.tsx';
import { Tapes } from '../face/tapes.tsx';
import { helped } from '../help/switch.ts';
import type { Shown } from '../lay/lay-store.ts';
import { placeTags } from '../lay/tags.ts';
import { useFollows, useLay } from '../lay/use-lay.ts';
import { ZoomPill } from '../lay/zoom-pill.tsx';
import { bentPath } from '../run/geometry.ts';
import { fitPlate } from '../run/plates.ts';
import { useSize } from '../use-app.ts';
import { layWords } from '../words/lay.ts';
import { workWords } from '../words/work.ts';
import type { WorkView } from '../worker/work-view.ts';
import { useDeeds } from './deeds.ts';
import {
  type FaceSpot,
  faceSpots,
  fitFace,
  isCrowded,
  markSize,
  nearestSpot,
  nextSize,
  stepFrom,
  tiesOf,
} from './face-spots.ts';
import { MarkContour, MarkShape } from './mark.tsx';
import { inkClass, MARK_PX, MARK_UNITS } from './marks.ts';
import { usePickedRoute } from './picked-route.ts';
import { useWork } from './use-work.ts';

/** Tags of points on the screen: px. */
const TAG_PX = { width: 26, height: 16.5 };
/** The share of a mark that tags keep clear of: its corners are cut off. */
const CLEAR = 0.88;
/** A fingertip reaches so far: px. */
const REACH_PX = 22;
/** Before it has gone so far a press is a tap: px. */
const TAP_PX = 6;
/** Under the sheet there is room for the buttons that say how large it is drawn, as in work.css: px. */
const ROOM_BELOW = 48;
/** Bends of the picked route's line, as those of the tape: mm. */
const BEND = 9;

export function Face() {
  const shown = useWork((work) => work.shown);
  const view = useWork((work) => work.view);
  const enlarged = useWork((work) => work.enlarged);
  const { ref, size } = useSize();
  const bench = useRef<HTMLElement | null>(null);
  const enlarge = useWork((work) => work.enlarge);
  const screen = useLay((lay) => lay.screen);
  const room = size === null ? null : { width: size.width, height: size.height - ROOM_BELOW };
  const fit = shown === null || room === null ? null : fitFace(shown.view.face, room);
  const next = (way: 1 | -1): (() => void) | null => {
    const size = nextSize(enlarged, way);
    return size === enlarged || (way === -1 && enlarged === 1) ? null : () => enlarge(size);
  };
  const before = useRef(enlarged);
  useLayoutEffect(() => {
    const element = bench.current;
    const times = enlarged / before.current;
    before.current = enlarged;
    if (element === null || times === 1) return;
    // What was in the middle stays there.
    const { clientWidth, clientHeight } = element;
    element.scrollLeft = (element.scrollLeft + clientWidth / 2) * times - clientWidth / 2;
    element.scrollTop = (element.scrollTop + clientHeight / 2) * times - clientHeight / 2;
  }, [enlarged]);
  return (
    <div className="work-room">
      <section
        className={enlarged > 1 ? 'work-bench enlarged' : 'work-bench'}
        aria-label={workWords.faceHead}
        ref={(element) => {
          bench.current = element;
          ref(element);
        }}
        {...helped('work.face')}
      >
        {shown === null || view === null || fit === null ? null : (
          <SheetAtWork shown={shown} view={view} pxPerMm={fit * enlarged} />
        )}
      </section>
      <div className="zoom-at">
        <ZoomPill
          share={fit === null ? null : (fit * enlarged) / screen}
          of={layWords.zoomTitle}
          help="zoom"
          out={next(-1)}
          larger={next(1)}
          fit={() => enlarge(1)}
          fitTitle={layWords.fitTitle}
        />
      </div>
    </div>
  );
}

function SheetAtWork({
  shown,
  view,
  pxPerMm,
}: {
  readonly shown: Shown;
  readonly view: WorkView;
  readonly pxPerMm: number;
}) {
  const name = useLay((lay) => lay.panel.name ?? '');
  const { face } = shown.view;
  const places = useMemo(
    () => shown.view.places.map((place) => ({ ...place, name: place.name ?? place.id })),
    [shown.view.places],
  );
  const spots = useMemo(() => faceSpots(view), [view]);
  const markPx = useMemo(
    () => ({
      point: markSize(spots, 'point', pxPerMm, MARK_PX),
      lever: markSize(spots, 'lever', pxPerMm, MARK_PX),
    }),
    [spots, pxPerMm],
  );
  const { drag, ...hand } = useHand(spots, pxPerMm);
  return (
    <div className="sheet work-sheet" style={{ width: face.width * pxPerMm, height: face.height * pxPerMm }}>
      <Defs colours={NO_COLOURS} />
      <svg
        className="fitted"
        viewBox={`0 0 ${face.width} ${face.height}`}
        width={face.width * pxPerMm}
        height={face.height * pxPerMm}
        aria-hidden="true"
        focusable="false"
      >
        <Sheet face={face} />
        <Tapes face={face} />
        <RouteLine />
        <Plates face={face} places={places} pxPerMm={pxPerMm} />
        <PushButtons buttons={face.buttons} />
      </svg>
      <svg
        className="work-marks"
        viewBox={`0 0 ${face.width} ${face.height}`}
        width={face.width * pxPerMm}
        height={face.height * pxPerMm}
        aria-hidden="true"
        focusable="false"
      >
        <LeverCircles shown={shown} pxPerMm={pxPerMm} />
        <Ties view={view} pxPerMm={pxPerMm} />
        <OfferedTie view={view} pxPerMm={pxPerMm} />
        {isCrowded(spots, pxPerMm) ? null : (
          <PointTags shown={shown} view={view} pxPerMm={pxPerMm} markPx={markPx.point} />
        )}
        <Marks spots={spots} pxPerMm={pxPerMm} markPx={markPx} over={drag?.over ?? null} />
        {drag === null ? null : <DragLine drag={drag} pxPerMm={pxPerMm} />}
      </svg>
      <SpotButtons name={name} view={view} spots={spots} pxPerMm={pxPerMm} hand={hand} />
    </div>
  );
}

const NO_COLOURS: readonly string[] = [];

/** The picked route, along the tape from place to place. */
function RouteLine() {
  const line = useWork((work) => work.line);
  const picked = usePickedRoute();
  if (line === null || picked === null || line.route !== picked.index) return null;
  const d = bentPath(line.path, BEND);
  return (
    <g className="route-line" fill="none" strokeLinejoin="round">
      <path className="route-casing" d={d} />
      <path className="route-ink" d={d} />
    </g>
  );
}

/** The circle of the nut driver at every lever, or as much of it as the mark leaves to be seen. */
const LeverCircles = memo(function LeverCircles({
  shown,
  pxPerMm,
}: {
  readonly shown: Shown;
  readonly pxPerMm: number;
}) {
  return shown.view.face.levers.map(({ id, at, driver }) => (
    <circle
      key={id}
      className="mark-line"
      cx={at[0]}
      cy={at[1]}
      r={Math.max(driver / 2, (MARK_PX * 0.7) / pxPerMm)}
      fill="none"
      strokeWidth=".7"
      strokeDasharray="1.8 1.4"
    />
  ));
});

/** Dashed lines between the points of one lever, in its ink; of the picked one a line to its hole as well. */
const Ties = memo(function Ties({ view, pxPerMm }: { readonly view: WorkView; readonly pxPerMm: number }) {
  const picked = useWork((work) => work.picked);
  const px = 1 / pxPerMm;
  const points = new Map(view.points.map(({ id, at }) => [id, at]));
  return view.levers.map(({ id, at, works }, place) => {
    const spots = works.map(({ point }) => points.get(point)).filter((spot) => spot !== undefined);
    const ties = tiesOf(spots);
    const nearest = id === picked ? [...spots].sort((a, b) => far(a, at) - far(b, at))[0] : undefined;
    return (
      <g key={id}>
        {ties.map(([a, b]) => (
          <TieLine key={`${a.join()} ${b.join()}`} lever={id} place={place} from={a} to={b} px={px} />
        ))}
        {nearest === undefined ? null : (
          <g className="picked-tie">
            <path className="tie-casing" strokeWidth={4.4 * px} d={`M${nearest.join(' ')}L${at.join(' ')}`} />
            <path className="tie-ink" strokeWidth={1.8 * px} d={`M${nearest.join(' ')}L${at.join(' ')}`} />
          </g>
        )}
      </g>
    );
  });
});

/** What a join would tie, while a hand rests on it. */
function OfferedTie({ view, pxPerMm }: { readonly view: WorkView; readonly pxPerMm: number }) {
  const offered = useWork((work) => work.offered);
  if (offered === null) return null;
  const px = 1 / pxPerMm;
  const spots = view.points.filter(({ levers }) => levers.some((id) => offered.levers.includes(id)));
  return (
    <g className="offered-tie" fill="none">
      {tiesOf(spots.map(({ at }) => at)).map(([a, b]) => (
        <g key={`${a.join()} ${b.join()}`}>
          <path className="tie-casing" strokeWidth={7 * px} d={`M${a.join(' ')}L${b.join(' ')}`} />
          <path className="tie-ink" strokeWidth={3.4 * px} d={`M${a.join(' ')}L${b.join(' ')}`} />
        </g>
      ))}
      {spots.map(({ id, at }) => (
        <circle key={id} className="spot-over" cx={at[0]} cy={at[1]} r={MARK_PX * 0.8 * px} strokeWidth={3 * px} />
      ))}
    </g>
  );
}

const far = (a: Spot, b: Spot): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

function TieLine({
  lever,
  place,
  from,
  to,
  px,
}: {
  readonly lever: string;
  readonly place: number;
  readonly from: Spot;
  readonly to: Spot;
  readonly px: number;
}) {
  const d = `M${from.join(' ')}L${to.join(' ')}`;
  return (
    <g className={`tie ${inkClass(lever, place)}`}>
      <path className="tie-casing" strokeWidth={4.8 * px} d={d} />
      <path className="tie-ink" strokeWidth={2.4 * px} strokeDasharray={`${5 * px} ${3 * px}`} d={d} />
    </g>
  );
}

const PointTags = memo(function PointTags({
  shown,
  view,
  pxPerMm,
  markPx,
}: {
  readonly shown: Shown;
  readonly view: WorkView;
  readonly pxPerMm: number;
  readonly markPx: number;
}) {
  const tags = useMemo(() => {
    const px = 1 / pxPerMm;
    const { face, lines, places } = shown.view;
    const named = new Map(places.map(({ id, at }) => [id, at]));
    const boxes = [
      // As they are drawn: enlarged where they would be too small to read.
      ...face.plates.map((plate) => {
        const { at, scale, width, height } = fitPlate(plate, pxPerMm, named.get(plate.id) ?? null, face);
        return { at, width: width * scale, height: height * scale };
      }),
      ...face.platforms.map(({ at, size: [width, height] }) => ({
        at: [at[0] + width / 2, at[1] + height / 2] as const,
        width,
        height,
      })),
      ...[...view.points, ...view.levers].map(({ at }) => ({
        at,
        width: markPx * CLEAR * px,
        height: markPx * CLEAR * px,
      })),
    ];
    const sized = { width: TAG_PX.width * px, height: TAG_PX.height * px };
    return placeTags(view.points, { lines: lines.map((line) => ({ ...line, width: 5 })), boxes }, sized);
  }, [shown, view, pxPerMm, markPx]);
  return tags.map(({ id, at, toe, width, height }) => (
    <g key={id} className="work-tag">
      <path className="mark-line" d={`M${toe.join(' ')}L${at.join(' ')}`} strokeWidth=".6" />
      <rect x={at[0] - width / 2} y={at[1] - height / 2} width={width} height={height} rx={height * 0.17} />
      <text x={at[0]} y={at[1] + height * 0.26} textAnchor="middle" fontSize={height * 0.74}>
        {id}
      </text>
    </g>
  ));
});

/** A mark at every point and every lever. */
function Marks({
  spots,
  pxPerMm,
  markPx,
  over,
}: {
  readonly spots: readonly FaceSpot[];
  readonly pxPerMm: number;
  readonly markPx: Readonly<Record<FaceSpot['kind'], number>>;
  readonly over: string | null;
}) {
  const picked = useWork((work) => work.picked);
  const held = useWork((work) => work.held);
  const route = usePickedRoute()?.route ?? null;
  return spots.map(({ kind, id, at, lever, place }) => {
    const isPicked = lever !== null && lever === picked;
    const size = markPx[kind];
    const sign = kind === 'lever' ? (route?.cells[place] ?? ' ') : ' ';
    return (
      <g key={`${kind} ${id}`} transform={`translate(${at[0]} ${at[1]}) scale(${1 / pxPerMm})`}>
        {kind === 'point' && id === held ? <circle className="spot-held" r={size * 0.74} /> : null}
        {kind === 'lever' && over === id ? <circle className="spot-over" r={MARK_PX * 0.9} strokeWidth="3" /> : null}
        {lever === null ? (
          <circle className="spot-none" r="7" />
        ) : (
          <g transform={`scale(${size / MARK_UNITS})`}>
            {isPicked ? <MarkContour lever={lever} place={place} /> : null}
            <MarkShape lever={lever} place={place} casing />
          </g>
        )}
        {sign === ' ' ? null : (
          <g
            className={sign === 'R' ? 'lever-sign r' : 'lever-sign'}
            transform={`translate(${size * 0.56} ${-size * 0.56})`}
          >
            <circle r="8.5" />
            <text y="4.2" textAnchor="middle" fontSize="12">
              {sign}
            </text>
          </g>
        )}
      </g>
    );
  });
}

/** A point on its way to a lever. */
function DragLine({ drag, pxPerMm }: { readonly drag: Drag; readonly pxPerMm: number }) {
  const px = 1 / pxPerMm;
  const d = `M${drag.from.join(' ')}L${drag.at.join(' ')}`;
  return (
    <g className="drag-line" fill="none">
      <path className="tie-casing" strokeWidth={5 * px} d={d} />
      <path className="tie-ink" strokeWidth={2.4 * px} d={d} />
      <circle className="drag-end" cx={drag.at[0]} cy={drag.at[1]} r={6 * px} />
    </g>
  );
}

/** What the keys go to: a button at every point and lever, one after the other with the arrow keys. Fingers and mouse work the whole of it. */
function SpotButtons({
  name,
  view,
  spots,
  pxPerMm,
  hand,
}: {
  readonly name: string;
  readonly view: WorkView;
  readonly spots: readonly FaceSpot[];
  readonly pxPerMm: number;
  readonly hand: HandEvents;
}) {
  const deeds = useDeeds();
  const follows = useFollows();
  const picked = useWork((work) => work.picked);
  const held = useWork((work) => work.held);
  const pick = useWork((work) => work.pick);
  const route = usePickedRoute()?.route ?? null;
  const [reached, setReached] = useState<string | null>(null);
  const keyOf = ({ kind, id }: FaceSpot): string => `${kind} ${id}`;
  const first = spots.find((spot) => keyOf(spot) === reached) ?? spots[0];
  const around = useRef<HTMLFieldSetElement>(null);
  useEffect(() => {
    // Picked in the list, its points come into sight on a face that is enlarged.
    const point = spots.find(({ kind, lever }) => kind === 'point' && lever === picked);
    if (picked !== null && point !== undefined)
      around.current
        ?.querySelector(`[data-spot="point ${point.id}"]`)
        ?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }, [picked, spots]);
  const press = ({ kind, id }: FaceSpot): void => {
    if (kind === 'point') {
      if (!follows) deeds.hold(held === id ? null : id);
    } else if (held !== null) deeds.put(held, id);
    else pick(picked === id ? null : id);
  };
  const keyed = (event: ReactKeyboardEvent<HTMLFieldSetElement>): void => {
    const now = spots.findIndex((spot) => keyOf(spot) === reached);
    const next = stepFrom(spots.length, Math.max(0, now), event.key);
    const spot = next === null ? undefined : spots[next];
    if (spot === undefined) return;
    event.preventDefault();
    setReached(keyOf(spot));
    event.currentTarget.querySelector<HTMLElement>(`[data-spot="${keyOf(spot)}"]`)?.focus();
  };
  return (
    <fieldset ref={around} className="face-spots" aria-label={workWords.faceOf(name)} onKeyDown={keyed} {...hand}>
      {spots.map((spot) => {
        const { kind, id, at, lever, place } = spot;
        const works = view.levers.find((each) => each.id === lever)?.works ?? [];
        const sign = route?.cells[place] ?? ' ';
        const label =
          kind === 'point'
            ? workWords.pointOn(
                id,
                lever,
                works.some(({ point, opposite }) => point === id && opposite),
              )
            : workWords.leverOn(
                id,
                works.map(({ point }) => point),
              );
        const asks =
          kind === 'lever' && sign !== ' ' ? `, ${workWords.needs(sign === 'N' ? 'normal' : 'reverse')}` : '';
        return (
          <button
            key={keyOf(spot)}
            type="button"
            className={`face-spot ${kind}`}
            data-spot={keyOf(spot)}
            tabIndex={spot === first ? 0 : -1}
            aria-label={`${label}${asks}`}
            aria-pressed={kind === 'point' ? id === held : id === picked}
            style={{ left: at[0] * pxPerMm, top: at[1] * pxPerMm }}
            onFocus={() => setReached(keyOf(spot))}
            onClick={(event) => {
              // Mouse and fingers have done it by then: this is for keys, and for what presses in their place.
              if (event.detail === 0) press(spot);
            }}
          />
        );
      })}
    </fieldset>
  );
}

interface Drag {
  readonly point: string;
  readonly from: Spot;
  readonly at: Spot;
  /** The lever that it is over. */
  readonly over: string | null;
}

interface HandEvents {
  readonly onPointerDown: (event: ReactPointerEvent<HTMLElement>) => void;
  readonly onPointerMove: (event: ReactPointerEvent<HTMLElement>) => void;
  readonly onPointerUp: (event: ReactPointerEvent<HTMLElement>) => void;
  readonly onPointerCancel: (event: ReactPointerEvent<HTMLElement>) => void;
}

/** A finger or the mouse on the face: a tap picks, a point that is dragged onto a lever or onto a point of that lever goes under it. */
function useHand(spots: readonly FaceSpot[], pxPerMm: number): HandEvents & { readonly drag: Drag | null } {
  const deeds = useDeeds();
  const follows = useFollows();
  const held = useWork((work) => work.held);
  const picked = useWork((work) => work.picked);
  const pick = useWork((work) => work.pick);
  const [drag, setDrag] = useState<Drag | null>(null);
  const down = useRef<{ readonly spot: FaceSpot | null; readonly at: Spot; moved: boolean } | null>(null);
  const spotOf = (event: ReactPointerEvent<HTMLElement>): Spot => {
    const box = event.currentTarget.getBoundingClientRect();
    return [(event.clientX - box.left) / pxPerMm, (event.clientY - box.top) / pxPerMm];
  };
  const near = (at: Spot): FaceSpot | null => nearestSpot(spots, at, REACH_PX / pxPerMm);
  const tap = (spot: FaceSpot | null): void => {
    if (spot === null) {
      if (held !== null) deeds.hold(null);
      else pick(null);
    } else if (spot.kind === 'point') {
      pick(spot.lever);
      if (!follows && !spot.free) deeds.hold(held === spot.id ? null : spot.id);
    } else if (held !== null) deeds.put(held, spot.id);
    else pick(picked === spot.id ? null : spot.id);
  };
  return {
    drag,
    onPointerDown(event) {
      if (event.button !== 0 || !event.isPrimary) return;
      const at = spotOf(event);
      const spot = near(at);
      down.current = { spot, at, moved: false };
      if (spot?.kind === 'point') event.currentTarget.setPointerCapture(event.pointerId);
      // A press is no click of the button beneath it: the hand tells what it does.
      event.preventDefault();
    },
    onPointerMove(event) {
      const from = down.current;
      if (from === null) return;
      const at = spotOf(event);
      if (far(at, from.at) * pxPerMm > TAP_PX) from.moved = true;
      const { spot } = from;
      if (!from.moved || spot === null || spot.kind !== 'point' || spot.free || follows) return;
      const target = near(at);
      const over = target === null || target.id === spot.id ? null : target.lever;
      setDrag({ point: spot.id, from: spot.at, at, over });
    },
    onPointerUp(event) {
      const from = down.current;
      down.current = null;
      setDrag(null);
      if (from === null) return;
      if (!from.moved) return tap(from.spot);
      const target = near(spotOf(event));
      const { spot } = from;
      if (spot?.kind !== 'point' || spot.free || follows || target?.lever == null || target.id === spot.id) return;
      if (target.lever !== spot.lever) deeds.put(spot.id, target.lever);
    },
    onPointerCancel() {
      down.current = null;
      setDrag(null);
    },
  };
}
